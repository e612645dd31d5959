/**
 * The check of the rows of a job list: every bad cell is listed with a typed reason, and nothing is dropped in silence,
 * changed or read as something it is not. The words for the reasons are in `texts.ts`.
 */
import { isBlank } from "../cell";
import { JOB_KEYS, type JobField, type JobKey, jobField, OTHER_HALF, PAIRS, type PairKey } from "./fields";
import { fits, isEmpty, isError, numberMeant, trimmed } from "./job-cells";
import { addingUp, isTotalName, soundsLikeTotal } from "./totals";

export interface Pair {
  readonly quoted: number;
  readonly actual: number;
}

/** A finished job; what was not recorded, or only half of it, is not there. */
export interface Job {
  /** Row below the headings, from 0. */
  readonly row: number;
  readonly job: string;
  readonly bond?: string;
  /** Day it was finished, as a sheet counts days. */
  readonly date?: number;
  /** Mohs number of the slab. */
  readonly hardness?: number;
  readonly machine?: string;
  /** Floor area, ft² | m². */
  readonly area?: number;
  /** Passes over the whole floor; 1 where not recorded. */
  readonly passes: number;
  /** Money. */
  readonly price: Pair;
  /** Money. */
  readonly cost: Pair;
  /** h. */
  readonly hours?: Pair;
  /** Money per hour. */
  readonly rate?: Pair;
  /** Sets of tools. */
  readonly sets?: Pair;
  /** Money for a set. */
  readonly setPrice?: Pair;
  /** Money. */
  readonly liquids?: Pair;
}

/** What is wrong with a row, or with one of its cells. Other rows are counted below the headings, from 0. */
export type Wrong =
  | { readonly kind: "blankRow" }
  /** Every job needs this cell. */
  | { readonly kind: "missing" }
  /** The cell is empty, and its other half is not. */
  | { readonly kind: "halfMissing"; readonly other: JobKey }
  /** `meant` is the number that a text was likely meant to be. */
  | { readonly kind: "badValue"; readonly got: unknown; readonly meant?: number }
  /** The row adds others up: by its name, by its figures, or by the name of an earlier row that does. */
  | { readonly kind: "total"; readonly by: "name" | "figures"; readonly name?: string }
  | { readonly kind: "total"; readonly by: "earlier row"; readonly name: string; readonly of: number }
  /** The row may add others up; that is the reader's to settle. */
  | { readonly kind: "maybeTotal"; readonly by: "name" | "figures"; readonly name: string }
  /** The row is another one over again. */
  | { readonly kind: "duplicate"; readonly name: string; readonly of: number }
  /** Another job has the same name. */
  | { readonly kind: "nameTaken"; readonly name: string; readonly of: number };

export interface JobProblem {
  /** Row below the headings, from 0. */
  readonly row: number;
  /** The field whose cell it is; null for the whole row. */
  readonly key: JobKey | null;
  readonly wrong: Wrong;
  /** Whether the row is in no figure at all, only in those that do without the cell, or in all until the reader settles it. */
  readonly effect: "left out" | "counted" | "in doubt";
}

/** The jobs that count, and everything that is wrong, of this many rows. */
export interface CheckedJobs {
  readonly jobs: readonly Job[];
  readonly problems: readonly JobProblem[];
  readonly rows: number;
}

/** The column of a field that has none: beyond every row, where all is blank. */
const NOWHERE = 2 ** 30;

/** Rows with one name that a further one is held against; a column with one name for all is no column of jobs. */
const MOST_COMPARED = 20;

/** What is wrong with a cell that is not empty, if anything is. */
function wrongIn(field: JobField, got: unknown): Wrong | undefined {
  if (fits(field, got)) return undefined;
  const meant = numberMeant(field, got);
  return meant === undefined ? { kind: "badValue", got } : { kind: "badValue", got, meant };
}

/** No two errors are the same. */
const isSame = (one: readonly unknown[], other: readonly unknown[]) =>
  one.length === other.length && one.every((cell, i) => (cell ?? "") === (other[i] ?? "") && !isError(cell));

/**
 * Checks a job list that is handed over in blocks of rows, without the headings.
 * `columns` says in which column, from 0, each mapped field is.
 */
