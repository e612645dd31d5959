/** What a user's workbook can be like, and become while a command runs: as before with a plain reason, or done and undone. */
import { readdirSync, readFileSync } from "node:fs";
import { afterEach, describe, expect, it, vi } from "vitest";
import { type Conditions, noConditions } from "../../../addin/preview/host/conditions";
import * as sheet from "../../../addin/sheet";
import { guessMapping } from "../../../functions/audit/headings";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import {
  type Command,
  isInserted,
  isPlain,
  outcomeOf,
  plan,
  TOOL,
  WRITING_COMMANDS,
  writeMine,
} from "./faults-commands";
import { auditCells, auditList, figureUnder, typeList } from "./job-lists";
import {
  addTable,
  cellValue,
  openGritForEach,
  reopenGrit,
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

const inExcel = (work: (book: Excel.Workbook, context: Excel.RequestContext) => unknown) =>
  Excel.run(async (context) => {
    await work(context.workbook, context);
    await context.sync();
  });

const eachSheet = (work: (one: Excel.Worksheet) => void) =>
  inExcel(async ({ worksheets }, context) => {
    worksheets.load("items/name");
    await context.sync();
    for (const one of worksheets.items) work(one);
  });

/** A workbook that can only be looked at; ends with how often it was asked to change. */
function denied(): () => number {
  let asked = 0;
  const process = workbook.host.process.bind(workbook.host);
  const WRITES = /^(Add|Clear|Delete|Insert|ConvertToRange|SetCellProperties)$/;
  const mock = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    const { Actions, ObjectPaths } = body as any;
    const changes = (Actions as any[]).some(({ ActionType, Name }) => ActionType === 4 || WRITES.test(Name ?? ""));
    const adds = Object.values<any>(ObjectPaths).some(({ Name }) => WRITES.test(Name ?? ""));
    if (!changes && !adds) return process(body);
    asked++;
    const answer = { Code: "AccessDenied", Message: "You cannot do this.", Location: "", HttpStatusCode: 403 };
    return { Error: { ...answer, ActionIndex: 0 }, Results: [] } as any;
  });
  return () => {
    mock.mockRestore();
    return asked;
  };
}

/** The workbook says that it is open for reading only; ends with how often a change was asked of it all the same. */
function readOnly(): () => number {
  const { model } = workbook.host;
  model.readOnly = true;
  const end = denied();
  return () => {
    model.readOnly = false;
    return end();
  };
}

/** The host in another condition, until that is ended. */
async function inCondition(condition: Partial<Conditions>): Promise<() => void> {
  const { conditions } = workbook.host.model;
  Object.assign(conditions, condition);
  return () => Object.assign(conditions, noConditions());
}

/** The workbook, looked at in a host that refuses nothing. */
async function look(): Promise<unknown> {
  const { conditions } = workbook.host.model;
  const kept = { ...conditions };
  Object.assign(conditions, noConditions());
  const seen = await snapshot();
  Object.assign(conditions, kept);
  return seen;
}

/** Calls back before each request but the first, as whatever happens in the workbook meanwhile does. */
function betweenRequests(happen: (n: number) => void): () => void {
  const process = workbook.host.process.bind(workbook.host);
  let n = 0;
  const mock = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    if (n > 0) happen(n);
    n++;
    return process(body);
  });
  return () => mock.mockRestore();
}

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

// 31 characters, as many as a sheet's name may have.
const LONG_NAMES = [
  "O'Brien’s “jobs” 2024 & others 1",
  "עבודות שנגמרו 😀 שנה שעברה כולן",
  "=SUM(1,2)-3+4@5#6$7%8^9&10 12345",
  "It''s a sheet with two quotes 12345",
].map((name) => name.slice(0, 31));

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

