import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Around,
  briefly,
  figureText,
  hours,
  money,
  numberIn,
  otherReading,
  readTyped,
  share,
  typedAs,
} from "../../../addin/pane/numbers";
import type { NumberField } from "../../../functions/plan/field";
import { field } from "../../../functions/plan/fields";

const area = field("area") as NumberField;
const overlap = field("overlap") as NumberField;
const rate = field("rate") as NumberField;
const lastGrit = field("lastGrit") as NumberField;

// English notation: thousands in groups of three by commas, decimals after a point (common practice).
describe("a typed number", () => {
  it.each([
    ["5000", 5000],
    ["5,000", 5000],
    ["1,234,567.5", 1234567.5],
    [" 12.5 ", 12.5],
    [".5", 0.5],
    ["3.", 3],
    ["-2", -2],
    ["0", 0],
  ])("%j is %d", (text, value) => {
    expect(numberIn(text)).toBe(value);
  });

  it.each([
    "5 000",
    "1,5",
    "12,34",
    "1,0000",
    "5.000,5",
    "1e3",
    "0x10",
    "1/2",
    "28 in",
    "20 %",
    "",
    "-",
    ".",
    ",",
    "Infinity",
    "five",
  ])("%j is refused, never guessed at", (text) => {
    expect(numberIn(text)).toBeUndefined();
  });

  // By hand: a percentage is its number over 100, rounded once to the nearest double, as the literal is.
  it.each([
    ["20", 0.2],
    ["20 %", 0.2],
    ["20%", 0.2],
    ["7.1", 0.071],
    ["0.5", 0.005],
    ["1,000", 10],
  ])("%j as a percentage is %d", (text, value) => {
    expect(numberIn(text, true)).toBe(value);
  });
});

describe("to someone who writes decimals after a comma, as in most of Europe,", () => {
  // Both readings by the rules of the two notations: the mark before the last three digits parts thousands, or decimals.
  it.each([
    ["1.500", "1.5", "1500"],
    ["1.000", "1", "1000"],
    ["-12.125", "-12.125", "-12125"],
    [" 1,500 ", "1500", "1.5"],
    ["999,250", "999250", "999.25"],
  ])("%j may be another number, and both are told", (text, taken, other) => {
    expect(otherReading(text)).toBe(
      `Taken as ${taken}, because decimals come after a point here; for ${other} type ${other}`,
    );
    expect(numberIn(text)).toBe(Number(taken));
  });

  it("so may a percentage, with its sign or without", () => {
    expect([otherReading("1.500 %", true), otherReading("1.500", true)]).toEqual(
      new Array(2).fill("Taken as 1.5, because decimals come after a point here; for 1500 type 1500"),
    );
  });

  it.each(["0.125", "1.5", "1500", "1,234.5", "1,234,567", "1.2500", "12,34", "1.234.567", "1.500 m", ""])(
    "%j is the same number, or none to anybody",
    (text) => expect(otherReading(text)).toBe(""),
  );
});

describe("a field's text", () => {
  it("is a blank when nothing is typed", () => {
    expect(readTyped("  ", area)).toEqual({ value: null });
  });

  it("is told what it may be, and what it is, by the field's name", () => {
    expect(readTyped("5 000", area).problem).toBe(
      'Floor area must be a number, typed like 5000, 5,000 or 12.5; got the text "5 000"',
    );
    expect(readTyped("a fifth", overlap).problem).toBe(
      'Overlap must be a number, typed like 20 or 7.5; got the text "a fifth"',
    );
  });

  // Each means the number alone, to anybody: the sign or unit is the field's own.
  it.each<[string, number, Around]>([
    ["$45", 45, { unit: "/h", isMoney: true }],
    ["$ 45.50", 45.5, { unit: "/h", isMoney: true }],
    ["€1,250", 1250, { isMoney: true }],
    ["45/h", 45, { unit: "/h", isMoney: true }],
    ["60'", 60, { unit: "ft" }],
    ["60 ft", 60, { unit: "ft" }],
    ["4,200 ft²", 4200, { unit: "ft²" }],
    ["4,200 sq ft", 4200, { unit: "ft²" }],
    ["4200 SF", 4200, { unit: "ft²" }],
    ['28"', 28, { unit: "in" }],
    ["28 in.", 28, { unit: "in" }],
    ["390 m2", 390, { unit: "m²" }],
    ["15 ft/min", 15, { unit: "ft/min" }],
    ["8 hrs", 8, { unit: "h" }],
    ["12 mils", 12, { unit: "mil" }],
  ])("takes %j as %d", (text, value, around) => {
    expect(readTyped(text, area, around)).toEqual({ value });
  });

  it.each<[string, string, Around]>([
    ["18 m", "Floor area is in ft², not m; type it in ft²", { unit: "ft²" }],
    ["390 m²", "Floor area is in ft², not m²; type it in ft²", { unit: "ft²" }],
    ["5' 6\"", 'Floor area takes feet with decimals: 5\' 6" is 5.5; got the text "5\' 6""', { unit: "ft" }],
    ["$45", 'Floor area must be a number, typed like 5000, 5,000 or 12.5; got the text "$45"', { unit: "ft" }],
    ["1,5 ft", 'Floor area must be a number, typed like 5000, 5,000 or 12.5; got the text "1,5 ft"', { unit: "ft" }],
    [
      "12 apples",
      'Floor area must be a number, typed like 5000, 5,000 or 12.5; got the text "12 apples"',
      { unit: "ft" },
    ],
  ])("refuses %j with words", (text, problem, around) => {
    expect(readTyped(text, area, around)).toEqual({ value: null, problem });
  });

  it("shows quantities with commas, money with decimals, percentages as percent, and grits plainly", () => {
    expect(typedAs(5000, area)).toBe("5,000");
    expect(typedAs(30, rate)).toBe("30.00");
    expect(typedAs(0.071, overlap)).toBe("7.1");
    expect(typedAs(3000, lastGrit)).toBe("3000");
    expect(typedAs(null, area)).toBe("");
  });

  it("reads back what it shows", () => {
    const fields = [area, overlap, rate, lastGrit];
    // Whole numbers up to 10⁹ over 1000 have at most 12 digits, which is what a field keeps.
    const amounts = fc.integer({ min: 0, max: 1e9 }).map((n) => n / 1000);
    fc.assert(
      fc.property(fc.constantFrom(...fields), amounts, (f, value) => {
        const back = readTyped(typedAs(value, f), f).value;
        expect(Math.abs(back! - value)).toBeLessThanOrEqual(1e-12 * value);
      }),
    );
  });
});

it("running text rounds quantities to six digits", () => {
  expect(briefly(107639.104167, area)).toBe("107,639");
});

it("money has two decimals, hours one, shares none", () => {
  expect([money(12345.678), hours(8.26), share(0.126)]).toEqual(["12,345.68", "8.3", "13%"]);
});

it("a figure beside a limit keeps two decimals below 10", () => {
  expect([2.4951, 9.999, 12.345, 1234.56, 0, 5].map(figureText)).toEqual(["2.5", "10", "12.3", "1,234.6", "0", "5"]);
});
