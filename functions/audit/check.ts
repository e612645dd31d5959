/**
 * The check of the rows of a job list: each bad cell is told with the reason, and nothing is dropped in silence,
 * changed or read as something it is not.
 */
import { isBlank } from "../cell";
import { complaint, isEmpty, missing } from "./complaints";
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

/** The good cells of a row, by field. */
type Good = Partial<Record<JobKey, string | number>>;
/** What is wrong with the others. */
type Reasons = Partial<Record<JobKey, string>>;

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
    const other = OTHER_HALF[key];
    return { key, field: jobField(key), column: columns[key] ?? -1, otherColumn: (other && columns[other]) ?? -1 };
  });
  const firstRowOf = new Map<string, number>();
  const jobs: Job[] = [];
  const problems: JobProblem[] = [];
  let rows = 0;

  function addRow(cells: readonly unknown[], row: number): void {
    if (fields.every(({ column }) => isBlank(cells[column]))) {
      problems.push({ row, key: null, reason: "The row is blank", effect: "left out" });
      return;
    }
    const good: Good = {};
    const reasons: Reasons = {};
    for (const { key, field, column, otherColumn } of fields) {
      const cell = cells[column];
      if (!isEmpty(field, cell)) {
        const reason = complaint(field, cell);
        if (reason) reasons[key] = reason;
        else good[key] = cell as string | number;
      } else if (field.required) reasons[key] = missing(field);
      else if (!isBlank(cells[otherColumn])) reasons[key] = alone(OTHER_HALF[key]!, key);
    }
    const counts = fields.every(({ key, field }) => !field.required || key in good);
    if (good.job !== undefined) reasons.job = repeated(good.job, row);
    for (const { key } of fields) {
      const reason = reasons[key];
      if (reason) problems.push({ row, key, reason, effect: counts ? "counted" : "left out" });
    }
    if (counts) jobs.push(jobOf(good, row, "passes" in reasons));
  }

  /** Upper and lower case are one, as in the spreadsheet's own comparisons. */
  function repeated(job: string | number, row: number): string | undefined {
    const name = String(job).trim();
    const first = firstRowOf.get(name.toLowerCase());
    if (first === undefined) firstRowOf.set(name.toLowerCase(), row);
    else return `Job must be each job's own; "${name}" is row ${first + 1} below the headings already`;
  }

  return {
    add(block) {
      for (const cells of block) addRow(cells, rows++);
    },
    done: () => ({ jobs, problems, rows }),
  };
}

const numberIn = (good: Good, key: JobKey) => good[key] as number | undefined;
const textIn = (good: Good, key: JobKey) => (good[key] === undefined ? undefined : String(good[key]).trim());

function pairIn(good: Good, pair: PairKey): Pair | undefined {
  const [quoted, actual] = PAIRS[pair].map((key) => numberIn(good, key));
  return quoted === undefined || actual === undefined ? undefined : { quoted, actual };
}

/** The job of a row whose required cells are all good. */
function jobOf(good: Good, row: number, badPasses: boolean): Job {
  return {
    row,
    job: textIn(good, "job")!,
    bond: textIn(good, "bond"),
    hardness: numberIn(good, "hardness"),
    machine: textIn(good, "machine"),
    // How much floor was worked is not known where the passes are not.
    area: badPasses ? undefined : numberIn(good, "area"),
    passes: numberIn(good, "passes") ?? 1,
    price: pairIn(good, "price")!,
    cost: pairIn(good, "cost")!,
    hours: pairIn(good, "hours"),
    rate: pairIn(good, "rate"),
    sets: pairIn(good, "sets"),
    setPrice: pairIn(good, "setPrice"),
    liquids: pairIn(good, "liquids"),
  };
}
