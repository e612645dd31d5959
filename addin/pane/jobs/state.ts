/** What the Jobs view knows, and every change to it, without a DOM and without a workbook. */
import {
  type Audit,
  CAUSE_KEYS,
  CAUSES,
  type CalibrationGroup,
  hardnessClass,
  hasCause,
  INTERVAL_CONFIDENCE,
} from "../../../functions/audit/audit";
import type { JobProblem } from "../../../functions/audit/check";
import {
  guessMapping,
  JOB_KEYS,
  type JobKey,
  jobField,
  type Mapping,
  problemsOfMapping,
  type WrongHeading,
} from "../../../functions/audit/fields";
import { whyNotWords } from "../../../functions/audit/texts";
import type { HoursRatio } from "../../../functions/plan/calibrated";
import type { Inputs } from "../../../functions/plan/inputs";
import type { Inserted, JobSource, WrittenAudit } from "../../sheet";
import { money, share } from "../numbers";
import type { State } from "../state";

/** What is learned from past jobs and carried into the plan. */
export interface Lesson {
  /** Such as "metal bond, 14 jobs"; it stands in the input `pastJobs`. */
  readonly label: string;
  readonly by: CalibrationGroup["by"];
  readonly value: string;
  /** As the audit had it when it was last read. */
  readonly known: HoursRatio;
  /** What the plan's formulas refer to. */
  readonly estimated: string;
  readonly actual: string;
  /** Where the audit tells of these jobs. */
  readonly line: string;
}

/** How far a long command is. */
export interface Progress {
  readonly doing: string;
  readonly done: number;
  readonly of: number;
}

/** What the check of the list found. */
export interface Checked {
  readonly rows: number;
  readonly problems: readonly JobProblem[];
  readonly audit: Audit;
}

/** An audit sheet, and the groups it was made with, in the order of its calibration. */
interface Written {
  readonly sheet: WrittenAudit;
  readonly groups: readonly CalibrationGroup[];
}

export interface JobsState {
  /** Whether the workbook has been looked through for tables and for the headings chosen last time. */
  readonly looked: boolean;
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
  readonly lesson: Lesson | null;
  /** Whether the lesson is as the audit has it since the plan came into view. */
  readonly lessonRead: boolean;
  /** Why the audit teaches nothing any more; else empty. */
  readonly lessonTrouble: string;
}

export const SHOWN_AT_ONCE = 20;

export const startJobs = (): JobsState => ({
  looked: false,
  tables: [],
  source: null,
  mapping: {},
  chosen: "guess",
  mappingOpen: true,
  checked: null,
  shown: SHOWN_AT_ONCE,
  progress: null,
  written: null,
  lesson: null,
  lessonRead: false,
  lessonTrouble: "",
});

// The list and its headings

const countOf = (mapping: Mapping) => Object.keys(mapping).length;

/** What was found with another list or other headings says nothing any more. */
const afresh = (jobs: JobsState, change: Partial<JobsState>): JobsState => ({
  ...jobs,
  checked: null,
  written: null,
  shown: SHOWN_AT_ONCE,
  ...change,
});

/**
 * Takes a list: with the headings chosen last time where it has them all, else with those that explain themselves.
 * The mapping is open only while there is something to choose.
 */
export function takeSource(jobs: JobsState, source: JobSource, lastTime: Mapping): JobsState {
  const fits = countOf(lastTime) > 0 && Object.values(lastTime).every((heading) => source.headings.includes(heading));
  const mapping = fits ? lastTime : guessMapping(source.headings);
  const matched = Object.values(mapping);
  const complete =
    headingsOf(source).every((heading) => matched.includes(heading)) &&
    Object.keys(problemsOfMapping(mapping, source.headings)).length === 0;
  return afresh(jobs, { source, mapping, chosen: fits ? "last time" : "guess", mappingOpen: !fits && !complete });
}

/** The user's word on one field; "" says that the list does not have it. */
export function setHeading(jobs: JobsState, key: JobKey, heading: string): JobsState {
  const { [key]: _, ...others } = jobs.mapping;
  const mapping = heading === "" ? others : { ...others, [key]: heading };
  return afresh(jobs, { mapping, chosen: "user" });
}

