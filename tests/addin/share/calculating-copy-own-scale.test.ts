/**
 * A tool maker's own scale in a calculating copy: whatever is in its cells, IronCalc gives what the functions give, and
 * goes on doing so when the cells change.
 */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { columnLetters } from "../../../addin/common/a1";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { byId, CATALOGUE } from "../../catalogue";
import { reportCompared } from "../../run/compared";
import { calculated } from "./copy-calculated";
import { type Book, book, sheet, unzipped, zipped } from "./copy-files";
import { agrees, type Cell, isError } from "./engine";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

let compared = 0;
reportCompared("own scales, IronCalc", () => compared);

function cellXml(address: string, cell: Cell): string {
  if (cell === null) return `<c r="${address}"/>`;
  if (isError(cell)) return `<c r="${address}" t="e"><v>${cell.code}</v></c>`;
  if (typeof cell === "boolean") return `<c r="${address}" t="b"><v>${Number(cell)}</v></c>`;
  if (typeof cell === "number") return `<c r="${address}"><v>${cell}</v></c>`;
  return `<c r="${address}" t="inlineStr"><is><t>${cell}</t></is></c>`;
}

/** Mostly scales as they should be, in any order, with blank rows and rows that are there twice; now and then a bad one. */
const goodScale = fc
  .tuple(
    fc.uniqueArray(fc.integer({ min: 5, max: 3000 }), { minLength: 1, maxLength: 6 }),
    fc.array(fc.double({ min: 1.01, max: 4, noNaN: true }), { minLength: 6, maxLength: 6 }),
    fc.array(fc.nat(20), { maxLength: 2 }),
    fc.infiniteStream(fc.nat(1000)),
  )
  .map(([grits, ratios, extra, order]) => {
    let size = 2000;
    const rows: Cell[][] = [...grits]
      .sort((a, b) => a - b)
      .map((grit, i) => {
        size /= ratios[i]!;
        return [grit, size];
      });
    const more = extra.map((at): Cell[] =>
      at % 3 === 0 ? [null, null] : at % 3 === 1 ? [0, 0] : [...rows[at % rows.length]!],
    );
    return [...rows, ...more]
      .map((row) => ({ row, key: order.next().value as number }))
      .sort((a, b) => a.key - b.key)
      .map(({ row }) => row);
  });
const oddCell = fc.constantFrom<Cell>(null, 0, -5, "coarse", true, { code: "#N/A" }, { code: "#DIV/0!" }, 60, 600);
const scale = fc.oneof(
  { weight: 3, arbitrary: goodScale },
  {
    weight: 1,
    arbitrary: fc.tuple(goodScale, fc.nat(), fc.nat(1), oddCell).map(([rows, at, side, cell]) => {
      const changed = rows.map((row) => [...row]);
      changed[at % rows.length]![side] = cell;
      return changed;
    }),
  },
);

const APART = 10;
/** Calls on a scale in A:B, with grits in D and F and a size in H. */
const CALLS: readonly [
  formula: (range: string, row: number) => string,
  ours: (scale: Cell[][], a: number, b: number, s: number) => unknown[][],
][] = [
  [(range, row) => `GRIT.SIZE(D${row},${range})`, (scale, a) => byId("SIZE").fn([[a]], scale)],
  [(range, row) => `GRIT.NEAREST(H${row},${range})`, (scale, _a, _b, s) => byId("NEAREST").fn([[s]], scale)],
  [
    (range, row) => `_xldudf_GRIT_STEPRATIO(D${row},F${row},${range})`,
    (scale, a, b) => byId("STEPRATIO").fn([[a]], [[b]], scale),
  ],
  [
    (range, row) => `GRIT.STEPCHECK(D${row},F${row},"metal","metal",2.5,${range})`,
    (scale, a, b) => byId("STEPCHECK").fn([[a]], [[b]], [["metal"]], [["metal"]], [[2.5]], scale),
  ],
  [
    (range, row) => `GRIT.SCRATCH(D${row},"resin",${range})`,
    (scale, a) => byId("SCRATCH").fn([[a]], [["resin"]], scale),
  ],
];

/** A sheet with these scales one under the other, and all calls on each. */
function bookOf(scales: readonly Cell[][][], grits: readonly [number, number, number][]): Uint8Array {
  const rows = scales.flatMap((cells, n) =>
    Array.from({ length: APART }, (_, i) => {
      const row = 1 + n * APART + i;
      const own = (cells[i] ?? []).map((cell, c) => cellXml(`${"AB"[c]}${row}`, cell));
      const [a, b, s] = grits[n]!;
      const range = `${n % 2 ? "" : "Plan!"}A${row}:B${row + cells.length - 1}`;
      const calls =
        i === 0
          ? CALLS.map(
              ([formula], c) => `<c r="${columnLetters(9 + c)}${row}"><f>${formula(range, row)}</f><v>-1</v></c>`,
            )
          : [];
      const args = i === 0 ? [cellXml(`D${row}`, a), cellXml(`F${row}`, b), cellXml(`H${row}`, s)] : [];
      return `<row r="${row}">${[...own, ...args, ...calls].join("")}</row>`;
    }),
  );
  return book({ sheets: { Plan: sheet(rows.join("")) } });
}

