/**
 * The working of a cell: for each call of ours in its formula, outermost first, what was given, the plain formula with
 * this cell's numbers in it, what comes out, in which units, and where the formula comes from. Without a workbook: what
 * the formula refers to is handed in.
 */
import type { AstExpression, CallExpression } from "@borgar/fx";
import type { System } from "../../../functions/units";
import { fallbackOf, isForTheCall, isList, isOneCell, type Parameter, type PlainFunction } from "../arguments";
import { Untranslatable } from "../plain";
import { ourId } from "../tokens";
import { attempt, calculate, type Part, type Sources } from "./calculate";
import { written } from "./formula-text";
import { partsOf, referencesIn } from "./references";
import { isFraction, unitOf } from "./units";
import {
  type Block,
  type Cell,
  cellAt,
  FIRST,
  isBlank,
  isError,
  isWide,
  NotKnown,
  numberText,
  type Place,
} from "./values";
import { type CellArgument, type Shown, withNumbers, wordOfUnits } from "./with-numbers";

export { whereabouts } from "./references";
export type { Block, Cell, Place } from "./values";

/** A function as a working needs it; the catalogue has more. */
export interface ToldFunction extends PlainFunction {
  readonly summary: string;
  readonly returns: string;
  readonly source: string;
}

/** What a reference has in the workbook; or why that is not known. */
export type Found =
  | {
      readonly block: Block;
      /** As the user knows it; undefined where it is no place but a value with a name. */
      readonly address?: string | undefined;
      /** Where it begins, from 0. */
      readonly from?: Place;
    }
  | { readonly why: string };

export interface Surroundings {
  readonly functions: readonly ToldFunction[];
  /** Calls the function itself, as the spreadsheet does. */
  call(id: string, args: readonly unknown[]): unknown[][];
  found(reference: string): Found;
  /** Where the formula stands, from 0. */
  readonly at: Place;
  /** The cell of what the formula spills. */
  readonly place: Place;
  /** What the cell shows. */
  readonly value: Cell;
}

export interface ToldArgument {
  readonly name: string;
  /** As the formula has it; empty where it is left out. */
  readonly given: string;
  /** What it is in this cell, with its unit. */
  readonly value: string;
}

export type Outcome =
  | { readonly kind: "value"; readonly text: string }
  | { readonly kind: "error"; readonly code: string; readonly message: string }
  | { readonly kind: "unknown"; readonly why: string };

export interface Working {
  readonly id: string;
  readonly summary: string;
  /** "no": it stands in a part of the formula that this cell does not need. */
  readonly used: "yes" | "no" | "perhaps";
  readonly args: readonly ToldArgument[];
  readonly formula?: string | undefined;
  /** Why there is no formula. */
  readonly why?: string | undefined;
  readonly notes: readonly string[];
  readonly outcome: Outcome;
  readonly source: string;
}

/** Each reference in a formula, once. */
export const referencesOf = (formula: string): string[] => referencesIn(partsOf(formula));

/** The one reference that is all of a formula. */
export function onlyReference(formula: string): string | undefined {
  const root = partsOf(formula);
  return root.type === "ReferenceIdentifier" ? root.value : undefined;
}

export const hasOurs = (formula: string): boolean => callsIn(partsOf(formula)).length > 0;

export function workingsOf(formula: string, around: Surroundings): Working[] {
  const root = partsOf(formula);
  const teller = new Teller(around, root);
  attempt(() => calculate(root, teller));
  return callsIn(root).map((call) => teller.workingOf(call));
}

const idOf = ({ callee }: CallExpression) => ourId({ type: "func", value: callee.name });

/** Calls of ours, each before those within it. */
function callsIn(part: Part): CallExpression[] {
  if (!part || !("arguments" in part)) return [];
  const within = part.arguments.flatMap(callsIn);
  return part.type === "CallExpression" && idOf(part) !== undefined ? [part, ...within] : within;
}

/** Spreadsheet functions that answer cell by cell. */
const CELL_BY_CELL = new Set(["IF", "IFERROR", "ROUND", "ROUNDUP", "ROUNDDOWN", "ABS", "INT"]);

/** A call as it was met while the formula was calculated. */
interface Met {
  readonly blocks: readonly (Block | NotKnown)[];
  readonly block: Block | NotKnown;
  readonly isDoubtful: boolean;
}

