/** The current region: the block of filled cells around a block, bounded by blank rows and columns. */
import type { Rect } from "./a1";

type IsFilled = (row: number, column: number) => boolean;

/** For each side, the cells just outside it, corners included, and the block with one more row or column there. */
const SIDES: readonly ((rect: Rect) => { outside: Rect; grown: Rect })[] = [
  ({ row, rows, column, columns }) => ({
    outside: { row: row + rows, rows: 1, column: column - 1, columns: columns + 2 },
    grown: { row, rows: rows + 1, column, columns },
  }),
  ({ row, rows, column, columns }) => ({
    outside: { row: row - 1, rows: 1, column: column - 1, columns: columns + 2 },
    grown: { row: row - 1, rows: rows + 1, column, columns },
  }),
  ({ row, rows, column, columns }) => ({
    outside: { row: row - 1, rows: rows + 2, column: column + columns, columns: 1 },
    grown: { row, rows, column, columns: columns + 1 },
  }),
  ({ row, rows, column, columns }) => ({
    outside: { row: row - 1, rows: rows + 2, column: column - 1, columns: 1 },
    grown: { row, rows, column: column - 1, columns: columns + 1 },
  }),
];

function anyFilled({ row, rows, column, columns }: Rect, isFilled: IsFilled): boolean {
  for (let r = row; r < row + rows; r++) {
    for (let c = column; c < column + columns; c++) if (isFilled(r, c)) return true;
  }
  return false;
}

/** One side at a time, as far as it goes: each cell is looked at a few times only, however tall the block. */
export function surroundingRegion(start: Rect, isFilled: IsFilled): Rect {
  let region = start;
  for (let grew = true; grew; ) {
    grew = false;
    for (const side of SIDES) {
      for (let next = side(region); anyFilled(next.outside, isFilled); next = side(region)) {
        region = next.grown;
        grew = true;
      }
    }
  }
  return region;
}
