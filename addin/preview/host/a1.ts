/** Cell addresses: rectangles, A1 text, sheet prefixes, and how a rectangle moves when cells are inserted or deleted. */
import { columnLetters } from "../../common/a1";

export const ROWS = 1_048_576;
export const COLUMNS = 16_384;

/** A block of cells; row and column count from 0. */
export interface Rect {
  readonly row: number;
  readonly column: number;
  readonly rows: number;
  readonly columns: number;
}

/** Cells inserted or deleted: `area` is what appears or goes, and the rest of its rows or columns makes room. */
export interface Shift {
  readonly area: Rect;
  readonly direction: "down" | "right" | "up" | "left";
}

function columnIndex(letters: string): number {
  return [...letters.toUpperCase()].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;
}

export const cellRect = (row: number, column: number): Rect => ({ row, column, rows: 1, columns: 1 });

export const SHEET_RECT: Rect = { row: 0, column: 0, rows: ROWS, columns: COLUMNS };

export function rectBetween(row1: number, column1: number, row2: number, column2: number): Rect {
  const row = Math.min(row1, row2);
  const column = Math.min(column1, column2);
  return { row, column, rows: Math.abs(row2 - row1) + 1, columns: Math.abs(column2 - column1) + 1 };
}

export const endRow = (rect: Rect) => rect.row + rect.rows - 1;
export const endColumn = (rect: Rect) => rect.column + rect.columns - 1;
export const isOneCell = (rect: Rect) => rect.rows === 1 && rect.columns === 1;
export const isWholeRows = (rect: Rect) => rect.columns === COLUMNS;
export const isWholeColumns = (rect: Rect) => rect.rows === ROWS;

export const fitsSheet = (rect: Rect) =>
  rect.row >= 0 &&
  rect.column >= 0 &&
  rect.rows > 0 &&
  rect.columns > 0 &&
  endRow(rect) < ROWS &&
  endColumn(rect) < COLUMNS;

export const sameRect = (a: Rect, b: Rect) =>
  a.row === b.row && a.column === b.column && a.rows === b.rows && a.columns === b.columns;

export const contains = (outer: Rect, row: number, column: number) =>
  row >= outer.row && row <= endRow(outer) && column >= outer.column && column <= endColumn(outer);

export function intersection(a: Rect, b: Rect): Rect | undefined {
  const row = Math.max(a.row, b.row);
  const column = Math.max(a.column, b.column);
  const rows = Math.min(endRow(a), endRow(b)) - row + 1;
  const columns = Math.min(endColumn(a), endColumn(b)) - column + 1;
  return rows > 0 && columns > 0 ? { row, column, rows, columns } : undefined;
}

export const bounding = (a: Rect, b: Rect): Rect =>
  rectBetween(
    Math.min(a.row, b.row),
    Math.min(a.column, b.column),
    Math.max(endRow(a), endRow(b)),
    Math.max(endColumn(a), endColumn(b)),
  );

const AREA = /^\$?([A-Z]{1,3})\$?(\d{1,7})(?::\$?([A-Z]{1,3})\$?(\d{1,7}))?$/i;
const WHOLE_COLUMNS = /^\$?([A-Z]{1,3}):\$?([A-Z]{1,3})$/i;
const WHOLE_ROWS = /^\$?(\d{1,7}):\$?(\d{1,7})$/;

function areaOf(text: string): Rect | undefined {
  const area = AREA.exec(text);
  if (area) {
    const row = Number(area[2]) - 1;
    const column = columnIndex(area[1]!);
    const lastRow = area[4] === undefined ? row : Number(area[4]) - 1;
    const lastColumn = area[3] === undefined ? column : columnIndex(area[3]);
    return rectBetween(row, column, lastRow, lastColumn);
  }
  const columns = WHOLE_COLUMNS.exec(text);
  if (columns) return rectBetween(0, columnIndex(columns[1]!), ROWS - 1, columnIndex(columns[2]!));
  const rows = WHOLE_ROWS.exec(text);
  if (rows) return rectBetween(Number(rows[1]) - 1, 0, Number(rows[2]) - 1, COLUMNS - 1);
  return undefined;
}

