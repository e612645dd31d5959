/** What the Jobs view knows. Its changes are in `list.ts` and `check.ts`, which come with the view. */
import type { Audit } from "../../../functions/audit/audit";
import type { JobProblem } from "../../../functions/audit/check";
import type { Mapping } from "../../../functions/audit/headings";
import type { JobSource } from "../../sheet";
import type { Written } from "../calibration";
import type { Progress } from "../cancelable";

/** What the check of the list found. */
export interface Checked {
  readonly rows: number;
  readonly problems: readonly JobProblem[];
  readonly audit: Audit;
}

export interface JobsState {
  /** Lists that the workbook has as tables. */
  readonly tables: readonly string[];
  readonly source: JobSource | null;
  readonly mapping: Mapping;
  /** Whose choice the mapping is. */
  readonly chosen: "guess" | "last time" | "user";
  readonly mappingOpen: boolean;
  readonly checked: Checked | null;
  /** How many of the problems are on the screen. */
  readonly shown: number;
  readonly progress: Progress | null;
  /** The audit sheet of this list under these headings. */
  readonly written: Written | null;
}

export const SHOWN_AT_ONCE = 20;

export const startJobs = (): JobsState => ({
  tables: [],
  source: null,
  mapping: {},
  chosen: "guess",
  mappingOpen: true,
  checked: null,
  shown: SHOWN_AT_ONCE,
  progress: null,
  written: null,
});

/** What was found with another list or other headings says nothing any more. */
export const afresh = (jobs: JobsState, change: Partial<JobsState>): JobsState => ({
  ...jobs,
  checked: null,
  written: null,
  shown: SHOWN_AT_ONCE,
  ...change,
});