function compare(bytes: Uint8Array, scales: readonly Cell[][][], grits: readonly [number, number, number][]): void {
  const valueAt = calculated(bytes);
  for (const [n, cells] of scales.entries()) {
    for (const [c, [formula, ours]] of CALLS.entries()) {
      const wanted = ours(cells, ...grits[n]!)[0]![0];
      const shown = valueAt(`${columnLetters(9 + c)}${1 + n * APART}`);
      const found = shown !== "" && Number.isFinite(Number(shown)) ? Number(shown) : shown;
      compared++;
      expect(
        agrees(found, wanted),
        `${formula("scale", 1)} of ${JSON.stringify([cells, grits[n]])}: ${JSON.stringify(wanted)}, plain ${found}`,
      ).toBe(true);
    }
  }
}

describe("a scale of the user's own", () => {
  const SCALES = 16;
  // The engine takes far longer over one large workbook than over several small ones.
  const TOGETHER = 2;
  const books = Array.from({ length: SCALES / TOGETHER }, (_, i) => [i * TOGETHER, (i + 1) * TOGETHER] as const);
  const scales = fc.sample(scale, { numRuns: SCALES, seed: 31 }) as Cell[][][];
  const others = fc.sample(scale, { numRuns: SCALES, seed: 32 }) as Cell[][][];
  // Half of the grits are listed ones.
  const asked = scales.map((cells, n): [number, number, number] => {
    const listed = cells.map(([grit]) => grit).filter((grit): grit is number => typeof grit === "number" && grit > 0);
    const [low, high] = [Math.min(...listed, 3000), Math.max(...listed, 5)];
    return n % 2
      ? [listed[0] ?? 30, high, 600 / (n + 1)]
      : [low + (high - low) * 0.3, low + (high - low) * 0.8, 50 * n + 1];
  });

  it("gives what the functions give, in any order, with blanks and with bad cells", () => {
    const answers = scales.map((cells, n) => CALLS[0]![1](cells, ...asked[n]!)[0]![0]);
    expect(answers.filter((answer) => typeof answer === "number").length).toBeGreaterThan(SCALES / 3);
    expect(answers.filter(isError).length).toBeGreaterThan(1);
    for (const part of books) {
      const [own, grits] = [scales.slice(...part), asked.slice(...part)];
      const { bytes, report } = calculatingCopy(bookOf(own, grits), OPTIONS);
      expect(report.values).toEqual([]);
      compare(bytes, own, grits);
    }
  });

  it("is followed when its cells change in the copy", () => {
    // The same ranges with other cells in them; a range may be longer or shorter than what it had.
    const fitted = others.map((cells, n) => scales[n]!.map((_, i) => cells[i] ?? [null, null]));
    for (const part of books) {
      const [own, changed, grits] = [scales.slice(...part), fitted.slice(...part), asked.slice(...part)];
      const before: Record<string, string> = unzipped(calculatingCopy(bookOf(own, grits), OPTIONS).bytes);
      const cells = new Map<string, Cell>(
        changed.flatMap((rows, n) =>
          rows.flatMap((row, i) => row.map((cell, c) => [`${"AB"[c]}${1 + n * APART + i}`, cell] as const)),
        ),
      );
      const file = "xl/worksheets/sheet1.xml";
      const xml = before[file]!.replace(/<c r="([AB]\d+)"[^>]*?(?:\/>|>.*?<\/c>)/g, (was, address: string) =>
        cells.has(address) ? cellXml(address, cells.get(address)!) : was,
      );
      compare(zipped({ ...before, [file]: xml }), changed, grits);
    }
  });
});

