/** Calls within calls, within the user's own functions, and every example of the doc comments, calculated by IronCalc. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { looksBack } from "../../../addin/share/plain";
import { translate } from "../../../addin/share/translate";
import { byId, CATALOGUE, isList, isUnits, valid } from "../../catalogue";
import { reportCompared } from "../../run/compared";
import { address, agrees, type Block, type Cell, calculate, isError, rangeOf, SURROUNDINGS } from "./engine";

let compared = 0;
reportCompared("nested calls and examples, IronCalc", () => compared);

const TRANSLATED = CATALOGUE.filter(({ noPlain }) => !noPlain);

/** One call on single cells, through the function itself. */
const call = (id: string, ...args: unknown[]): Cell => {
  const entry = byId(id);
  return entry.fn(...args.map((arg, i) => (isUnits(entry.params[i]!) || arg === undefined ? arg : [[arg]])))[0]![0];
};

const within = (value: unknown): Cell =>
  typeof value === "object" && value !== null ? { code: (value as { code: string }).code } : (value as Cell);

/** Formulas over cells A to F of a row, and the same arithmetic by the functions themselves. */
const NESTED: readonly [formula: string, ours: (...cells: Cell[]) => Cell][] = [
  [
    "=GRIT.CONTAINERS(GRIT.LIQUID(A,B,,C),D)",
    (a, b, c, d) => call("CONTAINERS", within(call("LIQUID", a, b, undefined, c)), d),
  ],
  ['=GRIT.SIZE(GRIT.NEAREST(A,"p"),"p")', (a) => call("SIZE", within(call("NEAREST", a, "p")), "p")],
  [
    "=GRIT.PRICEAT(GRIT.TOOLCOST(A,B,C)+GRIT.CREWCOST(D,2,30),E,F)",
    (a, b, c, d, e, f) => {
      const [tools, crew] = [call("TOOLCOST", a, b, c), call("CREWCOST", d, 2, 30)];
      const failed = [tools, crew].find(isError);
      return call("PRICEAT", failed ? within(failed) : (tools as number) + (crew as number), e, f);
    },
  ],
  [
    '=IF(A>100,ROUND(GRIT.AREARATE(B,C,,D,"metric"),2),"GRIT.SIZE(1)")',
    (a, b, c, d) => {
      if (isError(a)) return a;
      if (!(a === "" || typeof a === "boolean" || typeof a === "string" || (a as number) > 100)) return "GRIT.SIZE(1)";
      const rate = call("AREARATE", b, c, undefined, d, "metric");
      return isError(rate) ? rate : Math.round((rate as number) * 100) / 100;
    },
  ],
  [
    "=IFERROR(GRIT.MARKUP(A,B),-1)",
    (a, b) => {
      const share = call("MARKUP", a, b);
      return isError(share) ? -1 : share;
    },
  ],
  [
    "=GRIT.CONTAINERS(IFERROR(GRIT.TOOLSUSED(A,B),0),C)",
    (a, b, c) => {
      const used = call("TOOLSUSED", a, b);
      return call("CONTAINERS", isError(used) ? 0 : used, c);
    },
  ],
  [
    "=GRIT.MARGIN(GRIT.PRICEAT(GRIT.CREWCOST(A,B,C),0.2,D),GRIT.CREWCOST(A,B,C))",
    (a, b, c, d) => {
      const cost = within(call("CREWCOST", a, b, c));
      return call("MARGIN", within(call("PRICEAT", cost, 0.2, d)), cost);
    },
  ],
];

const CELL = fc.oneof(
  { weight: 12, arbitrary: fc.double({ min: 0.1, max: 400, noNaN: true }) as fc.Arbitrary<Cell> },
  { weight: 1, arbitrary: fc.constantFrom<Cell>(null, "", "much", true, 0, -3, { code: "#N/A" }, { code: "#DIV/0!" }) },
);

