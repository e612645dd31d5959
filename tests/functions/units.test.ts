import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convert, QUANTITIES, type Quantity, si, symbol, systemOf, TOOL_SIZES_PER_LENGTH } from "../../functions/units";

const QUANTITY_NAMES = Object.keys(QUANTITIES) as Quantity[];

describe("the units word", () => {
  it.each([null, undefined, "", "us", "US", " Us "])("is us as %j", (typed) => {
    expect(systemOf(typed)).toBe("us");
  });

  it.each(["metric", "METRIC", "Metric "])("is metric as %j", (typed) => {
    expect(systemOf(typed)).toBe("metric");
  });

  it.each<[unknown, string]>([
    ["si", 'units must be "us" or "metric"; got the text "si"'],
    [1, 'units must be "us" or "metric"; got 1'],
    [true, 'units must be "us" or "metric"; got TRUE'],
  ])("is nothing else: %j", (typed, message) => {
    expect(() => systemOf(typed)).toThrow(message);
  });

  it("that is an error cell stays that error where the host can show it", () => {
    expect(() => systemOf({ code: "#N/A" })).toThrow(expect.objectContaining({ code: "#N/A" }));
    expect(() => systemOf({ code: "#REF!" })).toThrow(expect.objectContaining({ code: "#VALUE!" }));
  });
});

describe("conversion", () => {
  it.each(QUANTITY_NAMES)("of %s there and back gives the amount again", (quantity) => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e9, noNaN: true }), (amount) => {
        const back = convert(convert(amount, quantity, "us", "metric"), quantity, "metric", "us");
        expect(Math.abs(back - amount)).toBeLessThanOrEqual(4e-16 * amount);
      }),
    );
  });

  it("within one system changes nothing", () => {
    expect(convert(0.1, "coverage", "us", "us")).toBe(0.1);
  });
});

describe("the table of units", () => {
  it("names a different unit in each system", () => {
    for (const quantity of QUANTITY_NAMES) expect(symbol(quantity, "us")).not.toBe(symbol(quantity, "metric"));
  });

  it("agrees with itself: area is length squared, pressure is load over area, coverage is area over volume", () => {
    for (const system of ["us", "metric"] as const) {
      expect(si("floorArea", system)).toBeCloseTo(si("length", system) ** 2, 15);
      expect(si("coverage", system)).toBeCloseTo(si("floorArea", system) / si("volume", system), 9);
      expect(TOOL_SIZES_PER_LENGTH[system]).toBeCloseTo(si("length", system) / si("toolSize", system), 9);
    }
    expect(si("pressure", "us")).toBeCloseTo(si("load", "us") / si("segmentArea", "us"), 9);
  });
});
