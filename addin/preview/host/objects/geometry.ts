/** Where cells lie on their sheet, in pixels; and anchors, which say it in cells so that it follows them. */
import type { Rect } from "../a1";
import type { Engine } from "../engine";
import type { Anchor } from "../model";

/** Points in a pixel. */
export const POINTS = 0.75;

const SETTLED = 20_000;

export function columnsWidth(engine: Engine, sheetId: string, first: number, count: number): number {
  let width = 0;
  for (let column = first; column < first + Math.min(count, SETTLED); column++) {
    if (!engine.sizes.columnHidden(sheetId, column)) width += engine.sizes.columnWidth(sheetId, column);
  }
  return width;
}

export function rowsHeight(engine: Engine, sheetId: string, first: number, count: number): number {
  let height = 0;
  for (let row = first; row < first + Math.min(count, SETTLED); row++) {
    if (!engine.sizes.rowHidden(sheetId, row)) height += engine.sizes.rowHeight(sheetId, row);
  }
  return height;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

export function pointOf(engine: Engine, sheetId: string, anchor: Anchor): Point {
  return {
    x: columnsWidth(engine, sheetId, 0, anchor.column) + anchor.x,
    y: rowsHeight(engine, sheetId, 0, anchor.row) + anchor.y,
  };
}

/** The cell under a point, and how far into it the point lies. */
export function anchorAt(engine: Engine, sheetId: string, { x, y }: Point): Anchor {
  let column = 0;
  let left = Math.max(0, x);
  for (
    let width = engine.sizes.columnWidth(sheetId, 0);
    left >= width;
    width = engine.sizes.columnWidth(sheetId, column)
  ) {
    left -= width;
    column++;
  }
  let row = 0;
  let top = Math.max(0, y);
  for (let height = engine.sizes.rowHeight(sheetId, 0); top >= height; height = engine.sizes.rowHeight(sheetId, row)) {
    top -= height;
    row++;
  }
  return { row, column, x: left, y: top };
}

/** The corners of a block of cells, the far one outside it. */
export function anchorsOf(rect: Rect): { from: Anchor; to: Anchor } {
  return {
    from: { row: rect.row, column: rect.column, x: 0, y: 0 },
    to: { row: rect.row + rect.rows, column: rect.column + rect.columns, x: 0, y: 0 },
  };
}
