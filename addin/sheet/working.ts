/**
 * The working of the selected cell: its formula, or that of the cell it is spilled from, and what that refers to, read
 * in a few round trips. Nothing in the workbook is changed.
 */
import type { Block, Cell, Found, Place, ToldFunction, Working, whereabouts } from "../share/working";
import { inWorkbook } from "./in-workbook";
import { later } from "./later";

/** A function of the library, with the name it has in its file. */
export interface LibraryFunction extends ToldFunction {
  readonly functionName: string;
}

export interface CellWorking {
  readonly address: string;
  /** The cell that has the formula, where this one is filled by its spill. */
  readonly anchor: string | undefined;
  /** Empty where the cell has none. */
  readonly formula: string;
  /** What the cell shows. */
  readonly shown: string;
  /** Of each of our functions in the formula, outermost first; none where it has none of ours. */
  readonly workings: readonly Working[];
}

/** A list that is longer is not read: its working stays in its cells. */
const MOST_CELLS = 20_000;

/** The functions by the names that they have in their files, and whatever else those files export. */
export type Library = Readonly<Record<string, unknown>>;
type LibraryCall = (...args: readonly unknown[]) => unknown[][];

/** Most cells are never asked about, and reading formulas takes a library. */
const parts = () => later(import(/* webpackChunkName: "working" */ "../share/working"), "shows workings");

export async function readWorking(functions: readonly LibraryFunction[], library: Library): Promise<CellWorking> {
  const { hasOurs, referencesOf, whereabouts, workingsOf } = await parts();
  return inWorkbook(async (context) => {
    const { cell, anchor } = await selected(context);
    const from = anchor ?? cell;
    const formula = String(from.formulas[0]![0]);
    const told = {
      address: cell.address,
      anchor: anchor?.address,
      formula: formula.startsWith("=") ? formula : "",
      shown: cell.text[0]![0]!,
    };
    if (!told.formula || !isReadable(() => hasOurs(formula))) return { ...told, workings: [] };
    const references = referencesOf(formula);
    const found = await contentsOf(
      context,
      from,
      references.map((reference) => whereabouts(reference)),
    );
    const workings = workingsOf(formula, {
      functions,
      call: (id, args) => (library[functions.find((fn) => fn.id === id)!.functionName] as LibraryCall)(...args),
      found: (reference) => found[references.indexOf(reference)] ?? { why: "it is not followed here" },
      at: placeOf(from),
      place: { row: cell.rowIndex - from.rowIndex, column: cell.columnIndex - from.columnIndex },
      value: cellOf(cell.values[0]![0], cell.valueTypes[0]![0]!),
    });
    return { ...told, workings };
  });
}

/** A formula that could not be read has none of ours that could be shown. */
function isReadable(look: () => boolean): boolean {
  try {
    return look();
  } catch {
    return false;
  }
}

const CELL = "address,formulas,values,valueTypes,text,rowIndex,columnIndex";

/** The selected cell, and where its formula stands if it is filled by another's. */
async function selected(
  context: Excel.RequestContext,
): Promise<{ cell: Excel.Range; anchor: Excel.Range | undefined }> {
  const cell = context.workbook.getActiveCell().load(CELL);
  // Spreadsheets without spills fill no cell from another.
  const knowsSpills = Office.context.requirements.isSetSupported("ExcelApi", "1.12");
  const parent = knowsSpills ? cell.getSpillParentOrNullObject().load(CELL) : undefined;
  await context.sync();
  const isSpilled = parent && !parent.isNullObject && parent.address !== cell.address;
  return { cell, anchor: isSpilled ? parent : undefined };
}

const placeOf = ({ rowIndex, columnIndex }: Excel.Range): Place => ({ row: rowIndex, column: columnIndex });

function cellOf(value: unknown, type: string): Cell {
  if (type === "Error") return { code: String(value) };
  return type === "Empty" ? null : (value as Cell);
}

type Whereabouts = ReturnType<typeof whereabouts>;

/** A range to read; or what is known of it without. */
type Lead = Excel.Range | Found;

const unknown = (why: string): Found => ({ why });
const isFound = (lead: Lead): lead is Found => "why" in lead || "block" in lead;

