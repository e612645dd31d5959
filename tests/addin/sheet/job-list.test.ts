/** Where the list of past jobs is found, how it is named, what is refused, and what is remembered of it. */
import { describe, expect, it, vi } from "vitest";
import {
  findJobList,
  findLastList,
  insertJobsTable,
  type JobSource,
  jobTables,
  problemCell,
  Refusal,
  readJobs,
  readMapping,
  rememberMapping,
  undo,
} from "../../../addin/sheet";
import { JOB_KEYS } from "../../../functions/audit/fields";
import { guessMapping, type Mapping } from "../../../functions/audit/headings";
import { auditCells, auditList, figureUnder, jobRows, quietly, typeList } from "./job-lists";
import { openGritForEach, protect, select, snapshot, write } from "./workbook";

// Each opens a workbook of its own, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();

const HEADINGS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost"];
const A1 = ["A1", 1000, 1000, 700, 780];
const A2 = ["A2", 1200, 1200, 800, 790];
const A3 = ["A3", 900, 950, 600, 610];
const BLANK = ["", "", "", "", ""];
const MAPPING: Mapping = {
  job: "Job",
  quotedPrice: "Bid price",
  actualPrice: "Billed",
  quotedCost: "Bid cost",
  actualCost: "Final cost",
};

const refusal = async (work: Promise<unknown>): Promise<string> => {
  const error: any = await work.catch((caught) => caught);
  expect(error).toBeInstanceOf(Refusal);
  return error.message;
};
const namesOf = async (source: JobSource) =>
  (await readJobs(source, guessMapping(source.headings), quietly())).jobs.map(({ job }) => job);

describe("the list at the selected cell", () => {
  it("of plain cells begins at its headings, below a title and from whichever of its cells", async () => {
    await write("Sheet1!B1", [["Jobs of last year"]]);
    await typeList("Sheet1", "B3", [HEADINGS, A1, A2, A3]);
    for (const cell of ["B3", "D5", "F6"]) {
      await select(`Sheet1!${cell}`);
      const source = await findJobList();
      expect(source).toMatchObject({ name: "Sheet1!B3:F6", headings: HEADINGS, rows: 3 });
      expect(await namesOf(source)).toEqual(["A1", "A2", "A3"]);
    }
  });

  it("goes on below a blank row, which is reported, not skipped", async () => {
    await typeList("Sheet1", "A1", [HEADINGS, A1, BLANK, A2]);
    for (const cell of ["B2", "B4"]) {
      await select(`Sheet1!${cell}`);
      const source = await findJobList();
      const { rows, jobs, problems } = await readJobs(source, MAPPING, quietly());
      expect([source.name, rows, jobs.map(({ job }) => job)]).toEqual(["Sheet1!A1:E4", 3, ["A1", "A2"]]);
      expect(problems).toEqual([{ row: 1, key: null, wrong: { kind: "blankRow" }, effect: "left out" }]);
      expect(problemCell(source, MAPPING, problems[0]!)).toBe("Sheet1, row 3");
    }
  });

  it("of a table is the whole table, and nothing beside or below it", async () => {
    await typeList("My list", "C4", [HEADINGS, A1, A2], "Done");
    await write("My list!A20", [["a note"]]);
    await select("My list!D6");
    expect(await findJobList()).toMatchObject({ name: "table Done on “My list”", headings: HEADINGS, rows: 2 });
    expect(await jobTables()).toEqual(["Done"]);
  });

  it("has rows that were added since it was chosen", async () => {
    await typeList("Sheet1", "A1", [HEADINGS, A1]);
    const source = await findJobList();
    await write("Sheet1!A3:E3", [A2]);
    expect(await namesOf(source)).toEqual(["A1", "A2"]);
  });
});

