/** Finds and reads the list of past jobs that the user keeps in the workbook: a table, or plain cells under headings. */
import { type CheckedJobs, type JobProblem, jobCheck } from "../../functions/audit/check";
import { JOB_KEYS, type JobKey } from "../../functions/audit/fields";
import type { Mapping } from "../../functions/audit/headings";
import { problemWords } from "../../functions/audit/texts";
import { cellAddress } from "../common/a1";
import { Refusal } from "../common/refusal";
import { inWorkbook, isNotFound } from "./in-workbook";
import { DOING, refuseJobs } from "./job-texts";

/** Where a list is kept: a table by its name, or the cell of its first heading. */
export type ListPlace = { readonly table: string } | { readonly sheet: string; readonly cell: string };

export interface JobSource {
  readonly place: ListPlace;
  /** As the user knows it: "table Jobs on “Past jobs”". */
  readonly name: string;
  readonly sheetName: string;
  readonly headings: readonly string[];
  readonly rows: number;
  /** Row and column, from 0, of the first cell below the headings. */
  readonly top: number;
  readonly left: number;
}

/** How a long command shows its progress, and is stopped. */
export interface Means {
  readonly signal: AbortSignal;
  /** Awaited, so that whoever shows it can do so, or ask to stop, before the work goes on. */
  progress(done: number, of: number, doing: string): void | Promise<void>;
}

/** A list as it is in the workbook at this moment. */
export interface LocatedList extends JobSource {
  readonly sheet: Excel.Worksheet;
  /** Rows above the first blank one. */
  readonly unbroken: number;
}

export function stopIfAsked({ signal }: Means): void {
  if (signal.aborted) throw refuseJobs("canceled");
}

/** Names of the workbook's tables. */
export function jobTables(): Promise<string[]> {
  return inWorkbook(async (context) => {
    const tables = context.workbook.tables.load("items/name");
    await context.sync();
    return tables.items.map(({ name }) => name);
  });
}

/** The list at a place, or at the selected cell. */
export function findJobList(place?: ListPlace): Promise<JobSource> {
  return inWorkbook(async (context) => sourceOf(await locateOne(context, place ?? (await selectedPlace(context)))));
}

/** The list that was used last time; undefined when it is gone. */
export function findLastList(place: ListPlace): Promise<JobSource | undefined> {
  return findJobList(place).catch((error: unknown) => {
    if (error instanceof Refusal) return undefined;
    throw error;
  });
}

const sourceOf = ({ sheet: _, unbroken: __, ...source }: LocatedList): JobSource => source;

/** The table of the active cell, else the headings above it. */
export async function selectedPlace(context: Excel.RequestContext): Promise<ListPlace> {
  const cell = context.workbook.getActiveCell();
  const sheet = context.workbook.worksheets.getActiveWorksheet().load("name");
  const tables = cell.getTables(false).load("items/name");
  const region = cell.getSurroundingRegion().load("columnIndex,columnCount");
  const used = sheet.getUsedRangeOrNullObject(true).load("rowIndex,rowCount");
  await context.sync();
  const [table] = tables.items;
  if (table) return { table: table.name };
  if (used.isNullObject) throw refuseJobs("emptySheet");
  // A blank row parts a region, yet not the list: the headings are looked for from the sheet's first used row.
  const rows = Math.min(used.rowCount, HEADING_DEPTH);
  const head = sheet.getRangeByIndexes(used.rowIndex, region.columnIndex, rows, region.columnCount).load("values");
  await context.sync();
  const at = head.values.findIndex(looksLikeHeadings);
  if (at < 0) throw refuseJobs("noHeadings");
  return { sheet: sheet.name, cell: cellAddress(used.rowIndex + at, region.columnIndex) };
}

/** Rows, from the first that is used, in which headings are looked for. */
const HEADING_DEPTH = 50;

/** A title has one cell, and a job has mostly numbers. */
function looksLikeHeadings(cells: readonly unknown[]): boolean {
  const texts = cells.filter((cell) => typeof cell === "string" && cell.trim() !== "");
  return texts.length >= 2 && texts.length > cells.length / 2;
}

/** The list as it is now, found to be one and not two. */
export async function locateOne(context: Excel.RequestContext, place: ListPlace): Promise<LocatedList> {
  const list = await locate(context, place);
  const more = list.rows - list.unbroken;
  if (more > 0) {
    const { sheet, top, left, headings, unbroken } = list;
    const below = sheet.getRangeByIndexes(top + unbroken, left, more, headings.length).load("values");
    await context.sync();
    refuseOtherList(list, unbroken, below.values);
  }
  return list;
}

/** The list as it is now; rows that were added since are in it. */
async function locate(context: Excel.RequestContext, place: ListPlace): Promise<LocatedList> {
  const found = "table" in place ? await locateTable(context, place.table) : await locateCells(context, place);
  if (found.rows === 0) throw refuseJobs("noRows", { list: found.name });
  return found;
}

async function locateTable(context: Excel.RequestContext, name: string): Promise<LocatedList> {
  const table = context.workbook.tables.getItem(name).load("name,worksheet/name");
  const head = table.getHeaderRowRange().load("values,rowIndex,columnIndex");
  const body = table.getDataBodyRange().load("rowCount");
  await syncOr(context, () => refuseJobs("tableGone", { table: name }));
  return {
    place: { table: table.name },
    name: `table ${table.name} on “${table.worksheet.name}”`,
    headings: head.values[0]!.map(String),
    rows: body.rowCount,
    unbroken: body.rowCount,
    sheet: table.worksheet,
    sheetName: table.worksheet.name,
    top: head.rowIndex + 1,
    left: head.columnIndex,
  };
}

