/** Changes of the sequence: each starts from the stages that are shown, and makes them the user's own. */
import { type PlannedStage, toolSize, type Work, workOf } from "../../functions/plan/proposal";
import type { Shelf } from "../../functions/plan/shelf";
import { derive } from "./derived";
import type { State } from "./state";

/** What the stages are before a change: the user's own, or those proposed. */
function changeStages(state: State, change: (stages: PlannedStage[]) => PlannedStage[]): State {
  const stages = derive(state).stages.map(({ work, tool, machine }) => ({ work, tool, machine }));
  return { ...state, ownStages: change(stages) };
}

const replaced = <T>(list: readonly T[], at: number, item: T): T[] => list.map((old, i) => (i === at ? item : old));

/** What this tool or liquid does in a sequence. */
function usualWork(name: string, state: State): Work {
  const { shelf } = state.shelf;
  const tool = shelf.tools.find((t) => t.name === name);
  if (tool) return workOf(tool, toolSize(tool, state.inputs));
  return shelf.liquids.find((liquid) => liquid.name === name)?.work ?? "grind";
}

export const setTool = (state: State, at: number, tool: string): State =>
  changeStages(state, (stages) => replaced(stages, at, { work: usualWork(tool, state), tool }));

export const setWork = (state: State, at: number, work: Work): State =>
  changeStages(state, (stages) => replaced(stages, at, { ...stages[at]!, work }));

export const addStage = (state: State, tool: string): State =>
  changeStages(state, (stages) => [...stages, { work: usualWork(tool, state), tool }]);

export const removeStage = (state: State, at: number): State =>
  changeStages(state, (stages) => stages.filter((_, i) => i !== at));

export function moveStage(state: State, at: number, by: 1 | -1): State {
  return changeStages(state, (stages) => {
    const other = stages[at + by];
    return other ? replaced(replaced(stages, at + by, stages[at]!), at, other) : stages;
  });
}

export const proposeAgain = (state: State): State => ({ ...state, ownStages: null });

/** The works that a tool or liquid can be put to. */
export function worksFor(name: string, shelf: Shelf): readonly Work[] {
  const liquid = shelf.liquids.find((l) => l.name === name);
  return liquid ? [liquid.work] : ["grind", "hone", "polish"];
}
