/** Keeps account of what a command puts into the workbook, so that it can be taken out again, exactly. */
import type { Block } from "./block";
import { inWorkbook } from "./in-workbook";
import { NeedsAnswer, Refusal } from "./refusal";
import { asText } from "./write";

interface InsertedSheet {
  id: string;
  name: string;
  /** The cells to watch, where formulas fill many more below them; else whatever is used. */
  watched?: string;
  /** What it held when it was new, to see whether the user has worked on it since. */
  content: string;
}

interface InsertedCells {
  sheetId: string;
  /** Without the sheet's name, which the user may change. */
  address: string;
  before: { formulas: any[][]; numberFormat: any[][] };
  content: string;
}

/** Cells of the user's that took another value, and kept their looks. */
interface FilledCells {
  sheetId: string;
  address: string;
  before: any[][];
  content: string;
}

/** A column that a table of the user's was given. */
interface AddedColumn {
  table: string;
  name: string;
  content: string;
}

/** What was inserted: a sentence for the user, and what it takes to undo it. */
export interface Inserted {
  readonly what: string;
  readonly sheets: readonly InsertedSheet[];
  readonly cells?: InsertedCells;
  readonly filled?: readonly FilledCells[];
  readonly columns?: readonly AddedColumn[];
  readonly tables: readonly string[];
  readonly names: readonly string[];
}

const watchedCells = (sheet: Excel.Worksheet, watched?: string) =>
  (watched === undefined ? sheet.getUsedRange() : sheet.getRange(watched)).load("formulas");
const contentOf = (formulas: any[][]) => JSON.stringify(formulas);
/** What cells hold, as it must be written to be there again: a text that begins like a formula is to stay a text. */
const entriesOf = ({ formulas, values, numberFormat }: Excel.Range): any[][] =>
  formulas.map((line, r) =>
    line.map((entry, c) => {
      const isText = typeof entry === "string" && entry === values[r]![c] && numberFormat[r]![c] !== "@";
      return isText ? asText(entry) : entry;
    }),
  );
const cellsOf = (address: string) => address.slice(address.lastIndexOf("!") + 1);

/** Open while a command writes: closed with a record of it, or rolled back. */
export class Ledger {
  private readonly sheets: { sheet: Excel.Worksheet; name: string; watched?: string }[] = [];
  private readonly tableNames: string[] = [];
  private readonly workbookNames: string[] = [];
  private cells: (Omit<InsertedCells, "content"> & { range: Excel.Range }) | undefined;
  private readonly filled: (Omit<FilledCells, "content"> & { range: Excel.Range })[] = [];
  private readonly columns: { table: string; name: string }[] = [];

  constructor(readonly context: Excel.RequestContext) {}

  sheet(sheet: Excel.Worksheet, name: string, watched?: string): void {
    this.sheets.push({ sheet, name, watched });
  }

  names(block: Block): void {
    this.workbookNames.push(...block.names.filter((n) => n.scope === "workbook").map((n) => n.name));
  }

  tables(block: Block): void {
    this.tableNames.push(...block.tables.map((table) => table.name));
  }

  /** Remembers the cells that are about to be written over. */
  async block(sheet: Excel.Worksheet, range: Excel.Range): Promise<void> {
    range.load("address,formulas,values,numberFormat");
    sheet.load("id");
    await this.context.sync();
    const before = { formulas: entriesOf(range), numberFormat: range.numberFormat };
    this.cells = { sheetId: sheet.id, address: cellsOf(range.address), range, before };
  }

  /** Remembers what cells hold that are about to take another value. */
  async fill(sheet: Excel.Worksheet, ranges: readonly Excel.Range[]): Promise<void> {
    for (const range of ranges) range.load("address,formulas,values,numberFormat");
    sheet.load("id");
    await this.context.sync();
    const more = ranges.map((range) => {
      return { sheetId: sheet.id, address: cellsOf(range.address), range, before: entriesOf(range) };
    });
    this.filled.push(...more);
  }

  column(table: string, name: string): void {
    this.columns.push({ table, name });
  }

  async close(): Promise<Inserted> {
    const { context, sheets, cells, filled, columns } = this;
    const used = sheets.map(({ sheet, watched }) => watchedCells(sheet, watched));
    for (const { sheet } of sheets) sheet.load("id,name");
    cells?.range.load("address,formulas");
    for (const { range } of filled) range.load("formulas");
    const bodies = columns.map(({ table, name }) =>
      context.workbook.tables.getItem(table).columns.getItem(name).getDataBodyRange().load("formulas"),
    );
    await context.sync();
    const named = sheets.map(({ sheet }) => `“${sheet.name}”`);
    const places = [
      ...(cells ? [cells.range.address] : []),
      ...(named.length > 0
        ? [`the new ${named.length > 1 ? "sheets" : "sheet"} ${named.reverse().join(" and ")}`]
        : []),
    ];
    return {
      what: `Stage table written to ${places.join(" and ")}`,
      sheets: sheets.map(({ sheet, watched }, i) => {
        return { id: sheet.id, name: sheet.name, watched, content: contentOf(used[i]!.formulas) };
      }),
      cells: cells && {
        sheetId: cells.sheetId,
        address: cells.address,
        before: cells.before,
        content: contentOf(cells.range.formulas),
      },
      filled: filled.map(({ range, ...cell }) => ({ ...cell, content: contentOf(range.formulas) })),
      columns: columns.map((column, i) => ({ ...column, content: contentOf(bodies[i]!.formulas) })),
      tables: this.tableNames,
      names: this.workbookNames,
    };
  }

