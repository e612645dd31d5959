/** Every command that writes into the workbook, with what it takes to run it: the one list that the fault tests go through. */
import * as sheet from "../../../addin/sheet";
import { repairWorkbook } from "../../../addin/sheet/repair-cells";
import { auditOf } from "../../../functions/audit/audit";
import { guessMapping } from "../../../functions/audit/headings";
import type { LogLine } from "../../../functions/log/fields";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { STRIP_COLUMNS, type Strip } from "../../../functions/plan/strips";
import { CATALOGUE } from "../../catalogue";
import { floor, planFor, putShelf, shelfRows } from "./agreement";
import { addAnnex, handWorkedChoice, handWorkedPlans, insertHandWorked } from "./hand-worked-bid";
import { quietly, typeList } from "./job-lists";
import { addTable, type GritWorkbook, select, write } from "./workbook";

const { Refusal } = sheet;

/** What the pane may ask of the workbook that changes no cell, sheet, name or setting of it. */
export const READING = [
  "cautionFor",
  "documentBytes",
  "findJobList",
  "findLastList",
  "hasDecimalComma",
  "jobTables",
  "later",
  "listPlans",
  "listSheets",
  "needYes",
  "openAsNewWorkbook",
  "problemCell",
  "problemText",
  "readBid",
  "readCalibration",
  "readForemansList",
  "readJobs",
  "readLinked",
  "readLog",
  "readMapping",
  "readPlan",
  "readRoomList",
  "readSelectedCell",
  "readShelf",
  "readMath",
  "recalculate",
  "selectedCells",
  "stopIfAsked",
  "watchWorkbook",
];

/** Exported functions that give back what they inserted. */
type Inserting = {
  [K in keyof typeof sheet]: (typeof sheet)[K] extends (...args: any[]) => Promise<infer Result>
    ? Result extends sheet.Inserted
      ? K
      : never
    : never;
}[keyof typeof sheet];

type Writing = Inserting | "undo" | "rememberMapping" | "repairWorkbook";

export interface Command {
  readonly name: string;
  readonly writes: Writing;
  /** Puts into an empty workbook what the command needs, on Sheet1 and others; gives the command. */
  prepare(workbook: GritWorkbook): Promise<() => Promise<unknown>>;
  /** Whether it writes where the user's selection is. */
  readonly atSelection?: boolean;
  /** Whether it adds sheets. */
  readonly addsSheets?: boolean;
  /** Whether it writes into a list that is kept by the name of its sheet. */
  readonly inPlainCells?: boolean;
  /** Whether it looks for plans, by the names on their sheets. */
  readonly readsPlans?: boolean;
}

export const TOOL = "Metal 30 medium";
export const plan = planFor(floor());

export const STRIP: Strip = {
  ...{ date: 46000, slab: "=Bay 2", hardness: 5, machine: null, tool: TOOL, size: 600, cut: 240, passes: 1 },
  ...{ width: 28, speed: 13.5, load: 550, slideSpeed: 1600, overlap: 0.2 },
};

/** The user's own cells around B6, where a block will be written over some of them. */
export async function writeMine(): Promise<void> {
  await write(
    "Sheet1!A1:E9",
    Array.from({ length: 9 }, (_, r) => ["mine", r, `=B${r + 1}*2`, "", ""]),
  );
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Sheet1").activate();
    await context.sync();
  });
  await select("Sheet1!B6");
}

const HEADINGS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bid hours", "Hours worked", "Bond"];
export const LIST = [
  HEADINGS,
  ["A1", 1000, 1000, 700, 780, 10, 12, "metal"],
  ["A2", "n/a", 1200, 800, 800, 9, 9, "metal"],
];

/** A line on the first stage of that plan, when it is logged. */
export const LOG_LINE: LogLine = {
  ...{ date: 46_356, floor: "Test floor", stage: `1 ${TOOL}`, area: 900, machineHours: 3, crewHours: 4, sets: 1 },
  ...{ height: 10, note: "=Bay 2" },
};
const NEXT_LINE: LogLine = { ...LOG_LINE, date: 46_357, sets: null, height: 9 };
const LOGGED_LATER = 46_400;

/** A plan on a sheet of its own, and a log of it. */
async function writeLog(): Promise<void> {
  await sheet.insertPlan(plan, "new sheet");
  await sheet.insertLog();
}

async function writeFinished(): Promise<void> {
  await writeLog();
  await sheet.addLogLines([LOG_LINE], LOGGED_LATER);
}

/** Finds and checks the list at the selected cell. */
async function checkedList() {
  const source = await sheet.findJobList();
  const mapping = guessMapping(source.headings);
  const { jobs, problems } = await sheet.readJobs(source, mapping, quietly());
  return { source, mapping, audit: auditOf(jobs), problems };
}

/** Sheet1!A1 shows #NAME?, as a formula does that was there before the add-in. */
async function showUnrecognized({ engine }: GritWorkbook): Promise<void> {
  await write("Sheet1!A1", [["=GRIT.SIZE(30)"]]);
  const reader = engine.valueReader.bind(engine);
  const own = engine.sheetIdOf("Sheet1");
  engine.valueReader = (sheetId) => {
    const read = reader(sheetId);
    return (row, column) => (sheetId === own && row === 0 && column === 0 ? "#NAME?" : read(row, column));
  };
}

