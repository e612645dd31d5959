/**
 * The boundary between a cell and a formula: blanks, ranges and broadcasting, words, and errors.
 * A topic's file declares its arguments (declare.ts) and writes only the arithmetic; everything a spreadsheet can do to an
 * argument is dealt with here, once.
 */

/** What `CustomFunctions.Error` looks like; the host owns the class, so it is only described here. */
interface HostError {
  code: string;
  message?: string;
}

declare const CustomFunctions: { Error: new (code: string, message?: string) => HostError };

/**
 * Thrown by arithmetic that has no answer; `answer` and `each` turn it into an error in the cell. Not an Error: what those
 * record of where they were made takes longer than all the rest of a bad cell, and a column may hold thousands.
 */
export class CellFailure {
  constructor(
    readonly code: string,
    readonly message: string,
  ) {}
}

/** `#VALUE!`: an argument of the wrong kind, out of its domain, or missing. */
export const badValue = (message: string) => new CellFailure("#VALUE!", message);
/** `#N/A`: a look-up found nothing. */
export const notFound = (message: string) => new CellFailure("#N/A", message);
/** `#NUM!`: each argument is fine, yet there is no finite answer. */
export const noAnswer = (message: string) => new CellFailure("#NUM!", message);

/** One cell as the host passes it: number, text, TRUE/FALSE, blank (null, "" or 0, by host) or an error. */
type Cell = unknown;

/** The numbers something may be, with the words its messages use. `least` and `most` are themselves allowed. */
export interface Domain {
  readonly words: string;
  readonly least: number;
  readonly most: number;
  readonly whole?: boolean;
}

/** One end of a domain. */
export type Bound = readonly [operator: ">" | ">=" | "<" | "<=", value: number];

/** A domain with its ends as a reader would state them. */
export interface BoundedDomain extends Domain {
  readonly bounds: readonly Bound[];
}

// The nearest double inside an open bound stands for the bound itself, so that one comparison serves both kinds.
const justAbove = (x: number) => (x === 0 ? Number.MIN_VALUE : x * (1 + Number.EPSILON));
const justBelow = (x: number) => x * (1 - Number.EPSILON / 2);

/** A domain by its words and its ends; without an end it goes on as far as numbers do. */
export function domain(words: string, bounds: readonly Bound[], whole = false): BoundedDomain {
  let least = -Number.MAX_VALUE;
  let most = Number.MAX_VALUE;
  for (const [operator, value] of bounds) {
    if (operator === ">" || operator === ">=") least = operator === ">" ? justAbove(value) : value;
    else most = operator === "<" ? justBelow(value) : value;
  }
  return { words, bounds, least, most, ...(whole && { whole }) };
}

export const ABOVE_0 = domain("above 0", [[">", 0]]);
export const FROM_0 = domain("0 or more", [[">=", 0]]);
export const ABOVE_1 = domain("above 1", [[">", 1]]);
export const ANY_NUMBER = domain("a number", []);
export const BELOW_1 = domain("from 0 to below 1 (20% is 0.2)", [
  [">=", 0],
  ["<", 1],
]);
export const ANY_BELOW_1 = domain("below 1 (20% is 0.2)", [["<", 1]]);
export const SHARE = domain("above 0 and at most 1 (80% is 0.8)", [
  [">", 0],
  ["<=", 1],
]);
export const WHOLE_FROM_1 = domain("a whole number, 1 or more", [[">=", 1]], true);

/**
 * What a blank cell is to an argument. One host passes a blank cell as null, another as "" or 0, so a 0 is always the same
 * as a blank: the number 0, or as if the argument were left out, or an error.
 */
export type Blank = "zero" | "left out" | "refused";

/** How one cell of an argument becomes a value. */
export interface Reader<T> {
  readonly optional: boolean;
  /** What counts when the argument is left out. */
  readonly fallback: T;
  readonly blank: Blank;
  /** Set for plain numbers, whose check is done in line because ranges of them must be fast. */
  readonly domain?: Domain | undefined;
  read(name: string, cell: Cell): T;
}

/** An argument of one call: its cells, and how one of them becomes a value. */
export interface Argument<T> extends Reader<T> {
  readonly name: string;
  readonly cells: Cell[][];
}

