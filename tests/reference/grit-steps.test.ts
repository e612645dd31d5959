import fc from "fast-check";
import { describe, expect } from "vitest";
import { LADDER, SCRATCH, SEQUENCECHECK, SIZE, STEPCHECK, STEPCOUNT, STEPRATIO } from "../../functions/grit";
import { ask, column, expectClose, reference } from "../helpers";

describe("what the trade says of grits", () => {
  reference("a 30 is about half the size of a 16", "common practice: no source", () => {
    expectClose(ask(STEPRATIO, 16, 30), 2, 0.1);
  });

  reference("the lower the number, the coarser the grit, on every scale", "common practice: no source", () => {
    for (const [scale, coarsest, finest] of [
      ["mesh", 4, 10000],
      ["f", 4, 2000],
      ["p", 12, 2500],
      ["jis", 240, 8000],
    ] as const) {
      const grit = fc.integer({ min: coarsest, max: finest });
      fc.assert(
        fc.property(grit, grit, (a, b) => {
          fc.pre(a < b);
          expect(ask(SIZE, a, scale)).toBeGreaterThan(ask(SIZE, b, scale));
        }),
      );
    }
  });

  reference("400 and then 200 is the wrong order", "common practice: no source", () => {
    expect(ask(STEPCHECK, 400, 200)).toBe("backwards");
    expect(ask(STEPCHECK, 200, 400)).toBe("ok");
    expect(ask(SEQUENCECHECK, column(100, 400, 200))).toEqual(column("start", "too far", "backwards"));
  });

  reference("metal straight to resin wants a transitional between", "common practice: no source", () => {
    expect(ask(STEPCHECK, 100, 200, "metal", "resin")).toBe("add a transitional");
    const withIt = ask(SEQUENCECHECK, column(80, 100, 200), column("metal", "hybrid", "resin"));
    expect(withIt).toEqual(column("start", "ok", "ok"));
  });

  reference("steps of about double are fine", "common practice: no source", () => {
    const doubled = column(16, 30, 60, 120, 200, 400, 800, 1500, 3000);
    expect(ask(SEQUENCECHECK, doubled).flat().slice(1)).toEqual(Array(8).fill("ok"));
    for (const grit of [30, 40, 50, 60, 100, 200, 400, 800, 1500]) {
      expect(ask(STEPCHECK, grit, 2 * grit), `${grit} to ${2 * grit}`).toBe("ok");
    }
  });

  reference(
    "each step of the usual grits about halves the depth of the scratch",
    "published: CSDA-ST-115 (2013) on surface texture, where Ra falls by about half with each abrasive step (from memory)",
    () => {
      const depths: number[] = ask(SCRATCH, column(30, 60, 120, 200, 400, 800, 1500, 3000), "resin").flat();
      const falls = depths.slice(1).map((depth, i) => depth / depths[i]!);
      // About: the steps of the trade's own numbers are between a third more and a fifth less than half.
      for (const fall of falls) {
        expect(fall).toBeGreaterThan(0.4);
        expect(fall).toBeLessThan(0.67);
      }
      expect((depths.at(-1)! / depths[0]!) ** (1 / falls.length)).toBeCloseTo(0.5, 1);
    },
  );

  reference("a softer bond leaves the finer scratch from the same grit", "common practice: no source", () => {
    const [metal, transitional, resin] = ask(SCRATCH, 100, column("metal", "transitional", "resin")).flat();
    expect(metal > transitional && transitional > resin).toBe(true);
  });
});

describe("ratios of steps", () => {
  const grit = fc.double({ min: 4, max: 10000, noNaN: true });

  reference("multiply along a sequence", "identity: (a / b) × (b / c) = a / c", () => {
    fc.assert(
      fc.property(grit, grit, grit, (a, b, c) => {
        const through = ask(STEPRATIO, a, b) * ask(STEPRATIO, b, c);
        expectClose(through, ask(STEPRATIO, a, c), 1e-12);
      }),
    );
  });

  reference("turn over with the step", "identity: a / b = 1 / (b / a)", () => {
    fc.assert(fc.property(grit, grit, (a, b) => expectClose(ask(STEPRATIO, a, b), 1 / ask(STEPRATIO, b, a), 1e-12)));
  });
});

