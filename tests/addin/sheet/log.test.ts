/** The Log sheet: what it says of a log, held against functions/log cell by cell, and how lines get into it. */
import { describe, expect, it, vi } from "vitest";
import {
  addLogLines,
  closeOut,
  insertBid,
  insertLog,
  insertPlan,
  NeedsAnswer,
  readForemansList,
  readLog,
  undo,
} from "../../../addin/sheet";
import { findPlans } from "../../../addin/sheet/plans";
import { startJob } from "../../../functions/bid/job";
import type { LogLine } from "../../../functions/log/fields";
import type { QuotedStage } from "../../../functions/log/stages";
import { CHANGED_AT, FOUR_DAYS, line, MONDAY, STAGES } from "../../functions/log/four-days";
import { close, floor, planFor } from "./agreement";
import { typeList } from "./job-lists";
import { cellsOfLine, expectForecastAgrees, forecastRows, hourRows, typeLines } from "./logs";
import { cellValue, named, openGritForEach, select, setNamed, snapshot, tableRows, write } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });
openGritForEach();

const TODAY = MONDAY + 30;

const insertFloor = (jobName: string, over: Parameters<typeof floor>[0] = {}) =>
  insertPlan(planFor(floor({ jobName, ...over })), "new sheet");

async function stagesOf(name: string) {
  const { stages } = (await readLog())!;
  return stages.filter((stage) => stage.floor === name);
}

/** Lines on the first three stages of a floor that has them. */
async function daysOn(name: string, from = MONDAY): Promise<LogLine[]> {
  const own = await stagesOf(name);
  const part = (i: number, share: number) => {
    return { floor: name, stage: own[i]!.stage, area: Math.round(own[i]!.toDo * share) };
  };
  return [
    line({ ...part(0, 0.3), date: from, machineHours: 7, crewHours: 8, sets: 1, height: 10 }),
    line({ ...part(0, 0.25), date: from + 1, machineHours: 6, crewHours: 7, height: 7 }),
    line({ ...part(0, 0.25), date: from + 2, machineHours: 5, crewHours: 6, height: 2.5 }),
    line({ ...part(1, 0.25), date: from + 3, machineHours: 1, crewHours: 1.5, sets: 1, height: 9 }),
    line({ ...part(2, 1), date: from + 4, machineHours: 6, crewHours: 6.2, note: "Done" }),
  ];
}

/** Sheets of the plans, by floor. */
const planSheets = (): Promise<Record<string, string>> =>
  Excel.run(async (context) =>
    Object.fromEntries((await findPlans(context)).map(({ floor: name, sheetId }) => [name, sheetId])),
  );

/** Where the example of four days has what a column of the stage table has. */
const EXAMPLE: Readonly<Record<string, keyof QuotedStage | ((stage: QuotedStage) => number)>> = {
  Passes: ({ toDo }) => toDo / 4000,
  Hours: "hours",
  "Machine h": "machineHours",
  "Sets used": "setsUsed",
  "Crew cost": "crewCost",
  "Machine cost": "machineCost",
  "Tooling cost": "toolingCost",
  "Liquids cost": "liquidsCost",
};

const status = () => cellValue("Log!A3");

