/** Cells that call our functions: what each shows, and in which blocks they can be written. Doesn't touch Office. */
import { cellAddress } from "../common/a1";

export interface OurCell {
  readonly sheet: string;
  readonly row: number;
  readonly column: number;
  readonly formula: string;
  readonly value: unknown;
  /** Ids of the functions that it calls. */
  readonly ids: readonly string[];
  /** Why it can't be re-entered; empty if it can. */
  readonly hindrance: "" | "protected" | "text format";
  /** Names in its formula that the workbook does not have; looked for only where it shows #NAME?, or a #VALUE! of ours that may come of it. */
  readonly unknownNames?: readonly string[];
}

export interface Stale {
  readonly cell: OurCell;
  readonly before: unknown;
  readonly after: unknown;
}

/** Every cell of ours in the workbook, by what it shows. */
export interface CheckedWorkbook {
  /** How many sheets were read. */
  readonly sheets: number;
  /** How many of them have cells of ours. */
  readonly sheetsWithOurs: number;
  readonly cells: number;
  readonly fine: number;
  /** Show #NAME?, though all their functions and names exist. */
  readonly unrecognized: readonly OurCell[];
  /** Show an error because of a name that the workbook does not have. */
  readonly unnamed: readonly OurCell[];
  /** Call functions that don't exist, with those ids. */
  readonly misnamed: readonly { readonly cell: OurCell; readonly ids: readonly string[] }[];
  readonly waiting: readonly OurCell[];
  /** Show another error, which re-entering wouldn't fix. */
  readonly errors: readonly OurCell[];
  /** Hold the formula as a text, so that nothing is calculated. */
  readonly texts: readonly OurCell[];
  /** Changed when everything was calculated. */
  readonly stale: readonly Stale[];
  /** Change at every calculation, so whether they were out of date isn't known. */
  readonly restless: number;
}

const NOT_RECOGNIZED = "#NAME?";
const WAITING = ["#BUSY!", "#GETTING_DATA", "#CONNECT!"];
const ERROR = /^#[A-Z][A-Z0-9_/]*[!?]?$/;

export const isWaiting = (value: unknown) => WAITING.includes(String(value));
const isError = (value: unknown) => typeof value === "string" && ERROR.test(value);

/** "Stage plan!C5". */
export const cellName = ({ sheet, row, column }: Pick<OurCell, "sheet" | "row" | "column">) =>
  `${sheet}!${cellAddress(row, column)}`;

/** The cell's place, for look-ups. */
export const placeKey = ({ sheet, row, column }: OurCell) => `${row},${column},${sheet}`;

/** Sorts the cells by what they show; `known` are the ids of all our functions. */
export function sortOut(
  sheets: number,
  cells: readonly OurCell[],
  known: readonly string[],
  stale: readonly Stale[] = [],
  restless = 0,
): CheckedWorkbook {
  const ids = new Set(known);
  const found = {
    unrecognized: [] as OurCell[],
    unnamed: [] as OurCell[],
    misnamed: [] as { cell: OurCell; ids: readonly string[] }[],
    waiting: [] as OurCell[],
    errors: [] as OurCell[],
    texts: [] as OurCell[],
  };
  let fine = 0;
  for (const cell of cells) {
    const { value, formula } = cell;
    const missing = cell.ids.filter((id) => !ids.has(id));
    if (value === formula) found.texts.push(cell);
    else if (missing.length > 0) found.misnamed.push({ cell, ids: missing });
    else if (isError(value) && cell.unknownNames?.length) found.unnamed.push(cell);
    else if (value === NOT_RECOGNIZED) found.unrecognized.push(cell);
    else if (isWaiting(value)) found.waiting.push(cell);
    else if (isError(value)) found.errors.push(cell);
    else fine++;
  }
  const sheetsWithOurs = new Set(cells.map(({ sheet }) => sheet)).size;
  return { sheets, sheetsWithOurs, cells: cells.length, fine, ...found, stale, restless };
}

/** Which cells of a block of formulas call ours, with the ids; `idsIn` reads one formula. */
export function ourCellsIn(
  formulas: readonly (readonly unknown[])[],
  idsIn: (formula: string) => readonly string[],
): { row: number; column: number; formula: string; ids: readonly string[] }[] {
  const found = [];
  for (const [row, line] of formulas.entries()) {
    for (const [column, formula] of line.entries()) {
      if (typeof formula !== "string" || !formula.startsWith("=") || !MAY_CALL_OURS.test(formula)) continue;
      const ids = idsIn(formula);
      if (ids.length > 0) found.push({ row, column, formula, ids });
    }
  }
  return found;
}

/** Cheap, and rules out most formulas; what it lets through may still be text or a name. */
const MAY_CALL_OURS = /(?:_xldudf_GRIT_|GRIT\.)[A-Z0-9_.]+\s*\(/i;

/** Cells beside and below one another, which take one write. */
export interface CellBlock {
  readonly row: number;
  readonly column: number;
  readonly columns: number;
  /** Row after row. */
  readonly cells: OurCell[];
}

/** The cells of one sheet in as few blocks as rows of them allow, none of them of more cells than `most`. */
export function blocksOf(cells: readonly OurCell[], most: number): CellBlock[] {
  const sorted = [...cells].sort((a, b) => a.row - b.row || a.column - b.column);
  const runs: OurCell[][] = [];
  for (const cell of sorted) {
    const run = runs.at(-1);
    const last = run?.at(-1);
    const goesOn = last?.row === cell.row && last.column + 1 === cell.column && run!.length < most;
    if (goesOn) run!.push(cell);
    else runs.push([cell]);
  }
  const blocks: CellBlock[] = [];
  const open = new Map<string, CellBlock>();
  for (const run of runs) {
    const { row, column } = run[0]!;
    const key = `${column},${run.length}`;
    const above = open.get(key);
    const goesOn =
      above && above.row + above.cells.length / above.columns === row && above.cells.length + run.length <= most;
    if (goesOn) above.cells.push(...run);
    else {
      const block = { row, column, columns: run.length, cells: run };
      blocks.push(block);
      open.set(key, block);
    }
  }
  return blocks;
}

/** The block's cells as rows. */
export function rowsOf<T>({ cells, columns }: CellBlock, content: (cell: OurCell) => T): T[][] {
  const rows: T[][] = [];
  for (let at = 0; at < cells.length; at += columns) rows.push(cells.slice(at, at + columns).map(content));
  return rows;
}
