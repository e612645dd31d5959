/**
 * How a custom function is declared: what it gives and what each argument is, as data, and the arithmetic. The check at the
 * boundary, the spreadsheet's metadata, the documentation, the plain formulas, the tests and the benchmarks all read this.
 */
import { answer, badValue, finite, isHostError, type Result } from "./answer";
import {
  type Argument,
  argument,
  isFilled,
  numberOrNoneReader,
  numberOrTextReader,
  numberReader,
  type Reader,
  single,
  type Words,
  wordReader,
  YES_NO,
} from "./cell";
import type { BoundedDomain } from "./domain";
import { each } from "./each";
import { type Grit, isGritLabel, SCALE_NAMES, type Scale, scaleOf } from "./scale";
import { SYSTEMS, type System, systemOf, type Unit } from "./units";

/** What a function gives, in words and in its unit. */
export interface Given {
  readonly label: string;
  readonly unit?: Unit;
  /** A fraction of one, of which people speak in percent. */
  readonly isShare?: boolean;
  readonly note?: string;
}

/**
 * How many cells an argument takes: a range cell by cell, never more than one cell, a range as a whole, one cell or a range
 * as a whole; or what counts for the whole call (units, a scale).
 */
export type Takes = "each" | "one" | "list" | "one or list" | "call";

export type Kind = "number" | "word" | "yes or no" | "units" | "scale" | "range";

/** An argument as data. `T` is what the arithmetic gets of it. */
export interface Declared<T = any, W extends Takes = Takes> {
  readonly name: string;
  readonly label: string;
  readonly kind: Kind;
  readonly takes: W;
  readonly optional: boolean;
  readonly unit?: Unit;
  readonly isShare?: boolean;
  /** A grit number, or one of a list of them. */
  readonly isGrit?: boolean;
  readonly domain?: BoundedDomain;
  readonly vocabulary?: Words<string>;
  /** What counts when it is left out, where that is a number or FALSE. */
  readonly fallback?: number | false;
  /** What counts when it is left out, in words. */
  readonly omitted?: string;
  /** What all numbers of a list may come to together. */
  readonly most?: number;
  /** What an argument of kind "range" may be, in words. */
  readonly shape?: string;
  readonly note?: string;
  /** How a cell of it is read. */
  readonly reader?: Reader<T> | undefined;
  /** How all of it is read, where it is taken as a whole. */
  readonly readAll?: ((given: unknown) => T) | undefined;
}

interface Options {
  readonly note?: string;
}

/** A default, and words for it where the number does not say enough. */
interface NumberOptions extends Options {
  readonly omitted?: number;
  readonly meaning?: string;
  /** A blank cell is neither the default nor 0: a 0 typed there could be meant, and would arrive alike. */
  readonly refusesBlank?: true;
}

const numeric = (
  name: string,
  label: string,
  domain: BoundedDomain,
  { omitted: fallback, meaning, refusesBlank, note }: NumberOptions,
): Declared<number, "each"> => ({
  name,
  label,
  kind: "number",
  takes: "each",
  domain,
  optional: fallback !== undefined,
  ...(fallback !== undefined && { fallback, omitted: meaning ? `${fallback} (${meaning})` : `${fallback}` }),
  ...(note && { note }),
  reader: numberReader(domain, fallback, refusesBlank),
});

/** A number with a unit. */
export const amount = (
  name: string,
  label: string,
  unit: Unit,
  domain: BoundedDomain,
  options: NumberOptions = {},
) => ({
  ...numeric(name, label, domain, options),
  unit,
});

/** A number without a unit. */
export const count = (name: string, label: string, domain: BoundedDomain, options: NumberOptions = {}) =>
  numeric(name, label, domain, options);

/** A fraction of one, as a cell formatted in percent holds it. */
export const share = (name: string, label: string, domain: BoundedDomain, options: NumberOptions = {}) => ({
  ...numeric(name, label, domain, options),
  isShare: true,
});

