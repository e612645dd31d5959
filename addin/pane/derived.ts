/** What follows from a state: the sequence, its price, and what stands in the way of it. */
import { CellFailure } from "../../functions/cell";
import { type Estimate, estimate } from "../../functions/plan/estimate";
import {
  applies,
  FIELDS,
  GROUPS,
  type Group,
  type Inputs,
  KEYS,
  type Key,
  type Problems,
} from "../../functions/plan/inputs";
import { type PlannedStage, propose } from "../../functions/plan/proposal";
import type { Shelf } from "../../functions/plan/shelf";
import type { Plan } from "../sheet";
import { carried } from "./jobs";
import { allProblems, type State } from "./state";

export interface Derived {
  readonly problems: Problems;
  readonly firstProblem: Key | undefined;
  readonly stages: readonly (PlannedStage & { readonly reason?: string })[];
  readonly notes: readonly string[];
  readonly estimate: Estimate | null;
  /** Why there is no estimate, in words; empty where there is one. */
  readonly trouble: string;
}

export function derive(state: State): Derived {
  const { inputs, ownStages } = state;
  const { shelf, units } = state.shelf;
  const problems = allProblems(state);
  const firstProblem = KEYS.find((key) => problems[key]);
  const nothing = { problems, firstProblem, stages: ownStages ?? [], notes: [], estimate: null };
  if (firstProblem) return { ...nothing, trouble: countOf(problems) };
  if (units !== inputs.units) return { ...nothing, trouble: "Reading the shelf in the other units…" };
  if (state.shelf.unfit) return { ...nothing, trouble: `${state.shelf.unfit}.` };
  try {
    const proposal = propose(inputs, shelf);
    const stages = ownStages ?? proposal.stages;
    const known = { ...nothing, stages, notes: ownStages ? [] : proposal.notes };
    if (stages.length === 0) return { ...known, trouble: "No stages yet; add one from the shelf." };
    return { ...known, ...estimateOf(inputs, shelf, stages) };
  } catch (error) {
    return { ...nothing, trouble: messageOf(error) };
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
    pastJobs: carried(state),
  };
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
