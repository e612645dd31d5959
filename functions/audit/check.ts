/**
 * The check of the rows of a job list: each bad cell is told with the reason, and nothing is dropped in silence,
 * changed or read as something it is not.
 */
import { isBlank } from "../cell";
import { complaint, isEmpty, missing, trimmed } from "./complaints";
import { alone, JOB_KEYS, type JobKey, jobField, OTHER_HALF, PAIRS, type PairKey } from "./fields";

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
  /** What becomes of the job: it is in no figure at all, or only in those that can do without the cell. */
  readonly effect: "left out" | "counted";
}

/** The jobs that count, and everything that is wrong, of this many rows. */
export interface CheckedJobs {
  readonly jobs: readonly Job[];
  readonly problems: readonly JobProblem[];
  readonly rows: number;
}

/** Names, in lower case, of rows that add a list up. */
export const TOTALS: readonly string[] = ["total", "totals", "grand total", "subtotal", "sum"];

/** The column of a field that has none: beyond every row, where all is blank. */
const NOWHERE = 2 ** 30;

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
  const firstRowOf = new Map<string, number>();
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
    if (name !== undefined && TOTALS.includes(name.toLowerCase())) {
      problems.push({ row, key: "job", reason: `"${name}" adds the jobs up and is none itself`, effect: "left out" });
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
    const repeat = repetition(textIn(good, "job"), row);
    if (repeat !== undefined) bad.push({ key: "job", reason: repeat });
    for (const { key, reason } of bad) problems.push({ row, key, reason, effect: counts ? "counted" : "left out" });
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

  /** Upper and lower case are one, as in the spreadsheet's own comparisons. */
  function repetition(job: string | undefined, row: number): string | undefined {
    if (job === undefined) return undefined;
    const name = job.toLowerCase();
    const first = firstRowOf.get(name);
    if (first === undefined) firstRowOf.set(name, row);
    return first === undefined
      ? undefined
      : `Job must be each job's own; "${job}" is row ${first + 1} below the headings already`;
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
