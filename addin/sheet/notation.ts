/** How the user's spreadsheet writes numbers. */
import { inWorkbook } from "./in-workbook";

/** Whether it writes decimals after a comma, as in most of Europe. */
export function hasDecimalComma(): Promise<boolean> {
  if (!Office.context.requirements.isSetSupported("ExcelApi", "1.11")) {
    const parts = new Intl.NumberFormat(Office.context.contentLanguage).formatToParts(1.5);
    return Promise.resolve(parts.some(({ type, value }) => type === "decimal" && value === ","));
  }
  return inWorkbook(async (context) => {
    const application = context.workbook.application.load("decimalSeparator");
    await context.sync();
    return application.decimalSeparator === ",";
  });
}
