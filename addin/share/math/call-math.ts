/**
 * The math behind a cell: for each call of ours in its formula, outermost first, what was given, the plain formula with
 * this cell's numbers in it, what comes out, in which units, and where the formula comes from. Without a workbook: what
 * the formula refers to is handed in.
 */
import type { AstExpression, CallExpression } from "@borgar/fx";
import type { Parameter } from "../arguments";
import { Untranslatable } from "../refusals";
import { ourId } from "../tokens";
import {
  type Argument,
  argumentMath,
  type MathArgument,
  type MathFunction,
  type Outcome,
  outcomeOf,
  stretches,
  systemOf,
} from "./argument-math";
import { attempt, calculate, type Part, type Sources } from "./calculate";
import { written } from "./formula-text";
import { partsOf, referencesIn } from "./references";
import { NOTE, noSuchFunction, notKnown } from "./texts";
import { type Block, type Cell, cellAt, FIRST, isWide, NotKnown, type Place } from "./values";
import { type Shown, withNumbers } from "./with-numbers";

export type { MathFunction, Outcome } from "./argument-math";
export { whereabouts } from "./references";
export type { Block, Cell, Place } from "./values";

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
  readonly functions: readonly MathFunction[];
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

export interface CallMath {
  readonly id: string;
  readonly summary: string;
  /** "no": it stands in a part of the formula that this cell does not need. */
  readonly used: "yes" | "no" | "perhaps";
  readonly args: readonly MathArgument[];
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

export function mathOf(formula: string, around: Surroundings): CallMath[] {
  const root = partsOf(formula);
  const reader = new MathReader(around, root);
  attempt(() => calculate(root, reader));
  return callsIn(root).map((call) => reader.callMath(call));
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

class MathReader implements Sources {
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

  private functionOf(call: CallExpression): MathFunction | undefined {
    const id = idOf(call);
    return this.around.functions.find((fn) => fn.id === id);
  }

  reference(text: string): Block {
    const found = this.around.found(text);
    if ("why" in found) throw notKnown("reference", { why: found.why });
    return found.block;
  }

  picked(text: string): Block {
    const found = this.around.found(text);
    if ("why" in found) throw notKnown("reference", { why: found.why });
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
    if (!fn) throw notKnown("noFunction", { id });
    const blocks = (call.arguments as readonly Part[]).map((part) => attempt(() => calculate(part, this)));
    const block = attempt(() => this.answer(fn, call, blocks));
    this.met.set(call, { blocks, block, isDoubtful: this.doubts > 0 });
    if (block instanceof NotKnown) throw block;
    return block;
  }

  private answer(fn: MathFunction, call: CallExpression, blocks: readonly (Block | NotKnown)[]): Block {
    const unknown = blocks.findIndex((block) => block instanceof NotKnown);
    if (unknown >= 0) {
      throw notKnown("argument", { id: fn.id, name: fn.params[unknown]?.name });
    }
    const passed = fn.params.map((parameter, i) => {
      // What is left out comes as null, which no blank cell does; the units word comes bare.
      const block = call.arguments[i] ? (blocks[i] as Block) : null;
      return parameter.kind === "units" && block ? block[0]![0] : block;
    });
    return this.around.call(fn.id, passed) as Cell[][];
  }

  callMath(call: CallExpression): CallMath {
    const id = idOf(call)!;
    const fn = this.functionOf(call);
    if (!fn) return unknownCall(id);
    const about = { id, summary: fn.summary, source: fn.source };
    const met = this.met.get(call);
    if (!met) {
      return { ...about, used: "no", args: [], notes: [], outcome: { kind: "unknown", why: "" } };
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
    const isOneOfMany = count > 1 && !this.aligned.has(call);
    const isTaken = this.takenPlace(call, met.block) !== undefined;
    const which = isTaken ? NOTE.oneOf(count, place.row + 1, place.column + 1) : NOTE.firstOf(count);
    const first = isOneOfMany ? [which] : [];
    return {
      ...about,
      used,
      args: args.map((arg) => argumentMath(fn, arg, args, system)),
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
    fn: MathFunction,
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

const unknownCall = (id: string): CallMath => ({
  id,
  summary: "",
  used: "yes",
  args: [],
  notes: [],
  outcome: { kind: "error", code: "#NAME?", message: noSuchFunction(id) },
  source: "",
});

/** An argument's text as a part of a formula. */
function bracketed(part: Part): string {
  const text = written(part);
  return part?.type === "BinaryExpression" || part?.type === "UnaryExpression" ? `(${text})` : text;
}

/** All cells of an answer; where they are not known, the one that the sheet shows. */
const answerOf = (block: Block | NotKnown, cell: Cell | undefined): Block =>
  block instanceof NotKnown ? [[cell ?? null]] : block;

/** The formula, or why there is none. */
function formulaOf(fn: MathFunction, args: readonly Argument[], place: Place, answer: Block): Shown {
  try {
    return withNumbers(fn, args, place, answer);
  } catch (reason) {
    if (reason instanceof NotKnown) return { why: `${capital(reason.message)}.`, notes: [] };
    if (reason instanceof Untranslatable) return { why: reason.message, notes: [] };
    throw reason;
  }
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
