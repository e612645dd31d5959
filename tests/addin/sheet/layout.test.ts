import { describe, expect, it } from "vitest";
import { absoluteAddress, cellAddress, columnLetters, pinned, rangeAddress } from "../../../addin/sheet/a1";
import type { Block, PlacedCell } from "../../../addin/sheet/block";
import { freePlanNames, freeSheetName } from "../../../addin/sheet/names";
import type { Plan, PlanNames } from "../../../addin/sheet/plan";
import { planBlock } from "../../../addin/sheet/plan-block";
import { planSheet } from "../../../addin/sheet/plan-sheet";
import { shelfSheet } from "../../../addin/sheet/shelf-sheet";
import { asText, rectangles } from "../../../addin/sheet/write";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/shelf";
import { readCatalogue } from "../../../manifest/build/catalogue.mjs";

const names: PlanNames = {
  stages: "Stages",
  tooling: "Tooling",
  liquids: "Liquids",
  cost: "Stages_Cost",
  hours: "Stages_Hours",
  price: "Stages_Price",
};
const inputs = { ...startInputs("us"), jobName: "Test floor", area: 4000 };
const shelf = starterShelf("us");
const plan: Plan = { inputs, links: { area: "My quote!C5" }, stages: propose(inputs, shelf).stages, shelf };

const formulasOf = (block: Block) =>
  block.cells.flatMap(({ content }) => (typeof content === "object" ? [content.formula] : []));
const at = (block: Block, row: number, column: number) =>
  block.cells.find((cell) => cell.row === row && cell.column === column)?.content;

const layouts: [string, Block][] = [
  ["on a sheet of its own", planSheet(plan, names, "=Shelf!$A$5:$A$19").block],
  ["at the selected cell", planBlock(plan, names, "=Shelf!$A$5:$A$19", 4, 2)],
];

describe.each(layouts)("the stage plan %s", (_, block) => {
  const formulas = formulasOf(block);

  it("calls only functions that there are", () => {
    const catalogue = readCatalogue().map((entry) => entry.id);
    const called = new Set(formulas.flatMap((formula) => [...formula.matchAll(/GRIT\.([A-Z]+)\(/g)].map((m) => m[1]!)));
    expect(called.size).toBeGreaterThan(7);
    for (const id of called) expect(catalogue, id).toContain(id);
  });

  it("holds no number in a formula but ratios, roundings and counts: every assumption is a cell", () => {
    // 9.99E+307 finds the last number of a column; 9 decimals are the rounding guard; 2 and 4 are sides of a floor.
    const allowed = new Set(["0", "1", "2", "4", "9", "9.99E+307"]);
    for (const formula of formulas) {
      const bare = formula
        .replace(/"[^"]*"/g, "")
        .replace(/'[^']*'!/g, "")
        .replace(/\[[^\]]*\]/g, "");
      const found = bare.match(/(?<![A-Za-z$\d_.])\d+(\.\d+)?(E\+\d+)?/g) ?? [];
      for (const number of found) expect(allowed, formula).toContain(number);
    }
  });

  it("refers only to inputs that it has a cell for", () => {
    const own = new Set(block.names.map((name) => name.name));
    for (const formula of formulas) {
      for (const [name] of formula.matchAll(/\b(Floor|Machine|Crew|Price)_[A-Za-z]+/g)) expect(own).toContain(name);
    }
  });

  it("puts nothing into one cell twice", () => {
    const places = block.cells.map(({ row, column }) => `${row},${column}`);
    const twice = places.filter((place, i) => places.indexOf(place) !== i);
    expect(twice).toEqual([]);
  });

  it("takes a linked input from the user's own cell, and pins it", () => {
    expect(formulas).toContain("=My quote!$C$5");
  });

  it("names the totals for the user's quote", () => {
    const workbook = block.names.filter((name) => name.scope === "workbook").map((name) => name.name);
    expect(workbook.sort()).toEqual(["Stages_Cost", "Stages_Hours", "Stages_Price"]);
  });

  it("has the same formula in every row of a column, so that a row added by the user works", () => {
    const table = block.tables[0]!;
    for (let column = table.column; column < table.column + table.columns; column++) {
      const relative = new Set(
        Array.from({ length: table.rows - 1 }, (_, i) => {
          const row = table.row + 1 + i;
          const content = at(block, row, column);
          if (typeof content !== "object") return "typed";
          // Rows counted from this one: a reference to the same row becomes @0, to the row above @-1.
          return content.formula.replace(/(?<![\w$])([A-Z]{1,2})(\d+)\b/g, (_m, c, r) => `${c}@${Number(r) - row - 1}`);
        }),
      );
      expect([...relative]).toHaveLength(1);
    }
  });

  it("shows the caution", () => {
    const texts = block.cells.map((cell) => cell.content).filter((content) => typeof content === "string");
    expect(texts.join(" ")).toMatch(/[Ss]ilica dust, noise, vibration.*local codes.*licensed practice come first/);
  });
});

