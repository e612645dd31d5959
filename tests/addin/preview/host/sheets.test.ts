/** Sheets: their names, their order, what protects them, how they are printed, and what else the document carries. */
import { afterAll, afterEach, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel } = workbook;
const { write, value, formula, refusal, rangeAt } = cellsOf(workbook);
afterAll(() => workbook.dispose());

afterEach(() =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    for (const sheet of worksheets.items.slice(1)) sheet.delete();
    await context.sync();
  }),
);

const sheetNames = () =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    return worksheets.items.map(({ name }) => name);
  });

describe("a sheet's name", () => {
  it.each(["", "a/b", "a\\b", "a?b", "a*b", "a[b", "a]b", "a:b", "'a", "a'", "History", "x".repeat(32)])(
    "cannot be %j",
    async (name) => {
      const rename = (context: Excel.RequestContext) => {
        context.workbook.worksheets.getFirst().name = name;
      };
      expect(await refusal(rename)).toBe("InvalidArgument");
    },
  );

  it("may hold an apostrophe inside, and 31 characters", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add(`Mill's ${"x".repeat(24)}`);
      const range = sheet.getRange("A1").load("address");
      await context.sync();
      expect(range.address).toBe(`'Mill''s ${"x".repeat(24)}'!A1`);
    });
  });

  it("is taken in any letter case", async () => {
    expect(await refusal((context) => context.workbook.worksheets.add("SHEET1"))).toBe("ItemAlreadyExists");
  });

  it("is followed by formulas when it changes", async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Rates").getRange("A1").values = [[4]];
      await context.sync();
    });
    await write("Sheet1!A1", [["=Rates!A1*2"]]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Rates").name = "Our rates";
      await context.sync();
    });
    expect([await formula("Sheet1!A1"), await value("Sheet1!A1")]).toEqual(["='Our rates'!A1*2", 8]);
    await write("Our rates!A1", [[5]]);
    expect(await value("Sheet1!A1")).toBe(10);
  });
});

describe("sheets", () => {
  it("are numbered when no name is given, ordered, hidden and counted", async () => {
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      const second = worksheets.add();
      worksheets.add("Last");
      second.position = 0;
      await context.sync();
      expect(await sheetNames()).toEqual(["Sheet2", "Sheet1", "Last"]);
      worksheets.getItem("Last").visibility = "Hidden";
      const all = worksheets.getCount();
      const visible = worksheets.getCount(true);
      await context.sync();
      expect([all.value, visible.value]).toEqual([3, 2]);
      second.position = 2;
      await context.sync();
    });
  });

  it("cannot all be deleted or hidden", async () => {
    const hide = (context: Excel.RequestContext) => {
      context.workbook.worksheets.getFirst().visibility = "Hidden";
    };
    expect(await refusal((context) => context.workbook.worksheets.getFirst().delete())).toBe("InvalidOperation");
    expect(await refusal(hide)).toBe("InvalidOperation");
  });

  it("leave #REF! in formulas when they go", async () => {
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Rates").getRange("A1").values = [[4]];
      await context.sync();
    });
    await write("Sheet1!A1", [["=Rates!A1*2"]]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Rates").delete();
      await context.sync();
    });
    expect([await formula("Sheet1!A1"), await value("Sheet1!A1")]).toEqual(["=#REF!*2", "#REF!"]);
  });

  it("are copied with their cells, formats and own names", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Plan");
      sheet.getRange("A1:B1").formulas = [[3, "=Rate*2"]];
      sheet.getRange("A1").format.font.bold = true;
      sheet.names.add("Rate", sheet.getRange("A1"));
      await context.sync();
      const copy = sheet.copy("End").load("name");
      await context.sync();
      expect(copy.name).toBe("Plan (2)");
      copy.getRange("A1").values = [[10]];
      const range = copy.getRange("A1:B1").load("values");
      const first = copy.getRange("A1").load("format/font/bold");
      await context.sync();
      expect([range.values, first.format.font.bold]).toEqual([[[10, 20]], true]);
    });
    expect(await value("Plan!B1")).toBe(6);
  });

  it("freeze panes and show or hide gridlines", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("View");
      sheet.freezePanes.freezeAt(sheet.getRange("A1:B3"));
      sheet.showGridlines = false;
      await context.sync();
      sheet.load("showGridlines");
      const frozen = sheet.freezePanes.getLocationOrNullObject().load("address");
      await context.sync();
      expect([sheet.showGridlines, frozen.address]).toEqual([false, "View!A1:B3"]);
      sheet.freezePanes.unfreeze();
      const none = sheet.freezePanes.getLocationOrNullObject();
      await context.sync();
      expect(none.isNullObject).toBe(true);
    });
  });
});

