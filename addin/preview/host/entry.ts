/** What a cell takes from what is written into it, as Excel enters it: numbers, percentages, dates, text, formulas. */
import type { numfmt } from "@univerjs/core";
import { invalidArgument } from "./errors";
import { isBalanced } from "./formula";

export type CellValue = number | string | boolean;

/** A cell's new content. `numberFormat` is set when the way it was written chose a format ("20%" → 0%). */
export interface Entry {
  readonly value: CellValue | null;
  readonly formula?: string;
  readonly numberFormat?: string;
}

/** What a cell may show in place of a value. */
const CELL_ERRORS = [
  "#NULL!",
  "#DIV/0!",
  "#VALUE!",
  "#REF!",
  "#NAME?",
  "#NUM!",
  "#N/A",
  "#SPILL!",
  "#CALC!",
  "#GETTING_DATA",
] as const;

const ERROR_WORDS: ReadonlySet<string> = new Set(CELL_ERRORS);

export const isCellError = (value: unknown): boolean => typeof value === "string" && ERROR_WORDS.has(value);

export const GENERAL = "General";
export const TEXT_FORMAT = "@";
/** Reading text as a number, a date or a truth takes long: only what has a digit, or is TRUE or FALSE, can be one. */
const MAY_BE_VALUE = /\d|^\s*(?:true|false)\s*$/i;
const LONGEST_TEXT = 32_767;
const LONGEST_FORMULA = 8_192;

function formulaEntry(text: string): Entry {
  if (text.length > LONGEST_FORMULA || !isBalanced(text)) {
    throw invalidArgument("There's a problem with the formula written to a cell.");
  }
  return { value: null, formula: text };
}

function textEntry(text: string): Entry {
  if (text.length > LONGEST_TEXT) throw invalidArgument();
  return { value: text };
}

/** The entry for one written value; undefined leaves the cell as it is (`null` in a values array). */
export function enter(written: unknown, format: string, formats: typeof numfmt): Entry | undefined {
  if (written === null || written === undefined) return undefined;
  if (written === "") return { value: null };
  // The number format Text makes a text of whatever is entered.
  if (typeof written === "boolean") return { value: format === TEXT_FORMAT ? String(written).toUpperCase() : written };
  if (typeof written === "number") {
    if (!Number.isFinite(written)) throw invalidArgument();
    return { value: format === TEXT_FORMAT ? String(written) : written };
  }
  if (typeof written !== "string") throw invalidArgument();
  if (written.startsWith("'")) return textEntry(written.slice(1));
  if (format === TEXT_FORMAT) return textEntry(written);
  if (written.startsWith("=") && written.length > 1) return formulaEntry(written);
  if (!MAY_BE_VALUE.test(written)) return textEntry(written);
  const parsed = formats.parseValue(written);
  if (parsed === null) return textEntry(written);
  const { v: value, z: numberFormat } = parsed;
  if (typeof value !== "number" && typeof value !== "boolean") return textEntry(written);
  return numberFormat && format === GENERAL ? { value, numberFormat } : { value };
}
