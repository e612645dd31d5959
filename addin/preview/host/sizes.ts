/** Widths of columns and heights of rows, in pixels, and which are hidden. */
import type { IStyleData, Worksheet } from "@univerjs/core";
import { COLUMNS, cellRect, endColumn, endRow, type Rect } from "./a1";
import { DEFAULT_ROW_HEIGHT, textHeight } from "./measure";
import type { UniverModules } from "./modules";
import { UNIT, univerRange } from "./univer-range";

export const DEFAULT_COLUMN_WIDTH = 64;
/** Rows that a sheet gets at once when it grows. */
export const GROWTH = 50;

/** What sizes need of the grid. */
interface Grid {
  run(id: string, params: object): void;
  sheet(sheetId: string): Worksheet;
  hasSheet(sheetId: string): boolean;
  onSheet(sheetId: string, rect: Rect): Rect;
  ensureSize(sheetId: string, rect: Rect): void;
  forEachKnown(sheetId: string, rect: Rect, visit: (row: number, column: number) => void): void;
  hasStyle(sheetId: string, row: number, column: number): boolean;
  style(sheetId: string, row: number, column: number): IStyleData;
  text(sheetId: string, row: number, column: number): string;
}

export class Sizes {
  /** Rows whose height was set, and rows that may need another. */
  private readonly setHeights = new Map<string, Set<number>>();
  private readonly changedRows = new Map<string, Set<number>>();
  /** Sizes in pixels that are not yet written, by column and by row. */
  private readonly widths = new Map<string, Record<number, number>>();
  private readonly rowHeights = new Map<string, Record<number, number>>();

  constructor(
    private readonly modules: UniverModules,
    private readonly grid: Grid,
  ) {}

  /** The rows whose height was set, by sheet. */
  get saved(): readonly (readonly [sheetId: string, rows: readonly number[]])[] {
    return [...this.setHeights].map(([sheetId, rows]) => [sheetId, [...rows]]);
  }

  set saved(heights: Sizes["saved"]) {
    for (const [sheetId, rows] of heights) this.setHeights.set(sheetId, new Set(rows));
  }

  /** Content was written that may need a higher row. */
  mayGrow(sheetId: string, row: number) {
    this.heights(this.changedRows, sheetId).add(row);
  }

  columnWidth(sheetId: string, column: number): number {
    const pending = this.widths.get(sheetId)?.[column];
    return pending ?? this.grid.sheet(sheetId).getColumnManager().getColumn(column)?.w ?? DEFAULT_COLUMN_WIDTH;
  }

  setColumnWidth(sheetId: string, column: number, count: number, width: number) {
    this.grid.ensureSize(sheetId, { row: 0, column, rows: 1, columns: Math.min(count, GROWTH) });
    const block = this.grid.onSheet(sheetId, { row: 0, column, rows: 1, columns: count });
    const widths = this.widths.get(sheetId) ?? {};
    this.widths.set(sheetId, widths);
    for (let i = block.column; i <= endColumn(block); i++) widths[i] = width;
  }

  rowHeight(sheetId: string, row: number): number {
    const pending = this.rowHeights.get(sheetId)?.[row];
    return pending ?? this.grid.sheet(sheetId).getRowManager().getRow(row)?.h ?? DEFAULT_ROW_HEIGHT;
  }

  setRowHeight(sheetId: string, row: number, count: number, height: number) {
    const block = this.grid.onSheet(sheetId, { row, column: 0, rows: count, columns: 1 });
    for (let i = block.row; i <= endRow(block); i++) this.heights(this.setHeights, sheetId).add(i);
    this.applyRowHeight(sheetId, row, count, height);
  }

  /** A row whose height was set grows again. */
  fit(sheetId: string, row: number, count: number) {
    for (let i = row; i < row + count; i++) {
      this.heights(this.setHeights, sheetId).delete(i);
      this.mayGrow(sheetId, i);
    }
  }

  /**
   * A row whose height nobody set grows with larger or wrapped text that is written into it. As in Excel it does not follow
   * the width of its columns later.
   */
  fitRows() {
    this.fitChangedRows();
    this.flush();
  }

