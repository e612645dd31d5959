import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { insertPlan, type Plan } from "../../../addin/sheet";
import { cheapest } from "../../../functions/plan/cheapest";
import { estimate, onCheapestMachines } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { TOOL_COLUMNS, type Tool } from "../../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import type { System } from "../../../functions/units";
import { close, expectSheetAgrees, floor, planFor, putShelf, SECOND } from "./agreement";
import {
  addTable,
  figureBeside,
  named,
  openGritForEach,
  openGritOnce,
  putBackAfterEach,
  select,
  setInTable,
  setNamed,
  tableRows,
} from "./workbook";

const SIZE = { us: { length: 80, width: 50 }, metric: { length: 24, width: 15 } };
const STRIP = { cutCoefficient: 180, stripSize: 600 };
const SLIDING = { us: 2000, metric: 10 };

const floorIn = (units: System, over: Partial<Inputs> = {}) =>
  floor({ ...startInputs(units), jobName: "Test floor", ...SIZE[units], ...over });
/** A workbook whose shelf has a machines table. */
async function withMachines(units: System, over: Partial<Tool> = {}): Promise<Plan["shelf"]> {
  const { tools, liquids } = starterShelf(units);
  const shelf = { tools: tools.map((tool) => ({ ...tool, ...over })), liquids, machines: starterMachines(units) };
  await putShelf(shelf, units);
  await selectHome();
  return shelf;
}

/** Where a block is to stand: the first sheet, beside what the user has there. */
async function selectHome(): Promise<void> {
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Sheet1").activate();
    await context.sync();
  });
  await select("Sheet1!C6");
}

describe.each([
  ["us", "new sheet"],
  ["metric", "new sheet"],
] as const)("in %s units, on a %s, every figure agrees", (units, where) => {
  openGritForEach();
  beforeEach(selectHome);

  it("with passes as the scratches need", async () => {
    const plan = planFor(floorIn(units, { passesFrom: "scratch" }));
    await insertPlan(plan, where);
    const { rows } = await expectSheetAgrees(plan);
    const asOnShelf = estimate({ ...plan.inputs, passesFrom: "shelf" }, plan.shelf, plan.stages);
    expect(rows.map((row) => row.passes)).not.toEqual(asOnShelf.rows.map((row) => row.passes));
  });

  it("with a cutting coefficient from a test strip", async () => {
    const strip = { ...STRIP, slideSpeed: SLIDING[units], passesFrom: "scratch" as const };
    const plan = planFor(floorIn(units, strip));
    await insertPlan(plan, where);
    const { rows } = await expectSheetAgrees(plan);
    const byShelf = estimate({ ...plan.inputs, cutCoefficient: null }, plan.shelf, plan.stages);
    expect(rows.map((row) => row.passes)).not.toEqual(byShelf.rows.map((row) => row.passes));
  });

  it("with a machine of the table at some stages, and the coefficient", async () => {
    const shelf = await withMachines(units);
    const inputs = floorIn(units, { ...STRIP, slideSpeed: SLIDING[units], passesFrom: "scratch", changeHours: 0.5 });
    const names = ["", ...shelf.machines.map((machine) => machine.name)];
    const stages = propose(inputs, shelf).stages.map((stage, i) =>
      stage.work === "densify" || stage.work === "guard" ? stage : { ...stage, machine: names[i % names.length]! },
    );
    const plan = { inputs, links: {}, shelf, stages };
    await insertPlan(plan, where);
    const { rows } = await expectSheetAgrees(plan);
    expect(new Set(rows.map((row) => row.machine)).size).toBe(3);
  });

  it("with the cheapest sequence, each stage on its cheapest machine", async () => {
    const shelf = await withMachines(units);
    const inputs = floorIn(units, { passesFrom: "scratch", finish: "highly polished" });
    const stages = onCheapestMachines(inputs, shelf, cheapest(inputs, shelf).stages);
    const plan = { inputs, links: {}, shelf, stages };
    await insertPlan(plan, where);
    await expectSheetAgrees(plan);
  });

  it("with hours and price learned from past jobs", async () => {
    // Log ratios 0, L and 2 L with L = ln 1.2: their mean is L and their spread L. The job without actual hours is none.
    await addTable("Past", "Past jobs", "A1", [
      ["Estimated", "Actual"],
      [50, 50],
      [40, 48],
      [30, ""],
      [100, 144],
    ]);
    await selectHome();
    const pastJobs = { estimated: "Past[Estimated]", actual: "Past[Actual]" };
    const inputs = floorIn(units, { pastJobs: "floors like it", confidence: 0.8 });
    const plan: Plan = { ...planFor(inputs), pastJobs };
    await insertPlan(plan, where);
    const { rows, hours, directCost } = await expectSheetAgrees(plan);

    const sheet = where === "new sheet" ? "Stage plan" : "Sheet1";
    // Student's t with 2 degrees of freedom in closed form: t(0.8) = 0.6 × √(2 / (4 × 0.8 × 0.2)); times √(1 + 1/3) it is √1.5.
    const hoursAt = hours * 1.2 ** (1 + Math.sqrt(1.5));
    const perHour = rows.reduce((sum, row) => sum + row.parts.crew + row.parts.machine, 0) / hours;
    const priceOf = (h: number) =>
      ((directCost + perHour * (h - hours)) * (1 + inputs.overhead!) * (1 + inputs.contingency!)) /
      (1 - inputs.margin!);
    close(await figureBeside("Past jobs: actual ÷ estimated hours", sheet), 1.2);
    close(await figureBeside("Hours at 80%", sheet), hoursAt);
    close(await figureBeside("Price at 80%", sheet), priceOf(hoursAt));
    // Two in three: t(5/6) = (2/3) × √(2 / (4 × 5/6 × 1/6)), to both sides of the mean.
    const reach = (2 / 3) * Math.sqrt(18 / 5) * Math.sqrt(1 + 1 / 3);
    close(await figureBeside("Likely price range, low", sheet), priceOf(hours * 1.2 ** (1 - reach)));
    close(await figureBeside("Likely price range, high", sheet), priceOf(hours * 1.2 ** (1 + reach)));
  });
});