describe("the forecast beside the log", () => {
  it("agrees with functions/log on two floors, one in other units, and follows lines that are added", async () => {
    await insertFloor("Hall A");
    const metric = { units: "metric", length: 20, width: 10, machineWidth: 700, speed: 4.5, currency: "$" } as const;
    await insertFloor("Hall B", metric);
    await insertLog();
    await expectForecastAgrees();
    await typeLines([...(await daysOn("Hall A")), line({ floor: "Hall A", stage: "Travel", crewHours: 1 })]);
    await expectForecastAgrees();
    await typeLines(await daysOn("Hall B", MONDAY + 7));
    const { compared, logged } = await expectForecastAgrees();
    expect(compared).toBeGreaterThan(400);
    // Hall B is 200 m² of floor: 2,152.78 ft² for its liquids.
    const densifier = logged.stages.find(({ floor, stage }) => floor === "Hall B" && stage.includes("Densifier"));
    expect(densifier!.toDo).toBeCloseTo(200 / 0.09290304, 6);
    // The set had 10 mm, then 2.5 mm; it is changed at 2 mm, and won't last for the fifth that is left.
    const first = (await forecastRows())[3]!;
    expect(first.tools).toMatch(/^won't last: [\d,]+ ft² short$/);
    expect(first.wornOutOn).toBe(MONDAY + 3);
    expect((await hourRows()).length).toBe(10);
    const { share, worked } = (await forecastRows())[0]!;
    const done = `${Math.round(100 * share)}% done: ${worked.toFixed(1)} h worked for `;
    expect(String(await cellValue("Log!A2")).startsWith(done)).toBe(true);
  });

  it("comes to what four days come to by hand", async () => {
    const { inputs, stages, ...plan } = planFor(
      floor({ jobName: "Hall", machineArea: 4000, area: 4000, hoursADay: 8 }),
    );
    const three = ["Metal 30 medium", "Metal 60 medium", "Densifier"];
    const chosen = stages.filter(({ tool }) => three.includes(tool));
    await insertPlan({ ...plan, inputs, stages: chosen }, "new sheet");
    // The figures of the example, typed over those of the plan.
    for (const [title, key] of Object.entries(EXAMPLE)) {
      await Excel.run(async (context) => {
        const cells = context.workbook.tables.getItem("Stages").columns.getItem(title).getDataBodyRange();
        cells.values = STAGES.map((stage) => [typeof key === "function" ? key(stage) : stage[key]]);
        await context.sync();
      });
    }
    await insertLog();
    const asPlanned = (name: string) => chosen.findIndex(({ tool }) => tool.startsWith(name.slice(2))) + 1;
    await typeLines(
      FOUR_DAYS.map((day) => ({ ...day, stage: `${asPlanned(day.stage)} ${chosen[asPlanned(day.stage) - 1]!.tool}` })),
    );
    await setNamed("Log_ChangeAt", "Log", CHANGED_AT);
    const [job, first, second, third] = await forecastRows();
    // tests/functions/log/progress.test.ts works each of these out: 21 / 0.875 = 24 h, 21 + 2 = 23 h, and so on.
    const shown = (row: typeof job) => [row!.share, row!.earned, row!.worked, row!.atPace, row!.asQuoted];
    expect(shown(first)).toEqual([0.875, 14, 21, 24, 23]);
    expect(shown(second)).toEqual([0.25, 2, 1.5, 6, 7.5]);
    expect(shown(third)).toEqual([0, 0, 0, 4, 4]);
    expect(shown(job).slice(1)).toEqual([16, 22.5, 39.375, 34.5]);
    expect([first!.costSoFar, first!.costAtPace, first!.costAsQuoted]).toEqual([2418.5, 2764, 2664.5]);
    close(job!.costAtPace, (2602.5 * 3414) / 1955.5);
    close(job!.costAsQuoted, 4061);
    expect([first!.off, second!.off, third!.off]).toEqual([
      "50% more hours than quoted",
      "25% fewer hours than quoted",
      "not begun",
    ]);
    // 3,000 ft² in 6.5 h at 8 h a day; 1,000 ft² in 1.5 h so far.
    expect(second!.needed).toBe("needs 3,692 ft² a day; 5,333 ft² so far");
    expect([first!.needed, job!.needed]).toEqual([
      "the quoted hours are used up",
      "the rest must go 2.18 times as fast as quoted",
    ]);
    // 0.5 mm of segment at 1 mm for 1,000 ft², and 1,000 ft² to do.
    expect([first!.left, first!.tools, first!.wornOutOn]).toEqual([500, "won't last: 500 ft² short", MONDAY + 3]);
    expect(await hourRows()).toEqual([
      [MONDAY, 8, 6],
      [MONDAY + 1, 16, 10],
      [MONDAY + 2, 21, 14],
      [MONDAY + 3, 22.5, 16],
    ]);
    await expectForecastAgrees();
  });

  it("follows the plan: its name, its area, the height at which sets are changed", async () => {
    await insertFloor("Hall A");
    await insertLog();
    await typeLines(await daysOn("Hall A"));
    await setNamed("Floor_Job", "Stage plan", "Hall 1");
    expect((await forecastRows())[1]!.worked).toBe(0);
    expect(await status()).toMatch(/^CHECK THE LOG: 5 lines are on no stage/);
    await setNamed("Floor_Job", "Stage plan", "Hall A");
    await setNamed("Floor_Area", "Stage plan", 5000);
    await setNamed("Log_ChangeAt", "Log", CHANGED_AT);
    const { logged } = await expectForecastAgrees();
    expect(logged.log!.changedAt).toBe(CHANGED_AT);
  });

  it("says when it can't be right: bad cells, and stages that came or went", async () => {
    await insertFloor("Hall A");
    await insertLog();
    expect(await status()).toMatch(/^A forecast is only as good as its log/);
    await typeLines(await daysOn("Hall A"));
    await write("Log!D6", [["about 900"]]);
    expect(await status()).toMatch(/^FIX THE LOG: 1 cells/);
    expect((await readLog())!.log!.bad).toMatchObject([{ cell: "Log!D6", problems: [{ key: "area" }] }]);
    await write("Log!D6", [[900]]);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Stages").rows.getItemAt(7).delete();
      await context.sync();
    });
    expect(await status()).toMatch(/^OUT OF DATE: a plan has more or fewer stages/);
  });

  it("shows a long job's dates with some passed over, and the last one", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const [stage] = await stagesOf("Hall A");
    const days = Array.from({ length: 60 }, (_, i) =>
      line({ floor: "Hall A", stage: stage!.stage, date: MONDAY + i, area: 50, crewHours: 1 }),
    );
    await typeLines(days);
    await expectForecastAgrees();
    const shown = (await hourRows()).map(([date]) => date);
    expect(shown.length).toBeLessThanOrEqual(12);
    expect([shown[0], shown.at(-1)]).toEqual([MONDAY, MONDAY + 59]);
  });

  it("needs a plan, and names of floors that differ; a second log is asked about", async () => {
    await expect(insertLog()).rejects.toThrow(/no stage plan to log against/);
    await insertFloor("Hall");
    await insertFloor("hall");
    await expect(insertLog()).rejects.toThrow(/are both called “hall”|are both called “Hall”/);
    await setNamed("Floor_Job", "hall", "Annex").catch(() => setNamed("Floor_Job", "Stage plan 2", "Annex"));
    const inserted = await insertLog();
    await expect(insertLog()).rejects.toThrow(/There's a log on “Log” already/);
    await insertLog(true);
    await undo(inserted);
  });
});