/** "B2", "$B$2:C9", "A:C", "3:4" → a block of cells, or undefined if the text is no address on a sheet. */
export function parseAddress(text: string): Rect | undefined {
  const rect = areaOf(text);
  return rect && fitsSheet(rect) ? rect : undefined;
}

export function formatAddress(rect: Rect, absolute = false): string {
  const mark = absolute ? "$" : "";
  const column = (index: number) => mark + columnLetters(index);
  const row = (index: number) => mark + (index + 1);
  if (isWholeRows(rect)) return `${row(rect.row)}:${row(endRow(rect))}`;
  if (isWholeColumns(rect)) return `${column(rect.column)}:${column(endColumn(rect))}`;
  const first = column(rect.column) + row(rect.row);
  return isOneCell(rect) ? first : `${first}:${column(endColumn(rect))}${row(endRow(rect))}`;
}

/** A sheet name as it stands before the "!" of a reference. */
export function quoteSheet(name: string): string {
  const plain = /^[A-Za-z_][A-Za-z0-9_.]*$/.test(name) && !looksLikeReference(name);
  return plain ? name : `'${name.replaceAll("'", "''")}'`;
}

/** "'My sheet'!A1" → its sheet and its address; no sheet gives undefined. */
export function splitSheet(reference: string): { sheet: string | undefined; address: string } {
  const match = /^(?:'((?:[^']|'')+)'|([^'!]+))!(.+)$/s.exec(reference);
  if (!match) return { sheet: undefined, address: reference };
  return { sheet: (match[1] ?? match[2]!).replaceAll("''", "'"), address: match[3]! };
}

/** Names that a formula would read as a cell: Stages1, R1C1, R, C. */
export function looksLikeReference(name: string): boolean {
  const cell = /^([A-Z]{1,3})(\d+)$/i.exec(name);
  if (cell && columnIndex(cell[1]!) < COLUMNS && Number(cell[2]) >= 1 && Number(cell[2]) <= ROWS) return true;
  return /^(R\d*C\d*|R\d*|C\d*)$/i.test(name);
}

interface Span {
  readonly start: number;
  readonly size: number;
}

function insertInto(span: Span, at: number, count: number): Span {
  if (at <= span.start) return { start: span.start + count, size: span.size };
  return at < span.start + span.size ? { start: span.start, size: span.size + count } : span;
}

function deleteFrom(span: Span, at: number, count: number): Span | undefined {
  const end = span.start + span.size;
  const gone = Math.min(end, at + count) - Math.max(span.start, at);
  const before = Math.max(0, Math.min(count, span.start - at));
  if (gone === span.size) return undefined;
  return { start: span.start - before, size: span.size - Math.max(0, gone) };
}

/** Where a block lies after a shift; undefined when all of it was deleted. */
export function shiftRect(rect: Rect, { area, direction }: Shift): Rect | undefined {
  const vertical = direction === "down" || direction === "up";
  const follows = vertical
    ? rect.column >= area.column && endColumn(rect) <= endColumn(area)
    : rect.row >= area.row && endRow(rect) <= endRow(area);
  if (!follows || (vertical ? isWholeColumns(rect) : isWholeRows(rect))) return rect;
  const span = vertical ? { start: rect.row, size: rect.rows } : { start: rect.column, size: rect.columns };
  const at = vertical ? area.row : area.column;
  const count = vertical ? area.rows : area.columns;
  const inserting = direction === "down" || direction === "right";
  const moved = inserting ? insertInto(span, at, count) : deleteFrom(span, at, count);
  if (!moved) return undefined;
  return vertical
    ? { ...rect, row: moved.start, rows: moved.size }
    : { ...rect, column: moved.start, columns: moved.size };
}

/** What is left of a block without a part of it: up to four blocks. */
export function subtract(rect: Rect, hole: Rect): Rect[] {
  const common = intersection(rect, hole);
  if (!common) return [rect];
  const bottom = rect.row + rect.rows;
  const right = rect.column + rect.columns;
  const parts: Rect[] = [
    { ...rect, rows: common.row - rect.row },
    { ...rect, row: common.row + common.rows, rows: bottom - common.row - common.rows },
    { ...common, column: rect.column, columns: common.column - rect.column },
    { ...common, column: common.column + common.columns, columns: right - common.column - common.columns },
  ];
  return parts.filter(({ rows, columns }) => rows > 0 && columns > 0);
}
