/** Plans over a machines table that describes its machines: the sheet cuts, wears and warns as the pane does. */
import { describe, expect, it } from "vitest";
import { insertPlan, type Plan } from "../../../addin/sheet";
import type { Inputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { LIQUID_COLUMNS, MACHINE_COLUMNS, type Shelf, TOOL_COLUMNS } from "../../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { expectSheetAgrees, floor, putShelf, shelfRows } from "./agreement";
import { addTable, figureBeside, openGritForEach, tableRows, valuesOf } from "./workbook";

openGritForEach();

const [small, large] = starterMachines("us");
/** One of each: a motor and a supply, a supply alone, nothing but heads that turn the other way, and no make-up. */
const machines = [
  small!,
  { ...large!, motor: undefined as never },
  { ...large!, name: "Heads", slideSpeed: 1450, motor: undefined as never, volts: undefined as never },
  { name: "Plain", width: 30, speed: 14, load: 600, toolsASet: 9, cost: 30 },
];
const shelf: Shelf = { ...starterShelf("us"), machines };

function planWith(over: Partial<Inputs>): Plan {
  const inputs = floor({ exposure: "C", ...over });
  // Every stage on another machine, in turn.
  const names = ["", ...machines.map(({ name }) => name)];
  let turn = 1;
  const stages = propose(inputs, shelf).stages.map((stage) =>
    stage.work === "densify" || stage.work === "guard" ? stage : { ...stage, machine: names[turn++ % names.length]! },
  );
  return { inputs, links: {}, shelf, stages };
}

const MEASURED = { cutCoefficient: 400, stripSize: 600, slideSpeed: 1600 };

describe("machines by their make-up", () => {
  it.each([
    ["by the shelf's cut", {}],
    ["by the shelf's cut, beside the inputs' sliding speed", { slideSpeed: 1600 }],
    ["by a test strip", MEASURED],
    ["in wet work", { ...MEASURED, grinding: "wet" as const }],
  ])("cut, wear and cost on the sheet as in the pane: %s", async (_, over) => {
    await putShelf(shelf, "us");
    const plan = planWith(over);
    await insertPlan(plan, "new sheet");
    const { rows } = await expectSheetAgrees(plan);
    // Machine A has the power for no full cut of the coarsest tool.
    expect(rows[0]!.fullCut!).toBeGreaterThan(rows[0]!.cut!);
  });

  it("say on the sheet which cut the power doesn't allow, 7.5 kW on 20 in at 12 ft/min and 20% overlap", async () => {
    await putShelf(shelf, "us");
    await insertPlan(planWith({}), "new sheet");
    expect(await figureBeside("Power enough for a full cut?", "Stage plan")).toBe(1);
    const [first] = await tableRows("Stages");
    // 7500 W / (508 mm × 60.96 mm/s × 0.8 × 1 J/mm³) is 0.30274 mm.
    expect(first!["Cut a pass µm"]).toBeCloseTo(302.74, 1);
    const texts = (await valuesOf("'Stage plan'!A1:Z80")).flat().join(" | ");
    expect(texts).toContain(
      "Metal 16 medium on Machine A, 20 in: the power there allows a cut of 303 µm a pass, not 350 µm: more passes at less depth",
    );
  });

  it("press as their load and tools and the tool's segments say, blank where the shelf doesn't", async () => {
    const tools = shelf.tools.map((tool) =>
      tool.name === "Metal 16 medium"
        ? { ...tool, segments: 2, segmentArea: 1.5 }
        : { ...tool, segments: null, segmentArea: null },
    );
    await putShelf({ ...shelf, tools }, "us");
    const one = { work: "grind", tool: "Metal 16 medium" } as const;
    const stages = [one, { ...one, machine: large!.name }, { ...one, tool: "Metal 30 medium" }];
    const plan = { ...planWith({ load: 550, toolsASet: 9 }), shelf: { ...shelf, tools }, stages };
    await insertPlan(plan, "new sheet");
    await expectSheetAgrees(plan);
    const found = (await tableRows("Stages")).map((row) => row["Pressure psi"]);
    // By hand: 550 lbf / (9 × 2 × 1.5 in²) and 750 lbf / (12 × 2 × 1.5 in²).
    expect(found).toEqual([expect.closeTo(20.37037, 5), expect.closeTo(20.833333, 5), ""]);
  });

  it("leave a table without these columns as it was", async () => {
    const withoutFace = TOOL_COLUMNS.filter(({ key }) => key !== "segmentArea");
    await addTable("My_tools", "Tools", "B2", shelfRows(shelf.tools, withoutFace, "us"));
    await addTable("My_liquids", "Liquids", "A1", shelfRows(shelf.liquids, LIQUID_COLUMNS, "us"));
    const plain = machines.map(({ name, width, speed, load, toolsASet, cost }) => {
      return { name, width, speed, load, toolsASet, cost };
    });
    await addTable("My_machines", "Machines", "C5", shelfRows(plain, MACHINE_COLUMNS.slice(0, 6), "us"));
    const plan = { ...planWith(MEASURED), shelf: { ...shelf, machines: plain } };
    await insertPlan(plan, "new sheet");
    await expectSheetAgrees(plan);
    const [first] = await tableRows("Stages");
    expect(first).not.toHaveProperty("Power there kW");
    expect(first).not.toHaveProperty("Pressure psi");
  });
});
