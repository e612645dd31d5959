import { describe, expect, it } from "vitest";
import { type Block, emptyBlock, type PlacedCell } from "../../../addin/sheet/block";
import { layoutChange, RowNotFound } from "../../../addin/sheet/layout-change";

/** A layout with a label and a value a row. */
function layout(rows: readonly (readonly [label: string, value: PlacedCell["content"]])[]): Block {
  const block = emptyBlock();
  rows.forEach(([label, content], row) => {
    block.cells.push({ row, column: 0, content: label, style: "label" }, { row, column: 1, content, style: "figure" });
    block.names.push({ name: `N_${label}`, row, column: 1, scope: "sheet" });
  });
  return block;
}
const f = (formula: string) => ({ formula });

/** What a sheet holds after a change, worked out row by row. */
function changed(formulas: unknown[][], change: ReturnType<typeof layoutChange>): unknown[][] {
  const rows = formulas.map((row) => [...row]);
  for (const { kind, row, count } of change.steps) {
    if (kind === "insert") rows.splice(row, 0, ...Array.from({ length: count }, () => []));
    else rows.splice(row, count);
  }
  for (const { row, column, content } of change.cells) {
    if (content !== undefined) rows[row]![column] = typeof content === "object" ? content.formula : content;
  }
  return rows;
}

const at = (formulas: unknown[][]) => ({ formulas, columnOf: (column: number) => column, known: new Map() });

describe("a changed layout", () => {
  const before = layout([
    ["Area", 100],
    ["Rate", 2],
    ["Sum", f("=$B$1*$B$2")],
  ]);
  const sheet = [
    ["Area", 100],
    ["Rate", 2],
    ["Sum", "=$B$1*$B$2"],
  ];

  it("writes what differs, and nothing else", () => {
    const change = layoutChange(
      before,
      layout([
        ["Area", 120],
        ["Rate", 2],
        ["Sum", f("=$B$1*$B$2")],
      ]),
      at(sheet),
    );
    expect(change).toMatchObject({ steps: [], names: { gone: [], added: [] } });
    expect(change.cells).toEqual([{ row: 0, column: 1, content: 120 }]);
  });

  it("brings rows in and takes rows out, and formulas follow their cells", () => {
    const after = layout([
      ["Area", 100],
      ["Passes", 3],
      ["Sum", f("=$B$1*$B$2")],
    ]);
    const change = layoutChange(before, after, at(sheet));
    expect(changed(sheet, change)).toEqual([
      ["Area", 100],
      ["Passes", 3],
      ["Sum", "=$B$1*$B$2"],
    ]);
    expect(change.names).toMatchObject({ gone: ["N_Rate"], added: [{ name: "N_Passes", row: 1, column: 1 }] });
    expect(change.rowsGone).toEqual([1]);
  });

  it("finds its rows and columns where the user has put others between", () => {
    const own = [
      ["my note", "", ""],
      ["Area", "mine", 100],
      ["Rate", "mine", 2],
      ["my row", "", 7],
      ["Sum", "mine", "=$C$2*$C$3"],
    ];
    const after = layout([
      ["Area", 100],
      ["Rate", 2],
      ["Waste", 0.1],
      ["Sum", f("=$B$1*$B$2*(1+$B$3)")],
    ]);
    const change = layoutChange(before, after, { ...at(own), columnOf: (column) => (column === 1 ? 2 : column) });
    const now = changed(own, change);
    expect(now.map((row) => [row[0], row[2]])).toEqual([
      ["my note", ""],
      ["Area", 100],
      ["Rate", 2],
      ["Waste", 0.1],
      ["my row", 7],
      ["Sum", "=$C$2*$C$3*(1+$C$4)"],
    ]);
    expect(now.map((row) => row[1]).filter((text) => text === "mine")).toHaveLength(3);
  });

  it("leaves a figure that was typed over a formula", () => {
    const typed = [...sheet.slice(0, 2), ["Sum", 555]];
    const after = layout([
      ["Area", 100],
      ["Rate", 2],
      ["Sum", f("=$B$1+$B$2")],
    ]);
    expect(layoutChange(before, after, at(typed)).cells).toEqual([]);
    expect(layoutChange(before, after, at(sheet)).cells).toEqual([{ row: 2, column: 1, content: f("=$B$1+$B$2") }]);
  });

  it("moves no text, no other sheet's cell and no column of a table", () => {
    const tricky = f(`="B2 ""B1"""&'My B2'!$B$1&Other!B1&T[B1]&LOG10($B$2)&B_1`);
    const after = layout([
      ["New", 1],
      ["Area", 100],
      ["Rate", 2],
      ["Sum", tricky],
    ]);
    const change = layoutChange(before, after, at(sheet));
    expect(changed(sheet, change)[3]![1]).toBe(tricky.formula);
  });

  it("says which row can't be found", () => {
    const known = new Map([
      [0, 5],
      [2, 6],
    ]);
    expect(() => layoutChange(before, before, { ...at(sheet), known })).toThrow(RowNotFound);
  });
});
