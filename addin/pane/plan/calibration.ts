/** The calibration that the plan uses, kept true: to what the audit says now, and to the slab that it is about. */
import { CellFailure } from "../../../functions/answer";
import { hardnessClass, INTERVAL_CONFIDENCE } from "../../../functions/audit/classes";
import { type Calibrated, calibrated, spreadBehind } from "../../../functions/plan/calibrated";
import type { Estimate } from "../../../functions/plan/estimate";
import { FIELDS } from "../../../functions/plan/fields";
import type { NoCalibration, ReadCalibration } from "../../sheet";
import { type Calibration, calibrationOf, factorWords, groupName, labelOf, type Written } from "../calibration";
import { briefly } from "../numbers";
import type { PlanState } from "./state";
import { PLAN } from "./texts";

/** The calibration that the plan is made with. */
export const usedCalibration = ({ inputs, calibration }: PlanState): Calibration | undefined =>
  (inputs.pastJobs !== "" && calibration) || undefined;

export const useCalibration = (plan: PlanState, calibration: Calibration): PlanState => ({
  ...plan,
  inputs: { ...plan.inputs, pastJobs: calibration.label },
  openGroups: [...new Set([...plan.openGroups, "pastJobs" as const])],
  calibration,
  noCalibration: null,
});

export const dropCalibration = (plan: PlanState): PlanState => ({
  ...plan,
  inputs: { ...plan.inputs, pastJobs: "" },
  calibration: null,
  noCalibration: null,
});

/** What the audit says now, or why it says nothing; passed over where the plan has gone on to other jobs. */
export function takeReading(plan: PlanState, asked: Calibration, read: ReadCalibration | NoCalibration): PlanState {
  const calibration = usedCalibration(plan);
  if (calibration?.line !== asked.line) return plan;
  if ("kind" in read) return { ...plan, noCalibration: read };
  const known = { factor: read.factor, spread: spreadBehind(read, INTERVAL_CONFIDENCE), jobs: read.jobs };
  const label = labelOf(calibration, read.jobs);
  const now = { ...calibration, label, known };
  return { ...plan, inputs: { ...plan.inputs, pastJobs: label }, calibration: now, noCalibration: null };
}

/** Why a plan has no hours of past jobs. */
export type NoHours =
  | { readonly kind: "auditGone"; readonly label: string; readonly why: NoCalibration }
  /** The arithmetic's own words. */
  | { readonly kind: "refused"; readonly why: string };

/** The plan with past jobs' hours, or why there are none. */
export function calibratedOf(plan: PlanState, calibration: Calibration, estimate: Estimate): Calibrated | NoHours {
  const { inputs, noCalibration } = plan;
  if (noCalibration) return { kind: "auditGone", label: calibration.label, why: noCalibration };
  try {
    return calibrated(estimate, inputs, calibration.known);
  } catch (failure) {
    if (failure instanceof CellFailure) return { kind: "refused", why: failure.message };
    throw failure;
  }
}

export const isCalibrated = (found: Calibrated | NoHours): found is Calibrated => !("kind" in found);

/** "80%". */
export const confidenceIn = ({ inputs }: PlanState) => `${briefly(inputs.confidence!, FIELDS.confidence)}%`;

/** That the calibration is of another kind of slab than the plan's, and what the audit has of that one. */
export interface OtherSlab {
  /** The kind of slab that the calibration is of. */
  readonly calibrated: string;
  /** That of the plan, and its hardness. */
  readonly slab: string;
  readonly hardness: number;
  /** What the jobs on such slabs took, in words, or why nothing is known of it. */
  readonly jobs: "none" | "no factor" | { readonly factor: string };
  readonly instead?: Calibration;
}

export function otherSlab(plan: PlanState, written: Written | null): OtherSlab | null {
  const calibration = usedCalibration(plan);
  const { hardness } = plan.inputs;
  if (calibration?.by !== "hardness" || hardness === null) return null;
  const slab = hardnessClass(hardness);
  if (slab === calibration.value) return null;
  const other = { calibrated: calibration.value, slab, hardness };
  const group = written?.groups.find(({ by, value }) => by === "hardness" && value === slab);
  if (!group) return { ...other, jobs: "none" };
  if (!group.calibration) return { ...other, jobs: "no factor" };
  return { ...other, jobs: { factor: factorWords(group.calibration) }, instead: calibrationOf(written, group) };
}

/** How the button is called that takes the other jobs. */
export const insteadWords = (calibration: Calibration) => PLAN.useInstead(groupName(calibration));
