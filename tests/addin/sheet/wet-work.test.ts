/** The plan's cell for wet or dry moves the figures and the caution beside them. */
import { describe, expect, it } from "vitest";
import { insertPlan } from "../../../addin/sheet";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { expectSheetAgrees, floor, putShelf } from "./agreement";
import { openGritForEach, setNamed } from "./workbook";

openGritForEach();

async function cautionsOn(sheet: string): Promise<string> {
  return Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).getUsedRange().load("values");
    await context.sync();
    return range.values.flat().join(" ");
  });
}

describe("wet or dry", () => {
  it("changes hours, sets and caution on the sheet as in the pane", async () => {
    const { tools, liquids, machines } = starterShelf("us");
    const shelf = { tools: tools.map((tool) => ({ ...tool, wetSpeed: 0.8, wetLife: 1.25 })), liquids, machines };
    await putShelf(shelf, "us");
    const inputs = floor();
    const plan = { inputs, links: {}, shelf, stages: propose(inputs, shelf).stages };
    await insertPlan(plan, "new sheet");
    const dry = await expectSheetAgrees(plan);
    expect(await cautionsOn("Stage plan")).toMatch(/Dry grinding needs dust collection: a shroud and a HEPA collector/);

    await setNamed("Floor_Grinding", "Stage plan", "wet");
    const wet = await expectSheetAgrees({ ...plan, inputs: { ...inputs, grinding: "wet" } });
    expect(wet.hours).toBeGreaterThan(dry.hours);
    const cautions = await cautionsOn("Stage plan");
    expect(cautions).toMatch(/floors are slippery.*GFCI.*none goes down a drain/);
    expect(cautions).not.toMatch(/Dry grinding needs/);
  });
});
