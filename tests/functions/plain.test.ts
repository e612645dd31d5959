/**
 * The plain formula of each function against the function itself, calculated by IronCalc, a spreadsheet engine that
 * knows nothing of our code: random valid arguments, and fixed rows for the edges that random ones miss.
 */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { columnNameFromNumber, initSync, Model } from "@ironcalc/wasm";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NAMED_SCALES, type ScaleName } from "../../functions/scale";
import { asBlock, asBlocks, CATALOGUE, type Catalogued, validArguments } from "../catalogue";

initSync({ module: readFileSync(createRequire(import.meta.url).resolve("@ironcalc/wasm/wasm_bg.wasm")) });

const FORMULAS = CATALOGUE.filter(({ plain }) => !plain.startsWith("none"));

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

/** Where the plain formula asks whether a parameter is blank, it is left blank in every third row. */
function withBlanks(entry: Catalogued, rows: unknown[][]): unknown[][] {
  return rows.map((values, r) =>
    values.map((value, k) => (r % 3 === 0 && entry.plain.includes(`{${entry.params[k]!.name}}=""`) ? null : value)),
  );
}

const SCALE_NAMES = Object.keys(NAMED_SCALES) as ScaleName[];
const SCALE_COLUMN = (name: ScaleName) => 1 + 2 * SCALE_NAMES.indexOf(name);

/** A scale as two columns. For "um", where a number is its own size, any rising line through both ends will do. */
const scaleRows = (name: ScaleName): number[][] =>
  name === "um"
    ? [
        [1e-6, 1e-6],
        [1e6, 1e6],
      ]
    : NAMED_SCALES[name].grits.map((grit, i) => [grit, NAMED_SCALES[name].sizes[i]!]);

const REFERENCE_SHEET = 1;

function writeScales(model: Model): void {
  model.newSheet();
  model.renameSheet(REFERENCE_SHEET, "Reference");
  for (const name of SCALE_NAMES) {
    for (const [r, line] of scaleRows(name).entries()) {
      for (const [c, value] of line.entries()) {
        model.setUserInput(REFERENCE_SHEET, r + 1, SCALE_COLUMN(name) + c, typed(value));
      }
    }
  }
}

function scaleRange(name: ScaleName, part: "grit" | "size"): string {
  const letter = columnNameFromNumber(SCALE_COLUMN(name) + (part === "grit" ? 0 : 1));
  return `Reference!$${letter}$1:$${letter}$${scaleRows(name).length}`;
}

/** A value as one types it into a cell. */
const typed = (value: unknown) => (value === null ? "" : String(value).toUpperCase());

/** The plain formula of one row: marks become references to its cells or ranges, and units and scales are picked. */
function formulaIn(entry: Catalogued, values: unknown[], row: number): string {
  const given = (name: string) => values[entry.params.findIndex((parameter) => parameter.name === name)];
  const formula = entry.plain.replace(/\{([a-zA-Z]+)(?::([^}]*))?\}/g, (_mark, name: string, choice?: string) => {
    if (name === "units") return choice!.split("|")[given("units") === "metric" ? 1 : 0]!;
    if (name === "scale") return scaleRange(given("scale") as ScaleName, choice as "grit" | "size");
    const k = entry.params.findIndex((parameter) => parameter.name === name);
    if (k < 0) throw new Error(`${entry.id}: the plain formula marks ${name}, which is no parameter`);
    const letter = columnNameFromNumber(k + 1);
    const height = asBlock(values[k]).length;
    return height === 1 ? `$${letter}${row}` : `$${letter}$${row}:$${letter}$${row + height - 1}`;
  });
  return `=${formula}`;
}

