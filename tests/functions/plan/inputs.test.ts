import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import { floorOf, inUnits, startInputs } from "../../../functions/plan/inputs";
import { problemsOf } from "../../../functions/plan/problems";
import { QUANTITIES } from "../../../functions/units";
import { reference } from "../../helpers";

const filled = { ...startInputs("us"), area: 4000 };

describe("the inputs of a plan", () => {
  it("start complete but for the floor's size", () => {
    expect(problemsOf(startInputs("us"))).toEqual({
      area: "Floor area is missing; enter it, or both length and width",
    });
    expect(problemsOf(filled)).toEqual({});
    expect(problemsOf({ ...startInputs("metric"), length: 20, width: 15 })).toEqual({});
  });

  it("tell what is wrong, what was given and what is allowed, next to the field", () => {
    expect(problemsOf({ ...filled, overlap: 1.2 }).overlap).toBe("Overlap must be from 0% to below 100%; got 120%");
    expect(problemsOf({ ...filled, hardness: 11 }).hardness).toBe(
      "Slab hardness must be from 1 to 10 on the Mohs scale; got 11",
    );
    expect(problemsOf({ ...filled, crew: 1.5 }).crew).toBe("Crew size must be a whole number from 1 to 1,000; got 1.5");
    expect(problemsOf({ ...filled, speed: 99_999_999_999 }).speed).toBe(
      "Travel speed must be above 0 and at most 1,000; got 99,999,999,999",
    );
    expect(problemsOf({ ...filled, slideSpeed: 99_999_999_999 }).slideSpeed).toBe(
      "Sliding speed must be above 0 and at most 100,000; got 99,999,999,999",
    );
    expect(problemsOf({ ...filled, speed: null }).speed).toBe(
      "Travel speed is missing; it must be above 0 and at most 1,000",
    );
    expect(problemsOf({ ...filled, surface: "wooden" as any }).surface).toBe(
      'Starting surface must be one of bare, coated, ground; got the text "wooden"',
    );
    expect(problemsOf({ ...filled, finish: "by grit" }).lastGrit).toBe("Last grit is missing; this finish needs it");
  });

  it("refuse edges alongside the machine for a crew of one", () => {
    expect(problemsOf({ ...filled, crew: 1 }).edgeWork).toBe(
      "Edges alongside the machine need a crew of 2 or more; got 1",
    );
    expect(problemsOf({ ...filled, crew: 1, edgeWork: "after" })).toEqual({});
  });

  it("do not mind what does not apply", () => {
    expect(problemsOf({ ...filled, film: -3 })).toEqual({});
    expect(problemsOf({ ...filled, finish: "coating", film: -3 }).film).toMatch(/0 or more; got -3/);
  });

  it("want the strip's grit size and the sliding speed with a cutting coefficient, and not without", () => {
    expect(problemsOf({ ...filled, cutCoefficient: 200 })).toEqual({
      stripSize: "Test strip grit size is missing; the cutting coefficient needs it",
      slideSpeed: "Sliding speed is missing; the cutting coefficient needs it",
    });
    expect(problemsOf({ ...filled, cutCoefficient: 200, stripSize: 600, slideSpeed: 2000 })).toEqual({});
    expect(problemsOf({ ...filled, cutCoefficient: 0 }).cutCoefficient).toBe(
      "Cutting coefficient must be above 0 and at most 1,000,000; got 0",
    );
  });

  it("want a depth and a tool change of 0 or more, and a way to count passes that there is", () => {
    expect(problemsOf({ ...filled, depth: -1, changeHours: -0.5, passesFrom: "guess" as any })).toEqual({
      depth: "Depth to remove must be from 0 to 50,000; got -1",
      changeHours: "Tool change must be from 0 to 1,000; got -0.5",
      passesFrom: 'Passes must be one of larger, scratch, shelf; got the text "guess"',
    });
    expect(problemsOf({ ...filled, depth: 0, changeHours: 0, passesFrom: "scratch" })).toEqual({});
    expect(problemsOf({ ...filled, changeHours: null }).changeHours).toBe(
      "Tool change is missing; it must be from 0 to 1,000",
    );
  });

  it("mind the confidence only where past jobs teach the hours", () => {
    expect(problemsOf({ ...filled, confidence: 1 })).toEqual({});
    expect(problemsOf({ ...filled, pastJobs: "polished floors", confidence: 1 }).confidence).toBe(
      "Confidence must be above 0% and below 100%; got 100%",
    );
  });

  it("want the grit a floor was left at on the chosen scale (JIS R 6001 begins at 240)", () => {
    const ground = { ...filled, surface: "ground" as const, scale: "jis" as const };
    expect(problemsOf({ ...ground, groundGrit: 80 }).groundGrit).toMatch(
      /^Existing grit: grit 80 is not on the jis scale, which runs from 240 to \d+$/,
    );
    expect(problemsOf({ ...ground, groundGrit: 240 })).toEqual({});
    expect(problemsOf({ ...ground, surface: "bare" })).toEqual({});
  });

  it("have one name each, which Excel takes for a cell", () => {
    const names = KEYS.map((key) => FIELDS[key].name);
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(name).toMatch(/^(Floor|Machine|Crew|Price)_[A-Za-z]+$/);
  });
});

