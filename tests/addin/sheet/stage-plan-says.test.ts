/** What a plan's sheet says beside its figures: depths in mil, what is bought in cash, and where the edges set the hours. */
import { describe, expect, it, vi } from "vitest";
import { insertPlan } from "../../../addin/sheet";
import { planSheet } from "../../../addin/sheet/plan-sheet";
import { estimate } from "../../../functions/plan/estimate";
import { startInputs } from "../../../functions/plan/inputs";
import { close, floor, planFor } from "./agreement";
import { names } from "./plan-names";
import { figureBeside, openGritForEach, tableRows } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

openGritForEach();

// 1 mil is 25.4 µm (NIST SP 811).
it("a US plan shows scratches and cuts in mil beside µm", async () => {
  await insertPlan(planFor(floor()), "new sheet");
  for (const row of await tableRows("Stages")) {
    const inMil = (micrometers: unknown) => (typeof micrometers === "number" ? micrometers / 25.4 : "");
    if (row["Scratch µm"] === "") expect([row["Scratch mil"], row["Cut a pass mil"]]).toEqual(["", ""]);
    else {
      close(row["Scratch mil"], inMil(row["Scratch µm"]) as number);
      close(row["Cut a pass mil"], inMil(row["Cut a pass µm"]) as number);
    }
  }
  const [first] = await tableRows("Stages");
  // The starter shelf's metal 30 cuts 275 µm: 10.8 mil.
  expect(first).toMatchObject({ Tool: "Metal 30 medium", "Cut a pass µm": 275 });
  expect(first!["Cut a pass mil"]).toBeCloseTo(10.83, 2);
});

it("a metric plan has no mil", async () => {
  await insertPlan(planFor(floor({ ...startInputs("metric"), length: 24, width: 15 })), "new sheet");
  expect(Object.keys((await tableRows("Stages"))[0]!).filter((title) => title.includes("mil"))).toEqual([]);
});

it("the price of whole sets to buy stands beside their number, apart from what the job wears", async () => {
  const plan = planFor(floor());
  await insertPlan(plan, "new sheet");
  const { rows } = estimate(plan.inputs, plan.shelf, plan.stages);
  // By hand: sets to buy × the price of a set, from the shelf.
  const priceOf = (tool: string) => plan.shelf.tools.find(({ name }) => name === tool)?.price ?? 0;
  const cash = rows.reduce((sum, row) => sum + row.setsToBuy * priceOf(row.tool), 0);
  expect(cash).toBeGreaterThan(0);
  close(await figureBeside("Price of the sets to buy", "Stage plan"), cash);
  expect(await figureBeside("Stages: tool wear, whole containers", "Stage plan")).toBeGreaterThan(0);
});

describe("where the edges set the hours", () => {
  it.each([
    // By hand: 1,000 ft at 10 ft/h is 100 h, more than any pass takes; at 10,000 ft/h it is 6 minutes.
    ["edges that take long", { edgeLength: 1000, edgeRate: 10 }, "all"],
    ["edges that take no time", { edgeLength: 1000, edgeRate: 10_000 }, "none"],
    ["edges that are worked afterwards", { edgeLength: 1000, edgeRate: 10, edgeWork: "after" }, "none"],
  ] as const)("is counted: %s", async (_, over, which) => {
    const plan = planFor(floor(over));
    await insertPlan(plan, "new sheet");
    const tools = plan.stages.filter(({ tool }) => plan.shelf.tools.some(({ name }) => name === tool)).length;
    expect(await figureBeside("Hours set by the edges in", "Stage plan")).toBe(which === "all" ? tools : 0);
  });
});

it("the stage cost is seen without scrolling: it ends within the width of a laptop's window beside the pane", () => {
  const { block, setup } = planSheet(planFor(floor()), names, undefined);
  const { row, column, columns } = block.tables[0]!;
  const header = (at: number) => block.cells.find((cell) => cell.row === row && cell.column === at)!.content;
  const cost = Array.from({ length: columns }, (_, i) => column + i).find((at) => header(at) === "Stage cost")!;
  const points = setup.widths.slice(0, cost + 1).reduce((sum, width) => sum + width, 0);
  // 1366 px less a pane of 350 and row numbers and scroll bar of 60; a point is 4/3 px.
  expect((points * 4) / 3).toBeLessThan(1366 - 350 - 60);
});
