/** Every text on the two sheets of an audit. */
import type { JobProblem } from "../../functions/audit/check";
import { LEAST_FOR_INTERVAL } from "../../functions/audit/classes";

/** Words in cells that other formulas of the audit look for. */
export const CELL = {
  yes: "yes",
  no: "no",
  unusual: "unusual",
  /** A cause of which a job lacks the figures. */
  notKnown: "not known",
  /** In the place of a duplicate's row that is no longer one. */
  noneNow: "none now",
  allJobs: "all",
} as const;

export const SUMMARY = {
  title: "Audit of past jobs",
  source: (list: string, rows: number, date: string, isTable: boolean) => {
    const follows = isTable
      ? "These figures update when the list changes, new rows included."
      : "These figures update when the list changes. After adding rows at its top or bottom, write another audit.";
    return `From ${list}, ${rows} ${rows === 1 ? "row" : "rows"}, on ${date}. ${follows}`;
  },
  keyFigures: {
    counted: "Jobs counted",
    notCounted: "Not counted",
    toFix: "Rows to fix",
    unusual: "Unusual hours",
    rows: "Rows in list",
    quotedPrice: "Quoted price",
    actualPrice: "Actual price",
    quotedMargin: "Quoted margin",
    actualMargin: "Actual margin",
    fade: "Margin fade",
    fadeMoney: "Fade, money",
  },
} as const;

/** The line under the title: what makes the figures those of another list than the present one, else a caution. */
export const HEADLINE = {
  caution: "An audit is only as good as its list. Check the rows to fix, and a job or two by hand.",
  /** Before, between and after the numbers of rows. */
  lacking: ["OUT OF DATE: these figures cover ", " of the list's ", " rows. Write another audit."],
  added: ["OUT OF DATE: rows above or below the list aren't counted (", "). Write another audit."],
  changed: "OUT OF DATE: a duplicate row was changed, moved or deleted. Write another audit.",
  lastIsTotal: "CHECK THE LAST ROW: it adds up the others but counts as a job. Name it Total, or write another audit.",
} as const;

export const BY_CAUSE = {
  heading: "Where the margin went",
  labels: ["Cause", "Money lost", "Share"],
  all: "All",
  notInList: "not in the list",
  partOfOther: "Part of Other",
  missing: "from jobs with missing details",
  other: "Other: changed prices, machines, and anything not in the list",
} as const;

export const BY_MONTH = {
  heading: "Margin fade by month",
  note: "While nothing changes, months stay between low and high: center ± 3 standard deviations, from the mean change. Few months make rough limits.",
  labels: ["Month", "Jobs", "Fade, money", "Fade", "Change", "Center", "Low", "High", "Outside?"],
  outside: "outside",
  rest: "other or no date",
  axis: "Fade, share of price",
  fade: "Fade",
  center: "Center",
  low: "Low",
  high: "High",
} as const;
export const BY_MACHINE = {
  heading: "Margin fade by machine",
  labels: ["Machine", "Jobs", "Fade, money", "Fade"],
} as const;
export const BORROWING = {
  heading: "By group, few jobs borrowing from all",
  note: "Few jobs say little: their factor is drawn toward that of all jobs of the list that have one.",
  labels: ["Group", "By", "Jobs", "Factor", "Low, 90%", "High, 90%", "From all", "Own", "Squares"],
  /** Before the variance within groups, that between them, and the logarithm that they have in common. */
  between: "Within, between, common",
  tooFew: "too few jobs",
} as const;
export const RATES = {
  bySlab: "Rate and tool life by slab",
  byBond: "By bond and slab",
  note: "Area counts each pass, in your list's unit",
  slab: "Slab",
  bond: "Bond",
  figures: ["Jobs", "Area/h", "Area/set"],
  notRecorded: "not recorded",
  rest: "other or blank",
} as const;

export const CALIBRATION = {
  heading: "Actual ÷ quoted hours",
  labels: ["Group", "By", "Jobs", "Factor", "Low, 90%", "High, 90%", "Per 100 h", "at"],
  kinds: { all: "all jobs", bond: "bond", hardness: "slab", machine: "machine" },
  tooFew: `fewer than ${LEAST_FOR_INTERVAL}`,
} as const;

export const CHARTS = {
  margin: (jobs: number | undefined) => (jobs === undefined ? "Margin by job" : `Margin, last ${jobs} jobs`),
  marginAxis: "Margin",
  quoted: "Quoted",
  actual: "Actual",
  causes: "Margin lost by cause",
  causesAxis: "Money lost",
  lost: "Lost",
  rates: "Area rate by slab",
  ratesAxis: "Area per h",
} as const;

export const TO_FIX = {
  heading: "Rows to fix",
  none: "None.",
  note: (rows: number, date: string) => `${rows} on ${date}. Fix them in the list, then write another audit.`,
  labels: ["Cell", "Effect", "What to fix"],
  effects: {
    "left out": "not counted",
    counted: "part counted",
    "in doubt": "counted",
  } satisfies Record<JobProblem["effect"], string>,
  duplicate: "counted once",
} as const;

/** The sheet with a row for each job. */
export const JOB_ROWS = {
  sheet: (audit: string) => `${audit} jobs`,
  title: "Job by job",
  note: (list: string, audit: string) => `Every row of ${list}, with its part in the figures of “${audit}”.`,
  totals: "Total rows",
  totalsNote: "Rows with one of these names are totals, not jobs. Edit the list of names to change that.",
  duplicates: "Duplicate row",
} as const;

/** The named cell with the confidence at which the audit shows what 100 h become. */
export const CONFIDENCE_NAME = "Audit_Confidence";
