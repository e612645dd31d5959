import { describe, expect, it } from "vitest";
import { answer } from "../../functions/answer";
import {
  argument,
  numberOrNoneReader,
  numberReader,
  single,
  type Words,
  wordReader,
  words,
  YES_NO,
} from "../../functions/cell";
import { ABOVE_0, ANY_NUMBER, BELOW_1, type Domain, FROM_0, WHOLE_FROM_1 } from "../../functions/domain";
import { each } from "../../functions/each";
import { ask, column, error, row, valueError } from "../helpers";

const number = (name: string, cells: unknown, domain: Domain, fallback?: number) =>
  argument(name, cells, numberReader(domain, fallback));
const numberOrNone = (name: string, cells: unknown, domain: Domain) =>
  argument(name, cells, numberOrNoneReader(domain));
const word = <T extends string>(name: string, cells: unknown, vocabulary: Words<T>) =>
  argument(name, cells, wordReader(vocabulary));
const yesNo = (name: string, cells: unknown) => argument(name, cells, YES_NO);

/** The smallest formula there is: two numbers, the second with a default. */
const sum = (a?: any[][], b?: any[][]) =>
  answer(() => each([number("a", a, ABOVE_0), number("b", b, ABOVE_0, 10)], (x, y) => x + y));

const COLORS = words('"red" or "green" (also "lime")', { red: "red", green: "green", lime: "green" });
const paint = (color?: any[][]) => answer(() => each([word("color", color, COLORS)], (c) => c ?? "bare"));
const choose = (choice?: any[][]) => answer(() => each([yesNo("choice", choice)], (yes) => (yes ? "yes" : "no")));

describe("a blank", () => {
  it.each([
    ["null", null],
    ["an empty text", ""],
    ["0", 0],
  ])("as %s takes the default where there is one", (_, blank) => {
    expect(sum([[1]], [[blank]])).toEqual([[11]]);
  });

  it.each([
    ["null", null],
    ["an empty text", ""],
    ["0", 0],
  ])("as %s is an error that names the argument where a value is needed", (_, blank) => {
    expect(sum([[blank]], [[1]])).toEqual([[valueError("a is blank or 0; it must be above 0")]]);
  });

  it("counts as 0 where a value is needed and 0 is one", () => {
    const doubled = (x?: any[][]) => answer(() => each([number("x", x, FROM_0)], (value) => 2 * value));
    for (const blank of [null, "", 0]) expect(ask(doubled, blank)).toBe(0);
    expect(doubled()).toEqual([[valueError("x is missing; it must be 0 or more")]]);
  });

  it("is neither the default nor 0 where a 0 typed there could be meant", () => {
    const passes = (x?: any[][]) =>
      answer(() => each([argument("passes", x, numberReader(WHOLE_FROM_1, 1, true))], (value) => value));
    for (const blank of [null, "", 0]) {
      expect(ask(passes, blank)).toEqual(
        valueError("passes is blank or 0; type a whole number, 1 or more, or leave the argument out for 1"),
      );
    }
    expect(passes()).toEqual([[1]]);
  });

  it("can't be told from a 0, so 0 is no value beside another default", () => {
    expect(() => numberReader(FROM_0, 1)).toThrow("a 0 and a blank cell arrive alike");
    expect(() => numberReader(FROM_0, 1, true)).toThrow("a 0 and a blank cell arrive alike");
  });

  it("argument left out takes the default", () => {
    expect(sum([[1]])).toEqual([[11]]);
    expect(sum([[1]], null as unknown as any[][])).toEqual([[11]]);
  });

  it("array without cells counts as left out", () => {
    expect(sum([[1]], [])).toEqual([[11]]);
    expect(sum([[1]], [[]])).toEqual([[11]]);
  });

  it("may mean none where the argument says so", () => {
    const limited = (limit?: any[][]) =>
      answer(() => each([numberOrNone("limit", limit, ABOVE_0)], (x) => (x === undefined ? "no limit" : x)));
    expect(ask(limited, null)).toBe("no limit");
    expect(ask(limited, 3)).toBe(3);
    expect(ask(limited, -3)).toEqual(valueError("limit must be above 0; got -3"));
  });
});

