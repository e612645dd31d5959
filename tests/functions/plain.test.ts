/**
 * The plain formula of each function against the function itself, calculated by IronCalc, a spreadsheet engine that
 * knows nothing of our code: random valid arguments, and fixed rows for the edges that random ones miss. Arguments of
 * every other kind are in tests/addin/share/agreement.test.ts.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { translate } from "../../addin/share/translate";
import { agrees, type Block, type Cell, calculate, isError, rangeOf, SURROUNDINGS } from "../addin/share/engine";
import { asBlock, asBlocks, CATALOGUE, type Catalogued, validArguments } from "../catalogue";

const FORMULAS = CATALOGUE.filter(({ noPlain }) => !noPlain);

/** An excess that rounding up ignores, yet more than the fifteen digits that spreadsheets round away by themselves. */
const A_HAIR = 3e-10;

/** Rows of arguments at the edges: rounding, zeros, limits that belong to one side. */
const EDGES: Record<string, unknown[][]> = {
  LANES: [
    [20, 24, 0, "us"],
    [2, 24, 0, "us"],
    [16.1, 700, 0, "metric"],
    [7.4, 24, 0.1, "us"],
    [20 + A_HAIR, 24, 0, "us"],
  ],
  ROOMTIME: [
    [16.1, 16.1, 700, 10, 3, 0, 12, true, "metric"],
    [60, 20, 24, 30, 0, 0, 12, true, "us"],
    [60, 20, 24, 30, null, 0, 12, true, "us"],
    [60, 2, 24, 30, 2, 0, 12, true, "us"],
  ],
  OPENSHARE: [
    [60, 1, 6, "us"],
    [1, 1, 24, "us"],
  ],
  SLIDESPEED: [
    [12, 3, 90, 30, "us"],
    [12, 3, 90.001, 30, "us"],
    [0, 6, 600, 0, "us"],
    [12, 3, 0, 0, "us"],
    [200, 110, -900, 100, "metric"],
  ],
  PASSESTOCLEAR: [
    [4.2, 0, 0.7, 1],
    [0.07 * 100, 0, 1, 1],
    [40, 150, 30, 0],
    [40, 150, 30, 1],
    [40, 40, 30, 2],
    [6 + A_HAIR, 0, 1, 1],
  ],
  TOOLSTOBUY: [
    [4.2, 0.7, 1, 0],
    [100, 1, 0.07, 0],
    [4.2, 0.7, 1, 5],
    [1000, 4000, 1, 3],
    [6 + A_HAIR, 1, 1, 2],
  ],
  LIFELEFT: [[2, 2.5, 0.25, "us"]],
  BOND: [[4], [6], [3.999], [6.001]],
  CONTAINERS: [
    [4.2, 0.7],
    [0.07 * 100, 1],
    [0.3, 0.1],
    [0, 5],
    [6 + A_HAIR, 1],
  ],
  MACHINECOST: [
    [24000, 4000, 5, 0, 1000, 0],
    [24000, 24000, 5, 0.08, 1000, 3.5],
    [24000, 0, 0.5, 0.3, 1000, 0],
  ],
  PRICEAT: [
    [800, 0.2, 1500],
    [0, 0.2, 0],
    [800, null, 0],
  ],
  CALIBRATE: [
    [[[20], [null], [12], [50], [28]], [[23], [33], [15], [null], [30]], 0.9],
    [[[10], [10]], [[8], [12.5]], 0.5],
  ],
  HOURSAT: [
    [40, [[20], [null], [12], [50], [28]], [[23], [33], [15], [null], [30]], 0.8],
    [40, [[10], [10]], [[8], [12.5]], 0.5],
    [40, [[10], [10]], [[8], [12.5]], 0.2],
  ],
  OUTLIERS: [
    [[[10], [null], [10], [10]], [[9], [10], [10], [40]], 3.5],
    [[[1], [1], [0.1], [1]], [[3], [3], [0.1 * 3], [3.1]], 3.5],
  ],
  HANDARM: [
    [4, 4.5],
    [
      [[4], [null], [0], [6]],
      [[2], [null], [0], [1]],
    ],
    [
      [[4], [6]],
      [[0], [0]],
    ],
    [
      [[1], [1], [1]],
      [[8], [8], [8]],
    ],
  ],
  NOISEDOSE: [
    [[[90], [95], [0]], [[4], [2], [null]], 90, 5],
    [85, 8, 85, 3],
  ],
  DUSTTWA: [
    [
      [[150], [75], [50]],
      [[2], [2], [4]],
    ],
  ],
  STEPCOUNT: [
    [30, 100, 2, "mesh"],
    [80, 80, 2.5, "mesh"],
    [90, 10, 3, "um"],
  ],
  STEPCHECK: [
    [250, 100, "metal", "metal", 2.5, "um"],
    [100, 200, "metal", "resin", 2.5, "mesh"],
    [100, 200, "metal", "transitional", 2.5, "um"],
    [100, 200, "metal", "metal", 2.5, "um"],
    [80, 80, null, "metal", 2.5, "mesh"],
  ],
};

