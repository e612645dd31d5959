import { describe, expect, it } from "vitest";
import { insertPlan, insertQuoteLines, listPlans, NeedsAnswer, QUOTE_LINES, Refusal, undo } from "../../../addin/sheet";
import { estimate } from "../../../functions/plan/estimate";
import { startInputs } from "../../../functions/plan/inputs";
import { close, expectSheetAgrees, floor, planFor, SECOND } from "./agreement";
import {
  cellValue,
  named,
  openGritForEach,
  protect,
  select,
  setNamed,
  snapshot,
  tableRows,
  unprotect,
  valuesOf,
  write,
} from "./workbook";

openGritForEach();

describe("a stage plan on new sheets", () => {
  it("holds in every cell what the functions' own arithmetic gives", async () => {
    const plan = planFor(floor());
    const inserted = await insertPlan(plan, "new sheet");
    expect(inserted.what).toBe("Stage table written to the new sheets “Stage plan” and “Shelf”");
    await expectSheetAgrees(plan);
  });

  it.each([
    ["in metric units", floor({ ...startInputs("metric"), jobName: "m", length: 24, width: 15 })],
    ["for a coating", floor({ finish: "coating", film: 12, surface: "coated" })],
    [
      "on a floor ground before, edges after the machine",
      floor({ surface: "ground", groundGrit: 120, edgeWork: "after" }),
    ],
    ["by area alone, with the minimum charge", floor({ length: null, width: null, area: 300, minimum: 2500 })],
  ])("agrees %s", async (_, inputs) => {
    const plan = planFor(inputs);
    await insertPlan(plan, "new sheet");
    await expectSheetAgrees(plan);
  });

  it("follows a changed input down to the price", async () => {
    const plan = planFor(floor());
    await insertPlan(plan, "new sheet");
    const before = await named("Stages_Price");
    await setNamed("Price_Margin", "Stage plan", 0.4);
    await setNamed("Machine_Speed", "Stage plan", 12);
    const changed = { ...plan, inputs: { ...plan.inputs, margin: 0.4, speed: 12 } };
    const wanted = await expectSheetAgrees(changed);
    expect(wanted.price).toBeGreaterThan(before);
  });

  it("takes a linked input from the user's quote, and serves the quote by name", async () => {
    await write("Sheet1!A1:B2", [
      ["Area", 4200],
      ["Price", ""],
    ]);
    const plan = planFor(floor({ area: 4200 }), { area: "Sheet1!B1" });
    await insertPlan(plan, "new sheet");
    await write("Sheet1!B2", [["=Stages_Price"]]);
    close(await cellValue("Sheet1!B2"), estimate(plan.inputs, plan.shelf, plan.stages).price);
    await write("Sheet1!B1", [[5000]]);
    const larger = { ...plan, inputs: { ...plan.inputs, area: 5000 } };
    const { price } = await expectSheetAgrees(larger);
    close(await cellValue("Sheet1!B2"), price);
  });

  it("says in words which row to fix", async () => {
    const plan = planFor(floor());
    const skipping = { ...plan, stages: plan.stages.filter((stage) => stage.tool !== "Resin 400") };
    await insertPlan(skipping, "new sheet");
    const rows = await tableRows("Stages");
    expect(rows.map((row) => row.Check)).toContain("too far");
    const bad = rows.findIndex((row) => row.Check === "too far") + 1;
    expect(await cellValue("Stage plan!K5")).toBe(`row ${bad}: too far`);
  });

  it("uses the shelf that is there, and other names, the second time", async () => {
    const plan = planFor(floor());
    await insertPlan(plan, "new sheet");
    await write("Shelf!G5", [[999]]);
    const inserted = await insertPlan(plan, "new sheet");
    expect(inserted.what).toBe("Stage table written to the new sheet “Stage plan 2”");
    const dearer = plan.shelf.tools.map((tool, i) => (i === 0 ? { ...tool, price: 999 } : tool));
    await expectSheetAgrees({ ...plan, shelf: { ...plan.shelf, tools: dearer } }, SECOND);
    await setNamed("Floor_Area", "Stage plan 2", 100);
    close(await named("Stages_Price"), estimate(plan.inputs, plan.shelf, plan.stages).price);
  });

  it("keeps what the user calls a job as text", async () => {
    await insertPlan(planFor(floor({ jobName: "=2+3" })), "new sheet");
    expect(await named("Floor_Job", "Stage plan")).toBe("=2+3");
  });

  it("is drawn in two charts and set up for print", async () => {
    await insertPlan(planFor(floor()), "new sheet");
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Stage plan");
      const charts = sheet.charts.load("items/name");
      const page = sheet.pageLayout.load("orientation");
      await context.sync();
      expect(charts.items.map((chart) => chart.name)).toEqual(["Cost by stage", "Hours by stage"]);
      expect(page.orientation).toBe("Landscape");
    });
  });
});

