import fc from "fast-check";
import { describe, expect } from "vitest";
import { CHEAPESTSTEPS, cheapestSteps } from "../../functions/planning";
import { ask, expectClose, reference } from "../helpers";
import {
  BONDS,
  type Bond,
  costOf,
  costOfStep,
  depthOf,
  doubling,
  everySequence,
  type Floor,
  isAllowed,
  passesOf,
  type ShelfTool,
} from "./every-sequence";

/** What a shelf has of each grit: sizes as makers number them (µm), and every bond, though coarse ones are mostly metal. */
const GRITS: { grit: number; sizes: number[]; bonds: Bond[] }[] = [
  { grit: 30, sizes: [600, 400], bonds: ["metal", "metal", "transitional", "resin"] },
  { grit: 60, sizes: [250, 200, 180], bonds: ["metal", "transitional", "transitional", "resin"] },
  { grit: 100, sizes: [150, 100], bonds: ["metal", "transitional", "transitional", "resin"] },
  { grit: 200, sizes: [75, 38], bonds: ["metal", "transitional", "resin", "resin"] },
];

/** A tool that cuts a twentieth to two fifths of its size in a pass. So few sizes that duplicates, repeats and overlaps come often. */
const tool: fc.Arbitrary<ShelfTool> = fc.constantFrom(...GRITS).chain(({ grit, sizes, bonds }) =>
  fc
    .record({
      bond: fc.constantFrom(...bonds),
      size: fc.constantFrom(...sizes),
      bite: fc.integer({ min: 5, max: 40 }),
      life: fc.integer({ min: 500, max: 6000 }),
      price: fc.integer({ min: 1, max: 500 }),
    })
    .map(({ bite, ...rest }) => ({ grit, cut: (rest.size * bite) / 100, ...rest })),
);

/** From a test strip of one square to a hall, so that costs differ by thousands or by less than a cent. */
const floor: fc.Arbitrary<Floor> = fc.record({
  area: fc.constantFrom(1, 1000, 5000),
  hourCost: fc.integer({ min: 1, max: 200 }),
  areaRate: fc.integer({ min: 100, max: 1500 }),
  startScratch: fc.constantFrom(35, 63, 300, 500, 700),
  finishGrit: fc.constantFrom(30, 60, 100, 200, 200),
  maxRatio: fc.constantFrom(1.6, 2.5, 4, 10),
  changeCost: fc.constantFrom(0, 0, 20, 200),
});

const shelfOf = (least: number, most: number) => fc.array(tool, { minLength: least, maxLength: most, size: "max" });

/** What the spreadsheet shows for this shelf: the rows of the steps, or the code of the error. */
function planned(shelf: readonly ShelfTool[], f: Floor): any[][] | string {
  const tooling = shelf.map(({ grit, bond, size, cut, life, price }) => [grit, bond, size, cut, life, price]);
  const args = [f.area, f.hourCost, f.areaRate, f.startScratch, f.finishGrit, f.maxRatio, f.changeCost];
  const table = ask(CHEAPESTSTEPS, tooling, ...args);
  return Array.isArray(table) ? table.slice(1) : table.code;
}

const totalOf = (steps: any[][]): number => steps.reduce((sum, step) => sum + step[6], 0);

/** A tool as the search takes it, which is the same one that it gives back. */
const withScratch = <T extends ShelfTool>(one: T) => ({ ...one, scratch: depthOf(one) });

const SEARCH = "identity: every subset in every order, by the contract's own words (every-sequence.ts)";