  private fitChangedRows() {
    const changed = [...this.changedRows];
    this.changedRows.clear();
    for (const [sheetId, rows] of changed) {
      if (!this.grid.hasSheet(sheetId)) continue;
      for (const row of rows) {
        if (this.heights(this.setHeights, sheetId).has(row)) continue;
        const height = this.neededHeight(sheetId, row);
        if (height !== this.rowHeight(sheetId, row)) this.applyRowHeight(sheetId, row, 1, height);
      }
    }
  }

  rowHidden(sheetId: string, row: number): boolean {
    return !this.grid.sheet(sheetId).getRowRawVisible(row);
  }

  columnHidden(sheetId: string, column: number): boolean {
    return !this.grid.sheet(sheetId).getColVisible(column);
  }

  hideRows(sheetId: string, rect: Rect, hidden: boolean) {
    this.flush();
    const { SetRowHiddenMutation, SetRowVisibleMutation } = this.modules;
    const id = hidden ? SetRowHiddenMutation.id : SetRowVisibleMutation.id;
    this.grid.run(id, { unitId: UNIT, subUnitId: sheetId, ranges: [univerRange(this.grid.onSheet(sheetId, rect))] });
  }

  hideColumns(sheetId: string, rect: Rect, hidden: boolean) {
    this.flush();
    const { SetColHiddenMutation, SetColVisibleMutation } = this.modules;
    const id = hidden ? SetColHiddenMutation.id : SetColVisibleMutation.id;
    this.grid.run(id, { unitId: UNIT, subUnitId: sheetId, ranges: [univerRange(this.grid.onSheet(sheetId, rect))] });
  }

  private applyRowHeight(sheetId: string, row: number, count: number, height: number) {
    this.grid.ensureSize(sheetId, { row, column: 0, rows: Math.min(count, GROWTH), columns: 1 });
    const block = this.grid.onSheet(sheetId, { row, column: 0, rows: count, columns: 1 });
    const heights = this.rowHeights.get(sheetId) ?? {};
    this.rowHeights.set(sheetId, heights);
    for (let i = block.row; i <= endRow(block); i++) heights[i] = height;
  }

  /** Widths and heights go to the grid together: it lays itself out anew at each command. */
  flush() {
    const { SetWorksheetColWidthMutation, SetWorksheetRowHeightMutation } = this.modules;
    const send = (id: string, pending: Map<string, Record<number, number>>, params: (sizes: object) => object) => {
      for (const [subUnitId, sizes] of pending) {
        if (this.grid.hasSheet(subUnitId)) this.grid.run(id, { unitId: UNIT, subUnitId, ...params(sizes) });
      }
      pending.clear();
    };
    const each = (sizes: object, range: (i: number) => Rect) =>
      Object.keys(sizes).map((i) => univerRange(range(Number(i))));
    send(SetWorksheetColWidthMutation.id, this.widths, (colWidth) => ({
      colWidth,
      ranges: each(colWidth, (column) => cellRect(0, column)),
    }));
    send(SetWorksheetRowHeightMutation.id, this.rowHeights, (rowHeight) => ({
      rowHeight,
      ranges: each(rowHeight, (row) => cellRect(row, 0)),
    }));
  }

  private neededHeight(sheetId: string, row: number): number {
    let height = DEFAULT_ROW_HEIGHT;
    const sheet = this.grid.sheet(sheetId);
    const isStyled = sheet.getDefaultCellStyleInternal() || sheet.getRowStyle(row);
    this.grid.forEachKnown(sheetId, { row, rows: 1, column: 0, columns: COLUMNS }, (_, column) => {
      if (!isStyled && !this.grid.hasStyle(sheetId, row, column) && !sheet.getColumnStyle(column)) return;
      const style = this.grid.style(sheetId, row, column);
      if (style.tb === undefined && style.fs === undefined) return;
      const text = this.grid.text(sheetId, row, column);
      height = Math.max(height, textHeight(text, style, this.columnWidth(sheetId, column)));
    });
    return height;
  }

  private heights(rows: Map<string, Set<number>>, sheetId: string): Set<number> {
    const known = rows.get(sheetId) ?? new Set<number>();
    rows.set(sheetId, known);
    return known;
  }
}
