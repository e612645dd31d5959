/** Filters of sheets and tables, and what they do to what is written. */
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const workbook = await openWorkbook();
const { Excel } = workbook;
const { write, values, refusal } = cellsOf(workbook);
afterAll(() => workbook.dispose());

const on = (work: (sheet: Excel.Worksheet, context: Excel.RequestContext) => unknown) =>
  Excel.run(async (context) => {
    await work(context.workbook.worksheets.getItem("List"), context);
    await context.sync();
  });

const hiddenRows = (first: number, last: number) =>
  Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem("List");
    const rows = Array.from({ length: last - first + 1 }, (_, i) => sheet.getRange(`A${first + i}`).load("rowHidden"));
    await context.sync();
    return rows.flatMap((row, i) => (row.rowHidden ? [first + i] : []));
  });

/** A fresh sheet "List" with a heading and five rows. */
beforeEach(() =>
  Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    const known = worksheets.getItemOrNullObject("List");
    await context.sync();
    if (!known.isNullObject) known.delete();
    worksheets.add("List").getRange("A1:B6").values = [
      ["Bond", "Life"],
      ["metal", 100],
      ["resin", 200],
      ["metal", 300],
      ["", 400],
      ["resin", 500],
    ];
    await context.sync();
  }),
);

const METAL: Excel.FilterCriteria = { filterOn: "Values", values: ["metal"] };

describe("the filter of a sheet", () => {
  it("leaves its rows out of a subtotal of what is shown", async () => {
    await write("List!D1", [["=SUBTOTAL(109,B2:B6)"]]);
    expect(await values("List!D1")).toEqual([[1500]]);
    await on((sheet) => sheet.autoFilter.apply("A1:B6", 0, METAL));
    await on((sheet) => {
      sheet.getRange("B2").values = [[150]];
    });
    expect(await values("List!D1")).toEqual([[450]]);
  });

  it("hides the rows that it leaves out, and shows them when its criteria or all of it go", async () => {
    await on((sheet) => sheet.autoFilter.apply("A1:B6", 0, METAL));
    expect(await hiddenRows(1, 8)).toEqual([3, 5, 6]);
    await on((sheet) => sheet.autoFilter.apply("A1:B6", 1, { filterOn: "Custom", criterion1: ">200" }));
    expect(await hiddenRows(1, 8)).toEqual([2, 3, 5, 6]);
    await on((sheet) => sheet.autoFilter.clearCriteria());
    expect(await hiddenRows(1, 8)).toEqual([]);
    await on(async (sheet, context) => {
      const range = sheet.autoFilter.getRange().load("address");
      sheet.autoFilter.load("enabled,isDataFiltered");
      await context.sync();
      expect([range.address, sheet.autoFilter.enabled, sheet.autoFilter.isDataFiltered]).toEqual([
        "List!A1:B6",
        true,
        false,
      ]);
      sheet.autoFilter.remove();
      const gone = sheet.autoFilter.getRangeOrNullObject();
      await context.sync();
      expect(gone.isNullObject).toBe(true);
    });
  });

  it("moves with its cells", async () => {
    await on((sheet) => {
      sheet.autoFilter.apply("A1:B6", 0, METAL);
      sheet.getRange("1:2").insert("Down");
    });
    await on(async (sheet, context) => {
      const range = sheet.autoFilter.getRange().load("address");
      await context.sync();
      expect(range.address).toBe("List!A3:B8");
    });
  });

  it("is refused on a protected sheet, and where it asks for what this host does not know", async () => {
    const top = { filterOn: "TopItems", criterion1: "3" } as const;
    expect(await refusal(({ workbook }) => workbook.worksheets.getItem("List").autoFilter.apply("A1:B6", 1, top))).toBe(
      "NotImplemented",
    );
    await on((sheet) => sheet.protection.protect());
    expect(
      await refusal(({ workbook }) => workbook.worksheets.getItem("List").autoFilter.apply("A1:B6", 0, METAL)),
    ).toBe("AccessDenied");
  });
});

it("a table's filter hides rows of its own, until it is cleared or the table is made plain cells", async () => {
  const table = ({ workbook }: Excel.RequestContext) => workbook.tables.getItem("Tools_filtered");
  await on((sheet) => {
    sheet.tables.add("A1:B6", true).name = "Tools_filtered";
  });
  const filter = () => on((_, context) => table(context).columns.getItem("Bond").filter.applyValuesFilter(["resin"]));
  await filter();
  expect(await hiddenRows(1, 8)).toEqual([2, 4, 5]);
  await on((_, context) => table(context).columns.getItem("Bond").filter.clear());
  expect(await hiddenRows(1, 8)).toEqual([]);
  await filter();
  await on((_, context) => table(context).clearFilters());
  expect(await hiddenRows(1, 8)).toEqual([]);
  await filter();
  await on((_, context) => table(context).convertToRange());
  expect(await hiddenRows(1, 8)).toEqual([]);
});

describe("what is written where a filter hides rows", () => {
  /** As in xlwings#747: values 1, 4 and 5 in rows 1, 4 and 5, and rows 2 and 3, which are blank, hidden. */
  async function asReported(hide: (sheet: Excel.Worksheet) => void) {
    await write("List!A1:B6", [
      ["", ""],
      ["", ""],
      ["", ""],
      ["", ""],
      ["", ""],
      ["", ""],
    ]);
    await write("List!A1:A5", [[1], [""], [""], [4], [5]]);
    await on(hide);
    await write("List!A1:A5", [[5], [4], [3], [2], [1]]);
    return (await values("List!A1:A5")).flat();
  }

  it("takes the first value into every row that is shown, as was reported of Excel (xlwings#747, office-js#224)", async () => {
    const found = await asReported((sheet) =>
      sheet.autoFilter.apply("A1:A5", 0, { filterOn: "Values", values: ["4", "5"] }),
    );
    expect(found).toEqual([5, "", "", 5, 5]);
  });

  it("is all written where the rows are hidden by hand (xlwings#679)", async () => {
    expect(
      await asReported((sheet) => {
        sheet.getRange("2:3").rowHidden = true;
      }),
    ).toEqual([5, 4, 3, 2, 1]);
  });

  it("is written to a single cell, hidden or not: reports get round the loss cell by cell", async () => {
    await on((sheet) => sheet.autoFilter.apply("A1:B6", 0, METAL));
    await write("List!B3", [[7]]);
    await write("List!B4", [[8]]);
    expect((await values("List!B1:B6")).flat()).toEqual(["Life", 100, 7, 8, 400, 500]);
    expect(await hiddenRows(1, 8)).toEqual([3, 5, 6]);
  });
});
