/** Total rows of a job list, which are no jobs: known by their names, else by their figures. */
import { isBlank } from "../cell";
import type { JobKey } from "./fields";

/** What such rows are called, whatever the case, the punctuation and the year beside it. */
export const TOTAL_WORDS: readonly string[] = [
  ...["total", "totals", "grand total", "grand totals", "subtotal", "subtotals", "sub total", "sub totals"],
  ...["sum", "sums", "average", "averages", "avg", "all jobs", "total all jobs", "all jobs total", "total jobs"],
  ...["jobs total", "year total", "total year", "overall", "overall total"],
];
const KNOWN = new Set(TOTAL_WORDS);

const words = (name: string) =>
  name
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .replace(/(?<![\p{L}\p{N}])(?:19|20)\d\d(?![\p{L}\p{N}])/gu, "")
    .replace(/ +/g, " ")
    .trim();

/** "Total:", "Totals 2024", "SUB-TOTAL"; not "Total Storage of Elm Street", which may be a client. */
export const isTotalName = (name: string): boolean => KNOWN.has(words(name));

/** A name that has such a word among others leaves a doubt. */
export const soundsLikeTotal = (name: string): boolean =>
  /(?<!\p{L})(?:(?:sub)?totals?|sums?|averages?|avg)(?!\p{L})/iu.test(name);

/** Figures that a list adds up; those of one job must not be the sum of others by chance, so it takes two at least. */
const ADDED_UP: readonly JobKey[] = [
  ...(["quotedPrice", "actualPrice", "quotedCost", "actualCost", "quotedHours", "actualHours"] as const),
];
const LEAST_FIGURES = 2;
const LEAST_ROWS = 2;
/** Half a cent, and what a spreadsheet's own sum of many cents may be off. */
const CENT = 0.005 + 1e-9;
/** A typed total is rounded, or older than the last change of a job. */
const NEARLY = 0.01;
const LEAST_ROWS_NEARLY = 3;

class Sums {
  rows = 0;
  readonly sums: number[];

  constructor(readonly columns: readonly number[]) {
    this.sums = columns.map(() => 0);
  }

  add(cells: readonly unknown[]): void {
    this.rows++;
    for (let i = 0; i < this.columns.length; i++) {
      const cell = cells[this.columns[i]!];
      if (typeof cell === "number" && Number.isFinite(cell)) this.sums[i]! += cell;
    }
  }

  /** Whether every figure of a row is the sum of the rows before it, give or take. */
  areIn(cells: readonly unknown[], reach: (sum: number) => number): boolean {
    let figures = 0;
    for (let i = 0; i < this.columns.length; i++) {
      const cell = cells[this.columns[i]!];
      if (isBlank(cell)) continue;
      const sum = this.sums[i]!;
      // Most rows part here, at their first figure.
      if (typeof cell !== "number" || !(Math.abs(cell - sum) <= reach(sum))) return false;
      if (sum !== 0) figures++;
    }
    return figures >= LEAST_FIGURES;
  }
}

/** Follows a list from row to row, and checks whether a row adds up those before it. */
export function addingUp(columns: Readonly<Partial<Record<JobKey, number>>>) {
  const added = ADDED_UP.map((key) => columns[key]).filter((column) => column !== undefined);
  const all = new Sums(added);
  /** Since the last row that added up, for lists with a total under each year or client. */
  let group = new Sums(added);
  const either = (cells: readonly unknown[], least: number, reach: (sum: number) => number) =>
    [group, all].some((sums) => sums.rows >= least && sums.areIn(cells, reach));
  return {
    isSum: (cells: readonly unknown[]): boolean => either(cells, LEAST_ROWS, (sum) => CENT + 1e-12 * Math.abs(sum)),
    isNearlySum: (cells: readonly unknown[]): boolean =>
      either(cells, LEAST_ROWS_NEARLY, (sum) => NEARLY * Math.abs(sum)),
    addJob(cells: readonly unknown[]): void {
      all.add(cells);
      group.add(cells);
    },
    endGroup(): void {
      group = new Sums(added);
    },
  };
}
