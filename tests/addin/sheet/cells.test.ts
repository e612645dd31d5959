import { describe, expect, it } from "vitest";
import {
  insertFunction,
  insertPlan,
  readLinked,
  readSelectedCell,
  readShelf,
  recalculate,
  undo,
} from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import { cellValue, named, openGrit, openGritForEach, select, snapshot, tableRows, write } from "./workbook";

openGritForEach();

const inputs = { ...startInputs("us"), jobName: "Test floor", area: 900 };
const shelf = starterShelf("us");
const plan = { inputs, links: {}, stages: propose(inputs, shelf).stages, shelf };

describe("a function inserted at the selected cell", () => {
  it("calculates there, and is taken out by undo", async () => {
    await select("Sheet1!B2");
    const before = await snapshot();
    const inserted = await insertFunction("=GRIT.SIZE(30)");
    expect(inserted.what).toBe("=GRIT.SIZE(30) written to Sheet1!B2");
    expect(await cellValue("Sheet1!B2")).toBe(600); // ASTM E11 No. 30, 600 µm
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("never replaces what is there", async () => {
    await write("Sheet1!B2", [["mine"]]);
    await select("Sheet1!B2");
    await expect(insertFunction("=GRIT.SIZE(30)")).rejects.toThrow("Sheet1!B2 is not empty");
    expect(await cellValue("Sheet1!B2")).toBe("mine");
  });

  it("spills a ladder down its column", async () => {
    await select("Sheet1!D1");
    await insertFunction("=GRIT.LADDER(30,100)");
    // By hand: 600 → 150 µm needs two steps of at most 2.5; 50 (300 µm) makes them even.
    expect([await cellValue("Sheet1!D1"), await cellValue("Sheet1!D2"), await cellValue("Sheet1!D3")]).toEqual([
      30, 50, 100,
    ]);
  });
});

describe("cells that inputs are taken from", () => {
  it("are read where they are, the active one with its address", async () => {
    await write("Sheet1!C5", [[4200]]);
    await select("Sheet1!C5:D9");
    expect(await readSelectedCell()).toEqual({ address: "Sheet1!C5", value: 4200 });
  });

  it("are read again later; one on a sheet that is gone is undefined", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Bob's quote");
      sheet.getRange("B2").values = [[77]];
      await context.sync();
    });
    const area = { key: "area", address: "'Bob''s quote'!B2" } as const;
    const speed = { key: "speed", address: "Gone!A1" } as const;
    expect(await readLinked([area, speed])).toEqual([
      { address: area.address, value: 77 },
      { address: speed.address, value: undefined },
    ]);
  });
});

it("recalculate says what it did", async () => {
  expect(await recalculate()).toBe("Every cell of the workbook was recalculated.");
});

describe("the shelf", () => {
  it("is the starter one in a workbook without tables", async () => {
    expect(await readShelf("us")).toEqual({
      shelf,
      from: "the starter shelf (invented tools and prices)",
      problems: [],
    });
  });

  it("is read from the user's tables, by header, wherever they are and whatever is bad in them", async () => {
    await insertPlan(plan, "new sheet");
    await write("Shelf!C5", [["thirty"]]);
    await write("Shelf!G6", [[611]]);
    const read = await readShelf("us");
    expect(read.from).toBe("tables Tooling and Liquids on “Shelf”");
    expect(read.problems).toEqual(['Tooling, row 1: Grit must be above 0; got the text "thirty"; the row is left out']);
    expect(read.shelf.tools).toHaveLength(shelf.tools.length - 1);
    expect(read.shelf.tools[0]).toEqual({ ...shelf.tools[1], price: 611 });
    expect(read.shelf.liquids).toEqual(shelf.liquids);
  });

  it("has the machines of the user's machines table, and tells a row that it cannot use", async () => {
    const [own, other] = starterMachines("us");
    await putShelf({ ...shelf, machines: [own!, { ...other!, width: 0 }] }, "us");
    const read = await readShelf("us");
    expect(read.from).toBe("tables My_tools, My_liquids and My_machines on “Tools”, “Liquids” and “Machines”");
    expect(read.problems).toEqual([
      "My_machines, row 2: Working width must be above 0 and at most 10,000; got 0; the row is left out",
    ]);
    expect(read.shelf.machines).toEqual([own]);
  });

  it("grows with its table: a tool added by the user is found by the stage table", async () => {
    await insertPlan(plan, "new sheet");
    await Excel.run(async (context) => {
      const { tables } = context.workbook;
      tables
        .getItem("Tooling")
        .rows.add(undefined, [["My resin", "resin", 900, 17, "", 8000, 250, 3, 1, 0, ...new Array(10).fill("")]]);
      await context.sync();
      const stages = tables.getItem("Stages");
      stages.columns.getItem("Tool").getDataBodyRange().getCell(0, 0).values = [["My resin"]];
      await context.sync();
    });
    // By hand: 900 ft² less 120 ft × 0.5 are 840; × 3 passes / 8000 ft² = 0.315 sets of 250.
    const [first] = await tableRows("Stages");
    expect(first!["Size µm"]).toBe(17);
    expect(first!["Tooling cost"]).toBeCloseTo(78.75, 9);
  });
});

it.each([[null], [0], [""]] as const)(
  "a host that passes blank cells as %j changes no number of the plan",
  async (blankAs) => {
    const scratched = { ...plan, inputs: { ...inputs, passesFrom: "scratch" as const } };
    await insertPlan(scratched, "new sheet");
    const price = await named("Stages_Price");
    const other = await openGrit(blankAs);
    await insertPlan(scratched, "new sheet");
    expect(await named("Stages_Price")).toBe(price);
    await other.dispose();
  },
);
