/** Merged cells, a locked structure, the looks of many cells at once, and cells that would fall off the sheet. */
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, beforeEach, expect, it } from "vitest";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

let workbook: Awaited<ReturnType<typeof openWorkbook>>;
let cells: ReturnType<typeof cellsOf>;
beforeAll(async () => {
  workbook = await openWorkbook();
  cells = cellsOf(workbook);
});
afterAll(() => workbook.dispose());

let sheetName: string;
let next = 1;
/** Each test has a sheet of its own. */
beforeEach(async () => {
  sheetName = `Test ${next++}`;
  await workbook.Excel.run(async (context) => {
    context.workbook.worksheets.add(sheetName).activate();
    await context.sync();
  });
});

const on = <T>(work: (sheet: Excel.Worksheet, context: Excel.RequestContext) => T | Promise<T>): Promise<T> =>
  workbook.Excel.run(async (context) => {
    const result = await work(context.workbook.worksheets.getItem(sheetName), context);
    await context.sync();
    return result;
  });

const merged = (address: string) =>
  on(async (sheet, context) => {
    const areas = sheet.getRange(address).getMergedAreasOrNullObject().load("address,areaCount");
    await context.sync();
    return areas.isNullObject ? null : areas.address.replaceAll(/'?Test \d+'?!/g, "");
  });

it("merging keeps the first cell's content, and only that", async () => {
  await cells.write(`${sheetName}!A1:B2`, [
    [1, 2],
    [3, 4],
  ]);
  await on((sheet) => sheet.getRange("A1:B2").merge());
  expect(await cells.values(`${sheetName}!A1:B2`)).toEqual([
    [1, ""],
    ["", ""],
  ]);
  expect(await merged("B2:C9")).toBe("A1:B2");
  expect(await merged("C1:C9")).toBeNull();
});

it("merging across makes one merged cell a row, and unmerging frees whatever it touches", async () => {
  await on((sheet) => sheet.getRange("A1:B2").merge(true));
  expect(await merged("A1:B2")).toBe("A1:B1,A2:B2");
  await on((sheet) => sheet.getRange("B2").unmerge());
  expect(await merged("A1:B2")).toBe("A1:B1");
});

it("merged cells are not cut by a clear, go with a whole one, and move with rows and columns", async () => {
  await on((sheet) => sheet.getRange("B2:C3").merge());
  expect(
    await cells.refusal(({ workbook: { worksheets } }) => worksheets.getItem(sheetName).getRange("C3").clear()),
  ).toBe("InvalidOperation");
  await on((sheet) => sheet.getRange("1:1").insert("Down"));
  await on((sheet) => sheet.getRange("A:A").insert("Right"));
  expect(await merged("A1:J10")).toBe("C3:D4");
  await on((sheet) => sheet.getRange("A1:J10").clear());
  expect(await merged("A1:J10")).toBeNull();
});

it("merging inside a table is refused", async () => {
  await on((sheet) => {
    sheet.tables.add("A1:B3", true);
  });
  const merge = ({ workbook: { worksheets } }: Excel.RequestContext) =>
    worksheets.getItem(sheetName).getRange("A2:B2").merge();
  expect(await cells.refusal(merge)).toBe("InvalidOperation");
});

it("while the structure is protected no sheet comes, goes, moves or changes its name; cells can be written", async () => {
  await workbook.Excel.run(async ({ workbook: { protection } }) => protection.protect("grit"));
  const sheetOf = ({ workbook: { worksheets } }: Excel.RequestContext) => worksheets.getItem(sheetName);
  const changes: ((context: Excel.RequestContext) => unknown)[] = [
    (context) => context.workbook.worksheets.add("New"),
    (context) => sheetOf(context).delete(),
    (context) => Object.assign(sheetOf(context), { name: "Other" }),
    (context) => Object.assign(sheetOf(context), { visibility: "Hidden" }),
    (context) => Object.assign(sheetOf(context), { position: 0 }),
    (context) => sheetOf(context).copy(),
    (context) => context.workbook.protection.unprotect("wrong"),
  ];
  for (const change of changes) expect(await cells.refusal(change)).toBe("AccessDenied");
  await cells.write(`${sheetName}!A1`, [[1]]);
  await workbook.Excel.run(async ({ workbook: { protection } }) => protection.unprotect("grit"));
  const isProtected = await workbook.Excel.run(async (context) => {
    const protection = context.workbook.protection.load("protected");
    await context.sync();
    return protection.protected;
  });
  expect(isProtected).toBe(false);
});

