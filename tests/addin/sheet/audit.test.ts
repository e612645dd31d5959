/** The Audit sheet of five jobs held against figures worked out on paper, and how it follows its list. */
import { describe, expect, it, vi } from "vitest";
import { auditSheets } from "../../../addin/sheet/audit-sheet";
import { askRowCounts } from "../../../addin/sheet/past-jobs";
import { calibrateGroups } from "../../../functions/jobs";
import { close } from "./agreement";
import { FIVE_JOBS } from "./five-jobs";
import { auditCells, auditList, figureUnder, jobRows, rowsUnder, typeList } from "./job-lists";
import { cellValue, openGritForEach, select, valuesOf, write } from "./workbook";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();

const ON = "Old jobs";
/** The five jobs from A1 on, so that job 101 is in row 2. */
async function auditFive(table?: string) {
  await typeList(ON, "A1", FIVE_JOBS, table);
  return auditList();
}
const COLUMN_OF: Record<string, string> = Object.fromEntries(
  FIVE_JOBS[0]!.map((heading, i) => [heading, String.fromCharCode(65 + i)]),
);
/** Types into a job's cell; jobs count from 101. */
const type = (job: number, heading: string, value: unknown) =>
  write(`${ON}!${COLUMN_OF[heading]}${job - 99}`, [[value]]);

/** What is seen in the first job's row of a column. */
const shownBelow = (title: string): Promise<string> =>
  Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem("Audit jobs").getUsedRange().load("text");
    await context.sync();
    const head = used.text.findIndex((line) => line.includes(title));
    return used.text[head + 1]![used.text[head]!.indexOf(title)]!;
  });

const causesIn = (cells: any[][]) =>
  Object.fromEntries(rowsUnder(cells, ["Cause", "Money lost"]).map((row) => [row.Cause, row["Money lost"]]));
/** The lines of the three classes of slab. */
const slabsIn = (cells: any[][]) =>
  rowsUnder(cells, ["Slab", "Jobs", "Area/h", "Area/set"], "Rate and tool life by slab").slice(0, 3);
const calibrationsIn = (cells: any[][]) =>
  rowsUnder(cells, ["Group", "By", "Jobs", "Factor", "Low, 90%", "High, 90%", "Per 100 h"]);
const calibration = (cells: any[][], like: string, by: string) =>
  calibrationsIn(cells).find((row) => row.Group === like && row.By === by)!;

// Worked by hand: labor rate is (actual − quoted rate) × actual hours, labor hours (actual − quoted) × quoted rate,
// tools in the same way; the fade is (price − cost) as quoted less (price − cost) in the end; other is the rest of it.
// Job 105 does not record its tools, so what they cost more or less is not known, and is in other.
const BY_JOB: Record<string, readonly (number | undefined)[]> = {
  //     fade   rate        hours         use            price        liquids  other
  "101": [400, 2 * 44, 4 * 40, 0.5 * 300, 20 * 1.5, 10, 400 - 438],
  "102": [160, 0, 0, 0, 0, 50, 110],
  "103": [-1000, 1.25 * 40, -10 * 40, -0.5 * 300, 0, -50, -1000 + 550],
  "104": [250, 0, 5 * 38, 0.15 * 200, 10 * 0.55, -10, 250 - 215.5],
  "105": [200.55, 3.33, 0, undefined, undefined, 0, 197.22],
};
const SUMS = [10.55, 141.33, -50, 30, 35.5, 0, -146.28];
const CAUSES = ["Labor rate", "Labor hours", "Tooling use", "Tooling price", "Liquids", "Other"];

const HOURS = ["Quoted hours", "Actual hours"] as const;

