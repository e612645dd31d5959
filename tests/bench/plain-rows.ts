/** A sheet with a function's plain formula in every row, beside arguments of its own: what other engines are timed with. */
import { columnNameFromNumber } from "@ironcalc/wasm";
import { looksBack } from "../../addin/share/plain";
import { translation } from "../../addin/share/translate";
import { SURROUNDINGS } from "../addin/share/engine";
import { type Catalogued, isList, isScale, isUnits } from "../catalogue";
import { rowsOf, takesLists } from "./columns";

export interface PlainRows {
  /** What the function is called with for the same answers. */
  readonly args: readonly unknown[];
  /** A column of cells for each argument that stands on the sheet, counted from 1; a single cell where the function takes no more. */
  readonly columns: readonly { readonly column: number; readonly cells: readonly unknown[] }[];
  /** Rows with a formula; of a function that takes lists, one over all of them. */
  readonly count: number;
  /** In a row, counted from 0. */
  readonly formula: (row: number) => string;
  /** Whether that of the first row, filled down, is that of every row. */
  readonly isFilledDown: boolean;
  /** Whether it fills cells as an array formula. */
  readonly isArray: boolean;
}

/** From 1; to the right of all arguments. */
export const FORMULA_COLUMN = 30;

const isOnSheet = (entry: Catalogued, k: number) => !isUnits(entry.params[k]!) && !isScale(entry.params[k]!);

export function plainRows(entry: Catalogued, count: number): PlainRows {
  const { args } = rowsOf(entry, count);
  const columns = args.flatMap((arg, k) =>
    isOnSheet(entry, k) ? [{ column: k + 1, cells: (arg as unknown[][]).map(([cell]) => cell) }] : [],
  );
  const callIn = (row: number) => {
    const given = args.map((arg, k) => {
      if (isUnits(entry.params[k]!)) return '"us"';
      if (!isOnSheet(entry, k)) return '"mesh"';
      const letter = columnNameFromNumber(k + 1);
      const rows = (arg as unknown[][]).length;
      const isWhole = looksBack(entry) || isList(entry.params[k]!);
      return isWhole ? `${letter}$1:${letter}$${rows}` : `${letter}${rows === 1 ? "$1" : row + 1}`;
    });
    return `=GRIT.${entry.id}(${given.join(",")})`;
  };
  const around = { ...SURROUNDINGS, isRange: (reference: string) => reference.includes(":") };
  const from = { row: 0, column: FORMULA_COLUMN - 1 };
  const inRow = (row: number) =>
    translation(callIn(row), around, looksBack(entry) ? { row, column: 0, from } : undefined);
  return {
    args,
    columns,
    count: takesLists(entry) ? 1 : count,
    formula: (row) => inRow(row).plain,
    isFilledDown: !looksBack(entry),
    isArray: inRow(0).isArray,
  };
}
