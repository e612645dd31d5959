/** A formula's parts as text again, with no more brackets than it needs. */
import type { Part } from "./calculate";

/** Spreadsheet functions that take a list as a whole, and make one value of it. */
export const OF_A_LIST: ReadonlySet<string> = new Set([
  "AVERAGE",
  "COLUMNS",
  "COUNT",
  "MEDIAN",
  "ROWS",
  "STDEV",
  "SUM",
  "SUMPRODUCT",
]);

/** How strongly the operators hold together. */
const STRENGTH: Readonly<Record<string, number>> = {
  "=": 1,
  "<>": 1,
  "<": 1,
  "<=": 1,
  ">": 1,
  ">=": 1,
  "&": 2,
  "+": 3,
  "-": 3,
  "*": 4,
  "/": 4,
  "^": 5,
};
const SIGN = 6;
const PERCENT = 7;
const TERM = 8;

/** What stands for a reference, by itself or within a function of a list. */
export type Referred = (reference: string, isInList: boolean) => string;

const asItIs: Referred = (reference) => reference;

export function written(part: Part, referred: Referred = asItIs, isInList = false): string {
  if (part === null) return "";
  const inner = (other: Part) => written(other, referred, isInList);
  switch (part.type) {
    case "ReferenceIdentifier":
      return referred(part.value, isInList);
    case "Literal":
    case "ErrorLiteral":
      return part.raw;
    case "ArrayExpression":
      return `{${part.elements.map((line) => line.map(inner).join(",")).join(";")}}`;
    case "UnaryExpression": {
      const { operator, arguments: parts } = part;
      const isBehind = operator === "%" || operator === "#";
      const text = bracketed(inner(parts[0]!), strength(parts[0]!) < (isBehind ? PERCENT : SIGN));
      return isBehind ? text + operator : operator + text;
    }
    case "BinaryExpression": {
      const { operator, arguments: parts } = part;
      const own = STRENGTH[operator] ?? TERM;
      const [left, right] = parts.map((other) => strength(other));
      return `${bracketed(inner(parts[0]!), left! < own)}${operator}${bracketed(inner(parts[1]!), right! <= own || right === SIGN)}`;
    }
    case "CallExpression": {
      const { name } = part.callee;
      const isList = isInList || OF_A_LIST.has(name.toUpperCase());
      return `${name}(${part.arguments.map((other) => written(other, referred, isList)).join(",")})`;
    }
    default:
      return "…";
  }
}

const bracketed = (text: string, needed: boolean) => (needed ? `(${text})` : text);

function strength(part: Part): number {
  if (part?.type === "BinaryExpression") return STRENGTH[part.operator] ?? TERM;
  if (part?.type === "UnaryExpression") return part.operator === "%" ? PERCENT : SIGN;
  return part?.type === "Literal" && part.raw.startsWith("-") ? SIGN : TERM;
}