class Teller implements Sources {
  private readonly met = new Map<CallExpression, Met>();
  /** Calls whose answer lies cell for cell where the formula's does. */
  private readonly aligned = new Set<Part>();
  /** Calls of which an INDEX takes single values that lie where the formula's do. */
  private readonly takenBy = new Map<Part, CallExpression>();
  private doubts = 0;

  constructor(
    private readonly around: Surroundings,
    private readonly root: AstExpression,
  ) {
    this.align(root);
  }

  private align(part: Part): void {
    this.aligned.add(part);
    if (part?.type === "BinaryExpression" || part?.type === "UnaryExpression") {
      for (const other of part.arguments) this.align(other);
    }
    if (part?.type !== "CallExpression") return;
    const fn = this.functionOf(part);
    if (part.callee.name.toUpperCase() === "INDEX") this.takenBy.set(part.arguments[0] ?? null, part);
    part.arguments.forEach((other, i) => {
      const isStretched = fn ? stretches(fn, fn.params[i]) : CELL_BY_CELL.has(part.callee.name.toUpperCase());
      if (isStretched) this.align(other);
    });
  }

  private functionOf(call: CallExpression): ToldFunction | undefined {
    const id = idOf(call);
    return this.around.functions.find((fn) => fn.id === id);
  }

  reference(text: string): Block {
    const found = this.around.found(text);
    if ("why" in found) throw new NotKnown(found.why);
    return found.block;
  }

  picked(text: string): Block {
    const found = this.around.found(text);
    if ("why" in found) throw new NotKnown(found.why);
    const { block, from = FIRST } = found;
    const { row, column } = this.around.at;
    const cell = cellAt(block, { row: row - from.row, column: column - from.column });
    return [[cell ?? { code: "#VALUE!" }]];
  }

  doubtful(look: () => void): void {
    this.doubts++;
    look();
    this.doubts--;
  }

  ours(call: CallExpression): Block | undefined {
    const id = idOf(call);
    if (id === undefined) return undefined;
    const fn = this.functionOf(call);
    if (!fn) throw new NotKnown(`there is no function GRIT.${id}`);
    const blocks = (call.arguments as readonly Part[]).map((part) => attempt(() => calculate(part, this)));
    const block = attempt(() => this.answer(fn, blocks));
    this.met.set(call, { blocks, block, isDoubtful: this.doubts > 0 });
    if (block instanceof NotKnown) throw block;
    return block;
  }

  private answer(fn: ToldFunction, blocks: readonly (Block | NotKnown)[]): Block {
    const unknown = blocks.findIndex((block) => block instanceof NotKnown);
    if (unknown >= 0) {
      throw new NotKnown(`${fn.params[unknown]?.name ?? "an argument"} of GRIT.${fn.id} is not known here`);
    }
    const passed = fn.params.map((parameter, i) => {
      const block = blocks[i] as Block | undefined;
      // The units word comes bare; what is left out comes as null.
      return parameter.name === "units" ? (block ? block[0]![0] : null) : (block ?? null);
    });
    return this.around.call(fn.id, passed) as Cell[][];
  }

  workingOf(call: CallExpression): Working {
    const id = idOf(call)!;
    const fn = this.functionOf(call);
    if (!fn) return unheardOf(id);
    const told = { id, summary: fn.summary, source: fn.source };
    const met = this.met.get(call);
    if (!met) {
      return { ...told, used: "no", args: [], notes: [], outcome: { kind: "unknown", why: "" } };
    }
    const used = met.isDoubtful ? "perhaps" : "yes";
    const place = this.placeOf(call, met.block);
    const args = fn.params.map((parameter, i) =>
      this.argument(fn, parameter, call.arguments[i] ?? null, met.blocks[i], place),
    );
    const system = systemOf(fn, args);
    const cell = met.block instanceof NotKnown ? this.ifAll(call) : cellAt(met.block, place);
    const outcome = outcomeOf(cell, fn, system, met.block);
    const shown = outcome.kind === "error" ? { notes: [] } : formulaOf(fn, args, place, answerOf(met.block, cell));
    const count = met.block instanceof NotKnown ? 1 : met.block.flat().length;
    const which = this.takenPlace(call, met.block) ? placeText(place) : "first";
    const isOneOfMany = count > 1 && !this.aligned.has(call);
    const first = isOneOfMany ? [`It gives ${count} values; this is the working of the ${which}.`] : [];
    return {
      ...told,
      used,
      args: args.map((arg) => toldArgument(fn, arg, args, system)),
      ...shown,
      notes: [...first, ...shown.notes],
      outcome,
    };
  }

