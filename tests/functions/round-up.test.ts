import { describe, expect, it } from "vitest";
import { roundUp } from "../../functions/round-up";

describe("rounding up", () => {
  it.each([
    [4.2 / 0.7, 6],
    [0.07 * 100, 7],
    [1.1 * 10, 11],
    [6, 6],
    [6.000001, 7],
    [5.2, 6],
    [0, 0],
    [0.2, 1],
    [-1.5, -1],
  ])("takes %d to %d", (x, whole) => {
    expect(roundUp(x)).toBe(whole);
  });

  it("still counts an excess that is more than a rounding error", () => {
    expect(roundUp(6 + 6e-9 * 1.01)).toBe(7);
    expect(roundUp(6 + 6e-9 * 0.99)).toBe(6);
  });
});
