import { beforeEach, describe, expect, it, vi } from "vitest";
import type { Calibration } from "../../../../addin/pane/calibration";
import { takeSource } from "../../../../addin/pane/jobs/list";
import { startJobs } from "../../../../addin/pane/jobs/state";
import { undoableBesides } from "../../../../addin/pane/messages";
import { useCalibration } from "../../../../addin/pane/plan/calibration";
import { fillInExample, startPlan } from "../../../../addin/pane/plan/state";
import type { State } from "../../../../addin/pane/state";
import { doing } from "../../../../addin/pane/texts";
import { useInPlan } from "../../../../addin/pane/use-calibration";
import * as sheet from "../../../../addin/sheet";
import { auditOf } from "../../../../functions/audit/audit";
import { openPane } from "../open-pane";
import { source, writtenFor } from "./fixtures";

// Only what reaches the workbook is replaced; the refusals, the check and the audit are the real ones.
vi.mock("../../../../addin/sheet", async (original) => ({
  ...(await original<typeof sheet>()),
  findJobList: vi.fn(),
  findLastList: vi.fn(),
  jobTables: vi.fn(),
  readJobs: vi.fn(),
  readMapping: vi.fn(),
  rememberMapping: vi.fn(),
  insertJobsTable: vi.fn(),
  insertAudit: vi.fn(),
  insertPlan: vi.fn(),
  readCalibration: vi.fn(),
  readShelf: vi.fn(),
  undo: vi.fn(),
}));
const workbook = vi.mocked(sheet);

const METAL: Calibration = {
  label: "metal bond, 3 jobs",
  by: "bond",
  value: "metal",
  known: { factor: 1, spread: 0.2, jobs: 3 },
  estimated: "'Audit 2'!$A$1",
  actual: "'Audit 2'!$B$1",
  line: "'Audit 2'!$H$10:$M$10",
};
const LIST = source({ headings: ["Job", "Bid price", "Billed", "Bid cost", "Final cost"] });
const MAPPING = {
  job: "Job",
  quotedPrice: "Bid price",
  actualPrice: "Billed",
  quotedCost: "Bid cost",
  actualCost: "Final cost",
};
const JOB = {
  row: 0,
  job: "C1",
  passes: 1,
  price: { quoted: 1000, actual: 1000 },
  cost: { quoted: 700, actual: 780 },
};
const FOUND = { jobs: [JOB], problems: [], rows: 1 };
const WRITTEN = writtenFor(auditOf([JOB]));

const paneWith = (state: Partial<State> = {}) => openPane(state);

const withList = () => paneWith({ jobs: takeSource(startJobs(), LIST, {}) });

beforeEach(() => {
  vi.resetAllMocks();
  workbook.jobTables.mockResolvedValue([]);
  workbook.readMapping.mockResolvedValue(undefined);
  workbook.findJobList.mockResolvedValue(LIST);
  workbook.readJobs.mockResolvedValue(FOUND);
  workbook.insertAudit.mockResolvedValue(WRITTEN);
  const { shelf } = startPlan().shelf;
  workbook.readShelf.mockResolvedValue({ shelf, from: "the starter shelf", problems: [] });
});

describe("a job list", () => {
  it("at the selected cell is taken, and named", async () => {
    const { store, commands } = paneWith();
    await commands.jobs.takeSelected();
    expect(store.state.jobs).toMatchObject({ source: LIST, mapping: MAPPING });
    expect(store.state.message).toMatchObject({ kind: "done", text: "Past jobs!A1:F5: 5 columns, 4 rows." });
  });

  it("that is none is refused in words, and the list before it stays", async () => {
    workbook.findJobList.mockRejectedValue(new sheet.Refusal("There is no list at Quote!B2."));
    const { store, commands } = withList();
    await commands.jobs.takeSelected();
    expect(store.state.message).toEqual({ kind: "error", text: "There is no list at Quote!B2." });
    expect(store.state.jobs.source).toBe(LIST);
  });

  it("of last time is there again when the view opens, with its headings", async () => {
    workbook.jobTables.mockResolvedValue(["Jobs"]);
    workbook.readMapping.mockResolvedValue({ mapping: MAPPING, place: { table: "Jobs" } });
    workbook.findLastList.mockResolvedValue(LIST);
    const { store, commands } = paneWith();
    await commands.jobs.look();
    expect(store.state.jobs).toMatchObject({ tables: ["Jobs"], source: LIST, chosen: "last time" });
    expect(store.state.message).toBeNull();
    expect(store.state.reads.jobs).toEqual({ due: false, running: false });
  });
});

describe("headings kept by another version", () => {
  const refusal = new sheet.Refusal("The headings are of version 2. They were left as they are.");

  it("are done without, and the user told", async () => {
    workbook.readMapping.mockRejectedValue(refusal);
    const { store, commands } = paneWith();
    await commands.jobs.takeSelected();
    expect(store.state.jobs).toMatchObject({ source: LIST, chosen: "guess" });
    expect(store.state.message).toMatchObject({ kind: "note" });
    expect(store.state.message?.text).toContain(refusal.message);
  });

  it("do not keep the list from being checked", async () => {
    workbook.rememberMapping.mockRejectedValue(refusal);
    const { store, commands } = withList();
    await commands.jobs.check();
    expect(store.state.jobs.checked?.audit.jobs).toBe(1);
    expect(store.state.message?.text).toContain(refusal.message);
  });
});

