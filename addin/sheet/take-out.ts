/** What was inserted, found again in the workbook as it is now and taken out: read first, then written in one request. */

import { type Before, enterAll, entriesOf } from "./before";
import { askChange, type ChangedSheet, changeBack, type FoundChange } from "./change-sheet";
import { addressOf, isAsBefore, type ResizedTable, resizeBack } from "./resized";

/** Where something was inserted that has to come out again. */
export interface Traces {
  /** Without an id where the request that was to add the sheet failed: it may have been done all the same. */
  readonly sheets: readonly { readonly id: string | undefined; readonly name: string }[];
  /** Cells that took another value and kept their looks. */
  readonly filled: readonly PlacedBefore[];
  readonly columns: readonly { readonly table: string; readonly name: string }[];
  /** Rows that were put into a list of the user's. */
  readonly rows: readonly PlacedRows[];
  /** Sheets of ours whose layout was changed where it stands. */
  readonly changes?: readonly ChangedSheet[];
  /** Tables of ours that were given other rows or columns. */
  readonly resized?: readonly ResizedTable[];
  readonly names: readonly string[];
  /** Those of them that stood for no cell any more, and do so again. */
  readonly broken?: readonly BrokenName[];
}

export interface BrokenName {
  readonly name: string;
  readonly formula: string;
}

export interface PlacedBefore {
  readonly sheetId: string;
  /** Without the sheet's name, which the user may change. */
  readonly address: string;
  readonly before: Before;
}

/** Rows of a list, for which whatever stood in their place and below it moved down. */
export interface PlacedRows {
  readonly sheetId: string;
  readonly address: string;
  /** What stood in their place before; something else stands there once they are in. */
  readonly displaced: string;
  /** What they hold, once that is known: by it they are found wherever the list is now. */
  readonly content?: string;
}

interface ResizedNow {
  readonly table: Excel.Table;
  /** The cells that it was given. */
  readonly range: Excel.Range;
  /** Those that it had. */
  readonly held: Excel.Range;
  /** Those that it has. */
  readonly now: Excel.Range;
}

/** What is still there of it. */
export interface Found {
  readonly sheets: readonly (Excel.Worksheet | undefined)[];
  readonly filledHomes: readonly (Excel.Worksheet | undefined)[];
  readonly filled: readonly (Excel.Range | undefined)[];
  /** Tables that were given a column, and the columns. */
  readonly grown: readonly (Excel.Table | undefined)[];
  readonly columns: readonly (Excel.TableColumn | undefined)[];
  readonly rowHomes: readonly (Excel.Worksheet | undefined)[];
  /** Undefined where there are none to take out. */
  readonly rows: readonly (Excel.Range | undefined)[];
  readonly resized: readonly (ResizedNow | undefined)[];
  readonly resizedHomes: readonly (Excel.Worksheet | undefined)[];
  readonly names: readonly Excel.NamedItem[];
  readonly changes: readonly {
    readonly changed: ChangedSheet;
    readonly sheet: Excel.Worksheet | undefined;
    readonly now: FoundChange | undefined;
  }[];
}

const contentOf = (formulas: any[][]) => JSON.stringify(formulas);

const there = <T extends { isNullObject: boolean }>(item: T | undefined): T | undefined =>
  item?.isNullObject ? undefined : item;

const differ = (a: any[][], b: any[][]) => JSON.stringify(a) !== JSON.stringify(b);

const CELLS = "address,formulas,values,numberFormat,rowHidden,rowIndex,columnIndex,rowCount,columnCount";

