/** What follows from a state: the sequence, its price, and what stands in the way of it. */
import { CellFailure } from "../../../functions/cell";
import { type Estimate, estimate } from "../../../functions/plan/estimate";
import { FIELDS, GROUPS, type Group, KEYS, type Key } from "../../../functions/plan/fields";
import { applies, type Inputs, type Problems } from "../../../functions/plan/inputs";
import { type PlannedStage, type Proposal, propose } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import type { Plan } from "../../sheet";
import { carried } from "../jobs/state";
import { allProblems, type State } from "../state";
import { type Comparison, cheapestFor, compare, type Source } from "./sequences";

export interface Derived {
  readonly problems: Problems;
  readonly firstProblem: Key | undefined;
  readonly stages: readonly (PlannedStage & { readonly reason?: string })[];
  readonly notes: readonly string[];
  readonly estimate: Estimate | null;
  /** Why nothing can be written, in words; empty where it can. There may be a price all the same. */
  readonly trouble: string;
  /** The user's sequence beside the cheapest from the shelf. */
  readonly comparison: Comparison | null;
  /** Why they are not side by side, in words; empty where they are. */
  readonly noComparison: string;
}

export function derive(state: State): Derived {
  const { inputs, ownStages, source } = state;
  const { shelf, units } = state.shelf;
  const problems = allProblems(state);
  const firstProblem = KEYS.find((key) => problems[key]);
  const stages = source === "mine" ? (ownStages ?? []) : [];
  const nothing = { problems, firstProblem, stages, notes: [], estimate: null, comparison: null, noComparison: "" };
  if (KEYS.some((key) => problems[key] && !isOfExposure(key))) return { ...nothing, trouble: countOf(problems) };
  if (units !== inputs.units) return { ...nothing, trouble: "Reading the shelf in the other units…" };
  if (state.shelf.unfit) return { ...nothing, trouble: `${state.shelf.unfit}.` };
  try {
    const mine = ownStages ? { stages: ownStages, notes: [] } : propose(inputs, shelf);
    const cheapest = cheapestFor(inputs, shelf);
    const shown = source === "mine" ? mine : { ...cheapest, notes: [...cheapest.notes, ...countedOtherwise(inputs)] };
    const known = { ...nothing, ...shown, ...comparisonOf(inputs, shelf, mine.stages, cheapest) };
    if (shown.stages.length === 0) return { ...known, trouble: NO_STAGES[source] };
    const priced = { ...known, ...estimateOf(inputs, shelf, shown.stages) };
    return { ...priced, trouble: priced.trouble || troubleOfExposure(problems) };
  } catch (error) {
    return { ...nothing, trouble: messageOf(error) };
  }
}

const isOfExposure = (key: Key) => FIELDS[key].group === "exposure";

/** The price does without the crew's exposure, but nothing is written with a wrong one in it. */
function troubleOfExposure(problems: Problems): string {
  const bad = KEYS.find((key) => problems[key] && isOfExposure(key));
  return bad ? `${GROUPS.exposure}: ${problems[bad]}.` : "";
}

const NO_STAGES = {
  mine: "No stages yet; add one from the shelf.",
  cheapest: "The shelf has no sequence for this floor.",
} as const satisfies Record<Source, string>;

const countedOtherwise = ({ passesFrom }: Inputs) =>
  passesFrom === "scratch"
    ? []
    : ["Cheapest with passes as the scratches need; here they are as on the shelf, so it may not be the cheapest."];

function comparisonOf(inputs: Inputs, shelf: Shelf, mine: readonly PlannedStage[], cheapest: Proposal) {
  const none = (noComparison: string) => ({ comparison: null, noComparison });
  if (mine.length === 0) return none("Nothing to compare: your sequence has no stages yet.");
  if (cheapest.stages.length === 0) return none(cheapest.notes.join(" "));
  try {
    return { comparison: compare(inputs, shelf, mine, cheapest.stages), noComparison: "" };
  } catch (error) {
    return none(messageOf(error));
  }
}

function estimateOf(inputs: Inputs, shelf: Shelf, stages: readonly PlannedStage[]) {
  try {
    return { estimate: estimate(inputs, shelf, stages), trouble: "" };
  } catch (error) {
    return { estimate: null, trouble: messageOf(error) };
  }
}

/** The functions' own refusals are messages for the user; anything else is a fault of ours. */
function messageOf(error: unknown): string {
  if (error instanceof CellFailure) return error.message;
  throw error;
}

function countOf(problems: Problems): string {
  const sections = Object.keys(GROUPS) as Group[];
  const bad = Object.keys(problems) as Key[];
  const where = sections.filter((group) => bad.some((key) => FIELDS[key].group === group)).map((g) => GROUPS[g]);
  return `${bad.length === 1 ? "One field needs" : `${bad.length} fields need`} attention: ${where.join(", ")}.`;
}

/** What is written into the workbook. */
export function planOf(state: State): Plan {
  const links = Object.entries(state.links).filter(([key]) => applies(key as Key, state.inputs));
  return {
    inputs: state.inputs,
    links: Object.fromEntries(links),
    stages: derive(state).stages.map(({ work, tool, machine }) => ({ work, tool, machine })),
    shelf: state.shelf.shelf,
    pastJobs: pastJobsOf(state),
  };
}

function pastJobsOf(state: State): Plan["pastJobs"] {
  const lesson = carried(state);
  return lesson && { ...lesson, slab: lesson.by === "hardness" ? lesson.value : undefined };
}

/** Why the workbook cannot be worked on right now; empty when it can. */
export function unavailable(state: State): string {
  if (state.host === "absent") return "Not inside the spreadsheet: there is no workbook to write to.";
  if (state.host === "waiting") return "Waiting for the spreadsheet.";
  if (state.busy) return state.busy;
  return state.question ? "Answer the question first." : "";
}

/** Why nothing can be inserted right now; empty when it can. */
export const hindrance = (state: State, derived: Derived): string => unavailable(state) || derived.trouble;