export const WRITING_COMMANDS: readonly Command[] = [
  {
    name: "a bid of three floors",
    writes: "insertBid",
    addsSheets: true,
    async prepare() {
      await handWorkedPlans();
      await writeMine();
      const choice = await handWorkedChoice();
      return () => sheet.insertBid(choice);
    },
  },
  {
    name: "a bid with a floor more and one less, over an input of the user's",
    writes: "updateBid",
    readsPlans: true,
    async prepare() {
      await handWorkedPlans();
      await insertHandWorked();
      await addAnnex();
      await writeMine();
      const { job, floors } = await handWorkedChoice();
      const choice = { job: { ...job, client: "=Another", margin: 0.35 }, floors: floors.slice(1), extras: [] };
      return () => sheet.updateBid(choice);
    },
  },
  {
    name: "a proposal of the bid, beside an earlier one",
    writes: "insertProposal",
    addsSheets: true,
    readsPlans: true,
    async prepare() {
      await handWorkedPlans();
      await insertHandWorked();
      await sheet.insertProposal();
      await write("Proposal!A2", [["'=Mine & Co"]]);
      await writeMine();
      return () => sheet.insertProposal(true);
    },
  },
  {
    name: "three rooms' plans, with a new shelf",
    writes: "insertPlans",
    addsSheets: true,
    async prepare() {
      await writeMine();
      const rooms = ["Bay 1", "Bay 1", "Bay [3]"].map((name, i) =>
        planFor(floor({ floor: name, area: 500 + 100 * i })),
      );
      return () => sheet.insertPlans(rooms);
    },
  },
  {
    name: "a list of extras",
    writes: "insertExtrasList",
    addsSheets: true,
    async prepare() {
      await writeMine();
      return () => sheet.insertExtrasList("us", "$");
    },
  },
  {
    name: "a plan on a new sheet, with a new shelf",
    writes: "insertPlan",
    addsSheets: true,
    async prepare() {
      await writeMine();
      return () => sheet.insertPlan(plan, "new sheet");
    },
  },
  {
    name: "lines of a plan that stands there, over the user's cells",
    writes: "insertQuoteLines",
    atSelection: true,
    async prepare() {
      await writeMine();
      await sheet.insertPlan(plan, "new sheet");
      const [on] = await sheet.listPlans();
      await select("Sheet1!B6");
      return () => sheet.insertQuoteLines(on!.sheetId, ["price", "hours", "stages"], "$", true);
    },
  },
  {
    name: "the plan on a sheet, updated with stages and inputs that come and go",
    writes: "updatePlan",
    readsPlans: true,
    async prepare() {
      await writeMine();
      await sheet.insertPlan(plan, "new sheet");
      const [on] = await sheet.listPlans();
      await write("Sheet1!H1", [["='Stage plan'!C12"]]);
      const inputs = { ...plan.inputs, jointLength: 200, crew: 3 };
      const stages = [...plan.stages.slice(1), { work: "burnish" as const, tool: "Burnish" }];
      return () => sheet.updatePlan(on!.sheetId, { ...plan, inputs, stages });
    },
  },
  {
    name: "a plan with lines at the selected cell, over the user's cells, beside a shelf of the user's with machines",
    writes: "insertPlan",
    atSelection: true,
    addsSheets: true,
    async prepare() {
      const shelf = { ...starterShelf("us"), machines: starterMachines("us") };
      await putShelf(shelf, "us");
      await write("Sheet1!Z1:AA3", [
        [10, 12],
        [20, 19],
        [30, 33],
      ]);
      await writeMine();
      const stages = plan.stages.map((stage, i) => (i === 0 ? { ...stage, machine: shelf.machines[0]!.name } : stage));
      const pastJobs = { estimated: "Sheet1!$Z$1:$Z$3", actual: "Sheet1!$AA$1:$AA$3" };
      const inputs = { ...plan.inputs, pastJobs: "mine", passesFrom: "scratch" } as const;
      const full: sheet.Plan = { ...plan, inputs, shelf, stages, pastJobs };
      return () => sheet.insertPlan(full, "selected cell", true, [...sheet.QUOTE_LINES]);
    },
  },
  {
    name: "a call of a function",
    writes: "insertFunction",
    atSelection: true,
    async prepare() {
      await writeMine();
      await select("Sheet1!D6");
      return () => sheet.insertFunction("=GRIT.SIZE(30)");
    },
  },
  {
    name: "a machines table, with a new shelf",
    writes: "insertMachines",
    addsSheets: true,
    async prepare() {
      await writeMine();
      return () => sheet.insertMachines("us");
    },
  },
  {
    name: "what was measured of a tool, into cells and a new column of the user's table",
    writes: "writeMeasured",
    async prepare() {
      await putShelf(starterShelf("us"), "us");
      await Excel.run(async (context) => {
        context.workbook.tables.getItem("My_tools").columns.getItem("Wear mm per 1000 ft²").delete();
        await context.sync();
      });
      return () => sheet.writeMeasured(TOOL, { cut: 163, life: 24000, wear: 0.25 }, "us", true);
    },
  },
  {
    name: "a test strip, into a new table",
    writes: "addStrip",
    addsSheets: true,
    async prepare() {
      await writeMine();
      return () => sheet.addStrip(STRIP, "us");
    },
  },
  {
    name: "a test strip, into the first blank row of the user's table",
    writes: "addStrip",
    async prepare() {
      const blank = STRIP_COLUMNS.map(() => "");
      const rows = [...shelfRows([{ ...STRIP, slab: "Bay 1" }], STRIP_COLUMNS, "us"), blank, blank];
      await addTable("My_strips", "Strips", "B2", rows);
      return () => sheet.addStrip(STRIP, "us");
    },
  },
  {
    name: "an audit",
    writes: "insertAudit",
    addsSheets: true,
    async prepare() {
      await typeList("Old jobs", "B3", LIST);
      const { source, mapping, audit, problems } = await checkedList();
      return () => sheet.insertAudit(source, mapping, audit, problems, quietly());
    },
  },
  {
    name: "an empty jobs table",
    writes: "insertJobsTable",
    addsSheets: true,
    async prepare() {
      await writeMine();
      return () => sheet.insertJobsTable("us");
    },
  },
  {
    name: "a log, beside the forecast of a plan",
    writes: "insertLog",
    addsSheets: true,
    async prepare() {
      await sheet.insertPlan(plan, "new sheet");
      return () => sheet.insertLog();
    },
  },
  {
    name: "a line, into the blank row of the log",
    writes: "addLogLines",
    readsPlans: true,
    async prepare() {
      await writeLog();
      return () => sheet.addLogLines([LOG_LINE], LOGGED_LATER);
    },
  },
  {
    name: "two lines, below the last one of the log",
    writes: "addLogLines",
    readsPlans: true,
    async prepare() {
      await writeLog();
      await sheet.addLogLines([LOG_LINE], LOGGED_LATER);
      return () => sheet.addLogLines([NEXT_LINE, { ...NEXT_LINE, date: 46_358, height: 8 }], LOGGED_LATER);
    },
  },
  {
    name: "a finished job, into the last free row of the user's table of jobs",
    writes: "closeOut",
    readsPlans: true,
    async prepare() {
      await writeFinished();
      await addTable("Past", "Old jobs", "B3", [...LIST, LIST[0]!.map(() => "")]);
      return () => sheet.closeOut(10_500);
    },
  },
  {
    name: "a finished job, above the total of a list in plain cells",
    writes: "closeOut",
    inPlainCells: true,
    readsPlans: true,
    async prepare() {
      await writeFinished();
      await typeList("Old jobs", "B3", [...LIST, ["Total", 2000, 2200, 1500, 1580, 19, 21, ""]]);
      const { source, mapping } = await checkedList();
      await sheet.rememberMapping(source, mapping);
      return () => sheet.closeOut(10_500);
    },
  },
  {
    name: "a finished job, with a new jobs table",
    writes: "closeOut",
    addsSheets: true,
    readsPlans: true,
    async prepare() {
      await writeFinished();
      return () => sheet.closeOut(10_500, true);
    },
  },
  {
    name: "the choice of headings",
    writes: "rememberMapping",
    async prepare() {
      await typeList("Old jobs", "B3", LIST);
      const { source, mapping } = await checkedList();
      return () => sheet.rememberMapping(source, mapping);
    },
  },
  {
    name: "formulas entered again",
    writes: "repairWorkbook",
    async prepare(workbook) {
      await showUnrecognized(workbook);
      const known = CATALOGUE.map(({ id }) => id);
      return () => repairWorkbook(known, quietly());
    },
  },
];

