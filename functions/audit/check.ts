/**
 * The check of the rows of a job list: each bad cell is told with the reason, and nothing is dropped in silence,
 * changed or read as something it is not.
 */
import { isBlank, shown } from "../cell";
import { JOB_KEYS, type JobField, type JobKey, jobField, PAIR_KEYS, PAIRS, type PairKey } from "./fields";

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