/** What each place holds: the places are found first, then measured, then read. */
async function contentsOf(
  context: Excel.RequestContext,
  from: Excel.Range,
  places: readonly Whereabouts[],
): Promise<Found[]> {
  const seekers = places.map((place) => seek(context, from, place));
  await context.sync();
  const leads = seekers.map((follow) => follow());
  const ranges = leads.filter((lead): lead is Excel.Range => !isFound(lead));
  for (const range of ranges) range.load("address,cellCount,rowIndex,columnIndex");
  await context.sync();
  const isSmall = ({ cellCount }: Excel.Range) => cellCount >= 0 && cellCount <= MOST_CELLS;
  for (const range of ranges) if (!range.isNullObject && isSmall(range)) range.load("values,valueTypes");
  await context.sync();
  return leads.map((lead): Found => {
    if (isFound(lead)) return lead;
    if (lead.isNullObject) return unknown("it refers to no cells");
    if (!isSmall(lead)) return unknown(`it has more than ${MOST_CELLS} cells, too many to read here`);
    const block: Block = lead.values.map((line, row) =>
      line.map((value, column) => cellOf(value, lead.valueTypes[row]![column]!)),
    );
    return { block, address: lead.address, from: placeOf(lead) };
  });
}

/** Asks for what may be there; once the answers have come, the function that it gives says what is. */
function seek(context: Excel.RequestContext, from: Excel.Range, place: Whereabouts): () => Lead {
  if (place.kind === "elsewhere") return () => unknown(place.why);
  if (place.kind === "table") return seekInTable(context, from, place);
  const { worksheets, names, tables } = context.workbook;
  const sheet = place.sheet === undefined ? from.worksheet : worksheets.getItemOrNullObject(place.sheet);
  const noSheet = () => unknown(`there is no sheet ${place.sheet}`);
  if (place.kind === "cells") {
    return () => {
      if (place.sheet !== undefined && sheet.isNullObject) return noSheet();
      const range = sheet.getRange(place.cells);
      return place.isSpill ? range.getSpillingToRangeOrNullObject() : range;
    };
  }
  // A sheet's own name comes before the workbook's.
  const own = sheet.names.getItemOrNullObject(place.name).load("formula");
  const shared = names.getItemOrNullObject(place.name).load("formula");
  const table = tables.getItemOrNullObject(place.name);
  return () => {
    if (place.sheet !== undefined && sheet.isNullObject) return noSheet();
    const name = own.isNullObject ? shared : own;
    if (!name.isNullObject) return ofName(name);
    return table.isNullObject ? unknown("there is no such name") : table.getDataBodyRange();
  };
}

/** The cells of a name, or the constant that it stands for. */
function ofName(name: Excel.NamedItem): Lead {
  const constant = constantIn(name.formula);
  return constant === undefined ? name.getRangeOrNullObject() : { block: [[constant]] };
}

/** "=0.2", "=20%", '="metric"', "=TRUE". */
function constantIn(formula: string): Cell | undefined {
  const text = formula.replace(/^=/, "");
  if (/^"(?:[^"]|"")*"$/.test(text)) return text.slice(1, -1).replaceAll('""', '"');
  if (/^(?:TRUE|FALSE)$/i.test(text)) return text.toUpperCase() === "TRUE";
  const [, digits, percent] = /^([-+]?[\d.]+(?:E[-+]?\d+)?)(%?)$/i.exec(text) ?? [];
  const number = digits === undefined ? Number.NaN : Number(digits) / (percent ? 100 : 1);
  return Number.isNaN(number) ? undefined : number;
}

/** The sections of a table that are followed: its rows, this row, its headers, all of it. */
const SECTIONS = ["data", "this row", "headers", "all"];

function seekInTable(
  context: Excel.RequestContext,
  from: Excel.Range,
  { table: name, columns, sections }: Extract<Whereabouts, { kind: "table" }>,
): () => Lead {
  const [section = "data"] = sections;
  if (sections.length > 1 || !SECTIONS.includes(section)) {
    return () => unknown(`the part ${sections.join(", ")} of a table is not followed here`);
  }
  const named = name ? context.workbook.tables.getItemOrNullObject(name).load("name") : undefined;
  const around = named ? undefined : from.getTables(false).load("items/name");
  return () => {
    const table = named ?? around?.items[0];
    if (!table || table.isNullObject) return unknown(name ? `there is no table ${name}` : "the cell is in no table");
    const partOf = (whole: Excel.Table | Excel.TableColumn) => {
      if (section === "all") return whole.getRange();
      return section === "headers" ? whole.getHeaderRowRange() : whole.getDataBodyRange();
    };
    const [first, last = first] = columns.map((column) => table.columns.getItemOrNullObject(column));
    const cells = first && last ? partOf(first).getBoundingRect(partOf(last)) : partOf(table);
    return section === "this row" ? cells.getIntersectionOrNullObject(from.getEntireRow()) : cells;
  };
}
