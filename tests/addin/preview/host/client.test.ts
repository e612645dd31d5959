/** The client's own semantics, as the real library shows them over the emulated host. */
import { afterAll, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";

const workbook = await openWorkbook();
const { Excel, OfficeExtension } = workbook;
afterAll(() => workbook.dispose());

const refusedWith = async (
  batch: (context: Excel.RequestContext) => Promise<unknown>,
): Promise<OfficeExtension.Error> => {
  try {
    await Excel.run(batch);
  } catch (error) {
    return error as OfficeExtension.Error;
  }
  throw new Error("The batch was not refused.");
};

describe("a batch", () => {
  it("adds a sheet, writes values and formulas, and reads them calculated", async () => {
    const read = await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Job");
      sheet.getRange("A1:C3").values = [
        ["Item", "Qty", "Price"],
        ["pads", 2, 3.5],
        ["discs", "4", 1],
      ];
      sheet.getRange("D2:D3").formulas = [["=B2*C2"], ["=B3*C3"]];
      await context.sync();
      const range = sheet.getRange("A1:D3").load("values,formulas,address,valueTypes");
      await context.sync();
      return range.toJSON();
    });
    expect(read.address).toBe("Job!A1:D3");
    expect(read.values).toEqual([
      ["Item", "Qty", "Price", ""],
      ["pads", 2, 3.5, 7],
      ["discs", 4, 1, 4],
    ]);
    expect(read.formulas![1]).toEqual(["pads", 2, 3.5, "=B2*C2"]);
    expect(read.valueTypes![0]).toEqual(["String", "String", "String", "Empty"]);
    expect(read.valueTypes![1]![3]).toBe("Double");
  });

  it("reads values written in the same batch already calculated", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Job");
      sheet.getRange("F1").values = [[6]];
      sheet.getRange("F2").formulas = [["=F1*7"]];
      const product = sheet.getRange("F2").load("values");
      await context.sync();
      expect(product.values).toEqual([[42]]);
    });
  });

  it("keeps what came before a failing action and drops what came after", async () => {
    const error = await refusedWith(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Job");
      sheet.getRange("H1").values = [["before"]];
      context.workbook.worksheets.getItem("Nowhere").delete();
      sheet.getRange("H2").values = [["after"]];
      await context.sync();
    });
    expect(error.code).toBe("ItemNotFound");
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("H1:H2").load("values");
      await context.sync();
      expect(range.values).toEqual([["before"], [""]]);
    });
  });

  it("says where it failed", async () => {
    const error = await refusedWith(async (context) => {
      context.workbook.worksheets.getItem("Nowhere").getRange("A1").values = [[1]];
      await context.sync();
    });
    expect(error).toBeInstanceOf(OfficeExtension.Error);
    expect(error.message).toBe("The requested resource doesn't exist.");
    expect(error.debugInfo.errorLocation).toBe("WorksheetCollection.getItem");
  });
});

describe("loading", () => {
  it("refuses a property that was not loaded", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("A1").load("values");
      expect(() => range.values).toThrow(expect.objectContaining({ code: "PropertyNotLoaded" }));
      await context.sync();
      expect(() => range.formulas).toThrow(expect.objectContaining({ code: "PropertyNotLoaded" }));
    });
  });

  it("loads everything it knows of an object when nothing is named", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getUsedRange();
      range.load();
      await context.sync();
      expect([range.address, range.rowCount, range.columnCount]).toEqual(["Job!A1:H3", 3, 8]);
      expect(range.text[1]![3]).toBe("7");
    });
  });

  it("loads the items of a collection, in order, and lets them be used later", async () => {
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      worksheets.load("items/name,items/position");
      await context.sync();
      expect(worksheets.items.map(({ name, position }) => [name, position])).toEqual([
        ["Sheet1", 0],
        ["Job", 1],
      ]);
      const cell = worksheets.items[1]!.getRange("A2").load("values");
      await context.sync();
      expect(cell.values).toEqual([["pads"]]);
    });
  });

  it("follows paths into nested objects, and gives null where cells differ", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("B2:C3");
      range.format.fill.color = "#FFFF00";
      range.getCell(0, 0).format.font.bold = true;
      range.load("format/fill/color,format/font/bold,format/font/italic");
      await context.sync();
      expect(range.format.fill.color).toBe("#FFFF00");
      expect(range.format.font.bold).toBeNull();
      expect(range.format.font.italic).toBe(false);
    });
  });

  it("gives null for the values of a whole column", async () => {
    await Excel.run(async (context) => {
      const column = context.workbook.worksheets.getItem("Job").getRange("B:B").load("address,values");
      const used = column.getUsedRange().load("address");
      await context.sync();
      expect([column.address, column.values, used.address]).toEqual(["Job!B:B", null, "Job!B1:B3"]);
    });
  });
});