export const mappingProblems = ({ source, mapping }: JobsState): Partial<Record<JobKey, WrongHeading>> =>
  source ? problemsOfMapping(mapping, source.headings) : {};

/** Headings to choose from: each once, and none that is blank. */
export const headingsOf = ({ headings }: JobSource): string[] =>
  [...new Set(headings)].filter((heading) => heading.trim() !== "");

/** A closed mapping in a line. */
export function mappingDigest({ mapping, chosen }: JobsState): string {
  const whose = { guess: "", "last time": "the headings you chose last time: ", user: "" }[chosen];
  return `${whose}${countOf(mapping)} of ${JOB_KEYS.length} fields have a column`;
}

/** Why the list cannot be read with these headings; empty when it can. */
export function mappingTrouble(jobs: JobsState): string {
  const problems = Object.keys(mappingProblems(jobs)) as JobKey[];
  if (problems.length === 0) return "";
  return `Mend the headings first: ${problems.map((key) => jobField(key).label).join(", ")}.`;
}

// What the check found

/** The audit sheet of the list is still there, so what it teaches can still be referred to. */
export const takeCheck = (jobs: JobsState, checked: Checked): JobsState =>
  afresh(jobs, { checked, mappingOpen: false, written: jobs.written });

export interface SlipBar {
  readonly cause: string;
  /** Money lost; below 0 it was gained. */
  readonly money: number;
  /** Share of the longest bar. */
  readonly length: number;
  readonly words: "lost" | "gained" | "no difference" | "not in the list" | "not known";
}

export function slipBars({ fade: { parts }, recorded }: Audit, mapping: Mapping): SlipBar[] {
  const longest = Math.max(...CAUSE_KEYS.map((cause) => Math.abs(parts[cause])));
  return CAUSE_KEYS.map((cause) => {
    const lost = parts[cause];
    const difference = lost > 0 ? "lost" : lost < 0 ? "gained" : "no difference";
    const known = recorded[cause] > 0 ? difference : "not known";
    const words = hasCause(mapping, cause) ? known : "not in the list";
    return { cause: CAUSES[cause], money: lost, length: longest > 0 ? Math.abs(lost) / longest : 0, words };
  });
}

/** The slip in a sentence, or two where the margin, which is a share, went the other way than the money. */
export function earned({ fade: { whole }, price, margin }: Audit): string {
  if (whole === 0) return "The jobs earned what was quoted.";
  const less = whole > 0;
  const told = `The jobs earned ${money(Math.abs(whole))} ${less ? "less" : "more"} than quoted.`;
  const higher = margin ? margin.actual - margin.quoted : 0;
  if (less ? higher <= 0 : higher >= 0) return told;
  const charged = price.actual - price.quoted;
  return `${told} The margin, a share of the price, ${less ? "rose" : "fell"} all the same: ${money(Math.abs(charged))} ${charged < 0 ? "less" : "more"} was charged.`;
}

/** How much of other is only there until cells are mended; empty where nothing is. */
export const untoldWords = ({ unrecorded: { jobs, other } }: Audit): string =>
  jobs === 0
    ? ""
    : `Of Other, ${money(other)} is of ${plural(jobs, "job")} with a cause not known: cells to mend, or blank.`;

/** What to think of before a group is used; empty where nothing stands out in it. */
export function markedWords({ marked, without }: CalibrationGroup): string {
  if (marked === 0) return "";
  const factor = without === undefined ? "too few are left for a factor" : `the factor is ${ratio(without)}`;
  return `${plural(marked, "job")} in it ${marked === 1 ? "stands" : "stand"} out by the hours; without ${marked === 1 ? "it" : "them"} ${factor}.`;
}

export const plural = (count: number, one: string, many = `${one}s`) =>
  `${count.toLocaleString("en-US")} ${count === 1 ? one : many}`;

/** The check in a sentence. */
export function checkDigest({ rows, problems, audit }: Checked): string {
  const found = problems.length === 0 ? "no problems" : plural(problems.length, "problem");
  return `${plural(rows, "row")}: ${plural(audit.jobs, "job")} counted, ${(rows - audit.jobs).toLocaleString("en-US")} left out, ${found}`;
}

