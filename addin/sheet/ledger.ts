/** Keeps account of what a command puts into the workbook, so that it can be taken out again, exactly. */
import { withoutSheet } from "../common/a1";
import { beforeOf } from "./before";
import type { Block } from "./block";
import { type AskedChange, askBefore, type ChangedSheet, makeChange } from "./change-sheet";
import { refuseReadOnly, runAsOne, whyOf } from "./in-workbook";
import { holds } from "./names";
import { refuse } from "./refusals";
import { addressOf, askResized, type ResizedTable } from "./resized";
import { type BrokenName, type PlacedBefore, type PlacedRows, stillThere, type Traces, takeOut } from "./take-out";

interface InsertedSheet {
  id: string;
  name: string;
  /** The cells to watch, where formulas fill many more below them; else whatever is used. */
  watched?: string;
  /** What it held when it was new, to see whether the user has worked on it since. */
  content: string;
}

/** Cells of the user's that took another value, and kept their looks. */
type FilledCells = PlacedBefore & { content: string };

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
  readonly filled?: readonly FilledCells[];
  readonly columns?: readonly AddedColumn[];
  readonly rows?: readonly PlacedRows[];
  /** Sheets of ours whose layout was changed where it stands. */
  readonly changes?: readonly (ChangedSheet & { content: string })[];
  readonly resized?: readonly ResizedTable[];
  readonly names: readonly string[];
  readonly broken?: readonly BrokenName[];
}

export const watchedCells = (sheet: Excel.Worksheet, watched?: string) =>
  (watched === undefined ? sheet.getUsedRange() : sheet.getRange(watched)).load("formulas");
export const contentOf = (formulas: any[][]) => JSON.stringify(formulas);

/** Open while a command writes: closed with a record of it, or rolled back. */
export class Ledger {
  private readonly sheets: { sheet: Excel.Worksheet; id: string | undefined; name: string; watched?: string }[] = [];
  private readonly workbookNames: string[] = [];
  private broken: readonly BrokenName[] = [];
  private readonly filled: (PlacedBefore & { range: Excel.Range })[] = [];
  private readonly columns: { table: string; name: string }[] = [];
  private readonly resized: (ResizedTable & { sheet: Excel.Worksheet })[] = [];
  private readonly rows: (PlacedRows & { sheet: Excel.Worksheet; where: string })[] = [];
  private readonly changes: { changed: ChangedSheet; sheet: Excel.Worksheet }[] = [];

  constructor(readonly context: Excel.RequestContext) {}

  /** A new sheet of this name, which must be free. */
  async addSheet(name: string, watched?: string): Promise<Excel.Worksheet> {
    const [sheet] = await this.addSheets([{ name, watched }]);
    return sheet!;
  }

  /** New sheets of these names, all in one trip. */
  async addSheets(wanted: readonly { name: string; watched?: string }[]): Promise<Excel.Worksheet[]> {
    const { worksheets } = this.context.workbook;
    const entries: (typeof this.sheets)[number][] = wanted.map(({ name, watched }) => {
      return { sheet: worksheets.add(name).load("id"), id: undefined, name, watched };
    });
    this.sheets.push(...entries);
    try {
      await this.context.sync();
    } catch (error) {
      if ((error as { code?: string }).code === "ItemAlreadyExists") await this.disownTaken(entries);
      throw error;
    }
    for (const entry of entries) entry.id = entry.sheet.id;
    return entries.map(({ sheet }) => sheet);
  }

  /** Somebody else has added a sheet of one of the names since, before which ours were added: it is not ours to take out. */
  private async disownTaken(entries: typeof this.sheets): Promise<void> {
    const known = entries.length > 1 ? await runAsOne(sheetNames) : [];
    const missing = entries.findIndex(({ name }) => !holds(known, name));
    const taken = missing < 0 ? entries.length - 1 : Math.max(0, missing - 1);
    for (const entry of entries.slice(taken)) this.sheets.splice(this.sheets.indexOf(entry), 1);
  }

  /** Names that stand for no cell any more make room for ours of the same name; formulas that use them work again. */
  takeOverNames(broken: readonly BrokenName[]): void {
    this.broken = broken;
    for (const { name } of broken) this.context.workbook.names.getItem(name).delete();
  }

  noteNames(block: Block): void {
    this.workbookNames.push(...block.names.filter((n) => n.scope === "workbook").map((n) => n.name));
  }

  /** Remembers what cells hold that are about to take another value. */
  async noteFilled(sheet: Excel.Worksheet, ranges: readonly Excel.Range[]): Promise<void> {
    this.filled.push(...(await this.remembered(sheet, ranges)));
  }

  private async remembered(sheet: Excel.Worksheet, ranges: readonly Excel.Range[]) {
    for (const range of ranges) range.load("address,formulas,values,numberFormat");
    sheet.load("id");
    await this.context.sync();
    return ranges.map((range) => {
      return { sheetId: sheet.id, address: withoutSheet(range.address), range, before: beforeOf(range) };
    });
  }