describe("a protected sheet", () => {
  const protect = (options?: Excel.WorksheetProtectionOptions, password?: string) =>
    Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Locked");
      sheet.getRange("A1:B1").values = [["price", 10]];
      sheet.getRange("B1").format.protection.locked = false;
      sheet.protection.protect(options, password);
      sheet.protection.load("protected");
      await context.sync();
      expect(sheet.protection.protected).toBe(true);
    });

  it("refuses what would change it, except in cells that are not locked", async () => {
    await protect();
    const sheet = (context: Excel.RequestContext) => context.workbook.worksheets.getItem("Locked");
    const changes: ((context: Excel.RequestContext) => unknown)[] = [
      (context) => (sheet(context).getRange("A1").values = [[1]]),
      (context) => (sheet(context).getRange("A1:B1").values = [[1, 2]]),
      (context) => (sheet(context).getRange("B1").format.font.bold = true),
      (context) => sheet(context).getRange("A1").clear(),
      (context) => sheet(context).getRange("1:1").insert("Down"),
      (context) => sheet(context).tables.add("A1:B2", true),
      (context) => sheet(context).charts.add("ColumnClustered", sheet(context).getRange("A1:B1")),
    ];
    for (const change of changes) expect(await refusal(change)).toBe("AccessDenied");
    await write("Locked!B1", [[12]]);
    expect([await value("Locked!A1"), await value("Locked!B1")]).toEqual(["price", 12]);
  });

  it("allows what its options allow", async () => {
    await protect({ allowFormatCells: true });
    await Excel.run(async (context) => {
      rangeAt(context, "Locked!A1").format.font.bold = true;
      await context.sync();
    });
  });

  it("opens with its password only", async () => {
    await protect(undefined, "grit");
    const unprotect = (password?: string) => (context: Excel.RequestContext) =>
      context.workbook.worksheets.getItem("Locked").protection.unprotect(password);
    expect([await refusal(unprotect()), await refusal(unprotect("Grit"))]).toEqual(["AccessDenied", "AccessDenied"]);
    await Excel.run(async (context) => {
      unprotect("grit")(context);
      await context.sync();
    });
    await write("Locked!A1", [["open"]]);
    expect(await value("Locked!A1")).toBe("open");
  });
});

