/**
 * The working of the selected cell: its formula, or that of the cell it is spilled from, and what that refers to, read
 * in a few round trips. A formula that is only a reference to another cell is followed there. Nothing in the workbook
 * is changed.
 */

import { cellAddress } from "../common/a1";
import { later } from "../common/later";
import type { Block, CallMath, Cell, Found, MathFunction, Place, whereabouts } from "../share/math/call-math";
import { inWorkbook } from "./in-workbook";

/** A cell with what it shows. */
export interface ShownCell {
  readonly address: string;
  /** The cell that has the formula, where this one is filled by its spill. */
  readonly anchor: string | undefined;
  /** Where in that spill it is, from 0. */
  readonly place: Place;
  /** Empty where the cell has none. */
  readonly formula: string;
  readonly shown: string;
}

/** What a formula without our functions refers to. */
export interface Referred {
  /** As the formula has it. */
  readonly given: string;
  readonly address: string | undefined;
  /** What is there, in words. */
  readonly holds: string;
  /** The first cell there that has a function of ours. */
  readonly ours: string | undefined;
}

export interface CellMath extends ShownCell {
  /** The cells that plain references lead to, one from the other; what follows is of the last of them. */
  readonly followed: readonly ShownCell[];
  /** Of each of our functions in the formula, outermost first; none where it has none of ours. */
  readonly workings: readonly CallMath[];
  /** What the formula refers to, where it has none of ours. */
  readonly refers: readonly Referred[];
}

/** As far as plain references are followed. */
const MOST_FOLLOWED = 10;

/** A list that is longer is not read: its working stays in its cells. */
const MOST_CELLS = 20_000;

/** The functions by the names that they have in their files, and whatever else those files export. */
export type Library = Readonly<Record<string, unknown>>;
type LibraryCall = (...args: readonly unknown[]) => unknown[][];

/** Most cells are never asked about, and reading formulas takes a library. */
const parts = () => later(import(/* webpackChunkName: "math" */ "../share/math/call-math"), "shows workings");

export async function readMath(functions: readonly MathFunction[], library: Library): Promise<CellMath> {
  const { hasOurs, onlyReference, referencesOf, whereabouts, mathOf } = await parts();
  const isOurs = (formula: string) => readable(() => hasOurs(formula)) ?? false;
  return inWorkbook(async (context) => {
    const start = await standing(context, context.workbook.getActiveCell());
    let last = start;
    const followed: Standing[] = [];
    while (formulaOf(last) && !isOurs(formulaOf(last)) && followed.length < MOST_FOLLOWED) {
      const reference = readable(() => onlyReference(formulaOf(last)));
      const [lead] = reference ? await leadsOf(context, baseOf(last), [whereabouts(reference)]) : [];
      if (!lead || isFound(lead) || lead.isNullObject || lead.cellCount !== 1) break;
      const next = await standing(context, lead);
      const isKnown = [start, ...followed].some(({ cell }) => cell.address === next.cell.address);
      if (!formulaOf(next) || isKnown) break;
      followed.push(next);
      last = next;
    }
    const formula = formulaOf(last);
    const told = { ...shownCell(start), followed: followed.map(shownCell) };
    if (!formula) return { ...told, workings: [], refers: [] };
    const { cell } = last;
    const from = baseOf(last);
    const references = readable(() => referencesOf(formula)) ?? [];
    const places = references.map((reference) => whereabouts(reference));
    if (!isOurs(formula)) {
      const refers = await referredOf(context, from, places, isOurs);
      return { ...told, workings: [], refers: refers.map((one, i) => ({ given: references[i]!, ...one })) };
    }
    const found = await contentsOf(context, from, places);
    const workings = mathOf(formula, {
      functions,
      call: (id, args) => (library[id] as LibraryCall)(...args),
      found: (reference) => found[references.indexOf(reference)] ?? { why: "it is not followed here" },
      at: placeOf(from),
      place: placeWithin(last),
      value: cellOf(cell.values[0]![0], cell.valueTypes[0]![0]!),
    });
    return { ...told, workings, refers: [] };
  });
}

/** A formula that could not be read has nothing that could be shown. */
function readable<T>(look: () => T): T | undefined {
  try {
    return look();
  } catch {
    return undefined;
  }
}

const CELL = "address,formulas,values,valueTypes,text,rowIndex,columnIndex";

/** A cell, and where its formula stands if it is filled by another's. */
interface Standing {
  readonly cell: Excel.Range;
  readonly anchor: Excel.Range | undefined;
}