describe("a number", () => {
  it.each<[string, unknown, string]>([
    ["a text, even of digits", "12", 'the text "12"'],
    ["TRUE", true, "TRUE"],
    ["FALSE", false, "FALSE"],
    ["a negative number", -0.5, "-0.5"],
    ["infinity", Number.POSITIVE_INFINITY, "Infinity"],
    ["not a number", Number.NaN, "NaN"],
    ["an object", { a: 1 }, "something that is neither number nor text"],
    ["an array", [1], "something that is neither number nor text"],
  ])("is never %s", (_, cell, shown) => {
    expect(sum([[cell]])).toEqual([[valueError(`a must be above 0; got ${shown}`)]]);
  });

  it("is shown in its message only as far as forty characters", () => {
    const shown = `the text "${"x".repeat(40)}…"`;
    expect(ask(sum, "x".repeat(41))).toEqual(valueError(`a must be above 0; got ${shown}`));
  });

  it("keeps to an open bound by the last digit", () => {
    const share = (x?: any[][]) => answer(() => each([number("x", x, BELOW_1)], (value) => value));
    expect(ask(share, 1 - 2 ** -53)).toBe(1 - 2 ** -53);
    expect(ask(share, 1)).toEqual(valueError("x must be from 0 to below 1 (20% is 0.2); got 1"));
  });

  it("above 0 may be the smallest there is, but not 0", () => {
    const positive = (x?: any[][]) => answer(() => each([number("x", x, ABOVE_0)], (value) => value));
    expect(ask(positive, Number.MIN_VALUE)).toBe(Number.MIN_VALUE);
    expect(ask(positive, 0)).toEqual(valueError("x is blank or 0; it must be above 0"));
    expect(ask(positive, -0)).toEqual(valueError("x is blank or 0; it must be above 0"));
  });

  it("that must be whole may be of any size: 1E12 is a whole number", () => {
    const whole = (x: number) => answer(() => each([number("x", [[x]], WHOLE_FROM_1)], (n) => n));
    expect(whole(1e12)).toEqual([[1e12]]);
    expect(whole(1e12 + 0.5)).toEqual([[valueError("x must be a whole number, 1 or more; got 1000000000000.5")]]);
  });

  it("that must be whole is refused with a fraction, in one cell and in a range", () => {
    const count = (x?: any[][]) => answer(() => each([number("x", x, WHOLE_FROM_1)], (value) => value));
    const refused = valueError("x must be a whole number, 1 or more; got 2.5");
    expect(ask(count, 2.5)).toEqual(refused);
    expect(count(column(2, 2.5))).toEqual([[2], [refused]]);
  });

  it("that outgrows the largest number gives #NUM!, never Infinity", () => {
    const tooLarge = error("#NUM!", "the answer is too large for a number");
    expect(ask(sum, Number.MAX_VALUE, Number.MAX_VALUE)).toEqual(tooLarge);
    expect(sum(column(1, Number.MAX_VALUE), [[Number.MAX_VALUE]])).toEqual([[Number.MAX_VALUE], [tooLarge]]);
  });
});

describe("a word", () => {
  it.each(["green", "GREEN", "Green", " green ", "lime"])("is understood as typed: %j", (typed) => {
    expect(ask(paint, typed)).toBe("green");
  });

  it.each<[unknown, string]>([
    ["blue", 'the text "blue"'],
    ["gre\ud800en", 'the text "gre\ufffden"'],
    [`${"x".repeat(39)}\ud83d\ude00`, `the text "${"x".repeat(39)}\ufffd…"`],
    [" ".repeat(32_760), `the text "${" ".repeat(40)}…"`],
    ["constructor", 'the text "constructor"'],
    ["__proto__", 'the text "__proto__"'],
    [1, "1"],
    [true, "TRUE"],
  ])("that is unknown is refused with the words there are: %j", (typed, shown) => {
    expect(ask(paint, typed)).toEqual(valueError(`color must be "red" or "green" (also "lime"); got ${shown}`));
  });

  it("is understood after any number of other words", () => {
    for (let i = 0; i < 1500; i++) ask(paint, `color ${i}`);
    expect(ask(paint, "gREEn")).toBe("green");
  });

  it("left blank is left to the function", () => {
    expect(ask(paint, null)).toBe("bare");
  });
});

describe("yes or no", () => {
  it("is TRUE, FALSE, 1 or 0, and FALSE when blank", () => {
    expect(choose(row(true, 1, false))).toEqual([["yes", "yes", "no"]]);
    expect(ask(choose, 0)).toBe("no");
    expect(ask(choose, null)).toBe("no");
  });

  it("is not a word or another number", () => {
    expect(ask(choose, "TRUE")).toEqual(valueError('choice must be TRUE or FALSE; got the text "TRUE"'));
    expect(ask(choose, 2)).toEqual(valueError("choice must be TRUE or FALSE; got 2"));
  });
});

