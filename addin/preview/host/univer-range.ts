/** How Univer names the one workbook and the cells of a block. */
import { endColumn, endRow, type Rect } from "./a1";

export const UNIT = "workbook";

export const univerRange = (rect: Rect) => ({
  startRow: rect.row,
  endRow: endRow(rect),
  startColumn: rect.column,
  endColumn: endColumn(rect),
});