/** Blank for certain; a blank cell may also arrive as 0. */
export const isBlank = (cell: Cell) => cell === null || cell === undefined || cell === "";

/** Neither blank nor 0, since a host may pass a blank cell as 0. */
export const isFilled = (cell: Cell) => !isBlank(cell) && cell !== 0;

/**
 * An argument as a block of cells, whatever the host made of it: what is left out or has no cells is one undefined cell,
 * which no blank cell is, and a value without a block is one cell.
 */
export function block(name: string, cells: unknown): Cell[][] {
  if (!Array.isArray(cells)) return [[cells ?? undefined]];
  const width = Array.isArray(cells[0]) ? cells[0].length : 0;
  for (let r = 0; r < cells.length; r++) {
    const line: unknown = cells[r];
    if (!Array.isArray(line) || line.length !== width) throw badValue(`${name} must be one cell or a range of cells`);
  }
  return width === 0 ? [[undefined]] : cells;
}

/** A reason that came in with an argument is told up to here. */
const LONGEST_MESSAGE = 500;

/** Text as a message may hold it: hosts hand messages on in UTF-8, which has no half of a surrogate pair. */
const forMessage = (text: string, most: number) =>
  (text.length > most ? `${text.slice(0, most)}…` : text).replace(/\p{Surrogate}/gu, "\ufffd");

/** A cell as a message shows it. */
export function shown(cell: Cell): string {
  if (isBlank(cell)) return "a blank";
  if (typeof cell === "string") return `the text "${forMessage(cell, 40)}"`;
  if (typeof cell === "boolean") return cell ? "TRUE" : "FALSE";
  return typeof cell === "number" ? String(cell) : "something that is neither number nor text";
}

/** What the error of a cell looks like: #N/A, #DIV/0!, #NAME?, #GETTING_DATA. */
const ERROR_CODE = /^#[A-Z][A-Z0-9_/]{1,20}[!?]?$/;

/** The errors that a host shows when a function gives them; any other comes out as #VALUE!. */
const SHOWN_CODES = ["#N/A", "#DIV/0!", "#VALUE!", "#NUM!", "#NULL!"];

/** An error cell of the input comes out as that same error where it can, with its own reason where it has one. */
function passError(name: string, cell: Cell): void {
  if (typeof cell !== "object" || cell === null) return;
  const { code, basicValue, message } = cell as { code?: unknown; basicValue?: unknown; message?: unknown };
  const found = [code, basicValue].find((x): x is string => typeof x === "string" && ERROR_CODE.test(x));
  if (!found) return;
  const reason = typeof message === "string" && message !== "" ? message : `${name} is the error ${found}`;
  throw new CellFailure(SHOWN_CODES.includes(found) ? found : "#VALUE!", forMessage(reason, LONGEST_MESSAGE));
}

const mustBe = (name: string, allowed: string, cell: Cell) =>
  badValue(`${name} must be ${allowed}; got ${shown(cell)}`);

const includes0 = ({ least, most }: Domain) => least <= 0 && most >= 0;

/** Reads numbers. Without a fallback they are required. */
export function numberReader(domain: Domain, fallback?: number, refusesBlank = false): Reader<number> {
  const required: Blank = includes0(domain) ? "zero" : "refused";
  const blank = fallback === undefined ? required : refusesBlank ? "refused" : "left out";
  if (includes0(domain) && (blank === "refused" || (fallback ?? 0) !== 0)) {
    throw new Error("a 0 and a blank cell arrive alike");
  }
  return {
    optional: fallback !== undefined,
    fallback: fallback as number,
    blank,
    domain,
    read(name, cell) {
      const fits = typeof cell === "number" && cell >= domain.least && cell <= domain.most;
      if (!fits || (domain.whole && !Number.isInteger(cell))) throw mustBe(name, domain.words, cell);
      // Adding 0 makes a -0 a plain 0, which no cell shows otherwise.
      return cell + 0;
    },
  };
}

/** Reads numbers, and texts that this takes. */
export const numberOrTextReader = (domain: Domain, isText: (text: string) => boolean): Reader<number | string> => {
  const numbers = numberReader(domain);
  return {
    ...numbers,
    read: (name, cell) => (typeof cell === "string" && isText(cell) ? cell.trim() : numbers.read(name, cell)),
  };
};

