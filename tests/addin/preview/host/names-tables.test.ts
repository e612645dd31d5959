/** Defined names, tables, and the formulas that use them. */
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel } = workbook;
const { write, values, value, formula, refusal, rangeAt } = cellsOf(workbook);
afterAll(() => workbook.dispose());

const SHELF = [
  ["Name", "Life", "Price"],
  ["metal 30", 1000, 300],
  ["metal 60", 2000, 250],
];

/** A fresh sheet "Shelf" with the table Tooling on A1:C3, and a sheet "Plan". */
beforeEach(() =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    for (const sheet of worksheets.items.slice(1)) sheet.delete();
    const shelf = worksheets.add("Shelf");
    worksheets.add("Plan");
    shelf.getRange("A1:C3").values = SHELF;
    shelf.tables.add("A1:C3", true).name = "Tooling";
    shelf.activate();
    context.workbook.names.load("items");
    await context.sync();
    for (const name of context.workbook.names.items) name.delete();
    await context.sync();
  }),
);

describe("a defined name", () => {
  it("stands for its cell in formulas, and follows it", async () => {
    await write("Plan!B2", [[150]]);
    await Excel.run(async (context) => {
      context.workbook.names.add("Floor_Area", rangeAt(context, "Plan!B2"), "ft²");
      const name = context.workbook.names.getItem("floor_area").load("name,formula,type,scope,comment");
      await context.sync();
      expect(name.toJSON()).toMatchObject({
        name: "Floor_Area",
        formula: "=Plan!$B$2",
        type: "Range",
        scope: "Workbook",
        comment: "ft²",
      });
    });
    await write("Shelf!E1", [["=Floor_Area*2"]]);
    expect(await value("Shelf!E1")).toBe(300);
    await write("Plan!B2", [[10]]);
    expect(await value("Shelf!E1")).toBe(20);
    await Excel.run(async (context) => {
      rangeAt(context, "Plan!1:1").insert("Down");
      const range = context.workbook.names.getItem("Floor_Area").getRange().load("address");
      await context.sync();
      expect(range.address).toBe("Plan!B3");
    });
    await write("Plan!B3", [[7]]);
    expect(await value("Shelf!E1")).toBe(14);
  });

  it("of a sheet comes before the workbook's, on that sheet only", async () => {
    await write("Plan!A1:A2", [[5], ["=Rate*10"]]);
    await write("Shelf!E1:E2", [[8], ["=Rate*10"]]);
    await Excel.run(async (context) => {
      const { names, worksheets } = context.workbook;
      names.add("Rate", "=2");
      await context.sync();
      expect([await value("Plan!A2"), await value("Shelf!E2")]).toEqual([20, 20]);
      worksheets.getItem("Plan").names.add("Rate", rangeAt(context, "Plan!A1"));
      await context.sync();
      expect([await value("Plan!A2"), await value("Shelf!E2")]).toEqual([50, 20]);
      worksheets.getItem("Shelf").names.add("Rate", rangeAt(context, "Shelf!E1"));
      await context.sync();
      expect([await value("Plan!A2"), await value("Shelf!E2")]).toEqual([50, 80]);
      worksheets.getItem("Plan").names.getItem("Rate").delete();
      await context.sync();
      expect([await value("Plan!A2"), await value("Shelf!E2")]).toEqual([20, 80]);
    });
    await write("Plan!A3", [["=Shelf!Rate+1"]]);
    expect(await value("Plan!A3")).toBe(9);
  });

  it("that is not there gives #NAME? until it is", async () => {
    await write("Plan!A1", [["=Nowhere+1"]]);
    expect(await value("Plan!A1")).toBe("#NAME?");
    await Excel.run(async (context) => {
      context.workbook.names.add("Nowhere", "=41");
      await context.sync();
    });
    expect(await value("Plan!A1")).toBe(42);
  });

  it.each(["Tax2024", "XFD1048576", "R1C1", "R", "c", "two words", "1st", "a-b", "", "A".repeat(256)])(
    "cannot be %j",
    async (name) => {
      expect(await refusal((context) => context.workbook.names.add(name, "=1"))).toBe("InvalidArgument");
    },
  );

  it("may end in digits when no column is called so", async () => {
    await Excel.run(async (context) => {
      // Columns end at XFD, rows at 1048576.
      for (const name of ["Stages1", "XFE1", "A1048577"]) context.workbook.names.add(name, "=1");
      await context.sync();
    });
  });

  it("cannot be there twice in one scope, nor bear a table's name", async () => {
    const add = (name: string) => refusal((context) => context.workbook.names.add(name, "=1"));
    await Excel.run(async (context) => {
      context.workbook.names.add("Once", "=1");
      await context.sync();
    });
    expect([await add("ONCE"), await add("Tooling")]).toEqual(["ItemAlreadyExists", "ItemAlreadyExists"]);
  });

  it("becomes #REF! with its sheet", async () => {
    await Excel.run(async (context) => {
      context.workbook.names.add("Gone", rangeAt(context, "Plan!A1"));
      context.workbook.worksheets.getItem("Plan").delete();
      const name = context.workbook.names.getItem("Gone").load("formula");
      await context.sync();
      expect(name.formula).toBe("=#REF!");
    });
  });
});

