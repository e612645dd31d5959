import { describe, expect, it } from "vitest";
import { cheapestSteps } from "../../functions/planning";
import { expectClose, reference } from "../helpers";
import { AT_DOUBLE, bestRatio, costPerLn, floorAfter, searchedCostPerLn, toolOf } from "./about-double";
import { stepChart } from "./step-chart";

const DERIVATION = "hand: the derivation in about-double.ts, least where r ln r − r + 1 = F/c";

const RUNGS_A_DOUBLING = 40;
const DOUBLINGS = 6;
const COARSEST = 1000; // µm

/** Sizes in very small, even ratios: six doublings from the coarsest to the finest. */
const FINE_SHELF = Array.from({ length: RUNGS_A_DOUBLING * DOUBLINGS }, (_, k) =>
  toolOf(k + 1, COARSEST * 2 ** (-(k + 1) / RUNGS_A_DOUBLING)),
);

/** The steps that the search picks from the fine shelf. */
const wayDown = (fixed: number) => cheapestSteps(FINE_SHELF, floorAfter(COARSEST, FINE_SHELF.length, fixed));

/** Their mean ratio. */
const meanRatio = (fixed: number) => 2 ** (DOUBLINGS / wayDown(fixed).length);

/** Ratios to choose among, from 1.05 to 5. */
const RATIOS = Array.from({ length: 80 }, (_, i) => (105 + 5 * i) / 100);

const cheapestOf = (cost: (ratio: number) => number) =>
  RATIOS.reduce((best, ratio) => (cost(ratio) < cost(best) ? ratio : best));

describe("the trade's rule of about double", () => {
  reference("comes out exactly where a step costs 2 ln 2 − 1 of grinding off a scratch", DERIVATION, () => {
    expectClose(bestRatio(AT_DOUBLE), 2);
    expect(cheapestOf((ratio) => searchedCostPerLn(ratio, AT_DOUBLE))).toBe(2);
    expect(meanRatio(AT_DOUBLE)).toBe(2);
  });

  reference("costs by the search what the derivation says, at any ratio and any grit", DERIVATION, () => {
    for (const ratio of RATIOS) {
      for (const size of [600, 75, 5]) {
        // Whole passes: one more at most than the 50 and more that it takes, and a change costs 386.
        expectClose(searchedCostPerLn(ratio, AT_DOUBLE, 1000, size), costPerLn(ratio, AT_DOUBLE), 0.003);
      }
    }
  });

  for (const fixed of [0.11, 0.2, 0.3, 0.5, 0.79]) {
    reference(
      `gives ${bestRatio(fixed).toFixed(2)} where a step costs ${fixed} of grinding off a scratch`,
      DERIVATION,
      () => {
        const best = cheapestOf((ratio) => searchedCostPerLn(ratio, fixed));
        expect(Math.abs(best - bestRatio(fixed))).toBeLessThanOrEqual(0.05);
        // The number of steps down is whole, so the best can be off by part of one.
        const ideal = (DOUBLINGS * Math.LN2) / Math.log(bestRatio(fixed));
        expect(Math.abs(wayDown(fixed).length - ideal)).toBeLessThan(1);
      },
    );
  }

  it("holds from a tenth to three quarters of grinding off a scratch, and not for far other costs", () => {
    for (const fixed of [0.11, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75]) {
      expect(meanRatio(fixed)).toBeGreaterThanOrEqual(1.49);
      expect(meanRatio(fixed)).toBeLessThanOrEqual(2.55);
    }
    expect(meanRatio(0.005)).toBeLessThan(1.3);
    expect(meanRatio(5)).toBeGreaterThan(3.5);
  });

  reference(
    "holds in whole passes, where changing tools costs one pass",
    "hand: with k passes a scratch a step of ratio 1 + n/k is n passes and the change; the least of (n + 1) / ln(1 + n/k)",
    () => {
      // k = 2: 2/ln 1.5 = 4.93, 3/ln 2 = 4.33, 4/ln 2.5 = 4.37. k = 3: 3/ln 1.67 = 5.87, 4/ln 2 = 5.77,
      // 5/ln 2.33 = 5.90. k = 4: 3/ln 1.5 = 7.40, 4/ln 1.75 = 7.15, 5/ln 2 = 7.21.
      for (const [passesAScratch, best] of [
        [2, 2],
        [3, 2],
        [4, 1.75],
      ] as const) {
        expect(cheapestOf((ratio) => searchedCostPerLn(ratio, 1 / passesAScratch, passesAScratch))).toBe(best);
      }
    },
  );

  reference(
    "is forgiving: from 1.5 to 3 it costs at most a tenth more than at 2",
    "hand: 0.886/ln 1.5 = 2.186, 2.386/ln 3 = 2.172, and (2 × 1.1) at 2; twice that far off, at 4, 3.386/ln 4 = 2.443",
    () => {
      const atDouble = searchedCostPerLn(2, AT_DOUBLE);
      expectClose(atDouble, 2, 1e-3);
      expectClose(searchedCostPerLn(1.5, AT_DOUBLE), 2.186, 1e-3);
      expectClose(searchedCostPerLn(3, AT_DOUBLE), 2.172, 1e-3);
      expectClose(searchedCostPerLn(4, AT_DOUBLE), 2.443, 1e-3);
      for (const ratio of RATIOS.filter((r) => r >= 1.5 && r <= 3)) {
        expect(searchedCostPerLn(ratio, AT_DOUBLE)).toBeLessThan(1.1 * atDouble);
      }
    },
  );

  it("is what the search takes step by step, and not only on the whole", () => {
    const steps = wayDown(AT_DOUBLE);
    expect(steps).toHaveLength(DOUBLINGS);
    for (const { ratio } of steps.slice(1)) expect(Math.abs(ratio! - 2)).toBeLessThan(0.15);
  });

  it("is drawn in the chart of DEVELOPERS.md as it comes out now; if not: npm run step-chart", async () => {
    await expect(stepChart()).toMatchFileSnapshot("about-double.svg");
  });
});
