/** Cells inserted where a block is, or taken away there: what Excel refuses, and the move of the cells beside it. */
import { COLUMNS, endColumn, endRow, isWholeColumns, isWholeRows, ROWS, type Shift } from "../a1";
import { accessDenied, HostError } from "../errors";
import type { Range } from "./range";

export function shiftCellsBeside(range: Range, direction: Shift["direction"]): void {
  const area = range._rect();
  const sheetId = range._sheetId();
  const { engine } = range.model;
  if (range.model.sheet(sheetId).protection) throw accessDenied();
  refuseToPushOff(range, direction);
  const vertical = direction === "down" || direction === "up";
  const whole = vertical ? isWholeRows(area) : isWholeColumns(area);
  const inTheWay = engine.book.tables.some((table) => {
    if (table.sheetId !== sheetId || whole) return false;
    const { rect } = table;
    const overlaps = vertical
      ? endColumn(rect) >= area.column && rect.column <= endColumn(area) && endRow(rect) >= area.row
      : endRow(rect) >= area.row && rect.row <= endRow(area) && endColumn(rect) >= area.column;
    const contained = vertical
      ? rect.column >= area.column && endColumn(rect) <= endColumn(area)
      : rect.row >= area.row && endRow(rect) <= endRow(area);
    return overlaps && !contained;
  });
  if (inTheWay) {
    throw new HostError(
      "InsertDeleteConflict",
      "The insert or delete operation attempted resulted in a conflict.",
      409,
    );
  }
  engine.shift(sheetId, { area, direction });
}

/** Cells with content may not be pushed off the end of the sheet. */
function refuseToPushOff(range: Range, direction: Shift["direction"]): void {
  const { row, column, rows, columns } = range._rect();
  if (direction !== "down" && direction !== "right") return;
  const end =
    direction === "down"
      ? { row: ROWS - rows, column, rows, columns }
      : { row, column: COLUMNS - columns, rows, columns };
  if (!range.model.engine.usedRect(range._sheetId(), true, end)) return;
  const message = "Microsoft Excel can't insert new cells because it would push non-empty cells off the end.";
  throw new HostError("NonBlankCellOffSheet", message); // guess(push-off-sheet): that it is so here
}
