import { describe, expect, it } from "vitest";
import { mean, median, medianDeviation, sampleDeviation, tQuantile } from "../../functions/statistics";

describe("mean and deviation", () => {
  it("of equal values are the value and 0, to the last digit", () => {
    const third = Array(7).fill(1 / 3);
    expect(mean(third)).toBe(1 / 3);
    expect(sampleDeviation(third)).toBe(0);
  });

  it("do not feel a large number added to every value", () => {
    const values = [1, 2, 4, 8];
    const far = values.map((x) => x + 1e12);
    expect(mean(far)).toBe(1e12 + 3.75);
    expect(Math.abs(sampleDeviation(far) - sampleDeviation(values))).toBeLessThanOrEqual(1e-12);
  });
});

describe("median", () => {
  it("is the middle value, or the mean of the middle two", () => {
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 3, 2])).toBe(2.5);
    expect(median([5])).toBe(5);
  });

  it("leaves the order of what it was given", () => {
    const values = [3, 1, 2];
    median(values);
    medianDeviation(values);
    expect(values).toEqual([3, 1, 2]);
  });

  it("distance is 0 where more than half are equal", () => {
    expect(medianDeviation([1, 1, 1, 7, 9])).toBe(0);
  });
});

describe("the t quantile", () => {
  it("is 0 at one half, and the same on both sides of it", () => {
    for (const degrees of [1, 2, 3, 10, 1000]) {
      expect(tQuantile(0.5, degrees)).toBe(0);
      // 0.75 and 0.25 are exact in binary.
      expect(tQuantile(0.25, degrees)).toBe(-tQuantile(0.75, degrees));
    }
  });

  it("grows with the probability and, above one half, falls with the degrees of freedom", () => {
    const probabilities = [1e-9, 0.01, 0.3, 0.5, 0.5000001, 0.7, 0.99, 0.999999, 1 - 1e-12];
    for (const degrees of [1, 2, 5, 30, 5000]) {
      const quantiles = probabilities.map((p) => tQuantile(p, degrees));
      expect(quantiles).toEqual([...quantiles].sort((a, b) => a - b));
      expect(new Set(quantiles).size).toBe(probabilities.length);
      expect(tQuantile(0.9, degrees)).toBeGreaterThan(tQuantile(0.9, degrees + 1));
    }
  });

  it("ends, however close to certain", () => {
    for (const degrees of [1, 2, 19_999]) {
      expect(Number.isFinite(tQuantile(1 - Number.EPSILON / 2, degrees))).toBe(true);
      expect(Number.isFinite(tQuantile(Number.MIN_VALUE, degrees))).toBe(true);
    }
  });
});