/** Whether it writes into a table of the user's. */
/** Whether it writes lines of a quote at the selected cell. */
export const isLines = ({ atSelection, writes }: Command) => atSelection === true && writes !== "insertFunction";

/** Whether it writes over a sheet of ours. */
export const isInPlace = ({ writes }: Command) => writes === "updatePlan" || writes === "updateBid";

export const isIntoTable = ({ writes, addsSheets }: Command) =>
  writes === "writeMeasured" ||
  writes === "addLogLines" ||
  (writes === "closeOut" && !addsSheets) ||
  (writes === "addStrip" && !addsSheets);

export const isInserted = (outcome: unknown): outcome is sheet.Inserted =>
  typeof outcome === "object" && outcome !== null && "what" in outcome && "names" in outcome;

/** A message for the user: whole sentences, without Excel's codes and without what a programmer forgot. */
export function isPlain(message: string): boolean {
  const code = /\b[A-Z][a-z]+(?:[A-Z][a-z]+)+\b|undefined|null|NaN|\[object|\bError\b/;
  return /^[A-Z“].*[.?]$/s.test(message) && !code.test(message);
}

/** What a command came to: its result, or the refusal that it was stopped by. */
export async function outcomeOf(command: () => Promise<unknown>): Promise<unknown> {
  try {
    return await command();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return error;
  }
}
