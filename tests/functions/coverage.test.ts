import { describe, expect, it } from "vitest";
import { AREARATE, EDGETIME, LANES, OPENSHARE, PASSTIME, ROOMTIME, SPEEDFOR } from "../../functions/coverage";
import { ask, column, error, expectClose, row, valueError } from "../helpers";

describe("AREARATE", () => {
  it("without overlap and efficiency is the bare width × speed", () => {
    // 24 in is 2 ft; 2 ft × 30 ft/min × 60 min
    expect(ask(AREARATE, 24, 30)).toBe(3600);
  });

  it("takes blank overlap and efficiency as none given", () => {
    expect(ask(AREARATE, 24, 30, null, "")).toBe(3600);
  });

  it("compares several machines in one spill", () => {
    expect(AREARATE(row(12, 24), column(10, 20))).toEqual([
      [600, 1200],
      [1200, 2400],
    ]);
  });

  it("takes an efficiency of 0 for a blank one, and refuses one above 1", () => {
    expect(ask(AREARATE, 24, 30, 0, 0)).toBe(3600);
    expect(ask(AREARATE, 24, 30, 0, 80)).toEqual(
      valueError("efficiency must be above 0 and at most 1 (80% is 0.8); got 80"),
    );
  });

  it("refuses an unknown system of units once, for the whole call", () => {
    expect(() => AREARATE(column(24, 28), [[30]], undefined, undefined, "imperial")).toThrow(
      'units must be "us" or "metric"; got the text "imperial"',
    );
  });
});

describe("PASSTIME", () => {
  it("of a blank floor or blank passes is an error, never no time", () => {
    expect(ask(PASSTIME, null, 24, 30)).toEqual(valueError("area is blank or 0; it must be above 0"));
    expect(ask(PASSTIME, undefined, 24, 30)).toEqual(valueError("area is missing; it must be above 0"));
    expect(ask(PASSTIME, 3600, 24, 30, null)).toEqual(
      valueError("passes is blank or 0; type a number above 0, or leave the argument out for 1"),
    );
    expect(ask(PASSTIME, 3600, 24, 30, undefined, 0.5)).toBe(2);
  });

  it("grows with the passes and shrinks with the width", () => {
    expect(ask(PASSTIME, 3600, 24, 30, 3)).toBe(3);
    expect(ask(PASSTIME, 3600, 48, 30, 3)).toBe(1.5);
  });

  it("refuses an overlap of a whole lane", () => {
    expect(ask(PASSTIME, 3600, 24, 30, 1, 1)).toEqual(
      valueError("overlap must be from 0 to below 1 (20% is 0.2); got 1"),
    );
  });

  it("beyond any number is #NUM!", () => {
    expect(ask(PASSTIME, 1e308, 1e-308, 30)).toEqual(error("#NUM!", "the answer is too large for a number"));
  });
});

describe("SPEEDFOR", () => {
  it("is the speed at which PASSTIME takes those hours", () => {
    const speed = ask(SPEEDFOR, 5000, 28, 6, 2, 0.15, 0.75);
    expectClose(ask(PASSTIME, 5000, 28, speed, 2, 0.15, 0.75), 6);
  });

  it("needs hours", () => {
    expect(ask(SPEEDFOR, 5000, 28, null)).toEqual(valueError("hours is blank or 0; it must be above 0"));
  });
});

describe("LANES", () => {
  it("is one where the machine is as wide as the room or wider", () => {
    expect(ask(LANES, 2, 24)).toBe(1);
    expect(ask(LANES, 1.5, 24)).toBe(1);
  });

  it("counts a last lane that is only partly used", () => {
    // 20 ft and 1 in take ten lanes of 2 ft and one more for the inch.
    expect(ask(LANES, 20 + 1 / 12, 24)).toBe(11);
  });

  it("does not count a lane that only rounding makes", () => {
    // 16.1 m is 23 lanes of 0.7 m, and (16.1 − 0.7) / 0.7 is a hair above 22 in binary.
    expect(ask(LANES, 16.1, 700, 0, "metric")).toBe(23);
  });
});

describe("ROOMTIME", () => {
  it("of one lane has no turns", () => {
    // 60 ft at 30 ft/min is 2 min.
    expectClose(ask(ROOMTIME, 60, 2, 24, 30, 1, 0, 1000), 2 / 60);
  });

  it("with crosshatch in a square room is the same as without", () => {
    const plain = ask(ROOMTIME, 30, 30, 24, 30, 4, 0.1, 10);
    expectClose(ask(ROOMTIME, 30, 30, 24, 30, 4, 0.1, 10, true), plain);
  });

  it("with crosshatch crosses on the second pass, not on the first", () => {
    expect(ask(ROOMTIME, 60, 20, 24, 30, 1, 0, 12, true)).toBe(ask(ROOMTIME, 60, 20, 24, 30, 1, 0, 12, false));
    // Of three passes two run along (21.8 min each) and one across (25.8 min).
    expectClose(ask(ROOMTIME, 60, 20, 24, 30, 3, 0, 12, true), (2 * 21.8 + 25.8) / 60);
  });

  it("takes a column of TRUE and FALSE", () => {
    const hours = ROOMTIME([[60]], [[20]], [[24]], [[30]], [[2]], [[0]], [[12]], column(false, true)).flat();
    expectClose(hours[0], (2 * 21.8) / 60);
    expectClose(hours[1], (21.8 + 25.8) / 60);
  });
});

describe("OPENSHARE", () => {
  it("without an edge strip is the whole floor", () => {
    expect(ask(OPENSHARE, 60, 20, 0)).toBe(1);
  });

  it("is nothing where the strips meet, whichever way they do", () => {
    expect(ask(OPENSHARE, 60, 1, 6)).toBe(0);
    expect(ask(OPENSHARE, 1, 60, 6)).toBe(0);
    // Both ways at once must not multiply two negatives to a share.
    expect(ask(OPENSHARE, 1, 1, 24)).toBe(0);
  });
});

describe("EDGETIME", () => {
  it("is one pass when left out", () => {
    expect(ask(EDGETIME, 160, 40)).toBe(4);
  });

  it("is the same number for feet at feet an hour as for meters at meters an hour", () => {
    expect(ask(EDGETIME, 160, 40, 1, "metric")).toBe(4);
  });

  it("still refuses a system of units that there is not", () => {
    expect(() => EDGETIME([[160]], [[40]], undefined, "si")).toThrow(
      'units must be "us" or "metric"; got the text "si"',
    );
  });
});
