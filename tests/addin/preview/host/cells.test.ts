/** What cells take and show: entry, formats, copying, moving, spilling. */
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel } = workbook;
const { write, values, value, formula, text, format, refusal, rangeAt } = cellsOf(workbook);
afterAll(() => workbook.dispose());

beforeEach(() =>
  Excel.run(async (context) => {
    context.workbook.worksheets.getActiveWorksheet().getRange().clear();
    await context.sync();
  }),
);

describe("the format of many cells at once", () => {
  const at = async (address: string) => [await value(address), await format(address)];

  it("is each cell's, whatever is written into some of them before, with or after it", async () => {
    await write("A10", [[0.5]]);
    await Excel.run(async (context) => {
      rangeAt(context, "A20").values = [[0.25]];
      rangeAt(context, "A20").format.font.bold = true;
      rangeAt(context, "A1:B400").numberFormat = "0%" as any;
      rangeAt(context, "A30").values = [[0.75]];
      rangeAt(context, "A40").format.font.bold = true;
      await context.sync();
    });
    expect(await at("A1")).toEqual(["", "0%"]);
    expect(await at("B400")).toEqual(["", "0%"]);
    expect(await at("A401")).toEqual(["", "General"]);
    expect([await at("A10"), await at("A20"), await at("A30")]).toEqual([
      [0.5, "0%"],
      [0.25, "0%"],
      [0.75, "0%"],
    ]);
    await Excel.run(async (context) => {
      const fonts = ["A20", "A30", "A40"].map((address) => rangeAt(context, address).format.font.load("bold"));
      await context.sync();
      expect(fonts.map(({ bold }) => bold)).toEqual([true, false, true]);
    });
    expect(await at("A40")).toEqual(["", "0%"]);
  });

  it("gives way to a later one, and leaves what that does not say", async () => {
    await Excel.run(async (context) => {
      rangeAt(context, "A1:B400").numberFormat = "0%" as any;
      rangeAt(context, "B1:C400").format.font.italic = true;
      rangeAt(context, "B200:B500").numberFormat = "0.0" as any;
      await context.sync();
      const [percent, both, plain] = ["A200", "B200", "C200"].map((address) =>
        rangeAt(context, address).load("numberFormat,format/font/italic"),
      );
      await context.sync();
      expect([percent!.numberFormat[0]![0], percent!.format.font.italic]).toEqual(["0%", false]);
      expect([both!.numberFormat[0]![0], both!.format.font.italic]).toEqual(["0.0", true]);
      expect([plain!.numberFormat[0]![0], plain!.format.font.italic]).toEqual(["General", true]);
    });
  });

  it("of text keeps what is written after it as text", async () => {
    await Excel.run(async (context) => {
      rangeAt(context, "A1:A400").numberFormat = "@" as any;
      rangeAt(context, "A7").values = [["0012"]];
      await context.sync();
    });
    expect(await value("A7")).toBe("0012");
  });

  it("makes the rows taller that its larger text needs", async () => {
    await Excel.run(async (context) => {
      rangeAt(context, "A5").values = [["tall"]];
      rangeAt(context, "A1:A400").format.font.size = 30;
      await context.sync();
      const [tall, blank] = ["A5", "A401"].map((address) => rangeAt(context, address).format.load("rowHeight"));
      await context.sync();
      expect(tall!.rowHeight).toBeGreaterThan(blank!.rowHeight);
    });
  });
});

