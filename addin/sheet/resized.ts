/** Tables of ours that were given other rows or columns where they stand, and what it takes to put them back. */
import { rangeAddress, withoutSheet } from "../common/a1";
import { type Before, beforeOf, enterAll, holdsAs } from "./before";
import { askLooks, settable } from "./looks";

export interface TableArea {
  readonly row: number;
  readonly column: number;
  /** With the headings. */
  readonly rows: number;
  readonly columns: number;
}

export interface ResizedTable {
  readonly sheetId: string;
  /** Its id, since it may be renamed. */
  readonly table: string;
  readonly name: string;
  readonly was: TableArea;
  readonly is: TableArea;
  readonly before: Before;
  /** A column whose cells offer a list. */
  readonly list?: { readonly column: number; readonly source: string };
  readonly content?: string;
}

export const addressOf = ({ row, column, rows, columns }: TableArea) => rangeAddress(row, column, rows, columns);

/** What the first has beyond the second, which begins at the same cell: the rows below, and the columns beside. */
export function beyond(area: TableArea, other: TableArea): TableArea[] {
  const below = { ...area, row: area.row + other.rows, rows: area.rows - other.rows };
  const beside = { ...area, column: area.column + other.columns, columns: area.columns - other.columns };
  return [below, beside].filter(({ rows, columns }) => rows > 0 && columns > 0);
}

/** Asks what the tables hold; once the answer has come, the function it returns gives what to remember. */
export function askResized(
  sheet: Excel.Worksheet,
  tables: readonly Omit<ResizedTable, "sheetId" | "table" | "before">[],
): () => ResizedTable[] {
  sheet.load("id");
  const asked = tables.map((one) => {
    const range = sheet.getRange(addressOf(one.was)).load("formulas,values,numberFormat");
    return { one, table: sheet.tables.getItem(one.name).load("id"), range, looks: askLooks(range) };
  });
  return () =>
    asked.map(({ one, table, range, looks }) => ({
      ...one,
      sheetId: sheet.id,
      table: table.id,
      before: { ...beforeOf(range), looks: settable(looks.value) },
    }));
}

/** Gives the table its new place; what is no longer part of it is left blank. */
export function resize(sheet: Excel.Worksheet, { name, was, is }: Pick<ResizedTable, "name" | "was" | "is">): void {
  if (addressOf(was) === addressOf(is)) return;
  sheet.tables.getItem(name).resize(addressOf(is));
  leaveBlank(sheet, beyond(was, is));
}

function leaveBlank(sheet: Excel.Worksheet, areas: readonly TableArea[]): void {
  for (const area of areas) {
    const range = sheet.getRange(addressOf(area));
    range.clear();
    range.dataValidation.clear();
  }
}

/** As it was before. */
export function resizeBack(sheet: Excel.Worksheet, table: Excel.Table, resized: ResizedTable): void {
  const { was, is, before, list } = resized;
  const range = sheet.getRange(addressOf(was));
  // A table takes the headings of new columns from the cells that it grows over.
  enterAll(range, before);
  if (addressOf(was) !== addressOf(is)) table.resize(addressOf(was));
  leaveBlank(sheet, beyond(is, was));
  if (before.looks) range.setCellProperties(before.looks);
  if (!list) return;
  const cells = { ...was, row: was.row + 1, rows: was.rows - 1, column: was.column + list.column, columns: 1 };
  sheet.getRange(addressOf(cells)).dataValidation.rule = { list: { inCellDropDown: true, source: list.source } };
}

/** Whether it still stands where it was put. */
export const isInPlace = (range: Excel.Range, { is }: ResizedTable) => withoutSheet(range.address) === addressOf(is);

/** Whether nothing of it was written. */
export const isAsBefore = ({ now, held }: { now: Excel.Range; held: Excel.Range }, { was, before }: ResizedTable) =>
  withoutSheet(now.address) === addressOf(was) && holdsAs(held, before);