/** A grit number on the function's scale, or a label that the maker's own scale has. */
export const gritNumber = (
  name: string,
  label: string,
  domain: BoundedDomain,
  options: NumberOptions = {},
): Declared<Grit, "each"> => ({
  ...numeric(name, label, domain, options),
  readAll: undefined,
  isGrit: true,
  reader: numberOrTextReader(domain, isGritLabel),
});

/** A number that may be left out, where no one number stands for that: undefined to the arithmetic. */
export const orNone = (declared: Declared<number, "each">, omitted: string): Declared<number | undefined, "each"> => ({
  ...declared,
  readAll: undefined,
  optional: true,
  omitted,
  reader: numberOrNoneReader(declared.domain!),
});

/** A word that may be left out: undefined to the arithmetic. */
export const oneOf = <T extends string>(
  name: string,
  label: string,
  vocabulary: Words<T>,
  { omitted, note }: Options & { omitted: string },
): Declared<T | undefined, "each"> => ({
  name,
  label,
  kind: "word",
  takes: "each",
  vocabulary,
  optional: true,
  omitted,
  ...(note && { note }),
  reader: wordReader(vocabulary),
});

/** TRUE or FALSE; FALSE when left out. */
export const yesNo = (name: string, label: string): Declared<boolean, "each"> => ({
  name,
  label,
  kind: "yes or no",
  takes: "each",
  optional: true,
  fallback: false,
  omitted: "FALSE",
  reader: YES_NO,
});

/** The same argument, which never takes more than one cell. */
export const oneCell = <T>(declared: Declared<T, "each">): Declared<T, "one"> => ({ ...declared, takes: "one" });

/** Cells as the host hands them over. */
export type Raw = any[][] | null | undefined;

const AS_IT_COMES = { reader: undefined, readAll: undefined };

/** A range of such numbers, of which the arithmetic gets the cells as they come. */
export const list = (declared: Declared<number, "each">): Declared<Raw, "list"> => ({
  ...declared,
  ...AS_IT_COMES,
  takes: "list",
});

/** One such number or a range of them, in all at most so much. */
export const oneOrList = (
  declared: Declared<number, "each">,
  { most }: { most?: number } = {},
): Declared<Raw, "one or list"> => ({
  ...declared,
  ...AS_IT_COMES,
  takes: "one or list",
  ...(most !== undefined && { most }),
});

/** A range that the function reads in its own way. */
export const rangeOf = <T>(
  name: string,
  label: string,
  shape: string,
  readAll: (given: unknown) => T,
  { omitted, note }: Options & { omitted?: string } = {},
): Declared<T, "list"> => ({
  name,
  label,
  kind: "range",
  takes: "list",
  shape,
  optional: omitted !== undefined,
  ...(omitted !== undefined && { omitted }),
  ...(note && { note }),
  readAll,
});

/** The system of units that the call is in. */
export const UNITS: Declared<System, "call"> = {
  name: "units",
  label: "Unit system",
  kind: "units",
  takes: "call",
  vocabulary: SYSTEMS,
  optional: true,
  omitted: "us",
  readAll: systemOf,
};

/** The scale that grit numbers are on. */
export const SCALE: Declared<Scale, "call"> = {
  name: "scale",
  label: "Scale of the grit numbers",
  kind: "scale",
  takes: "call",
  vocabulary: SCALE_NAMES,
  optional: true,
  omitted: "mesh",
  readAll: scaleOf,
};

/** What a function is: callable as the host calls it, with its declaration on it. */
export interface CustomFunction {
  (...given: any[]): any[][];
  readonly gives: Given;
  readonly args: readonly Declared[];
  /** Each answer may depend on those before it, so its first argument is one line that it walks down. */
  readonly isInTurn: boolean;
  readonly body: (...call: any[]) => any;
}

type Of<A extends readonly Declared[], W extends Takes> = A extends readonly [
  infer F,
  ...infer R extends readonly Declared[],
]
  ? F extends Declared<infer T, infer Own>
    ? Own extends W
      ? [T, ...Of<R, W>]
      : Of<R, W>
    : never
  : [];

