/** What the check of the list found, as the view shows it. */
import { type Audit, CAUSE_KEYS, CAUSES, type CalibrationGroup, hasCause } from "../../../functions/audit/audit";
import { hardnessClass } from "../../../functions/audit/classes";
import type { Mapping } from "../../../functions/audit/headings";
import { whyNotWords } from "../../../functions/audit/texts";
import type { Inputs } from "../../../functions/plan/inputs";
import { factorWords, ratio } from "../calibration";
import { money } from "../numbers";
import { afresh, type Checked, type JobsState } from "./state";
import { JOBS } from "./texts";

/** The audit sheet of the list is still there, so its calibration can still be referred to. */
export const takeCheck = (jobs: JobsState, checked: Checked): JobsState =>
  afresh(jobs, { checked, mappingOpen: false, written: jobs.written });

/** What became of the money of one cause. */
type Change = "lost" | "gained" | "no difference" | "not in the list" | "not known";

export interface FadeBar {
  readonly cause: string;
  /** Money lost; below 0 it was gained. */
  readonly money: number;
  /** Share of the longest bar. */
  readonly length: number;
  readonly change: Change;
}

export function fadeBars({ fade: { parts }, recorded }: Audit, mapping: Mapping): FadeBar[] {
  const longest = Math.max(...CAUSE_KEYS.map((cause) => Math.abs(parts[cause])));
  return CAUSE_KEYS.map((cause) => {
    const lost = parts[cause];
    const difference = lost > 0 ? "lost" : lost < 0 ? "gained" : "no difference";
    const known = recorded[cause] > 0 ? difference : "not known";
    const change = hasCause(mapping, cause) ? known : "not in the list";
    return { cause: CAUSES[cause], money: lost, length: longest > 0 ? Math.abs(lost) / longest : 0, change };
  });
}

/** Margin fade in a sentence, or two where the margin, which is a share, went the other way than the money. */
export function earned({ fade: { whole }, price, margin }: Audit): string {
  if (whole === 0) return JOBS.earnedAsQuoted;
  const isLess = whole > 0;
  const amount = JOBS.earned(money(Math.abs(whole)), isLess);
  const higher = margin ? margin.actual - margin.quoted : 0;
  if (isLess ? higher <= 0 : higher >= 0) return amount;
  const charged = price.actual - price.quoted;
  return `${amount} ${JOBS.marginWentOtherWay(isLess, money(Math.abs(charged)), charged < 0)}`;
}

/** How much of other comes only from missing details; empty where nothing does. */
export const unrecordedWords = ({ unrecorded: { jobs, other } }: Audit): string =>
  jobs === 0 ? "" : JOBS.unrecorded(money(other), jobs);

/** What a group's jobs took, in a sentence; or why that cannot be said yet. */
export const factorOf = ({ calibration, whyNot }: CalibrationGroup): string =>
  calibration ? factorWords(calibration) : whyNotWords(whyNot!);

/** What to think of before a group is used; empty where nothing stands out in it. */
export function markedWords({ marked, without }: CalibrationGroup): string {
  if (marked === 0) return "";
  return JOBS.marked(marked, without === undefined ? undefined : ratio(without));
}

/** The check in a sentence. */
export const checkDigest = ({ rows, problems, audit }: Checked): string =>
  JOBS.checkDigest(rows, audit.jobs, problems.length);

/** Whether the present plan's own slab is of the group. */
export const isThisSlab = ({ by, value }: CalibrationGroup, { hardness }: Inputs): boolean =>
  by === "hardness" && hardness !== null && value === hardnessClass(hardness);
