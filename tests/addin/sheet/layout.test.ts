import { describe, expect, it } from "vitest";
import { absoluteAddress, cellAddress, columnLetters, pinned, rangeAddress } from "../../../addin/common/a1";
import { type Block, emptyBlock, extent } from "../../../addin/sheet/block";
import { freePlanNames, freeSheetName } from "../../../addin/sheet/names";
import type { Plan, PlanNames } from "../../../addin/sheet/plan";
import { planSheet } from "../../../addin/sheet/plan-sheet";
import { shelfSheet } from "../../../addin/sheet/shelf-sheet";
import { asText } from "../../../addin/sheet/write";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { readCatalogue } from "../../../manifest/build/catalogue.mjs";
import { names } from "./plan-names";

const inputs = { ...startInputs("us"), jobName: "Test floor", area: 4000 };
const shelf = starterShelf("us");
const plan: Plan = { inputs, links: { area: "My quote!C5" }, stages: propose(inputs, shelf).stages, shelf };
const lists = { tools: "=Shelf!$A$5:$A$19" };

/** The same with all that a plan may have: machines, an old tooling table, a test strip, past jobs. */
const fullNames: PlanNames = { ...names, machines: "Machines", toolingLacks: ["cut", "wear"] };
const fullLists = { ...lists, machines: "=Shelf!$A$30:$A$31" };
const fullPlan: Plan = {
  ...plan,
  inputs: {
    ...inputs,
    passesFrom: "scratch",
    cutCoefficient: 180,
    stripSize: 600,
    slideSpeed: 2000,
    pastJobs: "polished",
    handHours: 2,
    machineHours: 4,
    handVibration: 5,
  },
  stages: plan.stages.map((stage) => ({ ...stage, machine: stage.work === "grind" ? "Machine B, 32 in" : "" })),
  pastJobs: { estimated: "Past[Estimated]", actual: "Past[Actual]", slab: "medium slab" },
};

const formulasOf = (block: Block) =>
  block.cells.flatMap(({ content }) => (typeof content === "object" ? [content.formula] : []));
const at = (block: Block, row: number, column: number) =>
  block.cells.find((cell) => cell.row === row && cell.column === column)?.content;

const layouts: [string, Block][] = [
  ["on a sheet of its own", planSheet(plan, names, lists).block],
  ["on a sheet of its own, with machines and past jobs", planSheet(fullPlan, fullNames, fullLists).block],
];