describe.each([
  ["a table", "Jobs"],
  ["plain cells", undefined],
])("an audit of five jobs in %s", (_, table) => {
  it("has the key figures that are worked out by hand", async () => {
    await auditFive(table);
    const cells = await auditCells();
    expect(figureUnder(cells, "Jobs counted")).toBe(5);
    expect(figureUnder(cells, "Not counted")).toBe(0);
    expect(figureUnder(cells, "Rows to fix")).toBe(0);
    expect(figureUnder(cells, "Unusual hours")).toBe(0);
    close(figureUnder(cells, "Quoted price"), 5000 + 4000 + 8000 + 2500 + 1200);
    close(figureUnder(cells, "Actual price"), 5000 + 4200 + 8000 + 2500 + 1000.55);
    const quoted = (20700 - 15400) / 20700;
    const actual = (20700.55 - 15411.1) / 20700.55;
    close(figureUnder(cells, "Quoted margin"), quoted);
    close(figureUnder(cells, "Actual margin"), actual);
    close(figureUnder(cells, "Margin fade"), quoted - actual);
    close(figureUnder(cells, "Fade, money"), 5300 - 5289.45);
  });

  it("parts each job's margin fade and the whole by cause, to the cent", async () => {
    await auditFive(table);
    const cells = await auditCells();
    for (const line of jobRows(cells, 5)) {
      const figures = ["Fade, money", ...CAUSES].map((title) => line[title]);
      BY_JOB[line.Job]!.forEach((money, i) => {
        if (money === undefined) expect(figures[i]).toBe("not known");
        else close(figures[i], money);
      });
      const [fade, ...parts] = figures.map((money) => Math.round((money === "not known" ? 0 : money) * 100));
      expect(parts.reduce((sum, part) => sum! + part!, 0)).toBe(fade);
    }
    const causes = causesIn(cells);
    [...CAUSES, "All"].forEach((cause, i) => {
      close(causes[cause], i < CAUSES.length ? SUMS[i + 1]! : SUMS[0]!);
    });
    // Of 105 alone, and none once its tools are recorded: 0 more, at a price 10 higher.
    close(causes["Part of Other"], 197.22);
    const shares = rowsUnder(cells, ["Cause", "Share"]);
    close(shares[0]!.Share, 141.33 / 10.55);
    close(jobRows(cells, 5)[0]!["Quoted margin"], 0.3);
    close(jobRows(cells, 5)[2]!["Actual margin"], 0.375);
    close(jobRows(cells, 5)[3]!["Margin fade"], 0.2 - 0.1);
  });

  it("says in a word which hours are not used, and how much of Other is of jobs with missing details", async () => {
    await auditFive(table);
    for (const [heading, value] of [
      ["Quoted sets", 1],
      ["Actual sets", 1],
      ["Quoted set price", 300],
      ["Actual set price", 310],
    ] as const) {
      await type(105, heading, value);
    }
    close(causesIn(await auditCells())["Part of Other"], 0);
    await type(101, "Actual hours", 0);
    const cells = await auditCells();
    const [line] = jobRows(cells, 5);
    expect(line).toMatchObject({ "Labor rate": "not known", "Labor hours": "not known", "Quoted hours": 0 });
    // Of 400 the tools took 180 and the liquids 10.
    close(line!.Other, 400 - 150 - 30 - 10);
    close(causesIn(cells)["Part of Other"], 210);
    expect(await shownBelow("Quoted hours")).toBe("not used");
  });

  it("has rates and tool lives over all floor worked, passes counted, by slab and by bond and slab", async () => {
    await auditFive(table);
    const cells = await auditCells();
    const slabs = slabsIn(cells);
    // Soft: job 104. Medium: 101, 103 and 105, whose sets were not written down. Hard: 102.
    expect(slabs.map((row) => [row.Slab, row.Jobs])).toEqual([
      ["soft slab", 1],
      ["medium slab", 3],
      ["hard slab", 1],
    ]);
    [10000 / 25, (8000 + 5000 + 1000) / (44 + 40 + 10), 9000 / 30].forEach((rate, i) => {
      close(slabs[i]!["Area/h"], rate);
    });
    [10000 / 0.55, (8000 + 5000) / (1.5 + 0.5), 9000 / 2].forEach((life, i) => {
      close(slabs[i]!["Area/set"], life);
    });
    const both = rowsUnder(cells, ["Bond", "Slab", "Jobs", "Area/h", "Area/set"], "By bond and slab");
    expect(both.map((row) => [row.Bond, row.Slab, row.Jobs])).toEqual([
      ["metal", "medium slab", 2],
      ["metal", "hard slab", 1],
      ["resin", "soft slab", 1],
      ["resin", "medium slab", 1],
      ["other or blank", "", 0],
    ]);
    close(both[0]!["Area/h"], 13000 / 84);
    close(both[0]!["Area/set"], 6500);
    close(both[3]!["Area/h"], 100);
    expect(both[3]!["Area/set"]).toBe("not recorded");
  });

  it("gives a factor, its interval and hours at a confidence for each group of 3 jobs or more", async () => {
    await auditFive(table);
    const cells = await auditCells();
    expect(calibrationsIn(cells).map((row) => [row.Group, row.By, row.Jobs])).toEqual([
      ["all", "all jobs", 5],
      ["metal", "bond", 3],
      ["resin", "bond", 2],
      ["other or blank", "bond", 0],
      ["soft slab", "slab", 1],
      ["medium slab", "slab", 3],
      ["hard slab", "slab", 1],
      ["other or blank", "slab", 0],
      ["Narrow", "machine", 2],
      ["Wide", "machine", 3],
      ["other or blank", "machine", 0],
    ]);
    // Hours over quote: 44/40, 30/30, 40/50, 25/20 and 10/10.
    close(calibration(cells, "all", "all jobs").Factor, (1.1 * 1 * 0.8 * 1.25 * 1) ** (1 / 5));
    const [a, b, c] = [Math.log(1.1), 0, Math.log(0.8)] as const;
    const mean = (a + b + c) / 3;
    const spread = Math.sqrt(((a - mean) ** 2 + (b - mean) ** 2 + (c - mean) ** 2) / 2);
    // Student's t with 2 degrees of freedom: 2.91998558 at 0.95 (t table), 0.6 / √0.32 at 0.8.
    const reach = (2.91998558 * spread) / Math.sqrt(3);
    for (const metal of [calibration(cells, "metal", "bond"), calibration(cells, "Wide", "machine")]) {
      close(metal.Factor, 0.88 ** (1 / 3));
      expect(metal["Low, 90%"]).toBeCloseTo(Math.exp(mean - reach), 7);
      expect(metal["High, 90%"]).toBeCloseTo(Math.exp(mean + reach), 7);
      close(metal["Per 100 h"], 100 * Math.exp(mean + (0.6 / Math.sqrt(0.32)) * spread * Math.sqrt(4 / 3)));
    }
    expect(calibration(cells, "resin", "bond").Factor).toBe("fewer than 3");
    expect(calibration(cells, "resin", "bond")["Low, 90%"]).toBe("");
  });

  it("draws groups of few jobs toward all, as CALIBRATEBY does", async () => {
    await auditFive(table);
    const borrowing = async () =>
      rowsUnder(
        await auditCells(),
        ["Group", "By", "Jobs", "Factor", "Low, 90%", "High, 90%", "From all"],
        "By group, few jobs borrowing from all",
      );
    const expectAgrees = async () => {
      const rows = await borrowing();
      const cells = await valuesOf(`${ON}!A2:${COLUMN_OF[String(FIVE_JOBS[0]!.at(-1))]}6`);
      const at = (heading: string) => FIVE_JOBS[0]!.indexOf(heading);
      const of = (name: string, column: number) => {
        const ratios = (jobs: any[][]) => jobs.map((job) => Math.log(job[at(HOURS[1])] / job[at(HOURS[0])]));
        const words = [...new Set(cells.map((job) => String(job[column])))];
        const groups = words.map((value) => ({
          value,
          logRatios: ratios(cells.filter((job) => job[column] === value)),
        }));
        const wanted = calibrateGroups(groups, 0.9);
        for (const { value, jobs, factor, low, high, borrowed } of wanted) {
          const row = rows.find(({ Group, By }) => Group === value && By === name)!;
          expect(row.Jobs).toBe(jobs);
          const shown = [row.Factor, row["Low, 90%"], row["High, 90%"], row["From all"]];
          for (const [i, figure] of [factor, low, high, borrowed].entries()) close(shown[i], figure);
        }
        return wanted.length;
      };
      expect(of("bond", at("Bond"))).toBeGreaterThan(1);
      expect(of("machine", at("Machine"))).toBeGreaterThan(1);
    };
    await expectAgrees();
    await type(102, HOURS[1], 61);
    await expectAgrees();
  });

  it("follows a changed number, from the job's row to the totals and the calibration", async () => {
    await auditFive(table);
    // 100 h where 10 were quoted: 90 h at 38 more, and a ratio of 10 beside the others' 0.8 to 1.25.
    await type(105, "Actual hours", 100);
    const cells = await auditCells();
    const line = jobRows(cells, 5)[4]!;
    close(line["Labor hours"], 90 * 38);
    expect(line.Hours).toBe("unusual");
    expect(figureUnder(cells, "Unusual hours")).toBe(1);
    close(causesIn(cells)["Labor hours"], -50 + 3420);
    close(calibration(cells, "all", "all jobs").Factor, (1.1 * 0.8 * 1.25 * 10) ** (1 / 5));
  });

  it("leaves a job out once a cell that every job needs is spoilt, and takes it back", async () => {
    await auditFive(table);
    await type(103, "Actual price", "'$8,000");
    const without = await auditCells();
    expect(figureUnder(without, "Jobs counted")).toBe(4);
    expect(figureUnder(without, "Not counted")).toBe(1);
    expect(jobRows(without, 5)[2]!.Counted).toBe("no");
    close(figureUnder(without, "Fade, money"), 10.55 + 1000);
    expect(calibration(without, "metal", "bond").Factor).toBe("fewer than 3");
    await type(103, "Actual price", 8000);
    close(figureUnder(await auditCells(), "Fade, money"), 10.55);
  });

  it("shows a job whose words are new under the other jobs, until the group's own cell has them", async () => {
    await auditFive(table);
    await type(101, "Bond", "hybrid");
    const typed = await auditCells();
    expect(calibration(typed, "other or blank", "bond").Jobs).toBe(1);
    expect(calibration(typed, "metal", "bond").Jobs).toBe(2);
    expect(rowsUnder(typed, ["Bond", "Slab", "Jobs"], "By bond and slab").at(-1)!.Jobs).toBe(1);

    const row = typed.findIndex((line) => line.includes("resin") && line.includes("bond"));
    const column = typed[row]!.indexOf("resin");
    await write(`Audit!${String.fromCharCode(65 + column)}${row + 1}`, [["HYBRID"]]);
    const renamed = await auditCells();
    expect(calibration(renamed, "HYBRID", "bond").Jobs).toBe(1);
    expect(calibration(renamed, "other or blank", "bond").Jobs).toBe(2);
  });
});

