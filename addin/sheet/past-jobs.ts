/** How many rows the list of past jobs has is a cell of the audit; a plan's formulas count the rows the same way. */
import { withoutSheet } from "../common/a1";
import { sheetOf } from "./cells";
import type { PastJobs } from "./plan";

/** INDEX with the cell that counts the rows: "'Audit'!$K$6". */
const COUNTED_BY = /(?<=,)'(?:[^']|'')+'!\$[A-Z]+\$\d+(?=\))/g;

/**
 * The expressions with the count's own formula in place of its cell. Excel keeps that formula with the list as rows come and
 * go; in the plan it does so too, and needs no other cell before it is known which cells it works on.
 */
export async function withRowCounts<Jobs extends PastJobs>(context: Excel.RequestContext, jobs: Jobs): Promise<Jobs> {
  const cells = [...new Set([jobs.estimated, jobs.actual].flatMap((text) => text.match(COUNTED_BY) ?? []))];
  const sheets = cells.map((cell) => context.workbook.worksheets.getItemOrNullObject(sheetOf(cell)));
  await context.sync();
  const counts = cells.map((cell, i) =>
    sheets[i]!.isNullObject ? undefined : sheets[i]!.getRange(withoutSheet(cell)).load("formulas"),
  );
  await context.sync();
  const formulas = new Map(cells.map((cell, i) => [cell, String(counts[i]?.formulas[0]?.[0] ?? "")]));
  const counted = (text: string) =>
    text.replace(COUNTED_BY, (cell) => {
      const formula = formulas.get(cell)!;
      return formula.startsWith("=ROWS(") ? formula.slice(1) : cell;
    });
  return { ...jobs, estimated: counted(jobs.estimated), actual: counted(jobs.actual) };
}