  /** The cell's own value, where the call is all there is in it. */
  private ifAll(call: CallExpression): Cell | undefined {
    return call === this.root ? this.around.value : undefined;
  }

  private placeOf(call: CallExpression, block: Block | NotKnown): Place {
    if (block instanceof NotKnown) return FIRST;
    if (!this.aligned.has(call)) return this.takenPlace(call, block) ?? FIRST;
    return cellAt(block, this.around.place) === undefined ? FIRST : this.around.place;
  }

  /** The place of the value that an INDEX around the call takes for this cell. */
  private takenPlace(call: CallExpression, block: Block | NotKnown): Place | undefined {
    const index = this.takenBy.get(call);
    if (!index || block instanceof NotKnown) return undefined;
    const [down, along = 1] = index.arguments.slice(1).map((part) => this.numberHere(part));
    if (down === undefined || along === undefined) return undefined;
    const isRow = block.length === 1 && index.arguments.length === 2;
    const place = isRow ? { row: 0, column: down - 1 } : { row: down - 1, column: along - 1 };
    return block[place.row]?.[place.column] === undefined ? undefined : place;
  }

  /** The whole number that a part without calls of ours has for this cell. */
  private numberHere(part: Part): number | undefined {
    if (callsIn(part).length > 0) return undefined;
    const block = attempt(() => calculate(part, this));
    const cell = block instanceof NotKnown ? undefined : cellAt(block, this.around.place);
    return typeof cell === "number" ? Math.trunc(cell) : undefined;
  }

  private argument(
    fn: ToldFunction,
    parameter: Parameter,
    part: Part,
    found: Block | NotKnown | undefined,
    place: Place,
  ): Argument {
    const block = found instanceof NotKnown ? undefined : found;
    const isWhole = block !== undefined && isWide(block) && !stretches(fn, parameter);
    const reference = part?.type === "ReferenceIdentifier" ? this.around.found(part.value) : undefined;
    return {
      parameter,
      text: bracketed(part),
      block,
      cell: block && cellAt(block, place),
      address: reference && "block" in reference ? reference.address : undefined,
      isWhole,
      why: found instanceof NotKnown ? found.message : undefined,
      given: written(part),
    };
  }
}

interface Argument extends CellArgument {
  readonly given: string;
  readonly isWhole: boolean;
  readonly why: string | undefined;
}

/** Which of several values it is. */
const placeText = ({ row, column }: Place) => `one in row ${row + 1}, column ${column + 1}, which this cell takes`;

const unheardOf = (id: string): Working => ({
  id,
  summary: "",
  used: "yes",
  args: [],
  notes: [],
  outcome: { kind: "error", code: "#NAME?", message: `There is no function GRIT.${id}; check its name.` },
  source: "",
});

/** Takes a range cell by cell. */
const stretches = (fn: ToldFunction, parameter: Parameter | undefined) =>
  parameter !== undefined &&
  !fn.plain.startsWith("none") &&
  !isList(parameter) &&
  !isForTheCall(parameter) &&
  !isOneCell(parameter);

/** An argument's text as a part of a formula. */
function bracketed(part: Part): string {
  const text = written(part);
  return part?.type === "BinaryExpression" || part?.type === "UnaryExpression" ? `(${text})` : text;
}

/** The system of units of a call; undefined where it is the user's own affair, or not known. */
function systemOf({ params }: ToldFunction, args: readonly Argument[]): System | undefined {
  if (!params.some(({ name }) => name === "units")) return undefined;
  const units = args.find(({ parameter }) => parameter.name === "units")!;
  if (units.why !== undefined) return undefined;
  return wordOfUnits(args) === "metric" ? "metric" : "us";
}

const withUnit = (text: string, unit: string) =>
  unit.startsWith("money") ? `${text} (${unit})` : unit ? `${text} ${unit}` : text;

