/**
 * A block: everything that one piece of sheet holds, as plain data. Layouts make blocks without touching Excel;
 * `write.ts` puts one on a sheet.
 */
import type { NumberFormat, StyleName } from "./styles";

export interface PlacedCell {
  row: number;
  column: number;
  /** A number, TRUE or FALSE, text (never read as a formula), or a formula given as `{ formula }`. */
  content: number | boolean | string | { formula: string };
  style?: StyleName;
  format?: NumberFormat;
}

interface PlacedTable {
  name: string;
  row: number;
  column: number;
  /** With the header row. */
  rows: number;
  columns: number;
}

interface PlacedName {
  name: string;
  row: number;
  column: number;
  /** A sheet's own names may repeat on another sheet; a workbook's may not. */
  scope: "sheet" | "workbook";
}

/** What may be typed into a cell: one of a list, or a number within bounds. */
export interface PlacedRule {
  row: number;
  column: number;
  rows: number;
  rule: { list: string } | { least: number; most: number; whole: boolean };
  message: string;
}

export interface PlacedChart {
  title: string;
  kind: "ColumnStacked" | "ColumnClustered" | "BarClustered" | "Line";
  valueTitle: string;
  format: NumberFormat;
  /** The sheet with the cells that it shows, where that is not its own. */
  sheet?: string;
  /** Row and column of the category cells, then of each series; all as many rows. */
  categories: { row: number; column: number };
  series: { name: string; row: number; column: number; fill: string }[];
  rows: number;
  top: number;
  left: number;
  bottom: number;
  right: number;
}

/** How cells look that a formula elsewhere fills, as those of a spill. */
interface PlacedLook {
  row: number;
  column: number;
  rows: number;
  columns: number;
  format?: NumberFormat;
}

export interface Block {
  cells: PlacedCell[];
  tables: PlacedTable[];
  names: PlacedName[];
  rules: PlacedRule[];
  charts: PlacedChart[];
  looks: PlacedLook[];
  /** Stands before every amount of money in it. */
  sign?: string;
}

export const emptyBlock = (sign?: string): Block => ({
  cells: [],
  tables: [],
  names: [],
  rules: [],
  charts: [],
  looks: [],
  ...(sign && { sign }),
});

/** How a sheet of its own is set up around its block. */
export interface SheetSetup {
  /** Column widths in points. */
  widths: number[];
  /** Rows that need more than the usual height: row and height in points. */
  rowHeights: [row: number, height: number][];
  frozenRows: number;
  frozenColumns: number;
  /** Row repeated on every printed page. */
  printTitleRow: number;
  /** Printed pages side by side, where one would be too small to read; the first column is repeated on each. */
  pagesWide?: number;
  /** Upright, so many columns wide, on as many pages; 0 is as many as it takes. */
  portrait?: { columns: number; pagesTall: number };
  /** Rows that get the height which their wrapped words need. */
  fittedRows?: { from: number; to: number };
  /** Without it, all columns are made to fit those pages. */
  page?: {
    /** In percent. */
    scale: number;
    /** Columns that are printed. */
    columns: number;
    /** Rows that begin a page. */
    breaksAbove: readonly number[];
  };
}

/** Rows and columns that a block takes, with what its formulas fill. */
export function extent(block: Block): { rows: number; columns: number } {
  let rows = 0;
  let columns = 0;
  const reach = (row: number, column: number) => {
    rows = Math.max(rows, row + 1);
    columns = Math.max(columns, column + 1);
  };
  for (const { row, column } of block.cells) reach(row, column);
  for (const { bottom, right } of block.charts) reach(bottom, right);
  for (const look of block.looks) reach(look.row + look.rows - 1, look.column + look.columns - 1);
  return { rows, columns };
}

/** A sheet of a title, a note and tables whose headers are in one row. */
export const tableSetup = (headerRow: number, widths: number[], frozenColumns = 0): SheetSetup => ({
  widths,
  rowHeights: [
    [0, 24],
    [headerRow, 30],
  ],
  frozenRows: headerRow + 1,
  frozenColumns,
  printTitleRow: headerRow,
});
