import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scratch, stepCheck } from "../../functions/grit";
import { cheapestSteps, cheapestStepsTable, type PlanFloor, type PlanTool } from "../../functions/planning";
import { ask, expectClose, reference } from "../helpers";

type Bond = PlanTool["bond"];

interface Shelved {
  grit: number;
  bond: Bond;
  size: number;
  cut: number;
  life: number;
  price: number;
}

const BONDS: Bond[] = ["metal", "transitional", "resin"];

/** A shelf of few grits, so that ends, twins and overlaps between bonds come often. */
const tool: fc.Arbitrary<Shelved> = fc.record({
  grit: fc.constantFrom(16, 30, 60, 100, 200, 400),
  bond: fc.constantFrom(...BONDS),
  size: fc.constantFrom(1180, 600, 400, 250, 200, 150, 75, 38),
  cut: fc.integer({ min: 3, max: 120 }),
  life: fc.integer({ min: 500, max: 6000 }),
  price: fc.integer({ min: 0, max: 500 }),
});

const floor: fc.Arbitrary<PlanFloor> = fc.record({
  area: fc.integer({ min: 100, max: 5000 }),
  hourCost: fc.integer({ min: 0, max: 200 }),
  areaRate: fc.integer({ min: 100, max: 1500 }),
  startScratch: fc.integer({ min: 30, max: 700 }),
  finishGrit: fc.constantFrom(30, 60, 100, 200, 400),
  maxRatio: fc.constantFrom(1.6, 2, 2.5, 4, 10),
  changeCost: fc.constantFrom(0, 0, 25, 400),
});

/** The range that the spreadsheet passes, and the answer as its rows of cost; nothing where there is no sequence. */
function planned(shelf: Shelved[], f: PlanFloor): { cost: number; steps: any[][] } | undefined {
  const tooling = shelf.map(({ grit, bond, size, cut, life, price }) => [grit, bond, size, cut, life, price]);
  const args = [f.area, f.hourCost, f.areaRate, f.startScratch, f.finishGrit, f.maxRatio, f.changeCost];
  const table = ask(cheapestStepsTable, tooling, ...args);
  if (!Array.isArray(table)) {
    expect(table.code).toBe("#NUM!");
    return undefined;
  }
  const steps = table.slice(1);
  return { cost: steps.reduce((sum: number, line: any[]) => sum + line[6], 0), steps };
}

/** Depth that the contract gives the scratch: SCRATCH with its size as the grit. */
const depth = ({ size, bond }: Shelved): number => ask(scratch, size, bond, "um");

/** What the contract says one sequence costs; nothing where one of its steps is not allowed. */
function costOf(sequence: Shelved[], f: PlanFloor): number | undefined {
  let cost = 0;
  let left = f.startScratch;
  for (const [i, next] of sequence.entries()) {
    const before = sequence[i - 1];
    const allowed = before
      ? ask(stepCheck, before.size, next.size, before.bond, next.bond, f.maxRatio, "um") === "ok"
      : depth(next) <= left;
    if (!allowed) return undefined;
    const passes = Math.max(1, Math.ceil((left - depth(next)) / next.cut - 1e-9));
    cost += passes * f.area * (f.hourCost / f.areaRate + next.price / next.life) + f.changeCost;
    left = depth(next);
  }
  return cost;
}

/** The least cost over every subset of the shelf, each in the one order that its bonds and sizes leave open. */
function leastCost(shelf: Shelved[], f: PlanFloor): number | undefined {
  const ordered = [...shelf].sort((a, b) => BONDS.indexOf(a.bond) - BONDS.indexOf(b.bond) || b.size - a.size);
  let least: number | undefined;
  for (let subset = 1; subset < 2 ** ordered.length; subset++) {
    const sequence = ordered.filter((_, i) => subset & (2 ** i));
    if (sequence.at(-1)!.grit !== f.finishGrit) continue;
    const cost = costOf(sequence, f);
    if (cost !== undefined && (least === undefined || cost < least)) least = cost;
  }
  return least;
}

