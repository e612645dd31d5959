/** What a block says of its cells is what they get, though it goes to all of them at once. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { insertJobsTable, readSelectedCell } from "../../../addin/sheet";
import { emptyBlock } from "../../../addin/sheet/block";
import { setUpSheet, writeBlock } from "../../../addin/sheet/write";
import { openGritForEach, workbook } from "./workbook";

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllGlobals();
});

/** The looks of a row of cells: fill, weight and color of the font, lines above and below, alignment, number format. */
async function looksOf(address: string) {
  return Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem("Sheet1").getRange(address).load("numberFormat,formulas");
    const read = range.getCellProperties({
      format: {
        fill: { color: true },
        font: { bold: true, color: true, size: true },
        borders: { style: true, color: true },
        horizontalAlignment: true,
        verticalAlignment: true,
        wrapText: true,
        indentLevel: true,
      },
    });
    await context.sync();
    return read.value.map((line, r) =>
      line.map(({ format }, c) => ({
        ...format,
        numberFormat: range.numberFormat[r]![c],
        holds: range.formulas[r]![c],
      })),
    );
  });
}

const put = (block: ReturnType<typeof emptyBlock>) =>
  Excel.run(async (context) => {
    await writeBlock(context.workbook.worksheets.getItem("Sheet1"), block);
    await context.sync();
  });

describe("a block of cells with looks of their own", () => {
  it("gives each cell its own, and leaves the cells between as they are", async () => {
    await Excel.run(async (context) => {
      const between = context.workbook.worksheets.getItem("Sheet1").getRange("B2");
      between.values = [["mine"]];
      between.format.fill.color = "#123456";
      between.numberFormat = [["0.000"]];
      await context.sync();
    });
    const block = emptyBlock();
    block.cells.push(
      { row: 0, column: 0, content: "Title", style: "title" },
      { row: 0, column: 2, content: 0.25, style: "input", format: "percent" },
      { row: 1, column: 0, content: { formula: "=1+1" }, style: "figureStrong", format: "money" },
      { row: 1, column: 2, content: "Header", style: "tableHeader" },
      { row: 2, column: 2, content: "ft²", style: "unit" },
    );
    await put(block);
    const [[title, , input], [strong, between, header], [, , unit]] = (await looksOf("A1:C3")) as any;
    // As addin/sheet/styles.ts has them.
    expect(title).toMatchObject({ holds: "Title", font: { bold: true, size: 16, color: "#2F6B5E" } });
    expect(input).toMatchObject({ holds: 0.25, numberFormat: "0%", fill: { color: "#FFF9E8" } });
    expect(input).toMatchObject({ font: { bold: false, color: "#1F3F8F" }, horizontalAlignment: "Right" });
    expect(strong).toMatchObject({ holds: "=1+1", numberFormat: '#,##0.00;-#,##0.00;"–"', font: { bold: true } });
    expect(strong.borders.top).toEqual({ style: "Continuous", color: "#2F6B5E" });
    expect(strong.borders.bottom.style).toBe("None");
    expect(header).toMatchObject({ wrapText: true, verticalAlignment: "Top", fill: { color: "#2F6B5E" } });
    expect(unit).toMatchObject({ indentLevel: 1, font: { color: "#5A6461" } });
    expect(between).toMatchObject({ holds: "mine", numberFormat: "0.000", fill: { color: "#123456" } });
  });

  it("gives columns that a formula fills their format, neighbors of one format together", async () => {
    const block = emptyBlock();
    block.cells.push({ row: 0, column: 0, content: { formula: "=SEQUENCE(3,4)" } });
    const column = { row: 0, rows: 3, columns: 1 };
    block.looks.push({ ...column, column: 0 }, { ...column, column: 1, format: "hours" });
    block.looks.push({ ...column, column: 2, format: "hours" }, { ...column, column: 3, format: "percent" });
    const set = vi.spyOn(workbook.host, "process");
    await put(block);
    const formats = set.mock.calls.flatMap(([{ Actions }]) => Actions.filter(({ Name }) => Name === "NumberFormat"));
    // The cells', the hours' and the percentage's.
    expect(formats).toHaveLength(3);
    const HOURS = '#,##0.0;-#,##0.0;"–"';
    for (const line of await looksOf("A1:D3")) {
      expect(line.map(({ numberFormat }) => numberFormat)).toEqual(["General", HOURS, HOURS, "0%"]);
      expect(line.map(({ horizontalAlignment }) => horizontalAlignment)).toEqual([
        "General",
        "Right",
        "Right",
        "Right",
      ]);
    }
  });

  it("of more rows than one request takes is written whole", async () => {
    const block = emptyBlock();
    for (let row = 0; row < 4100; row++) {
      block.cells.push({ row, column: 0, content: row, style: "input" });
      block.cells.push({ row, column: 1, content: { formula: `=A${row + 1}*2` }, format: "oneDecimal" });
    }
    await put(block);
    for (const row of [1, 2000, 2001, 4000, 4001, 4100]) {
      const [[number, double]] = (await looksOf(`A${row}:B${row}`)) as any;
      expect(number).toMatchObject({ holds: row - 1, fill: { color: "#FFF9E8" } });
      expect(double).toMatchObject({ holds: `=A${row}*2`, numberFormat: "#,##0.0" });
    }
  });
});

