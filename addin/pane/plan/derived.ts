/** What follows from a plan: the sequence, its price, and what stands in the way of it. */
import { CellFailure } from "../../../functions/answer";
import { type Estimate, estimate } from "../../../functions/plan/estimate";
import { type Choice, GROUPS, type Group } from "../../../functions/plan/field";
import { FIELDS, field, KEYS, type Key } from "../../../functions/plan/fields";
import { applies, type Inputs, signBefore, unitOf } from "../../../functions/plan/inputs";
import type { Problems } from "../../../functions/plan/problems";
import type { Proposal } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
import type { Plan } from "../../sheet";
import { briefly, withUnit } from "../numbers";
import { usedCalibration } from "./calibration";
import { allDoubts } from "./doubts";
import { type Comparison, cheapestFor, compare, proposalFor, type Source, wantedUnpriced } from "./sequences";
import { allProblems, fieldsIn, type PlanState } from "./state";
import { PLAN } from "./texts";

export interface Derived {
  readonly problems: Problems;
  readonly firstProblem: Key | undefined;
  readonly stages: readonly (PlannedStage & { readonly reason?: string })[];
  readonly notes: readonly string[];
  /** What the plan leaves out because the shelf has no price for it. */
  readonly leftOut: readonly string[];
  readonly estimate: Estimate | null;
  /** Why nothing can be written; null where it can. There may be a price all the same. */
  readonly trouble: Trouble | null;
  /** The user's sequence beside the cheapest from the shelf. */
  readonly comparison: Comparison | null;
  /** Why they are not side by side; null where they are. */
  readonly noComparison: NoComparison | null;
}

/** Why nothing can be written. */
export type Trouble =
  | { readonly kind: "fields"; readonly count: number; readonly groups: readonly Group[] }
  | { readonly kind: "shelfInOtherUnits" }
  | { readonly kind: "shelfUnfit"; readonly why: string }
  | { readonly kind: "noStages"; readonly source: Source }
  | { readonly kind: "exposure"; readonly problem: string }
  | Refused;

/** Why the two sequences are not side by side. */
export type NoComparison =
  | { readonly kind: "noOwnStages" }
  | { readonly kind: "noCheapest"; readonly notes: readonly string[] }
  /** Mine costs less, by leaving out what the cheapest must have. */
  | { readonly kind: "mineSkips" }
  | Refused;

/** The arithmetic has no answer, for a reason in its own words. */
interface Refused {
  readonly kind: "refused";
  readonly why: string;
}

export function derive(plan: PlanState): Derived {
  const { inputs, ownStages, source } = plan;
  const { shelf, units } = plan.shelf;
  const problems = allProblems(plan);
  const firstProblem = KEYS.find((key) => problems[key]);
  const stages = source === "mine" ? (ownStages ?? []) : [];
  const nothing = {
    problems,
    firstProblem,
    stages,
    notes: [],
    leftOut: [],
    estimate: null,
    comparison: null,
    noComparison: null,
  };
  if (KEYS.some((key) => problems[key] && !isOfExposure(key))) return { ...nothing, trouble: fieldsToFix(problems) };
  if (units !== inputs.units) return { ...nothing, trouble: { kind: "shelfInOtherUnits" } };
  if (plan.shelf.unfit) return { ...nothing, trouble: { kind: "shelfUnfit", why: plan.shelf.unfit } };
  try {
    const mine = ownStages ? { stages: ownStages, notes: [] } : proposalFor(inputs, shelf);
    const cheapest = cheapestFor(inputs, shelf);
    const shown = source === "mine" ? mine : cheapest;
    const leftOut = wantedUnpriced(inputs, shelf, plan.shelf.unpriced);
    const known = { ...nothing, ...shown, leftOut, ...comparisonOf(inputs, shelf, mine.stages, cheapest) };
    if (shown.stages.length === 0) return { ...known, trouble: { kind: "noStages", source } };
    const priced = { ...known, ...estimateOf(inputs, shelf, shown.stages) };
    return { ...priced, trouble: priced.trouble ?? troubleOfExposure(problems) };
  } catch (error) {
    return { ...nothing, trouble: refused(error) };
  }
}

const isOfExposure = (key: Key) => FIELDS[key].group === "exposure";

/** The price does without the crew's exposure, but nothing is written with a wrong one in it. */
function troubleOfExposure(problems: Problems): Trouble | null {
  const bad = KEYS.find((key) => problems[key] && isOfExposure(key));
  return bad ? { kind: "exposure", problem: problems[bad]! } : null;
}

function comparisonOf(inputs: Inputs, shelf: Shelf, mine: readonly PlannedStage[], cheapest: Proposal) {
  const none = (noComparison: NoComparison) => ({ comparison: null, noComparison });
  if (mine.length === 0) return none({ kind: "noOwnStages" });
  if (cheapest.stages.length === 0) return none({ kind: "noCheapest", notes: cheapest.notes });
  try {
    const comparison = compare(inputs, shelf, mine, cheapest.stages);
    return comparison ? { comparison, noComparison: null } : none({ kind: "mineSkips" });
  } catch (error) {
    return none(refused(error));
  }
}

function estimateOf(inputs: Inputs, shelf: Shelf, stages: readonly PlannedStage[]) {
  try {
    return { estimate: estimate(inputs, shelf, stages), trouble: null };
  } catch (error) {
    return { estimate: null, trouble: refused(error) };
  }
}

/** The functions' own refusals are messages for the user; anything else is a fault of ours. */
function refused(error: unknown): Refused {
  if (error instanceof CellFailure) return { kind: "refused", why: error.message };
  throw error;
}

function fieldsToFix(problems: Problems): Trouble {
  const bad = Object.keys(problems) as Key[];
  const groups = (Object.keys(GROUPS) as Group[]).filter((group) => bad.some((key) => FIELDS[key].group === group));
  return { kind: "fields", count: bad.length, groups };
}

/** What is written into the workbook. */
export function planOf(plan: PlanState): Plan {
  const links = Object.entries(plan.links).filter(([key]) => applies(key as Key, plan.inputs));
  const derived = derive(plan);
  return {
    inputs: plan.inputs,
    links: Object.fromEntries(links),
    stages: derived.stages.map(({ reason: _, ...stage }) => stage),
    shelf: plan.shelf.shelf,
    notes: [...derived.notes, ...derived.leftOut.map(PLAN.noPrice), ...allDoubts(plan)],
    pastJobs: pastJobsOf(plan),
  };
}

function pastJobsOf(plan: PlanState): Plan["pastJobs"] {
  const calibration = usedCalibration(plan);
  return calibration && { ...calibration, slab: calibration.by === "hardness" ? calibration.value : undefined };
}

/** A closed section's first values, so that it need not be opened to be checked. */
export function digest(group: Group, inputs: Inputs): string {
  const parts = fieldsIn(group, inputs).map((key) => {
    const f = field(key);
    const value = inputs[key];
    if (f.kind === "choice") return labelOf(f.choices, value);
    if (f.kind === "text") return key === "currency" ? "" : String(value);
    if (value === null) return "";
    const number = `${f.money ? signBefore(inputs) : ""}${briefly(value as number, f)}`;
    return `${f.label.toLowerCase()} ${withUnit(number, unitOf(key, inputs.units))}`;
  });
  return parts.filter((part) => part !== "").join(" · ");
}

const labelOf = (choices: readonly Choice[], value: unknown) =>
  choices.find(([word]) => word === value)?.[1] ?? String(value);