it("words that differ in case or in spaces are one word, in the calibration as in the list", async () => {
  const written = ["wide  blade", " Wide blade", "WIDE BLADE ", "small", "Small"];
  const machine = FIVE_JOBS[0]!.indexOf("Machine");
  await typeList(
    ON,
    "A1",
    FIVE_JOBS.map((row, i) => (i > 0 ? row.with(machine, written[i - 1]) : row)),
  );
  await auditList();
  const cells = await auditCells();
  expect(
    calibrationsIn(cells)
      .filter((row) => row.By === "machine")
      .map((row) => [row.Group, row.Jobs]),
  ).toEqual([
    ["small", 2],
    ["wide blade", 3],
    ["other or blank", 0],
  ]);
});

const ADDED = ["106", 3000, 1, "resin", 5, "Narrow", 900, 900, 500, 700, 10, 15, 40, 40, "", "", "", "", "", ""];

describe("a list that grows", () => {
  it("in a table is in every figure at once", async () => {
    await auditFive("Jobs");
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Jobs").rows.add(undefined, [ADDED as any[]]);
      await context.sync();
    });
    const cells = await auditCells();
    expect(figureUnder(cells, "Jobs counted")).toBe(6);
    close(figureUnder(cells, "Quoted price"), 20700 + 900);
    close(figureUnder(cells, "Fade, money"), 10.55 + 200);
    close(causesIn(cells)["Labor hours"], -50 + 5 * 40);
    close(causesIn(cells).All, 10.55 + 200);
    const slabs = slabsIn(cells);
    close(slabs[1]!["Area/h"], (14000 + 3000) / (94 + 15));
    // Resin has three jobs now: 25/20, 10/10 and 15/10.
    close(calibration(cells, "resin", "bond").Factor, (1.25 * 1 * 1.5) ** (1 / 3));
    expect(jobRows(cells, 6)[5]).toMatchObject({ Job: "106", Counted: "yes", Slab: "medium slab", "Actual hours": 15 });
  });

  it("in plain cells says that it needs another audit", async () => {
    await auditFive();
    expect(await cellValue("Audit!A2")).toContain("After adding rows at its top or bottom, write another audit.");
    expect(await cellValue("Audit!A3")).toMatch(/^An audit is only as good/);
    await write(`${ON}!A7:T7`, [ADDED as any[]]);
    expect(figureUnder(await auditCells(), "Jobs counted")).toBe(5);
    expect(await cellValue("Audit!A3")).toMatch(/^OUT OF DATE: rows above or below .*\(1\)/);
    await select(`${ON}!B3`);
    const again = await auditList();
    expect(again.written.what).toBe("Audit written to the new sheets “Audit 2” and “Audit 2 jobs”");
    expect(figureUnder(await auditCells("Audit 2"), "Jobs counted")).toBe(6);
    expect(await cellValue("'Audit 2'!A3")).toMatch(/^An audit is only as good/);
  });

  it.each([
    ["a table", "Jobs"],
    ["plain cells", undefined],
  ])("by a row inserted in the middle, in %s, has every job in every figure", async (_, table) => {
    const { written } = await auditFive(table);
    await changeRows((sheet) => sheet.getRange("4:4").insert("Down"));
    await write(`${ON}!A4:T4`, [ADDED as any[]]);
    const cells = await auditCells();
    expect(figureUnder(cells, "Jobs counted")).toBe(6);
    expect(figureUnder(cells, "Not counted")).toBe(0);
    close(figureUnder(cells, "Quoted price"), 20700 + 900);
    close(figureUnder(cells, "Fade, money"), 10.55 + 200);
    close(causesIn(cells).All, 10.55 + 200);
    close(calibration(cells, "resin", "bond").Factor, (1.25 * 1 * 1.5) ** (1 / 3));
    expect(jobRows(cells, 6).map(({ Job }) => Job)).toEqual(["101", "102", "106", "103", "104", "105"]);
    expect(await cellValue("Audit!A3")).toMatch(/^An audit is only as good/);
    // The past jobs of a plan that is written now: the hours taken by all six, now and when one more comes between.
    const { actual } = await Excel.run(async (context) => {
      const counted = askRowCounts(context, { sheets: ["Audit"] }, written.calibrationRefs[0]!);
      await context.sync();
      return counted();
    });
    await write("Audit!Z1", [[`=SUM(${actual})`]]);
    expect(await cellValue("Audit!Z1")).toBe(44 + 30 + 15 + 40 + 25 + 10);
    await changeRows((sheet) => sheet.getRange("5:5").insert("Down"));
    await write(`${ON}!A5:T5`, [ADDED.with(0, "107") as any[]]);
    expect(await cellValue("Audit!Z1")).toBe(164 + 15);
  });

  it.each([
    ["a table", "Jobs"],
    ["plain cells", undefined],
  ])("and shrinks by a deleted row, in %s, has the others in every figure", async (_, table) => {
    await auditFive(table);
    await changeRows((sheet) => sheet.getRange("4:4").delete("Up"));
    const cells = await auditCells();
    expect(figureUnder(cells, "Jobs counted")).toBe(4);
    close(figureUnder(cells, "Quoted price"), 20700 - 8000);
    close(figureUnder(cells, "Fade, money"), 10.55 + 1000);
    expect(jobRows(cells, 5).map(({ Job }) => Job)).toEqual(["101", "102", "104", "105", ""]);
    expect(await cellValue("Audit!A3")).toMatch(/^An audit is only as good/);
  });

  it("by a row right under the headings of plain cells says that it needs another audit", async () => {
    await auditFive();
    await changeRows((sheet) => sheet.getRange("2:2").insert("Down"));
    await write(`${ON}!A2:T2`, [ADDED as any[]]);
    expect(figureUnder(await auditCells(), "Jobs counted")).toBe(5);
    expect(await cellValue("Audit!A3")).toMatch(/^OUT OF DATE: rows above or below .*\(1\)/);
  });
});

