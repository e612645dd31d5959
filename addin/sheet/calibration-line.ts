/** What the audit sheet says at this moment of the past jobs that a plan learns from, and word of changes to it. */
import type { Calibration } from "../../functions/jobs";
import { withoutSheet } from "../common/a1";
import { sheetOf } from "./cells";
import { inWorkbook } from "./in-workbook";

/** A group's factor and interval, as the audit has them. */
export type ReadCalibration = Pick<Calibration, "factor" | "low" | "high" | "jobs">;

const isNumber = (cell: unknown): cell is number => typeof cell === "number";

/** Reads a group's line on the audit; or gives the reason, as the rest of "The audit sheet …", why it tells nothing. */
export function readCalibration(line: string, word: string): Promise<ReadCalibration | string> {
  return inWorkbook(async (context) => {
    const sheet = context.workbook.worksheets.getItemOrNullObject(sheetOf(line));
    await context.sync();
    if (sheet.isNullObject) return "is gone or has another name";
    const cells = sheet.getRange(withoutSheet(line)).load("values,address");
    await context.sync();
    const [like, , jobs, factor, low, high] = cells.values[0]!;
    if (String(like).toLowerCase() !== word.toLowerCase()) {
      return `holds ${like === "" ? "nothing" : `“${like}”`} where “${word}” was, in ${cells.address}`;
    }
    if ([jobs, factor, low, high].every(isNumber)) return { jobs, factor, low, high };
    return typeof factor === "string" && factor.startsWith("fewer")
      ? `has ${factor} of these jobs with hours now`
      : `shows no factor for them any more, in ${cells.address}`;
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