describe("nested calls", () => {
  it.each(NESTED)("%s", (formula, ours) => {
    const rows = fc.sample(fc.array(CELL, { minLength: 6, maxLength: 6 }), { numRuns: 300, seed: 4 });
    const blocks = rows.map((cells, r): Block => ({ cells: [cells], row: r + 1, column: 1 }));
    const plain = calculate(
      blocks,
      rows.map((_, r) => ({
        formula: translate(formula.replace(/\b[A-F]\b(?=[,)>+])/g, `$$$&$$${r + 1}`), SURROUNDINGS),
        row: r + 1,
        column: 8,
        height: 1,
        width: 1,
      })),
    );
    for (const [r, cells] of rows.entries()) {
      compared++;
      const wanted = ours(...cells);
      const told = `${formula} of ${JSON.stringify(cells)}: ${JSON.stringify(wanted)}, plain ${plain[r]![0]![0]}`;
      expect(agrees(plain[r]![0]![0], wanted), told).toBe(true);
    }
  });

  // STEPCHECK and CALIBRATE, OUTLIERS, BOND have words in their formula, and give no number.
  it.each(TRANSLATED.filter(({ plain }) => !plain.includes('"')))(
    "GRIT.$id gives a number or an error, and so is not asked whether it does",
    (entry) => {
      const rows = fc.sample(fc.tuple(...entry.params.map(valid)), { numRuns: 50, seed: 6 });
      for (const row of rows) {
        const answer = entry.fn(
          ...row.map((value, i) => (isUnits(entry.params[i]!) || Array.isArray(value) ? value : [[value]])),
        );
        expect(typeof answer[0]![0] === "number" || isError(answer[0]![0])).toBe(true);
      }
    },
  );
});

/**
 * The lines of the doc comments that call translated functions, and what they say comes out. What looks back at its own
 * cells is in agreement.test.ts and calculating-copy-spills.test.ts.
 */
const LINES = TRANSLATED.filter((entry) => !looksBack(entry))
  .flatMap(({ examples, fails }) => [
    ...examples.map(({ call, value }) => ({ call, value })),
    ...fails.map(({ call, code }) => ({ call, value: code })),
  ])
  .filter(({ call }) => !/,\{10,1000;1000,10\}|"0+"/.test(call));

/** A block of cells written as {1,2;3,4}. */
const arrayOf = (text: string): Cell[][] =>
  text
    .slice(1, -1)
    .split(";")
    .map((row) => row.split(",").map((cell) => literalOf(cell)));

function literalOf(text: string): Cell {
  if (text === '""') return null;
  if (text.startsWith('"')) return text.slice(1, -1);
  if (text === "TRUE" || text === "FALSE") return text === "TRUE";
  return text.startsWith("#") ? { code: text } : Number(text);
}

const TAKES_LISTS = new Set(TRANSLATED.filter(({ params }) => params.some(isList)).map(({ id }) => id));

it.each(['=GRIT.SIZE("00")', '=GRIT.STEPRATIO("000",16,"p")', '=GRIT.SCRATCH(" 0 ")'])(
  "a label has no size on a published scale, and its call keeps its error: %s",
  (formula) => {
    expect(() => translate(formula, SURROUNDINGS)).toThrow("is a label");
  },
);

describe("the examples and failures of the doc comments", () => {
  it.each(LINES)("$call is $value", ({ call, value }) => {
    // The engine's arrays are not complete, so what is written as one stands in cells.
    const blocks: Block[] = [];
    const formula = call.replace(/\{[^}]*\}/g, (text) => {
      const block = { cells: arrayOf(text), row: 3, column: 40 + 5 * blocks.length };
      blocks.push(block);
      return rangeOf(block);
    });
    const wanted = value.startsWith("{") ? arrayOf(value) : [[literalOf(value)]];
    const isCellByCell = blocks.length > 0 && !TAKES_LISTS.has(/GRIT\.(\w+)/.exec(call)![1]!);
    for (const [r, line] of wanted.entries()) {
      for (const [c, cell] of line.entries()) {
        const plain = translate(formula, SURROUNDINGS);
        const here = isCellByCell ? plain.replaceAll(rangeOf(blocks[0]!), address(3 + r, 40 + c)) : plain;
        const question = { formula: here, row: 1, column: 30, height: 5, width: 2 };
        const answer = calculate(blocks, [question])[0]!.flat();
        const found = isCellByCell ? [answer[0]] : [answer[2 * r + c], ...(isError(cell) ? answer : [])];
        compared++;
        expect(
          found.some((one) => agrees(one, cell ?? "")),
          `${JSON.stringify(cell)}, plain ${found}: ${here}`,
        ).toBe(true);
      }
    }
  });
});
