/** What a user's workbook can be like: a command leaves it as before with a plain reason, or is done and undone. */
import { afterEach, describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import {
  type Command,
  isInPlace,
  isInserted,
  isIntoTable,
  isLines,
  isPlain,
  outcomeOf,
  plan,
  TOOL,
  WRITING_COMMANDS,
  writeMine,
} from "./faults-commands";
import { inCondition, inExcel, LONG_NAMES, look, readOnly } from "./faults-conditions";
import { typeList } from "./job-lists";
import {
  addTable,
  cellValue,
  openGritForEach,
  select,
  snapshot,
  tableRows,
  valuesOf,
  workbook,
  write,
} from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

const eachSheet = (work: (one: Excel.Worksheet) => void) =>
  inExcel(async ({ worksheets }, context) => {
    worksheets.load("items/name");
    await context.sync();
    for (const one of worksheets.items) work(one);
  });

/** Of each table and of each list besides only the rows like its first one are shown. */
const filterEverything = () =>
  inExcel(async ({ worksheets, tables }, context) => {
    worksheets.load("items/name,items/tables/count");
    tables.load("items/name");
    await context.sync();
    const plain = worksheets.items.filter((one) => one.tables.count === 0);
    const lists = plain.map((one) => one.getUsedRangeOrNullObject(true).load("text,columnCount"));
    const firsts = tables.items.map((table) => table.getDataBodyRange().getCell(0, 0).load("text"));
    await context.sync();
    tables.items.forEach((table, i) => {
      table.columns.getItemAt(0).filter.applyValuesFilter([firsts[i]!.text[0]![0]!]);
    });
    plain.forEach((one, i) => {
      const list = lists[i]!;
      if (list.isNullObject || list.text.length < 2) return;
      one.autoFilter.apply(list, 1, { filterOn: "Values", values: [list.text[1]![1]!] });
    });
  });

const unfilterEverything = () =>
  inExcel(async ({ worksheets, tables }, context) => {
    worksheets.load("items/name");
    tables.load("items/name");
    await context.sync();
    for (const table of tables.items) table.clearFilters();
    for (const one of worksheets.items) one.autoFilter.remove();
  });

/** Gives all sheets such names; ends with those that they had. */
async function renameSheets(names: readonly string[]): Promise<() => void> {
  const { engine } = workbook;
  const before = engine.sheetIds().map((id) => [id, engine.sheetName(id)] as const);
  before.forEach(([id], i) => {
    engine.renameSheet(id, names[i]!);
  });
  return () => {
    for (const [id, name] of before) engine.renameSheet(id, name);
  };
}

interface Adversity {
  readonly name: string;
  /** Brings it about; gives what ends it. */
  begin(): Promise<() => unknown>;
  /** Commands that meet it; all where this is left out. */
  meets?(command: Command): boolean;
  /** What a command is refused with; undefined where it is done all the same. */
  refusal(command: Command): RegExp | undefined;
}

const ADVERSITIES: readonly Adversity[] = [
  {
    name: "every sheet is protected",
    async begin() {
      await eachSheet((one) => one.protection.protect());
      return () => eachSheet((one) => one.protection.unprotect());
    },
    refusal: (command) =>
      command.atSelection || isIntoTable(command) || isInPlace(command) ? /protected.*[Uu]nprotect/ : undefined,
  },
  {
    name: "the structure is protected",
    async begin() {
      await inExcel(({ protection }) => protection.protect());
      return () => inExcel(({ protection }) => protection.unprotect());
    },
    refusal: ({ addsSheets }) =>
      addsSheets ? /structure is protected.*Nothing was changed; unprotect the workbook/ : undefined,
  },
  {
    name: "it is open for reading only, and says so: nothing is asked of it",
    begin: async () => {
      const end = readOnly();
      return () => expect(end()).toBe(0);
    },
    refusal: () => /^This workbook is open for reading only\. Nothing was changed; open it for editing, or save it/,
  },
  {
    name: "it takes no change, and does not say why",
    begin: () => inCondition({ viewOnly: true }),
    refusal: () => /open for reading only\. Nothing was changed; .*open it for editing/,
  },
  {
    name: "another workbook is in front",
    begin: () => inCondition({ otherWorkbookInFront: true }),
    refusal: ({ addsSheets, atSelection, readsPlans, writes }) => {
      if (atSelection) return /^No cells of this workbook are selected: another workbook is in front, or/;
      // A bid that stands there is updated by its tables alone.
      return addsSheets || (readsPlans && writes !== "updateBid")
        ? /^Another workbook is in front\. Nothing was changed; click a cell of this workbook, and try/
        : undefined;
    },
  },
  {
    name: "a chart sheet is in front",
    begin: () => inCondition({ chartSheetActive: true }),
    refusal: ({ atSelection }) =>
      atSelection ? /^No cells of this workbook are selected: .*Nothing was changed; click a cell of this/ : undefined,
  },
  {
    name: "a request may only be small",
    begin: () => inCondition({ largestRequest: 4000 }),
    // What puts the user's own cells back is as large as what was written over them.
    meets: (command) => !isLines(command),
    // A strip's row of twelve cells is more than this, which is a thousandth of what the web takes; so is what is asked of a plan.
    refusal: ({ addsSheets, writes, readsPlans }) =>
      addsSheets || readsPlans || writes === "addStrip"
        ? /^This is more than Excel on the web handles at once\. Nothing was changed; open the workbook in Excel on/
        : undefined,
  },
  {
    name: "the last cell of the sheet is selected",
    async begin() {
      await select("Sheet1!XFD1048576");
      return () => select("Sheet1!B6");
    },
    refusal: (command) => (isLines(command) ? /don.t fit between the selected cell and the end/ : undefined),
  },
  {
    name: "merged cells are selected and in the way",
    async begin() {
      const held = await Excel.run(async (context) => {
        const cell = context.workbook.worksheets.getItem("Sheet1").getRange("C8").load("formulas");
        await context.sync();
        return cell.formulas;
      });
      await inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("C7:C8").merge());
      await select("Sheet1!B6");
      return async () => {
        await inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("C7:C8").unmerge());
        // Merging has emptied the lower cell.
        if (held[0]![0] !== "") await write("Sheet1!C8", held);
      };
    },
    refusal: (command) => {
      if (!command.atSelection) return undefined;
      return isLines(command)
        ? /Merged cells \(Sheet1!C7:C8\) are in the way of Sheet1!B6:.*Unmerge them/
        : /Sheet1!B6 is not empty\. Select an empty cell/;
    },
  },
  {
    name: "a spill is in the way",
    async begin() {
      await write("Sheet1!J8", [["=ROW(A1:A3)"]]);
      await select("Sheet1!J9");
      return async () => {
        await write("Sheet1!J8", [[""]]);
        await select("Sheet1!B6");
      };
    },
    refusal: (command) => {
      if (!command.atSelection) return undefined;
      return isLines(command) ? /A formula that fills several cells is in the way/ : /J9 is not empty/;
    },
  },
  {
    name: "a table is in the way",
    async begin() {
      await addTable("In_the_way", "Sheet1", "K10", [["Head"], [1]]);
      await select("Sheet1!J9");
      return async () => {
        await inExcel(({ tables }) => tables.getItem("In_the_way").delete());
        await select("Sheet1!B6");
      };
    },
    refusal: (command) => (isLines(command) ? /The table In_the_way is in the way/ : undefined),
  },
  {
    name: "filters hide rows of everything",
    async begin() {
      await filterEverything();
      await select("Sheet1!D6"); // a row that is filtered out
      return async () => {
        await unfilterEverything();
        await select("Sheet1!B6");
      };
    },
    refusal(command) {
      const { writes, addsSheets } = command;
      if (writes === "updateBid") return /^Rows of the tables on “Bid” are hidden by a filter or by hand\./;
      if (isInPlace(command)) return /Rows of “Stage plan” are hidden or filtered\. Nothing was changed; show them/;
      if (isLines(command))
        return /^The filter of Sheet1!A1:\w+ is in the way of Sheet1!D6:|^Rows .* of Sheet1!D6:E8 are hidden/;
      // A row that is put between others needs them all in sight.
      return writes === "closeOut" && !addsSheets ? /^Rows of .* are hidden, by a filter or by hand\./ : undefined;
    },
  },
  {
    name: "sheets have names of 31 characters that need quotes",
    // Its sheets are more than there are names, and lose the quotes that it writes around names without need.
    meets: ({ writes }) => writes !== "updateBid" && writes !== "insertProposal",
    async begin() {
      await select("Sheet1!D30");
      const end = await renameSheets(LONG_NAMES);
      return async () => {
        end();
        await select("Sheet1!B6");
      };
    },
    // A list in plain cells is kept by the name of its sheet.
    refusal: ({ writes, inPlainCells }) =>
      writes === "insertAudit" || inPlainCells
        ? /^The sheet “Old jobs” is no longer in this workbook\. Choose another list\.$/
        : undefined,
  },
  {
    name: "every name that a command would take is taken, in other letters, some on sheets that hardly show",
    async begin() {
      const free = (name: string) => workbook.engine.sheetIdOf(name) === undefined;
      const sheets = ["STAGE PLAN", "shelf", "AUDIT", "jOBS", "machines", "LOG"].filter(free);
      // A command may be about a plan, which has taken some of them itself.
      const { tables, names: defined } = (await snapshot()) as { tables: string[]; names: [string, string][] };
      const taken = [...tables, ...defined.map(([name]) => name)].map((name) => name.toLowerCase());
      const isFree = (name: string) => !taken.includes(name.toLowerCase());
      const names = ["stages_COST", "TOOLING_2", "MACHINES", "jobs", "LOG"].filter(isFree);
      const table = ["STAGES", "STAGES_2"].find(isFree)!;
      await inExcel(({ worksheets, names: ofWorkbook }) => {
        sheets.forEach((name, i) => {
          worksheets.add(name).visibility = i % 2 ? "VeryHidden" : "Hidden";
        });
        for (const name of names) ofWorkbook.add(name, "=1");
      });
      await addTable(table, "Other", "A1", [["Head"], [1]]);
      await select("Sheet1!D30");
      return async () => {
        await inExcel(({ worksheets, names: ofWorkbook, tables }) => {
          for (const name of names) ofWorkbook.getItem(name).delete();
          tables.getItem(table).delete();
          for (const name of [...sheets, "Other"]) {
            // Excel deletes no sheet that is very hidden.
            worksheets.getItem(name).visibility = "Visible";
            worksheets.getItem(name).delete();
          }
        });
        await select("Sheet1!B6");
      };
    },
    refusal: () => undefined,
  },
];

