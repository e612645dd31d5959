/** Every text of the Jobs view, to be read through in one go. The list's fields stand in `functions/audit/`. */
import { counted } from "../../common/count";
import { doing } from "../texts";
import type { JobsState } from "./state";

export const JOBS_COMMANDS = {
  look: doing("looking for your past jobs", "look for your past jobs"),
  takeSelected: doing("reading the list at the selected cell", "read the list at the selected cell"),
  takeTable: doing("reading the table", "read the table"),
  insertTable: doing("inserting a jobs table", "insert a jobs table"),
  check: doing("checking the list", "check the list"),
  writeAudit: doing("writing the audit sheet", "write the audit sheet"),
};

const rows = (count: number) => counted(count, "row");
const jobs = (count: number) => counted(count, "job");

export const JOBS = {
  // The list
  listTitle: "Your past jobs",
  list: "List:",
  rows,
  noList: "One row per job, with your own headings: quoted and actual price, cost and hours.",
  takeSelected: "Use the list at the selected cell",
  tables: "Table of this workbook",
  takeTable: "Use this table",
  insertTable: "Insert an empty jobs table",
  taken: (name: string, columns: number, count: number) => `${name}: ${counted(columns, "column")}, ${rows(count)}.`,

  // Headings
  headingsTitle: "Your headings",
  toFix: (count: number) => `${count} to fix`,
  whose: {
    guess: "Matched where your headings are clear. Choose the others.",
    "last time": "The headings you chose last time.",
    user: "Your choice.",
  } satisfies Record<JobsState["chosen"], string>,
  mappingDigest: (chosen: JobsState["chosen"], matched: number, all: number) =>
    `${chosen === "last time" ? "the headings you chose last time: " : ""}${matched} of ${all} fields have a column`,
  fixHeadings: (labels: readonly string[]) => `Fix the headings first: ${labels.join(", ")}.`,
  required: "Required. ",
  chooseColumn: "choose a column",
  notInList: "not in the list",
  gone: (heading: string) => `${heading} (gone)`,

  // Check
  checkTitle: "Check and audit",
  check: "Check the list",
  writeAudit: "Write the audit sheet",
  working: "Working out the figures",
  checkDigest: (all: number, counting: number, problems: number) =>
    `${rows(all)}: ${jobs(counting)} counted, ${(all - counting).toLocaleString("en-US")} not counted, ${problems === 0 ? "no problems" : counted(problems, "problem")}`,
  quotedMargin: "Quoted margin",
  actualMargin: "Actual margin",
  earnedAsQuoted: "The jobs earned what was quoted.",
  earned: (amount: string, isLess: boolean) => `The jobs earned ${amount} ${isLess ? "less" : "more"} than quoted.`,
  marginWentOtherWay: (isUp: boolean, amount: string, isLess: boolean) =>
    `Margin as a share of price still ${isUp ? "rose" : "fell"}: ${amount} ${isLess ? "less" : "more"} was charged.`,
  unrecorded: (amount: string, count: number) => `${amount} of Other comes from ${jobs(count)} with missing details.`,
  outliers: (count: number) =>
    `${jobs(count)} ${count === 1 ? "has" : "have"} unusual hours; the audit sheet marks ${count === 1 ? "it" : "them"}.`,
  byMonth: (months: number, outside: readonly string[]) =>
    outside.length === 0
      ? `Over ${months} months the margin fade moved no more than it usually does.`
      : `Over ${months} months the margin fade was out of its usual range in ${outside.join(", ")}; the audit sheet shows when it changed.`,
  fadeTitle: "Where the margin went",

  // Problems
  problemsTitle: "Rows to fix",
  showMore: (next: number, left: number) => `Show ${next} more of ${left}`,

  // Calibration
  calibrationTitle: "Calibration",
  writeFirst: "To use one for a quote, write the audit sheet first: the quote's formulas refer to it.",
  by: { all: "", bond: "By bond", hardness: "By slab hardness", machine: "By machine" },
  jobs,
  thisSlab: "Same slab as the current plan",
  marked: (count: number, factor: string | undefined) =>
    `${jobs(count)} here ${count === 1 ? "has" : "have"} unusual hours. Without ${count === 1 ? "it" : "them"}, ${factor === undefined ? "too few are left for a factor" : `the factor is ${factor}`}.`,
  use: "Use for the next quote",
  labelOfUse: (group: string) => `Use for the next quote: ${group}`,
  used: (label: string) => `The plan now uses past jobs: ${label}.`,
  outdated: "The audit sheet has other jobs in this group. Write the audit again to use it.",
} as const;
