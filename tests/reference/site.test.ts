/** The topic Site, spreading rates, joint filler and paid hours against published values and a library's units. */
import { unit } from "mathjs";
import { describe, expect } from "vitest";
import { FILM, JOINTFILL, SPREADRATE } from "../../functions/liquids";
import { PAIDHOURS } from "../../functions/price";
import { DUSTMASS, GRINDPOWER, SLURRY, SUPPLYPOWER } from "../../functions/site";
import { ask, expectClose, reference } from "../helpers";

const MATHJS = "library: mathjs 15.2.0, its units";

describe("grinding of concrete by two demonstrations (FRTR technology profiles 97 and 98, US DOE, Hanford, 1997)", () => {
  const FRTR = "published: FRTR technology profiles 97 and 98: depth, area rate, volts and amps";

  reference("a 5 in hand grinder takes at most 0.62 J/mm³ of its 110 V × 11 A", FRTR, () => {
    // 48 ft²/h to 1/16 in: 5 in wide at 48 / (5/12) / 60 ft/min.
    const atOne = ask(GRINDPOWER, 1587.5, 5, 48 / (5 / 12) / 60);
    expect(ask(SUPPLYPOWER, 110, 11) / atOne).toBeCloseTo(0.62, 2);
  });

  reference("a 10 in walk-behind takes 1.0 to 1.3 J/mm³ of its 16 A at 380 to 480 V", FRTR, () => {
    const atOne = ask(GRINDPOWER, 3175, 10, 128 / (10 / 12) / 60);
    expect(ask(SUPPLYPOWER, 380, 16, 3) / atOne).toBeCloseTo(1, 1);
    expect(ask(SUPPLYPOWER, 480, 16, 3) / atOne).toBeCloseTo(1.27, 2);
  });
});

reference("GRINDPOWER is cut × width × speed × energy in any units", MATHJS, () => {
  const watts = unit("300 um").toNumber("m") * unit("28 in").toNumber("m") * unit("15 ft/min").toNumber("m/s") * 1e9;
  expectClose(ask(GRINDPOWER, 300, 28, 15), watts / 1000, 1e-12);
});

reference("1/16 in over 4,200 ft² is about 3,200 lb", MATHJS, () => {
  const volume = unit("4200 ft^2").toNumber("m^2") * unit("0.0625 in").toNumber("m");
  expectClose(ask(DUSTMASS, 4200, 1587.5), unit(volume * unit("145 lb/ft^3").toNumber("kg/m^3"), "kg").toNumber("lb"));
  expectClose(ask(DUSTMASS, 4200, 1587.5), 3200, 0.01);
});

reference("SLURRY is water and solids, in gallons and in liters", MATHJS, () => {
  const solids = unit("4200 ft^2").toNumber("m^2") * unit("0.0625 in").toNumber("m");
  expectClose(ask(SLURRY, 4200, 1587.5, 0.5, 10), 300 + unit(solids, "m^3").toNumber("gallon"), 1e-9);
});

reference("JOINTFILL: a gallon fills 77 ft of 1/4 × 1 in", "hand: 231 in³ / (12 × 0.25 × 1)", () => {
  expectClose(ask(JOINTFILL, 77, 0.25, 1), 1);
  expectClose(ask(JOINTFILL, 1, 1, 1, 0, "metric"), unit(1e-6, "m^3").toNumber("liter"));
});

reference("SPREADRATE is 1604 × volume solids / dry mils", "published: coatings handbooks, spreading rate", () => {
  expectClose(ask(SPREADRATE, 5, 0.4), (1604 * 0.4) / 5, 2e-4);
});

reference("SPREADRATE undoes FILM", "identity: coverage is volume over thickness", () => {
  for (const units of ["us", "metric"]) expectClose(ask(SPREADRATE, ask(FILM, 215, 0.45, units), 0.45, units), 215);
});

reference("PAIDHOURS at 12 an hour is 588 for 46 hours", "published: 29 CFR 778.110(b), from memory", () => {
  expect(12 * ask(PAIDHOURS, 46)).toBe(588);
});

reference("PAIDHOURS of a week without overtime is its hours", "hand: nothing above 40", () => {
  expect(ask(PAIDHOURS, 40)).toBe(40);
  expect(ask(PAIDHOURS, 0)).toBe(0);
});
