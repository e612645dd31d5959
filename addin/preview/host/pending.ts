/** Cell writes of one batch, gathered until something reads: the engine takes them as one command a sheet. */
import type { IBorderData, ICellData, IStyleData } from "@univerjs/core";
import { bounding, cellRect, type Rect } from "./a1";

/** Cells by row and column, as the engine's commands take them; null deletes a cell. */
export type Matrix = Record<number, Record<number, ICellData | null>>;

export function lineOf(cells: Matrix, row: number): Record<number, ICellData | null> {
  cells[row] ??= {};
  return cells[row];
}

/** What is about to be written to one sheet. */
export class PendingWrites {
  /** The block whose contents change; styles alone change none. */
  content: Rect | undefined;
  private readonly rows = new Map<number, Map<number, ICellData>>();

  find(row: number, column: number): ICellData | undefined {
    return this.rows.get(row)?.get(column);
  }

  cell(row: number, column: number): ICellData {
    let line = this.rows.get(row);
    if (!line) {
      line = new Map();
      this.rows.set(row, line);
    }
    let cell = line.get(column);
    if (!cell) {
      cell = {};
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

  /** Rows with new contents, or with text of another size or newly wrapped. */
  rowsThatMayGrow(): number[] {
    const mayGrow = (cell: ICellData) => {
      const style = cell.s as IStyleData | undefined;
      return "v" in cell || style?.fs !== undefined || style?.tb !== undefined;
    };
    return [...this.rows].filter(([, cells]) => [...cells.values()].some(mayGrow)).map(([row]) => row);
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
