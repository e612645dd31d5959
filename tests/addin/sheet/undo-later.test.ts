/** An undo some time later, when the workbook is no longer as the command left it. */
import { describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import { outcomeOf, plan, writeMine } from "./faults-commands";
import { inExcel, names } from "./faults-conditions";
import { openGritForEach, select, snapshot, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();

describe("an undo, later,", () => {
  it("leaves a name that the user has given to cells of theirs", async () => {
    await writeMine();
    const inserted = await sheet.insertPlan(plan, "new sheet");
    await inExcel(({ names: defined }) => {
      defined.getItem("Stages_Price").formula = "=Sheet1!$A$1";
    });
    await sheet.undo(inserted);
    expect(await names()).toEqual({ sheets: ["Sheet1"], names: [["Stages_Price", "=Sheet1!$A$1"]] });
  });

  it("is refused as a whole while a lock or the last visible sheet is in its way, and says what to do", async () => {
    const before = await snapshot();
    const inserted = await sheet.insertPlan(plan, "new sheet");
    const written = await snapshot();
    await inExcel(({ protection }) => protection.protect());
    const locked: any = await outcomeOf(() => sheet.undo(inserted));
    expect(locked.message).toMatch(/structure is protected.*Unprotect the workbook, then undo\.$/);
    await inExcel(({ protection }) => protection.unprotect());
    await inExcel(({ worksheets }) => {
      worksheets.getItem("Sheet1").visibility = "Hidden";
    });
    const last: any = await outcomeOf(() => sheet.undo(inserted));
    expect(last.message).toMatch(/no other sheet is visible.*Add or unhide a sheet, then undo\.$/);
    await inExcel(({ worksheets }) => {
      worksheets.getItem("Sheet1").visibility = "Visible";
    });
    expect(await snapshot()).toEqual(written);
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("leaves fonts, fills, lines and alignment of the cells that were written over, as the writing did", async () => {
    await writeMine();
    const looks = () =>
      Excel.run(async (context) => {
        const range = context.workbook.worksheets.getItem("Sheet1").getRange("A5:H9");
        const format = {
          fill: { color: true },
          font: { bold: true, color: true, size: true, name: true },
          borders: { style: true, color: true },
          horizontalAlignment: true,
          wrapText: true,
        };
        const read = range.getCellProperties({ format });
        await context.sync();
        return read.value;
      });
    await inExcel(({ worksheets }) => {
      const own = worksheets.getItem("Sheet1");
      own.getRange("B7:C7").format.fill.color = "#FFCC00";
      own.getRange("G8").format.fill.color = "#00CC66";
      own.getRange("C8").format.font.bold = true;
      own.getRange("C8").format.font.color = "#AA0000";
      own.getRange("C8").format.font.size = 18;
      own.getRange("D7").format.borders.getItem("EdgeBottom").style = "Double";
      own.getRange("D8").format.horizontalAlignment = "Center";
      own.getRange("D8").format.wrapText = true;
    });
    const before = await looks();
    const inserted = await sheet.insertPlan(plan, "selected cell", true, ["price", "hours", "stages"]);
    expect(await looks()).toEqual(before);
    await sheet.undo(inserted);
    expect(await looks()).toEqual(before);
  });

  it("leaves the looks of an empty cell that a function was put into", async () => {
    await inExcel(({ worksheets }) => {
      worksheets.getItem("Sheet1").getRange("D4").format.fill.color = "#FFCC00";
    });
    await select("Sheet1!D4");
    await sheet.undo(await sheet.insertFunction("=GRIT.SIZE(30)"));
    const fill = await Excel.run(async (context) => {
      const cell = context.workbook.worksheets.getItem("Sheet1").getRange("D4");
      cell.load("values,format/fill/color");
      await context.sync();
      return [cell.values[0]![0], cell.format.fill.color];
    });
    expect(fill).toEqual(["", "#FFCC00"]);
  });
});

it("an undo brings back texts, numbers and formulas of cells with the number format Text, each as what it was", async () => {
  const TEXTS = ["007", "=1+1", "'quoted", "1,5", "TRUE", "12.05.2026"];
  const OTHERS = [5, true, "=1+1", 0.1];
  await inExcel(({ worksheets }) => {
    const [texts, others] = ["C5:C10", "D5:D8"].map((cells) => worksheets.getItem("Sheet1").getRange(cells));
    texts!.numberFormat = "@" as any;
    texts!.values = TEXTS.map((text) => [text]);
    // These get the format after they were entered, and go on as what they are.
    others!.formulas = OTHERS.map((entry) => [entry]);
    others!.numberFormat = "@" as any;
  });
  const held = async () => [await valuesOf("Sheet1!C5:D10"), await snapshot()];
  const before = await held();
  expect((before[0] as any[][]).map(([, other]) => other)).toEqual([5, true, 2, 0.1, "", ""]);
  await select("Sheet1!B4");
  const inserted = await sheet.insertPlan(plan, "selected cell", true);
  await sheet.undo(inserted);
  expect(await held()).toEqual(before);
});

it("a sheet that was inserted and then made very hidden is taken out by an undo", async () => {
  await writeMine();
  const before = await snapshot();
  const inserted = await sheet.insertPlan(plan, "new sheet");
  await inExcel(({ worksheets }) => {
    worksheets.getItem("Shelf").visibility = "VeryHidden";
  });
  await sheet.undo(inserted);
  expect(await snapshot()).toEqual(before);
});
