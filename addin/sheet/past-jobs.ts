/** How many rows the list of past jobs has is a cell of the audit; a plan's formulas count the rows the same way. */
import { sheetOf, withoutSheet } from "../common/a1";
import { holds, type Taken } from "./names";
import type { PastJobs } from "./plan";

/** INDEX with the cell that counts the rows: "'Audit'!$K$6". */
const COUNTED_BY = /(?<=,)'(?:[^']|'')+'!\$[A-Z]+\$\d+(?=\))/g;

/**
 * Asks for the counts' own formulas; once the answers have come, the function it returns gives the expressions with them in
 * place of their cells. Excel keeps such a formula with the list as rows come and go; in the plan it does so too, and needs
 * no other cell before it is known which cells it works on.
 */
export function askRowCounts<Jobs extends PastJobs | undefined>(
  context: Excel.RequestContext,
  { sheets }: Pick<Taken, "sheets">,
  jobs: Jobs,
): () => Jobs {
  if (!jobs) return () => jobs;
  const cells = [...new Set([jobs.estimated, jobs.actual].flatMap((text) => text.match(COUNTED_BY) ?? []))];
  const counts = new Map(
    cells
      .filter((cell) => holds(sheets, sheetOf(cell)))
      .map((cell) => {
        const sheet = context.workbook.worksheets.getItem(sheetOf(cell));
        return [cell, sheet.getRange(withoutSheet(cell)).load("formulas")];
      }),
  );
  const counted = (text: string) =>
    text.replace(COUNTED_BY, (cell) => {
      const formula = String(counts.get(cell)?.formulas[0]?.[0] ?? "");
      return formula.startsWith("=ROWS(") ? formula.slice(1) : cell;
    });
  return () => ({ ...jobs, estimated: counted(jobs.estimated), actual: counted(jobs.actual) });
}