describe("CHEAPESTSTEPS", () => {
  reference("costs what the best of every sequence costs, on 3000 random shelves", SEARCH, () => {
    const seen = { none: 0, several: 0, allBonds: 0, dearer: 0 };
    fc.assert(
      fc.property(shelfOf(2, 12), floor, (shelf, f) => {
        const every = everySequence(shelf, f);
        const steps = planned(shelf, f);
        if (every.length === 0) {
          seen.none++;
          expect(steps).toBe("#NUM!");
          return;
        }
        const costs = every.map((sequence) => costOf(sequence, f));
        const least = Math.min(...costs);
        expect(Math.abs(totalOf(steps as any[][]) - least)).toBeLessThanOrEqual(1e-9 * least);
        if (steps.length > 1) seen.several++;
        if (new Set((steps as any[][]).map(([, bond]) => bond)).size === 3) seen.allBonds++;
        if (Math.max(...costs) > least * 1.01) seen.dearer++;
      }),
      { numRuns: 3000 },
    );
    // The shelves are of every kind, not only of the easy one.
    expect(seen.none).toBeGreaterThan(300);
    expect(seen.several).toBeGreaterThan(300);
    expect(seen.allBonds).toBeGreaterThan(15);
    expect(seen.dearer).toBeGreaterThan(300);
  });

  reference("of equally cheap ones gives the shorter, then the coarser, then the one listed first", SEARCH, () => {
    const SIMPLE = { life: 1, price: 0 };
    // Whole passes at whole money, so that costs are equal to the last digit, and often.
    const plainTool = fc.record({
      grit: fc.constantFrom(60, 100),
      bond: fc.constantFrom<Bond>(...BONDS),
      size: fc.constantFrom(400, 300, 200, 160, 100),
      cut: fc.constantFrom(50, 200),
    });
    const plainFloor = fc.record({
      hourCost: fc.constantFrom(0, 1, 2),
      startScratch: fc.constantFrom(60, 100, 200),
      maxRatio: fc.constantFrom(1.6, 2.5, 4),
      changeCost: fc.constantFrom(0, 1),
    });
    const seen = { tied: 0, sameLength: 0, duplicates: 0 };
    fc.assert(
      fc.property(fc.array(plainTool, { minLength: 3, maxLength: 8 }), plainFloor, (plain, f) => {
        const shelf = plain.map((one, listed) => withScratch({ ...one, ...SIMPLE, listed }));
        const whole = { ...f, area: 1, areaRate: 1, finishGrit: 60 };
        const every = everySequence(shelf, whole);
        if (every.length === 0) return;
        const least = Math.min(...every.map((sequence) => costOf(sequence, whole)));
        const cheapest = every.filter((sequence) => costOf(sequence, whole) === least);
        const shortest = Math.min(...cheapest.map((sequence) => sequence.length));
        let left = cheapest.filter((sequence) => sequence.length === shortest);
        if (cheapest.length > left.length) seen.tied++;
        if (left.length > 1) seen.sameLength++;
        // From the last tool back: the earlier bond, the larger size, the earlier row.
        for (let back = 1; back <= shortest; back++) {
          const at = (sequence: typeof shelf) => sequence.at(-back)!;
          const [best] = left
            .map(at)
            .sort((a, b) => BONDS.indexOf(a.bond) - BONDS.indexOf(b.bond) || b.size - a.size || a.listed - b.listed);
          if (left.some((sequence) => at(sequence) !== best && at(sequence).size === best!.size)) seen.duplicates++;
          left = left.filter((sequence) => at(sequence) === best);
        }
        const found = cheapestSteps(shelf, whole).map((step) => step.tool.listed);
        expect(found).toEqual(left[0]!.map(({ listed }) => listed));
      }),
      { numRuns: 1000 },
    );
    expect(seen.tied).toBeGreaterThan(20);
    expect(seen.sameLength).toBeGreaterThan(50);
    expect(seen.duplicates).toBeGreaterThan(10);
  });

  reference(
    "tells each step as the contract counts it, on 500 random shelves",
    "identity: passes, hours, sets and cost of every row worked from the tools that it names",
    () => {
      let told = 0;
      fc.assert(
        fc.property(shelfOf(4, 15), floor, (shelf, f) => {
          const rows = planned(shelf, f);
          if (typeof rows === "string") return;
          const steps = cheapestSteps(shelf.map(withScratch), f);
          expect(steps).toHaveLength(rows.length);
          for (const [i, row] of rows.entries()) {
            const [grit, bond, ratio, passes, hours, sets, cost] = row;
            const { tool: next } = steps[i]!;
            const before = steps[i - 1]?.tool;
            expect([grit, bond]).toEqual([next.grit, next.bond]);
            expect(isAllowed(next, before, f)).toBe(true);
            expect(ratio).toBe(before ? before.size / next.size : "");
            expect(passes).toBe(passesOf(next, before, f));
            expectClose(hours, (passes * f.area) / f.areaRate);
            expectClose(sets, (passes * f.area) / next.life);
            expectClose(cost, costOfStep(next, before, f));
            told++;
          }
          expect(rows.at(-1)![0]).toBe(f.finishGrit);
        }),
        { numRuns: 500 },
      );
      expect(told).toBeGreaterThan(300);
    },
  );

  reference(
    "never loses to doubling each time, and often wins, on hundreds of random shelves",
    "common practice: steps of about double; an exact least cost can be no greater",
    () => {
      let compared = 0;
      let won = 0;
      fc.assert(
        fc.property(shelfOf(8, 25), floor, (shelf, f) => {
          const habit = doubling(shelf, f);
          if (!habit) return;
          const habitCost = costOf(habit, f);
          const cost = totalOf(planned(shelf, f) as any[][]);
          compared++;
          if (cost < habitCost * (1 - 1e-9)) won++;
          expect(cost).toBeLessThanOrEqual(habitCost * (1 + 1e-9));
        }),
        { numRuns: 1500 },
      );
      expect(compared).toBeGreaterThan(300);
      expect(won).toBeGreaterThan(compared / 4);
    },
  );
});