describe("a maker's labels", () => {
  /** Sizes as a maker might print them: three labels above its coarsest number. */
  const labeled: Cell[][] = [
    ["000", 2400],
    [16, 1180],
    ["0", 1500],
    [null, null],
    ["00", 1900],
    [60, 250],
  ];
  const asked = [
    ["000", "00"],
    ["0", 16],
    ["00", 60],
    [16, 60],
    ["0000", 16],
    [40, "0"],
  ] as const;

  it("are looked up as they are written, beside numbers", () => {
    const valuesAt = asked.map(([a, b]) => {
      const { bytes, report } = calculatingCopy(
        bookOf([labeled], [[a, b, 300] as unknown as [number, number, number]]),
        OPTIONS,
      );
      expect(report.values).toEqual([]);
      return calculated(bytes);
    });
    const at = (n: number, call: number) => valuesAt[n]!(`${columnLetters(9 + call)}1`);
    // By hand: sizes as listed, 2400 / 1900 and 1500 / 1180 µm, and a fifth of a size for resin.
    expect(["000", "0", "00"].map((_, n) => Number(at(n, 0)))).toEqual([2400, 1500, 1900]);
    expect(Number(at(0, 2))).toBeCloseTo(2400 / 1900, 9);
    expect(Number(at(1, 2))).toBeCloseTo(1500 / 1180, 9);
    expect(at(2, 3)).toBe("too far");
    expect(Number(at(2, 4))).toBeCloseTo(380, 9);
    // A label that isn't listed has no size, and among labels the nearest grit is left open.
    expect(at(4, 0)).toBe("#N/A");
    for (const n of asked.keys()) expect(at(n, 1)).toBe("#N/A");
    for (const [n, [a, b]] of asked.entries()) {
      for (const [c, [, ours]] of CALLS.entries()) {
        if (c === 1) continue;
        const wanted = ours(labeled, a as number, b as number, 300)[0]![0];
        const shown = at(n, c);
        compared++;
        expect(
          agrees(shown !== "" && Number.isFinite(Number(shown)) ? Number(shown) : shown, wanted),
          `${a}, ${b}, ${c}`,
        ).toBe(true);
      }
    }
  });

  it("written in the formula itself, too", () => {
    const { bytes, report } = calculatingCopy(
      book({
        sheets: {
          Plan: sheet(
            '<row r="1"><c r="A1" t="inlineStr"><is><t>00</t></is></c><c r="B1"><v>1900</v></c></row><row r="2"><c r="A2"><v>16</v></c><c r="B2"><v>1180</v></c><c r="D2"><f>GRIT.STEPRATIO("00",16,$A$1:$B$2)</f></c></row>',
          ),
        },
      }),
      OPTIONS,
    );
    expect(report.values).toEqual([]);
    expect(Number(calculated(bytes)("D2"))).toBeCloseTo(1900 / 1180, 9);
  });
});

describe("where a scale of the user's own is given", () => {
  const copyOf = (data: string, behind = "", more: Partial<Book> = {}) => {
    const rows =
      '<row r="1"><c r="A1"><v>10</v></c><c r="B1"><v>1000</v></c></row><row r="2"><c r="A2"><v>1000</v></c><c r="B2"><v>10</v></c></row>';
    const made = calculatingCopy(book({ sheets: { Plan: sheet(rows + data, behind) }, ...more }), OPTIONS);
    return { report: made.report, parts: unzipped(made.bytes), value: calculated(made.bytes) };
  };

  it("by name, and to a column of grits, it is one table for all", () => {
    const behind = '<definedNames><definedName name="Maker">Plan!$A$1:$B$2</definedName></definedNames>';
    const { parts, report, value } = copyOf(
      '<row r="3"><c r="A3"><v>100</v></c><c r="B3"><f>GRIT.SIZE(A3,Maker)</f></c><c r="C3"><f>GRIT.SIZE(A3,Plan!$A$1:$B$2)</f></c></row>',
      "",
      { behind },
    );
    expect(report.values).toEqual([]);
    // 100 is midway between 10 and 1000 in ratio, and so is its size.
    expect([Number(value("B3")), Number(value("C3"))]).toEqual([expect.closeTo(100, 7), expect.closeTo(100, 7)]);
    expect(parts["xl/worksheets/sheet2.xml"]!.match(/Your scale: /g)).toHaveLength(1);
  });

  it("in formulas that cells share, each has its own range where the range moves", () => {
    const { parts, report } = copyOf(
      '<row r="3"><c r="D3"><f t="shared" ref="D3:D4" si="0">GRIT.SIZE(100,A1:B2)</f></c></row><row r="4"><c r="D4"><f t="shared" si="0"/></c></row>',
    );
    expect(report.functions).toEqual({ SIZE: 2 });
    expect(parts["xl/worksheets/sheet1.xml"]).not.toContain("shared");
    expect(parts["xl/worksheets/sheet2.xml"]).toContain("Your scale: 'Plan'!$A$1:$B$2");
    expect(parts["xl/worksheets/sheet2.xml"]).toContain("Your scale: 'Plan'!$A$2:$B$3");
  });

  it("in a rule, it must not move with the cell", () => {
    const rule = (range: string) =>
      `<conditionalFormatting sqref="A1:A9"><cfRule type="expression" priority="1"><formula>GRIT.SIZE(A1,${range})&gt;5</formula></cfRule></conditionalFormatting>`;
    expect(copyOf("", rule("$A$1:$B$2")).report.values).toEqual([]);
    expect(copyOf("", rule("A1:B2")).report.values[0]!.reason.text).toContain(
      "Its scale is a range that moves with the cell",
    );
  });

  it("as whole columns, it is too long, and of three columns it is none", () => {
    const { report, parts } = copyOf(
      '<row r="3"><c r="D3"><f>GRIT.SIZE(100,A:B)</f><v>1</v></c><c r="E3"><f>GRIT.SIZE(100,A1:C2)</f></c></row>',
    );
    expect(report.values.map(({ reason }) => reason.text)).toEqual(["The scale A:B has more than 500 rows."]);
    expect(parts["xl/worksheets/sheet1.xml"]).toContain('<c r="E3"><f>#VALUE!</f></c>');
  });
});