/** The trade's habit: from where one stands, the tool whose size is nearest to half, until the finishing grit. */
function doubling(shelf: Shelved[], f: PlanFloor): Shelved[] | undefined {
  const start = shelf.filter((t) => depth(t) <= f.startScratch).sort((a, b) => depth(b) - depth(a))[0];
  const sequence = start ? [start] : [];
  while (sequence.length > 0 && sequence.at(-1)!.grit !== f.finishGrit) {
    const last = sequence.at(-1)!;
    const distance = (t: Shelved) => Math.abs(Math.log(last.size / t.size / 2));
    const next = shelf
      .filter((t) => ask(stepCheck, last.size, t.size, last.bond, t.bond, f.maxRatio, "um") === "ok")
      .sort((a, b) => distance(a) - distance(b))[0];
    if (!next) return undefined;
    sequence.push(next);
  }
  return sequence.length > 0 ? sequence : undefined;
}

describe("CHEAPESTSTEPS", () => {
  reference(
    "costs what the best of every subset costs, on 500 random shelves",
    "identity: exhaustive search, with the step rules of STEPCHECK and the depths of SCRATCH",
    () => {
      let found = 0;
      fc.assert(
        fc.property(fc.array(tool, { minLength: 1, maxLength: 7 }), floor, (shelf, f) => {
          const plan = planned(shelf, f);
          const least = leastCost(shelf, f);
          expect(plan === undefined).toBe(least === undefined);
          if (plan && least !== undefined) {
            found++;
            expect(Math.abs(plan.cost - least)).toBeLessThanOrEqual(1e-9 * (1 + least));
          }
        }),
        { numRuns: 500 },
      );
      expect(found).toBeGreaterThan(100);
    },
  );

  reference(
    "tells steps that are allowed and add up, on random shelves",
    "identity: each row follows from the one before by STEPCHECK, PASSESTOCLEAR, TOOLSUSED and the contract's cost",
    () => {
      fc.assert(
        fc.property(fc.array(tool, { minLength: 4, maxLength: 12 }), floor, (shelf, f) => {
          const plan = planned(shelf, f);
          fc.pre(plan !== undefined);
          for (const [, , ratio, passes, hours, sets, cost] of plan!.steps) {
            if (ratio !== "") expect(ratio).toBeLessThanOrEqual(f.maxRatio * (1 + 1e-9));
            expectClose(hours, (passes * f.area) / f.areaRate);
            // sets = passes × area / life of some tool on the shelf at its price.
            const worn = shelf.some(
              ({ life, price }) =>
                Math.abs(sets - (passes * f.area) / life) <= 1e-9 * sets &&
                Math.abs(cost - (hours * f.hourCost + sets * price + f.changeCost)) <= 1e-9 * (1 + cost),
            );
            expect(worn).toBe(true);
          }
          expect(plan!.steps.at(-1)![0]).toBe(f.finishGrit);
        }),
        { numRuns: 200 },
      );
    },
  );

  reference(
    "never loses to doubling each time, and often wins",
    "common practice: steps of about double; an exact least cost can be no greater",
    () => {
      let compared = 0;
      let won = 0;
      fc.assert(
        fc.property(fc.array(tool, { minLength: 6, maxLength: 25 }), floor, (shelf, f) => {
          const habit = doubling(shelf, f);
          if (!habit) return;
          const habitCost = costOf(habit, f)!;
          const { cost } = planned(shelf, f)!;
          compared++;
          if (cost < habitCost * (1 - 1e-9)) won++;
          expect(cost).toBeLessThanOrEqual(habitCost * (1 + 1e-9));
        }),
        { numRuns: 600 },
      );
      expect(compared).toBeGreaterThan(60);
      expect(won).toBeGreaterThan(compared / 4);
    },
  );
});

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
describe("the trade's rule of about double", () => {
  const SHARE = 0.5; // σ, metal
  const RUNGS_A_DOUBLING = 40;
  const DOUBLINGS = 6;
  const COARSEST = 1000; // µm
  // So many passes take off one depth of a tool's own scratch that whole passes are as good as any number.
  const PASSES_A_SCRATCH = 1000;

  /** Sizes in very small, even ratios: six doublings from the coarsest to the finest. */
  const shelf: PlanTool[] = Array.from({ length: RUNGS_A_DOUBLING * DOUBLINGS }, (_, k) => {
    const size = COARSEST * 2 ** (-(k + 1) / RUNGS_A_DOUBLING);
    const depth = SHARE * size;
    return { grit: k + 1, bond: "metal", size, scratch: depth, cut: depth / PASSES_A_SCRATCH, life: 1, price: 0 };
  });

  /** Mean step ratio of the cheapest way down, where a step costs this many times as much as a scratch depth. */
  function meanRatio(fixedOverScratch: number): number {
    const steps = cheapestSteps(shelf, {
      area: 1,
      hourCost: 1,
      areaRate: 1,
      startScratch: SHARE * COARSEST,
      finishGrit: shelf.length,
      maxRatio: 100,
      changeCost: fixedOverScratch * PASSES_A_SCRATCH,
    });
    return 2 ** (DOUBLINGS / steps.length);
  }

  /** Where r ln r − r + 1 is F/c, by halving. */
  function bestRatio(fixedOverScratch: number): number {
    let [low, high] = [1, 100];
    for (let i = 0; i < 60; i++) {
      const middle = (low + high) / 2;
      if (middle * Math.log(middle) - middle + 1 < fixedOverScratch) low = middle;
      else high = middle;
    }
    return low;
  }

  const DERIVATION = "hand: the derivation above, r ln r − r + 1 = F/c";

  reference("is exact where a step costs 2 ln 2 − 1 of a scratch depth", DERIVATION, () => {
    expectClose(bestRatio(2 * Math.log(2) - 1), 2);
    expect(meanRatio(2 * Math.log(2) - 1)).toBe(2);
  });

  for (const fixed of [0.11, 0.2, 0.3, 0.5, 0.79]) {
    reference(
      `a step that costs ${fixed} of a scratch depth is best at ${bestRatio(fixed).toFixed(2)}`,
      DERIVATION,
      () => {
        // The number of steps is whole, so the best can be off by part of one.
        const ideal = (DOUBLINGS * Math.LN2) / Math.log(bestRatio(fixed));
        const steps = (DOUBLINGS * Math.LN2) / Math.log(meanRatio(fixed));
        expect(Math.abs(steps - ideal)).toBeLessThan(1);
      },
    );
  }

  it("is near for any fixed cost from a tenth to three quarters of a scratch depth, and not for far other ones", () => {
    for (const fixed of [0.11, 0.2, 0.3, 0.4, 0.5, 0.6, 0.75]) {
      expect(meanRatio(fixed)).toBeGreaterThanOrEqual(1.49);
      expect(meanRatio(fixed)).toBeLessThanOrEqual(2.55);
    }
    expect(meanRatio(0.005)).toBeLessThan(1.3);
    expect(meanRatio(5)).toBeGreaterThan(3.5);
  });

  it("is what the search takes step by step, and not only on the whole", () => {
    const steps = cheapestSteps(shelf, {
      area: 1,
      hourCost: 1,
      areaRate: 1,
      startScratch: SHARE * COARSEST,
      finishGrit: shelf.length,
      maxRatio: 100,
      changeCost: (2 * Math.log(2) - 1) * PASSES_A_SCRATCH,
    });
    expect(steps).toHaveLength(DOUBLINGS);
    for (const { ratio } of steps.slice(1)) expect(Math.abs(ratio! - 2)).toBeLessThan(0.15);
  });
});