describe("switching units", () => {
  it("converts what is filled in by the exact factors (NIST SP 811: 1 ft = 0.3048 m, 1 in = 25.4 mm)", () => {
    const metric = inUnits({ ...filled, area: 1000, length: 10 }, "metric");
    expect(metric.area).toBe(92.90304);
    expect(metric.length).toBe(3.048);
    expect(metric.machineWidth).toBe(711.2);
    expect(metric.speed).toBeCloseTo(15 * 0.3048, 12);
    expect(metric.hardness).toBe(filled.hardness);
    expect(inUnits({ ...filled, slideSpeed: 2000 }, "metric").slideSpeed).toBeCloseTo((2000 * 0.3048) / 60, 12);
    expect(metric.units).toBe("metric");
  });

  it("leaves alone what has one unit in both systems: grit sizes and depths in µm, the coefficient in mm³/kJ", () => {
    const measured = { depth: 590, cutCoefficient: 200, stripSize: 600, changeHours: 0.5 };
    expect(inUnits({ ...filled, ...measured }, "metric")).toMatchObject(measured);
  });

  it("and back again gives what was there", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.001, max: 1e7, noNaN: true }), (amount) => {
        const given = { ...filled, area: Number(amount.toPrecision(9)), machineWidth: Number(amount.toPrecision(6)) };
        expect(inUnits(inUnits(given, "metric"), "us")).toEqual({ ...given });
      }),
    );
  });

  it("knows a unit in both systems for every quantity a field has", () => {
    for (const key of KEYS) {
      const f = FIELDS[key];
      if ("quantity" in f) expect(QUANTITIES[f.quantity]).toHaveProperty("metric");
    }
  });
});

describe("the floor", () => {
  it("is length times width unless its area is given", () => {
    expect(floorOf({ ...filled, area: null, length: 50, width: 20 })).toMatchObject({ area: 1000, edge: 140 });
    expect(floorOf({ ...filled, area: 900, length: 50, width: 20 })).toMatchObject({ area: 900, edge: 140 });
  });

  reference(
    "leaves the strip along its edges and the obstacles to the hand grinder, unless the machine's area is given",
    "hand: 1000 − 140 × 0.5 ft − 30 = 900; 1000 − 140 × 0.15 m = 979",
    () => {
      const floor = { ...filled, area: null, length: 50, width: 20, stripWidth: 6, obstacles: 30 };
      expect(floorOf(floor).machineArea).toBe(900);
      expect(floorOf({ ...floor, units: "metric", stripWidth: 150, obstacles: 0 }).machineArea).toBe(979);
      expect(floorOf({ ...floor, machineArea: 700 }).machineArea).toBe(700);
    },
  );

  it("that the hand grinder takes alone is no plan for a machine", () => {
    expect(problemsOf({ ...filled, area: 50, stripWidth: 24 })).toEqual({
      machineArea: "The edge strip and obstacles leave nothing for the machine; check the areas",
    });
  });

  it("of unknown shape has the edge of a square", () => {
    expect(floorOf({ ...filled, area: 2500 })).toMatchObject({ area: 2500, edge: 200 });
    expect(floorOf({ ...filled, area: 2500, edgeLength: 120 }).edge).toBe(120);
  });
});
