/** Makes and takes room in the grid: whole rows and columns by the engine's own commands, a block cell by cell. */
import type { ICellData } from "@univerjs/core";
import { isWholeColumns, isWholeRows, type Rect, type Shift } from "./a1";
import type { UniverModules } from "./modules";
import { emptied, movedCells, withoutBlanks } from "./move-cells";
import { contentRect, isEmpty, type Matrix } from "./pending";
import { UNIT, univerRange } from "./univer-range";

/** What it needs of the engine, of one sheet. */
export interface ShiftedSheet {
  readonly id: string;
  readonly size: { readonly rows: number; readonly columns: number };
  /** The block of all cells that hold something or have a style. */
  used(): Rect | undefined;
  run(command: string, params: object): void;
  ensureSize(rect: Rect): void;
  setValues(cells: Matrix): void;
  /** A cell with its formula spelled out, so that it can stand elsewhere. */
  movable(row: number, column: number): ICellData | undefined;
}

export function shiftCells(modules: UniverModules, sheet: ShiftedSheet, shift: Shift): void {
  const { area, direction } = shift;
  const lines = (rect: Rect) => ({ unitId: UNIT, subUnitId: sheet.id, range: univerRange(rect) });
  if (isWholeRows(area)) {
    const command = direction === "down" ? modules.InsertRowMutation : modules.RemoveRowMutation;
    sheet.run(command.id, lines({ ...area, columns: sheet.size.columns }));
  } else if (isWholeColumns(area)) {
    const command = direction === "right" ? modules.InsertColMutation : modules.RemoveColMutation;
    sheet.run(command.id, lines({ ...area, rows: sheet.size.rows }));
  } else shiftBlock(sheet, shift);
}

function shiftBlock(sheet: ShiftedSheet, shift: Shift): void {
  const cells = movedCells(shift, sheet.used() ?? shift.area, (row, column) => sheet.movable(row, column));
  const moved = withoutBlanks(cells);
  const rect = contentRect(moved);
  if (rect) sheet.ensureSize(rect);
  sheet.setValues(emptied(cells));
  if (!isEmpty(moved)) sheet.setValues(moved);
}
