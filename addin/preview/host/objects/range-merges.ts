/** Merged cells in a block. */
import { intersection, isOneCell, type Rect, sameRect } from "../a1";
import { invalidOperation } from "../errors";
import type { Range } from "./range";

/** The merged cells that the block touches. */
export const mergesIn = (range: Range): Rect[] =>
  range.model.engine.merges(range._sheetId()).filter((rect) => intersection(rect, range._rect()));

/** Only the first cell keeps what it holds; with `across`, that of each row. */
export function mergeCells(range: Range, across: boolean): void {
  const { engine } = range.model;
  const sheetId = range._sheetId();
  const block = range._rect();
  const inTable = engine.book.tables.some((table) => table.sheetId === sheetId && intersection(table.rect, block));
  if (inTable) throw invalidOperation();
  const rows = across
    ? Array.from({ length: block.rows }, (_, i) => ({ ...block, row: block.row + i, rows: 1 }))
    : [block];
  const merged = rows.filter((rect) => !isOneCell(rect));
  unmergeCells(range);
  for (const rect of merged) {
    engine.forEachKnown(sheetId, rect, (row, column) => {
      if (row !== rect.row || column !== rect.column) engine.write(sheetId, row, column, { value: null });
    });
  }
  engine.flush();
  if (merged.length > 0) engine.merge(sheetId, merged);
}

export function unmergeCells(range: Range): void {
  const touched = mergesIn(range);
  if (touched.length > 0) range.model.engine.unmerge(range._sheetId(), touched);
}

/** "We can't do that to a merged cell." */
export function refuseCutMerges(range: Range): void {
  const isCut = (rect: Rect) => !sameRect(intersection(rect, range._rect())!, rect);
  if (mergesIn(range).some(isCut)) throw invalidOperation();
}