describe("a line added to the log", () => {
  it("goes into the blank row, the next below it, and each is undone", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const [first, second] = await daysOn("Hall A");
    const empty = await snapshot();
    const one = await addLogLines([first!], TODAY);
    expect(one.what).toBe("Logged 2026-11-30, Hall A, 1 Metal 30 medium");
    const before = await snapshot();
    const two = await addLogLines([second!], TODAY);
    expect(await tableRows("Log")).toHaveLength(2);
    expect((await readLog())!.log!.lines).toEqual([first, second]);
    await expectForecastAgrees();
    await undo(two);
    expect(await snapshot()).toEqual(before);
    await undo(one);
    expect(await snapshot()).toEqual(empty);
  });

  it("is found again by undo after rows were added above it, and asked about where it was changed", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const lines = await daysOn("Hall A");
    await addLogLines(lines.slice(0, 2), TODAY);
    const third = await addLogLines([lines[2]!], TODAY);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Log").rows.add(0, [cellsOfLine(lines[3]!)] as any[][]);
      await context.sync();
    });
    await undo(third);
    expect((await readLog())!.log!.lines.map(({ date }) => date).sort()).toEqual([MONDAY, MONDAY + 1, MONDAY + 3]);
    const again = await addLogLines([lines[2]!], TODAY);
    await write("Log!D9", [[1]]);
    await expect(undo(again)).rejects.toBeInstanceOf(NeedsAnswer);
    await undo(again, true);
    expect(await tableRows("Log")).toHaveLength(3);
  });

  it("is asked about where it is likely a typing error, and added on yes", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const lines = await daysOn("Hall A");
    await addLogLines(lines, TODAY);
    const [stage] = await stagesOf("Hall A");
    const slipped = { ...lines[2]!, date: TODAY + 1, area: stage!.toDo, crewHours: 9, height: 8 };
    const asked = (await addLogLines([slipped], TODAY).catch((error) => error)) as NeedsAnswer;
    expect(asked).toBeInstanceOf(NeedsAnswer);
    expect(asked.message).toMatch(/more than the [\d,]+ ft² left.*9 crew hours.*in the future.*grew from 2\.5 to 8 mm/);
    await addLogLines([slipped], TODAY, asked.asked);
    await expect(addLogLines([slipped], TODAY)).rejects.toThrow("The same line is in the log already.");
    await expect(addLogLines([{ ...lines[0]!, date: TODAY, floor: "Hal" }], TODAY)).rejects.toThrow(
      /The job has no floor/,
    );
  });

  it("keeps text that begins like a formula as text, and columns of the user's own", async () => {
    await insertFloor("Hall A");
    await insertLog();
    await Excel.run(async (context) => {
      const column = context.workbook.tables.getItem("Log").columns.add(undefined, [["Weather"], ["dry"]]);
      column.load("name");
      await context.sync();
    });
    const lines = await daysOn("Hall A");
    await addLogLines([{ ...lines[0]!, note: "=1+1" }], TODAY);
    expect(await tableRows("Log")).toMatchObject([{ Note: "=1+1", Weather: "dry", Date: MONDAY }]);
  });
});

