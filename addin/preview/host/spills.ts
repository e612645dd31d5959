/** The blocks that formulas fill beyond their own cells, as they are once everything is written. */
import type { FormulaDataModel } from "@univerjs/engine-formula";
import { type Rect, rectBetween } from "./a1";
import { UNIT } from "./univer-range";

export const SPILL_ERROR = "#SPILL!";

interface Grid {
  shows(sheetId: string, row: number, column: number): unknown;
  isInTable(sheetId: string, row: number, column: number): boolean;
}

export class Spills {
  constructor(
    private readonly formulas: FormulaDataModel,
    private readonly grid: Grid,
  ) {}

  /** The block that the formula of a cell fills; undefined where it fills only the cell, or nothing. */
  of(sheetId: string, row: number, column: number): Rect | undefined {
    return this.isInTable(sheetId, row, column) ? undefined : this.filledBlock(sheetId, row, column);
  }

  on(sheetId: string): Rect[] {
    const spills: Rect[] = [];
    for (const [row, columns] of Object.entries(this.rangesOn(sheetId) ?? {})) {
      for (const column of Object.keys(columns ?? {})) {
        const spill = this.of(sheetId, Number(row), Number(column));
        if (spill) spills.push(spill);
      }
    }
    return spills;
  }

  /** Excel lets nothing spill inside a table; the engine would. */
  isInTable(sheetId: string, row: number, column: number): boolean {
    return this.filledBlock(sheetId, row, column) !== undefined && this.grid.isInTable(sheetId, row, column);
  }

  private rangesOn(sheetId: string) {
    return this.formulas.getArrayFormulaRange()?.[UNIT]?.[sheetId];
  }

  private filledBlock(sheetId: string, row: number, column: number): Rect | undefined {
    const range = this.rangesOn(sheetId)?.[row]?.[column];
    if (!range || this.grid.shows(sheetId, row, column) === SPILL_ERROR) return undefined;
    return rectBetween(range.startRow, range.startColumn, range.endRow, range.endColumn);
  }
}
