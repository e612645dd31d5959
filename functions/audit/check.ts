/**
 * The check of the rows of a job list: each bad cell is told with the reason, and nothing is dropped in silence,
 * changed or read as something it is not.
 */
import { isBlank } from "../cell";
import { complaint, isEmpty, isError, missing, trimmed } from "./complaints";
import { alone, JOB_KEYS, type JobKey, jobField, OTHER_HALF, PAIRS, type PairKey } from "./fields";
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

export interface JobProblem {
  /** Row below the headings, from 0. */
  readonly row: number;
  /** The field whose cell it is; null for the whole row. */
  readonly key: JobKey | null;
  readonly reason: string;
  /**
   * What becomes of the row: it is in no figure at all, only in those that can do without the cell, or in every figure
   * because the doubt is the reader's to settle.
   */
  readonly effect: "left out" | "counted" | "in doubt";
  /** Of a row that adds others up: what it is called in the column of jobs. */
  readonly total?: string;
  /** Of a row that is another one over again: that other row. */
  readonly sameAs?: number;
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

/** An error is the same as nothing. */
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
      problems.push({ row, key: null, reason: "The row is blank", effect: "left out" });
      return;
    }
    const name = textIn(cells, "job");
    const total = whyTotal(name, cells);
    if (total !== undefined) {
      problems.push({ row, key: "job", reason: total, effect: "left out", total: name });
      if (name !== undefined && !totalRows.has(name.toLowerCase())) totalRows.set(name.toLowerCase(), row);
      sums.endGroup();
      return;
    }
    const doubt = name === undefined ? undefined : doubtOf(name, cells);
    sums.addJob(cells);
    const before = name === undefined ? [] : rowsBefore(name, row, cells);
    const same = before.find((other) => isSame(other.cells, cells));
    if (same) {
      const reason = `"${name}" is row ${same.row + 1} below the headings already, the same in every cell, and counts once`;
      problems.push({ row, key: "job", reason, effect: "left out", sameAs: same.row });
      return;
    }
    const bad: { key: JobKey; reason: string }[] = [];
    let counts = true;
    for (const { key, field, least, most, column } of fields) {
      const cell = cells[column];
      // Nearly every cell is a good number, and there are many.
      if (typeof cell === "number" && cell >= least && cell <= most) continue;
      const reason = isEmpty(field, cell) ? whyNeeded(cells, key) : complaint(field, cell);
      if (reason === undefined) continue;
      bad.push({ key, reason });
      if (field.required) counts = false;
    }
    const good = bad.length === 0 ? cells : without(cells, bad);
    for (const { key, reason } of bad) problems.push({ row, key, reason, effect: counts ? "counted" : "left out" });
    const doubts = [before[0] && repetition(name!, before[0].row), counts ? doubt : undefined];
    for (const reason of doubts) {
      if (reason) problems.push({ row, key: "job", reason, effect: counts ? "in doubt" : "left out" });
    }
    if (counts) jobs.push(jobOf(good, row));
  }

  /** Why an empty cell is wrong, if it is. */
  function whyNeeded(cells: readonly unknown[], key: JobKey): string | undefined {
    const field = jobField(key);
    if (field.required) return missing(field);
    const other = OTHER_HALF[key];
    return other === undefined || isBlank(cellOf(cells, other)) ? undefined : alone(other, key);
  }

  /** A copy of the row with the bad cells empty; how much floor was worked is not known where the passes are not. */
  function without(cells: readonly unknown[], bad: readonly { key: JobKey }[]): unknown[] {
    const useless = new Set(
      bad.flatMap(({ key }) => (key === "passes" ? [key, "area" as const] : key)).map((key) => columns[key]),
    );
    return cells.map((cell, column) => (useless.has(column) ? "" : cell));
  }

  /** Why a row adds others up and is no job itself, if so. */
  function whyTotal(name: string | undefined, cells: readonly unknown[]): string | undefined {
    if (name === undefined)
      return sums.isSum(cells) ? "The row has no job, and its figures add up the rows above" : undefined;
    if (isTotalName(name)) return `"${name}" adds the jobs up and is none itself`;
    const earlier = totalRows.get(name.toLowerCase());
    if (earlier !== undefined)
      return `"${name}" is what row ${earlier + 1} below the headings is called, which adds jobs up`;
    const isJob = rowsOf.has(name.toLowerCase());
    return !isJob && sums.isSum(cells) ? `The figures of "${name}" add up the rows above, so it is no job` : undefined;
  }

  /** A row that may add others up, yet counts: a job must not vanish for its name. */
  function doubtOf(name: string, cells: readonly unknown[]): string | undefined {
    const why = sums.isNearlySum(cells)
      ? "its figures are the sums of rows above, or nearly"
      : soundsLikeTotal(name) && "its name sounds like one";
    return why ? `"${name}" may be a total: ${why}; if it is one, name it "Total"` : undefined;
  }

  /** The rows with this job so far. Upper and lower case are one, as in the spreadsheet's own comparisons. */
  function rowsBefore(job: string, row: number, cells: readonly unknown[]) {
    const name = job.toLowerCase();
    const rows = rowsOf.get(name);
    if (!rows) rowsOf.set(name, [{ row, cells }]);
    else if (rows.length < MOST_COMPARED) rowsOf.set(name, [...rows, { row, cells }]);
    return rows ?? [];
  }

  const repetition = (job: string, first: number) =>
    `Job must be each job's own; "${job}" is row ${first + 1} below the headings already, with other cells`;

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