describe("lines of a plan at the selected cell", () => {
  it("show what its sheet comes to, beside what the user has, and follow it", async () => {
    await write("Sheet1!A1:B1", [["My quote", 7]]);
    await select("Sheet1!C6");
    const plan = planFor(floor());
    const inserted = await insertPlan(plan, "selected cell", false, [...QUOTE_LINES]);
    expect(inserted.what).toMatch(
      /^Stage table written to the new sheets “Stage plan” and “Shelf”, its lines to Sheet1!C6:D11$/,
    );
    const { price, hours, perArea, days, rows } = await expectSheetAgrees(plan);
    const lines = async () => Object.fromEntries(await valuesOf("Sheet1!C6:D11"));
    const sets = rows.reduce((sum, row) => sum + row.setsToBuy, 0);
    expect(Object.keys(await lines())).toEqual(["Price", "Per ft²", "Hours", "Days", "Sets", "Stages"]);
    const shown: any = await lines();
    close(shown.Price, price);
    close(shown["Per ft²"], perArea);
    close(shown.Hours, hours);
    expect([shown.Days, shown.Sets]).toEqual([days, sets]);
    expect(shown.Stages).toBe(plan.stages.map(({ tool }) => tool).join(", "));
    expect(await valuesOf("Sheet1!A1:B1")).toEqual([["My quote", 7]]);
    await setNamed("Floor_Length", "Stage plan", 100);
    const { price: longer } = await expectSheetAgrees({ ...plan, inputs: { ...plan.inputs, length: 100 } });
    close(((await lines()) as any).Price, longer);
  });

  it("are as narrow as the cells: two columns, no width or font touched, whole money where cents have no room", async () => {
    const looks = () =>
      Excel.run(async (context) => {
        const range = context.workbook.worksheets.getItem("Sheet1").getRange("A1:F9");
        const read = range.getCellProperties({
          format: { font: { name: true, size: true, bold: true }, columnWidth: true, fill: { color: true } },
        } as any);
        await context.sync();
        return read.value;
      });
    // 60 and 300 pixels are 45 and 225 points.
    for (const [points, format] of [
      [45, '"$"#,##0'],
      [225, '"$"#,##0.00'],
    ] as const) {
      await Excel.run(async (context) => {
        const sheet = context.workbook.worksheets.getItem("Sheet1");
        sheet.getRange("B:C").format.columnWidth = points;
        sheet.getRange("C3").format.font.name = "Courier New";
        sheet.getRange("C3").format.font.size = 14;
        await context.sync();
      });
      const before = await looks();
      await select("Sheet1!B3");
      const inserted = await insertPlan(planFor(floor()), "selected cell", true, ["price", "stages"]);
      const cells = await Excel.run(async (context) => {
        const range = context.workbook.worksheets.getItem("Sheet1").getRange("B3:C4").load("numberFormat");
        await context.sync();
        return range.numberFormat;
      });
      expect(cells).toEqual([
        ["General", format],
        ["General", "General"],
      ]);
      expect(await looks()).toEqual(before);
      await undo(inserted);
      await select("Sheet1!A1");
    }
  });

  it("are written for a plan that stands there, also one that was copied by hand", async () => {
    await insertPlan(planFor(floor({ floor: "Hall A" })), "new sheet");
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Hall A").copy("End");
      await context.sync();
    });
    const [, copy] = await listPlans();
    await setNamed("Floor_Length", "Hall A (2)", 160);
    await select("Sheet1!B2");
    const before = await snapshot();
    const inserted = await insertQuoteLines(copy!.sheetId, ["price", "sets"], "$");
    expect(inserted.what).toBe("Lines of Hall A written to Sheet1!B2:C3");
    const price = (await valuesOf(`'Hall A (2)'!${copy!.lines.price}`))[0]![0];
    expect((await valuesOf("Sheet1!B2:C2"))[0]).toEqual(["Price", price]);
    expect(price).toBeGreaterThan(await named("Stages_Price"));
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("ask before they are written over filled cells, naming the range, and leave them until the answer", async () => {
    await write("Sheet1!D6:D7", [[1], ["mine"]]);
    await select("Sheet1!C6");
    const before = await snapshot();
    const asked = await insertPlan(planFor(floor()), "selected cell", false, ["price", "hours"]).catch(
      (error) => error,
    );
    expect(asked).toBeInstanceOf(NeedsAnswer);
    expect(asked.message).toBe("The lines need Sheet1!C6:D7, which has 2 filled cells.");
    expect(await snapshot()).toEqual(before);
  });

  it("put back what they were written over when they are undone", async () => {
    await write("Sheet1!C6:D7", [
      [1, "=C6*2"],
      ["mine", ""],
    ]);
    await select("Sheet1!C6");
    const before = await snapshot();
    const inserted = await insertPlan(planFor(floor()), "selected cell", true, ["price", "hours", "days"]);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("are refused where a table is in the way, and on a protected sheet", async () => {
    await write("Sheet1!D7:D8", [["Head"], [1]]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Sheet1").tables.add("D7:D8", true).name = "Mine";
      await context.sync();
    });
    await select("Sheet1!C6");
    const insert = () => insertPlan(planFor(floor()), "selected cell", true, ["price", "hours"]);
    await expect(insert()).rejects.toThrow(/table Mine is in the way/);
    await protect("Sheet1");
    await expect(insert()).rejects.toThrow(/protected/);
  });
});

describe("undo", () => {
  it("takes out exactly what was put in", async () => {
    await write("Sheet1!A1", [["mine"]]);
    const before = await snapshot();
    for (const where of ["new sheet", "selected cell"] as const) {
      await select("Sheet1!C6");
      await undo(await insertPlan(planFor(floor()), where));
      expect(await snapshot()).toEqual(before);
    }
  });

  it("asks when the user has worked on it since, and does it after a yes", async () => {
    const before = await snapshot();
    const inserted = await insertPlan(planFor(floor()), "new sheet");
    await setNamed("Crew_Size", "Stage plan", 3);
    await expect(undo(inserted)).rejects.toBeInstanceOf(NeedsAnswer);
    expect(await named("Crew_Size", "Stage plan")).toBe(3);
    await undo(inserted, true);
    expect(await snapshot()).toEqual(before);
  });

  it("passes over a sheet that the user has deleted, and says so when nothing is left", async () => {
    await select("Sheet1!C6");
    const inserted = await insertPlan(planFor(floor()), "selected cell");
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Other");
      context.workbook.worksheets.getItem("Sheet1").delete();
      await context.sync();
    });
    await expect(undo(inserted)).rejects.toBeInstanceOf(Refusal);
  });

  it("is refused in words on a sheet that was protected since, and done once it is not", async () => {
    await write("Sheet1!D6", [["mine"]]);
    const before = await snapshot();
    await select("Sheet1!C6");
    const inserted = await insertPlan(planFor(floor()), "selected cell", true);
    await protect("Sheet1");
    const refused = await undo(inserted).catch((error) => error);
    expect(refused).toBeInstanceOf(Refusal);
    expect(refused.message).toBe("Nothing was undone: the sheet “Sheet1” is protected. Unprotect it, then undo.");
    await unprotect("Sheet1");
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });
});