const changeRows = (change: (sheet: Excel.Worksheet) => unknown): Promise<void> =>
  Excel.run(async (context) => {
    change(context.workbook.worksheets.getItem(ON));
    await context.sync();
  });

/** Prices and costs of the five jobs, hours quoted and taken, added up by hand: the rest of the row is blank. */
const sumRow = (name: string) =>
  FIVE_JOBS[0]!.map((heading) => {
    const sums: Record<string, unknown> = {
      ...{ Job: name, "Quoted price": 20700, "Actual price": 20700.55, "Quoted cost": 15400, "Actual cost": 15411.1 },
      ...{ "Quoted hours": 150, "Actual hours": 149 },
    };
    return sums[String(heading)] ?? "";
  });

describe.each([
  ["a table", "Jobs"],
  ["plain cells", undefined],
])("a list in %s that ends in a row that adds the jobs up", (_, table) => {
  it.each(["Total:", "Totals 2024", "Sub-total", "Whole year"])("does not count it, called %s", async (name) => {
    await typeList(ON, "A1", [...FIVE_JOBS, sumRow(name)], table);
    const { problems, source: list, mapping, audit } = await auditList();
    expect(problems).toMatchObject([{ row: 5, key: "job", effect: "left out" }]);
    const cells = await auditCells();
    expect(figureUnder(cells, "Jobs counted")).toBe(5);
    expect(figureUnder(cells, "Not counted")).toBe(1);
    close(figureUnder(cells, "Quoted price"), 20700);
    close(figureUnder(cells, "Fade, money"), 10.55);
    // The picture of the margins has the five jobs and no empty place for the sum.
    const task = { ...{ name: "Audit", jobsName: "Audit jobs" }, list, mapping, audit, problems, date: "2026-11-25" };
    const [margins] = auditSheets(task).audit.block.charts;
    expect(margins).toMatchObject({ title: "Margin by job", rows: 5 });
    expect(cells.some((line) => line[0] === "Old jobs!A7" && line.includes("not counted"))).toBe(true);
  });

  it("says so at the head once such a row is no total by its name any more, and counts", async () => {
    await typeList(ON, "A1", [...FIVE_JOBS, sumRow("Total")], table);
    await auditList();
    await write(`${ON}!A7`, [["Everything"]]);
    expect(figureUnder(await auditCells(), "Jobs counted")).toBe(6);
    expect(await cellValue("Audit!A3")).toMatch(/^CHECK THE LAST ROW: it adds up the others/);
  });
});

