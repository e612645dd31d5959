/** A yes counts for what was asked, and for nothing that has changed since. */
import { describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import { outcomeOf, plan, TOOL, writeMine } from "./faults-commands";
import { inExcel, sheetId } from "./faults-conditions";
import { cellValue, openGritForEach, select, snapshot, workbook, write } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();

describe("a yes counts for what was asked", () => {
  const ask = (where: "selected cell" | "new sheet", agreed: sheet.Consent = false) =>
    outcomeOf(() => sheet.insertPlan(plan, where, agreed));

  it("and not for the cells that are selected by then", async () => {
    await writeMine();
    await write("Sheet1!B100:B101", [["also mine"], ["and this"]]);
    const asked = (await ask("selected cell")) as sheet.NeedsAnswer;
    expect(asked).toBeInstanceOf(sheet.NeedsAnswer);
    await select("Sheet1!B98");
    const again = (await ask("selected cell", asked.asked)) as sheet.NeedsAnswer;
    expect(again).toBeInstanceOf(sheet.NeedsAnswer);
    expect(again.message).toContain("Sheet1!B98:");
    expect(await cellValue("Sheet1!B100")).toBe("also mine");
    const before = await snapshot();
    const inserted = (await ask("selected cell", again.asked)) as sheet.Inserted;
    expect(inserted.what).toContain("Sheet1!B98:");
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("and not for what the user measured or typed since", async () => {
    await putShelf(starterShelf("us"), "us");
    const asked: any = await outcomeOf(() => sheet.writeMeasured(TOOL, { cut: 163 }, "us"));
    await inExcel(({ tables }) => {
      const row = starterShelf("us").tools.findIndex(({ name }) => name === TOOL);
      tables.getItem("My_tools").columns.getItem("Cut per pass µm").getDataBodyRange().getCell(row, 0).values = [[170]];
    });
    const again: any = await outcomeOf(() => sheet.writeMeasured(TOOL, { cut: 163 }, "us", asked.asked));
    expect(again).toBeInstanceOf(sheet.NeedsAnswer);
    expect(again.message).toContain("170 → 163");
  });
});

describe("between a question and its answer", () => {
  const overMine = (agreed: sheet.Consent = false) => sheet.insertPlan(plan, "selected cell", agreed);
  const measured = (agreed: sheet.Consent = false) => sheet.writeMeasured(TOOL, { cut: 163 }, "us", agreed);
  const asked = async (command: () => Promise<unknown>) => {
    const question = await outcomeOf(command);
    expect(question).toBeInstanceOf(sheet.NeedsAnswer);
    return question as sheet.NeedsAnswer;
  };

  it("an empty place that is selected by now is not taken for the one that was asked about", async () => {
    await writeMine();
    const first = await asked(() => overMine());
    await select("Sheet1!M50");
    const before = await snapshot();
    const second = await asked(() => overMine(first.asked));
    expect(second.message).toMatch(
      /^The selection has changed: the lines would go to Sheet1!M50:N50, which is empty\.$/,
    );
    expect(await snapshot()).toEqual(before);
    const inserted = await overMine(second.asked);
    expect(inserted.what).toContain("Sheet1!M50:");
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("cells that were emptied meanwhile need no other yes", async () => {
    await writeMine();
    const question = await asked(() => overMine());
    await inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("A1:E9").clear());
    expect((await overMine(question.asked)).what).toContain("Sheet1!B6:");
  });

  it("a sheet that has another name is asked about by that name, and one that is gone is not written to", async () => {
    await writeMine();
    const first = await asked(() => overMine());
    const id = sheetId("Sheet1");
    workbook.engine.renameSheet(id, "Renamed O'Brien");
    const before = await snapshot();
    const second = await asked(() => overMine(first.asked));
    expect(second.message).toMatch(/^The lines need 'Renamed O''Brien'!B6:\w+, which has \d+ filled cells\.$/);
    expect(await snapshot()).toEqual(before);
    await inExcel(({ worksheets }) => {
      worksheets.add("Other").activate();
      worksheets.getItem("Renamed O'Brien").delete();
    });
    const third = await asked(() => overMine(second.asked));
    expect(third.message).toMatch(/^The selection has changed: the lines would go to Other!A1:/);
  });

  it("the table's sheet may get another name; if it goes, that is told", async () => {
    await putShelf(starterShelf("us"), "us");
    const question = await asked(() => measured());
    const before = await snapshot();
    workbook.engine.renameSheet(sheetId("Tools"), "Renamed O'Brien");
    await sheet.undo(await measured(question.asked));
    workbook.engine.renameSheet(sheetId("Renamed O'Brien"), "Tools");
    expect(await snapshot()).toEqual(before);
    await inExcel(({ worksheets }) => worksheets.getItem("Tools").delete());
    const gone: any = await outcomeOf(() => measured(question.asked));
    expect(gone.message).toMatch(/^This workbook has no tooling table to write to yet\./);
  });

  it("an undo asks again where more was changed, or its sheet got another name, and tells where that is gone", async () => {
    await writeMine();
    const inserted = await overMine(true);
    await write("Sheet1!B6", [["changed"]]);
    const first = await asked(() => sheet.undo(inserted));
    workbook.engine.renameSheet(sheetId("Sheet1"), "Renamed O'Brien");
    const written = await snapshot();
    const second = await asked(() => sheet.undo(inserted, first.asked));
    expect(second.message).toContain("'Renamed O''Brien'!B6:");
    expect(await snapshot()).toEqual(written);
    await inExcel(({ worksheets }) => {
      worksheets.add("Other");
      worksheets.getItem("Renamed O'Brien").delete();
    });
    const gone: any = await outcomeOf(() => sheet.undo(inserted, second.asked));
    expect(gone.message).toBe("What was written to is gone, so there is nothing to undo in it.");
  });
});
