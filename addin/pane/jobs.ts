/** What the Jobs view knows, and every change to it, without a DOM and without a workbook. */

/** What is learned from past jobs and carried into the plan. */
export interface Lesson {
  /** Such as "metal bond, 14 jobs"; it stands in the input `pastJobs`. */
  readonly label: string;
  readonly logRatios: readonly number[];
  /** What the plan's formulas refer to. */
  readonly estimated: string;
  readonly actual: string;
}

export interface JobsState {
  readonly lesson: Lesson | null;
}

export const startJobs = (): JobsState => ({ lesson: null });
