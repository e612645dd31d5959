/** A plan sheet that was deleted by hand leaves its names without a cell: the next plan takes them over. */
import { expect, it } from "vitest";
import { insertPlan, undo } from "../../../addin/sheet";
import { estimate } from "../../../functions/plan/estimate";
import { close, floor, planFor } from "./agreement";
import { cellValue, named, openGritForEach, snapshot, write } from "./workbook";

openGritForEach();

it("the user's formulas work again, and undo brings the broken names back", async () => {
  const plan = planFor(floor());
  await write("Sheet1!A1", [["mine"]]);
  await insertPlan(plan, "new sheet");
  await write("Sheet1!B1", [["=Stages_Price*2"]]);
  const { price } = estimate(plan.inputs, plan.shelf, plan.stages);
  close(await cellValue("Sheet1!B1"), 2 * price);
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Stage plan").delete();
    await context.sync();
  });
  expect(await cellValue("Sheet1!B1")).toMatch(/^#/);
  const broken = await snapshot();

  const inserted = await insertPlan(plan, "new sheet");
  expect(inserted.what).toBe("Stage table written to the new sheet “Stage plan”");
  close(await named("Stages_Price"), price);
  close(await cellValue("Sheet1!B1"), 2 * price);

  await undo(inserted);
  const sorted = (state: any) => ({ ...state, names: [...state.names].sort() });
  expect(sorted(await snapshot())).toEqual(sorted(broken));
});