/** What the independent engine makes of every row's plain formula, as a block of this shape. */
function calculate(entry: Catalogued, rows: unknown[][], shape: { height: number; width: number }): unknown[][][] {
  const model = new Model("plain", "en", "UTC", "en");
  const answerColumn = entry.params.length + 1;
  // Ranges, and answers that spill, go down from their row.
  const apart = Math.max(shape.height, ...rows.flat().map((value) => asBlock(value).length));
  const lineOf = (r: number) => 1 + r * apart;
  model.pauseEvaluation();
  writeScales(model);
  for (const [r, values] of rows.entries()) {
    for (const [k, value] of values.entries()) {
      for (const [down, [cell]] of asBlock(value).entries()) {
        model.setUserInput(0, lineOf(r) + down, k + 1, typed(cell));
      }
    }
    model.setUserInput(0, lineOf(r), answerColumn, formulaIn(entry, values, lineOf(r)));
  }
  model.resumeEvaluation();
  model.evaluate();
  const answers = { sheet: 0, row: 1, column: answerColumn, width: shape.width, height: lineOf(rows.length) };
  model.updateRangeStyle(answers, "num_fmt", "0.000000000000000E+00");
  const read = (line: number, column: number) => {
    const shown = model.getFormattedCellValue(0, line, column);
    return shown !== "" && Number.isFinite(Number(shown)) ? Number(shown) : shown;
  };
  const out = rows.map((_, r) =>
    Array.from({ length: shape.height }, (_, down) =>
      Array.from({ length: shape.width }, (_, across) => read(lineOf(r) + down, answerColumn + across)),
    ),
  );
  model.free();
  return out;
}

const RANDOM_ROWS = 60;

/** Spreadsheet functions in Excel 2010 and in OpenFormula (OASIS ODF 1.2, part 2), as far as ours use them. */
const KNOWN_SINCE_2010 = new Set(
  "ABS AND CHOOSE COSH EXP IF INDEX INT LN LOWER MATCH MAX MEDIAN MIN OR PI PMT ROUND ROUNDUP ROWS SIGN SINH SQRT SUMPRODUCT TINV".split(
    " ",
  ),
);

describe("the plain formula", () => {
  it.each(FORMULAS)("of $id gives what the function gives", (entry) => {
    const random = fc.sample(validArguments(entry), { numRuns: RANDOM_ROWS, seed: 20 });
    const rows = [...(EDGES[entry.id] ?? []), ...withBlanks(entry, random)];
    const answers = rows.map((values) => entry.fn(...asBlocks(entry, values)));
    const hasAnswer = (_: unknown, r: number) => typeof answers[r]![0]![0] !== "object";
    const checked = rows.filter(hasAnswer);
    const expected = answers.filter(hasAnswer);
    expect(checked.length).toBeGreaterThan(RANDOM_ROWS / 4);

    const shape = { height: expected[0]!.length, width: expected[0]![0]!.length };
    const plain = calculate(entry, checked, shape).flat(2);
    for (const [i, value] of expected.flat(2).entries()) {
      const args = checked[Math.floor(i / (shape.height * shape.width))]!;
      const where = `${entry.id}(${args.join()}) is ${value}, and plain ${plain[i]}`;
      if (typeof value === "number") {
        expect(Math.abs((plain[i] as number) - value), where).toBeLessThanOrEqual(1e-9 * Math.abs(value));
      } else expect(plain[i], where).toBe(typeof value === "boolean" ? typed(value) : value);
    }
  });

  it.each(FORMULAS)("of $id is written with functions of 2010 that OpenFormula has too", ({ plain }) => {
    const used = [...plain.matchAll(/([A-Z][A-Z0-9.]*)\(/g)].map(([, name]) => name!);
    expect(used.filter((name) => !KNOWN_SINCE_2010.has(name))).toEqual([]);
  });

  it.each(FORMULAS)("of $id fits into a cell of 8192 characters", (entry) => {
    const [values] = fc.sample(validArguments(entry), { numRuns: 1, seed: 1 });
    expect(formulaIn(entry, values!, 1000).length).toBeLessThanOrEqual(8192);
  });

  it("has an edge row only for functions that there are", () => {
    expect(Object.keys(EDGES).filter((id) => !FORMULAS.some((entry) => entry.id === id))).toEqual([]);
  });
});