describe("an empty jobs table", () => {
  it("is written, can be undone, and is among the tables to choose from", async () => {
    const table = { ...WRITTEN, what: "An empty jobs table was written to the new sheet “Jobs”" };
    workbook.insertJobsTable.mockResolvedValue(table);
    workbook.jobTables.mockResolvedValueOnce(["Tooling"]).mockResolvedValue(["Tooling", "Jobs"]);
    const { store, commands } = paneWith();
    await commands.jobs.look();
    await commands.jobs.insertTable();
    expect(workbook.insertJobsTable).toHaveBeenCalledWith("us");
    expect(store.state.message).toEqual({ kind: "done", text: `${table.what}.`, inserted: table });
    expect(store.state.jobs.tables).toEqual(["Jobs", "Tooling"]);
  });
});

describe("the check", () => {
  it("tells what it found and remembers the headings that served", async () => {
    const { store, commands } = withList();
    await commands.jobs.check();
    expect(store.state.message?.text).toBe("1 row: 1 job counted, 0 not counted, no problems.");
    expect(workbook.rememberMapping).toHaveBeenCalledWith(LIST, MAPPING);
    expect(workbook.insertAudit).not.toHaveBeenCalled();
  });

  it("hears a cancel between two steps of working the figures out, and then remembers nothing", async () => {
    const { store, commands } = withList();
    const change = store.change.bind(store);
    vi.spyOn(store, "change").mockImplementation((next) => {
      change(next);
      if (store.state.jobs.progress?.doing === "Working out the figures") commands.jobs.cancel();
    });
    await commands.jobs.check();
    expect(store.state.message).toEqual({ kind: "note", text: "Canceled; nothing was written." });
    expect(store.state.jobs).toMatchObject({ checked: null, progress: null });
    expect(workbook.rememberMapping).not.toHaveBeenCalled();
  });
});

describe("the audit", () => {
  it("reads the list again before it writes, and can be undone", async () => {
    const { store, commands } = withList();
    await commands.jobs.check();
    await commands.jobs.writeAudit();
    expect(workbook.readJobs).toHaveBeenCalledTimes(2);
    expect(store.state.message).toEqual({ kind: "done", text: `${WRITTEN.what}.`, inserted: WRITTEN });
    expect(store.state.jobs).toMatchObject({ written: { sheet: WRITTEN }, progress: null });
    await commands.undo(WRITTEN);
    expect(store.state.jobs.written).toBeNull();
  });

  it("can still be undone after a calibration from it was taken into the plan", async () => {
    const { store, commands } = withList();
    await commands.jobs.writeAudit();
    expect(undoableBesides(store.state)).toBeNull(); // the message itself offers it
    store.change((state) => ({ ...useInPlan(state, METAL), message: null }));
    expect(undoableBesides(store.state)).toBe(WRITTEN);
    expect(undoableBesides({ ...store.state, busy: doing("undoing", "undo") })).toBeNull();
    workbook.undo.mockRejectedValueOnce(new sheet.Refusal("The sheet is protected."));
    await commands.undo(WRITTEN);
    expect(undoableBesides(store.state)).toBe(WRITTEN);
    await commands.undo(WRITTEN);
    expect(undoableBesides(store.state)).toBeNull();
  });

  it("shows how far it is, and a cancel stops it and says that nothing was written", async () => {
    const { store, commands } = withList();
    workbook.insertAudit.mockImplementation(async (_source, _mapping, _audit, _problems, { signal, progress }) => {
      progress(2000, 20000, "Writing rows");
      expect(store.state.jobs.progress).toEqual({ doing: "Writing rows", done: 2000, of: 20000 });
      commands.jobs.cancel();
      expect(signal.aborted).toBe(true);
      throw new sheet.Refusal("Canceled; nothing was written.");
    });
    await commands.jobs.writeAudit();
    expect(store.state.message).toEqual({ kind: "note", text: "Canceled; nothing was written." });
    expect(store.state.jobs).toMatchObject({ written: null, progress: null });
  });

  it("starts afresh after a cancel", async () => {
    const { store, commands } = withList();
    commands.jobs.cancel();
    await commands.jobs.writeAudit();
    expect(store.state.jobs.written?.sheet).toBe(WRITTEN);
  });

  it("that fails half way leaves no progress behind, and says why", async () => {
    workbook.insertAudit.mockRejectedValue(new sheet.Refusal("The workbook is protected."));
    const { store, commands } = withList();
    await commands.jobs.writeAudit();
    expect(store.state.message).toEqual({ kind: "error", text: "The workbook is protected." });
    expect(store.state.jobs).toMatchObject({ written: null, progress: null });
  });
});

describe("a stage table that learns from past jobs", () => {
  const learning = () => openPane({}, useCalibration(fillInExample(startPlan()), METAL));

  it("refers to the cells of their audit", async () => {
    workbook.readCalibration.mockResolvedValue({ factor: 1.1, low: 1, high: 1.21, jobs: 3 });
    workbook.insertPlan.mockResolvedValue(WRITTEN);
    const { commands } = learning();
    await commands.insertTable("new sheet");
    expect(workbook.insertPlan.mock.calls[0]?.[0].pastJobs).toMatchObject({ actual: METAL.actual });
  });

  it("is not written when that audit is gone", async () => {
    workbook.readCalibration.mockResolvedValue({ kind: "sheetGone" });
    const { store, commands } = learning();
    await commands.insertTable("new sheet");
    expect(workbook.readCalibration).toHaveBeenCalledWith(METAL.line, "metal");
    expect(workbook.insertPlan).not.toHaveBeenCalled();
    expect(store.state.message?.text).toContain("(metal bond, 3 jobs) is gone or has another name");
  });
});
