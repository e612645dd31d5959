/** One formula for every row of its arguments: ranges of several shapes, stretched to one, and a spilled block of answers. */
import { badValue, CellFailure, finite, type HostError, hostError, type Result } from "./answer";
import { type Argument, type Cell, emptyValue, isFilled, isRange, mustBe, readCell } from "./cell";
import type { Domain } from "./domain";

type ValuesOf<A extends readonly Argument<any>[]> = { [K in keyof A]: A[K] extends Argument<infer T> ? T : never };
type UpToEight = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8;

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
  if (ranges.length === 0) return [[oneRow(0, 0)]];

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
          result = oneRow(from + i, column);
        }
      } else {
        result = oneRow(from + i, column);
      }
      if (column === 0) out[from + i] = [result];
      else out[from + i]!.push(result);
    }
  }

  /** One row by itself: blank, an answer, or the error of its leftmost bad argument. */
  function oneRow(r: number, c: number): Result | HostError {
    if (ranges.length > 0 && !ranges.some(({ cells }) => isFilled(cellAt(cells, r, c)))) return "";
    try {
      return finite(call(...args.map((argument: Argument<any>) => readCell(argument, cellAt(argument.cells, r, c)))));
    } catch (failure) {
      if (failure instanceof CellFailure) return hostError(failure);
      throw failure;
    }
  }
}
