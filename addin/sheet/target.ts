/** The cells that a plan's lines at the selected cell would take: found free, or given up by the user. */
import { type Consent, needYes } from "../common/refusal";
import { ask, refuse } from "./refusals";

export interface Target {
  readonly sheet: Excel.Worksheet;
  readonly range: Excel.Range;
  readonly row: number;
  readonly column: number;
}

/** Asks about the cells from a corner on; once the answers have come, the function it returns finds them free or refuses. */
export function askTarget(
  corner: Excel.Range,
  end: { readonly rows: number; readonly columns: number },
  tables: readonly Excel.Table[],
): (agreed: Consent) => Target {
  const { rowIndex: row, columnIndex: column } = corner;
  if (end.rows > 1_048_576 || end.columns > 16_384) throw refuse("noRoom");
  const sheet = corner.context.workbook.worksheets.getItem(corner.worksheet.id);
  const { protection } = sheet;
  protection.load("protected");
  const range = sheet.getRangeByIndexes(row, column, end.rows - row, end.columns - column).load("address,formulas");
  const obstacles = [askTables(range, tables, corner.worksheet.id), askFilter(range), askMergedAndSpilled(range)];
  return (agreed) => {
    if (protection.protected) throw refuse("sheetProtected");
    for (const refuseObstacle of obstacles) refuseObstacle();
    const filled = range.formulas.flat().filter((content) => content !== "").length;
    const at = range.address;
    if (filled > 0) needYes(agreed, ask("overCells", { at, filled }));
    // The yes was for other cells: another one is selected by now, or the sheet has another name.
    else if (typeof agreed === "object" && agreed.facts.at !== at) throw ask("elsewhere", { at });
    return { sheet, range, row, column };
  };
}

function askTables(range: Excel.Range, tables: readonly Excel.Table[], sheetId: string): () => void {
  const overlaps = tables
    .filter((table) => table.worksheet.id === sheetId)
    .map((table) => ({ table: table.name, common: table.getRange().getIntersectionOrNullObject(range) }));
  return () => {
    const inTheWay = overlaps.find(({ common }) => !common.isNullObject);
    if (inTheWay) throw refuse("tableInTheWay", { table: inTheWay.table, at: range.address });
  };
}

/**
 * Where a filter hides rows, Excel loses what is written to several at once, and a table in the cells of a filter ends it.
 * What is hidden by hand would be written, but nobody would see it.
 */
function askFilter(range: Excel.Range): () => void {
  const filter = range.worksheet.autoFilter.getRangeOrNullObject().load("address");
  const common = filter.getIntersectionOrNullObject(range);
  range.load("hidden");
  return () => {
    if (!filter.isNullObject && !common.isNullObject) {
      throw refuse("filterInTheWay", { filter: filter.address, at: range.address });
    }
    if (range.hidden !== false) throw refuse("cellsHidden", { at: range.address });
  };
}

/** Undoing could neither merge cells again, nor tell what a formula had filled from what was typed. */
function askMergedAndSpilled(range: Excel.Range): () => void {
  const knows = (version: string) => Office.context.requirements.isSetSupported("ExcelApi", version);
  const merged = knows("1.13") ? range.getMergedAreasOrNullObject().load("address") : undefined;
  if (knows("1.12")) range.load("hasSpill");
  return () => {
    if (merged && !merged.isNullObject) {
      throw refuse("mergedInTheWay", { merged: merged.address, at: range.address });
    }
    if (knows("1.12") && range.hasSpill !== false) throw refuse("spillInTheWay", { at: range.address });
  };
}
