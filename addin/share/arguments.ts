/**
 * What a parameter is, as the spreadsheet's own functions can check it: which numbers or words it may be, and what stands
 * for it when it is left out.
 */
import type { Parameter } from "../../functions/describe";
import type { Bound } from "../../functions/domain";
import { isGritLabel } from "../../functions/scale";
import type { OwnScale } from "./scales";

export type { Parameter } from "../../functions/describe";

/** A function as a translation needs it; the catalogue has more. */
export interface PlainFunction {
  readonly id: string;
  readonly params: readonly Parameter[];
  /** Empty where there is no plain formula. */
  readonly plain: string;
  /** Why there is none. */
  readonly noPlain?: string | undefined;
  /** Whether each answer depends on those before it. */
  readonly isInTurn: boolean;
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

/** A literal that stands for a blank cell, or might: an empty text and a 0 are the same to every function. */
const isEmpty = ({ kind, value }: Given) => value === "" || (kind === "number" && value === 0);

/** Left out, or as good as. */
export const isLeftOut = (given: Given, { blank }: Parameter) =>
  given.kind === "none" || (isEmpty(given) && blank === "left out");

/** One word for the whole call, which decides what the formula is. */
export const isForTheCall = ({ takes }: Parameter) => takes === "call";

/** A list, which the formula takes as a whole. */
export const isList = ({ takes }: Parameter) => takes === "list" || takes === "one or list";

/** A list that may as well be one cell; whichever it is, the function makes one answer of it. */
export const isOneOrMore = ({ takes }: Parameter) => takes === "one or list";

export const isOneCell = ({ takes }: Parameter) => takes === "one";

const isYesNo = ({ kind }: Parameter) => kind === "yes or no";

/** What counts for an argument that is left out, as a formula has it, where that is a number or FALSE. */
export const fallbackOf = ({ fallback }: Parameter): string | undefined =>
  fallback === undefined ? undefined : numberText(fallback);

const numberText = (value: number | boolean) =>
  typeof value === "number" && value >= 1e6
    ? value.toExponential().toUpperCase().replace("+", "")
    : String(value).toUpperCase();

/** Every number is below it, and every text above. */
const ANY: readonly Bound[] = [["<=", 9.99e307]];

const boundsOf = ({ bounds }: Parameter) => (bounds.length > 0 ? bounds : ANY);

function fits(value: number, { bounds, isWhole }: Parameter): boolean {
  if (isWhole && !Number.isInteger(value)) return false;
  return bounds.every(([operator, bound]) => {
    if (operator === ">") return value > bound;
    if (operator === ">=") return value >= bound;
    return operator === "<" ? value < bound : value <= bound;
  });
}

/** Whether a literal may stand here. */
function isAllowed(given: Given, parameter: Parameter): boolean {
  if (isEmpty(given)) return parameter.blank !== "refused";
  const { kind, value } = given;
  const words = parameter.words.flat();
  if (words.length > 0) return kind === "text" && words.includes(wordIn(value));
  if (isYesNo(parameter)) return kind === "logical" || value === 0 || value === 1;
  return kind === "number" && fits(value as number, parameter);
}

/** A word as the functions take it: any letter case, spaces around it. */
export const wordIn = (value: number | string | undefined) => String(value).trim().toLowerCase();

/**
 * The formula behind the check that the function makes of an argument: an error comes out as it is, anything else
 * that may not stand here as #VALUE!. In a range it checks cell by cell, so it has neither AND nor OR.
 */
export function checked(given: Given, parameter: Parameter, formula: string, mayBeLabel = false): string {
  if (given.kind === "none") return parameter.optional ? formula : "#VALUE!";
  if (given.kind === "error") return given.text;
  if (mayBeLabel && given.kind === "text" && isGritLabel(String(given.value))) return formula;
  if (given.kind !== "expression") return isAllowed(given, parameter) ? formula : "#VALUE!";
  const label = mayBeLabel && !given.isNumber ? `+${isLabel(given.text)}` : "";
  return `IF(${test(given, parameter)}${label},${formula},#VALUE!)`;
}

const isLabel = (x: string) => `ISTEXT(${x})*(TRIM(${x})<>"")*(SUBSTITUTE(TRIM(${x}),"0","")="")`;

/**
 * What an argument has to pass. Text compares as above every number, so ISNUMBER stands beside the bounds. LibreOffice
 * takes TRUE and FALSE for numbers and tells them apart in single cells only: with those in a range a copy there counts
 * where the function refuses them.
 */
function test({ text: x, isNumber, isRange }: Given, parameter: Parameter): string {
  const blank = `(${x}="")`;
  const isCell = !isRange && !/^[\w.]*\(/.test(x);
  const isZero = isCell ? `((${x}=0)>ISLOGICAL(${x}))` : `(${x}=0)`;
  const words = parameter.words.flat();
  if (words.length > 0) return [blank, isZero, ...words.map((word) => `(TRIM(${x})="${word}")`)].join("+");
  if (isYesNo(parameter)) return [blank, ...["0", "1", "FALSE", "TRUE"].map((value) => `(${x}=${value})`)].join("+");
  const tests = boundsOf(parameter).map(([operator, bound]) => `(${x}${operator}${numberText(bound)})`);
  if (parameter.isWhole) tests.push(`(${x}=INT(${x}))`);
  const inBounds = tests.join("*");
  const isZeroToo = parameter.blank === "left out" && !fits(0, parameter);
  const inside = isZeroToo ? `((${x}=0)+${inBounds})` : inBounds;
  if (isNumber) return inside;
  const isGood = `${isCell ? `(ISNUMBER(${x})>ISLOGICAL(${x}))` : `ISNUMBER(${x})`}*${inside}`;
  if (parameter.blank === "refused") return isGood;
  // INT of a text is an error, so a blank must not come to it.
  return parameter.isWhole ? `IF(${blank},TRUE,${isGood})` : `${blank}+${isGood}`;
}

/** What a blank cell counts as, and a 0, as a formula has it; nothing where neither may stand here. */
export function emptyAs({ blank }: Parameter, fallback: string | undefined): string | undefined {
  if (blank === "zero") return "0";
  return blank === "left out" ? fallback : undefined;
}
