/** A pane without a page: its state, and the commands of all views. */
import { paneOn } from "../../../addin/pane/commands";
import { functionsCommands } from "../../../addin/pane/functions/actions";
import { jobsCommands } from "../../../addin/pane/jobs/actions";
import { keepUp } from "../../../addin/pane/keep-up";
import { type PlanCommands, planCommands } from "../../../addin/pane/plan/actions";
import { fillInExample, type PlanState, startPlan } from "../../../addin/pane/plan/state";
import { shareCommands } from "../../../addin/pane/share/actions";
import { type State, startState } from "../../../addin/pane/state";
import { Store } from "../../../addin/pane/store";

export function openPane(state: Partial<State> = {}, plan: Partial<PlanState> = {}) {
  const first = startState({ ...fillInExample(startPlan()), ...plan });
  const store = new Store<State>({ ...first, host: "ready", code: { ...first.code, plan: "here" }, ...state });
  const pane = paneOn(store);
  const commands = {
    ...pane,
    ...planCommands(pane),
    ...functionsCommands(pane),
    jobs: jobsCommands(pane),
    share: shareCommands(pane),
  };
  return { store, commands };
}

export type OpenPane = ReturnType<typeof openPane>;
export type Commands = OpenPane["commands"];

/** As the page does: the plan is read again whenever it may be out of date. */
export function followPlan({ store, commands }: OpenPane): void {
  const { isToRead, read }: Pick<PlanCommands, "isToRead" | "read"> = commands;
  keepUp(store, { opened: { plan: { needsWorkbook: true, isToRead, read } }, load: async () => undefined });
}
