/**
 * The math behind the selected cell: its formula, or that of the cell it is spilled from, and what that refers to, read
 * in a few round trips. A formula that is only a reference to another cell is followed there. Nothing in the workbook
 * is changed.
 */
import { later } from "../common/later";
import type { CallMath, MathFunction, Place } from "../share/math/call-math";
import { inWorkbook } from "./in-workbook";
import { SHOWS_MATH, WHY_NOT } from "./math-texts";
import { cellOf, contentsOf, isFound, leadsOf, placeOf, type Referred, referredOf } from "./referred-cells";

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

export interface CellMath extends ShownCell {
  /** The cells that plain references lead to, one from the other; what follows is of the last of them. */
  readonly followed: readonly ShownCell[];
  /** The calls of our functions in the formula, outermost first. */
  readonly calls: readonly CallMath[];
  /** What the formula refers to, where it has none of ours. */
  readonly refers: readonly Referred[];
}

/** As far as plain references are followed. */
const MOST_FOLLOWED = 10;

/** The functions by the names that they have in their files, and whatever else those files export. */
export type Library = Readonly<Record<string, unknown>>;
type LibraryCall = (...args: readonly unknown[]) => unknown[][];

/** Most cells are never asked about, and reading formulas takes a library. */
const parts = () => later(import(/* webpackChunkName: "math" */ "../share/math/call-math"), SHOWS_MATH);

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
    const base = { ...shownCell(start), followed: followed.map(shownCell) };
    if (!formula) return { ...base, calls: [], refers: [] };
    const { cell } = last;
    const from = baseOf(last);
    const references = readable(() => referencesOf(formula)) ?? [];
    const places = references.map((reference) => whereabouts(reference));
    if (!isOurs(formula)) {
      const refers = await referredOf(context, from, places, isOurs);
      return { ...base, calls: [], refers: refers.map((one, i) => ({ given: references[i]!, ...one })) };
    }
    const found = await contentsOf(context, from, places);
    const calls = mathOf(formula, {
      functions,
      call: (id, args) => answerOf(library[id] as LibraryCall, args),
      found: (reference) => found[references.indexOf(reference)] ?? { why: WHY_NOT.notFollowed },
      at: placeOf(from),
      place: placeWithin(last),
      value: cellOf(cell.values[0]![0], cell.valueTypes[0]![0]!),
    });
    return { ...base, calls, refers: [] };
  });
}

/** An error that is all of an answer is thrown. */
function answerOf(call: LibraryCall, args: readonly unknown[]): unknown[][] {
  try {
    return call(...args);
  } catch (error) {
    if (typeof error === "object" && error !== null && "code" in error) return [[error]];
    throw error;
  }
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