const RANDOM_ROWS = 60;

/** Spreadsheet functions in Excel 2010 and in OpenFormula (OASIS ODF 1.2, part 2), as far as ours use them. */
const KNOWN_SINCE_2010 = new Set(
  "ABS AVERAGE CHOOSE COLUMNS COSH EXP IF IFERROR INDEX INT ISLOGICAL ISNUMBER LN LOOKUP MATCH MEDIAN MIN PI ROUND ROUNDUP ROWS SIGN SINH SQRT STDEV SUM SUMPRODUCT TINV TRIM".split(
    " ",
  ),
);

/** The arguments as cells side by side, and the call of them. */
function callOf(entry: Catalogued, values: readonly unknown[], row: number) {
  const blocks = values.map((value, k): Block => ({ cells: asBlock(value) as Cell[][], row, column: k + 1 }));
  return { blocks, formula: translate(`=GRIT.${entry.id}(${blocks.map(rangeOf).join(",")})`, SURROUNDINGS) };
}

describe("the plain formula", () => {
  it.each(FORMULAS)("of $id gives what the function gives", (entry) => {
    const random = fc.sample(validArguments(entry), { numRuns: RANDOM_ROWS, seed: 20 });
    const rows = [...(EDGES[entry.id] ?? []), ...random];
    const answers = rows.map((values) => entry.fn(...asBlocks(entry, values)));
    expect(answers.filter((answer) => !isError(answer[0]![0])).length).toBeGreaterThan(RANDOM_ROWS / 4);

    // Ranges, and answers that spill, go down from their row.
    const calls = rows.map((values, r) => callOf(entry, values, 1 + 6 * r));
    const plain = calculate(
      calls.flatMap(({ blocks }) => blocks),
      calls.map(({ formula }, r) => ({
        formula,
        row: 1 + 6 * r,
        column: entry.params.length + 1,
        height: answers[r]!.length,
        width: answers[r]![0]!.length,
      })),
    );
    for (const [r, answer] of answers.entries()) {
      for (const [i, value] of answer.flat().entries()) {
        const found = plain[r]!.flat()[i];
        expect(agrees(found, value), `${entry.id}(${rows[r]!.join()}) is ${value}, and plain ${found}`).toBe(true);
      }
    }
  });

  it.each(FORMULAS)("of $id is written with functions of 2010 that OpenFormula has too", (entry) => {
    const [values] = fc.sample(validArguments(entry), { numRuns: 1, seed: 1 });
    const used = [...callOf(entry, values!, 1).formula.matchAll(/([A-Z][A-Z0-9.]*)\(/g)].map(([, name]) => name!);
    expect(used.length).toBeGreaterThan(0);
    expect(used.filter((name) => !KNOWN_SINCE_2010.has(name))).toEqual([]);
  });

  it("has an edge row only for functions that there are", () => {
    expect(Object.keys(EDGES).filter((id) => !FORMULAS.some((entry) => entry.id === id))).toEqual([]);
  });
});
