/*
 * Why the trade doubles. Let a tool of size d leave a scratch σd and cut γd in a pass, and let every step down be of the
 * same ratio r. Clearing the scratch σrd down to σd takes (σ/γ)(r − 1) passes, whatever d: call the cost of that
 * c (r − 1), c being what it costs a tool to grind off one depth of its own scratch. Each step costs F besides (changing
 * tools, edges, a look at the floor). A total ratio R takes ln R / ln r steps, so the whole costs
 *
 *     ln R × (c (r − 1) + F) / ln r,
 *
 * which is least where its derivative is nought: r ln r − r + 1 = F/c. At r = 2 that is F/c = 2 ln 2 − 1 = 0.386.
 * The answer hardly moves with the guess: from F/c = 0.11 to 0.79 it only goes from 1.5 to 2.5. So wherever changing
 * tools costs a tenth to three quarters of grinding off a scratch, the best step is about double, at any grit.
 */
import { cheapestSteps, type PlanTool } from "../../functions/planning";

/** σ, the share of its size that a metal tool's scratch is deep. */
const SHARE = 0.5;

/** c in passes: so many that whole passes are as good as any number. */
const MANY_PASSES = 1000;

/** F/c at which doubling is exactly right. */
export const AT_DOUBLE = 2 * Math.log(2) - 1;

/** The derivation's cost per unit of ln R, in units of c. */
export const costPerLn = (ratio: number, fixed: number) => (ratio - 1 + fixed) / Math.log(ratio);

/** The ratio at which r ln r − r + 1 is F/c, by halving. */
export function bestRatio(fixed: number): number {
  let [low, high] = [1, 100];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (middle * Math.log(middle) - middle + 1 < fixed) low = middle;
    else high = middle;
  }
  return low;
}

/** A tool that takes off the depth of its own scratch in so many passes; a pass costs 1. */
export const toolOf = (grit: number, size: number, passesAScratch = MANY_PASSES): PlanTool => {
  const scratch = SHARE * size;
  return { grit, bond: "metal", size, scratch, cut: scratch / passesAScratch, life: 1, price: 0 };
};

/** A floor with the scratches that a tool of this size left, where a change of tools costs F/c as given. */
export const floorAfter = (size: number, finishGrit: number, fixed: number, passesAScratch = MANY_PASSES) => ({
  area: 1,
  hourCost: 1,
  areaRate: 1,
  startScratch: SHARE * size,
  finishGrit,
  maxRatio: 100,
  changeCost: fixed * passesAScratch,
});

/** The same cost per unit of ln R as the search counts it: of one step of that ratio down to a tool of some size. */
export function searchedCostPerLn(ratio: number, fixed: number, passesAScratch = MANY_PASSES, size = 100): number {
  const [step] = cheapestSteps([toolOf(1, size, passesAScratch)], floorAfter(ratio * size, 1, fixed, passesAScratch));
  return step!.cost / passesAScratch / Math.log(ratio);
}
