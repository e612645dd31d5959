/**
 * How one cell of an argument becomes a value: blanks, numbers, words, yes or no, and the errors of those that are none.
 * A topic's file declares its arguments (declare.ts) and writes only the arithmetic; everything a spreadsheet can do to an
 * argument is dealt with here and in each.ts, once.
 */
import { badValue, CellFailure } from "./answer";
import { type Domain, isWithin } from "./domain";

/** One cell as the host passes it: number, text, TRUE/FALSE, blank (null, "" or 0, by host) or an error. */
export type Cell = unknown;

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

export const mustBe = (name: string, allowed: string, cell: Cell) =>
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
      if (typeof cell !== "number" || !isWithin(cell, domain)) throw mustBe(name, domain.words, cell);
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
export function readCell<T>(argument: Argument<T>, cell: Cell): T {
  if (cell === undefined && argument.optional) return argument.fallback;
  if (!isFilled(cell)) {
    if (cell === undefined || argument.blank === "refused") throw missing(argument, cell);
    return emptyValue(argument);
  }
  passError(argument.name, cell);
  return argument.read(argument.name, cell);
}

/** What a blank or a 0 is, where it may be. */
export const emptyValue = <T>({ blank, fallback }: Reader<T>): T => (blank === "zero" ? (0 as T) : fallback);

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

export const isRange = (cells: Cell[][]) => cells.length > 1 || cells[0]!.length > 1;
