/** The log is read in one view only, and loaded when that asks for it. */
import { later } from "../common/later";
import type * as Log from "./log-reading";

const part = (): Promise<typeof Log> =>
  later(import(/* webpackChunkName: "log-reading" */ "./log-reading"), "reads the log");

export const readLog: typeof Log.readLog = async (...args) => (await part()).readLog(...args);
export const readForemansList: typeof Log.readForemansList = async (...args) =>
  (await part()).readForemansList(...args);