async function standing(context: Excel.RequestContext, range: Excel.Range): Promise<Standing> {
  const cell = range.load(CELL);
  // Spreadsheets without spills fill no cell from another.
  const knowsSpills = Office.context.requirements.isSetSupported("ExcelApi", "1.12");
  const parent = knowsSpills ? cell.getSpillParentOrNullObject().load(CELL) : undefined;
  await context.sync();
  const isSpilled = parent && !parent.isNullObject && parent.address !== cell.address;
  return { cell, anchor: isSpilled ? parent : undefined };
}

/** The cell that has the formula. */
const baseOf = ({ cell, anchor }: Standing) => anchor ?? cell;

function formulaOf(one: Standing): string {
  const formula = String(baseOf(one).formulas[0]![0]);
  return formula.startsWith("=") ? formula : "";
}

function placeWithin(one: Standing): Place {
  const { cell } = one;
  const { rowIndex, columnIndex } = baseOf(one);
  return { row: cell.rowIndex - rowIndex, column: cell.columnIndex - columnIndex };
}

const shownCell = (one: Standing): ShownCell => ({
  address: one.cell.address,
  anchor: one.anchor?.address,
  place: placeWithin(one),
  formula: formulaOf(one),
  shown: one.cell.text[0]![0]!,
});

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

/** The places, found and then measured. */
async function leadsOf(
  context: Excel.RequestContext,
  from: Excel.Range,
  places: readonly Whereabouts[],
): Promise<Lead[]> {
  const seekers = places.map((place) => seek(context, from, place));
  await context.sync();
  const leads = seekers.map((follow) => follow());
  const ranges = leads.filter((lead): lead is Excel.Range => !isFound(lead));
  for (const range of ranges) range.load("address,cellCount,rowIndex,columnIndex");
  await context.sync();
  return leads.map((lead) => {
    if (isFound(lead)) return lead;
    if (lead.isNullObject) return unknown("it refers to no cells");
    const isSmall = lead.cellCount >= 0 && lead.cellCount <= MOST_CELLS;
    return isSmall ? lead : unknown(`it has more than ${MOST_CELLS} cells, too many to read here`);
  });
}

/** What each place holds. */
async function contentsOf(
  context: Excel.RequestContext,
  from: Excel.Range,
  places: readonly Whereabouts[],
): Promise<Found[]> {
  const leads = await leadsOf(context, from, places);
  for (const lead of leads) if (!isFound(lead)) lead.load("values,valueTypes");
  await context.sync();
  return leads.map((lead): Found => {
    if (isFound(lead)) return lead;
    const block: Block = lead.values.map((line, row) =>
      line.map((value, column) => cellOf(value, lead.valueTypes[row]![column]!)),
    );
    return { block, address: lead.address, from: placeOf(lead) };
  });
}

/** Values of a range that are told; the rest is counted. */
const MOST_TOLD = 5;

/** What each place shows, and the first cell in it that has a function of ours. */
async function referredOf(
  context: Excel.RequestContext,
  from: Excel.Range,
  places: readonly Whereabouts[],
  isOurs: (formula: string) => boolean,
): Promise<Omit<Referred, "given">[]> {
  const leads = await leadsOf(context, from, places);
  for (const lead of leads) if (!isFound(lead)) lead.load("text,formulas");
  await context.sync();
  return leads.map((lead) => {
    if (isFound(lead)) {
      const holds = "why" in lead ? `not known here: ${lead.why}` : String(lead.block[0]![0] ?? "");
      return { address: undefined, holds, ours: undefined };
    }
    const { address, text, formulas } = lead;
    return { address, holds: holdsText(text), ours: firstOf(lead, formulas, isOurs) };
  });
}

function holdsText(text: readonly (readonly string[])[]): string {
  const [[first = ""] = []] = text;
  if (text.length === 1 && text[0]!.length === 1) return first === "" ? "blank" : first;
  const filled = text.flat().filter((one) => one !== "");
  const more = filled.length > MOST_TOLD ? ", …" : "";
  const values = filled.length === 0 ? "all blank" : filled.slice(0, MOST_TOLD).join(", ") + more;
  return `${text.length} × ${text[0]!.length} cells: ${values}`;
}

/** The address of the first cell with a formula of ours. */
function firstOf(
  { address, rowIndex, columnIndex }: Excel.Range,
  formulas: readonly (readonly unknown[])[],
  isOurs: (formula: string) => boolean,
): string | undefined {
  const sheet = address.slice(0, address.lastIndexOf("!") + 1);
  for (const [row, line] of formulas.entries()) {
    const column = line.findIndex((cell) => /^=.*GRIT[._]/is.test(String(cell)) && isOurs(String(cell)));
    if (column >= 0) return `${sheet}${cellAddress(rowIndex + row, columnIndex + column)}`;
  }
  return undefined;
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
