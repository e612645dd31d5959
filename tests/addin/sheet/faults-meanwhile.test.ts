/** What becomes of a user's workbook while a command runs: as before with a plain reason, or done and undone. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Conditions, noConditions } from "../../../addin/preview/host/conditions";
import * as sheet from "../../../addin/sheet";
import {
  type Command,
  isInserted,
  isIntoTable,
  isPlain,
  outcomeOf,
  plan,
  WRITING_COMMANDS,
  writeMine,
} from "./faults-commands";
import { betweenRequests, inCondition, inExcel, look, names, sheetId } from "./faults-conditions";
import { cellValue, openGritForEach, reopenGrit, select, snapshot, workbook } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

describe("while a command writes,", () => {
  const ADDING = WRITING_COMMANDS.filter(({ addsSheets }) => addsSheets);

  it.each(ADDING)(
    "another workbook comes to the front: as before, or what is left is said, for $name",
    async (command) => {
      let run = await command.prepare(workbook);
      let before = await look();
      let isOver = false;
      let halves = 0;
      for (let at = 1; !isOver; at++) {
        let n = 0;
        const end = betweenRequests((request) => {
          n = request;
          if (request >= at) workbook.host.model.conditions.otherWorkbookInFront = true;
        });
        const outcome = await outcomeOf(run);
        end();
        Object.assign(workbook.host.model.conditions, noConditions());
        isOver = n < at;
        const message = outcome instanceof Error ? outcome.message : "";
        expect(message === "" || isPlain(message), message).toBe(true);
        const isLeft = outcome instanceof sheet.Refusal && outcome.reason?.kind === "halfWritten";
        if (isLeft) {
          halves++;
          expect(message).toMatch(/^This stopped halfway \(Another workbook is in front\).*Look at the sheet “/);
          await reopenGrit();
          run = await command.prepare(workbook);
          before = await look();
        } else {
          if (isInserted(outcome)) await sheet.undo(outcome);
          expect(await look(), `request ${at}: ${message}`).toEqual(before);
        }
      }
      expect(halves).toBeGreaterThan(0);
    },
  );

  it("no message is without a reason that code can tell apart", async () => {
    const CASES: readonly [Partial<Conditions>, string][] = [
      [{ otherWorkbookInFront: true }, "otherWorkbook"],
      [{ viewOnly: true }, "denied"],
      [{ largestRequest: 1000 }, "tooLarge"],
    ];
    await writeMine();
    for (const [condition, kind] of CASES) {
      const end = await inCondition(condition);
      const refused = (await outcomeOf(() => sheet.insertPlan(plan, "new sheet"))) as sheet.Refusal;
      end();
      expect(refused.reason).toEqual({ kind, facts: { left: "Nothing was changed" } });
    }
  });
});

describe("while a command runs, somebody", () => {
  it.each(WRITING_COMMANDS)(
    "selects other cells all the while, which is no hindrance for $name",
    async ({ prepare, atSelection }) => {
      const run = await prepare(workbook);
      await select("Sheet1!D40");
      const before = await snapshot();
      const other = workbook.engine.addSheet("Elsewhere");
      await select("Sheet1!D40");
      const end = betweenRequests((n) =>
        workbook.engine.select(other, { row: 60 + n, column: 1, rows: 1, columns: 1 }),
      );
      const outcome = await outcomeOf(run);
      end();
      if (outcome instanceof Error) expect.fail(outcome.message);
      if (atSelection) expect((outcome as sheet.Inserted).what).toContain("Sheet1!D40");
      if (isInserted(outcome)) await sheet.undo(outcome);
      await inExcel(({ worksheets }) => worksheets.getItem("Elsewhere").delete());
      expect(await snapshot()).toEqual(before);
    },
  );

  /** The sheet that a command works on, by the names that the commands here use. */
  const homeOf = ({ writes }: Command) =>
    ({ writeMeasured: "Tools", addStrip: "Strips", insertAudit: "Old jobs" })[writes as string] ?? "Sheet1";
  const ON_USERS_SHEET = WRITING_COMMANDS.filter(
    (command) => command.atSelection || isIntoTable(command) || command.writes === "insertAudit",
  );

  it.each(ON_USERS_SHEET)("renames the sheet that it works on: done or as before, $name", async (command) => {
    const run = await command.prepare(workbook);
    const home = sheetId(homeOf(command));
    const before = await snapshot();
    let isOver = false;
    for (let at = 1; !isOver; at++) {
      let n = 0;
      const end = betweenRequests((request) => {
        n = request;
        if (request === at) workbook.engine.renameSheet(home, "Renamed O'Brien");
      });
      const outcome = await outcomeOf(run);
      end();
      isOver = n < at;
      if (outcome instanceof Error) expect(isPlain(outcome.message), outcome.message).toBe(true);
      else await sheet.undo(outcome as sheet.Inserted, true); // formulas that name the sheet have changed
      workbook.engine.renameSheet(home, homeOf(command));
      expect(await snapshot(), `request ${at}: ${outcome}`).toEqual(before);
    }
  });

  it.each([3, 5, 7, 9])("deletes that sheet before request %i: the rest is as it was, and it is told", async (at) => {
    for (const command of ON_USERS_SHEET) {
      await reopenGrit();
      const run = await command.prepare(workbook);
      await inExcel(({ worksheets }) => worksheets.add("Another"));
      const home = homeOf(command);
      const before: any = await snapshot();
      let isDeleted = false;
      const end = betweenRequests((request) => {
        if (request !== at) return;
        workbook.engine.removeSheet(sheetId(home));
        isDeleted = true;
      });
      const outcome = await outcomeOf(run);
      end();
      const where = `${command.name}, request ${at}`;
      if (!isDeleted || !(outcome instanceof Error)) continue;
      expect(isPlain(outcome.message), `${where}: ${outcome.message}`).toBe(true);
      const after: any = await snapshot();
      expect(after.sheets, where).toEqual(before.sheets.filter(({ name }: any) => name !== home));
    }
  });

  it("adds a sheet of the name that was free: theirs stays, empty or not, and trying again takes another name", async () => {
    await writeMine();
    for (const content of ["theirs", ""]) {
      let isAdded = false;
      const { engine } = workbook;
      const end = betweenRequests(() => {
        if (isAdded || engine.sheetIdOf("Shelf") === undefined) return;
        isAdded = true;
        const theirs = engine.addSheet("Stage plan");
        if (content) engine.write(theirs, 0, 0, { value: content });
      });
      const outcome = await outcomeOf(() => sheet.insertPlan(plan, "new sheet"));
      end();
      expect((outcome as Error).message).toBe(
        "A name that this needs was taken in the meantime. Nothing was changed; try again: it then takes another.",
      );
      expect((await names()).sheets).toEqual(["Sheet1", "Stage plan"]);
      expect(await cellValue("Stage plan!A1")).toBe(content);
      const inserted = await sheet.insertPlan(plan, "new sheet");
      expect(inserted.what).toContain("“Stage plan 2”");
      await sheet.undo(inserted);
      await inExcel(({ worksheets }) => worksheets.getItem("Stage plan").delete());
    }
  });

  it("takes a defined name that was free: theirs stays as it is", async () => {
    await writeMine();
    const { engine } = workbook;
    let isTaken = false;
    const end = betweenRequests(() => {
      if (isTaken || engine.sheetIdOf("Stage plan") === undefined) return;
      isTaken = true;
      engine.book.addName("Stages_Price", "=Sheet1!$A$1", undefined, "");
    });
    const outcome = await outcomeOf(() => sheet.insertPlan(plan, "new sheet"));
    end();
    expect((outcome as Error).message).toMatch(/^A name that this needs was taken/);
    expect(await names()).toEqual({ sheets: ["Sheet1"], names: [["Stages_Price", "=Sheet1!$A$1"]] });
  });
});
