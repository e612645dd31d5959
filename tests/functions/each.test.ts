import { describe, expect, it } from "vitest";
import { answer, badValue, noAnswer, notFound } from "../../functions/answer";
import { argument, numberReader } from "../../functions/cell";
import { ABOVE_0, ANY_NUMBER, type Domain } from "../../functions/domain";
import { each } from "../../functions/each";
import { ask, column, error, row, valueError } from "../helpers";

const number = (name: string, cells: unknown, domain: Domain, fallback?: number) =>
  argument(name, cells, numberReader(domain, fallback));

/** The smallest formula there is: two numbers, the second with a default. */
const sum = (a?: any[][], b?: any[][]) =>
  answer(() => each([number("a", a, ABOVE_0), number("b", b, ABOVE_0, 10)], (x, y) => x + y));

describe("broadcasting", () => {
  it("stretches a column beside a row to a block", () => {
    expect(sum(column(1, 2, 3), row(10, 20))).toEqual([
      [11, 21],
      [12, 22],
      [13, 23],
    ]);
  });

  it("stretches a column or a row beside a block", () => {
    const block = [
      [1, 2],
      [3, 4],
    ];
    expect(sum(block, column(10, 20))).toEqual([
      [11, 12],
      [23, 24],
    ]);
    expect(sum(row(10, 20), block)).toEqual([
      [11, 22],
      [13, 24],
    ]);
  });

  it("refuses shapes that do not fit, naming the one that does not", () => {
    expect(sum(column(1, 2, 3), column(1, 2))).toEqual([[valueError("b is 2 × 1 cells and does not fit 3 × 1")]]);
    expect(sum(row(1, 2), row(1, 2, 3))).toEqual([[valueError("a is 1 × 2 cells and does not fit 1 × 3")]]);
  });

  it("leaves a row blank whose every range argument is blank or 0", () => {
    expect(sum(column(1, 0, ""), column(2, "", 0))).toEqual([[3], [""], [""]]);
    expect(sum(column(1, 0), [[5]])).toEqual([[6], [""]]);
    expect(sum(column(1, null, ""), column(2, "", null))).toEqual([[3], [""], [""]]);
    expect(sum(column(1, null), [[5]])).toEqual([[6], [""]]);
  });

  it("does not leave a row blank where only one of two ranges is", () => {
    expect(sum(column(1, null), column(null, 2))).toEqual([[11], [valueError("a is blank or 0; it must be above 0")]]);
  });

  it("leaves a blank row blank even where an argument for all rows is bad", () => {
    const bad = valueError('b must be above 0; got the text "x"');
    expect(sum(column(1, null, 2), [["x"]])).toEqual([[bad], [""], [bad]]);
  });

  it("gives a bad row its own error and spoils no other", () => {
    expect(sum(column(1, "two", -3, 4))).toEqual([
      [11],
      [valueError('a must be above 0; got the text "two"')],
      [valueError("a must be above 0; got -3")],
      [14],
    ]);
  });
});

describe("of several bad arguments", () => {
  it("the first is named", () => {
    expect(ask(sum, -1, "x")).toEqual(valueError("a must be above 0; got -1"));
  });

  it("the first is named whichever of them is a range", () => {
    const first = valueError("a must be above 0; got -1");
    const second = valueError('b must be above 0; got the text "x"');
    expect(sum(column(-1, 1), [["x"]])).toEqual([[first], [second]]);
    expect(sum([[-1]], column("x", 1))).toEqual([[first], [first]]);
    expect(sum(column(-1, 1), column("x", "x"))).toEqual([[first], [second]]);
  });
});

describe("a formula without an answer", () => {
  const failing = (x?: any[][]) =>
    answer(() =>
      each([number("x", x, ANY_NUMBER)], (value) => {
        if (value === 1) throw badValue("1 will not do");
        if (value === 2) throw notFound("2 is not listed");
        if (value === 3) throw noAnswer("3 leads nowhere");
        return value;
      }),
    );

  it("tells its own row why", () => {
    expect(failing(column(-1, 1, 2, 3))).toEqual([
      [-1],
      [error("#VALUE!", "1 will not do")],
      [error("#N/A", "2 is not listed")],
      [error("#NUM!", "3 leads nowhere")],
    ]);
  });

  it("is told apart from a mistake in the program, which is not hidden", () => {
    const broken = () =>
      answer(() => {
        throw new TypeError("a mistake");
      });
    expect(broken).toThrow(TypeError);
    expect(() =>
      answer(() =>
        each([number("x", column(1, 2), ANY_NUMBER)], () => {
          throw new RangeError("a mistake");
        }),
      ),
    ).toThrow(RangeError);
  });
});
