/** What is known of an expression before it is calculated: whether it is more than one cell, whether it is a number. */
import { MAX_COLS, MAX_ROWS, parseA1Ref } from "@borgar/fx";
import { type Extent, isForTheCall, isList, isOneOrMore, type PlainFunction } from "./arguments";
import { untranslatable } from "./refusals";
import { argumentsIn, closing, isOperator, isSpace, ourId, type Token } from "./tokens";

interface Shape {
  readonly isRange: boolean;
  /** A number or an error in every cell, and nothing else. */
  readonly isNumber: boolean;
}

export interface KnownReferences {
  readonly functions: readonly PlainFunction[];
  /** Whether a name or a structured reference is more than one cell. */
  isRange(reference: string): boolean;
  /** The cells that a name or a structured reference stands for, as A1:B9, where the workbook tells. */
  cellsOf?(reference: string): string | undefined;
}

const words = (list: string): ReadonlySet<string> => new Set(list.split(" "));

/** Spreadsheet functions that make one value of whatever they get. */
const ONE_VALUE = words(
  "SUM SUMPRODUCT COUNT COUNTA COUNTBLANK AVERAGE MAX MIN MEDIAN MODE STDEV STDEVP VAR VARP LARGE SMALL PRODUCT AND OR XOR ROWS COLUMNS NPV IRR SUBTOTAL AGGREGATE GEOMEAN HARMEAN N T TYPE CONCAT TEXTJOIN SINGLE",
);
/** Those that give as many values as this argument of theirs has cells. */
const BY_ARGUMENT: Readonly<Record<string, number>> = {
  LOOKUP: 0,
  VLOOKUP: 0,
  HLOOKUP: 0,
  XLOOKUP: 0,
  MATCH: 0,
  RANK: 0,
  COUNTIF: 1,
  SUMIF: 1,
  AVERAGEIF: 1,
};
/** Those of which only the calculation tells. */
const UNKNOWN = words("OFFSET INDIRECT LET LAMBDA EVALUATE");
/** Those that spill whatever they get. */
const SPILLING = words(
  "FILTER SORT SORTBY UNIQUE SEQUENCE RANDARRAY TRANSPOSE MMULT FREQUENCY TREND LINEST VSTACK HSTACK ANCHORARRAY",
);
const NUMBERS = words(
  "SUM SUMPRODUCT COUNT COUNTA COUNTBLANK AVERAGE MAX MIN MEDIAN STDEV VAR PRODUCT ROWS COLUMNS N ROUND ROUNDUP ROUNDDOWN CEILING FLOOR INT TRUNC ABS SQRT EXP LN LOG LOG10 POWER MOD PI PMT",
);

const REFERENCES = ["range", "range_beam", "range_ternary", "range_named", "structured"];

export function shapeOf(tokens: readonly Token[], known: KnownReferences): Shape {
  let isRange = false;
  let isArithmetic = false;
  let isOther = false;
  let terms = 0;
  let isNumberTerm = false;
  let isPicked = false;
  const term = (shape: Shape) => {
    terms++;
    isNumberTerm = shape.isNumber;
    // @A1:A9 is the one cell of them in this row.
    isRange ||= shape.isRange && !isPicked;
    isPicked = false;
  };
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at]!;
    if (isSpace(token)) continue;
    if (token.type === "func") {
      const end = closing(tokens, at + 1);
      term(shapeOfCall(token, argumentsIn(tokens.slice(at + 2, end)), known));
      at = end;
    } else if (isOperator(token, "(")) {
      const end = closing(tokens, at);
      term(shapeOf(tokens.slice(at + 1, end), known));
      at = end;
    } else if (isOperator(token, "{")) {
      const end = closing(tokens, at);
      const inside = tokens.slice(at, end);
      term({ isRange: inside.some((other) => isOperator(other, ",", ";")), isNumber: false });
      at = end;
    } else if (isOperator(token, "@")) {
      isPicked = true;
    } else if (isOperator(token, ",")) {
      throw untranslatable("severalReferences");
    } else if (isOperator(token, ":", "#")) {
      isRange = true;
    } else if (token.type === "operator") {
      // A plus before text leaves it text; a minus or a percent sign makes a number of it.
      if (!isOperator(token, "+") || terms > 0) isArithmetic ||= isOperator(token, "+", "-", "*", "/", "^", "%");
      isOther ||= isOperator(token, "&", "=", "<", ">", "<=", ">=", "<>");
    } else {
      const isReference = REFERENCES.includes(token.type);
      term({ isRange: isReference && isWide(token.value, known), isNumber: token.type === "number" });
    }
  }
  return { isRange, isNumber: !isOther && (isArithmetic || (terms === 1 && isNumberTerm)) };
}

function shapeOfCall(token: Token, args: readonly Token[][], known: KnownReferences): Shape {
  const id = ourId(token);
  if (id !== undefined) return shapeOfOurs(id, args, known);
  const name = token.value.toUpperCase().replace(/^_XLFN\.(_XLWS\.)?/, "");
  const isNumber = NUMBERS.has(name);
  if (ONE_VALUE.has(name)) return { isRange: false, isNumber };
  if (SPILLING.has(name)) return { isRange: true, isNumber };
  if (UNKNOWN.has(name)) throw untranslatable("unknownSize", { name });
  const wide = (part: readonly Token[] | undefined) => part !== undefined && shapeOf(part, known).isRange;
  if (name === "INDEX") return { isRange: isWholeLine(args) || args.slice(1).some(wide), isNumber };
  const counted = BY_ARGUMENT[name];
  return { isRange: counted === undefined ? args.some(wide) : wide(args[counted]), isNumber };
}

/** INDEX with a row or column of 0, or left out, gives all of it. */
const isWholeLine = ([, ...places]: readonly Token[][]) =>
  places.length === 0 || places.some((place) => place.length === 0 || (place.length === 1 && place[0]!.value === "0"));

/** Ours give a cell for each cell of their ranges; where its plain formula has words in it, the answer may be one. */
function shapeOfOurs(id: string, args: readonly Token[][], known: KnownReferences): Shape {
  const fn = known.functions.find((other) => other.id === id);
  if (!fn) return { isRange: false, isNumber: false };
  const lists = fn.params.filter(isList).length;
  const isRange =
    (lists > 0 && fn.plain.includes("CHOOSE({")) ||
    args.some((part, i) => {
      const parameter = fn.params[i];
      if (parameter && isForTheCall(parameter)) return false;
      const isTaken = parameter && isList(parameter) && (isOneOrMore(parameter) || lists < fn.params.length - 1);
      return !isTaken && shapeOf(part, known).isRange;
    });
  return { isRange, isNumber: !isRange && !fn.plain.includes('"') };
}

/** Rows and columns of A1:B9, A:A or 3:5; nothing where a reference is by name. */
export function extentOf(reference: string): Extent | undefined {
  const found = parseA1Ref(reference);
  if (!found || !("range" in found)) return undefined;
  const { top, left, bottom, right } = found.range;
  return [lines(top, bottom, MAX_ROWS), lines(left, right, MAX_COLS)];
}

const lines = (from: number | null | undefined, to: number | null | undefined, all: number) =>
  typeof from === "number" && typeof to === "number" ? to - from + 1 : all + 1;

/** A1:B2, A:A, one cell on several sheets; a name or a table's column as the workbook says. */
function isWide(reference: string, known: KnownReferences): boolean {
  const extent = extentOf(reference);
  if (!extent) return known.isRange(reference);
  return extent[0] > 1 || extent[1] > 1 || /:.*!/.test(reference);
}