const sheetId = (name: string) => workbook.engine.sheetIdOf(name)!;

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
    refusal: ({ writes, atSelection }) =>
      atSelection || writes === "writeMeasured" ? /protected.*[Uu]nprotect/ : undefined,
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
    refusal: ({ addsSheets, atSelection }) => {
      if (addsSheets)
        return /^Another workbook is in front\. Nothing was changed; click a cell of this workbook, and try/;
      return atSelection ? /^No cells of this workbook are selected: another workbook is in front, or/ : undefined;
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
    meets: ({ atSelection, writes }) => !atSelection || writes !== "insertPlan",
    refusal: ({ addsSheets }) =>
      addsSheets
        ? /^This is more than Excel on the web handles at once\. Nothing was changed; open the workbook in Excel on/
        : undefined,
  },
  {
    name: "the last cell of the sheet is selected",
    async begin() {
      await select("Sheet1!XFD1048576");
      return () => select("Sheet1!B6");
    },
    refusal: ({ writes, atSelection }) =>
      atSelection && writes === "insertPlan" ? /doesn.t fit between the selected cell and the end/ : undefined,
  },
  {
    name: "merged cells are selected and in the way",
    async begin() {
      await inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("D8:E9").merge());
      await select("Sheet1!B6");
      return () => inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("D8:E9").unmerge());
    },
    refusal: ({ writes, atSelection }) => {
      if (!atSelection) return undefined;
      return writes === "insertPlan"
        ? /Merged cells \(Sheet1!D8:E9\) are in the way of Sheet1!B6:.*Unmerge them/
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
    refusal: ({ atSelection, writes }) => {
      if (!atSelection) return undefined;
      return writes === "insertPlan" ? /A formula that fills several cells is in the way/ : /J9 is not empty/;
    },
  },
  {
    name: "a table is in the way",
    async begin() {
      await addTable("In_the_way", "Sheet1", "M20", [["Head"], [1]]);
      await select("Sheet1!J9");
      return async () => {
        await inExcel(({ tables }) => tables.getItem("In_the_way").delete());
        await select("Sheet1!B6");
      };
    },
    refusal: ({ atSelection, writes }) =>
      atSelection && writes === "insertPlan" ? /The table In_the_way is in the way/ : undefined,
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
    refusal: ({ atSelection, writes }) =>
      atSelection && writes === "insertPlan" ? /^The filter of Sheet1!A1:\w+ is in the way of Sheet1!D6:/ : undefined,
  },
  {
    name: "sheets have names of 31 characters that need quotes",
    async begin() {
      await select("Sheet1!D30");
      const end = await renameSheets(LONG_NAMES);
      return async () => {
        end();
        await select("Sheet1!B6");
      };
    },
    // A list in plain cells is kept by the name of its sheet.
    refusal: ({ writes }) =>
      writes === "insertAudit"
        ? /^The sheet “Old jobs” is no longer in this workbook\. Choose another list\.$/
        : undefined,
  },
  {
    name: "every name that a command would take is taken, in other letters, some on sheets that hardly show",
    async begin() {
      const free = (name: string) => workbook.engine.sheetIdOf(name) === undefined;
      const names = ["STAGE PLAN", "shelf", "AUDIT", "jOBS", "machines"].filter(free);
      await inExcel(({ worksheets, names: defined }) => {
        names.forEach((name, i) => {
          worksheets.add(name).visibility = i % 2 ? "VeryHidden" : "Hidden";
        });
        for (const name of ["stages_COST", "TOOLING_2", "MACHINES", "jobs"]) defined.add(name, "=1");
      });
      await addTable("STAGES", "Other", "A1", [["Head"], [1]]);
      await select("Sheet1!D30");
      return async () => {
        await inExcel(({ worksheets, names: defined, tables }) => {
          for (const name of ["stages_COST", "TOOLING_2", "MACHINES", "jobs"]) defined.getItem(name).delete();
          tables.getItem("STAGES").delete();
          for (const name of [...names, "Other"]) {
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
    writes === "writeMeasured" ? "Tools" : writes === "insertAudit" ? "Old jobs" : "Sheet1";
  const ON_USERS_SHEET = WRITING_COMMANDS.filter(
    ({ atSelection, writes }) => atSelection || writes === "writeMeasured" || writes === "insertAudit",
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

async function names() {
  const { sheets, names } = (await snapshot()) as any;
  return { sheets: sheets.map(({ name }: any) => name), names };
}

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

describe("long and odd names:", () => {
  it.each(LONG_NAMES)("a list on a sheet called %s is audited, and the audit follows its cells", async (name) => {
    await typeList(name, "B3", [
      ["Job", "Bid price", "Billed", "Bid cost", "Final cost"],
      ["A1", 1000, 1000, 700, 780],
      ["A2", 1000, 1000, 700, 700],
    ]);
    const before = await snapshot();
    const { written } = await auditList();
    // 1 − (780 + 700) / 2000, by hand.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.26, 12);
    await inExcel(({ worksheets }) => {
      worksheets.getItem(name).getRange("F4").values = [[500]];
    });
    // 1 − (500 + 700) / 2000.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.4, 12);
    await inExcel(({ worksheets }) => {
      worksheets.getItem(name).getRange("F4").values = [[780]];
    });
    await sheet.undo(written);
    expect(await snapshot()).toEqual(before);
  });

  const ODD = "O'Brien's quote 😀 הצעה 12345";

  it("a plan on a sheet of such a name refers to its own cells there", async () => {
    await inExcel(({ worksheets }) => {
      worksheets.getItem("Sheet1").name = ODD;
    });
    await select(`${ODD}!C4`);
    const before = await snapshot();
    const inserted = await sheet.insertPlan(plan, "selected cell");
    const price = await Excel.run(async (context) => {
      const cell = context.workbook.names.getItem("Stages_Price").getRange().load("values,worksheet/name");
      await context.sync();
      return [cell.values[0]![0], cell.worksheet.name];
    });
    expect(price).toEqual([expect.any(Number), ODD]);
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("jobs, bonds and headings of 255 characters are read, grouped and audited", async () => {
    const long = (mark: string) => `${mark} 😀 “O'Brien” `.padEnd(255, "x");
    const HEADS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bond"].map(long);
    await typeList("Old jobs", "B3", [
      HEADS,
      [long("A1"), 1000, 1000, 700, 780, long("metal")],
      [long("A2"), 1000, 1000, 700, 700, long("metal")],
    ]);
    const before = await snapshot();
    const guessed = guessMapping(["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bond"]);
    const mapping = Object.fromEntries(Object.entries(guessed).map(([key, heading]) => [key, long(heading!)]));
    const { jobs, problems, written } = await auditList(mapping);
    expect([jobs.map(({ job, bond }) => [job, bond]), problems]).toEqual([
      [
        [long("A1"), long("metal")],
        [long("A2"), long("metal")],
      ],
      [],
    ]);
    // 1 − (780 + 700) / 2000, by hand.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.26, 12);
    await sheet.undo(written);
    expect(await snapshot()).toEqual(before);
  });

  it("a tool with a name of 255 characters is planned with and measured", async () => {
    const long = `Métal 30 😀 ${"x".repeat(300)}`.slice(0, 255);
    const shelf = starterShelf("us");
    const tools = shelf.tools.map((tool) => (tool.name === TOOL ? { ...tool, name: long } : tool));
    await putShelf({ ...shelf, tools }, "us");
    const before = await snapshot();
    const measured = await sheet.writeMeasured(long, { cut: 163 }, "us", true);
    expect((await tableRows("My_tools")).find((row) => row.Tool === long)!["Cut per pass µm"]).toBe(163);
    await sheet.undo(measured);
    const stages = plan.stages.map((stage) => (stage.tool === TOOL ? { ...stage, tool: long } : stage));
    const inserted = await sheet.insertPlan({ ...plan, shelf: { ...shelf, tools }, stages }, "new sheet");
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
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
      /^The selection has changed: the stage table would go to Sheet1!M50:\w+, which is empty\.$/,
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
    expect(second.message).toMatch(/^The stage table needs 'Renamed O''Brien'!B6:\w+, which has \d+ filled cells\.$/);
    expect(await snapshot()).toEqual(before);
    await inExcel(({ worksheets }) => {
      worksheets.add("Other").activate();
      worksheets.getItem("Renamed O'Brien").delete();
    });
    const third = await asked(() => overMine(second.asked));
    expect(third.message).toMatch(/^The selection has changed: the stage table would go to Other!A1:/);
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
    await write("Sheet1!B7", [["changed"]]);
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
    expect(gone.message).toBe("The sheet with the stage table is gone, so there is nothing to undo on it.");
  });
});

it("nothing of the add-in reads or writes cells in the language of the user's Excel, where = SUM(1;2) and 1,5 are right", () => {
  // Excel's documentation: formulas, values and numberFormat are in English notation whatever the locale; these are not.
  const local = /\b(?:formulasLocal|numberFormatLocal|addressLocal|nameLocal|refersToLocal)\b/;
  const files = ["sheet", "pane"].flatMap((layer) =>
    readdirSync(`addin/${layer}`, { recursive: true, encoding: "utf8" }).map((name) => `addin/${layer}/${name}`),
  );
  const read = files.filter((name) => name.endsWith(".ts")).map((name) => [name, readFileSync(name, "utf8")] as const);
  expect(read.length).toBeGreaterThan(40);
  expect(read.some(([, text]) => text.includes(".formulas"))).toBe(true);
  expect(read.filter(([, text]) => local.test(text)).map(([name]) => name)).toEqual([]);
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

describe("an undo, later,", () => {
  const insertRows = () => inExcel(({ worksheets }) => worksheets.getItem("Sheet1").getRange("2:3").insert("Down"));

  it("finds the block where rows that were inserted above have moved it, and leaves those", async () => {
    await write(
      "Sheet1!A1:B9",
      Array.from({ length: 9 }, (_, r) => ["mine", r]),
    );
    await select("Sheet1!B6");
    const inserted = await sheet.insertPlan(plan, "selected cell", true);
    await insertRows();
    await write("Sheet1!A2:B3", [
      ["a new row", "of mine"],
      ["", ""],
    ]);
    const asked: any = await outcomeOf(() => sheet.undo(inserted));
    expect(asked).toBeInstanceOf(sheet.NeedsAnswer);
    expect(asked.message).toContain("Sheet1!B8:");
    await sheet.undo(inserted, asked.asked);
    const numbers = [0, "of mine", "", 1, 2, 3, 4, 5, 6, 7, 8];
    expect((await valuesOf("Sheet1!B1:B12")).flat()).toEqual([...numbers, ""]);
    expect((await names()).names).toEqual([]);
  });

  it("is refused then where the user's formulas would come back pointing elsewhere", async () => {
    await writeMine();
    const inserted = await sheet.insertPlan(plan, "selected cell", true);
    await insertRows();
    const moved = await snapshot();
    const refused: any = await outcomeOf(() => sheet.undo(inserted, true));
    expect(refused.message).toMatch(/^Nothing was undone: the stage table has moved to Sheet1!B8:.*, then undo\.$/);
    expect(await snapshot()).toEqual(moved);
  });

  it("leaves a name that the user has given to cells of theirs", async () => {
    await writeMine();
    const inserted = await sheet.insertPlan(plan, "new sheet");
    await inExcel(({ names: defined }) => {
      defined.getItem("Stages_Price").formula = "=Sheet1!$A$1";
    });
    await sheet.undo(inserted);
    expect(await names()).toEqual({ sheets: ["Sheet1"], names: [["Stages_Price", "=Sheet1!$A$1"]] });
  });

  it("knows its table by another name, and refuses where a table of the user's has come", async () => {
    const before = await snapshot();
    await select("Sheet1!C6");
    const inserted = await sheet.insertPlan(plan, "selected cell");
    await inExcel(({ tables }) => {
      tables.getItem("Stages").name = "My_steps";
    });
    await addTable("Mine", "Sheet1", "C8", [["Head"], [1]]);
    const refused: any = await outcomeOf(() => sheet.undo(inserted, true));
    expect(refused.message).toMatch(/^Nothing was undone: the table Mine is now in Sheet1!C6:.*then undo\.$/);
    await inExcel(({ tables }) => tables.getItem("Mine").delete());
    await sheet.undo(inserted, true);
    const { sheets, ...rest } = before as any;
    const after: any = await snapshot();
    expect({ ...after, sheets: after.sheets[0].cells }).toEqual({ ...rest, sheets: sheets[0].cells });
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

  it("brings back fonts, fills, lines and alignment of the cells that were written over, the empty ones too", async () => {
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
    const inserted = await sheet.insertPlan(plan, "selected cell", true);
    expect(await looks()).not.toEqual(before);
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

it("drop-down lists in the way are told of before they go, as an undo does not bring them back", async () => {
  await select("Sheet1!C6");
  await inExcel(({ worksheets }) => {
    worksheets.getItem("Sheet1").getRange("D8").dataValidation.rule = { list: { inCellDropDown: true, source: "a,b" } };
  });
  const asked: any = await outcomeOf(() => sheet.insertPlan(plan, "selected cell"));
  expect(asked).toBeInstanceOf(sheet.NeedsAnswer);
  expect(asked.message).toMatch(/has drop-down lists, .*Undoing brings back the cells, but not these rules\.$/);
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
