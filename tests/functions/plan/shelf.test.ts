import { describe, expect, it } from "vitest";
import { header, LIQUID_COLUMNS, shelfOf, starterShelf, TOOL_COLUMNS } from "../../../functions/plan/shelf";

const row = ["Metal 30", "metal", 30, "", "medium", 10000, 520, 1, 0.9, 1];

describe("a shelf read from its tables", () => {
  it("gives the tools and liquids of its rows, and passes over empty ones", () => {
    const { shelf, badTools } = shelfOf([row, row.map(() => "")], []);
    expect(badTools).toEqual([]);
    expect(shelf.tools).toEqual([
      {
        name: "Metal 30",
        bond: "metal",
        grit: 30,
        size: null,
        matrix: "medium",
        life: 10000,
        price: 520,
        passes: 1,
        speedFactor: 0.9,
        onHand: 1,
      },
    ]);
  });

  it("takes words in any letter case, and hybrid for transitional", () => {
    const { shelf } = shelfOf([["T", "Hybrid", 50, "", "", 6000, 330, 1, 1, 0], row.with(1, " METAL ")], []);
    expect(shelf.tools.map((tool) => tool.bond)).toEqual(["transitional", "metal"]);
  });

  it.each([
    [1, "ceramic", 'Bond must be one of metal, transitional, resin; got the text "ceramic"'],
    [2, "thirty", 'Grit must be above 0; got the text "thirty"'],
    [5, 0, "Life of a set must be above 0; got 0"],
    [0, "", "Tool must be a name; got a blank"],
    [8, "", "Speed factor must be above 0; got a blank"],
  ])("tells a row it cannot use: column %i with %j", (column, value, reason) => {
    const { shelf, badTools } = shelfOf([row, row.with(column, value)], []);
    expect(shelf.tools).toHaveLength(1);
    expect(badTools).toEqual([{ row: 2, reason }]);
  });

  it("tells a liquid it cannot use", () => {
    const { badLiquids } = shelfOf([], [["Guard", "wax", 450, 2, 0.1, 5, 310, 1800]]);
    expect(badLiquids).toEqual([{ row: 1, reason: 'Work must be one of densify, guard; got the text "wax"' }]);
  });
});

describe("the starter shelf", () => {
  it("passes its own checks in both units", () => {
    for (const units of ["us", "metric"] as const) {
      const { tools, liquids } = starterShelf(units);
      const toolRows = tools.map((tool) => TOOL_COLUMNS.map(({ key }) => tool[key] ?? ""));
      const liquidRows = liquids.map((liquid) => LIQUID_COLUMNS.map(({ key }) => liquid[key]));
      const read = shelfOf(toolRows, liquidRows);
      expect([read.badTools, read.badLiquids]).toEqual([[], []]);
      expect(read.shelf).toEqual({ tools, liquids });
    }
  });

  it("has tools of one name each, and is the same shelf in metric (1 ft² = 0.09290304 m², to 3 digits)", () => {
    const names = starterShelf("us").tools.map((tool) => tool.name);
    expect(new Set(names).size).toBe(names.length);
    starterShelf("us").tools.forEach((tool, i) => {
      const metric = starterShelf("metric").tools[i]!;
      expect(Math.abs(metric.life / (tool.life * 0.09290304) - 1)).toBeLessThan(0.005);
    });
  });
});

it("headers name the unit and hold nothing that a structured reference would have to escape", () => {
  for (const column of [...TOOL_COLUMNS, ...LIQUID_COLUMNS]) {
    for (const units of ["us", "metric"] as const) expect(header(column as any, units)).toMatch(/^[A-Za-zµ²³ ]+$/);
  }
});