describe("null objects", () => {
  it("say so without being loaded", async () => {
    await Excel.run(async (context) => {
      const missing = context.workbook.worksheets.getItemOrNullObject("Nowhere");
      const known = context.workbook.worksheets.getItemOrNullObject("job");
      const range = missing.getRange("A1").load("values");
      await context.sync();
      expect([missing.isNullObject, known.isNullObject, range.isNullObject]).toEqual([true, false, true]);
    });
  });

  it("refuse to be written to", async () => {
    const error = await refusedWith(async (context) => {
      context.workbook.worksheets.getItemOrNullObject("Nowhere").getRange("A1").values = [[1]];
      await context.sync();
    });
    expect(error.code).toBe("ItemNotFound");
  });

  it("stand for the used range of an empty sheet", async () => {
    await Excel.run(async (context) => {
      const used = context.workbook.worksheets.getItem("Sheet1").getUsedRangeOrNullObject().load("address");
      await context.sync();
      expect(used.isNullObject).toBe(true);
    });
  });
});

describe("ranges", () => {
  it("live on through later syncs of the same run", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("A2");
      await context.sync();
      range.load("values");
      const below = range.getOffsetRange(1, 0).load("values");
      await context.sync();
      expect([range.values, below.values]).toEqual([[["pads"]], [["discs"]]]);
    });
  });

  it("move with their cells while they are held", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Job");
      const range = sheet.getRange("A3").load("address");
      await context.sync();
      sheet.getRange("2:2").insert("Down");
      range.load("address,values");
      await context.sync();
      expect([range.address, range.values]).toEqual(["Job!A4", [["discs"]]]);
      sheet.getRange("2:2").delete("Up");
      await context.sync();
    });
  });

  it("are gone when the run ends", async () => {
    const kept = await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("A2");
      await context.sync();
      return range;
    });
    expect(() => kept.load("values")).toThrow(expect.objectContaining({ code: "InvalidObjectPath" }));
  });

  it("take other ranges as arguments", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Job");
      const first = sheet.getRange("A1");
      const last = sheet.getRange("C3");
      const all = first.getBoundingRect(last).load("address");
      const none = first.getIntersectionOrNullObject(last);
      await context.sync();
      expect([all.address, none.isNullObject]).toEqual(["Job!A1:C3", true]);
    });
  });

  it("are set by a plain object, formats and all", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Job").getRange("J1");
      range.set({ values: [["x"]], format: { wrapText: true, font: { italic: true } } });
      range.load("values,format/wrapText,format/font/italic");
      await context.sync();
      expect([range.values, range.format.wrapText, range.format.font.italic]).toEqual([[["x"]], true, true]);
    });
  });

  it("take more cells than the client sends at once", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Big");
      sheet.getRange("A1:T500").values = Array.from({ length: 500 }, (_, i) =>
        Array.from({ length: 20 }, (_, j) => i * 20 + j),
      );
      const last = sheet.getRange("T500").load("values");
      await context.sync();
      expect(last.values).toEqual([[9999]]);
      sheet.delete();
      await context.sync();
    });
  });

  it("give back what was selected", async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Job").getRange("B2:B3").select();
      const selected = context.workbook.getSelectedRange().load("address");
      const cell = context.workbook.getActiveCell().load("address");
      await context.sync();
      expect([selected.address, cell.address]).toEqual(["Job!B2:B3", "Job!B2"]);
    });
  });
});

describe("what the host does not know", () => {
  it("is refused by name, not remembered", async () => {
    const calls: ((context: Excel.RequestContext) => unknown)[] = [
      (context) => context.workbook.worksheets.getItem("Job").getRange("A1").load("hyperlink"),
      (context) => context.workbook.worksheets.getItem("Job").getRange("A1").showCard(),
      (context) => {
        context.workbook.worksheets.getItem("Job").standardWidth = 9;
      },
      (context) => context.workbook.worksheets.getItem("Job").pivotTables.getCount(),
    ];
    const named = ["Range.hyperlink", "Range.showCard()", "Worksheet.standardWidth =", "Worksheet.pivotTables"];
    for (const [i, call] of calls.entries()) {
      const error = await refusedWith(async (context) => {
        call(context);
        await context.sync();
      });
      expect(error.code).toBe("NotImplemented");
      expect(error.message).toContain(named[i]);
    }
  });
});