/** Where the table or the sheet is gone that something is asked of, there is no list. */
async function syncOr(context: Excel.RequestContext, gone: () => Refusal): Promise<void> {
  try {
    await context.sync();
  } catch (error) {
    throw isNotFound(error) ? gone() : error;
  }
}

async function locateCells(
  context: Excel.RequestContext,
  place: { readonly sheet: string; readonly cell: string },
): Promise<LocatedList> {
  const sheet = context.workbook.worksheets.getItem(place.sheet);
  const first = sheet.getRange(place.cell).load("rowIndex");
  const region = first.getSurroundingRegion().load("rowIndex,rowCount,columnIndex,columnCount");
  const head = region.getIntersectionOrNullObject(first.getEntireRow()).load("values");
  const used = sheet.getUsedRangeOrNullObject(true);
  // Other things on the sheet may reach further down than the list.
  const list = region.getEntireColumn().getUsedRangeOrNullObject(true).load("rowIndex,rowCount");
  await syncOr(context, () => refuseJobs("sheetGone", { sheet: place.sheet }));
  if (used.isNullObject) throw refuseJobs("listGone", { sheet: place.sheet });
  const { rowIndex: top } = first;
  const { columnIndex: left, columnCount: columns } = region;
  const rows = list.isNullObject ? 0 : Math.max(0, list.rowIndex + list.rowCount - top - 1);
  const headings = head.values[0]!.map(String);
  const last = cellAddress(top + rows, left + columns - 1);
  return {
    place: { sheet: place.sheet, cell: cellAddress(top, left) },
    name: `${place.sheet}!${cellAddress(top, left)}:${last}`,
    headings,
    rows,
    unbroken: Math.min(rows, region.rowIndex + region.rowCount - top - 1),
    sheet,
    sheetName: place.sheet,
    top: top + 1,
    left,
  };
}

/**
 * Below a blank row the list goes on, unless other headings begin another one; its own ones again are a row to fix. `values`
 * are those of its rows from `from` on, and `before` the row above them.
 */
function refuseOtherList(
  { headings, top, left }: LocatedList,
  from: number,
  values: readonly (readonly unknown[])[],
  before: readonly unknown[] = headings,
): void {
  const isBlankRow = (row: readonly unknown[]) => row.every((cell) => cell === "");
  const at = values.findIndex(
    (row, i) => isBlankRow(values[i - 1] ?? before) && areWords(row) && row.some((word, k) => word !== headings[k]),
  );
  if (at >= 0) throw refuseJobs("secondList", { at: cellAddress(top + from + at, left) });
}

/** Headings, and not a job whose numbers were typed as text. */
const areWords = (cells: readonly unknown[]) =>
  looksLikeHeadings(cells) && cells.every((cell) => typeof cell === "string" && !/\d/.test(cell));

/** In which of the list's columns, from 0, each mapped field is. */
export function columnsOf(headings: readonly string[], mapping: Mapping): Partial<Record<JobKey, number>> {
  const columns: Partial<Record<JobKey, number>> = {};
  for (const key of JOB_KEYS) {
    const heading = mapping[key];
    if (heading === undefined) continue;
    const column = headings.indexOf(heading);
    if (column < 0) throw refuseJobs("headingGone", { heading });
    columns[key] = column;
  }
  return columns;
}

/** Where a problem is, as the user finds it: "Past jobs!K12", or "Past jobs, row 12" where it is no one cell. */
export function problemCell(list: JobSource, mapping: Mapping, { row, key }: JobProblem): string {
  const column = key === null ? undefined : columnsOf(list.headings, mapping)[key];
  const line = list.top + row;
  if (column === undefined) return `${list.sheetName}, row ${line + 1}`;
  return `${list.sheetName}!${cellAddress(line, list.left + column)}`;
}

/** What the problem is, with other rows as the user finds them: "row 12". */
export const problemText = (list: Pick<JobSource, "top">, problem: Pick<JobProblem, "key" | "wrong">): string =>
  problemWords(problem, (row) => `row ${list.top + row + 1}`);

/** Rows read at once: enough to be fast, few enough for the pane to stay awake. */
const CHUNK = 2000;

/** Reads the list as it is now and checks every row of it. */
export function readJobs({ place }: JobSource, mapping: Mapping, means: Means): Promise<CheckedJobs> {
  return inWorkbook(async (context) => {
    const list = await locate(context, place);
    const check = jobCheck(columnsOf(list.headings, mapping));
    let before: readonly unknown[] = list.headings;
    for (let row = 0; row < list.rows; row += CHUNK) {
      await means.progress(row, list.rows, DOING.reading);
      stopIfAsked(means);
      const rows = Math.min(CHUNK, list.rows - row);
      const cells = list.sheet.getRangeByIndexes(list.top + row, list.left, rows, list.headings.length).load("values");
      await context.sync();
      if ("cell" in place) refuseOtherList(list, row, cells.values, before);
      before = cells.values.at(-1)!;
      check.add(cells.values);
    }
    return check.done();
  });
}