it("the looks of each cell are read, and set in another place", async () => {
  const format = { fill: { color: true }, font: { bold: true, size: true }, borders: { style: true, color: true } };
  const read = (address: string) =>
    on(async (sheet, context) => {
      const result = sheet.getRange(address).getCellProperties({ format });
      await context.sync();
      return result.value;
    });
  await on((sheet) => {
    sheet.getRange("A1").format.fill.color = "#FFCC00";
    sheet.getRange("B1").format.font.bold = true;
    sheet.getRange("B1").format.font.size = 20;
    sheet.getRange("B1").format.borders.getItem("EdgeTop").style = "Double";
  });
  const looks = await read("A1:B1");
  expect(looks[0]![0]!.format!.fill).toEqual({ color: "#FFCC00" });
  expect(looks[0]![1]!.format).toMatchObject({
    font: { bold: true, size: 20 },
    borders: { top: { style: "Double" }, bottom: { style: "None" } },
  });
  const [[first, second]] = looks as any;
  const { top } = second.format.borders;
  await on((sheet) => {
    sheet
      .getRange("D4:E4")
      .setCellProperties([
        [{ format: { fill: first.format.fill } }, { format: { font: second.format.font, borders: { top } } }],
      ]);
  });
  expect(
    (await read("D4:E4"))[0]!.map((cell) => [cell.format!.fill, cell.format!.font, cell.format!.borders!.top]),
  ).toEqual(looks[0]!.map((cell) => [cell.format!.fill, cell.format!.font, cell.format!.borders!.top]));
});

it("columns and rows get what is given for each of them, and a block of another size is refused", async () => {
  const sizes = await on(async (sheet, context) => {
    sheet
      .getRange("J2:L3")
      .setColumnProperties([{ format: { columnWidth: 96 } }, {}, { format: { columnWidth: 120 } }]);
    sheet.getRange("J2:L3").setRowProperties([{ format: { rowHeight: 30 } }, { format: { font: { bold: true } } }]);
    const [j, k, l] = ["J9", "K9", "L9"].map((cell) => sheet.getRange(cell).load("format/columnWidth"));
    const row = sheet.getRange("A2").load("format/rowHeight");
    const bold = ["J2", "J3", "L3", "M3"].map((cell) => sheet.getRange(cell).load("format/font/bold"));
    await context.sync();
    const widths = [j!, k!, l!].map(({ format }) => format.columnWidth);
    return { widths, height: row.format.rowHeight, bold: bold.map(({ format }) => format.font.bold) };
  });
  // 48 points is a column's width unless it is given another.
  expect(sizes).toEqual({ widths: [96, 48, 120], height: 30, bold: [false, true, true, false] });
  const refused = cells.refusal((context) =>
    context.workbook.worksheets.getItem(sheetName).getRange("J2:L3").setColumnProperties([{}, {}]),
  );
  expect(await refused).toBe("InvalidArgument");
});

it("a line that is set with its color takes the place of another", async () => {
  const top = await on(async (sheet, context) => {
    const line = sheet.getRange("N4").format.borders.getItem("EdgeTop");
    line.style = "Double";
    line.color = "#FF0000";
    const borders = { top: { style: "Continuous" as const, color: "#2F6B5E" } };
    sheet.getRange("N4").setCellProperties([[{ format: { borders } }]]);
    line.load("style,color,weight");
    await context.sync();
    return [line.style, line.color, line.weight];
  });
  expect(top).toEqual(["Continuous", "#2F6B5E", "Thin"]);
});

it("the file has the merged cells and the lock", async () => {
  await on((sheet) => sheet.getRange("B2:C3").merge());
  await workbook.Excel.run(async ({ workbook: { protection } }) => protection.protect());
  const parts = unzipSync(await workbook.xlsx());
  await workbook.Excel.run(async ({ workbook: { protection } }) => protection.unprotect());
  const text = (name: string) => strFromU8(parts[name]!);
  const sheets = Object.keys(parts).filter((name) => /^xl\/worksheets\/sheet\d+\.xml$/.test(name));
  const withMerges = sheets.filter((name) => text(name).includes('<mergeCell ref="B2:C3"/>'));
  expect(withMerges).toHaveLength(1);
  // ECMA-376 Part 1, 18.2.27: workbookProtection follows workbookPr and comes before bookViews.
  expect(text("xl/workbook.xml")).toMatch(/<workbookPr[^>]*\/><workbookProtection lockStructure="1"\/>.*<bookViews>/s);
});

it("cells with content are not pushed off the end of the sheet", async () => {
  await cells.write(`${sheetName}!XFD4`, [["last"]]);
  const insert = (address: string, shift: "Right" | "Down") => (context: Excel.RequestContext) =>
    context.workbook.worksheets.getItem(sheetName).getRange(address).insert(shift);
  // The code for this in Excel's table of errors.
  expect(await cells.refusal(insert("B4", "Right"))).toBe("NonBlankCellOffSheet");
  await on((sheet) => sheet.getRange("B5").insert("Right"));
  expect(await cells.value(`${sheetName}!XFD4`)).toBe("last");
});