const CHANGES = "what the user changes on the sheet";

describe(CHANGES, () => {
  openGritForEach();

  it("the depth, and the way that passes are counted, changes the passes and all that hangs on them", async () => {
    const plan = planFor(floorIn("us"));
    await insertPlan(plan, "new sheet");
    const onShelf = await expectSheetAgrees(plan);
    const changed = async (name: string, value: unknown, over: Partial<Inputs>) => {
      await setNamed(name, "Stage plan", value);
      Object.assign(plan.inputs, over);
      return expectSheetAgrees(plan);
    };
    const byScratch = await changed("Floor_Passes", "scratch", { passesFrom: "scratch" });
    expect(byScratch.price).not.toBe(onShelf.price);
    const deeper = await changed("Floor_Depth", 4000, { depth: 4000 });
    expect(deeper.rows[0]!.passes).toBeGreaterThan(byScratch.rows[0]!.passes);
    expect(deeper.rows.slice(1)).toEqual(byScratch.rows.slice(1));
    await changed("Crew_Change", 1, { changeHours: 1 });
    expect((await changed("Floor_Passes", "shelf", { passesFrom: "shelf" })).rows[0]!.passes).toBe(
      onShelf.rows[0]!.passes,
    );
  });

  it("a coefficient typed in takes the place of the shelf's cut, and gives it back when it is cleared", async () => {
    const plan = planFor(floorIn("us", { passesFrom: "scratch" }));
    await insertPlan(plan, "new sheet");
    const price = await named("Stages_Price");
    await setNamed("Floor_StripSize", "Stage plan", 600);
    await setNamed("Machine_SlideSpeed", "Stage plan", 2000);
    await setNamed("Floor_Cut", "Stage plan", 180);
    await expectSheetAgrees({ ...plan, inputs: { ...plan.inputs, ...STRIP, slideSpeed: 2000 } });
    await setNamed("Floor_Cut", "Stage plan", "");
    close(await named("Stages_Price"), price);
  });

  it("the machine's own row in the table changes the stages that run on it, and the sets to buy for it", async () => {
    // By hand: 4000 ft² less 260 ft × 0.5 are 3870, twice 7740; a set lasts 3 × 2000 ft² where 27 tools make it, so 1.29
    // are used; the 1 set of 9 on hand is 0.33 of it.
    const shelf = await withMachines("us", { life: 2000, onHand: 1 });
    const [narrow, wide] = shelf.machines;
    const start = planFor(floorIn("us"));
    const stages = start.stages.map((stage) => ({ ...stage, machine: stage.work === "grind" ? wide!.name : "" }));
    await insertPlan({ ...start, shelf, stages }, "new sheet");
    await setInTable("My_machines", 1, "Cost per h", 90);
    await setInTable("My_machines", 1, "Tools in a set", 27);
    const machines = [narrow!, { ...wide!, cost: 90, toolsASet: 27 }];
    const { rows } = await expectSheetAgrees({ ...start, stages, shelf: { ...shelf, machines } });
    expect(rows[0]).toMatchObject({ machine: wide!.name, passes: 2, setsToBuy: 1 });
  });
});