/** Reads numbers that may be left out, where leaving them out means something no number can say. */
export const numberOrNoneReader = (domain: Domain): Reader<number | undefined> => ({
  ...numberReader(domain),
  optional: true,
  fallback: undefined,
  blank: "left out",
  domain: undefined,
});

/** An argument with its cells, whatever the host made of them. */
export const argument = <T>(name: string, cells: unknown, reader: Reader<T>): Argument<T> => ({
  name,
  cells: block(name, cells),
  optional: reader.optional,
  fallback: reader.fallback,
  blank: reader.blank,
  domain: reader.domain,
  read: reader.read,
});

/** One cell under a name of its own, such as one of a table's. */
export const readAs = <T>(name: string, cell: Cell, reader: Reader<T>): T =>
  readCell({ name, cells: [], ...reader }, cell);

/** The words an argument may be: what is typed (in lower case), and what it stands for. */
export interface Words<T extends string> {
  readonly allowed: string;
  /** Each meaning's words, the usual one first. */
  readonly alike: readonly (readonly string[])[];
  parse(cell: Cell): T | undefined;
}

export function words<T extends string>(allowed: string, meanings: Readonly<Record<string, T>>): Words<T> {
  const seen = new Map<string, T | undefined>();
  const alike = [...new Set(Object.values(meanings))].map((meaning) =>
    Object.keys(meanings).filter((typed) => meanings[typed] === meaning),
  );
  return {
    allowed,
    alike,
    parse(cell) {
      // No word is long, and a long text takes long to compare.
      if (typeof cell !== "string" || cell.length > 100) return undefined;
      if (seen.has(cell)) return seen.get(cell);
      const typed = cell.trim().toLowerCase();
      const meaning = Object.hasOwn(meanings, typed) ? meanings[typed] : undefined;
      if (seen.size < 1000) seen.set(cell, meaning);
      return meaning;
    },
  };
}

/** Reads words; a blank one is undefined. */
export const wordReader = <T extends string>(vocabulary: Words<T>): Reader<T | undefined> => ({
  optional: true,
  fallback: undefined,
  blank: "left out",
  read(name, cell) {
    const meaning = vocabulary.parse(cell);
    if (meaning === undefined) throw mustBe(name, vocabulary.allowed, cell);
    return meaning;
  },
});

/** Reads TRUE or FALSE; blank is FALSE. */
export const YES_NO: Reader<boolean> = {
  optional: true,
  fallback: false,
  blank: "left out",
  read(name, cell) {
    if (cell === true || cell === 1) return true;
    if (cell === false) return false;
    throw mustBe(name, "TRUE or FALSE", cell);
  },
};

/** One word for the whole call (units, a scale): it does not broadcast. Blank or 0 gives the fallback. */
export function oneWord<T extends string>(name: string, cell: Cell, vocabulary: Words<T>, fallback: T): T {
  if (!isFilled(cell)) return fallback;
  passError(name, cell);
  const meaning = vocabulary.parse(cell);
  if (meaning === undefined) throw mustBe(name, vocabulary.allowed, cell);
  return meaning;
}

/** The value of one cell of an argument; what a blank is, or a 0, the argument says. */
function readCell<T>(argument: Argument<T>, cell: Cell): T {
  if (cell === undefined && argument.optional) return argument.fallback;
  if (!isFilled(cell)) {
    if (cell === undefined || argument.blank === "refused") throw missing(argument, cell);
    return emptyValue(argument);
  }
  passError(argument.name, cell);
  return argument.read(argument.name, cell);
}

/** What a blank or a 0 is, where it may be. */
const emptyValue = <T>({ blank, fallback }: Reader<T>): T => (blank === "zero" ? (0 as T) : fallback);

/** Nothing where something is needed: left out, or a cell that is blank or 0. */
function missing({ name, optional, fallback, domain }: Argument<unknown>, cell: Cell): CellFailure {
  const words = domain?.words ?? "";
  if (optional) {
    const wanted = words.startsWith("a ") ? words : `a number ${words}`;
    return badValue(`${name} is blank or 0; type ${wanted}, or leave the argument out for ${fallback}`);
  }
  return badValue(`${name} is ${cell === undefined ? "missing" : "blank or 0"}${words && `; it must be ${words}`}`);
}

