/** An audit is written a few times a year, so what writes it comes when it is needed. */
import { later } from "../common/later";
import type { insertAudit as insert } from "./insert-audit";

export const insertAudit: typeof insert = async (...args) => {
  const part = await later(import(/* webpackChunkName: "audit" */ "./insert-audit"), "writes audits");
  return part.insertAudit(...args);
};