describe.each([
  ["a table", "Jobs"],
  ["plain cells", undefined],
])("a job that is in the list twice, in %s", (_, table) => {
  it("counts once while both rows are the same in every cell", async () => {
    await typeList(ON, "A1", [...FIVE_JOBS, FIVE_JOBS[2]!], table);
    const { jobs } = await auditList();
    expect(jobs).toHaveLength(5);
    const once = await auditCells();
    expect(figureUnder(once, "Jobs counted")).toBe(5);
    expect(await cellValue("Audit!A3")).toMatch(/^An audit is only as good/);
    expect(jobRows(once, 6).map(({ Counted }) => Counted)).toEqual([...Array(5).fill("yes"), "no"]);
    close(figureUnder(once, "Fade, money"), 10.55);
    close(calibration(once, "all", "all jobs").Factor, (1.1 * 0.8 * 1.25) ** (1 / 5));
    // The second visit's own hours make it a job of its own: 102 again, 30 h quoted and 60 taken.
    await write(`${ON}!${COLUMN_OF["Actual hours"]}7`, [[60]]);
    const twice = await auditCells();
    expect(figureUnder(twice, "Jobs counted")).toBe(6);
    close(calibration(twice, "all", "all jobs").Factor, (1.1 * 0.8 * 1.25 * 2) ** (1 / 6));
    expect(twice.some((line) => line.includes("none now"))).toBe(true);
    expect(await cellValue("Audit!A3")).toMatch(/^OUT OF DATE: a duplicate row was changed/);
  });
});
