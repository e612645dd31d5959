/** Many plans take nothing from the user's cells, so what reads those loads with the first that does. */
import { later } from "../common/later";
import type * as LinkedCells from "./linked-cells";

const part = (): Promise<typeof LinkedCells> =>
  later(import(/* webpackChunkName: "linked" */ "./linked-cells"), "reads linked cells");

export const readLinked: typeof LinkedCells.readLinked = async (...args) => (await part()).readLinked(...args);
export const readSelectedCell: typeof LinkedCells.readSelectedCell = async (...args) =>
  (await part()).readSelectedCell(...args);