export function jobCheck(columns: Readonly<Partial<Record<JobKey, number>>>): {
  add(block: readonly (readonly unknown[])[]): void;
  done(): CheckedJobs;
} {
  // A required field without a column is missing in every row.
  const asked = JOB_KEYS.filter((key) => columns[key] !== undefined || jobField(key).required);
  const fields = asked.map((key) => {
    const field = jobField(key);
    const { least, most } = field.domain ?? { least: Number.NaN, most: Number.NaN };
    return { key, field, least, most, column: columns[key] ?? NOWHERE };
  });
  const rowsOf = new Map<string, { row: number; cells: readonly unknown[] }[]>();
  const totalRows = new Map<string, number>();
  const sums = addingUp(columns);
  const jobs: Job[] = [];
  const problems: JobProblem[] = [];
  let rows = 0;

  const cellOf = (cells: readonly unknown[], key: JobKey) => cells[columns[key] ?? NOWHERE];

  function addRow(cells: readonly unknown[], row: number): void {
    if (fields.every(({ column }) => isBlank(cells[column]))) {
      problems.push({ row, key: null, wrong: { kind: "blankRow" }, effect: "left out" });
      return;
    }
    const name = textIn(cells, "job");
    const total = totalIn(name, cells);
    if (total) {
      problems.push({ row, key: "job", wrong: total, effect: "left out" });
      if (name !== undefined && !totalRows.has(name.toLowerCase())) totalRows.set(name.toLowerCase(), row);
      sums.endGroup();
      return;
    }
    const doubt = name === undefined ? undefined : doubtOf(name, cells);
    sums.addJob(cells);
    const before = name === undefined ? [] : rowsBefore(name, row, cells);
    const same = before.find((other) => isSame(other.cells, cells));
    if (same) {
      problems.push({ row, key: "job", wrong: { kind: "duplicate", name: name!, of: same.row }, effect: "left out" });
      return;
    }
    const bad: { key: JobKey; wrong: Wrong }[] = [];
    let counts = true;
    for (const { key, field, least, most, column } of fields) {
      const cell = cells[column];
      // Nearly every cell is a good number, and there are many.
      if (typeof cell === "number" && cell >= least && cell <= most) continue;
      const wrong = isEmpty(field, cell) ? wrongIfEmpty(cells, key) : wrongIn(field, cell);
      if (!wrong) continue;
      bad.push({ key, wrong });
      if (field.required) counts = false;
    }
    const good = bad.length === 0 ? cells : without(cells, bad);
    for (const { key, wrong } of bad) problems.push({ row, key, wrong, effect: counts ? "counted" : "left out" });
    const taken: Wrong | undefined = before[0] && { kind: "nameTaken", name: name!, of: before[0].row };
    for (const wrong of [taken, counts ? doubt : undefined]) {
      if (wrong) problems.push({ row, key: "job", wrong, effect: counts ? "in doubt" : "left out" });
    }
    if (counts) jobs.push(jobOf(good, row));
  }

  /** What is wrong with a cell that is empty, if anything is. */
  function wrongIfEmpty(cells: readonly unknown[], key: JobKey): Wrong | undefined {
    if (jobField(key).required) return { kind: "missing" };
    const other = OTHER_HALF[key];
    return other === undefined || isBlank(cellOf(cells, other)) ? undefined : { kind: "halfMissing", other };
  }

  /** A copy of the row with the bad cells empty; how much floor was worked is not known where the passes are not. */
  function without(cells: readonly unknown[], bad: readonly { key: JobKey }[]): unknown[] {
    const useless = new Set(
      bad.flatMap(({ key }) => (key === "passes" ? [key, "area" as const] : key)).map((key) => columns[key]),
    );
    return cells.map((cell, column) => (useless.has(column) ? "" : cell));
  }

  /** That a row adds others up and is no job itself, if so. */
  function totalIn(name: string | undefined, cells: readonly unknown[]): Wrong | undefined {
    if (name === undefined) return sums.isSum(cells) ? { kind: "total", by: "figures" } : undefined;
    if (isTotalName(name)) return { kind: "total", by: "name", name };
    const earlier = totalRows.get(name.toLowerCase());
    if (earlier !== undefined) return { kind: "total", by: "earlier row", name, of: earlier };
    const isJob = rowsOf.has(name.toLowerCase());
    return !isJob && sums.isSum(cells) ? { kind: "total", by: "figures", name } : undefined;
  }

  /** That a row may add others up, yet counts: a job must not vanish for its name. */
  function doubtOf(name: string, cells: readonly unknown[]): Wrong | undefined {
    if (sums.isNearlySum(cells)) return { kind: "maybeTotal", by: "figures", name };
    return soundsLikeTotal(name) ? { kind: "maybeTotal", by: "name", name } : undefined;
  }

  /** The rows with this job so far. Upper and lower case are one, as in the spreadsheet's own comparisons. */
  function rowsBefore(job: string, row: number, cells: readonly unknown[]) {
    const name = job.toLowerCase();
    const rows = rowsOf.get(name);
    if (!rows) rowsOf.set(name, [{ row, cells }]);
    else if (rows.length < MOST_COMPARED) rowsOf.set(name, [...rows, { row, cells }]);
    return rows ?? [];
  }

  function numberIn(good: readonly unknown[], key: JobKey): number | undefined {
    const cell = cellOf(good, key);
    return typeof cell === "number" ? cell : undefined;
  }

  function textIn(good: readonly unknown[], key: JobKey): string | undefined {
    const cell = cellOf(good, key);
    return isEmpty(jobField(key), cell) ? undefined : trimmed(String(cell));
  }

  function pairIn(good: readonly unknown[], pair: PairKey): Pair | undefined {
    const quoted = numberIn(good, PAIRS[pair][0]);
    const actual = numberIn(good, PAIRS[pair][1]);
    return quoted === undefined || actual === undefined ? undefined : { quoted, actual };
  }

  const jobOf = (good: readonly unknown[], row: number): Job => ({
    row,
    job: textIn(good, "job")!,
    bond: textIn(good, "bond"),
    date: numberIn(good, "date"),
    hardness: numberIn(good, "hardness"),
    machine: textIn(good, "machine"),
    area: numberIn(good, "area"),
    passes: numberIn(good, "passes") ?? 1,
    price: pairIn(good, "price")!,
    cost: pairIn(good, "cost")!,
    hours: pairIn(good, "hours"),
    rate: pairIn(good, "rate"),
    sets: pairIn(good, "sets"),
    setPrice: pairIn(good, "setPrice"),
    liquids: pairIn(good, "liquids"),
  });

  return {
    add(block) {
      for (const cells of block) addRow(cells, rows++);
    },
    done: () => ({ jobs, problems, rows }),
  };
}
