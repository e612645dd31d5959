import { describe, expect, it } from "vitest";
import { DUSTTWA, HANDARM, HANDTIME, NOISEDOSE, NOISETIME, SHROUDAIR } from "../../functions/exposure";
import { ask, column, error, expectClose, row, valueError } from "../helpers";

/** The three that add up a day, with a good amount and what their messages call it. */
const ADDING = [
  ["HANDARM", HANDARM, "vibration", 4, "above 0"],
  ["NOISEDOSE", NOISEDOSE, "levels", 90, "above 0 and at most 194"],
  ["DUSTTWA", DUSTTWA, "concentrations", 60, "above 0"],
] as const;

describe.each(ADDING)("%s, which adds up a day,", (_, fn, name, amount, domain) => {
  it("takes one part or many, down or across", () => {
    const one = ask(fn, amount, 4);
    expect(one).toBeGreaterThan(0);
    // Two halves of the time at the same amount are the whole of it.
    expectClose(ask(fn, column(amount, amount), column(1, 3)), one);
    expectClose(ask(fn, row(amount, amount), row(1, 3)), one);
    expectClose(
      ask(
        fn,
        [
          [amount, amount],
          [amount, amount],
        ],
        [
          [1, 1],
          [1, 1],
        ],
      ),
      one,
    );
  });

  it("is an error for no hours at all, never 0", () => {
    const noTime = valueError(`hours has no time above 0; type how long each value of ${name} lasts`);
    expect(ask(fn, amount, 0)).toEqual(noTime);
    expect(ask(fn, column(amount, amount), column(0, 0))).toEqual(noTime);
  });

  it("passes over rows with neither, however the host hands a blank over", () => {
    for (const blank of [null, "", 0]) {
      expect(ask(fn, column(amount, blank, amount), column(2, blank, 2))).toBe(ask(fn, amount, 4));
    }
  });

  it("counts no hours as 0 whose amount nobody measured", () => {
    expect(ask(fn, column(amount, null), column(2, 1))).toEqual(
      valueError(`${name} in row 2 is blank or 0; it must be ${domain}`),
    );
  });

  it("passes over an amount of no hours, such as a tool that was not used, once it is a good one", () => {
    expect(ask(fn, row(amount, amount), row(2, ""))).toBe(ask(fn, amount, 2));
    expect(ask(fn, row(amount, "x"), row(2, ""))).toEqual(
      valueError(`${name} in column 2 must be ${domain}; got the text "x"`),
    );
  });

  it("refuses a day of more than 24 hours, part by part and in all", () => {
    expect(ask(fn, amount, 25)).toEqual(valueError("hours must be from 0 to 24; got 25"));
    expect(ask(fn, column(amount, amount, amount), column(9, 9, 7))).toEqual(
      valueError("hours must come to at most 24 in all; got 25"),
    );
    expect(ask(fn, column(amount, amount), column(16, 8))).toBeTypeOf("number");
    // Ten times 2.4 h is 24 h, though binary adds up a little more.
    const tenths = column(...new Array(10).fill(2.4));
    expect(ask(fn, column(...new Array(10).fill(amount)), tenths)).toBeTypeOf("number");
  });

  it("refuses ranges of different shapes", () => {
    expect(ask(fn, column(amount, amount), column(1, 2, 3))).toEqual(
      valueError(`hours must have the shape of ${name}, 2 × 1 cells; got 3 × 1 cells`),
    );
    expect(ask(fn, column(amount, amount), row(1, 2))).toEqual(
      valueError(`hours must have the shape of ${name}, 2 × 1 cells; got 1 × 2 cells`),
    );
    expect(ask(fn, column(amount, amount), 4)).toEqual(
      valueError(`hours must have the shape of ${name}, 2 × 1 cells; got 1 × 1 cells`),
    );
  });

  it("has no answer where nothing is given", () => {
    for (const nothing of [null, 0, column(null, null), column(0, 0)]) {
      expect(ask(fn, nothing, nothing)).toEqual(
        valueError(`hours has no time above 0; type how long each value of ${name} lasts`),
      );
    }
  });

  it("passes on an error of the sheet, and refuses words and TRUE", () => {
    expect(ask(fn, column(amount, { code: "#DIV/0!" }), column(2, 1))).toMatchObject({ code: "#DIV/0!" });
    expect(ask(fn, column(amount, "n/a"), column(2, 1))).toEqual(
      valueError(`${name} in row 2 must be ${domain}; got the text "n/a"`),
    );
    expect(ask(fn, amount, true)).toEqual(valueError("hours must be from 0 to 24; got TRUE"));
  });
});

