/** Changes of the sequence: which of the two is shown, and the user's own, which start from what is shown. */
import { estimate, onCheapestMachines } from "../../../functions/plan/estimate";
import { signBefore } from "../../../functions/plan/inputs";
import type { Shelf } from "../../../functions/plan/shelf";
import { type PlannedStage, toolSize, workOf } from "../../../functions/plan/stage";
import type { Work } from "../../../functions/plan/works";
import { money } from "../numbers";
import { derive } from "./derived";
import { type Source, totalsOf } from "./sequences";
import { type PlanState, type Told, without } from "./state";
import { PLAN } from "./texts";

export const chooseSource = (plan: PlanState, source: Source): PlanState => ({ ...plan, source });

/** The stages that are shown, as they are priced and written. */
const shown = (plan: PlanState): PlannedStage[] =>
  derive(plan).stages.map(({ work, tool, machine = "", passes }) => ({
    work,
    tool,
    machine,
    ...(passes !== undefined && { passes }),
  }));

/** What is changed in the cheapest sequence makes it the user's own. */
function changeStages(plan: PlanState, change: (stages: PlannedStage[]) => PlannedStage[]): PlanState {
  return { ...plan, source: "mine", ownStages: change(shown(plan)) };
}

const replaced = <T>(list: readonly T[], at: number, item: T): T[] => list.map((old, i) => (i === at ? item : old));

/** What this tool or liquid does in a sequence. */
function usualWork(name: string, plan: PlanState): Work {
  const { shelf } = plan.shelf;
  const tool = shelf.tools.find((t) => t.name === name);
  if (tool) return workOf(tool, toolSize(tool, plan.inputs));
  return shelf.liquids.find((liquid) => liquid.name === name)?.work ?? "grind";
}

/** Another tool stays on the stage's machine; a liquid has none. */
export const setTool = (plan: PlanState, at: number, tool: string): PlanState =>
  changeStages(plan, (stages) => {
    const machine = isTool(tool, plan.shelf.shelf) ? stages[at]!.machine : "";
    return replaced(stages, at, { work: usualWork(tool, plan), tool, machine });
  });

export const setWork = (plan: PlanState, at: number, work: Work): PlanState =>
  changeStages(plan, (stages) => replaced(stages, at, { ...stages[at]!, work }));

export const addStage = (plan: PlanState, tool: string): PlanState =>
  changeStages(plan, (stages) => [...stages, { work: usualWork(tool, plan), tool }]);

export const removeStage = (plan: PlanState, at: number): PlanState =>
  changeStages(plan, (stages) => stages.filter((_, i) => i !== at));

export function moveStage(plan: PlanState, at: number, by: 1 | -1): PlanState {
  return changeStages(plan, (stages) => {
    const other = stages[at + by];
    return other ? replaced(replaced(stages, at + by, stages[at]!), at, other) : stages;
  });
}

/** Passes or coats as they are worked out, in place of those that were typed on the sheet. */
export const workOutPasses = (plan: PlanState, at: number): PlanState =>
  changeStages(plan, (stages) => replaced(stages, at, without(stages[at]!, "passes")));

export const proposeAgain = (plan: PlanState): PlanState => ({ ...plan, source: "mine", ownStages: null });

export const isTool = (name: string, shelf: Shelf): boolean => shelf.tools.some((tool) => tool.name === name);

/** An empty name is the machine entered above. */
export const setMachine = (plan: PlanState, at: number, machine: string): PlanState =>
  changeStages(plan, (stages) => replaced(stages, at, { ...stages[at]!, machine }));

/** Each stage on the machine that does it for the least money, and what that saves. */
export function putOnCheapestMachines(plan: PlanState): Told {
  const { inputs } = plan;
  const { shelf } = plan.shelf;
  const now = shown(plan);
  const best = onCheapestMachines(inputs, shelf, now);
  if (best.every(({ machine }, i) => machine === now[i]!.machine)) {
    return { plan, note: PLAN.cheapestMachinesAlready };
  }
  const costOf = (stages: readonly PlannedStage[]) => totalsOf(estimate(inputs, shelf, stages)).cost;
  const saved = money(costOf(now) - costOf(best), signBefore(inputs));
  return { plan: { ...plan, source: "mine", ownStages: best }, note: PLAN.cheapestMachines(saved) };
}

/** The works that a tool or liquid can be put to. */
export function worksFor(name: string, shelf: Shelf): readonly Work[] {
  const liquid = shelf.liquids.find((l) => l.name === name);
  if (liquid) return [liquid.work];
  const tool = shelf.tools.find((t) => t.name === name);
  if (tool?.stripRate) return ["strip"];
  // Coarse metal takes coatings off too.
  return ["grind", "hone", "polish", ...(tool?.bond === "metal" ? (["strip"] as const) : [])];
}