/** Only reads. */
export async function stillThere(context: Excel.RequestContext, traces: Traces): Promise<Found> {
  const { worksheets, tables, names } = context.workbook;
  const added = traces.sheets.map(({ id, name }) => {
    const sheet = worksheets.getItemOrNullObject(id ?? name).load("id,name,visibility");
    return { sheet, used: id === undefined ? sheet.getUsedRangeOrNullObject().load("address") : undefined };
  });
  const homeOf = ({ sheetId }: { readonly sheetId: string }) => worksheets.getItemOrNullObject(sheetId).load("id,name");
  const filledHomes = traces.filled.map(homeOf);
  const rowHomes = traces.rows.map(homeOf);
  const grown = traces.columns.map(({ table }) => tables.getItemOrNullObject(table).load("name"));
  const changes = (traces.changes ?? []).map((changed) => ({ changed, sheet: homeOf(changed) }));
  const resized = (traces.resized ?? []).map((one) => ({
    one,
    home: homeOf(one),
    table: tables.getItemOrNullObject(one.table).load("id"),
  }));
  const named = traces.names.map((name) => {
    const item = names.getItemOrNullObject(name).load("name,formula");
    return { item, range: item.getRangeOrNullObject().load("rowIndex,columnIndex,worksheet/id") };
  });
  await context.sync();

  const sheets = added.map(({ sheet, used }) => (used && !used.isNullObject ? undefined : there(sheet)));
  const filled = traces.filled.map(({ address }, i) => there(filledHomes[i])?.getRange(address).load(CELLS));
  const rows = traces.rows.map((placed, i) => askRows(there(rowHomes[i]), placed));
  const tablesNow = resized.map(({ one, home, table }) => {
    const [sheet, found] = [there(home), there(table)];
    if (!sheet || !found) return undefined;
    const range = sheet.getRange(addressOf(one.is)).load("address,formulas,rowHidden");
    const held = sheet.getRange(addressOf(one.was)).load("formulas,values,numberFormat");
    return { table: found, range, held, now: found.getRange().load("address") };
  });
  const columns = traces.columns.map(({ name }, i) => there(grown[i])?.columns.getItemOrNullObject(name).load("name"));
  const asked = changes.map(({ changed, sheet }) => {
    const home = there(sheet);
    return { changed, sheet: home, now: home && askChange(home, changed) };
  });
  await context.sync();

  const ids = new Set(sheets.map((sheet) => sheet?.id));
  const isOurs = ({ item, range: target }: (typeof named)[number]) => {
    if (item.isNullObject) return false;
    if (target.isNullObject) return item.formula.includes("#REF!");
    return ids.has(target.worksheet.id);
  };
  return {
    sheets,
    filledHomes: filledHomes.map(there),
    filled,
    grown: grown.map(there),
    columns: columns.map(there),
    rowHomes: rowHomes.map(there),
    rows: rows.map((find) => find()),
    resized: tablesNow,
    resizedHomes: resized.map(({ home }) => there(home)),
    names: named.filter(isOurs).map(({ item }) => item),
    changes: asked.map(({ now, ...rest }) => ({ ...rest, now: now?.() })),
  };
}

/** Asks for the cells above and below the rows; once the answer has come, the function it returns finds them among those. */
function askRows(home: Excel.Worksheet | undefined, { address, displaced, content }: PlacedRows) {
  const range = home?.getRange(address).load("address,formulas,rowIndex,columnIndex,rowCount,columnCount,rowHidden");
  const column = range?.getEntireColumn().getUsedRangeOrNullObject(true).load("formulas,rowIndex");
  return (): Excel.Range | undefined => {
    if (!home || !range || !column) return undefined;
    const now = contentOf(range.formulas);
    if (content === undefined) return now === displaced ? undefined : range;
    if (now === content || column.isNullObject) return range;
    const count = range.rowCount;
    const at = column.formulas.findIndex((_, r) => contentOf(column.formulas.slice(r, r + count)) === content);
    return at < 0 ? range : range.getOffsetRange(column.rowIndex + at - range.rowIndex, 0).load("address,formulas");
  };
}

/** Asks for all of it at once, so that the request that follows does everything or nothing. */
export function takeOut(found: Found, traces: Traces): void {
  for (const name of found.names) name.delete();
  const takenOver = traces.broken?.filter(({ name }) => found.names.some((item) => item.name === name)) ?? [];
  for (const { name, formula } of takenOver) found.names[0]!.context.workbook.names.add(name, formula);
  for (const column of found.columns) column?.delete();
  for (const range of found.rows) range?.delete("Up");
  for (const { changed, sheet, now } of found.changes) if (sheet && now?.isWritten) changeBack(sheet, changed, now);
  found.resized.forEach((now, i) => {
    const resized = traces.resized![i]!;
    if (now && !isAsBefore(now, resized)) resizeBack(found.resizedHomes[i]!, now.table, resized);
  });
  found.filled.forEach((range, i) => {
    if (range) putBack(range, traces.filled[i]!.before);
  });
  for (const sheet of found.sheets) {
    // Excel deletes no sheet that is very hidden.
    if (sheet?.visibility === "VeryHidden") sheet.visibility = "Hidden";
    sheet?.delete();
  }
}

/** A cell that was not written to, perhaps because it is protected, is left alone. */
function putBack(range: Excel.Range, before: Before): void {
  if (differ(entriesOf(range), before.formulas)) enterAll(range, before);
  else if (differ(range.numberFormat, before.numberFormat)) range.numberFormat = before.numberFormat;
}
