import { describe, expect, it } from "vitest";
import { DUSTMASS, GRINDPOWER, SLURRY, SUPPLYPOWER } from "../../functions/site";
import { ask, column, expectClose, valueError } from "../helpers";

describe("DUSTMASS", () => {
  it("is of concrete unless the density is given, and takes a blank one for left out", () => {
    // hand: 192 ft² × 1/192 ft (1587.5 µm) is 1 ft³
    expectClose(ask(DUSTMASS, 192, 1587.5), 145);
    expectClose(ask(DUSTMASS, 192, 1587.5, null), 145);
    expectClose(ask(DUSTMASS, 192, 1587.5, 150), 150);
    expectClose(ask(DUSTMASS, 1, 1000, undefined, "metric"), 2.32);
  });

  it("needs a floor and a depth", () => {
    expect(ask(DUSTMASS, null, 500)).toEqual(valueError("area is blank or 0; it must be above 0"));
    expect(ask(DUSTMASS, 100, "deep")).toEqual(valueError('depth must be above 0; got the text "deep"'));
  });
});

describe("SLURRY", () => {
  it("is the water where hardly anything comes off, and the floor where there is hardly water", () => {
    expectClose(ask(SLURRY, 1, 1e-9, 1, 1), 60);
    // hand: 231/1728 ft³ is a gallon, so 231/1728 ft² one foot deep; 1 ft is 304800 µm
    expectClose(ask(SLURRY, 231 / 1728, 304800, 1e-12, 1), 1, 1e-9);
  });

  it("needs the water: without it the grinding is dry", () => {
    expect(ask(SLURRY, 100, 500, null, 5)).toEqual(valueError("waterRate is blank or 0; it must be above 0"));
  });
});

describe("GRINDPOWER", () => {
  it("grows with what is cut in a minute and with the energy", () => {
    const once = ask(GRINDPOWER, 300, 28, 15);
    expectClose(ask(GRINDPOWER, 600, 28, 15), 2 * once);
    expectClose(ask(GRINDPOWER, 300, 28, 15, 0, 1.3), 1.3 * once);
    expectClose(ask(GRINDPOWER, 300, 28, 15, 0.5), once / 2);
    expect(ask(GRINDPOWER, 300, 28, 15, null, null)).toBe(once);
  });
});

describe("SUPPLYPOWER", () => {
  it("counts one phase and no loss unless told otherwise", () => {
    expect(ask(SUPPLYPOWER, 230, 20)).toBe(4.6);
    expect(ask(SUPPLYPOWER, 230, 20, null, 0)).toBe(4.6);
    expectClose(ask(SUPPLYPOWER, 400, 32, 3, 0.8), 0.8 * 12.8 * Math.sqrt(3));
  });

  it("tells a supply of two phases in its own row", () => {
    expect(ask(SUPPLYPOWER, 100, 10, column(1, 2, 3))).toEqual(
      column(1, valueError("phases must be 1 or 3; got 2"), expect.closeTo(Math.sqrt(3), 12)),
    );
  });
});
