/** Gives a style to many cells at once: the grid's own way looks up one for each cell. */
import type { ICellData, IStyleData, Worksheet } from "@univerjs/core";
import { endColumn, endRow, isWholeColumns, isWholeRows, type Rect } from "./a1";
import { lineOf, type Matrix, mergedStyle, type PendingWrites, type StyledBlock } from "./pending";

/**
 * The engine merges, cleans and looks up a style for each cell. Of the blank cells of a block it does so for the first,
 * and the others get what became of it; a cell that holds something is left to it, among `others`.
 */
export function setBlockStyle(
  sheet: Worksheet,
  { rect, style }: StyledBlock,
  writes: PendingWrites,
  others: Matrix,
  setStyles: (cells: Matrix) => void,
): void {
  const cells = sheet.getCellMatrix();
  let given: ICellData["s"] | "not yet" = "not yet";
  for (let row = rect.row; row <= endRow(rect); row++) {
    for (let column = rect.column; column <= endColumn(rect); column++) {
      if (writes.hasCell(row, column)) continue;
      if (cells.getValue(row, column)) {
        lineOf(others, row)[column] = { s: style };
      } else if (given === "not yet") {
        setStyles({ [row]: { [column]: { s: style } } });
        given = cells.getValue(row, column)?.s;
      } else if (given) {
        cells.setValue(row, column, { s: given });
      }
    }
  }
}

/** The style of whole rows and columns; `block` is as much of them as the sheet has. */
export function setBandStyle(sheet: Worksheet, rect: Rect, block: Rect, style: IStyleData): void {
  if (isWholeRows(rect) && isWholeColumns(rect)) {
    sheet.setDefaultCellStyle(mergedStyle(sheet.getDefaultCellStyleInternal() ?? undefined, style));
    return;
  }
  if (isWholeColumns(rect)) {
    for (let column = block.column; column <= endColumn(block); column++) {
      sheet.setColumnStyle(column, mergedStyle(sheet.getColumnStyle(column) ?? undefined, style));
    }
    return;
  }
  for (let row = block.row; row <= endRow(block); row++) {
    sheet.setRowStyle(row, mergedStyle(sheet.getRowStyle(row) ?? undefined, style));
  }
}