it.each(WRITING_COMMANDS)(
  "each adversity leaves the workbook as it was, or is no hindrance, for $name",
  async (command) => {
    const run = await command.prepare(workbook);
    const untouched = await look();
    for (const { name, begin, refusal } of ADVERSITIES.filter(({ meets }) => meets?.(command) ?? true)) {
      const end = await begin();
      const before = await look();
      const outcome = await outcomeOf(run);
      const told = refusal(command);
      if (told) {
        expect(outcome, name).toBeInstanceOf(sheet.Refusal);
        const { message } = outcome as Error;
        expect(message, name).toMatch(told);
        expect(isPlain(message), `${name}: ${message}`).toBe(true);
        expect(await look(), name).toEqual(before);
      } else if (outcome instanceof Error) {
        expect.fail(`${name}: ${outcome.message}`);
      } else if (isInserted(outcome)) {
        expect(await look(), name).not.toEqual(before);
        await sheet.undo(outcome);
        expect(await look(), name).toEqual(before);
      }
      await end();
      expect(await look(), `after: ${name}`).toEqual(untouched);
    }
  },
);

describe("in a workbook that is open for reading only", () => {
  it.each(WRITING_COMMANDS)("nothing is undone, and it is told, after $name", async ({ prepare }) => {
    const inserted = await (await prepare(workbook))();
    if (!isInserted(inserted)) return;
    const written = await snapshot();
    const end = readOnly();
    const refused = await outcomeOf(() => sheet.undo(inserted));
    expect(end()).toBe(0);
    expect((refused as Error).message).toBe(
      "Nothing was undone: this workbook is open for reading only. Open it for editing, then undo.",
    );
    expect(await snapshot()).toEqual(written);
    await sheet.undo(inserted);
  });

  it("nobody is asked about what cannot be written", async () => {
    await writeMine();
    await putShelf(starterShelf("us"), "us");
    await select("Sheet1!B6");
    const asking = [() => sheet.insertPlan(plan, "selected cell"), () => sheet.writeMeasured(TOOL, { cut: 163 }, "us")];
    for (const command of asking) {
      expect(await outcomeOf(command)).toBeInstanceOf(sheet.NeedsAnswer);
      const end = readOnly();
      const refused = (await outcomeOf(command)) as Error;
      end();
      expect(refused).not.toBeInstanceOf(sheet.NeedsAnswer);
      expect(refused.message).toMatch(/^This workbook is open for reading only\./);
    }
  });

  it("is read all the same: the shelf and the list of jobs", async () => {
    await putShelf(starterShelf("us"), "us");
    await typeList("Old jobs", "B3", [
      ["Job", "Bid price", "Billed", "Bid cost", "Final cost"],
      ["A1", 1000, 1000, 700, 780],
    ]);
    const end = readOnly();
    expect((await sheet.readShelf("us")).shelf.tools).toHaveLength(starterShelf("us").tools.length);
    expect((await sheet.findJobList()).rows).toBe(1);
    expect(end()).toBe(0);
  });
});

