/** An audit that fails, is canceled or undone leaves the workbook as it was; so does one that is read only. */
import { afterEach, describe, expect, it, vi } from "vitest";
import {
  findJobList,
  insertAudit,
  insertJobsTable,
  type Means,
  NeedsAnswer,
  Refusal,
  readJobs,
  undo,
} from "../../../addin/sheet";
import { auditOf } from "../../../functions/audit/audit";
import { guessMapping } from "../../../functions/audit/headings";
import { auditCells, auditList, figureUnder, quietly, typeList } from "./job-lists";
import { failRequest, openGritForEach, snapshot, workbook, write } from "./workbook";

// Each opens a workbook of its own, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

const HEADINGS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bid hours", "Hours worked", "Bond"];
const ROWS = [
  ["A1", 1000, 1000, 700, 780, 10, 12, "metal"],
  ["A2", "$1,200", 1200, 800, 800, 9, 9, "metal"],
  ["", "", "", "", "", "", "", ""],
  ["A3", 900, 950, 600, 610, 8, { f: "=1/0" }, "resin"],
  ["A4", 1500, 1500, 1000, 1100, 20, 22, "metal"],
];
const LIST = [HEADINGS, ...ROWS];

const typeIt = () => typeList("Old jobs", "B3", LIST);

/** Runs a command again and again, the n-th request failing, until it fails no more; gives how often it failed. */
async function failing(command: () => Promise<unknown>, when: "before" | "after"): Promise<number> {
  const before = await snapshot();
  for (let n = 1, failures = 0; ; n++) {
    const { reached } = failRequest(workbook, n, when);
    const outcome: any = await command().catch((error) => error);
    vi.restoreAllMocks();
    // The client's last request only lets go of what it tracked: by then all is written, and reported as done.
    if (!reached() || !(outcome instanceof Error)) return failures;
    expect(outcome, `request ${n}`).toBeInstanceOf(Refusal);
    expect(outcome.message).toBe("Excel refused this: The network went away. Nothing was changed.");
    expect(await snapshot(), `request ${n}`).toEqual(before);
    failures++;
  }
}

async function checkedList() {
  const source = await findJobList();
  const mapping = guessMapping(source.headings);
  const { jobs, problems } = await readJobs(source, mapping, quietly());
  return (means: Means) => insertAudit(source, mapping, auditOf(jobs), problems, means);
}

describe.each(["before", "after"] as const)("failing %s any of its requests,", (when) => {
  it("an audit leaves the workbook as it was", async () => {
    await typeIt();
    const write = await checkedList();
    expect(await failing(() => write(quietly()), when)).toBeGreaterThan(5);
  }, 60_000);

  it("so does an empty jobs table", async () => {
    // What is there; the sheet; the table.
    expect(await failing(() => insertJobsTable("us"), when)).toBe(3);
  }, 60_000);
});

describe("a cancel", () => {
  it("at any step leaves nothing, and says so", async () => {
    await typeIt();
    const write = await checkedList();
    const before = await snapshot();
    for (let step = 0; ; step++) {
      const canceling = new AbortController();
      let steps = 0;
      const progress = () => {
        if (steps++ === step) canceling.abort();
      };
      const outcome: any = await write({ signal: canceling.signal, progress }).catch((error) => error);
      if (!canceling.signal.aborted) {
        expect(step).toBeGreaterThan(1);
        expect(outcome.what).toBe("Audit written to the new sheets “Audit” and “Audit jobs”");
        return;
      }
      expect(outcome, `step ${step}`).toBeInstanceOf(Refusal);
      expect(outcome.message).toBe("Canceled; nothing was written.");
      expect(await snapshot(), `step ${step}`).toEqual(before);
    }
  });

  it("stops the reading of a list between two blocks of rows", async () => {
    const many = Array.from({ length: 2100 }, (_, i) => [i + 1, 10, 10, 5, 5]);
    await typeList("Old jobs", "A1", [HEADINGS.slice(0, 5), ...many]);
    const source = await findJobList();
    const canceling = new AbortController();
    const reported: number[] = [];
    const progress = (done: number, of: number) => {
      reported.push(done, of);
      canceling.abort();
    };
    const reading = readJobs(source, guessMapping(source.headings), { signal: canceling.signal, progress });
    await expect(reading).rejects.toThrow("Canceled; nothing was written.");
    expect(reported).toEqual([0, 2100]);
  });
});

describe("the undo of an audit", () => {
  it("takes the sheet away and leaves all else as it was", async () => {
    await typeIt();
    const before = await snapshot();
    const { written } = await auditList();
    await undo(written);
    expect(await snapshot()).toEqual(before);
  });

  it("asks nothing when only the list has changed since, for that the audit follows by itself", async () => {
    await typeIt();
    const { written } = await auditList();
    await write("Old jobs!F4", [[680]]);
    // A1 at 680 of 1000, A3 at 610 of 950, A4 at 1100 of 1500: 1 − 2390 / 3450.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(1 - 2390 / 3450, 12);
    await undo(written);
    expect(((await snapshot()) as any).sheets.map(({ name }: any) => name)).not.toEqual(
      expect.arrayContaining([expect.stringMatching("Audit")]),
    );
  });

  it("asks before it takes away what the user wrote into the sheet", async () => {
    await typeIt();
    const { written } = await auditList();
    await write("Audit!A7", [["my own note"]]);
    await expect(undo(written)).rejects.toThrow(NeedsAnswer);
    await undo(written, true);
    expect(((await snapshot()) as any).sheets.map(({ name }: any) => name)).not.toEqual(
      expect.arrayContaining([expect.stringMatching("Audit")]),
    );
  });
});

it("the list is the same before and after, cell by cell", async () => {
  await typeIt();
  const before: any = await snapshot();
  await auditList();
  const after: any = await snapshot();
  expect(after.sheets.filter(({ name }: any) => !["Audit", "Audit jobs"].includes(name))).toEqual(before.sheets);
});

it("more rows to fix than one request takes are all listed, each with its cell, reason and effect", async () => {
  const many = Array.from({ length: 2100 }, (_, i) => [`J${i + 1}`, 10, "n/a", 5, 5]);
  await typeList("Old jobs", "A1", [HEADINGS.slice(0, 5), ...many]);
  const { problems } = await auditList();
  expect(problems).toHaveLength(2100);
  const cells = await auditCells();
  expect(figureUnder(cells, "Rows to fix")).toBe(2100);
  expect(figureUnder(cells, "Jobs counted")).toBe(0);
  const listed = cells.filter((line) => /^Old jobs!C\d+$/.test(line[0]));
  expect(listed.map((line) => line[0])).toEqual(problems.map(({ row }) => `Old jobs!C${row + 2}`));
  const reason = 'Actual price must be above 0; got the text "n/a".';
  for (const line of listed) expect(line).toEqual(expect.arrayContaining([reason, "not counted"]));
});
