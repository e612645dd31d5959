/** A shelf of any length for measuring the search: every bond, in even ratios from 1000 µm down to 5 µm. */
import type { PlanFloor, PlanTool } from "../functions/planning";

const SHARES = { metal: 0.5, transitional: 0.35, resin: 0.2 };
const FINISH_GRIT = 3000;

/** A hall from a rough floor to the finest of them. */
export const HALL: PlanFloor = {
  area: 5000,
  hourCost: 110,
  areaRate: 600,
  startScratch: 700,
  finishGrit: FINISH_GRIT,
  maxRatio: 2.5,
  changeCost: 20,
};

export function evenShelf(tools: number): (PlanTool & { grit: number })[] {
  return Array.from({ length: tools }, (_, i) => {
    const bond = (["metal", "transitional", "resin"] as const)[i % 3]!;
    const size = 1000 * 200 ** (-i / (tools - 1));
    const grit = i === tools - 1 ? FINISH_GRIT : 15000 / size;
    return { grit, bond, size, scratch: SHARES[bond] * size, cut: size / 8, life: 3000, price: 200 + (i % 7) * 10 };
  });
}

/** The same tools as the range that CHEAPESTSTEPS takes. */
export const rangeOf = (tools: readonly PlanTool[]): unknown[][] =>
  tools.map(({ grit, bond, size, cut, life, price }) => [grit, bond, size, cut, life, price]);