describe("the printed page", () => {
  it("keeps orientation, fit, area, titles, margins and footers", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Print");
      const page = sheet.pageLayout;
      page.orientation = "Landscape";
      page.zoom = { horizontalFitToPages: 1 };
      page.setPrintArea("A1:F20");
      page.setPrintTitleRows("$3:$3");
      page.setPrintMargins("Inches", { left: 0.5 });
      page.headersFooters.defaultForAllPages.centerFooter = "&P of &N";
      await context.sync();
      page.load("orientation,zoom,leftMargin");
      page.headersFooters.defaultForAllPages.load("centerFooter");
      const area = page.getPrintArea().load("address");
      const titles = page.getPrintTitleRowsOrNullObject().load("address");
      const none = page.getPrintTitleColumnsOrNullObject();
      await context.sync();
      // hand: half an inch is 36 points.
      expect([page.orientation, page.zoom, page.leftMargin]).toEqual(["Landscape", { horizontalFitToPages: 1 }, 36]);
      expect([area.address, titles.address, none.isNullObject]).toEqual(["Print!A1:F20", "Print!3:3", true]);
      expect(page.headersFooters.defaultForAllPages.centerFooter).toBe("&P of &N");
    });
  });

  it("refuses what the page does not have", async () => {
    const page = (context: Excel.RequestContext) => context.workbook.worksheets.getFirst().pageLayout;
    expect(await refusal((context) => (page(context).orientation = "Sideways" as never))).toBe("InvalidArgument");
    expect(await refusal((context) => (page(context).zoom = { scale: 500 }))).toBe("InvalidArgument");
    expect(await refusal((context) => page(context).setPrintTitleRows("A1:B2"))).toBe("InvalidArgument");
  });
});

describe("rules for what may be typed", () => {
  it("are kept by cell, and split when a part gets another rule", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Rules");
      const rule = (address: string) => sheet.getRange(address).dataValidation;
      rule("A1:A4").rule = { list: { inCellDropDown: true, source: "us,metric" } };
      rule("A1:A4").errorAlert = { showAlert: true, style: "Warning", title: "Units", message: "us or metric" };
      rule("A2").rule = { decimal: { formula1: 0, formula2: 1, operator: "Between" } };
      await context.sync();
      const [first, second, all, none] = ["A1", "A2", "A1:A4", "B1"].map((address) =>
        rule(address).load("type,rule,errorAlert"),
      );
      await context.sync();
      expect(first!.rule).toEqual({ list: { inCellDropDown: true, source: "us,metric" } });
      expect(first!.errorAlert).toMatchObject({ style: "Warning", message: "us or metric" });
      expect(second!.rule).toEqual({ decimal: { formula1: 0, formula2: 1, operator: "Between" } });
      expect([first!.type, second!.type, all!.type, none!.type]).toEqual(["List", "Decimal", "MixedCriteria", "None"]);
      rule("A1:A4").clear();
      all!.load("type");
      await context.sync();
      expect(all!.type).toBe("None");
    });
  });

  it("are refused when they are no rules", async () => {
    const set = (rule: unknown) => (context: Excel.RequestContext) => {
      rangeAt(context, "A1").dataValidation.rule = rule as Excel.DataValidationRule;
    };
    for (const rule of [
      {},
      { list: { source: "" } },
      { list: { source: "x".repeat(256) } },
      { decimal: { formula1: 1 } },
    ]) {
      expect(await refusal(set(rule))).toBe("InvalidArgument");
    }
  });
});

describe("conditional formats", () => {
  it("are added, read, ordered and cleared", async () => {
    await Excel.run(async (context) => {
      const range = context.workbook.worksheets.add("Checks").getRange("B2:B9");
      const first = range.conditionalFormats.add("CellValue");
      first.cellValue.format.font.color = "#C00000";
      first.cellValue.rule = { formula1: "=3", operator: "GreaterThan" };
      const second = range.conditionalFormats.add("Custom");
      second.custom.rule.formula = '=B2="ok"';
      second.custom.format.fill.color = "#EAF2F0";
      await context.sync();
      range.conditionalFormats.load("items/type,items/priority");
      first.cellValue.load("rule");
      first.cellValue.format.font.load("color");
      const other = first.customOrNullObject;
      await context.sync();
      expect(range.conditionalFormats.items.map(({ type, priority }) => [type, priority])).toEqual([
        ["Custom", 0],
        ["CellValue", 1],
      ]);
      expect([first.cellValue.rule, first.cellValue.format.font.color, other.isNullObject]).toEqual([
        { formula1: "=3", operator: "GreaterThan" },
        "#C00000",
        true,
      ]);
      range.clear("Formats");
      const count = range.conditionalFormats.getCount();
      await context.sync();
      expect(count.value).toBe(0);
    });
  });
});

