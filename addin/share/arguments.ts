/**
 * What the doc comments say of a parameter, as the spreadsheet's own functions can check it: which numbers or words it
 * may be, and what stands for it when it is left out.
 */
import type { OwnScale } from "./scales";

/** A function as a translation needs it; the catalogue has more. */
export interface PlainFunction {
  readonly id: string;
  readonly params: readonly Parameter[];
  readonly plain: string;
}

export interface Parameter {
  readonly name: string;
  readonly text: string;
  readonly optional: boolean;
}

export type Extent = readonly [rows: number, columns: number];

export const isLine = ([rows, columns]: Extent) => Math.min(rows, columns) === 1;

/** An argument as the call has it, its own calls of ours already made plain. */
export interface Given {
  /** The expression, in brackets where it would not stand on its own; empty where it is left out. */
  readonly text: string;
  /** The same for where it has been found a number: calls of ours in it need no checks of their own any more. */
  readonly bare?: string;
  readonly kind: "none" | "number" | "text" | "logical" | "error" | "expression";
  /** What a literal stands for. */
  readonly value?: number | string;
  /** More than one cell. */
  readonly isRange: boolean;
  /** How many rows and columns, where the reference itself says so. */
  readonly extent?: Extent | undefined;
  /** A number or an error, and nothing else. */
  readonly isNumber: boolean;
  /** One cell of a range, in a formula for one cell of those that the range would fill. */
  readonly isSpread?: boolean;
  /** What stood here beside the last good answer before; nothing in the first cell. */
  readonly before?: Before | undefined;
  /** The user's own scale that stands here. */
  readonly scale?: OwnScale | undefined;
}

export interface Before {
  /** Whether there is none. */
  readonly none: string;
  readonly value: string;
}

export const LEFT_OUT: Given = { text: "", kind: "none", isRange: false, isNumber: false };

/** Left out, or as good as: an empty text counts as blank. */
export const isLeftOut = ({ kind, value }: Given) => kind === "none" || value === "";

/** One word for the whole call, which decides what the formula is. */
export const isForTheCall = ({ name }: Parameter) => name === "units" || name === "scale";

/** A list of past jobs, which the formula takes as a whole. */
export const isList = ({ text }: Parameter) => text.includes("a range of numbers");

export const isOneCell = ({ text }: Parameter) => text.includes("one cell");

const isYesNo = ({ text }: Parameter) => text.includes("TRUE or FALSE");

/** The words that a parameter may be, each with the other words for the same; none where it is no word. */
export const wordsOf = ({ text }: Parameter): string[][] =>
  [...text.matchAll(/"([a-z]+)"(?: \(or "([a-z]+)"\))?/g)].map((found) => found.slice(1).filter(Boolean));

/** What an argument's text says of leaving it out, where that is a number or FALSE: "1 when left out". */
export function fallbackOf({ text }: Parameter): string | undefined {
  return /(?:^|[ ;,])(-?[\d.]+|FALSE)(?: \([^)]*\))? when left out/.exec(text)?.[1];
}

type Bound = readonly [operator: ">" | ">=" | "<" | "<=", bound: string];

/** The phrases in which the doc comments state a domain; the first that fits tells it. */
const DOMAINS: readonly [phrase: RegExp, bounds: (numbers: string[]) => Bound[]][] = [
  [
    /above (\d+) and below (\d+)/,
    ([from, to]) => [
      [">", from!],
      ["<", to!],
    ],
  ],
  [
    /above (\d+) and at most (\d+)/,
    ([from, to]) => [
      [">", from!],
      ["<=", to!],
    ],
  ],
  [
    /from (\d+) to below (\d+)/,
    ([from, to]) => [
      [">=", from!],
      ["<", to!],
    ],
  ],
  [
    /from (\d+) to (\d+)/,
    ([from, to]) => [
      [">=", from!],
      ["<=", to!],
    ],
  ],
  [
    /a whole number, (\d+) or more/,
    ([from]) => [
      [">=", from!],
      ["<=", "1E9"],
    ],
  ],
  [/(\d+) or more/, ([from]) => [[">=", from!]]],
  [/above (\d+)/, ([from]) => [[">", from!]]],
  [/below (\d+)/, ([to]) => [["<", to!]]],
  [/a number/, () => [["<=", "9.99E307"]]],
];

function boundsOf({ text }: Parameter): Bound[] {
  for (const [phrase, bounds] of DOMAINS) {
    const found = phrase.exec(text);
    if (found) return bounds(found.slice(1));
  }
  throw new Error(`the text of a parameter states no domain: ${text}`);
}

const isWhole = ({ text }: Parameter) => text.includes("a whole number");

function fits(value: number, parameter: Parameter): boolean {
  if (isWhole(parameter) && !Number.isInteger(value)) return false;
  return boundsOf(parameter).every(([operator, bound]) => {
    if (operator === ">") return value > Number(bound);
    if (operator === ">=") return value >= Number(bound);
    return operator === "<" ? value < Number(bound) : value <= Number(bound);
  });
}

/** Whether a literal may stand here. */
function isAllowed({ kind, value }: Given, parameter: Parameter): boolean {
  const words = wordsOf(parameter);
  if (words.length > 0) return kind === "text" && words.flat().includes(wordIn(value));
  if (isYesNo(parameter)) return kind === "logical" || value === 0 || value === 1;
  return kind === "number" && fits(value as number, parameter);
}

/** A word as the functions take it: any letter case, spaces around it. */
export const wordIn = (value: number | string | undefined) => String(value).trim().toLowerCase();

/**
 * The formula behind the check that the function makes of an argument: an error comes out as it is, anything else
 * that may not stand here as #VALUE!. In a range it checks cell by cell, so it has neither AND nor OR.
 */
export function checked(given: Given, parameter: Parameter, formula: string): string {
  if (isLeftOut(given)) return parameter.optional ? formula : "#VALUE!";
  if (given.kind === "error") return given.text;
  if (given.kind !== "expression") return isAllowed(given, parameter) ? formula : "#VALUE!";
  return `IF(${test(given, parameter)},${formula},#VALUE!)`;
}

/**
 * What an argument has to pass. Text compares as above every number, so ISNUMBER stands beside the bounds. LibreOffice
 * takes TRUE and FALSE for numbers and tells them apart in single cells only: with those in a range a copy there counts
 * where the function refuses them.
 */
function test({ text: x, isNumber, isRange }: Given, parameter: Parameter): string {
  const blank = `(${x}="")`;
  const words = wordsOf(parameter).flat();
  if (words.length > 0) return [blank, ...words.map((word) => `(TRIM(${x})="${word}")`)].join("+");
  if (isYesNo(parameter)) return [blank, ...["0", "1", "FALSE", "TRUE"].map((value) => `(${x}=${value})`)].join("+");
  const tests = boundsOf(parameter).map(([operator, bound]) => `(${x}${operator}${bound})`);
  if (isWhole(parameter)) tests.push(`(${x}=INT(${x}))`);
  if (isNumber) return tests.join("*");
  const isCell = !isRange && !/^[\w.]*\(/.test(x);
  const isGood = [isCell ? `(ISNUMBER(${x})>ISLOGICAL(${x}))` : `ISNUMBER(${x})`, ...tests].join("*");
  // INT of a text is an error, so a blank must not come to it.
  if (isWhole(parameter) && parameter.optional) return `IF(${blank},TRUE,${isGood})`;
  return parameter.optional ? `${blank}+${isGood}` : isGood;
}