describe("an error in a cell", () => {
  it("comes out as that same error and spoils no other row", () => {
    const out = sum(column(1, { code: "#DIV/0!" }, 3), [[1]]);
    expect(out).toEqual([[2], [expect.objectContaining({ code: "#DIV/0!" })], [4]]);
  });

  it("keeps its message", () => {
    expect(ask(sum, { code: "#N/A", message: "grit 3 is not on the mesh scale" })).toEqual(
      error("#N/A", "grit 3 is not on the mesh scale"),
    );
  });

  it("is known in the form of a cell value too", () => {
    expect(ask(sum, { type: "Error", basicType: "Error", basicValue: "#NUM!" })).toMatchObject({ code: "#NUM!" });
    expect(ask(sum, { code: "#NUM!", basicValue: "#NUM!" })).toMatchObject({ code: "#NUM!" });
  });

  // office-platform.md: any other code that a function gives comes out as a bare #VALUE!.
  it.each(["#N/A", "#DIV/0!", "#VALUE!", "#NUM!", "#NULL!"])(
    "comes out as it is where the host shows it: %s",
    (code) => {
      expect(ask(sum, { code })).toEqual(error(code, `a is the error ${code}`));
    },
  );

  it.each(["#REF!", "#NAME?", "#SPILL!", "#BUSY!", "#FIELD!"])("comes out as #VALUE! where it does not: %s", (code) => {
    expect(ask(sum, { code })).toEqual(valueError(`a is the error ${code}`));
  });

  it("passes through an argument that applies to every row", () => {
    const out = sum(column(1, 2), [[{ code: "#NULL!" }]]);
    expect(out).toEqual([[expect.objectContaining({ code: "#NULL!" })], [expect.objectContaining({ code: "#NULL!" })]]);
  });

  it("without a reason of its own is told by the argument it came in with", () => {
    expect(ask(sum, { code: "#DIV/0!" })).toEqual(error("#DIV/0!", "a is the error #DIV/0!"));
    expect(ask(sum, 1, { code: "#N/A", message: 7 })).toEqual(error("#N/A", "b is the error #N/A"));
  });

  it("with a reason longer than a message, or cut in a pair, is told by as much of it as can be told", () => {
    const reason = `\ud800${"m".repeat(32_000)}`;
    expect(ask(sum, { code: "#N/A", message: reason })).toEqual(error("#N/A", `\ufffd${"m".repeat(499)}…`));
  });

  it.each(["#", "#x", "#__proto__", `#${"A".repeat(99)}`])("is none by the code %s", (code) => {
    expect(ask(sum, { code })).toEqual(valueError("a must be above 0; got something that is neither number nor text"));
  });
});

describe("an argument that no spreadsheet would pass", () => {
  const asIs = sum as (...args: unknown[]) => unknown;

  it("as a bare value is one cell", () => {
    expect(asIs(1, 2)).toEqual([[3]]);
    expect(asIs("one", 2)).toEqual([[valueError('a must be above 0; got the text "one"')]]);
  });

  it.each([[[[1, 2], [3]]], [[[1], null]], [[1, 2]], [["ab", "cd"]], [[[], [1]]], [new Array(3)]])(
    "as a block that is none, %j, is an error that names it",
    (cells) => {
      expect(asIs(cells, 2)).toEqual([[valueError("a must be one cell or a range of cells")]]);
    },
  );
});

describe("a zero with a sign", () => {
  it("is a plain zero as an answer, and as an argument", () => {
    const negated = (x?: any[][]) => answer(() => each([number("x", x, ANY_NUMBER)], (value) => value * -1));
    expect(ask(negated, 0)).toBe(0);
    expect(single(number("x", [[-0]], FROM_0))).toBe(0);
  });
});

describe("an argument of a single cell", () => {
  it("gives its value, or refuses a range by its shape", () => {
    expect(single(number("a", [[3]], FROM_0))).toBe(3);
    expect(answer(() => [[single(number("a", column(1, 2), FROM_0))]])).toEqual([
      [valueError("a must be one cell; got 2 × 1 cells")],
    ]);
  });
});