describe("what is refused, in words:", () => {
  it("an empty sheet", async () => {
    expect(await refusal(findJobList())).toBe("This sheet is empty. Select a cell in your list of past jobs.");
  });

  it("numbers without headings", async () => {
    await typeList("Sheet1", "A1", [A1, A2]);
    expect(await refusal(findJobList())).toMatch(/^No headings found above the selected cell/);
  });

  it("headings without rows", async () => {
    await typeList("Sheet1", "A1", [HEADINGS]);
    expect(await refusal(findJobList())).toBe(
      "Sheet1!A1:E1 has no rows below its headings. Add your jobs, then try again.",
    );
  });

  it("another list below the first, which would be taken for jobs", async () => {
    const others = ["Tool", "Bond", "Life", "Price", "On hand"];
    await typeList("Sheet1", "A1", [HEADINGS, A1, BLANK, others, ["Metal 30", "metal", 20000, 300, 2]]);
    for (const cell of ["A1", "C5"]) {
      await select(`Sheet1!${cell}`);
      expect(await refusal(findJobList())).toBe(
        "A second list starts at A4, below this one. Keep one list per sheet, or make each one a table.",
      );
    }
  });

  it("but not the same headings again, nor numbers as text, which are rows to fix", async () => {
    const asText = ["A4", "$900", "n/a", "$600", "$610"];
    await typeList("Sheet1", "A1", [HEADINGS, A1, BLANK, HEADINGS, A2, BLANK, asText, A3]);
    const source = await findJobList();
    const { jobs, problems } = await readJobs(source, MAPPING, quietly());
    expect(jobs.map(({ job }) => job)).toEqual(["A1", "A2", "A3"]);
    expect([...new Set(problems.map(({ row }) => row))]).toEqual([1, 2, 4, 5]);
  });

  it("a sheet, a table or a heading that is gone", async () => {
    await typeList("Past", "A1", [HEADINGS, A1]);
    const plain = await findJobList();
    await typeList("Past", "H1", [HEADINGS, A1], "Done");
    const table = await findJobList();
    await write("Past!B1", [["Asked"]]);
    expect(await refusal(readJobs(plain, MAPPING, quietly()))).toBe(
      "The list no longer has a column “Bid price”. Choose its heading again.",
    );
    await write("Sheet1!A1", [["stays"]]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Past").delete();
      await context.sync();
    });
    expect(await refusal(readJobs(plain, MAPPING, quietly()))).toBe(
      "The sheet “Past” is no longer in this workbook. Choose another list.",
    );
    expect(await refusal(readJobs(table, MAPPING, quietly()))).toBe(
      "The table Done is no longer in this workbook. Choose another list.",
    );
    expect(await findLastList(table.place)).toBeUndefined();
  });

  it("a workbook whose structure is protected, which takes no new sheet", async () => {
    await typeList("Sheet1", "A1", [HEADINGS, A1]);
    const before = await snapshot();
    await Excel.run(async ({ workbook: { protection } }) => protection.protect());
    expect(await refusal(auditList())).toMatch(/structure is protected.*Nothing was changed; unprotect the workbook/);
    expect(await snapshot()).toEqual(before);
  });

  it("but not a protected list, which is only read", async () => {
    await typeList("Sheet1", "A1", [HEADINGS, A1, A2]);
    await protect("Sheet1");
    await auditList();
    expect(figureUnder(await auditCells(), "Jobs counted")).toBe(2);
  });
});

describe("headings of a table with characters that structured references escape", () => {
  const AWKWARD = ["Job #", "It's [bid] price", "Billed, $ (net)", "Bid cost @ home", "Final cost: all/in"];

  it("are read and audited as any", async () => {
    await typeList("Bob's jobs", "A1", [AWKWARD, A1, A2], "Done");
    const keys = Object.keys(MAPPING);
    const { written } = await auditList(Object.fromEntries(keys.map((key, i) => [key, AWKWARD[i]!])));
    expect(written.what).toBe("Audit written to the new sheets “Audit” and “Audit jobs”");
    const cells = await auditCells();
    // 1000 + 1200 quoted; (1000 − 700 − (1000 − 780)) + (1200 − 800 − (1200 − 790)) = 80 − 10.
    expect(figureUnder(cells, "Quoted price")).toBe(2200);
    expect(figureUnder(cells, "Fade, money")).toBe(70);
  });

  it("are read from plain cells on a sheet with an apostrophe in its name", async () => {
    await typeList("Bob's jobs", "A1", [AWKWARD, A1, A2]);
    await auditList(Object.fromEntries(Object.keys(MAPPING).map((key, i) => [key, AWKWARD[i]!])));
    expect(jobRows(await auditCells(), 2).map((line) => line["Fade, money"])).toEqual([80, -10]);
  });
});

describe("the choice of headings", () => {
  const keep = (value: unknown) =>
    Excel.run(async (context) => {
      context.workbook.settings.add("Gritledger.jobs", value as any);
      await context.sync();
    });
  const kept = () =>
    Excel.run(async (context) => {
      const setting = context.workbook.settings.getItem("Gritledger.jobs").load("value");
      await context.sync();
      return setting.value;
    });

  it("is nothing at first, and remembered in the workbook with the list it was made for", async () => {
    expect(await readMapping()).toBeUndefined();
    await typeList("Sheet1", "B2", [HEADINGS, A1]);
    await rememberMapping(await findJobList(), MAPPING);
    const remembered = await readMapping();
    expect(remembered?.mapping).toEqual(MAPPING);
    expect(await findLastList(remembered!.place)).toMatchObject({ name: "Sheet1!B2:F3" });
  });

  it("of a version that is not known is refused, and left as it was", async () => {
    await typeList("Sheet1", "A1", [HEADINGS, A1]);
    const source = await findJobList();
    const theirs = { version: 2, mapping: { job: "Job" }, table: "Jobs" };
    await keep(theirs);
    expect(await refusal(readMapping())).toMatch(/version 2, and this add-in reads version 1.*left as they are/);
    expect(await refusal(rememberMapping(source, MAPPING))).toMatch(/version 2/);
    expect(await kept()).toEqual(theirs);
  });
});

describe("an empty jobs table", () => {
  it("has headings that explain themselves, in both units, and is taken as a list once it has a job", async () => {
    for (const [units, sheet] of [
      ["us", "Jobs"],
      ["metric", "Jobs 2"],
    ] as const) {
      const inserted = await insertJobsTable(units);
      expect(inserted.what).toBe(`An empty jobs table was written to the new sheet “${sheet}”`);
      const table = inserted.sheets[0]!.name === "Jobs" ? "Jobs" : "Jobs_2";
      const source = await findJobList({ table });
      expect(Object.keys(guessMapping(source.headings))).toEqual(JOB_KEYS);
      const { jobs, problems } = await readJobs(source, guessMapping(source.headings), quietly());
      expect([jobs, problems.length]).toEqual([[], 1]);
    }
  });

  it("is taken away by its undo", async () => {
    const before = await snapshot();
    await undo(await insertJobsTable("us"));
    expect(await snapshot()).toEqual(before);
  });
});
