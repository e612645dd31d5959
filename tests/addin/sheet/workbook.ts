/** A workbook with our functions in it and the real client library in front, without a browser. */
import { afterAll, afterEach, beforeAll, beforeEach, expect, vi } from "vitest";
import { type BlankAs, CustomFunctionError, EACH_BLANK } from "../../../addin/preview/host/functions";
import { openWorkbook } from "../../../addin/preview/host/node";
import type { SavedWorkbook } from "../../../addin/preview/host/saved";
import { FUNCTIONS } from "../../../functions/topics";
import { readMetadata } from "../../../manifest/build/catalogue.mjs";

export type GritWorkbook = Awaited<ReturnType<typeof openGrit>>;

/** Takes a tenth of a second: once for all workbooks. */
let metadata: string | undefined;

/** Unless told otherwise, as every host passes blank cells: `dispose` fails where a function answers them differently. */
export async function openGrit(blankAs: BlankAs | typeof EACH_BLANK = EACH_BLANK, saved?: SavedWorkbook) {
  Object.assign((globalThis as any).CustomFunctions, { Error: CustomFunctionError });
  metadata ??= readMetadata();
  const workbook = await openWorkbook({ functions: FUNCTIONS, functionsJson: metadata, blankAs, saved });
  // The workbook code finds the client where a page has it.
  Object.assign(globalThis, { Excel: workbook.Excel, Office: workbook.Office });
  return workbook;
}

/** The workbook that is open for the test. */
export let workbook: GritWorkbook;

/** One for each test that follows. Opened in a hook: a fixture's time would count as the test's own. */
export function openGritForEach(): void {
  beforeEach(async () => {
    workbook = await openGrit();
  });
  afterEach(() => workbook.dispose());
}

/** One for all tests of a group: those that only read, or put back what they change. */
export function openGritOnce(): void {
  beforeAll(async () => {
    workbook = await openGrit();
  });
  afterAll(() => workbook.dispose());
}

/** Writes back the cells that a test changed. To be called after the group's hooks that fill the workbook. */
export function putBackAfterEach(): void {
  let kept: SheetFormulas[];
  beforeAll(async () => {
    kept = await allFormulas();
  });
  afterEach(async () => {
    const now = await allFormulas();
    await Excel.run(async (context) => {
      for (const [s, { name, formulas }] of kept.entries()) {
        const sheet = context.workbook.worksheets.getItem(name);
        for (const [r, row] of formulas.entries()) {
          for (const [c, formula] of row.entries()) {
            if (now[s]?.formulas[r]?.[c] !== formula) sheet.getCell(r, c).formulas = [[formula]];
          }
        }
      }
      await context.sync();
    });
    // A test that changes more than cells needs a workbook of its own.
    expect(await allFormulas(), "put back as it was").toEqual(kept);
  });
}

type SheetFormulas = { name: string; formulas: any[][] };
/** From A1 on, so that a place in it is the cell's place on the sheet. */
async function allFormulas(): Promise<SheetFormulas[]> {
  return Excel.run(async (context) => {
    const sheets = context.workbook.worksheets.load("items/name");
    await context.sync();
    const ranges = sheets.items.map((sheet) =>
      sheet.getRange("A1").getBoundingRect(sheet.getUsedRange()).load("formulas"),
    );
    await context.sync();
    return ranges.map(({ formulas }, i) => ({ name: sheets.items[i]!.name, formulas }));
  });
}

/** Another one in its place. */
export async function reopenGrit(): Promise<void> {
  await workbook.dispose();
  workbook = await openGrit();
}

/** Values of a range, such as "Quote!B2:C4". */
export async function valuesOf(address: string): Promise<any[][]> {
  return Excel.run(async (context) => {
    const { sheet, cells } = split(address);
    const range = context.workbook.worksheets.getItem(sheet).getRange(cells).load("values");
    await context.sync();
    return range.values;
  });
}

export const cellValue = async (address: string) => (await valuesOf(address))[0]![0];

export async function write(address: string, formulas: any[][]): Promise<void> {
  await Excel.run(async (context) => {
    const { sheet, cells } = split(address);
    context.workbook.worksheets.getItem(sheet).getRange(cells).formulas = formulas;
    await context.sync();
  });
}

export async function select(address: string): Promise<void> {
  await Excel.run(async (context) => {
    const { sheet, cells } = split(address);
    context.workbook.worksheets.getItem(sheet).getRange(cells).select();
    await context.sync();
  });
}

/** The value of a named cell, of a sheet or of the workbook. */
export async function named(name: string, sheet?: string): Promise<any> {
  return Excel.run(async (context) => {
    const { workbook } = context;
    const names = sheet ? workbook.worksheets.getItem(sheet).names : workbook.names;
    const range = names.getItem(name).getRange().load("values");
    await context.sync();
    return range.values[0]![0];
  });
}

/** Changes the value of a sheet's named cell, as typing into it would. */
export const setNamed = (name: string, sheet: string, value: unknown) => setAllNamed(sheet, { [name]: value });