/** An argument that is one value for the whole call, where a range would make no sense. */
export function single<T>(argument: Argument<T>): T {
  const { name, cells } = argument;
  if (isRange(cells)) throw badValue(`${name} must be one cell; got ${cells.length} × ${cells[0]!.length} cells`);
  return readCell(argument, cells[0]![0]);
}

const hostError = (failure: CellFailure) => new CustomFunctions.Error(failure.code, failure.message);

/** An error as a host takes it from a function; what else is in a cell is a plain value. */
export const isHostError = (cell: unknown): boolean => typeof cell === "object" && cell !== null;

/** Runs a whole function; a failure anywhere in it becomes one error cell. */
export function answer(compute: () => any[][]): any[][] {
  try {
    return compute();
  } catch (failure) {
    if (failure instanceof CellFailure) return [[hostError(failure)]];
    throw failure;
  }
}

type ValuesOf<A extends readonly Argument<any>[]> = { [K in keyof A]: A[K] extends Argument<infer T> ? T : never };
export type Result = number | string | boolean;
type UpToEight = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

const isRange = (cells: Cell[][]) => cells.length > 1 || cells[0]!.length > 1;

function cellAt(cells: Cell[][], r: number, c: number): Cell {
  const line = cells.length === 1 ? cells[0]! : cells[r]!;
  return line.length === 1 ? line[0] : line[c];
}

/** The common shape of some ranges, by the spreadsheet's own rule: 1×1, n×1 and 1×m stretch to n×m. */
function commonShape(args: readonly Argument<any>[]): { rows: number; columns: number } {
  let rows = 1;
  let columns = 1;
  for (const { cells } of args) {
    rows = Math.max(rows, cells.length);
    columns = Math.max(columns, cells[0]!.length);
  }
  for (const { name, cells } of args) {
    const height = cells.length;
    const width = cells[0]!.length;
    if ((height !== 1 && height !== rows) || (width !== 1 && width !== columns)) {
      throw badValue(`${name} is ${height} × ${width} cells and does not fit ${rows} × ${columns}`);
    }
  }
  return { rows, columns };
}

/** Rows read and worked out at a time: few enough that what was read of them is still near when it is used. */
const STRETCH = 1024;
const NOTHING: readonly undefined[] = new Array(STRETCH).fill(undefined);

/** What one argument is in some rows of a column, and how much there is against working a row out without a closer look. */
interface Stretch {
  readonly column: number;
  readonly from: number;
  readonly rows: number;
  readonly doubts: Uint8Array;
  /** As much doubt as a bad cell gives; a blank or a 0 that may be one gives 1, for a row may be blank altogether. */
  readonly bad: number;
}

/** Reads numbers in line, since nearly every cell is a good one, and there are many. */
function readNumbers(argument: Argument<number>, domain: Domain, into: Float64Array, stretch: Stretch): void {
  const { cells, blank } = argument;
  const { least, most, whole } = domain;
  const empty = emptyValue(argument);
  const { from, rows, doubts, bad } = stretch;
  const at = cells[0]!.length === 1 ? 0 : stretch.column;
  for (let i = 0; i < rows; i++) {
    const cell = cells[from + i]![at];
    if (typeof cell === "number" && cell >= least && cell <= most && (whole !== true || Math.floor(cell) === cell)) {
      into[i] = cell + 0;
      if (cell === 0) doubts[i]! += 1;
    } else if (blank !== "refused" && cell !== undefined && !isFilled(cell)) {
      into[i] = empty;
      doubts[i]! += 1;
    } else {
      doubts[i]! += bad;
    }
  }
}

function readOthers(argument: Argument<unknown>, into: unknown[], stretch: Stretch): void {
  const { from, rows, doubts, bad } = stretch;
  for (let i = 0; i < rows; i++) {
    const cell = cellAt(argument.cells, from + i, stretch.column);
    try {
      into[i] = readCell(argument, cell);
      if (!isFilled(cell)) doubts[i]! += 1;
    } catch {
      doubts[i]! += bad;
    }
  }
}

