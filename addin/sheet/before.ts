/** What cells hold, read before they are written over and entered again by an undo. */
import type { Looks } from "./looks";
import { asText } from "./write";

/** What cells held, as it must be written to be there again. */
export interface Before {
  formulas: any[][];
  numberFormat: any[][];
  /**
   * Numbers and formulas in cells with the number format Text, which got it after them; null elsewhere. Entered in such a
   * cell they would become texts, so they are entered before it gets the format.
   */
  early?: any[][];
  /** Where the cells look as they did again, too. */
  looks?: Looks;
}

/** Contents and number formats, in the order in which each becomes what it was; null leaves a cell as it is. */
export function enterAll(range: Excel.Range, { formulas, numberFormat, early }: Before): void {
  if (early) {
    range.numberFormat = early.map((line) => line.map((entry) => (entry === null ? null : "General")));
    range.formulas = early;
  }
  range.numberFormat = numberFormat;
  range.formulas = formulas.map((line, r) => line.map((entry, c) => (early && early[r]![c] !== null ? null : entry)));
}

const TEXT_FORMAT = "@";

/** What cells hold that were loaded with formulas, values and number formats. */
export function beforeOf(range: Excel.Range): Before {
  const { formulas, values, numberFormat } = range;
  const before = { formulas: entriesOf(range), numberFormat };
  const isEarly = (entry: unknown, r: number, c: number) =>
    numberFormat[r]![c] === TEXT_FORMAT && (typeof entry !== "string" || entry !== values[r]![c]);
  const early = formulas.map((line, r) => line.map((entry, c) => (isEarly(entry, r, c) ? entry : null)));
  return early.flat().some((entry) => entry !== null) ? { ...before, early } : before;
}

/** What cells hold, as it must be written to be there again: a text that begins like a formula is to stay a text. */
export const entriesOf = ({ formulas, values, numberFormat }: Excel.Range): any[][] =>
  formulas.map((line, r) =>
    line.map((entry, c) => {
      const isText = typeof entry === "string" && entry === values[r]![c] && numberFormat[r]![c] !== TEXT_FORMAT;
      return isText ? asText(entry) : entry;
    }),
  );

/** Whether cells hold what they did; loaded with formulas, values and number formats. */
export const holdsAs = (range: Excel.Range, { formulas, numberFormat }: Before): boolean =>
  JSON.stringify([entriesOf(range), range.numberFormat]) === JSON.stringify([formulas, numberFormat]);
