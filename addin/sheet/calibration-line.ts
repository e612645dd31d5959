/** What the audit sheet has at this moment for the past jobs of a plan's calibration, and word of changes to it. */

import { LEAST_FOR_INTERVAL } from "../../functions/audit/classes";
import type { Calibration } from "../../functions/jobs";
import { sheetOf, withoutSheet } from "../common/a1";
import { inWorkbook, isNotFound } from "./in-workbook";

/** A group's factor and interval, as the audit has them. */
export type ReadCalibration = Pick<Calibration, "factor" | "low" | "high" | "jobs">;

/** Why the audit has no calibration for a group any more. */
export type NoCalibration =
  | { readonly kind: "sheetGone" }
  /** Another group's word is in the cell where this one's was. */
  | { readonly kind: "otherWord"; readonly word: string; readonly found: string; readonly at: string }
  | { readonly kind: "tooFew"; readonly jobs: number }
  | { readonly kind: "noFactor"; readonly at: string };

const isNumber = (cell: unknown): cell is number => typeof cell === "number";

/** Reads a group's line on the audit. */
export function readCalibration(line: string, word: string): Promise<ReadCalibration | NoCalibration> {
  return inWorkbook(async (context) => {
    const sheet = context.workbook.worksheets.getItem(sheetOf(line));
    const cells = sheet.getRange(withoutSheet(line)).load("values,address");
    try {
      await context.sync();
    } catch (error) {
      if (isNotFound(error)) return { kind: "sheetGone" };
      throw error;
    }
    const [like, , jobs, factor, low, high] = cells.values[0]!;
    const at = cells.address;
    if (String(like).toLowerCase() !== word.toLowerCase()) return { kind: "otherWord", word, found: String(like), at };
    if ([jobs, factor, low, high].every(isNumber)) return { jobs, factor, low, high };
    return isNumber(jobs) && jobs < LEAST_FOR_INTERVAL ? { kind: "tooFew", jobs } : { kind: "noFactor", at };
  });
}

/** Calls whenever cells of the workbook were changed or calculated, or a sheet was deleted. */
export async function watchWorkbook(changed: () => void): Promise<void> {
  await Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    const tell = async () => changed();
    worksheets.onChanged.add(tell);
    worksheets.onCalculated.add(tell);
    worksheets.onDeleted.add(tell);
    await context.sync();
  });
}