describe("an entry", () => {
  it.each([
    // written, value, text, number format
    ["12", 12, "12", "General"],
    [" 12 ", 12, "12", "General"],
    ["1,234", 1234, "1,234", "#,##0"],
    ["20%", 0.2, "20%", "0%"],
    ["12.5%", 0.125, "12.50%", "0.00%"],
    ["$5", 5, "$5", "$#,##0"],
    ["1e3", 1000, "1.00E+03", "0.00E+00"],
    ["true", true, "TRUE", "General"],
    ["12 ft", "12 ft", "12 ft", "General"],
    ["'12", "12", "12", "General"],
    ["'=A1", "=A1", "=A1", "General"],
    ["=", "=", "=", "General"],
    ["#N/A", "#N/A", "#N/A", "General"],
  ])("of %j is %j", async (written, expected, shown, pattern) => {
    await write("A1", [[written]]);
    expect([await value("A1"), await text("A1"), await format("A1")]).toEqual([expected, shown, pattern]);
  });

  it("counts dates in days since 1900, as Excel's serial numbers do", async () => {
    // hand: 1 January 2000 is day 36526 of the 1900 system, 60 of which is a day that never was.
    await write("A1", [["2000-01-01"]]);
    expect(await value("A1")).toBe(36526);
  });

  it("stays text where the cell's format is text", async () => {
    await Excel.run(async (context) => {
      const cell = rangeAt(context, "A1");
      cell.numberFormat = [["@"]];
      cell.values = [["0012"]];
      await context.sync();
    });
    expect([await value("A1"), await formula("A1")]).toEqual(["0012", "0012"]);
  });

  it("becomes text there whatever it is, and stays what it is where the format comes after it", async () => {
    // Excel's help on the format Text: content is a text even when a number is typed, exactly as typed.
    await Excel.run(async (context) => {
      const [late, early] = [rangeAt(context, "A1:C1"), rangeAt(context, "A2:C2")];
      late.numberFormat = [["@", "@", "@"]];
      late.formulas = [[163, true, "=1+1"]];
      early.formulas = [[163, true, "=1+1"]];
      await context.sync();
      early.numberFormat = [["@", "@", "@"]];
      await context.sync();
    });
    expect(await values("A1:C2")).toEqual([
      ["163", "TRUE", "=1+1"],
      [163, true, 2],
    ]);
  });

  it("of null leaves the cell as it is, and of an empty text clears it", async () => {
    await write("A1:C1", [[1, 2, 3]]);
    await write("A1:C1", [[null, "", 9]]);
    expect(await values("A1:C1")).toEqual([[1, "", 9]]);
  });

  it("of a single value fills the block", async () => {
    await Excel.run(async (context) => {
      rangeAt(context, "A1:B2").values = 7 as never;
      await context.sync();
    });
    expect(await values("A1:B2")).toEqual([
      [7, 7],
      [7, 7],
    ]);
  });

  it("is refused whole when its shape is not the range's", async () => {
    const code = await refusal((context) => {
      rangeAt(context, "A1:B1").values = [[1, 2, 3]];
    });
    expect(code).toBe("InvalidArgument");
    expect(await values("A1:C1")).toEqual([["", "", ""]]);
  });

  it("is refused when a formula does not close its brackets or quotes", async () => {
    for (const broken of ["=SUM(A1", '="open', "=A1)", "=Table[x"]) {
      expect(await refusal((context) => (rangeAt(context, "A1").formulas = [[broken]]))).toBe("InvalidArgument");
    }
  });
});

