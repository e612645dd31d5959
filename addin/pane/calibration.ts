/** What past jobs say of the hours of the next one: found by the audit in the Jobs view, used by the plan. */
import type { CalibrationGroup } from "../../functions/audit/audit";
import { INTERVAL_CONFIDENCE } from "../../functions/audit/classes";
import type { HoursRatio } from "../../functions/plan/calibrated";
import type { WrittenAudit } from "../sheet";
import { share } from "./numbers";
import { CALIBRATION } from "./texts";

/** A group of past jobs as a plan uses it. */
export interface Calibration {
  /** Such as "metal bond, 14 jobs"; it stands in the input `pastJobs`. */
  readonly label: string;
  readonly by: CalibrationGroup["by"];
  readonly value: string;
  /** As the audit had it when it was last read. */
  readonly known: HoursRatio;
  /** What the plan's formulas refer to. */
  readonly estimated: string;
  readonly actual: string;
  /** Where the audit has these jobs. */
  readonly line: string;
}

/** An audit sheet, and the groups it was made with, in the order of its calibration. */
export interface Written {
  readonly sheet: WrittenAudit;
  readonly groups: readonly CalibrationGroup[];
}

type Group = Pick<CalibrationGroup, "by" | "value">;

export function groupName({ by, value }: Group): string {
  if (by === "all") return CALIBRATION.allJobs;
  return by === "bond" ? CALIBRATION.bond(value) : value;
}

/** What the input `pastJobs` says of a group. */
export const labelOf = (group: Group, jobs: number): string =>
  group.by === "all" ? CALIBRATION.labelOfAll(jobs) : CALIBRATION.label(groupName(group), jobs);

export const ratio = (x: number) => x.toFixed(2);

/** What a group's jobs took, in a sentence. */
export function factorWords({ factor, low, high }: NonNullable<CalibrationGroup["calibration"]>): string {
  return CALIBRATION.factor(ratio(factor), ratio(low), ratio(high), share(INTERVAL_CONFIDENCE));
}

/** The words are one in upper and lower case; with another number of jobs, the audit's cells are no longer the group's. */
const isSameGroup = (a: CalibrationGroup, b: CalibrationGroup) =>
  a.by === b.by && a.value.toLowerCase() === b.value.toLowerCase() && a.jobs === b.jobs;

/** Where the audit sheet calibrates a group; undefined where it does not, or there is none. */
function cellsOf(written: Written | null, group: CalibrationGroup) {
  const at = written?.groups.findIndex((other) => isSameGroup(other, group)) ?? -1;
  return written?.sheet.calibrationRefs[at];
}

/** Whether a group could be used if the audit sheet were of the list as it is now. */
export const isOutdated = (written: Written | null, group: CalibrationGroup): boolean =>
  written !== null && group.calibration !== undefined && !cellsOf(written, group);

/** What a plan can use of a group: nothing before there is an audit to refer to, nor without a factor. */
export function calibrationOf(written: Written | null, group: CalibrationGroup): Calibration | undefined {
  const cells = cellsOf(written, group);
  if (!cells || !group.calibration) return undefined;
  const { by, value } = group;
  const { factor, spread, jobs } = group.calibration;
  return { label: labelOf(group, group.jobs), by, value, known: { factor, spread, jobs }, ...cells };
}