describe.each(layouts)("the stage plan %s", (title, block) => {
  const formulas = formulasOf(block);

  it("calls only functions that there are", () => {
    const catalogue = readCatalogue().map((entry) => entry.id);
    const called = new Set(formulas.flatMap((formula) => [...formula.matchAll(/GRIT\.([A-Z]+)\(/g)].map((m) => m[1]!)));
    expect(called.size).toBeGreaterThan(7);
    for (const id of called) expect(catalogue, id).toContain(id);
  });

  it("holds no number in a formula but ratios, roundings and counts: every assumption is a cell", () => {
    // 9.99E+307 finds the last number of a column; 9 decimals are the rounding guard; 2 and 4 are sides of a floor;
    // 1/6 and 5/6 bound two jobs in three; 1E-6 is how far a figure may be off; braces count the letters of a word;
    // 12 in are a foot, and 1000 mm a meter, of the strip along the edges;
    // 100000 tells rows from columns in the place of a formula; a hundredth, 0.01, is how far an area may be off;
    // 25.4 µm are a mil;
    // 24 hours and 194 dBA are the most that the inputs of exposure may be;
    // 90 and 115 dBA are the least and the most of the table by which OSHA permits noise (29 CFR 1910.95, G-16).
    const allowed = new Set([
      "0",
      "1",
      "2",
      "4",
      "5",
      "6",
      "9",
      "9.99E+307",
      "12",
      "1000",
      "25.4",
      "100000",
      "24",
      "90",
      "115",
      "194",
    ]);
    // What the inputs may be, and were when the stages were chosen, is held in plan-checks.test.ts.
    // So are their words, which are picked by the number of the case.
    const isOfInputs = (formula: string) => /^=(MOD\(MIN\(|IF\([^,]+=0,"",INDEX\(\{")/.test(formula);
    for (const formula of formulas.filter((formula) => !isOfInputs(formula))) {
      const bare = formula
        .replace(/"[^"]*"/g, "")
        .replace(/\{[\d,]*\}/g, "")
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

  it("stays within the 8,192 characters that a spreadsheet takes in a formula", () => {
    expect(Math.max(...formulas.map((formula) => formula.length))).toBeLessThan(8192);
  });

  it("takes a linked input from the user's own cell, and pins it", () => {
    expect(formulas).toContain('=IF(My quote!$C$5="",NA(),My quote!$C$5)');
  });

  it("names the totals for the user's quote", () => {
    const workbook = block.names.filter((name) => name.scope === "workbook").map((name) => name.name);
    const learned = title.includes("past jobs") ? ["Stages_DaysAt", "Stages_HoursAt", "Stages_PriceAt"] : [];
    const plain = ["Stages_Cost", "Stages_Days", "Stages_Hours", "Stages_Price"];
    expect(workbook.sort()).toEqual([...plain, ...learned].sort());
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
    // A part of it follows an input, so that it may be a formula.
    const texts = block.cells.map(({ content }) => (typeof content === "object" ? content.formula : content));
    expect(texts.join(" ")).toMatch(/[Ss]ilica dust, noise, vibration.*local codes.*licensed practice come first/);
  });
});

describe("a machines table", () => {
  const headersOf = (block: Block) => {
    const { row, column, columns } = block.tables[0]!;
    return Array.from({ length: columns }, (_, i) => at(block, row, column + i));
  };

  it("gives the stage table a column to pick the machine in, right after the tool; without one there is none", () => {
    for (const [wide, plain] of [
      [planSheet(fullPlan, fullNames, fullLists).block, planSheet(fullPlan, names, lists).block],
    ] as const) {
      const headers = headersOf(wide);
      expect(headers.indexOf("Run on")).toBe(headers.indexOf("Tool") + 1);
      const ofMachines = ["Run on", "Sliding ft/min", "Full cut µm", "Power taken kW", "Power there kW"];
      expect(headersOf(plain)).toEqual(headers.filter((title) => !ofMachines.includes(String(title))));
      const column = wide.tables[0]!.column + headers.indexOf("Run on");
      const picked = wide.rules.filter((rule) => "list" in rule.rule && rule.rule.list === fullLists.machines);
      expect(picked.map((rule) => rule.column)).toEqual([column]);
      expect(formulasOf(plain).join()).not.toMatch(/Machines\[/);
    }
  });

  it("leaves the key figures over the columns that are wide enough for them", () => {
    for (const { block, setup } of [planSheet(plan, names, lists), planSheet(fullPlan, fullNames, fullLists)]) {
      const headers = headersOf(block);
      const figures = block.cells.filter((cell) => cell.style === "keyLabel");
      const over = Object.fromEntries(figures.map(({ content, column }) => [content, headers[column]]));
      expect(over).toMatchObject({ Price: "Tool", "Total cost": "Bond", Sequence: "Tooling cost" });
      expect(setup.widths).toHaveLength(headers.length);
      // Nothing stands right of the verdict, which may be long.
      const { column } = figures.find(({ content }) => content === "Sequence")!;
      expect(Math.max(...figures.map((figure) => figure.column))).toBe(column);
    }
  });
});

describe("columns that the tooling table does not have", () => {
  it("are named in no formula", () => {
    const block = planSheet(fullPlan, fullNames, fullLists).block;
    expect(formulasOf(block).join()).not.toMatch(/Cut per pass|Wear/);
    expect(formulasOf(planSheet(fullPlan, names, lists).block).join()).toMatch(/Tooling\[Cut per pass µm\]/);
  });
});

describe("past jobs", () => {
  it("add their lines and the confidence; without them there are none", () => {
    const labels = (block: Block) => block.cells.map((cell) => cell.content);
    const learned = ["Confidence", "Past jobs: actual ÷ estimated hours"];
    for (const block of [planSheet(fullPlan, names, lists).block]) {
      expect(labels(block)).toEqual(expect.arrayContaining(learned));
      expect(formulasOf(block).join()).toMatch(/GRIT\.HOURSAT\([^,]+,Past\[Estimated\],Past\[Actual\],/);
    }
    for (const block of [planSheet(plan, names, lists).block]) {
      for (const label of learned) expect(labels(block)).not.toContain(label);
      expect(formulasOf(block).join()).not.toMatch(/HOURSAT|CALIBRATE/);
    }
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

  it("prints the tooling table on the width of a Letter page, 11 in less margins of 0.25 in", () => {
    const { block, setup } = shelfSheet(shelf, "us", names);
    const width = setup.widths.slice(0, block.tables[0]!.columns).reduce((sum, each) => sum + each, 0);
    expect((width * setup.page!.scale) / 100).toBeLessThanOrEqual(10.5 * 72);
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
    const shelfNames = {
      tooling: "My_tools",
      liquids: "My_liquids",
      machines: "My_machines",
      toolingLacks: ["wear"] as const,
      liquidsLacks: [],
      machinesLack: ["motor"] as const,
      shelfUnits: { tooling: "us", liquids: "us", machines: "us" },
    } as const;
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

it("a block reaches as far as its cells, its charts and what its formulas fill", () => {
  const block = emptyBlock();
  block.cells.push({ row: 3, column: 1, content: "last cell" });
  expect(extent(block)).toEqual({ rows: 4, columns: 2 });
  block.looks.push({ row: 3, column: 5, rows: 100, columns: 1 });
  expect(extent(block)).toEqual({ rows: 103, columns: 6 });
});
