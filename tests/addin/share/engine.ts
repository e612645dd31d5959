/**
 * IronCalc, a spreadsheet engine that knows nothing of our code: calculates what a translation has made of a formula,
 * on a sheet with the arguments and one with the published scales.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { columnNameFromNumber, initSync, Model } from "@ironcalc/wasm";
import { LISTED_SCALES, SCALE_PARTS, type ScaleCells, scaleRows } from "../../../addin/share/scales";
import type { Surroundings } from "../../../addin/share/translate";
import { CATALOGUE } from "../../catalogue";

initSync({ module: readFileSync(createRequire(import.meta.url).resolve("@ironcalc/wasm/wasm_bg.wasm")) });

const REFERENCE = "Reference";

const scaleColumn = (...[scale, part]: Parameters<ScaleCells>) =>
  1 + SCALE_PARTS.length * LISTED_SCALES.indexOf(scale) + SCALE_PARTS.indexOf(part);

const scales: ScaleCells = (scale, part) => {
  const letter = columnNameFromNumber(scaleColumn(scale, part));
  return `${REFERENCE}!$${letter}$1:$${letter}$${scaleRows(scale).length}`;
};

/** The cells of the Reference sheet. */
export function referenceRows(): (number | string)[][] {
  const height = Math.max(...LISTED_SCALES.map((scale) => scaleRows(scale).length));
  return Array.from({ length: height }, (_, r) =>
    LISTED_SCALES.flatMap((scale) => SCALE_PARTS.map((part) => scaleRows(scale)[r]?.[part] ?? "")),
  );
}

export const SURROUNDINGS: Surroundings = { functions: CATALOGUE, scales, isRange: () => false };

/** A cell: a number, a text, TRUE or FALSE, a blank (null), an error as the host passes it. */
export type Cell = number | string | boolean | null | { readonly code: string };

export const isError = (cell: unknown): cell is { readonly code: string } => typeof cell === "object" && cell !== null;

/** Those that a function can hand on; of any other it makes #VALUE!, and a plain formula hands it on as it is. */
export const ERRORS = ["#N/A", "#DIV/0!", "#NUM!"];

/** A cell as one types it: a text as a formula, so that "5" stays text and "" is no blank. */
function typed(cell: Cell): string {
  if (cell === null) return "";
  if (typeof cell === "string") return `="${cell.replaceAll('"', '""')}"`;
  return isError(cell) ? `=${cell.code}` : String(cell).toUpperCase();
}

export const address = (row: number, column: number) => `$${columnNameFromNumber(column)}$${row}`;

/** A block of arguments, and the address of it in a formula. */
export interface Block {
  readonly cells: readonly (readonly Cell[])[];
  readonly row: number;
  readonly column: number;
  /** A list that the formula takes as a whole. */
  readonly isList?: boolean;
}

export const rangeOf = ({ cells, row, column }: Block): string => {
  const last = address(row + cells.length - 1, column + cells[0]!.length - 1);
  return last === address(row, column) ? last : `${address(row, column)}:${last}`;
};

export interface Question {
  readonly formula: string;
  readonly row: number;
  readonly column: number;
  readonly height: number;
  readonly width: number;
}

/** What the engine makes of each formula, as a block; its spill is read in the height and width that are asked for. */
export function calculate(blocks: readonly Block[], questions: readonly Question[]): unknown[][][] {
  const model = new Model("plain", "en", "UTC", "en");
  model.pauseEvaluation();
  model.newSheet();
  model.renameSheet(1, REFERENCE);
  for (const [r, line] of referenceRows().entries()) {
    for (const [c, value] of line.entries()) model.setUserInput(1, r + 1, c + 1, String(value));
  }
  for (const { cells, row, column } of blocks) {
    for (const [r, line] of cells.entries()) {
      for (const [c, cell] of line.entries()) model.setUserInput(0, row + r, column + c, typed(cell));
    }
  }
  for (const { formula, row, column } of questions) if (formula) model.setUserInput(0, row, column, formula);
  model.resumeEvaluation();
  model.evaluate();
  const answers = questions.map((question) => read(model, question));
  model.free();
  return answers;
}

function read(model: Model, { row, column, height, width }: Question): unknown[][] {
  model.updateRangeStyle({ sheet: 0, row, column, width, height }, "num_fmt", "0.000000000000000E+00");
  return Array.from({ length: height }, (_, r) =>
    Array.from({ length: width }, (_, c) => {
      const shown = model.getFormattedCellValue(0, row + r, column + c);
      return shown !== "" && Number.isFinite(Number(shown)) ? Number(shown) : shown;
    }),
  );
}

/** Whether the engine's cell is what the function gives: a number to 1e-9, a text, an error of the same class. */
export function agrees(plain: unknown, ours: unknown): boolean {
  if (typeof ours === "number") return typeof plain === "number" && Math.abs(plain - ours) <= 1e-9 * Math.abs(ours);
  if (isError(ours)) return plain === ours.code;
  return plain === (typeof ours === "boolean" ? String(ours).toUpperCase() : ours);
}