describe("formats", () => {
  it("show a value by its number format, without changing it", async () => {
    await Excel.run(async (context) => {
      const range = rangeAt(context, "A1:A3");
      range.values = [[1234.567], [0.256], [-3]];
      range.numberFormat = [["#,##0.00"], ["0.0%"], ["0;(0)"]];
      await context.sync();
      range.load("text,values");
      await context.sync();
      expect(range.text).toEqual([["1,234.57"], ["25.6%"], ["(3)"]]);
      expect(range.values).toEqual([[1234.567], [0.256], [-3]]);
    });
  });

  it("are read back as they were set, borders and indents too", async () => {
    await Excel.run(async (context) => {
      const range = rangeAt(context, "B2:C4");
      const { format } = range;
      format.fill.color = "#eaf2f0";
      format.font.color = "red";
      format.font.size = 14;
      format.font.underline = "Single";
      format.horizontalAlignment = "Center";
      format.verticalAlignment = "Top";
      format.wrapText = true;
      format.indentLevel = 2;
      const bottom = format.borders.getItem("EdgeBottom");
      bottom.style = "Continuous";
      bottom.color = "#2F6B5E";
      bottom.weight = "Medium";
      await context.sync();
      range.load("format/horizontalAlignment,format/verticalAlignment,format/wrapText,format/indentLevel");
      range.load("format/fill/color,format/font/color,format/font/size,format/font/underline");
      bottom.load("style,color,weight");
      const top = format.borders.getItem("EdgeTop").load("style");
      await context.sync();
      expect(range.format.toJSON()).toMatchObject({
        horizontalAlignment: "Center",
        verticalAlignment: "Top",
        wrapText: true,
        indentLevel: 2,
        fill: { color: "#EAF2F0" },
        font: { color: "#FF0000", size: 14, underline: "Single" },
      });
      expect([bottom.style, bottom.color, bottom.weight, top.style]).toEqual([
        "Continuous",
        "#2F6B5E",
        "Medium",
        "None",
      ]);
    });
  });

  it("of a whole column reach cells that are written later", async () => {
    await Excel.run(async (context) => {
      const column = rangeAt(context, "D:D");
      column.format.font.bold = true;
      column.numberFormat = "0.00" as never;
      await context.sync();
      const cell = rangeAt(context, "D40");
      cell.values = [[1.5]];
      cell.load("text,format/font/bold");
      await context.sync();
      expect([cell.text, cell.format.font.bold]).toEqual([[["1.50"]], true]);
    });
  });

  it("widths and heights are in points: a standard column has 48", async () => {
    await Excel.run(async (context) => {
      const range = rangeAt(context, "F1:G1").load("format/columnWidth,format/rowHeight");
      await context.sync();
      expect([range.format.columnWidth, range.format.rowHeight]).toEqual([48, 15]);
      rangeAt(context, "F:F").format.columnWidth = 96;
      range.load("format/columnWidth");
      const second = rangeAt(context, "G1").load("left");
      const first = rangeAt(context, "F1").load("left,width");
      await context.sync();
      expect(range.format.columnWidth).toBeNull();
      expect([first.width, second.left - first.left]).toEqual([96, 96]);
      rangeAt(context, "F:F").format.columnWidth = 48;
      await context.sync();
    });
  });

  it("make a row higher when its text is larger, unless its height was set", async () => {
    await Excel.run(async (context) => {
      const large = rangeAt(context, "A50:A51");
      large.values = [["Title"], ["Title"]];
      rangeAt(context, "A51").format.rowHeight = 18;
      large.format.font.size = 24;
      await context.sync();
      const grown = rangeAt(context, "A50").load("format/rowHeight");
      const fixed = rangeAt(context, "A51").load("format/rowHeight");
      await context.sync();
      expect(grown.format.rowHeight).toBeGreaterThanOrEqual(24);
      expect(fixed.format.rowHeight).toBe(18);
    });
  });

  it("are cleared apart from contents, and contents apart from formats", async () => {
    await Excel.run(async (context) => {
      const range = rangeAt(context, "A1:A2");
      range.values = [[1], [2]];
      range.format.font.bold = true;
      rangeAt(context, "A1").clear("Contents");
      rangeAt(context, "A2").clear("Formats");
      const first = rangeAt(context, "A1").load("values,format/font/bold");
      const second = rangeAt(context, "A2").load("values,format/font/bold");
      await context.sync();
      expect([first.values, first.format.font.bold]).toEqual([[[""]], true]);
      expect([second.values, second.format.font.bold]).toEqual([[[2]], false]);
    });
  });
});

describe("cells that move", () => {
  it("take formulas along, and formulas elsewhere follow", async () => {
    await write("A1:B3", [
      [1, "=A1*10"],
      [2, "=A2*10"],
      [3, "=SUM(A1:A3)"],
    ]);
    await write("D1", [["=B3+A2"]]);
    await Excel.run(async (context) => {
      rangeAt(context, "A2:B2").insert("Down");
      await context.sync();
    });
    expect(await values("A1:B4")).toEqual([
      [1, 10],
      ["", ""],
      [2, 20],
      [3, 6],
    ]);
    expect([await formula("B3"), await formula("B4"), await formula("D1")]).toEqual([
      "=A3*10",
      "=SUM(A1:A4)",
      "=B4+A3",
    ]);
  });

  it("leave #REF! where what was referred to is deleted", async () => {
    await write("A1:A3", [[1], [2], [3]]);
    await write("C1:C2", [["=A2"], ["=SUM(A1:A3)"]]);
    await Excel.run(async (context) => {
      rangeAt(context, "A2").delete("Up");
      await context.sync();
    });
    expect(await formula("C1")).toBe("=#REF!");
    expect([await value("C1"), await value("C2")]).toEqual(["#REF!", 4]);
  });
});