describe("columns", () => {
  it("are hidden and shown whole, and say so of any of their cells", async () => {
    await Excel.run(async (context) => {
      const view = context.workbook.worksheets.add("Hidden columns");
      const block = view.getRange("C5:D9");
      block.getEntireColumn().columnHidden = true;
      const inside = view.getRange("C1").load("columnHidden");
      const across = view.getRange("B1:C1").load("columnHidden");
      await context.sync();
      expect([inside.columnHidden, across.columnHidden]).toEqual([true, null]);
      block.columnHidden = false;
      inside.load("columnHidden");
      await context.sync();
      expect(inside.columnHidden).toBe(false);
    });
  });

  it("keep the width they were given in the same batch as others, and when they are hidden in it", async () => {
    await Excel.run(async (context) => {
      const view = context.workbook.worksheets.add("Widths");
      view.getRange("A:A").format.columnWidth = 96;
      view.getRange("B:C").format.columnWidth = 48;
      view.getRange("B:B").format.columnWidth = 144;
      view.getRange("D:D").format.columnWidth = 72;
      view.getRange("D:D").columnHidden = true;
      view.getRange("4:4").format.rowHeight = 30;
      view.getRange("A:A").insert("Right");
      await context.sync();
      const formats = ["B1", "C1", "D1"].map((cell) => view.getRange(cell).format.load("columnWidth"));
      const row = view.getRange("B4").format.load("rowHeight");
      view.getRange("E:E").columnHidden = false;
      const shown = view.getRange("E1").format.load("columnWidth");
      await context.sync();
      expect([...formats.map(({ columnWidth }) => columnWidth), shown.columnWidth]).toEqual([96, 144, 48, 72]);
      expect(row.rowHeight).toBe(30);
    });
  });
});

describe("the document", () => {
  it("keeps settings", async () => {
    await Excel.run(async (context) => {
      const { settings } = context.workbook;
      settings.add("plan", { units: "us", stages: [16, 30] });
      await context.sync();
      const setting = settings.getItem("plan").load("key,value");
      const missing = settings.getItemOrNullObject("none");
      await context.sync();
      expect([setting.key, setting.value, missing.isNullObject]).toEqual([
        "plan",
        { units: "us", stages: [16, 30] },
        true,
      ]);
    });
  });

  it("keeps a setting between batches until it is set anew or deleted", async () => {
    const mapping = {
      version: 1,
      mapping: { job: "Job no.", quotedPrice: "Quoted price ($)" },
      done: true,
      none: null,
    };
    await Excel.run(async (context) => {
      context.workbook.settings.add("Example.jobs", mapping);
      await context.sync();
    });
    await Excel.run(async (context) => {
      const { settings } = context.workbook;
      settings.load("items/key,items/value");
      await context.sync();
      const kept = settings.items.find(({ key }) => key === "Example.jobs");
      expect(kept?.value).toEqual(mapping);
      settings.add("Example.jobs", { version: 2 });
      const again = settings.getItemOrNullObject("Example.jobs").load("value");
      await context.sync();
      expect(again.value).toEqual({ version: 2 });
      again.delete();
      const gone = settings.getItemOrNullObject("Example.jobs").load("value");
      await context.sync();
      expect(gone.isNullObject).toBe(true);
    });
    expect(await refusal((context) => context.workbook.settings.getItem("Example.jobs").delete())).toBe("ItemNotFound");
    expect(await refusal((context) => context.workbook.settings.add("", 1))).toBe("InvalidArgument");
  });

  it("refuses to take another calculation mode", async () => {
    const manual = (context: Excel.RequestContext) => {
      context.workbook.application.calculationMode = "Manual";
    };
    expect(await refusal(manual)).toBe("NotImplemented");
  });
});
