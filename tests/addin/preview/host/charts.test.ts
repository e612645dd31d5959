/** Charts: what an add-in sets, and what a renderer is given. */
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel, host, engine } = workbook;
const { write, refusal } = cellsOf(workbook);
afterAll(() => workbook.dispose());

/** A new sheet "Data" with three stages, and what they cost. */
beforeEach(() =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.getItemOrNullObject("Data").load("name");
    await context.sync();
    const old = worksheets.getItemOrNullObject("Data");
    await context.sync();
    if (!old.isNullObject) old.delete();
    const sheet = worksheets.add("Data");
    sheet.getRange("A1:C4").values = [
      ["Stage", "Tooling", "Crew"],
      ["grind", 100, 200],
      ["hone", 150, 250],
      ["polish", 80, 120],
    ];
    await context.sync();
  }),
);

const charts = () => host.charts(engine.sheetIdOf("Data")!);

describe("a chart", () => {
  it("takes names and categories from the text beside its numbers", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      const chart = sheet.charts.add("ColumnStacked", sheet.getRange("A1:C4"), "Columns");
      chart.series.load("items/name");
      chart.load("name");
      await context.sync();
      expect(chart.series.items.map(({ name }) => name)).toEqual(["Tooling", "Crew"]);
      expect(chart.name).toBe("Chart 1");
    });
    expect(charts()[0]).toMatchObject({
      type: "ColumnStacked",
      title: undefined,
      legend: "Right",
      series: [
        { name: "Tooling", values: [100, 150, 80], categories: ["grind", "hone", "polish"] },
        { name: "Crew", values: [200, 250, 120], categories: ["grind", "hone", "polish"] },
      ],
    });
  });

  it("looks as it is set", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      const chart = sheet.charts.add("BarClustered", sheet.getRange("B2:B4"), "Columns");
      chart.name = "Costs";
      chart.title.text = "Cost by stage";
      chart.legend.position = "Bottom";
      chart.axes.valueAxis.title.text = "Cost";
      chart.axes.valueAxis.numberFormat = "#,##0";
      chart.axes.categoryAxis.reversePlotOrder = true;
      const first = chart.series.getItemAt(0);
      first.name = "Tooling";
      first.setXAxisValues(sheet.getRange("A2:A4"));
      first.format.fill.setSolidColor("#17463C");
      first.format.line.color = "white";
      const second = chart.series.add("Crew");
      second.setValues(sheet.getRange("C2:C4"));
      await context.sync();
      const again = sheet.charts.getItem("costs");
      again.title.load("text");
      const count = again.series.getCount();
      await context.sync();
      expect([again.title.text, count.value]).toEqual(["Cost by stage", 2]);
    });
    expect(charts()[0]).toMatchObject({
      name: "Costs",
      type: "BarClustered",
      title: "Cost by stage",
      legend: "Bottom",
      valueAxis: { title: "Cost", numberFormat: "#,##0" },
      categoryAxis: { title: undefined, reversed: true },
      series: [
        { name: "Tooling", categories: ["grind", "hone", "polish"], fill: "#17463C", line: { color: "#FFFFFF" } },
        { name: "Crew", values: [200, 250, 120] },
      ],
    });
  });

  it.each(["ColumnClustered", "BarClustered"] as const)(
    "shows several series of filled columns as %s",
    async (type) => {
      await Excel.run(async (context) => {
        const sheet = context.workbook.worksheets.getItem("Data");
        sheet.getRange("F1:G1").values = [["Quoted", "Actual"]];
        sheet.getRange("F2:G2").formulas = [["=B2:B4*2", "=C2:C4+F2:F4"]];
        const chart = sheet.charts.add(type, sheet.getRange("F1:G4"), "Columns");
        for (const i of [0, 1]) chart.series.getItemAt(i).setXAxisValues(sheet.getRange("A2:A4"));
        await context.sync();
        chart.series.load("items/name");
        await context.sync();
        expect(chart.series.items.map(({ name }) => name)).toEqual(["Quoted", "Actual"]);
      });
      // hand: 100, 150, 80 doubled; then 200, 250, 120 added.
      expect(charts()[0]).toMatchObject({
        type,
        series: [
          { name: "Quoted", values: [200, 300, 160], categories: ["grind", "hone", "polish"] },
          { name: "Actual", values: [400, 550, 280], categories: ["grind", "hone", "polish"] },
        ],
      });
    },
  );

  it("stands where it is put, and moves as columns widen and rows are inserted", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      const chart = sheet.charts.add("Line", sheet.getRange("A1:C4"));
      chart.setPosition("B6", "C10");
      await context.sync();
      chart.load("left,top,width,height");
      await context.sync();
      // hand: standard columns are 48 points wide, rows 15 high; B6:C10 is 2 columns by 5 rows.
      expect(chart.toJSON()).toMatchObject({ left: 48, top: 75, width: 96, height: 75 });
      sheet.getRange("A:A").format.columnWidth = 96;
      sheet.getRange("1:2").insert("Down");
      chart.load("left,top");
      await context.sync();
      expect([chart.left, chart.top]).toEqual([96, 105]);
      chart.left = 12;
      chart.width = 200;
      chart.load("left,top,width");
      await context.sync();
      expect([chart.left, chart.top, chart.width]).toEqual([12, 105, 200]);
    });
    expect(charts()[0]).toMatchObject({ left: 16, top: 140, width: 200 / 0.75 });
  });

  it("shows values as they are now, and grows with its table", async () => {
    let changes = 0;
    const stop = host.onModelChange(() => changes++);
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      const table = sheet.tables.add("A1:C4", true);
      const chart = sheet.charts.add("ColumnStacked", sheet.getRange("B2:B4"), "Columns");
      chart.series.getItemAt(0).setXAxisValues(sheet.getRange("A2:A4"));
      await context.sync();
      const before = changes;
      table.rows.add(undefined, [["guard", 40, 60]]);
      await context.sync();
      expect(changes).toBeGreaterThan(before);
    });
    await write("Data!B2", [["=10*11"]]);
    expect(charts()[0]!.series[0]).toMatchObject({
      values: [110, 150, 80, 40],
      categories: ["grind", "hone", "polish", "guard"],
    });
    stop();
  });

  it("is drawn again when the user types a value that no formula uses", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      sheet.charts.add("Line", sheet.getRange("A1:B4"), "Columns");
      await context.sync();
    });
    let changes = 0;
    const stop = host.onModelChange(() => changes++);
    await workbook.type("Data", "B2", 111);
    stop();
    expect(changes).toBeGreaterThan(0);
    expect(charts()[0]!.series[0]!.values).toEqual([111, 150, 80]);
  });

  it("is found by name, counted and deleted", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      sheet.charts.add("Pie", sheet.getRange("A1:B4")).name = "Shares";
      await context.sync();
      const none = sheet.charts.getItemOrNullObject("Nothing");
      const found = sheet.charts.getItemOrNullObject("Shares");
      await context.sync();
      expect([none.isNullObject, found.isNullObject]).toEqual([true, false]);
      found.delete();
      const count = sheet.charts.getCount();
      await context.sync();
      expect(count.value).toBe(0);
    });
    expect(charts()).toEqual([]);
  });

  it("refuses what charts of this host do not have", async () => {
    const add = (context: Excel.RequestContext, type: Excel.ChartType | string) => {
      const sheet = context.workbook.worksheets.getItem("Data");
      return sheet.charts.add(type as Excel.ChartType, sheet.getRange("A1:C4"));
    };
    expect(await refusal((context) => add(context, "Waterfall"))).toBe("NotImplemented");
    expect(await refusal((context) => (add(context, "Line").legend.position = "Middle" as never))).toBe(
      "InvalidArgument",
    );
    expect(await refusal((context) => (add(context, "Line").title.showShadow = true))).toBe("NotImplemented");
    expect(await refusal((context) => add(context, "Line").getImage())).toBe("NotImplemented");
  });
});