it("a sheet's columns and rows get their widths and heights", async () => {
  const found = await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getItem("Sheet1");
    const setup = { widths: [120, 36, 66], rowHeights: [[1, 30]] as [number, number][], frozenRows: 1 };
    setUpSheet(sheet, { ...setup, frozenColumns: 0, printTitleRow: 0 }, 10, 3);
    const columns = ["A1", "B1", "C1", "D1"].map((cell) => sheet.getRange(cell).load("format/columnWidth"));
    const rows = ["A1", "A2"].map((cell) => sheet.getRange(cell).load("format/rowHeight"));
    await context.sync();
    return {
      widths: columns.map(({ format }) => format.columnWidth),
      heights: rows.map(({ format }) => format.rowHeight),
    };
  });
  expect(found.widths.slice(0, 3)).toEqual([120, 36, 66]);
  expect(found.widths[3]).not.toBe(66);
  expect(found.heights[1]).toBe(30);
  expect(found.heights[0]).not.toBe(30);
});

describe("Excel's own Undo", () => {
  const supporting = (most: number) =>
    vi.stubGlobal("Office", {
      context: {
        requirements: {
          isSetSupported: (_set: string, version: string) => Number(version.split(".")[1]) <= most,
        },
      },
    });
  const ways = (run: ReturnType<typeof vi.spyOn>) =>
    run.mock.calls.map(([first]: any[]) => (typeof first === "function" ? "plain" : first));

  it("takes a command back at once where Excel can (ExcelApi 1.20)", async () => {
    supporting(20);
    const run = vi.spyOn(Excel, "run");
    expect((await insertJobsTable("us")).what).toMatch(/“Jobs”/);
    expect(ways(run)).toEqual([{ mergeUndoGroup: true }]);
  });

  it("is asked for nothing where Excel is older", async () => {
    supporting(19);
    const run = vi.spyOn(Excel, "run");
    expect((await insertJobsTable("us")).what).toMatch(/“Jobs”/);
    await readSelectedCell();
    expect(ways(run)).toEqual(["plain", "plain"]);
  });

  it("takes back at once what a command that failed took out again", async () => {
    supporting(20);
    const run = vi.spyOn(Excel, "run");
    const process = workbook.host.process.bind(workbook.host);
    let requests = 0;
    // The third writes the table.
    vi.spyOn(workbook.host, "process").mockImplementation(async (batch) => {
      if (++requests !== 3) return process(batch);
      const no = { Code: "GeneralException", Message: "No.", Location: "", HttpStatusCode: 500, ActionIndex: 0 };
      return { Error: no, Results: [], TraceIds: [] };
    });
    await expect(insertJobsTable("us")).rejects.toThrow("Nothing was changed.");
    expect(ways(run)).toEqual([{ mergeUndoGroup: true }, { mergeUndoGroup: true }]);
  });
});
