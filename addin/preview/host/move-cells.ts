/** Moving the cells beside a block, to make or take room. */
import type { ICellData } from "@univerjs/core";
import { endColumn, endRow, type Rect, type Shift } from "./a1";
import { lineOf, type Matrix } from "./pending";

/**
 * Every cell from the block to the end of what is used, as it is after the shift. `read` gives the cells before it; what is
 * inserted takes the style of its neighbor before.
 */
export function movedCells(
  { area, direction }: Shift,
  used: Rect,
  read: (row: number, column: number) => ICellData | undefined,
): Matrix {
  const vertical = direction === "down" || direction === "up";
  const inserting = direction === "down" || direction === "right";
  const count = vertical ? area.rows : area.columns;
  const first = vertical ? area.row : area.column;
  const last = Math.max(vertical ? endRow(used) : endColumn(used), vertical ? endRow(area) : endColumn(area));
  const across = vertical ? area.columns : area.rows;
  const place = (i: number, position: number): [number, number] =>
    vertical ? [position, area.column + i] : [area.row + i, position];
  const cells: Matrix = {};
  for (let i = 0; i < across; i++) {
    for (let position = first; position <= last + (inserting ? count : 0); position++) {
      const from = inserting ? position - count : position + count;
      const isNew = inserting && from < first;
      const source = isNew ? first - 1 : from;
      const cell = source < 0 ? undefined : read(...place(i, source));
      const [row, column] = place(i, position);
      lineOf(cells, row)[column] = isNew ? onlyStyle(cell) : (cell ?? null);
    }
  }
  return cells;
}

const onlyStyle = (cell: ICellData | undefined): ICellData | null => (cell?.s ? { s: cell.s } : null);

/** The same cells, all deleted: a command merges, so what a cell held must go first. */
export const emptied = (cells: Matrix): Matrix =>
  mapLines(cells, (columns) => Object.keys(columns).map((column) => [column, null]));

export const withoutBlanks = (cells: Matrix): Matrix =>
  mapLines(cells, (columns) => Object.entries(columns).filter(([, cell]) => cell !== null));

function mapLines(cells: Matrix, change: (columns: Matrix[number]) => [string, ICellData | null][]): Matrix {
  return Object.fromEntries(Object.entries(cells).map(([row, columns]) => [row, Object.fromEntries(change(columns))]));
}