/** Reads the one cell that an argument has for all rows of a column. */
function readSame(argument: Argument<any>, into: Float64Array | unknown[], stretch: Stretch): void {
  const { column, doubts, bad } = stretch;
  const cell = cellAt(argument.cells, 0, column);
  try {
    const value = readCell(argument, cell);
    // What is no number needs a closer look in every row.
    if (into instanceof Float64Array && typeof value !== "number") throw mustBe(argument.name, "a number", cell);
    into.fill(value);
    if (!isFilled(cell) && isRange(argument.cells)) for (let i = 0; i < doubts.length; i++) doubts[i]! += 1;
  } catch {
    for (let i = 0; i < doubts.length; i++) doubts[i]! += bad;
  }
}

/**
 * Applies one formula to every row (and column) of its arguments and gives the spilled block.
 * A bad cell gives its own error and spoils no other; a row whose every range argument is blank or 0 stays blank.
 */
export function each<const A extends readonly Argument<any>[]>(
  args: A & { readonly length: UpToEight },
  formula: (...values: ValuesOf<A>) => Result,
): any[][] {
  const { rows, columns } = commonShape(args);
  const ranges = args.filter((a) => isRange(a.cells));
  const call = formula as (...values: any[]) => Result;
  if (ranges.length === 0) return [[closely(0, 0)]];

  const length = Math.min(rows, STRETCH);
  const buffers = args.map(({ domain }) => (domain ? new Float64Array(length) : new Array(length)));
  const doubts = new Uint8Array(length);
  const out: any[][] = new Array(rows);
  for (let column = 0; column < columns; column++) {
    for (let from = 0; from < rows; from += length) {
      doubts.fill(0);
      const stretch = { column, from, rows: Math.min(length, rows - from), doubts, bad: ranges.length };
      for (let k = 0; k < args.length; k++) {
        const argument = args[k]!;
        if (argument.cells.length === 1) readSame(argument, buffers[k]!, stretch);
        else if (argument.domain) readNumbers(argument, argument.domain, buffers[k] as Float64Array, stretch);
        else readOthers(argument, buffers[k] as unknown[], stretch);
      }
      workOut(stretch);
    }
  }
  return out;

  function workOut({ column, from, rows, bad }: Stretch): void {
    // Written out: a call with an array of arguments takes half as long again. Those too many are ignored.
    const [a = NOTHING, b = NOTHING, c = NOTHING, d = NOTHING, e = NOTHING, f = NOTHING, g = NOTHING, h = NOTHING] =
      buffers;
    for (let i = 0; i < rows; i++) {
      let result: Result | HostError;
      if (doubts[i]! < bad) {
        try {
          result = finite(call(a[i], b[i], c[i], d[i], e[i], f[i], g[i], h[i]));
        } catch {
          result = closely(from + i, column);
        }
      } else {
        result = closely(from + i, column);
      }
      if (column === 0) out[from + i] = [result];
      else out[from + i]!.push(result);
    }
  }

  /** One row by itself: blank, an answer, or the error of its leftmost bad argument. */
  function closely(r: number, c: number): Result | HostError {
    if (ranges.length > 0 && !ranges.some(({ cells }) => isFilled(cellAt(cells, r, c)))) return "";
    try {
      return finite(call(...args.map((argument: Argument<any>) => readCell(argument, cellAt(argument.cells, r, c)))));
    } catch (failure) {
      if (failure instanceof CellFailure) return hostError(failure);
      throw failure;
    }
  }
}

/** A result as a cell can hold it: no number without an end, and no -0. */
export function finite(result: number): number;
export function finite(result: Result): Result;
export function finite(result: Result): Result {
  if (typeof result !== "number") return result;
  if (!Number.isFinite(result)) throw noAnswer("the answer is too large for a number");
  return result + 0;
}

/** Rounds up to a whole number, ignoring an excess below 1e-9 relative: 4.2 / 0.7 is 6, not 7. */
export function roundUp(x: number): number {
  const nearest = Math.round(x);
  return Math.abs(x - nearest) <= 1e-9 * Math.max(1, Math.abs(x)) ? nearest : Math.ceil(x);
}