describe("a table in formulas", () => {
  it.each([
    ["=SUM(Tooling[Life])", 3000],
    ["=sum(tooling[life])", 3000],
    ["=COUNTA(Tooling)", 6],
    ["=COUNTA(Tooling[#All])", 9],
    ["=INDEX(Tooling[#Headers],1,3)", "Price"],
    ["=SUM(Tooling[[Life]:[Price]])", 3550],
    ["=SUM(Tooling[[#Data],[Price]])", 550],
    ['=INDEX(Tooling[Price],MATCH("metal 60",Tooling[Name],0))', 250],
    ["=SUM(Tooling[Nothing])", "#REF!"],
    ["=SUM(Tooling[#Totals])", "#REF!"],
  ])("%s is %j", async (text, expected) => {
    // hand: 1000 + 2000; 2 × 3 cells; 3 × 3 cells; 3000 + 550; 300 + 250.
    await write("Plan!A1", [[text]]);
    expect(await value("Plan!A1")).toEqual(expected);
  });

  it("gives this row's cell to the cells beside it", async () => {
    await write("Shelf!E1:E3", [["=Tooling[@Price]"], ["=Tooling[@Price]*2"], ["=Tooling[[#This Row],[Life]]/1000"]]);
    expect(await values("Shelf!E1:E3")).toEqual([["#REF!"], [600], [2]]);
  });

  it("is followed as it grows, at its end and in the middle", async () => {
    await write("Plan!A1", [["=SUM(Tooling[Life])"]]);
    await write("Plan!A2", [["=ROWS(Tooling)"]]);
    await Excel.run(async (context) => {
      const table = context.workbook.tables.getItem("Tooling");
      table.rows.add(undefined, [["resin 100", 4000, 200]]);
      await context.sync();
      expect(await values("Plan!A1:A2")).toEqual([[7000], [3]]);
      table.rows.add(0, [
        ["metal 16", 10, 1],
        ["metal 20", 20, 1],
      ]);
      table.rows.load("count");
      const body = table.getDataBodyRange().load("address");
      await context.sync();
      expect([table.rows.count, body.address]).toEqual([5, "Shelf!A2:C6"]);
    });
    expect(await values("Plan!A1:A2")).toEqual([[7030], [5]]);
    expect(await values("Shelf!A2:A6")).toEqual([
      ["metal 16"],
      ["metal 20"],
      ["metal 30"],
      ["metal 60"],
      ["resin 100"],
    ]);
  });

  it("is followed as rows go", async () => {
    await write("Plan!A1", [["=SUM(Tooling[Life])"]]);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Tooling").rows.getItemAt(0).delete();
      await context.sync();
    });
    expect(await value("Plan!A1")).toBe(2000);
    expect(await values("Shelf!A1:C3")).toEqual([SHELF[0], SHELF[2], ["", "", ""]]);
  });

  it("is followed under another name, and so are its columns", async () => {
    await write("Plan!A1:A2", [["=SUM(Tooling[Life])"], ["=COUNT(Tooling)"]]);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Tooling").name = "Shelf_Tools";
      await context.sync();
    });
    expect(await formula("Plan!A1")).toBe("=SUM(Shelf_Tools[Life])");
    expect(await values("Plan!A1:A2")).toEqual([[3000], [4]]);
  });

  it("becomes cells again, and formulas keep their values", async () => {
    await write("Plan!A1", [["=SUM(Tooling[Life])"]]);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Tooling").convertToRange();
      await context.sync();
    });
    expect(await formula("Plan!A1")).toBe("=SUM(Shelf!$B$2:$B$3)");
    expect(await value("Plan!A1")).toBe(3000);
  });
});

