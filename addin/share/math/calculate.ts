/**
 * Calculates a formula in the pane: operators, and those spreadsheet functions that our plain formulas and the sheets that
 * the add-in writes are made of. Whatever else stands in a formula is not known here, and said so.
 */
import type { AstExpression, CallExpression } from "@borgar/fx";
import { notKnown } from "./texts";
import { type Block, type Cell, type CellError, cellAt, FIRST, isBlank, isError, mapped, NotKnown } from "./values";

/** A part of a formula; what is left out between two commas is null. */
export type Part = AstExpression | null;

/** What a formula refers to, and what is done with calls of ours. */
export interface Sources {
  reference(text: string): Block;
  /** The one cell of a reference that stands in this row or column. */
  picked(text: string): Block;
  /** Undefined where the call is none of ours. */
  ours(call: CallExpression): Block | undefined;
  /** Wraps the look at parts of which nobody knows whether they count. */
  doubtful(look: () => void): void;
}

const one = (cell: Cell): Block => [[cell]];
const VALUE: CellError = { code: "#VALUE!" };
const DIVISION: CellError = { code: "#DIV/0!" };
const NUMBER: CellError = { code: "#NUM!" };
const NOT_FOUND: CellError = { code: "#N/A" };

export function calculate(part: Part, sources: Sources): Block {
  if (part === null) return one(null);
  switch (part.type) {
    case "Literal":
      return one(part.value);
    case "ErrorLiteral":
      return one({ code: part.value });
    case "ReferenceIdentifier":
      return sources.reference(part.value);
    case "ArrayExpression":
      return part.elements.map((line) => line.map((element) => cellAt(calculate(element, sources), FIRST)!));
    case "UnaryExpression":
      return unary(part.operator, part.arguments[0]!, sources);
    case "BinaryExpression":
      return binary(part.operator, part.arguments, sources);
    case "CallExpression":
      return sources.ours(part) ?? called(part, sources);
    default:
      throw notKnown("lambda");
  }
}

/** Every part, so that calls of ours in all of them are seen, though one may not be known. */
function all(parts: readonly Part[], sources: Sources): Block[] {
  const found = parts.map((part) => attempt(() => calculate(part, sources)));
  const unknown = found.find((block) => block instanceof NotKnown);
  if (unknown) throw unknown;
  return found as Block[];
}

/** A result, or why it is not known. */
export function attempt<T>(work: () => T): T | NotKnown {
  try {
    return work();
  } catch (reason) {
    if (reason instanceof NotKnown) return reason;
    throw reason;
  }
}

function unary(operator: string, part: AstExpression, sources: Sources): Block {
  if (operator === "#" || operator === "@") {
    if (part.type !== "ReferenceIdentifier") throw notKnown("besideCalculation", { operator });
    return operator === "#" ? sources.reference(`${part.value}#`) : sources.picked(part.value);
  }
  const [block] = all([part], sources);
  if (operator === "+") return block!;
  return mapped([block!], (cell) => numeric((x) => (operator === "%" ? x / 100 : -x), cell));
}

const ARITHMETIC: Readonly<Record<string, (x: number, y: number) => number>> = {
  "+": (x, y) => x + y,
  "-": (x, y) => x - y,
  "*": (x, y) => x * y,
  "/": (x, y) => x / y,
  "^": (x, y) => x ** y,
};

const COMPARISON: Readonly<Record<string, (order: number) => boolean>> = {
  "=": (order) => order === 0,
  "<>": (order) => order !== 0,
  "<": (order) => order < 0,
  "<=": (order) => order <= 0,
  ">": (order) => order > 0,
  ">=": (order) => order >= 0,
};

function binary(operator: string, parts: readonly Part[], sources: Sources): Block {
  const arithmetic = ARITHMETIC[operator];
  const comparison = COMPARISON[operator];
  if (!arithmetic && !comparison && operator !== "&") throw notKnown("operator", { operator });
  const blocks = all(parts, sources);
  if (arithmetic) {
    return mapped(blocks, (x, y) => (operator === "/" && toNumber(y!) === 0 ? DIVISION : numeric(arithmetic, x!, y!)));
  }
  if (comparison) return mapped(blocks, (x, y) => comparison(order(x!, y!)));
  return mapped(blocks, (x, y) => textOf(x!) + textOf(y!));
}

/** As an operator takes a cell: a blank is 0, TRUE is 1, text with a number in it is that number. */
function toNumber(cell: Cell): number | undefined {
  if (cell === null) return 0;
  if (typeof cell === "boolean") return Number(cell);
  if (typeof cell === "number") return cell;
  const read = typeof cell === "string" && cell.trim() !== "" ? Number(cell) : Number.NaN;
  return Number.isNaN(read) ? undefined : read;
}