describe("blocks", () => {
  it("are found by what surrounds them", async () => {
    await write("B2:C4", [
      [1, ""],
      ["", 2],
      [3, ""],
    ]);
    await Excel.run(async (context) => {
      const region = rangeAt(context, "B2").getSurroundingRegion().load("address");
      const used = context.workbook.worksheets.getActiveWorksheet().getUsedRange(true).load("address");
      await context.sync();
      expect([region.address, used.address]).toEqual(["Sheet1!B2:C4", "Sheet1!B2:C4"]);
    });
  });

  it("are found with what a formula fills", async () => {
    await write("B2:C3", [
      ["Job", "Hours"],
      ["J1", 8],
    ]);
    await write("F3", [["={1;2;3}"]]);
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getActiveWorksheet();
      const region = sheet.getRange("F5").getSurroundingRegion().load("address");
      const used = sheet.getRange("E1:G20").getUsedRange(true).load("address");
      const column = sheet.getRange("B:B").getUsedRange(true).load("address");
      const blank = sheet.getRange("D1:D9").getUsedRangeOrNullObject(true).load("address");
      await context.sync();
      expect([region.address, used.address, column.address]).toEqual(["Sheet1!F3:F5", "Sheet1!F3:F5", "Sheet1!B2:B3"]);
      expect(blank.isNullObject).toBe(true);
    });
    // Source: Office.js reference, Range.getUsedRange and Worksheet.getUsedRange.
    expect(await refusal((context) => rangeAt(context, "D1:D9").getUsedRange(true).load("address"))).toBe(
      "ItemNotFound",
    );
    await Excel.run(async (context) => {
      const blank = context.workbook.worksheets.add("Blank");
      const used = blank.getUsedRange().load("address");
      await context.sync();
      expect(used.address).toBe("Blank!A1");
      blank.delete();
      await context.sync();
    });
  });

  it("reach past the rows that the grid holds", async () => {
    await write("A2000", [[7]]);
    await write("B1", [["=SUM(A1:A5000)"]]);
    expect(await value("B1")).toBe(7);
  });

  it("are refused beyond the sheet", async () => {
    expect(await refusal((context) => rangeAt(context, "A1").getOffsetRange(-1, 0).load("address"))).toBe(
      "InvalidArgument",
    );
    expect(await refusal((context) => rangeAt(context, "A1048577").load("address"))).toBe("InvalidArgument");
  });
});

describe("a formula that spills", () => {
  it("shows its block, and says which it is", async () => {
    await write("A1:A3", [[3], [1], [2]]);
    await write("C1", [["=A1:A3*10"]]);
    expect(await values("C1:C3")).toEqual([[30], [10], [20]]);
    await Excel.run(async (context) => {
      const block = rangeAt(context, "C1").getSpillingToRange().load("address");
      const parent = rangeAt(context, "C3").getSpillParent().load("address");
      const none = rangeAt(context, "A1").getSpillParentOrNullObject();
      const formulas = rangeAt(context, "C1:C2").load("formulas,hasSpill");
      await context.sync();
      expect([block.address, parent.address, none.isNullObject]).toEqual(["Sheet1!C1:C3", "Sheet1!C1", true]);
      expect([formulas.formulas, formulas.hasSpill]).toEqual([[["=A1:A3*10"], [10]], true]);
    });
  });

  it("gives #SPILL! when a cell is in the way, and spills again when it is cleared", async () => {
    await write("A1:A3", [[3], [1], [2]]);
    await write("C2", [["mine"]]);
    await write("C1", [["=A1:A3*10"]]);
    expect(await values("C1:C3")).toEqual([["#SPILL!"], ["mine"], [""]]);
    await write("C2", [[""]]);
    expect(await values("C1:C3")).toEqual([[30], [10], [20]]);
    await write("C3", [["late"]]);
    expect(await values("C1:C3")).toEqual([["#SPILL!"], [""], ["late"]]);
  });

  it("cannot spill inside a table", async () => {
    await write("A1:B3", [
      ["x", "y"],
      [1, ""],
      [2, ""],
    ]);
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getActiveWorksheet();
      const table = sheet.tables.add("A1:B3", true);
      sheet.getRange("B2").formulas = [["=A2:A3*10"]];
      const body = table.getDataBodyRange().load("values");
      await context.sync();
      expect(body.values).toEqual([
        [1, "#SPILL!"],
        [2, ""],
      ]);
      table.convertToRange();
      await context.sync();
    });
  });
});