describe("in the user's tooling table", () => {
  const row = starterShelf("us").tools.findIndex(({ name }) => name === TOOL);

  it("rows that a filter hides are written to all the same, and stay hidden", async () => {
    await putShelf(starterShelf("us"), "us");
    await inExcel(({ tables }) => {
      tables.getItem("My_tools").getDataBodyRange().getRow(row).rowHidden = true;
    });
    const before = await snapshot();
    const inserted = await sheet.writeMeasured(TOOL, { cut: 163 }, "us", true);
    const rows = await tableRows("My_tools");
    expect(rows.filter((cells) => cells["Cut per pass µm"] === 163).map((cells) => cells.Tool)).toEqual([TOOL]);
    const isHidden = await Excel.run(async (context) => {
      const cells = context.workbook.tables.getItem("My_tools").getDataBodyRange().getRow(row).load("rowHidden");
      await context.sync();
      return cells.rowHidden;
    });
    expect(isHidden).toBe(true);
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("a column is refused where cells at the sheet's end would fall off, or another table would be cut", async () => {
    await putShelf(starterShelf("us"), "us");
    await inExcel(({ tables }) => tables.getItem("My_tools").columns.getItem("Wear mm per 1000 ft²").delete());
    await addTable("Below_right", "Tools", "Z4", [["Head"], ...Array.from({ length: 40 }, (_, i) => [i])]);
    const before = await snapshot();
    const cut: any = await outcomeOf(() => sheet.writeMeasured(TOOL, { wear: 0.25 }, "us", true));
    expect(cut.message).toMatch(/^There is no room: .*Nothing was changed; make room there, and try again\.$/);
    expect(await snapshot()).toEqual(before);
    await inExcel(({ tables, worksheets }) => {
      tables.getItem("Below_right").delete();
      worksheets.getItem("Tools").getRange("XFD4").values = [["at the end"]];
    });
    const off: any = await outcomeOf(() => sheet.writeMeasured(TOOL, { wear: 0.25 }, "us", true));
    expect(off.message).toMatch(/^There is no room: /);
    expect(await valuesOf("Tools!XFD4")).toEqual([["at the end"]]);
    expect((await tableRows("My_tools"))[row]).not.toHaveProperty("Wear mm per 1000 ft²");
  });
});

it("drop-down lists in cells that lines are written to stay, and so they do when it is undone", async () => {
  await select("Sheet1!C6");
  const ruleOf = () =>
    Excel.run(async (context) => {
      const { dataValidation } = context.workbook.worksheets.getItem("Sheet1").getRange("D6");
      dataValidation.load("rule");
      await context.sync();
      return dataValidation.rule.list?.source;
    });
  await inExcel(({ worksheets }) => {
    worksheets.getItem("Sheet1").getRange("D6").dataValidation.rule = { list: { inCellDropDown: true, source: "a,b" } };
  });
  const inserted = await sheet.insertPlan(plan, "selected cell");
  expect(await ruleOf()).toBe("a,b");
  await sheet.undo(inserted);
  expect(await ruleOf()).toBe("a,b");
});

it("a function is not put into a cell with the number format Text, in which it would stay a text", async () => {
  await inExcel(({ worksheets }) => {
    worksheets.getItem("Sheet1").getRange("D4").numberFormat = "@" as any;
  });
  await select("Sheet1!D4");
  const refused: any = await outcomeOf(() => sheet.insertFunction("=GRIT.SIZE(30)"));
  expect(refused.message).toMatch(/^Sheet1!D4 has the number format Text.*select another cell\.$/);
  expect(await cellValue("Sheet1!D4")).toBe("");
});
