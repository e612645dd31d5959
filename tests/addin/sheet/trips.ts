/** How often each command goes to the spreadsheet program and back, and with how many actions, counted at the host. */
import * as sheet from "../../../addin/sheet";
import { checkWorkbook } from "../../../addin/sheet/repair-cells";
import { auditOf } from "../../../functions/audit/audit";
import { guessMapping } from "../../../functions/audit/headings";
import { FUNCTIONS } from "../../../functions/topics";
import { CATALOGUE } from "../../catalogue";
import { followPlan, openPane } from "../pane/open-pane";
import { putShelf } from "./agreement";
import { isInserted, LIST, LOG_LINE, plan, WRITING_COMMANDS } from "./faults-commands";
import { auditList, quietly, typeList } from "./job-lists";
import { type GritWorkbook, openGrit, select, write } from "./workbook";

export interface Trips {
  readonly syncs: number;
  readonly actions: number;
}

interface Counted {
  readonly name: string;
  /** Puts into an empty workbook what the command needs; gives the command. */
  prepare(workbook: GritWorkbook): Promise<() => Promise<unknown>>;
}

const findInTable = () => sheet.findJobList({ table: "Past" });

const READING: readonly Counted[] = [
  {
    name: "the shelf, read",
    async prepare() {
      await putShelf(plan.shelf, "us");
      return () => sheet.readShelf("us");
    },
  },
  {
    name: "a list in a table, found",
    async prepare() {
      await typeList("Old jobs", "B3", LIST, "Past");
      return findInTable;
    },
  },
  {
    name: "a list in a table, checked",
    async prepare() {
      await typeList("Old jobs", "B3", LIST, "Past");
      return checkOf(await findInTable());
    },
  },
  {
    name: "a list in plain cells, found at the selected one",
    async prepare() {
      await typeList("Old jobs", "B3", LIST);
      return () => sheet.findJobList();
    },
  },
  {
    name: "a list in plain cells, checked",
    async prepare() {
      await typeList("Old jobs", "B3", LIST);
      return checkOf(await sheet.findJobList());
    },
  },
  {
    name: "a list with a blank row, checked",
    async prepare() {
      await typeList("Old jobs", "B3", [...LIST, LIST[0]!.map(() => ""), LIST[1]!]);
      return checkOf(await sheet.findJobList());
    },
  },
  {
    name: "the log, read",
    async prepare() {
      await sheet.insertPlan(plan, "new sheet");
      await sheet.insertLog();
      await sheet.addLogLines([LOG_LINE], LOG_LINE.date);
      return () => sheet.readLog();
    },
  },
  {
    name: "a foreman's list, read at the selected cell",
    async prepare() {
      await sheet.insertPlan(plan, "new sheet");
      await sheet.insertLog();
      const cells = ["Day", "Room", "Step", "Sq. ft."];
      await typeList("Phone", "B3", [cells, [LOG_LINE.date, LOG_LINE.floor, LOG_LINE.stage, 900]]);
      return () => sheet.readForemansList();
    },
  },
  { name: "the choice of headings, read", prepare: async () => () => sheet.readMapping() },
  {
    name: "the math of a cell",
    async prepare() {
      await typeCallOfOurs();
      return () => sheet.readMath(CATALOGUE, FUNCTIONS);
    },
  },
  {
    name: "a workbook checked for repair",
    async prepare() {
      await typeCallOfOurs();
      const known = CATALOGUE.map(({ id }) => id);
      return () => checkWorkbook(known, quietly());
    },
  },
  {
    name: "a plan's calibration, kept up",
    async prepare() {
      await typeList("Old jobs", "B3", LIST);
      const { calibrationRefs } = (await auditList()).written;
      return () => sheet.readCalibration(calibrationRefs[0]!.line, "all");
    },
  },
  {
    name: "linked cells, kept up",
    prepare: async () => () => sheet.readLinked(LINKED),
  },
  {
    name: "linked cells, kept up again",
    async prepare() {
      const followed: sheet.FollowedCell[] = [];
      await sheet.readLinked([{ key: "area", address: "Sheet1!A1" }], followed);
      return () => sheet.readLinked([{ key: "area", address: "Sheet1!A1" }], followed);
    },
  },
  { name: "the selected cell, read", prepare: async () => () => sheet.readSelectedCell() },
  { name: "the sheets, listed", prepare: async () => () => sheet.listSheets() },
  { name: "the selected cells, read", prepare: async () => () => sheet.selectedCells() },
  { name: "every cell, recalculated", prepare: async () => () => sheet.recalculate() },
];

