/**
 * What a formula refers to in the workbook, whatever kind of reference it is: found, measured and then read, in a few
 * round trips for all of them.
 */
import { cellAddress } from "../common/a1";
import type { Block, Cell, Found, Place, whereabouts } from "../share/math/call-math";
import { HOLDS, WHY_NOT } from "./math-texts";

/** Longer lists aren't read, so the math for them stays unknown. */
const MOST_CELLS = 20_000;

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

export const placeOf = ({ rowIndex, columnIndex }: Excel.Range): Place => ({ row: rowIndex, column: columnIndex });

export function cellOf(value: unknown, type: string): Cell {
  if (type === "Error") return { code: String(value) };
  return type === "Empty" ? null : (value as Cell);
}

type Whereabouts = ReturnType<typeof whereabouts>;

/** A range to read; or what is known of it without. */
type Lead = Excel.Range | Found;

const unknown = (why: string): Found => ({ why });
export const isFound = (lead: Lead): lead is Found => "why" in lead || "block" in lead;

/** Cells of the formula's own sheet are there; whatever else it refers to may not be. */
const isSought = (place: Whereabouts) => place.kind !== "cells" || place.sheet !== undefined;

/** The places, found and then measured. */
export async function leadsOf(
  context: Excel.RequestContext,
  from: Excel.Range,
  places: readonly Whereabouts[],
): Promise<Lead[]> {
  const seekers = places.map((place) => seek(context, from, place));
  if (places.some(isSought)) await context.sync();
  const leads = seekers.map((follow) => follow());
  const ranges = leads.filter((lead): lead is Excel.Range => !isFound(lead));
  for (const range of ranges) range.load("address,cellCount,rowIndex,columnIndex");
  await context.sync();
  return leads.map((lead) => {
    if (isFound(lead)) return lead;
    if (lead.isNullObject) return unknown(WHY_NOT.noCells);
    const isSmall = lead.cellCount >= 0 && lead.cellCount <= MOST_CELLS;
    return isSmall ? lead : unknown(WHY_NOT.tooMany(MOST_CELLS));
  });
}

/** What each place holds. */
export async function contentsOf(
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

/** Values of a range that are shown; the rest are counted. */
const MOST_SHOWN = 5;

/** What each place shows, and the first cell in it that has a function of ours. */
export async function referredOf(
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
      const holds = "why" in lead ? HOLDS.notKnown(lead.why) : String(lead.block[0]![0] ?? "");
      return { address: undefined, holds, ours: undefined };
    }
    const { address, text, formulas } = lead;
    return { address, holds: holdsText(text), ours: firstOf(lead, formulas, isOurs) };
  });
}

function holdsText(text: readonly (readonly string[])[]): string {
  const [[first = ""] = []] = text;
  if (text.length === 1 && text[0]!.length === 1) return first || HOLDS.blank;
  const filled = text.flat().filter((one) => one !== "");
  return HOLDS.cells(text.length, text[0]!.length, filled.slice(0, MOST_SHOWN), filled.length > MOST_SHOWN);
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

/** Asks for what may be there; once the answers have come, the function it returns says what is. */
function seek(context: Excel.RequestContext, from: Excel.Range, place: Whereabouts): () => Lead {
  if (place.kind === "elsewhere") return () => unknown(place.why);
  if (place.kind === "table") return seekInTable(context, from, place);
  const { worksheets, names, tables } = context.workbook;
  const sheet = place.sheet === undefined ? from.worksheet : worksheets.getItemOrNullObject(place.sheet);
  const noSheet = () => unknown(WHY_NOT.noSheet(place.sheet ?? ""));
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
    return table.isNullObject ? unknown(WHY_NOT.noName) : table.getDataBodyRange();
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
    return () => unknown(WHY_NOT.tablePart(sections));
  }
  const named = name ? context.workbook.tables.getItemOrNullObject(name).load("name") : undefined;
  const around = named ? undefined : from.getTables(false).load("items/name");
  return () => {
    const table = named ?? around?.items[0];
    if (!table || table.isNullObject) return unknown(name ? WHY_NOT.noTable(name) : WHY_NOT.inNoTable);
    const partOf = (whole: Excel.Table | Excel.TableColumn) => {
      if (section === "all") return whole.getRange();
      return section === "headers" ? whole.getHeaderRowRange() : whole.getDataBodyRange();
    };
    const [first, last = first] = columns.map((column) => table.columns.getItemOrNullObject(column));
    const cells = first && last ? partOf(first).getBoundingRect(partOf(last)) : partOf(table);
    return section === "this row" ? cells.getIntersectionOrNullObject(from.getEntireRow()) : cells;
  };
}