describe("HANDARM", () => {
  it("too large for a number has no answer", () => {
    expect(ask(HANDARM, 1e200, 1)).toEqual(error("#NUM!", "the answer is too large for a number"));
  });
});

describe("NOISEDOSE", () => {
  it("takes one rule for the whole day", () => {
    expect(ask(NOISEDOSE, column(90, 90), column(4, 4), column(90, 85))).toEqual(
      valueError("criterion must be one cell; got 2 × 1 cells"),
    );
  });

  it("counts a level below 80 dBA too: 8 h at 75 dBA are an eighth of the dose at 90", () => {
    // 15 dB are three halvings at 5 dB.
    expect(ask(NOISEDOSE, 75, 8)).toBe(12.5);
  });
});

describe("NOISETIME", () => {
  it("is by OSHA where the rule is left out or blank", () => {
    expect(ask(NOISETIME, 90)).toBe(8);
    expect(ask(NOISETIME, 90, "", "")).toBe(8);
  });

  it("may be more than a day", () => {
    expect(ask(NOISETIME, 80)).toBe(32);
  });

  it("is never 0, however loud", () => {
    expect(ask(NOISETIME, 194, 1, 1)).toBeGreaterThan(0);
  });

  it("refuses a level, a criterion and an exchange rate that there are not", () => {
    expect(ask(NOISETIME, 0)).toEqual(valueError("level is blank or 0; it must be above 0 and at most 194"));
    expect(ask(NOISETIME, 90, 850)).toEqual(valueError("criterion must be above 0 and at most 194; got 850"));
    expect(ask(NOISETIME, 90, 85, 11)).toEqual(valueError("exchange must be from 1 to 10; got 11"));
  });

  it("gives each level of a range its time, and a bad one its error", () => {
    expect(NOISETIME(column(90, null, "loud", 100))).toEqual([
      [8],
      [""],
      [valueError('level must be above 0 and at most 194; got the text "loud"')],
      [2],
    ]);
  });
});

describe("HANDTIME", () => {
  it("goes to the limit value unless told otherwise", () => {
    expect(ask(HANDTIME, 5)).toBe(8);
    expect(ask(HANDTIME, 5, 2.5)).toBe(2);
  });

  it("has no answer for a tool that does not vibrate", () => {
    expect(ask(HANDTIME, 0)).toEqual(valueError("vibration is blank or 0; it must be above 0"));
    expect(ask(HANDTIME, 1e-200)).toEqual(error("#NUM!", "the answer is too large for a number"));
  });

  it("takes a limit of 0 for a blank one", () => {
    expect(ask(HANDTIME, 5, 0)).toBe(8);
  });
});

describe("SHROUDAIR", () => {
  it("grows with the wheel", () => {
    expect(SHROUDAIR(column(4, 5, 7))).toEqual([[100], [125], [175]]);
  });

  it("refuses a wheel of nothing and other units", () => {
    expect(ask(SHROUDAIR, -5)).toEqual(valueError("diameter must be above 0; got -5"));
    expect(() => SHROUDAIR([[5]], "cm")).toThrow('units must be "us" or "metric"; got the text "cm"');
  });
});
