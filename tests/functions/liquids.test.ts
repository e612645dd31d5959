import { describe, expect, it } from "vitest";
import { CONTAINERS, FILM, LIQUID } from "../../functions/liquids";
import { ask, column, expectClose, valueError } from "../helpers";

describe("LIQUID", () => {
  it("is one coat without waste when both are left out", () => {
    expect(ask(LIQUID, 5000, 400)).toBe(12.5);
  });

  it("refuses a waste typed as a whole percent", () => {
    expect(ask(LIQUID, 5000, 400, 1, 10)).toEqual(valueError("waste must be from 0 to below 1 (20% is 0.2); got 10"));
  });

  it("refuses a coverage of nothing", () => {
    expect(ask(LIQUID, 5000, 0)).toEqual(valueError("coverage is blank or 0; it must be above 0"));
  });
});

describe("CONTAINERS", () => {
  it("are whole, and blank beside a blank volume", () => {
    expect(ask(CONTAINERS, column(0, 0.1, 5, 5.1), 5)).toEqual([[""], [1], [1], [2]]);
  });

  it("are not raised by the last digit of a division", () => {
    expect(ask(CONTAINERS, 4.2, 0.7)).toBe(6);
    expect(ask(CONTAINERS, 0.07 * 100, 1)).toBe(7);
    expect(ask(CONTAINERS, 0.3, 0.1)).toBe(3);
  });
});

describe("FILM", () => {
  it("is wet unless the solids are given", () => {
    expectClose(ask(FILM, 10, null, "metric"), 100);
    expectClose(ask(FILM, 10, 0.4, "metric"), 40);
  });

  it("halves as the coverage doubles", () => {
    expectClose(ask(FILM, 320), ask(FILM, 160) / 2);
  });

  it("refuses solids typed as a whole percent, and takes 0 for left out", () => {
    expect(ask(FILM, 160, 40)).toEqual(valueError("solids must be above 0 and at most 1 (80% is 0.8); got 40"));
    // hand: 1604.1667 / 160
    expectClose(ask(FILM, 160, 0), 10.0260416666667, 1e-13);
  });
});