function numeric(operation: (...x: number[]) => number, ...cells: Cell[]): Cell {
  const numbers = cells.map(toNumber);
  if (numbers.includes(undefined)) return VALUE;
  const result = operation(...(numbers as number[]));
  return Number.isFinite(result) ? result : NUMBER;
}

const textOf = (cell: Cell): string => (typeof cell === "boolean" ? String(cell).toUpperCase() : String(cell ?? ""));

const KINDS = ["number", "string", "boolean"];

/** Numbers come before text, text before TRUE and FALSE; a blank is what it stands beside. */
function order(x: Cell, y: Cell): number {
  const a = x ?? blankBeside(y);
  const b = y ?? blankBeside(x);
  if (typeof a !== typeof b) return KINDS.indexOf(typeof a) - KINDS.indexOf(typeof b);
  if (typeof a === "string") return a.toLowerCase().localeCompare((b as string).toLowerCase());
  return Number(a) - Number(b);
}

const blankBeside = (cell: Cell) => (typeof cell === "string" ? "" : typeof cell === "boolean" ? false : 0);

/** As a condition takes a cell. */
function isTrue(cell: Cell): boolean | CellError {
  if (isError(cell)) return cell;
  const number = toNumber(cell);
  if (typeof cell === "string") return /^true$/i.test(cell) || (/^false$/i.test(cell) ? false : VALUE);
  return number === undefined ? VALUE : number !== 0;
}

const cellsOf = (blocks: readonly Block[]): Cell[] => blocks.flatMap((block) => block.flat());

/** Numbers of ranges; text and blanks in them are passed over, an error comes out. */
function numbersIn(blocks: readonly Block[]): number[] {
  return cellsOf(blocks).filter((cell) => typeof cell === "number");
}

function aggregated(operation: (numbers: number[]) => number): (...blocks: Block[]) => Block {
  return (...blocks) => {
    const error = cellsOf(blocks).find(isError);
    if (error) return one(error);
    const result = operation(numbersIn(blocks));
    return one(Number.isFinite(result) ? result : NUMBER);
  };
}

const sum = (numbers: readonly number[]) => numbers.reduce((total, x) => total + x, 0);
const mean = (numbers: readonly number[]) => sum(numbers) / numbers.length;

