import { describe, expect, it } from "vitest";
import { header, LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../../functions/plan/shelf";
import { shelfOf } from "../../../functions/plan/shelf-rows";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";

const row = [
  "Metal 30",
  "metal",
  30,
  "",
  "medium",
  10000,
  520,
  1,
  0.9,
  1,
  150,
  2.5,
  1200,
  75,
  0.8,
  1.25,
  500,
  400,
  2,
  0.6,
];
const withoutMeasured = row.slice(0, 10);

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
        cut: 150,
        wear: 2.5,
        edgeLife: 1200,
        edgePrice: 75,
        wetSpeed: 0.8,
        wetLife: 1.25,
        stripRate: 500,
        scratch: 400,
        segments: 2,
        segmentArea: 0.6,
      },
    ]);
  });

  it("has no factor for wet work where the table has no such columns, or blanks in them", () => {
    const { shelf, badTools } = shelfOf([row.slice(0, 14), row.with(14, "").with(15, "")], []);
    expect(badTools).toEqual([]);
    expect(shelf.tools.map(({ wetSpeed, wetLife }) => [wetSpeed, wetLife])).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  it("knows no segments of a tool whose table has no such columns, or blanks in them", () => {
    const { shelf, badTools } = shelfOf([row.slice(0, 18), row.with(18, "").with(19, "")], []);
    expect(badTools).toEqual([]);
    expect(shelf.tools.map(({ segments, segmentArea }) => [segments, segmentArea])).toEqual([
      [null, null],
      [null, null],
    ]);
  });

  it("knows neither cut, wear nor edge tool of a tool whose table has no such columns, or blanks in them", () => {
    const { shelf, badTools } = shelfOf([withoutMeasured, row.with(10, "").with(11, "").with(12, "").with(13, "")], []);
    expect(badTools).toEqual([]);
    expect(shelf.tools.map(({ cut, wear, edgeLife, edgePrice }) => [cut, wear, edgeLife, edgePrice])).toEqual([
      [null, null, null, null],
      [null, null, null, null],
    ]);
  });

  it("gives the machines of its rows, and tells one it cannot use", () => {
    const machine = ["Walk-behind", 24, 15, 500, 9, 25];
    const { shelf, badMachines } = shelfOf([], [], [machine, machine.with(4, 4.5), machine.with(1, "wide")]);
    expect(shelf.machines).toEqual([{ name: "Walk-behind", width: 24, speed: 15, load: 500, toolsASet: 9, cost: 25 }]);
    expect(badMachines).toEqual([
      { row: 2, reason: "Tools in a set must be a whole number from 1 to 1,000; got 4.5" },
      { row: 3, reason: 'Working width must be above 0 and at most 10,000; got the text "wide"' },
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
    [10, 0, "Cut per pass µm must be above 0 and at most 10,000; got 0"],
    [11, "much", 'Wear must be above 0; got the text "much"'],
    [18, 2.5, "Segments of a tool must be a whole number, 1 or more; got 2.5"],
    [19, 0, "Segment face must be above 0; got 0"],
  ])("tells a row it cannot use: column %i with %j", (column, value, reason) => {
    const { shelf, badTools } = shelfOf([row, row.with(column, value)], []);
    expect(shelf.tools).toHaveLength(1);
    expect(badTools).toEqual([{ row: 2, reason }]);
  });

  it("tells a liquid it cannot use", () => {
    const { badLiquids } = shelfOf([], [["Guard", "wax", 450, 2, 0.1, 5, 310, 1800]]);
    expect(badLiquids).toEqual([
      {
        row: 1,
        reason:
          'Work must be one of densify, guard, grout, stain, coat, joints, cracks, burnish, clean, dry, protect; got the text "wax"',
      },
    ]);
  });
});

describe("a liquid", () => {
  const guard = ["Guard", "guard", 450, 2, 0.1, 5, 310, 1800];
  const read = (row: readonly unknown[]) => shelfOf([], [row]);

  it("of a table without the newer columns is as it was", () => {
    const { shelf, badLiquids } = read(guard);
    expect(badLiquids).toEqual([]);
    expect(shelf.liquids[0]).toMatchObject({ coverage: 450, wait: null, film: null, solids: null, areaCost: null });
  });

  it("may leave blank what its work does not need: a coat its coverage, filler its floor rate, labor its container", () => {
    const rows = [
      ["Epoxy", "coat", "", 2, 0.1, 3, 190, 400, 12, 8, 0.9, "", ""],
      ["Filler", "joints", "", 1, 0.1, 10, 620, "", 1, "", "", 80, ""],
      ["Cover", "protect", "", 1, 0, "", 0, 2000, "", "", "", "", 0.14],
    ];
    expect(shelfOf([], rows).badLiquids).toEqual([]);
  });

  it.each([
    [guard.with(2, ""), "Coverage must be above 0; got a blank"],
    [guard.with(5, ""), "Container must be above 0; got a blank"],
    [guard.with(7, ""), "Spread rate must be above 0; got a blank"],
    [["Filler", "joints", "", 1, 0.1, 10, 620, 80], "Fill rate must be above 0; got a blank"],
    [[...guard, 1000], "Wait after a coat h must be from 0 to 720; got 1,000"],
    [[...guard, 1, 3, 60], "Solids must be above 0 and at most 1 (80% is 0.8); got 60"],
  ])("is told where its work does need it, or where it can't be: %j", (row, reason) => {
    expect(read(row).badLiquids).toEqual([{ row: 1, reason }]);
  });
});

describe("the starter shelf", () => {
  it("passes its own checks in both units", () => {
    for (const units of ["us", "metric"] as const) {
      const { tools, liquids } = starterShelf(units);
      const machines = starterMachines(units);
      const toolRows = tools.map((tool) => TOOL_COLUMNS.map(({ key }) => tool[key] ?? ""));
      const liquidRows = liquids.map((liquid) => LIQUID_COLUMNS.map(({ key }) => liquid[key] ?? ""));
      const machineRows = machines.map((machine) => MACHINE_COLUMNS.map(({ key }) => machine[key]));
      const read = shelfOf(toolRows, liquidRows, machineRows);
      expect([read.badTools, read.badLiquids, read.badMachines]).toEqual([[], [], []]);
      expect(read.shelf).toEqual({ tools, liquids, machines });
    }
  });

  it("has tools of one name each, and is the same shelf in metric (1 ft² = 0.09290304 m², to 3 digits)", () => {
    const names = starterShelf("us").tools.map((tool) => tool.name);
    expect(new Set(names).size).toBe(names.length);
    starterShelf("us").tools.forEach((tool, i) => {
      const metric = starterShelf("metric").tools[i]!;
      expect(Math.abs(metric.life / (tool.life * 0.09290304) - 1)).toBeLessThan(0.005);
      // 1 in² = 645.16 mm²
      if (tool.segmentArea) expect(Math.abs(metric.segmentArea! / (tool.segmentArea * 645.16) - 1)).toBeLessThan(0.005);
    });
  });

  it("has the same machines in metric (1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lbf = 0.45359237 kgf, to 3 digits)", () => {
    const close = (metric: number, exact: number) => expect(Math.abs(metric / exact - 1)).toBeLessThan(0.005);
    starterMachines("us").forEach((machine, i) => {
      const metric = starterMachines("metric")[i]!;
      close(metric.width, machine.width * 25.4);
      close(metric.speed, machine.speed * 0.3048);
      close(metric.load, machine.load * 0.45359237);
    });
  });

  it("finer tools of one bond and matrix cut less in a pass (common practice, no source)", () => {
    const { tools } = starterShelf("us");
    for (const tool of tools) {
      const finer = tools.filter((t) => t.bond === tool.bond && t.matrix === tool.matrix && t.grit > tool.grit);
      for (const other of finer) expect(other.cut, other.name).toBeLessThan(tool.cut!);
    }
  });
});

it("headers name the unit and hold nothing that a structured reference would have to escape", () => {
  // Excel escapes these within a reference to a column: [ ] # ' @, and takes others, such as / and a comma, as operators.
  for (const column of [...TOOL_COLUMNS, ...LIQUID_COLUMNS, ...MACHINE_COLUMNS]) {
    for (const units of ["us", "metric"] as const) expect(header(column as any, units)).toMatch(/^[A-Za-zµ²³0-9 ]+$/);
  }
});
