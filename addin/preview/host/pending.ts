/** Cell writes of one batch, gathered until something reads: the engine takes them as one command a sheet. */
import type { IBorderData, ICellData, IStyleData } from "@univerjs/core";
import { bounding, cellRect, contains, endRow, intersection, type Rect } from "./a1";

/** Cells by row and column, as the engine's commands take them; null deletes a cell. */
export type Matrix = Record<number, Record<number, ICellData | null>>;

export function lineOf(cells: Matrix, row: number): Record<number, ICellData | null> {
  cells[row] ??= {};
  return cells[row];
}

/** A block of many cells that all take one style. */
export interface StyledBlock {
  readonly rect: Rect;
  readonly style: IStyleData;
}

/** What is about to be written to one sheet. */
export class PendingWrites {
  /** The block whose contents change; styles alone change none. */
  content: Rect | undefined;
  /** No two of them have a cell in common; a cell with an entry of its own in a block has the block's style there too. */
  readonly blocks: StyledBlock[] = [];
  private readonly rows = new Map<number, Map<number, ICellData>>();

  find(row: number, column: number): ICellData | undefined {
    return this.rows.get(row)?.get(column) ?? this.fromBlock(row, column);
  }

  /** Whether a cell is written to on its own, and not only with a block. */
  hasCell(row: number, column: number): boolean {
    return this.rows.get(row)?.has(column) ?? false;
  }

  cell(row: number, column: number): ICellData {
    let line = this.rows.get(row);
    if (!line) {
      line = new Map();
      this.rows.set(row, line);
    }
    let cell = line.get(column);
    if (!cell) {
      cell = this.fromBlock(row, column) ?? {};
      line.set(column, cell);
    }
    return cell;
  }

  setContent(row: number, column: number, content: ICellData) {
    Object.assign(this.cell(row, column), content);
    const at = cellRect(row, column);
    this.content = this.content ? bounding(this.content, at) : at;
  }

  addStyle(row: number, column: number, style: IStyleData) {
    const cell = this.cell(row, column);
    // Cells that take nothing but this style share it.
    cell.s = cell.s ? mergedStyle(cell.s as IStyleData, style) : style;
  }

  /** Adds to the style of many cells at once, without an entry for each; false where they take another one already. */
  addBlock(rect: Rect, style: IStyleData): boolean {
    if (this.blocks.some((block) => intersection(block.rect, rect))) return false;
    for (const [row, cells] of this.rows) {
      for (const column of cells.keys()) if (contains(rect, row, column)) this.addStyle(row, column, style);
    }
    this.blocks.push({ rect, style });
    return true;
  }

  private fromBlock(row: number, column: number): ICellData | undefined {
    const block = this.blocks.find(({ rect }) => contains(rect, row, column));
    return block && { s: block.style };
  }

  /** Rows with new contents, or with text of another size or newly wrapped. */
  rowsThatMayGrow(): number[] {
    const isTall = (style: IStyleData | undefined) => style?.fs !== undefined || style?.tb !== undefined;
    const mayGrow = (cell: ICellData) => "v" in cell || isTall(cell.s as IStyleData | undefined);
    const rows = [...this.rows].filter(([, cells]) => [...cells.values()].some(mayGrow)).map(([row]) => row);
    for (const { rect, style } of this.blocks) {
      if (isTall(style)) for (let row = rect.row; row <= endRow(rect); row++) rows.push(row);
    }
    return rows;
  }

  /** Apart, because what only changes styles needs no calculation. */
  matrices(): { contents: Matrix; styles: Matrix } {
    const contents: Matrix = {};
    const styles: Matrix = {};
    for (const [row, columns] of this.rows) {
      for (const [column, cell] of columns) lineOf("v" in cell ? contents : styles, row)[column] = cell;
    }
    return { contents, styles };
  }
}

export function mergedStyle(style: IStyleData | undefined, added: IStyleData): IStyleData {
  const merged: IStyleData = { ...style, ...added };
  if (style?.bd && added.bd) merged.bd = { ...style.bd, ...added.bd } as IBorderData;
  return merged;
}

export const isEmpty = (cells: Matrix): boolean => Object.keys(cells).length === 0;

/** The block whose contents a command set; undefined when it only set styles. */
export function contentRect(cells: Matrix): Rect | undefined {
  let rect: Rect | undefined;
  for (const [row, columns] of Object.entries(cells)) {
    for (const [column, cell] of Object.entries(columns ?? {})) {
      if (cell && !("v" in cell) && !("f" in cell)) continue;
      const at = cellRect(Number(row), Number(column));
      rect = rect ? bounding(rect, at) : at;
    }
  }
  return rect;
}
