/** A shelf in one system of units and a plan in the other: pane, proposal, cheapest and the sheet's formulas convert it alike. */
import { describe, expect, it, vi } from "vitest";
import { derive } from "../../../addin/pane/plan/derived";
import { setChoice, startPlan } from "../../../addin/pane/plan/state";
import { insertMachines, insertPlan, type Plan, readShelf, writeMeasured } from "../../../addin/sheet";
import { CHECK_WORDS } from "../../../addin/sheet/plan-texts";
import { cheapest } from "../../../functions/plan/cheapest";
import { estimate } from "../../../functions/plan/estimate";
import { type Inputs, inUnits } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { LIQUID_COLUMNS, MACHINE_COLUMNS, TOOL_COLUMNS } from "../../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import type { System } from "../../../functions/units";
import { expectClose } from "../../helpers";
import { openPane } from "../pane/open-pane";
import { close, expectSheetAgrees, floor, putShelf, shelfRows } from "./agreement";
import { addTable, named, openGritForEach, select, setInTable, snapshot, tableRows, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

openGritForEach();

const other = (units: System): System => (units === "us" ? "metric" : "us");

/** A floor in one system, the shelf in the other, with machines. */
async function withShelfOf(shelfUnits: System): Promise<{ plan: Plan; inputs: Inputs }> {
  const units = other(shelfUnits);
  await putShelf({ ...starterShelf(shelfUnits), machines: starterMachines(shelfUnits) }, shelfUnits);
  const inputs = inUnits(floor(), units);
  const { shelf } = await readShelf(units);
  const stages = propose(inputs, shelf).stages.map(({ work, tool }, i) => ({
    work,
    tool,
    machine: i === 0 ? shelf.machines[1]!.name : "",
  }));
  return { inputs, plan: { inputs, links: {}, stages, shelf } };
}

// By hand, NIST SP 811: 1 ft² is 0.09290304 m², 1 in 25.4 mm, 1 ft 0.3048 m, 1 US gal 3.785411784 L, 1 lbf 0.45359237 kgf.
it("is read in the plan's units, whichever the tables are in", async () => {
  await putShelf({ ...starterShelf("us"), machines: starterMachines("us") }, "us");
  const { shelf, from, unfit, problems } = await readShelf("metric");
  expect([unfit, problems]).toEqual([undefined, []]);
  expect(from).toBe(
    "tables My_tools, My_liquids and My_machines on “Tools”, “Liquids” and “Machines”; converted from US units",
  );
  const tool = shelf.tools.find(({ name }) => name === "Metal 30 medium")!;
  expectClose(tool.life, 10_000 * 0.09290304);
  expectClose(tool.edgeLife!, 1200 * 0.3048);
  // The same on both: prices, depths and shares.
  expect([tool.price, tool.cut, tool.speedFactor]).toEqual([520, 275, 0.9]);
  const [densifier] = shelf.liquids;
  expectClose(densifier!.coverage, (200 * 0.09290304) / 3.785411784);
  expectClose(densifier!.container, 5 * 3.785411784);
  expectClose(densifier!.rate, 1500 * 0.09290304);
  const [narrow] = shelf.machines;
  expectClose(narrow!.width, 20 * 25.4);
  expectClose(narrow!.speed, 15 * 0.3048);
  expectClose(narrow!.load, 330 * 0.45359237);
});

describe.each(["us", "metric"] as const)("a shelf in %s units, with a plan in the others", (shelfUnits) => {
  it("gives the same stages and the same price as a plan in its own", async () => {
    const { inputs, plan } = await withShelfOf(shelfUnits);
    const own = { ...starterShelf(shelfUnits), machines: starterMachines(shelfUnits) };
    const again = inUnits(inputs, shelfUnits);
    expect(propose(again, own).stages).toEqual(propose(inputs, plan.shelf).stages);
    expect(cheapest(again, own).stages).toEqual(cheapest(inputs, plan.shelf).stages);
    expectClose(estimate(again, own, plan.stages).price, estimate(inputs, plan.shelf, plan.stages).price, 1e-9);
  });

  it("is converted in the formulas, which follow it", async () => {
    const { inputs, plan } = await withShelfOf(shelfUnits);
    await insertPlan(plan, "new sheet");
    const wanted = await expectSheetAgrees(plan);
    // The same floor in the shelf's own units, worked out without any conversion.
    const own = { ...starterShelf(shelfUnits), machines: starterMachines(shelfUnits) };
    close(await named("Stages_Price"), estimate(inUnits(inputs, shelfUnits), own, plan.stages).price);
    const [first] = wanted.rows;
    const row = plan.shelf.tools.findIndex(({ name }) => name === first!.tool);
    const life = own.tools[row]!.life / 2;
    await setInTable("My_tools", row, shelfUnits === "us" ? "Life of a set ft²" : "Life of a set m²", life);
    const { shelf } = await readShelf(inputs.units);
    await expectSheetAgrees({ ...plan, shelf });
    expect(await named("Stages_Price")).toBeGreaterThan(wanted.price);
  });

  it("is known by the plan's own checks: the numbers are up to date", async () => {
    const { plan } = await withShelfOf(shelfUnits);
    await insertPlan(plan, "new sheet");
    const cells = (await valuesOf("Stage plan!A1:Z120")).flat();
    expect(cells).toContain(CHECK_WORDS.upToDate);
  });
});

it("tables of one shelf may be in different units", async () => {
  const shelf = starterShelf("us");
  await addTable("My_tools", "Tools", "B2", shelfRows(shelf.tools, TOOL_COLUMNS, "us"));
  await addTable("My_liquids", "Liquids", "A1", shelfRows(starterShelf("metric").liquids, LIQUID_COLUMNS, "metric"));
  await addTable("My_machines", "More", "A1", shelfRows(starterMachines("metric"), MACHINE_COLUMNS, "metric"));
  const read = await readShelf("us");
  expect(read.from).toContain("; My_liquids and My_machines converted from metric units");
  const inputs = floor();
  const plan = { inputs, links: {}, stages: propose(inputs, read.shelf).stages, shelf: read.shelf };
  await insertPlan(plan, "new sheet");
  await expectSheetAgrees(plan);
});

it("the pane prices it at once, and inserts what it shows", async () => {
  await putShelf(starterShelf("us"), "us");
  const { store, commands } = openPane();
  commands.change((plan) => setChoice(plan, "units", "metric"));
  await commands.readShelf();
  const { estimate: shown, trouble } = derive(store.state.plan);
  expect(trouble).toBeNull();
  await commands.insertTable("new sheet");
  close(await named("Stages_Price"), shown!.price);
});

it("what was measured is written in the table's own units", async () => {
  await putShelf(starterShelf("us"), "us");
  const tool = "Metal 30 medium";
  await writeMeasured(tool, { life: 929.0304, wear: 0.25 }, "metric", true);
  const row = (await tableRows("My_tools")).find((cells) => cells.Tool === tool)!;
  // By hand: 929.0304 m² is 10,000 ft²; 0.25 mm per 100 m² is 0.25 × 0.9290304 = 0.2323 mm per 1000 ft².
  expect(row["Life of a set ft²"]).toBe(10_000);
  expect(row["Wear mm per 1000 ft²"]).toBe(0.2323);
});

it("a machines table is written in the shelf's units, so that a shelf stays in one", async () => {
  await putShelf(starterShelf("us"), "us");
  await insertMachines("metric");
  expect(await tableRows("Machines")).toHaveLength(2);
  expect(Object.keys((await tableRows("Machines"))[0]!)).toContain("Working width in");
});

it("nothing is refused for its units", async () => {
  await putShelf(starterShelf("metric"), "metric");
  await select("Sheet1!A1");
  const before = await snapshot();
  const { store, commands } = openPane({}, { inputs: startPlan().inputs });
  await commands.readShelf();
  expect(store.state.plan.shelf.problems).toEqual([]);
  expect(await snapshot()).toEqual(before);
});
