/** What Check and repair has found, as the view shows it; the words for it are in `repair-words.ts`, which comes when needed. */

/** What was found of one kind. */
export interface Finding {
  readonly title: string;
  /** The cells, and what they show where that is not the same for all. */
  readonly places: readonly string[];
  readonly advice: string;
}

export interface Found {
  readonly digest: string;
  /** How many cells can be entered again; none once that was tried. */
  readonly repairable: number;
  /** Everything that is not as it should be, the repairable first. */
  readonly findings: readonly Finding[];
}