describe(CHANGES, () => {
  let shelf: Plan["shelf"];
  let plan: Plan;
  openGritOnce();
  beforeAll(async () => {
    shelf = await withMachines("us");
    plan = { ...planFor(floorIn("us", { passesFrom: "scratch" })), shelf };
    await insertPlan(plan, "new sheet");
  });
  putBackAfterEach();

  it("the machine that a stage runs on changes that stage; cleared, it is the machine of the inputs", async () => {
    const own = await expectSheetAgrees(plan);
    const { name } = shelf.machines[1]!;
    await setInTable("Stages", 0, "Run on", name);
    const stages = plan.stages.map((stage, i) => (i === 0 ? { ...stage, machine: name } : stage));
    const wide = await expectSheetAgrees({ ...plan, stages });
    expect(wide.rows[0]!.machineHours).toBeLessThan(own.rows[0]!.machineHours);
    expect(wide.rows.slice(1)).toEqual(own.rows.slice(1));
    await setInTable("Stages", 0, "Run on", "");
    await expectSheetAgrees(plan);
  });

  it("a machine that the table has not is an error in its row, not the machine of the inputs", async () => {
    await setInTable("Stages", 0, "Run on", "Sold last year");
    const [first, second] = await tableRows("Stages");
    expect(first!["Machine h"]).toBe("#N/A");
    expect(second!["Machine h"]).toBeTypeOf("number");
  });
});

const UNKNOWN = {
  ...{ cut: null, wear: null, edgeLife: null, edgePrice: null, wetSpeed: null, wetLife: null },
  ...{ segments: null, segmentArea: null },
};

describe("a tooling table of before, without the columns for cut, wear and edge tools", () => {
  const starter = starterShelf("us");
  const shelf = { ...starter, tools: starter.tools.map((tool) => ({ ...tool, ...UNKNOWN })) };
  const columnsOfBefore = TOOL_COLUMNS.filter((column) => !column.optional);
  const plan = (over: Partial<Inputs> = {}): Plan => {
    const inputs = floorIn("us", over);
    return { inputs, links: {}, shelf, stages: propose(inputs, shelf).stages };
  };
  const deep = plan({ ...STRIP, slideSpeed: 2000, depth: 1600 });
  openGritOnce();
  beforeAll(async () => {
    await putShelf(shelf, "us", columnsOfBefore);
    await insertPlan(plan(), "new sheet");
    await insertPlan(deep, "new sheet");
  });
  putBackAfterEach();

  it.each(["larger", "shelf", "scratch"] as const)(
    "still works, its passes those of the shelf (passes as %s)",
    async (from) => {
      await setNamed("Floor_Passes", "Stage plan", from);
      const { rows } = await expectSheetAgrees(plan({ passesFrom: from }));
      for (const row of rows.filter(({ grit }) => grit !== null)) {
        expect(row.passes).toBe(shelf.tools.find((tool) => tool.name === row.tool)!.passes);
      }
    },
  );

  it("takes its passes from the scratches once a test strip gives the coefficient", async () => {
    const { rows } = await expectSheetAgrees(deep, SECOND);
    expect(rows[0]!.passes).toBeGreaterThan(shelf.tools.find((tool) => tool.name === rows[0]!.tool)!.passes);
  });
});