function median(numbers: readonly number[]): number {
  const sorted = [...numbers].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

function deviation(numbers: readonly number[]): number {
  const middle = mean(numbers);
  return Math.sqrt(sum(numbers.map((x) => (x - middle) ** 2)) / (numbers.length - 1));
}

const cellByCell =
  (operation: (...x: number[]) => number) =>
  (...blocks: Block[]): Block =>
    mapped(blocks, (...cells) => numeric(operation, ...cells));

/** To so many digits, away from zero where a half lies between, as spreadsheets round. */
const rounding =
  (round: (x: number) => number) =>
  (x: number, digits = 0) => {
    const shifted = Number(`${Math.abs(x)}e${Math.trunc(digits)}`);
    // 1e-7 already has an exponent of its own.
    const scaled = Number.isNaN(shifted) ? Math.abs(x) * 10 ** Math.trunc(digits) : shifted;
    return (Math.sign(x) * round(scaled)) / 10 ** Math.trunc(digits);
  };

function logical(decide: (truths: boolean[]) => boolean): (...blocks: Block[]) => Block {
  return (...blocks) => {
    const truths = cellsOf(blocks)
      .filter((cell) => cell !== null)
      .map(isTrue);
    const error = truths.find(isError);
    return one(error ?? decide(truths as boolean[]));
  };
}

/** Position in a list, from 1: the first that is equal, or the last number not above. */
function matched(wanted: Block, list: Block, mode: Block = one(1)): Block {
  const cells = list.flat();
  const type = cellAt(mode, FIRST);
  return mapped([wanted], (cell) => {
    const same = (other: Cell) => !isError(other) && !isBlank(other) && order(other, cell) === 0;
    const isUpTo = (other: Cell) => typeof other === "number" && typeof cell === "number" && other <= cell;
    const at = type === 0 ? cells.findIndex(same) : type === 1 ? cells.findLastIndex(isUpTo) : undefined;
    if (at === undefined) throw notKnown("matchDown");
    return at < 0 ? NOT_FOUND : at + 1;
  });
}

function indexed(block: Block, row: Block, column: Block = one(1)): Block {
  // In a single row the one number counts along it.
  const isRow = block.length === 1 && block[0]!.length > 1;
  return mapped([row, column], (r, c) => {
    const [down, along] = isRow && c === 1 ? [1, r] : [r, c];
    if (typeof down !== "number" || typeof along !== "number" || down < 1 || along < 1) {
      throw notKnown("indexOfAll");
    }
    return block[Math.trunc(down) - 1]?.[Math.trunc(along) - 1] ?? null;
  });
}

function lookedUp(wanted: Block, list: Block, results = list): Block {
  const at = matched(wanted, list);
  const cells = results.flat();
  return mapped([at], (position) => cells[(position as number) - 1] ?? null);
}

const SHEET_FUNCTIONS: Readonly<Record<string, (...blocks: Block[]) => Block>> = {
  ABS: cellByCell(Math.abs),
  AND: logical((truths) => truths.every(Boolean)),
  AVERAGE: aggregated(mean),
  COLUMNS: (block) => one(block!.length > 0 ? block![0]!.length : 0),
  COSH: cellByCell(Math.cosh),
  COUNT: (...blocks) => one(numbersIn(blocks).length),
  EXP: cellByCell(Math.exp),
  INDEX: (block, row, column) => indexed(block!, row ?? one(null), column),
  INT: cellByCell(Math.floor),
  ISNUMBER: (block) => block!.map((line) => line.map((cell) => typeof cell === "number")),
  LN: cellByCell(Math.log),
  LOOKUP: (wanted, list, results) => lookedUp(wanted!, list!, results),
  MATCH: (wanted, list, mode) => matched(wanted!, list!, mode),
  MAX: aggregated((numbers) => (numbers.length > 0 ? Math.max(...numbers) : 0)),
  MEDIAN: aggregated(median),
  MIN: aggregated((numbers) => (numbers.length > 0 ? Math.min(...numbers) : 0)),
  N: (block) => one(plainNumber(cellAt(block!, FIRST)!)),
  NOT: (block) => mapped([block!], (cell) => not(isTrue(cell))),
  OR: logical((truths) => truths.some(Boolean)),
  PI: () => one(Math.PI),
  ROUND: cellByCell(rounding(Math.round)),
  ROUNDDOWN: cellByCell(rounding(Math.floor)),
  ROUNDUP: cellByCell(rounding(Math.ceil)),
  ROWS: (block) => one(block!.length),
  SIGN: cellByCell(Math.sign),
  SINH: cellByCell(Math.sinh),
  SQRT: cellByCell(Math.sqrt),
  STDEV: aggregated(deviation),
  SUM: aggregated(sum),
  TRIM: (block) => mapped([block!], (cell) => textOf(cell).trim().replace(/ +/g, " ")),
};

const plainNumber = (cell: Cell): Cell => (isError(cell) || typeof cell === "number" ? cell : Number(cell === true));
const not = (truth: boolean | CellError): Cell => (isError(truth) ? truth : !truth);

function called(call: CallExpression, sources: Sources): Block {
  const name = call.callee.name.toUpperCase().replace(/^_XLFN\.(_XLWS\.)?/, "");
  if (name === "IF") return chosen(call.arguments, sources);
  if (name === "IFERROR") return withFallback(call.arguments, sources);
  const known = SHEET_FUNCTIONS[name];
  const blocks = all(call.arguments, sources);
  if (!known) throw notKnown("sheetFunction", { name });
  return known(...blocks);
}

/** Only the branch that counts is calculated, as the spreadsheet does; of both where the condition is a range. */
function chosen([condition, then = null, otherwise]: readonly Part[], sources: Sources): Block {
  const tests = attempt(() => calculate(condition!, sources));
  const elsewhere = () => (otherwise === undefined ? one(false) : calculate(otherwise, sources));
  if (tests instanceof NotKnown) {
    sources.doubtful(() => {
      attempt(() => calculate(then, sources));
      attempt(elsewhere);
    });
    throw tests;
  }
  if (tests.length === 1 && tests[0]!.length === 1) {
    const test = isTrue(tests[0]![0]!);
    if (isError(test)) return one(test);
    return test ? calculate(then, sources) : elsewhere();
  }
  const branches = [calculate(then, sources), elsewhere()] as const;
  return tests.map((line, row) =>
    line.map((cell, column) => {
      const test = isTrue(cell);
      return isError(test) ? test : (cellAt(branches[test ? 0 : 1], { row, column }) ?? NOT_FOUND);
    }),
  );
}

function withFallback([part, instead = null]: readonly Part[], sources: Sources): Block {
  const block = calculate(part!, sources);
  if (!block.flat().some(isError)) return block;
  const others = calculate(instead, sources);
  return block.map((line, row) =>
    line.map((cell, column) => (isError(cell) ? (cellAt(others, { row, column }) ?? NOT_FOUND) : cell)),
  );
}