/** The arithmetic: what counts for the whole call comes first, once; then what each cell has, if anything does. */
type Body<A extends readonly Declared[]> = (
  ...call: Of<A, Exclude<Takes, "each">>
) => Of<A, "each"> extends [] ? Result | any[][] : (...cells: Of<A, "each">) => Result;

/** What an argument that is not taken cell by cell is in this call. */
function wholeOf({ name, readAll, reader, takes }: Declared, given: unknown): unknown {
  if (readAll) return readAll(given);
  return takes === "one" ? single(argument(name, given, reader!)) : given;
}

/** Cells as an answer: a block as it is, one value as one cell. */
const asBlock = (result: Result | any[][]): any[][] => (Array.isArray(result) ? result : [[finite(result)]]);

function declared(
  gives: Given,
  args: readonly Declared[],
  body: (...call: any[]) => any,
  beside?: (cells: Argument<any>[]) => void,
): CustomFunction {
  const indices = args.map((_, i) => i);
  const perCell = indices.filter((i) => args[i]!.takes === "each");
  const perCall = indices.filter((i) => args[i]!.takes !== "each");
  // Units and scale decide what every other argument means, so they are looked at before.
  const isFirst = (i: number) => args[i]!.takes === "call";
  const inOrder = [...perCall.filter(isFirst), ...perCall.filter((i) => !isFirst(i))];
  const slots = inOrder.map((i) => perCall.indexOf(i));

  const call = (...given: unknown[]) =>
    asGiven(() => {
      const whole: unknown[] = new Array(perCall.length);
      for (let k = 0; k < inOrder.length; k++) whole[slots[k]!] = wholeOf(args[inOrder[k]!]!, given[inOrder[k]!]);
      if (perCell.length === 0) return asBlock(body(...whole));
      const formula = body(...whole);
      const cells: Argument<any>[] = new Array(perCell.length);
      for (let k = 0; k < perCell.length; k++) {
        const { name, reader } = args[perCell[k]!]!;
        cells[k] = argument(name, given[perCell[k]!], reader!);
      }
      beside?.(cells);
      return each(cells as any, formula);
    });
  return Object.assign(call, { gives, args, body, isInTurn: beside !== undefined });
}

/** An error that is all of an answer is thrown: hosts tell its reason whatever the code, which of a returned one they don't. */
function asGiven(compute: () => any[][]): any[][] {
  const out = answer(compute);
  if (out.length === 1 && out[0]!.length === 1 && isHostError(out[0]![0])) throw out[0]![0];
  return out;
}

/** A custom function; its id is the name it is exported by. */
export const define = <const A extends readonly Declared[]>(gives: Given, args: A, body: Body<A>): CustomFunction =>
  declared(gives, args, body);

/** One whose answers follow from one another, down the one column or row of its first argument. */
export const defineInTurn = <const A extends readonly Declared[]>(
  gives: Given,
  args: A,
  body: Body<A>,
): CustomFunction => declared(gives, args, body, alongTheFirst);

/** Holds all arguments against the first, a line; what stands beside a blank in it counts as blank too. */
function alongTheFirst(args: Argument<any>[]): void {
  const [{ name, cells: line }, ...others] = args as [Argument<any>, ...Argument<any>[]];
  if (line.length > 1 && line[0]!.length > 1) {
    throw badValue(`${name} must be one column or one row; got ${line.length} × ${line[0]!.length} cells`);
  }
  others.forEach((other, k) => {
    args[k + 1] = { ...other, cells: besideLine(name, line, other) };
  });
}

function besideLine(name: string, line: unknown[][], other: Argument<any>): any[][] {
  const { cells } = other;
  if (cells.length === 1 && cells[0]!.length === 1) return cells;
  if (cells.length !== line.length || cells[0]!.length !== line[0]!.length) {
    const shape = (block: unknown[][]) => `${block.length} × ${block[0]!.length} cells`;
    throw badValue(`${other.name} must have the shape of ${name}, ${shape(line)}; got ${shape(cells)}`);
  }
  if (line.every((cells) => cells.every(isFilled))) return cells;
  return cells.map((cells, r) => cells.map((cell, c) => (isFilled(line[r]![c]) ? cell : null)));
}
