/** What the plan takes over from a test strip, and the way back. */
import { inUnits } from "../../../functions/plan/inputs";
import { type PlanState, type Told, toggleGroup, without } from "./state";
import type { MeasuredCut } from "./strip";
import { PLAN } from "./texts";

type TakenCut = Pick<MeasuredCut, "tool" | "coefficient" | "size" | "slideSpeed">;

const TAKEN = ["cutCoefficient", "stripSize", "slideSpeed"] as const;

/** Takes every tool's cut in this plan from the strip. */
export function takeFromStrip(plan: PlanState, { tool, coefficient, size, slideSpeed }: TakenCut): Told {
  const taken = { cutCoefficient: coefficient, stripSize: size, slideSpeed };
  return {
    plan: {
      ...toggleGroup(plan, "planning", true),
      beforeStrip: { inputs: plan.inputs, links: plan.links },
      inputs: { ...plan.inputs, ...taken, passesFrom: "scratch" },
      typed: without(plan.typed, ...TAKEN),
      links: without(plan.links, ...TAKEN),
    },
    note: PLAN.stripTaken(tool.name),
  };
}

/** Cut and passes as they were before the strip was taken, in the units of now. */
export function restoreBeforeStrip(plan: PlanState): Told {
  const { beforeStrip } = plan;
  if (!beforeStrip) return { plan };
  const { cutCoefficient, stripSize, slideSpeed, passesFrom } = inUnits(beforeStrip.inputs, plan.inputs.units);
  const links = without(plan.links, ...TAKEN);
  // A cell of the user's still holds its old unit.
  const isSameUnit = beforeStrip.inputs.units === plan.inputs.units;
  for (const key of TAKEN) if (isSameUnit && beforeStrip.links[key]) links[key] = beforeStrip.links[key];
  return {
    plan: {
      ...plan,
      inputs: { ...plan.inputs, cutCoefficient, stripSize, slideSpeed, passesFrom },
      typed: without(plan.typed, ...TAKEN),
      links,
      beforeStrip: null,
    },
    note: PLAN.stripRestored,
  };
}
