import { describe, expect, it } from "vitest";
import { CREWCOST, capitalRecovery, MACHINECOST, MARGIN, MARKUP, MARKUPFOR, PRICEAT } from "../../functions/price";
import { ask, column, error, expectClose, row, valueError } from "../helpers";

describe("CREWCOST", () => {
  it("without a burden is the bare wages", () => {
    expect(ask(CREWCOST, 10, 2, 30)).toBe(600);
  });

  it("takes a burden of more than the wage, but not one typed as a whole percent", () => {
    expect(ask(CREWCOST, 10, 2, 30, 1.5)).toBe(1500);
    expect(ask(CREWCOST, 10, 2, 30, 35)).toEqual(valueError("burden must be from 0 to 5 (35% is 0.35); got 35"));
  });
});

describe("MACHINECOST", () => {
  it("without interest is straight line", () => {
    expect(ask(MACHINECOST, 24000, 4000, 5, 0, 1000)).toBe(4);
  });

  it("runs on smoothly from no interest to a little", () => {
    const straight = ask(MACHINECOST, 24000, 4000, 5, 0, 1000);
    for (const interest of [Number.MIN_VALUE, 1e-300, 1e-18, 1e-15]) {
      expectClose(ask(MACHINECOST, 24000, 4000, 5, interest, 1000), straight, 1e-13);
    }
  });

  it("keeps the digits of a tiny interest", () => {
    // By hand, from the series in i: 1/n + i (n + 1) / 2n + i² (n² − 1) / 12n + …
    const n = 5;
    for (const i of [1e-12, 1e-9, 1e-6]) {
      const growth = capitalRecovery(i, n) - 1 / n;
      expectClose(growth, (i * (n + 1)) / (2 * n) + (i * i * (n * n - 1)) / (12 * n), 1e-3);
    }
    expectClose(capitalRecovery(1e-6, n), 0.2 + 0.6e-6 + 0.4e-12, 1e-15);
  });

  it("of a machine that keeps its price is the interest alone", () => {
    expectClose(ask(MACHINECOST, 10000, 10000, 5, 0.08, 1000), 0.8);
  });

  it("adds the running cost an hour", () => {
    expect(ask(MACHINECOST, 24000, 4000, 5, 0, 1000, 3.5)).toBe(7.5);
  });

  it("takes part of a year", () => {
    // A machine hired out for half a year without interest: twice its price a year.
    expect(ask(MACHINECOST, 1000, 0, 0.5, 0, 1000)).toBe(2);
  });

  it("refuses a salvage above the price, in its own row", () => {
    expect(MACHINECOST(column(24000, 4000), column(4000, 24000), [[5]], [[0]], [[1000]])).toEqual([
      [4],
      [valueError("salvage must be at most the price (4000); got 24000")],
    ]);
  });

  it("refuses an interest typed as a whole percent, no years and no hours", () => {
    expect(ask(MACHINECOST, 24000, 4000, 5, 8, 1000)).toEqual(
      valueError("interest must be from 0 to below 1 (20% is 0.2); got 8"),
    );
    expect(ask(MACHINECOST, 24000, 4000, 0, 0, 1000)).toEqual(valueError("years is blank or 0; it must be above 0"));
    expect(ask(MACHINECOST, 24000, 4000, 5, 0, 0)).toEqual(
      valueError("hoursPerYear is blank or 0; it must be above 0"),
    );
  });

  it("needs the interest said, since none is not the usual case; a blank cell counts as 0", () => {
    expect(ask(MACHINECOST, 24000, 4000, 5, undefined, 1000)).toEqual(
      valueError("interest is missing; it must be from 0 to below 1 (20% is 0.2)"),
    );
    expect(ask(MACHINECOST, 24000, 4000, 5, null, 1000)).toBe(4);
  });
});

describe("PRICEAT", () => {
  it("never goes below the minimum charge", () => {
    expect(PRICEAT(column(100, 1000), [[0.2]], [[500]])).toEqual([[500], [1250]]);
  });

  it("at a negative margin is below the cost", () => {
    expect(ask(PRICEAT, 100, -0.25)).toBe(80);
  });

  it("compares margins side by side", () => {
    expect(PRICEAT([[100]], row(-0.25, 0.2, 0.5))).toEqual([[80, 125, 200]]);
    expect(ask(PRICEAT, 100, 0)).toBe(100);
  });

  it("has no price for a margin of the whole price", () => {
    expect(ask(PRICEAT, 100, 1)).toEqual(valueError("margin must be below 1 (20% is 0.2); got 1"));
  });

  it("beyond any number is #NUM!", () => {
    expect(ask(PRICEAT, 1e300, 1 - 2 ** -53)).toEqual(error("#NUM!", "the answer is too large for a number"));
  });
});

describe("MARGIN", () => {
  it("of a job sold below its cost is negative", () => {
    expect(ask(MARGIN, 80, 100)).toBe(-0.25);
  });

  it("of work without a cost is the whole price", () => {
    expect(ask(MARGIN, 80, 0)).toBe(1);
  });

  it("of a job without a price is an error, not a division by 0", () => {
    expect(ask(MARGIN, 0, 100)).toEqual(valueError("price is blank or 0; it must be above 0"));
  });
});

describe("MARKUP", () => {
  it("needs a price", () => {
    expect(ask(MARKUP, 0, 100)).toEqual(valueError("price is blank or 0; it must be above 0"));
  });

  it("on no cost is an error, not a division by 0", () => {
    expect(ask(MARKUP, 100, 0)).toEqual(valueError("cost is blank or 0; it must be above 0"));
  });
});

describe("MARKUPFOR", () => {
  it("of no margin is no markup, and of a loss a negative one", () => {
    expect(ask(MARKUPFOR, 0)).toBe(0);
    expect(ask(MARKUPFOR, -0.25)).toBe(-0.2);
  });

  it("is what turns the cost into PRICEAT's price", () => {
    expectClose(100 * (1 + ask(MARKUPFOR, 0.35)), ask(PRICEAT, 100, 0.35));
  });
});