describe("the shelf's sheet", () => {
  it("has both tables beside one another, so that each can grow", () => {
    const { block } = shelfSheet(shelf, "us", names);
    const [tooling, liquids] = block.tables;
    expect(tooling!.row).toBe(liquids!.row);
    expect(liquids!.column).toBeGreaterThan(tooling!.column + tooling!.columns);
    expect(tooling!.rows).toBe(shelf.tools.length + 1);
  });
});

describe("free names", () => {
  it("are the plain ones where those are free", () => {
    expect(freeSheetName("Stage plan", ["Quote"])).toBe("Stage plan");
    expect(freePlanNames({ sheets: [], names: [] }, undefined)).toEqual(names);
  });

  it("get one number together when any of them is taken, in whatever letter case", () => {
    expect(freeSheetName("Stage plan", ["stage PLAN", "Stage plan 2"])).toBe("Stage plan 3");
    const found = freePlanNames({ sheets: [], names: ["stages_price", "Stages_2"] }, undefined);
    expect(found).toMatchObject({ stages: "Stages_3", price: "Stages_Price_3", tooling: "Tooling" });
  });

  it("keep the shelf that is there", () => {
    const shelfNames = { tooling: "My_tools", liquids: "My_liquids" };
    expect(freePlanNames({ sheets: [], names: ["My_tools"] }, shelfNames)).toMatchObject(shelfNames);
  });
});

describe("text in a cell", () => {
  it.each(["=1+1", "+4", "-4", "@SUM(A1)", "12-3", "5/8 joint", "May 5", "TRUE", "\tx", "'quoted", "$5"])(
    "stays text: %s",
    (text) => expect(asText(text)).toBe(`'${text}`),
  );
  it.each(["Metal 30 medium", "Mayfield hall", "Total", "true north", "µm"])("is left alone: %s", (text) =>
    expect(asText(text)).toBe(text),
  );
});

describe("addresses", () => {
  it("count columns as Excel does (A, Z, AA, XFD)", () => {
    expect([0, 25, 26, 16383].map(columnLetters)).toEqual(["A", "Z", "AA", "XFD"]);
    expect(cellAddress(4, 2)).toBe("C5");
    expect(absoluteAddress(4, 2)).toBe("$C$5");
    expect(rangeAddress(4, 2, 5, 2)).toBe("C5:D9");
    expect(pinned("'My quote'!C5")).toBe("'My quote'!$C$5");
    expect(pinned("Quote2!$C5")).toBe("Quote2!$C$5");
  });
});

it("cells that look alike are gathered into as few rectangles as their runs allow", () => {
  const cells: PlacedCell[] = [0, 1, 2].flatMap((row) =>
    [0, 1, 2, 3].map((column) => ({ row, column, content: "", style: column < 2 ? "label" : "note" }) as PlacedCell),
  );
  expect(rectangles(cells, (cell) => cell.style)).toEqual([
    ["label", { row: 0, column: 0, rows: 3, columns: 2 }],
    ["note", { row: 0, column: 2, rows: 3, columns: 2 }],
  ]);
});
