/** Changes of the sequence: which of the two is shown, and the user's own, which start from what is shown. */
import { estimate, onCheapestMachines } from "../../../functions/plan/estimate";
import { type PlannedStage, toolSize, type Work, workOf } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import { money } from "../numbers";
import type { Message, State } from "../state";
import { derive } from "./derived";
import { type Source, totalsOf } from "./sequences";

const note = (text: string): Message => ({ kind: "note", text });

/** The cheapest sequence is worked out with passes as the scratches need, so the plan then counts them so. */
export function chooseSource(state: State, source: Source): State {
  if (source === "mine") return { ...passesGivenBack(state), source };
  if (state.inputs.passesFrom === "scratch") return { ...state, source };
  const text =
    "Passes are now as the scratches need, as the cheapest sequence counts them (section Passes and test strip). Going back to your own sequence brings them back.";
  const inputs = { ...state.inputs, passesFrom: "scratch" } as const;
  return { ...state, source, inputs, passesLent: true, message: note(text) };
}

/** Only looking at the cheapest sequence leaves the user's own as it was. */
function passesGivenBack(state: State): State {
  if (!state.passesLent) return state;
  const text = "Passes are as on the shelf again, as they were before the cheapest sequence was looked at.";
  const inputs = { ...state.inputs, passesFrom: "shelf" } as const;
  return { ...state, inputs, passesLent: false, message: note(text) };
}

/** The stages that are shown, as they are priced and written. */
const shown = (state: State): PlannedStage[] =>
  derive(state).stages.map(({ work, tool, machine = "" }) => ({ work, tool, machine }));

/** What is changed in the cheapest sequence makes it the user's own, as it was shown: passes and all. */
function changeStages(state: State, change: (stages: PlannedStage[]) => PlannedStage[]): State {
  return { ...state, source: "mine", passesLent: false, ownStages: change(shown(state)) };
}

const replaced = <T>(list: readonly T[], at: number, item: T): T[] => list.map((old, i) => (i === at ? item : old));

/** What this tool or liquid does in a sequence. */
function usualWork(name: string, state: State): Work {
  const { shelf } = state.shelf;
  const tool = shelf.tools.find((t) => t.name === name);
  if (tool) return workOf(tool, toolSize(tool, state.inputs));
  return shelf.liquids.find((liquid) => liquid.name === name)?.work ?? "grind";
}

/** Another tool stays on the stage's machine; a liquid has none. */
export const setTool = (state: State, at: number, tool: string): State =>
  changeStages(state, (stages) => {
    const machine = isTool(tool, state.shelf.shelf) ? stages[at]!.machine : "";
    return replaced(stages, at, { work: usualWork(tool, state), tool, machine });
  });

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

export const proposeAgain = (state: State): State => ({
  ...passesGivenBack(state),
  source: "mine",
  ownStages: null,
});

export const isTool = (name: string, shelf: Shelf): boolean => shelf.tools.some((tool) => tool.name === name);

/** An empty name is the machine of the inputs. */
export const setMachine = (state: State, at: number, machine: string): State =>
  changeStages(state, (stages) => replaced(stages, at, { ...stages[at]!, machine }));

/** Each stage on the machine that does it for the least money, and what that saves. */
export function putOnCheapestMachines(state: State): State {
  const { inputs } = state;
  const { shelf } = state.shelf;
  const now = shown(state);
  const best = onCheapestMachines(inputs, shelf, now);
  if (best.every(({ machine }, i) => machine === now[i]!.machine)) {
    return { ...state, message: note("Each stage is on its cheapest machine already.") };
  }
  const costOf = (stages: readonly PlannedStage[]) => totalsOf(estimate(inputs, shelf, stages)).cost;
  const saved = money(costOf(now) - costOf(best));
  const text = `Each stage is now on the machine that does it for least: ${saved} less for the stages.`;
  return { ...state, source: "mine", passesLent: false, ownStages: best, message: note(text) };
}

/** The works that a tool or liquid can be put to. */
export function worksFor(name: string, shelf: Shelf): readonly Work[] {
  const liquid = shelf.liquids.find((l) => l.name === name);
  return liquid ? [liquid.work] : ["grind", "hone", "polish"];
}