/** A percentage is only for reading; the fraction beside it has all its digits. */
const percent = (value: number) => `${Number((value * 100).toPrecision(6))} %`;

/** A cell as a reader takes it in. */
function shownCell(cell: Cell, text: string, system: System | undefined): string {
  if (isBlank(cell)) return "blank";
  if (isError(cell)) return cell.code;
  if (typeof cell === "string") return `“${cell}”`;
  if (typeof cell === "boolean") return String(cell).toUpperCase();
  return isFraction(text) ? `${numberText(cell)} (${percent(cell)})` : withUnit(numberText(cell), unitOf(text, system));
}

function toldArgument(
  fn: ToldFunction,
  argument: Argument,
  all: readonly Argument[],
  system: System | undefined,
): ToldArgument {
  const { parameter, given, block, cell, isWhole, why, address } = argument;
  const { name, text, optional } = parameter;
  const told = (value: string) => ({ name, given, value });
  if (given === "")
    return told(optional ? `left out: ${fallbackText(fn, parameter, all, system)}` : "left out, and it is needed");
  if (why !== undefined) return told(`not known here: ${why}`);
  if (isWhole && block) {
    const filled = block.flat().filter((one) => !isBlank(one)).length;
    const place = address && address !== given ? `${address}, ` : "";
    return told(`${place}${block.length} × ${block[0]!.length} cells, ${filled} of them filled`);
  }
  if (cell === undefined) return told("outside its range");
  if (isBlank(cell))
    return told(optional ? `blank: ${fallbackText(fn, parameter, all, system)}` : "blank, and it is needed");
  return told(shownCell(cell, text, system));
}

/** What counts for an argument that is left out. */
function fallbackText(
  fn: ToldFunction,
  parameter: Parameter,
  all: readonly Argument[],
  system: System | undefined,
): string {
  const number = fallbackOf(parameter) ?? nestedFallback(fn, parameter, all);
  if (number !== undefined) {
    const value = number === "FALSE" ? false : Number(number);
    return `default ${shownCell(value, parameter.text, system)}`;
  }
  const words =
    /([^;,.]*?) when left out/.exec(parameter.text)?.[1] ??
    /When left out ([^;]*?)(?=; |\.$|$)/.exec(parameter.text)?.[1];
  return words ? `default ${words.trim()}` : "no default";
}

/** A default that hangs on another argument: of {share:{bond:0.5|0.35|0.2}}, the one for this bond. */
function nestedFallback(fn: ToldFunction, { name }: Parameter, all: readonly Argument[]): string | undefined {
  const nested = new RegExp(`\\{${name}:(\\{\\w+:[^{}]*\\})\\}`).exec(fn.plain)?.[1];
  if (!nested) return undefined;
  return attemptText(() => withNumbers({ ...fn, plain: nested }, all, FIRST, [[0]]).formula);
}

function attemptText(work: () => string | undefined): string | undefined {
  const text = attempt(work);
  return text instanceof NotKnown ? undefined : text;
}

function outcomeOf(
  cell: Cell | undefined,
  fn: ToldFunction,
  system: System | undefined,
  block: Block | NotKnown,
): Outcome {
  if (cell === undefined) return { kind: "unknown", why: block instanceof NotKnown ? block.message : "" };
  if (isError(cell)) return { kind: "error", code: cell.code, message: cell.message ?? "" };
  // A table's labels and numbers have no unit of their own.
  if (block instanceof NotKnown || !isWide(block) || !fn.plain.includes("CHOOSE({")) {
    return { kind: "value", text: shownCell(cell, fn.returns, system) };
  }
  return { kind: "value", text: shownCell(cell, "", system) };
}

/** All cells of an answer; where they are not known, the one that the sheet shows. */
const answerOf = (block: Block | NotKnown, cell: Cell | undefined): Block =>
  block instanceof NotKnown ? [[cell ?? null]] : block;

/** The formula, or why there is none. */
function formulaOf(fn: ToldFunction, args: readonly Argument[], place: Place, answer: Block): Shown {
  try {
    return withNumbers(fn, args, place, answer);
  } catch (reason) {
    if (reason instanceof NotKnown || reason instanceof Untranslatable)
      return { why: `${capital(reason.message)}.`, notes: [] };
    throw reason;
  }
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