describe("a table", () => {
  it("is found by any of its cells, or only by a block that holds all of it", async () => {
    await Excel.run(async (context) => {
      const found = (address: string, whole?: boolean) =>
        rangeAt(context, `Shelf!${address}`).getTables(whole).load("items/name");
      const results = [found("B2"), found("C3:F9"), found("A1:C3", true), found("A2:C3", true), found("E1")];
      const own = context.workbook.worksheets.getItem("Shelf").tables.load("items/name");
      const others = context.workbook.worksheets.getItem("Plan").tables.getCount();
      const whole = context.workbook.tables.getItem("Tooling").getRange().load("address");
      await context.sync();
      expect(results.map(({ items }) => items.map(({ name }) => name))).toEqual([
        ["Tooling"],
        ["Tooling"],
        ["Tooling"],
        [],
        [],
      ]);
      expect([own.items.length, others.value, whole.address]).toEqual([1, 0, "Shelf!A1:C3"]);
    });
  });

  it("has columns by name, number and place", async () => {
    await Excel.run(async (context) => {
      const { columns } = context.workbook.tables.getItem("Tooling");
      columns.load("items/name,items/index");
      const life = columns.getItem("life").getDataBodyRange().load("address");
      const header = columns.getItemAt(2).getHeaderRowRange().load("values");
      const none = columns.getItemOrNullObject("Nothing");
      await context.sync();
      expect(columns.items.map(({ name, index }) => [name, index])).toEqual([
        ["Name", 0],
        ["Life", 1],
        ["Price", 2],
      ]);
      expect([life.address, header.values, none.isNullObject]).toEqual(["Shelf!B2:B3", [["Price"]], true]);
    });
  });

  it("takes new columns, at its end and between others", async () => {
    await Excel.run(async (context) => {
      const { columns } = context.workbook.tables.getItem("Tooling");
      columns.add(undefined, [["On hand"], [1], [0]]);
      columns.add(1, undefined, "Bond");
      const range = context.workbook.tables.getItem("Tooling").getRange().load("values,address");
      await context.sync();
      expect(range.address).toBe("Shelf!A1:E3");
      expect(range.values).toEqual([
        ["Name", "Bond", "Life", "Price", "On hand"],
        ["metal 30", "", 1000, 300, 1],
        ["metal 60", "", 2000, 250, 0],
      ]);
    });
    await write("Plan!A1", [["=SUM(Tooling[On hand])"]]);
    expect(await value("Plan!A1")).toBe(1);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Tooling").columns.getItem("Bond").delete();
      await context.sync();
    });
    expect(await values("Shelf!A1:D1")).toEqual([["Name", "Life", "Price", "On hand"]]);
    expect(await value("Plan!A1")).toBe(1);
  });

  it("shows totals in a row of their own", async () => {
    await Excel.run(async (context) => {
      const table = context.workbook.tables.getItem("Tooling");
      table.showTotals = true;
      const totals = table.getTotalRowRange().load("values,address");
      const body = table.getDataBodyRange().load("address");
      await context.sync();
      // hand: 300 + 250.
      expect([totals.address, totals.values, body.address]).toEqual([
        "Shelf!A4:C4",
        [["Total", "", 550]],
        "Shelf!A2:C3",
      ]);
    });
    await write("Plan!A1:A2", [["=Tooling[[#Totals],[Price]]"], ["=SUM(Tooling[Price])"]]);
    expect(await values("Plan!A1:A2")).toEqual([[550], [550]]);
  });

  it("goes on calculating in a row that is added without a value for it", async () => {
    await Excel.run(async (context) => {
      const table = context.workbook.tables.getItem("Tooling");
      table.columns.add(undefined, [["Per ft²"], ["=C2/B2"], ["=C3/B3"]]);
      table.rows.add(undefined, [["resin", 100, 50, null as never]]);
      await context.sync();
    });
    expect([await formula("Shelf!D4"), await value("Shelf!D4")]).toEqual(["=C4/B4", 0.5]);
  });

  it("keeps its headers text, and apart from one another", async () => {
    await write("Shelf!B1:C1", [[2024, "name"]]);
    expect(await values("Shelf!A1:C1")).toEqual([["Name", "2024", "name2"]]);
    await write("Plan!A1", [["=SUM(Tooling[2024])"]]);
    expect(await value("Plan!A1")).toBe(3000);
    await Excel.run(async (context) => {
      rangeAt(context, "Shelf!A1").clear("Contents");
      await context.sync();
    });
    expect(await value("Shelf!A1")).toBe("Column1");
  });

  it("without headers gets a row of them", async () => {
    await write("Plan!A1:B2", [
      [1, 2],
      [3, 4],
    ]);
    await Excel.run(async (context) => {
      const table = context.workbook.worksheets.getItem("Plan").tables.add("A1:B2", false);
      const range = table.getRange().load("values");
      await context.sync();
      expect(range.values).toEqual([
        ["Column1", "Column2"],
        [1, 2],
        [3, 4],
      ]);
    });
  });

  it("may not overlap another, nor bear a name that is taken or reads as a cell", async () => {
    const rename = (name: string) => refusal((context) => (context.workbook.tables.getItem("Tooling").name = name));
    const sheet = (context: Excel.RequestContext) => context.workbook.worksheets.getItem("Shelf");
    expect(await refusal((context) => sheet(context).tables.add("C3:D5", true))).toBe("InvalidArgument");
    await Excel.run(async (context) => {
      sheet(context).tables.add("F1:G3", true).name = "Liquids";
      context.workbook.names.add("Rate", "=1");
      await context.sync();
    });
    expect([await rename("liquids"), await rename("Rate"), await rename("T1"), await rename("my table")]).toEqual([
      "ItemAlreadyExists",
      "ItemAlreadyExists",
      "InvalidArgument",
      "InvalidArgument",
    ]);
  });

  it("keeps cells from being moved out of it in part", async () => {
    expect(await refusal((context) => rangeAt(context, "Shelf!B1").insert("Down"))).toBe("InsertDeleteConflict");
    expect(await refusal((context) => rangeAt(context, "Shelf!B3").delete("Up"))).toBe("InsertDeleteConflict");
  });

  it("moves down when rows are inserted above it", async () => {
    await write("Plan!A1", [["=SUM(Tooling[Life])"]]);
    await Excel.run(async (context) => {
      rangeAt(context, "Shelf!1:2").insert("Down");
      const range = context.workbook.tables.getItem("Tooling").getRange().load("address");
      await context.sync();
      expect(range.address).toBe("Shelf!A3:C5");
    });
    await write("Shelf!B4", [[5000]]);
    expect(await value("Plan!A1")).toBe(7000);
  });

  it("keeps its headers when a formula is moved to where they stood", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Plan");
      sheet.getRange("A1:B3").formulas = [
        ["", "=2+2"],
        ["Above", "=LEN(A2)"],
        ["Tool", "Size"],
      ];
      sheet.tables.add("A3:B4", true).name = "Below";
      await context.sync();
      sheet.getRange("1:1").insert("Down");
      const columns = context.workbook.tables.getItem("Below").columns.load("items/name");
      await context.sync();
      expect(columns.items.map(({ name }) => name)).toEqual(["Tool", "Size"]);
    });
  });

  it("grows when the user types right below it, and its formulas go on", async () => {
    await write("Plan!A1", [["=SUM(Tooling[Life])"]]);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Tooling").columns.add(undefined, [["Per ft²"], ["=C2/B2"], ["=C3/B3"]]);
      await context.sync();
    });
    await workbook.type("Shelf", "B4", 500);
    expect(await value("Plan!A1")).toBe(3500);
    expect(await formula("Shelf!D4")).toBe("=C4/B4");
  });
});