/** One thing to do is told without counting. */
export const progressWords = ({ doing, done, of }: Progress) =>
  of === 1 ? doing : `${doing}: ${done.toLocaleString("en-US")} of ${of.toLocaleString("en-US")}`;

// What past jobs teach

export function groupName({ by, value }: Pick<CalibrationGroup, "by" | "value">): string {
  if (by === "all") return "All jobs";
  return by === "bond" ? `${value} bond` : value;
}

const ratio = (x: number) => x.toFixed(2);

/** What a group teaches, in a sentence; or why it teaches nothing yet. */
export function teaching({ calibration, whyNot }: CalibrationGroup): string {
  if (!calibration) return whyNotWords(whyNot!);
  const { factor, low, high } = calibration;
  const interval = `${ratio(low)} to ${ratio(high)} with ${share(INTERVAL_CONFIDENCE)} confidence`;
  return `Took ${ratio(factor)} × the quoted hours; ${interval}.`;
}

/** Whether the present plan's own slab is of the group. */
export const ofThisSlab = ({ by, value }: CalibrationGroup, { hardness }: Inputs): boolean =>
  by === "hardness" && hardness !== null && value === hardnessClass(hardness);

/** The words are one in upper and lower case; with another number of jobs, the audit's cells are no longer the group's. */
const sameGroup = (a: CalibrationGroup, b: CalibrationGroup) =>
  a.by === b.by && a.value.toLowerCase() === b.value.toLowerCase() && a.jobs === b.jobs;

/** Where the audit sheet calibrates a group; undefined where it does not, or there is none. */
function cellsOf({ written }: JobsState, group: CalibrationGroup) {
  const at = written?.groups.findIndex((other) => sameGroup(other, group)) ?? -1;
  return written?.sheet.calibrationRefs[at];
}

/** Whether a group could be used if the audit sheet were of the list as it is now. */
export const isOutdated = (jobs: JobsState, group: CalibrationGroup): boolean =>
  jobs.written !== null && group.calibration !== undefined && !cellsOf(jobs, group);

/** What the plan can carry of a group: nothing before there is an audit to refer to, nor without a calibration. */
export function lessonOf(state: JobsState, group: CalibrationGroup): Lesson | undefined {
  const cells = cellsOf(state, group);
  if (!cells || !group.calibration) return undefined;
  const { by, value } = group;
  const { factor, spread, jobs } = group.calibration;
  return { label: labelOf(group, group.jobs), by, value, known: { factor, spread, jobs }, ...cells };
}

/** What the input `pastJobs` says of a group. */
export const labelOf = (group: Pick<CalibrationGroup, "by" | "value">, count: number): string =>
  group.by === "all" ? `all ${plural(count, "job")}` : `${groupName(group)}, ${plural(count, "job")}`;

/** The lesson that the plan is made with. */
export const carried = ({ inputs, jobs }: State): Lesson | undefined =>
  (inputs.pastJobs !== "" && jobs.lesson) || undefined;

/** Takes a lesson into the plan, and goes there. */
export function carry(state: State, lesson: Lesson): State {
  const inputs = { ...state.inputs, pastJobs: lesson.label };
  const openGroups = [...new Set([...state.openGroups, "pastJobs" as const])];
  const text = `The plan learns from ${lesson.label}.`;
  return {
    ...state,
    inputs,
    openGroups,
    view: "plan",
    jobs: { ...state.jobs, lesson, lessonRead: false, lessonTrouble: "" },
    message: { kind: "done", text },
  };
}

export const forget = (state: State): State => ({
  ...state,
  inputs: { ...state.inputs, pastJobs: "" },
  jobs: { ...state.jobs, lesson: null, lessonTrouble: "" },
});

/** With its audit sheet gone there is nothing that a plan could refer to. */
export function afterUndo(state: State, inserted: Inserted): State {
  const { written, lesson } = state.jobs;
  if (!written || written.sheet !== inserted) return state;
  const without = { ...state, jobs: { ...state.jobs, written: null } };
  const taught = lesson && written.sheet.calibrationRefs.some(({ estimated }) => estimated === lesson.estimated);
  return taught ? forget(without) : without;
}
