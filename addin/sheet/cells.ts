/** Small commands on the whole workbook. */
import { inWorkbook } from "./in-workbook";

/** Recalculates every cell, which Excel does not do by itself when the functions arrive after the workbook. */
export function recalculate(): Promise<string> {
  return inWorkbook(async (context) => {
    context.workbook.application.calculate("Full");
    await context.sync();
    return "Every cell of the workbook was recalculated.";
  });
}