  /** Takes out whatever has been written so far, however far that was. */
  async rollBack(): Promise<void> {
    await Excel.run(async (context) => {
      const { worksheets, tables, names } = context.workbook;
      for (const name of this.workbookNames) await deleteIfThere(names.getItemOrNullObject(name));
      for (const name of this.tableNames) await dissolve(tables.getItemOrNullObject(name));
      for (const { name } of this.sheets) await deleteIfThere(worksheets.getItemOrNullObject(name));
      if (this.cells)
        await restore(worksheets.getItem(this.cells.sheetId).getRange(this.cells.address), this.cells.before);
      for (const { table, name } of this.columns) {
        await deleteIfThere(tables.getItem(table).columns.getItemOrNullObject(name));
      }
      for (const { sheetId, address, before } of this.filled) {
        worksheets.getItem(sheetId).getRange(address).formulas = before;
      }
      await context.sync();
    });
  }
}

/** Runs a command that keeps account in a ledger; when it fails, what it has written so far is taken out again. */
export async function allOrNothing<T>(context: Excel.RequestContext, work: (ledger: Ledger) => Promise<T>): Promise<T> {
  const ledger = new Ledger(context);
  try {
    return await work(ledger);
  } catch (error) {
    await ledger.rollBack();
    throw error;
  }
}

async function deleteIfThere(item: Excel.Worksheet | Excel.NamedItem | Excel.TableColumn): Promise<void> {
  await item.context.sync();
  if (!item.isNullObject) item.delete();
}

/** Makes a table plain cells again; the cells themselves are cleared by whoever put them there. */
async function dissolve(table: Excel.Table): Promise<void> {
  await table.context.sync();
  if (!table.isNullObject) table.convertToRange();
}

async function restore(range: Excel.Range, before: InsertedCells["before"]): Promise<void> {
  range.clear();
  range.dataValidation.clear();
  range.numberFormat = before.numberFormat;
  range.formulas = before.formulas;
  await range.context.sync();
}

/** Removes exactly what was inserted and puts back what stood there; asks first when the user has changed it since. */
export function undo(inserted: Inserted, evenIfChanged = false): Promise<void> {
  return inWorkbook(async (context) => {
    const { worksheets, tables, names } = context.workbook;
    const sheets = inserted.sheets.map((one) => ({ ...one, sheet: worksheets.getItemOrNullObject(one.id) }));
    const { cells, filled = [], columns = [] } = inserted;
    const home = cells && worksheets.getItemOrNullObject(cells.sheetId);
    const homes = filled.map(({ sheetId }) => worksheets.getItemOrNullObject(sheetId));
    const grown = columns.map(({ table }) => tables.getItemOrNullObject(table));
    await context.sync();
    if (home?.isNullObject)
      throw new Refusal("The sheet with the stage table is gone, so there is nothing to undo on it.");
    if ([...homes, ...grown].some((item) => item.isNullObject))
      throw new Refusal("The table that was written to is gone, so there is nothing to undo in it.");

    const still = sheets.filter(({ sheet }) => !sheet.isNullObject);
    const used = still.map(({ sheet, watched }) => watchedCells(sheet, watched));
    const range = cells && home?.getRange(cells.address).load("formulas");
    const ranges = filled.map(({ address }, i) => homes[i]!.getRange(address).load("formulas"));
    const added = columns.map(({ name }, i) => grown[i]!.columns.getItemOrNullObject(name));
    await context.sync();
    const addedStill = added.flatMap((column, i) => (column.isNullObject ? [] : [{ column, ...columns[i]! }]));
    const bodies = addedStill.map(({ column }) => column.getDataBodyRange().load("formulas"));
    await context.sync();
    const changed =
      still.some(({ content }, i) => contentOf(used[i]!.formulas) !== content) ||
      (range !== undefined && contentOf(range.formulas) !== cells!.content) ||
      ranges.some(({ formulas }, i) => contentOf(formulas) !== filled[i]!.content) ||
      bodies.some(({ formulas }, i) => contentOf(formulas) !== addedStill[i]!.content);
    if (changed && !evenIfChanged) {
      throw new NeedsAnswer("You have changed cells in what was inserted.", "Remove it with your changes?");
    }

    for (const name of inserted.names) await deleteIfThere(names.getItemOrNullObject(name));
    for (const name of inserted.tables) await dissolve(tables.getItemOrNullObject(name));
    if (range) await restore(range, cells!.before);
    for (const { column } of addedStill) column.delete();
    ranges.forEach((filledRange, i) => {
      filledRange.formulas = filled[i]!.before;
    });
    for (const { sheet } of still) sheet.delete();
    await context.sync();
  }, "Part of it may still be there");
}
