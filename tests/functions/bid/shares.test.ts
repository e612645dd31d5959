import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { centsByWeight, sharesOf } from "../../../functions/bid/shares";

/** Hamilton's method in exact integers: quotas rounded down, then a cent each to the largest remainders. */
function hamilton(cents: number, weights: readonly number[]): number[] {
  const total = weights.reduce((sum, weight) => sum + BigInt(weight), 0n);
  const parts = weights.map((weight, i) => {
    const product = BigInt(cents) * BigInt(weight);
    return { i, whole: Number(product / total), rest: product % total };
  });
  let left = cents - parts.reduce((sum, { whole }) => sum + whole, 0);
  const shares = parts.map(({ whole }) => whole);
  for (const { i } of [...parts].sort((a, b) => (a.rest === b.rest ? a.i - b.i : a.rest > b.rest ? -1 : 1))) {
    if (left-- > 0) shares[i]!++;
  }
  return shares;
}

describe("a price shared to the cent", () => {
  it.each([
    // Three equal shares of 100.00: the first gets the cent that is left.
    [100, [1, 1, 1], [33.34, 33.33, 33.33]],
    // 10 × 5/9 = 5.5556, 10 × 3/9 = 3.3333, 10 × 1/9 = 1.1111: the cent goes to the first.
    [10, [5, 3, 1], [5.56, 3.33, 1.11]],
    [6230, [1400, 820, 370], [3367.57, 1972.43, 890]],
    [0.02, [1, 1, 1], [0.01, 0.01, 0]],
    [50, [0, 7], [0, 50]],
    [50, [0, 0], [0, 0]],
  ])("%d by %j is %j", (price, weights, shares) => {
    expect(sharesOf(price, weights)).toEqual(shares);
  });

  const weights = fc
    .array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1, maxLength: 200 })
    .filter((all) => all.some((weight) => weight > 0));

  it("is that of Hamilton's method in whole numbers", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 100_000_000 }), weights, (cents, all) => {
        // Remainders that differ by less than a millionth of a cent are equal to a sheet; with these weights none do often.
        const [ours, exact] = [centsByWeight(cents, all), hamilton(cents, all)];
        expect(ours.reduce((a, b) => a + b)).toBe(cents);
        ours.forEach((share, i) => {
          expect(Math.abs(share - exact[i]!)).toBeLessThanOrEqual(1);
        });
        if (all.reduce((a, b) => a + b) < 100_000) expect(ours).toEqual(exact);
      }),
    );
  });

  it("sums to the price with weights of any size", () => {
    const amount = fc.double({ min: 0, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 1_000_000_000 }),
        fc.array(amount, { minLength: 1, maxLength: 200 }),
        (cents, all) => {
          const total = all.reduce((a, b) => a + b);
          fc.pre(total > 1e-3);
          const shares = centsByWeight(cents, all);
          expect(shares.reduce((a, b) => a + b)).toBe(cents);
          shares.forEach((share, i) => {
            expect(Math.abs(share - (cents * all[i]!) / total)).toBeLessThan(1 + 1e-5);
          });
        },
      ),
    );
  });
});