/** Several at once: the sheet calculates once for all of them. */
export async function setAllNamed(sheet: string, values: Readonly<Record<string, unknown>>): Promise<void> {
  await Excel.run(async (context) => {
    const { names } = context.workbook.worksheets.getItem(sheet);
    for (const [name, value] of Object.entries(values)) names.getItem(name).getRange().values = [[value]];
    await context.sync();
  });
}

/** Puts a table into a sheet, which is added where the workbook has none of that name. */
export async function addTable(name: string, sheetName: string, from: string, rows: any[][]): Promise<void> {
  await Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    const found = worksheets.getItemOrNullObject(sheetName);
    await context.sync();
    const sheet = found.isNullObject ? worksheets.add(sheetName) : found;
    const range = sheet.getRange(from).getResizedRange(rows.length - 1, rows[0]!.length - 1);
    range.values = rows;
    sheet.tables.add(range, true).name = name;
    await context.sync();
  });
}

/** The figure that stands in the same row as a label, the next number to its right. */
export async function figureBeside(label: string, sheetName: string): Promise<number> {
  return Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem(sheetName).getUsedRange().load("values");
    await context.sync();
    const row = used.values.find((cells) => cells.includes(label)) ?? [];
    const figure = row.slice(row.indexOf(label) + 1).find((cell) => typeof cell === "number");
    if (figure === undefined) throw new Error(`${sheetName} has no figure beside ${label}`);
    return figure;
  });
}

const setProtection = (sheet: string, on: boolean) =>
  Excel.run(async (context) => {
    const { protection } = context.workbook.worksheets.getItem(sheet);
    if (on) protection.protect();
    else protection.unprotect();
    await context.sync();
  });
export const protect = (sheet: string) => setProtection(sheet, true);
export const unprotect = (sheet: string) => setProtection(sheet, false);

/** Types into a table's cell; rows count from 0. */
export async function setInTable(table: string, row: number, columnHeader: string, value: unknown): Promise<void> {
  await Excel.run(async (context) => {
    const column = context.workbook.tables.getItem(table).columns.getItem(columnHeader);
    column.getDataBodyRange().getCell(row, 0).values = [[value]];
    await context.sync();
  });
}

/** Rows of a table as records by header. */
export async function tableRows(name: string): Promise<Record<string, any>[]> {
  return Excel.run(async (context) => {
    const table = context.workbook.tables.getItem(name);
    const head = table.getHeaderRowRange().load("values");
    const body = table.getDataBodyRange().load("values");
    await context.sync();
    return body.values.map((row) => Object.fromEntries(row.map((cell, i) => [head.values[0]![i], cell])));
  });
}

/** Everything that a user could see changed: sheets, their formulas, formats and filters, tables and names. */
export async function snapshot(): Promise<unknown> {
  return Excel.run(async (context) => {
    const { worksheets, tables, names } = context.workbook;
    worksheets.load("items/name,items/id,items/visibility");
    tables.load("items/name");
    names.load("items/name,items/formula");
    await context.sync();
    const used = worksheets.items.map((sheet) =>
      sheet.getUsedRangeOrNullObject(true).load("address,formulas,numberFormat,rowHidden"),
    );
    const filters = worksheets.items.map((sheet) => ({
      filter: sheet.autoFilter.load("criteria"),
      range: sheet.autoFilter.getRangeOrNullObject().load("address"),
    }));
    const tableFilters = tables.items.map((table) => table.autoFilter.load("criteria"));
    const own = worksheets.items.map((sheet) => sheet.names.load("items/name"));
    const charts = worksheets.items.map((sheet) => sheet.charts.load("items/name"));
    await context.sync();
    return {
      sheets: worksheets.items.map((sheet, i) => ({
        name: sheet.name,
        id: sheet.id,
        cells: used[i]!.isNullObject ? null : [used[i]!.address, used[i]!.formulas, used[i]!.numberFormat],
        // As Excel lists them.
        names: own[i]!.items.map((item) => item.name).sort(),
        charts: charts[i]!.items.map((item) => item.name),
        filter: filters[i]!.range.isNullObject ? null : [filters[i]!.range.address, filters[i]!.filter.criteria],
        rowHidden: used[i]!.isNullObject ? null : used[i]!.rowHidden,
      })),
      tables: tables.items.map((table) => table.name),
      tableFilters: tableFilters.map(({ criteria }) => criteria),
      names: names.items.map((item) => [item.name, item.formula]).sort(),
    };
  });
}

function split(address: string): { sheet: string; cells: string } {
  const bang = address.lastIndexOf("!");
  return { sheet: address.slice(0, bang).replace(/^'|'$/g, ""), cells: address.slice(bang + 1) };
}

const REFUSED = { Code: "GeneralException", Message: "The network went away.", Location: "test", HttpStatusCode: 500 };

/** From now on, the n-th request (from 1) fails: before anything of it is done, or after all of it was. */
export function failRequest(workbook: GritWorkbook, n: number, when: "before" | "after"): { reached: () => boolean } {
  const process = workbook.host.process.bind(workbook.host);
  let count = 0;
  vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    count++;
    if (count !== n) return process(body);
    const done = when === "after" ? await process(body) : { Results: [] };
    return { Error: { ...REFUSED, ActionIndex: 0 }, Results: done.Results ?? [] } as any;
  });
  return { reached: () => count >= n };
}