  /** Remembers where rows are about to be put into a list: `range` is the cells that they will take. */
  async noteRows(sheet: Excel.Worksheet, range: Excel.Range): Promise<void> {
    for (const { sheetId, address, before } of await this.remembered(sheet, [range])) {
      const displaced = contentOf(before.formulas);
      this.rows.push({ sheetId, address, displaced, where: range.address, sheet });
    }
  }

  /** Changes the layout of a sheet where it stands. */
  async changeSheet(sheet: Excel.Worksheet, asked: AskedChange): Promise<void> {
    const before = askBefore(sheet, asked);
    await this.context.sync();
    const changed = before();
    this.changes.push({ changed, sheet });
    await makeChange(sheet, asked, changed);
  }

  /** Remembers tables of a sheet that are about to be given other rows or columns. */
  async noteResized(sheet: Excel.Worksheet, tables: Parameters<typeof askResized>[1]): Promise<void> {
    const before = askResized(sheet.load("name"), tables);
    await this.context.sync();
    this.resized.push(...before().map((table) => ({ ...table, sheet })));
  }

  noteColumn(table: string, name: string): void {
    this.columns.push({ table, name });
  }

  async close(): Promise<Inserted> {
    const { context, sheets, filled, columns, rows, changes, resized } = this;
    const after = changes.map(({ sheet }) => watchedCells(sheet.load("name")));
    const used = sheets.map(({ sheet, watched }) => watchedCells(sheet, watched));
    for (const { sheet } of sheets) sheet.load("id,name");
    for (const { range } of filled) range.load("formulas");
    // By address, since a range that was there before moves down with what stood in it.
    const added = rows.map(({ sheet, address }) => sheet.getRange(address).load("formulas"));
    const resizedNow = resized.map(({ sheet, is }) => sheet.getRange(addressOf(is)).load("formulas"));
    const bodies = columns.map(({ table, name }) =>
      context.workbook.tables.getItem(table).columns.getItem(name).getDataBodyRange().load("formulas"),
    );
    await context.sync();
    const named = sheets.map(({ sheet }) => `“${sheet.name}”`);
    const places =
      named.length > 0 ? `the new ${named.length > 1 ? "sheets" : "sheet"} ${named.reverse().join(" and ")}` : "";
    return {
      what: `Stage table written to ${places}`,
      sheets: sheets.map(({ sheet, watched }, i) => {
        return { id: sheet.id, name: sheet.name, watched, content: contentOf(used[i]!.formulas) };
      }),
      filled: filled.map(({ range, ...cell }) => ({ ...cell, content: contentOf(range.formulas) })),
      columns: columns.map((column, i) => ({ ...column, content: contentOf(bodies[i]!.formulas) })),
      rows: rows.map(({ sheetId, address, displaced }, i) => {
        return { sheetId, address, displaced, content: contentOf(added[i]!.formulas) };
      }),
      changes: changes.map(({ changed }, i) => ({ ...changed, content: contentOf(after[i]!.formulas) })),
      resized: resized.map(({ sheet: _, ...table }, i) => ({ ...table, content: contentOf(resizedNow[i]!.formulas) })),
      names: this.workbookNames,
      broken: this.broken,
    };
  }

  /** Takes out whatever has been written so far, however far that was. */
  async rollBack(): Promise<void> {
    const { sheets, filled, columns, rows, resized, workbookNames: names, broken } = this;
    const changes = this.changes.map(({ changed }) => changed);
    if ([sheets, filled, columns, rows, resized, changes].every((noted) => noted.length === 0)) return;
    await runAsOne(async (context) => {
      const traces: Traces = { sheets, filled, columns, rows, resized, changes, names, broken };
      takeOut(await stillThere(context, traces), traces);
      await context.sync();
    });
  }

  /** Where something may still be when it could not be taken out. */
  places(): string {
    const { sheets, filled, columns, rows, resized } = this;
    const places = [
      ...sheets.map(({ name }) => `the sheet “${name}”`),
      ...filled.map(({ range }) => range.address),
      ...rows.map(({ where }) => where),
      ...resized.map(({ sheet, name }) => `the table ${name} on “${sheet.name}”`),
      ...columns.map(({ table, name }) => `the column “${name}” of the table ${table}`),
      ...this.changes.map(({ changed }) => `the sheet “${changed.name}”`),
    ];
    return places.length > MOST_PLACES ? `${places.slice(0, MOST_PLACES).join(", ")} and others` : places.join(", ");
  }
}

async function sheetNames(context: Excel.RequestContext): Promise<string[]> {
  const sheets = context.workbook.worksheets.load("items/name");
  await context.sync();
  return sheets.items.map(({ name }) => name);
}

const MOST_PLACES = 5;

/** Runs a command that writes and keeps account in a ledger; when it fails, what it has written so far is taken out again. */
export async function allOrNothing<T>(context: Excel.RequestContext, work: (ledger: Ledger) => Promise<T>): Promise<T> {
  refuseReadOnly(context);
  const ledger = new Ledger(context);
  try {
    return await work(ledger);
  } catch (error) {
    // A second try, since what made the command fail may be over.
    await ledger
      .rollBack()
      .catch(() => ledger.rollBack())
      .catch(async () => {
        throw refuse("halfWritten", { why: await whyOf(error), places: ledger.places() });
      });
    throw error;
  }
}
