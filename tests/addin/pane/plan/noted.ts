/** Changes of a plan that may have something to say, with what they said as the plan's note. */
import * as draft from "../../../../addin/pane/plan/draft";
import * as fromStrip from "../../../../addin/pane/plan/from-strip";
import * as stages from "../../../../addin/pane/plan/stages";
import * as plans from "../../../../addin/pane/plan/state";
import * as strips from "../../../../addin/pane/plan/strip";
import type { EntryKey, StripState } from "../../../../addin/pane/plan/strip-state";

export type NotedPlan = plans.PlanState & { readonly note?: string };

const noted =
  <Rest extends unknown[]>(change: (plan: plans.PlanState, ...rest: Rest) => plans.Told) =>
  (before: NotedPlan, ...rest: Rest): NotedPlan => {
    const { plan, note } = change(before, ...rest);
    return plan === before && note === undefined ? before : { ...plan, note: note ?? before.note };
  };

export const setChoice = noted(plans.setChoice);
export const chooseSource = (plan: NotedPlan, source: Parameters<typeof stages.chooseSource>[1]): NotedPlan =>
  stages.chooseSource(plan, source);
export const proposeAgain = (plan: NotedPlan): NotedPlan => stages.proposeAgain(plan);
export const putOnCheapestMachines = noted(stages.putOnCheapestMachines);
export const takeFromStrip = noted(fromStrip.takeFromStrip);
export const restoreBeforeStrip = noted(fromStrip.restoreBeforeStrip);
export const withDraft = noted(draft.withDraft);

const onStrip = <Plan extends plans.PlanState>(plan: Plan, change: (now: StripState) => StripState): Plan => ({
  ...plan,
  strip: change(plan.strip),
});
export const typeEntry = <Plan extends plans.PlanState>(plan: Plan, key: EntryKey, text: string): Plan =>
  onStrip(plan, (now) => strips.typeEntry(now, key, text));
export const chooseOnStrip = <Plan extends plans.PlanState>(plan: Plan, choice: Partial<StripState>): Plan =>
  onStrip(plan, (now) => ({ ...now, ...choice }));