/** The least by steps and then by unevenness over every subset of the sizes; nothing where none is allowed. */
function bestByTryingAll(from: number, to: number, limit: number, available: number[]) {
  let best: { steps: number; unevenness: number } | undefined;
  for (let subset = 0; subset < 2 ** available.length; subset++) {
    const chosen = available.filter((_, i) => subset & (2 ** i)).sort((a, b) => b - a);
    const ladderSizes = [from, ...chosen, to];
    const ratios = ladderSizes.slice(1).map((s, i) => ladderSizes[i]! / s);
    if (ratios.some((ratio) => ratio <= 1 || ratio > limit)) continue;
    const steps = ratios.length;
    const unevenness = ratios.reduce((sum, ratio) => sum + Math.log(ratio) ** 2, 0);
    if (!best || steps < best.steps || (steps === best.steps && unevenness < best.unevenness)) {
      best = { steps, unevenness };
    }
  }
  return best;
}

describe("LADDER", () => {
  reference(
    "finds the fewest and most even grits on any small shelf",
    "identity: least over all subsets of the shelf, tried one by one",
    () => {
      const sizeUm = fc.integer({ min: 1, max: 400 });
      const shelf = fc.uniqueArray(sizeUm, { minLength: 1, maxLength: 8 });
      // In hundredths: a limit is then a ratio of two of these sizes or lies clear of it, not within rounding of it.
      const limits = fc.integer({ min: 120, max: 600 }).map((hundredths) => hundredths / 100);
      fc.assert(
        fc.property(sizeUm, sizeUm, limits, shelf, (a, b, limit, available) => {
          fc.pre(a > b);
          const expected = bestByTryingAll(a, b, limit, available);
          const found = ask(LADDER, a, b, limit, column(...available), "um");
          if (!expected) {
            expect(found).toMatchObject({ code: "#NUM!" });
            return;
          }
          const sizes: number[] = found.flat();
          expect([sizes[0], sizes.at(-1)]).toEqual([a, b]);
          expect(available).toEqual(expect.arrayContaining(sizes.slice(1, -1)));
          const ratios = sizes.slice(1).map((s, i) => sizes[i]! / s);
          expect(ratios).toHaveLength(expected.steps);
          expect(Math.max(...ratios)).toBeLessThanOrEqual(limit * (1 + 1e-9));
          expect(ratios.reduce((sum, r) => sum + Math.log(r) ** 2, 0)).toBeCloseTo(expected.unevenness, 7);
        }),
        { numRuns: 500 },
      );
    },
  );

  reference(
    "takes no fewer steps than even ratios would",
    "identity: n steps of at most r cover at most a ratio of r to the n",
    () => {
      const grit = fc.constantFrom(16, 30, 40, 50, 60, 80, 100, 120, 150, 200, 400, 800, 1500, 3000);
      fc.assert(
        fc.property(grit, grit, (a, b) => {
          fc.pre(a < b);
          expect(ask(LADDER, a, b).length - 1).toBeGreaterThanOrEqual(ask(STEPCOUNT, a, b));
        }),
      );
    },
  );

  reference(
    "puts even steps between powers of two",
    "hand: 1024 to 64 µm within a ratio of 2.1: 2⁴ needs four steps, 512, 256 and 128 are the even ones",
    () => {
      const available = column(600, 512, 480, 300, 256, 240, 130, 128, 125);
      expect(ask(LADDER, 1024, 64, 2.1, available, "um")).toEqual(column(1024, 512, 256, 128, 64));
    },
  );
});