const LINKED: sheet.LinkedCell[] = [
  { key: "area", address: "Sheet1!$A$1" },
  { key: "crew", address: "Gone!$A$1" },
];

const checkOf = (source: sheet.JobSource) => () => sheet.readJobs(source, guessMapping(source.headings), quietly());

async function typeCallOfOurs(): Promise<void> {
  await write("Sheet1!A1:B2", [
    [30, ""],
    ["=GRIT.SIZE(A1)", "=A2"],
  ]);
  await select("Sheet1!B2");
}

/** What writes is in the list of the fault tests; a shelf of the user's own saves a plan a sheet, and costs it a look. */
const WRITING: readonly Counted[] = [
  ...WRITING_COMMANDS,
  {
    name: "a plan on a new sheet, beside a shelf of the user's",
    async prepare() {
      await putShelf(plan.shelf, "us");
      return () => sheet.insertPlan(plan, "new sheet");
    },
  },
  {
    name: "an audit of a list in a table",
    async prepare() {
      await typeList("Old jobs", "B3", LIST, "Past");
      const source = await findInTable();
      const mapping = guessMapping(source.headings);
      const { jobs, problems } = await sheet.readJobs(source, mapping, quietly());
      return () => sheet.insertAudit(source, mapping, auditOf(jobs), problems, quietly());
    },
  },
];

/** Counts what passes the host's entry until some work is done. */
async function counted<T>({ host }: GritWorkbook, work: () => Promise<T>): Promise<readonly [T, Trips]> {
  let [syncs, actions] = [0, 0];
  const process = host.process.bind(host);
  host.process = (batch) => {
    syncs++;
    actions += batch.Actions.length;
    return process(batch);
  };
  const result = await work();
  host.process = process;
  return [result, { syncs, actions }];
}

/** Every command, each in a workbook of its own, and after it its undo. */
export async function allTrips(): Promise<Record<string, Trips>> {
  const trips: Record<string, Trips> = {};
  for (const { name, prepare } of [...WRITING, ...READING]) {
    const workbook = await openGrit();
    try {
      const [outcome, taken] = await counted(workbook, await prepare(workbook));
      trips[name] = taken;
      if (!isInserted(outcome)) continue;
      [, trips[`${name}: undone`]] = await counted(workbook, () => sheet.undo(outcome));
    } finally {
      await workbook.dispose();
    }
  }
  return trips;
}

/** From a click in the pane until it has come to rest, with what it reads before and after. */
export async function paneTrips(): Promise<Record<string, Trips>> {
  const workbook = await openGrit();
  try {
    const opened = openPane();
    followPlan(opened);
    const { store, commands } = opened;
    await sheet.watchWorkbook(commands.workbookChanged);
    const untilRest = async (work: Promise<void>) => {
      await work;
      await new Promise((resume) => setTimeout(resume, 2000));
    };
    const [, inserting] = await counted(workbook, () => untilRest(commands.insertTable("new sheet")));
    const { inserted } = store.state.message!;
    const [, undoing] = await counted(workbook, () => untilRest(commands.undo(inserted!)));
    return { "the pane's button, a plan on a new sheet": inserting, "the pane's button, undo": undoing };
  } finally {
    await workbook.dispose();
  }
}