describe("a foreman's list", () => {
  const list = (stage: string) => [
    ["Day", "Room", "Step", "Sq. ft.", "Crew hrs"],
    [MONDAY, "Hall A", stage, 900, 4],
    ["soon", "Hall A", stage, 900, 4],
    [MONDAY + 1, "Hall A", stage, 800, 4],
  ];

  it("is read at the selected cell by its headings, and its lines are added once", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const stage = (await stagesOf("Hall A"))[0]!.stage;
    await typeList("Phone", "B2", list(stage));
    await select("Phone!C4");
    const found = await readForemansList();
    expect(found).toMatchObject({ already: 0, top: 2, bad: [{ row: 1, problems: [{ key: "date" }] }] });
    const before = await snapshot();
    const added = await addLogLines(found.lines, TODAY);
    expect(added.what).toBe("2 lines added to the table Log");
    expect(await readForemansList()).toMatchObject({ already: 2, lines: [] });
    await expectForecastAgrees();
    await undo(added);
    expect(await snapshot()).toEqual(before);
  });

  it("may be the log before, once the plan has other stages and another log was written", async () => {
    await insertFloor("Hall A");
    await insertLog();
    const lines = await daysOn("Hall A");
    await addLogLines(lines, TODAY);
    await Excel.run(async (context) => {
      context.workbook.tables.getItem("Stages").rows.getItemAt(7).delete();
      await context.sync();
    });
    await insertLog(true);
    await select("Log!B6");
    const found = await readForemansList();
    expect(found).toMatchObject({ lines, bad: [], already: 0 });
    await addLogLines(found.lines, TODAY);
    await expectForecastAgrees("Log 2");
    expect(String(await cellValue("Log 2!A3"))).toMatch(/^A forecast is only as good/);
  });

  it("is refused without a date, a floor and a stage, and the log is no list of itself", async () => {
    await insertFloor("Hall A");
    await typeList("Phone", "B2", [
      ["Day", "Sq. ft."],
      [MONDAY, 900],
    ]);
    await expect(readForemansList()).rejects.toThrow(/no column that reads as “Floor” and “Stage”/);
    await typeList("Phone", "B2", list("1 Metal 30 medium"));
    await expect(readForemansList()).rejects.toThrow(/no log yet/);
    await insertLog();
    await typeLines(await daysOn("Hall A"));
    await select("Log!B6");
    await expect(readForemansList()).rejects.toThrow(/That's the log itself/);
  });
});

describe("with a bid", () => {
  it("the log is of the floors in its price, in its order, from its start; it is closed out at what was offered", async () => {
    await insertFloor("Hall A", { finish: "satin" });
    for (const name of ["Hall B", "Mezzanine"]) await insertFloor(name, { finish: "flat" });
    const sheets = await planSheets();
    const kinds = { "Hall A": ["base", 2], "Hall B": ["base", 1], Mezzanine: ["option", 3] } as const;
    const job = { ...startJob("us"), client: "Elm Street LLC", start: MONDAY, rounding: 100 };
    const floors = Object.entries(kinds).map(([name, [kind, order]]) => ({ sheetId: sheets[name]!, kind, order }));
    await insertBid({ job, floors, extras: [] });
    const [offered, cost] = [await named("Bid_Offered"), await named("Bid_Cost")];
    // Rounded up to a hundred; with a start on a Monday.
    expect(offered % 100).toBe(0);
    const logged = (await readLog())!;
    expect([...new Set(logged.stages.map((stage) => stage.floor))]).toEqual(["Hall B", "Hall A"]);
    expect(logged.price).toBe(offered);
    await insertLog();
    const lines = await daysOn("Hall A");
    const early = { ...lines[0]!, date: MONDAY - 3 };
    await expect(addLogLines([early], TODAY)).rejects.toThrow("2026-11-27 is before the start, 2026-11-30.");
    await expect(addLogLines([{ ...lines[0]!, floor: "Mezzanine" }], TODAY)).rejects.toThrow(/The job has no floor/);
    await addLogLines(lines, TODAY);
    await expectForecastAgrees();
    await closeOut(offered + 500, true);
    expect(await tableRows("Jobs")).toMatchObject([
      { Job: "Elm Street LLC", "Quoted price": offered, "Actual price": offered + 500 },
    ]);
    close((await tableRows("Jobs"))[0]!["Quoted cost"], Math.round(100 * cost) / 100);
  });
});
