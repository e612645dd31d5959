/** A finished job taken into the list of past jobs, and what the audit then says of it. */
import { describe, expect, it, vi } from "vitest";
import {
  addLogLines,
  closeOut,
  findJobList,
  insertLog,
  insertPlan,
  readLog,
  rememberMapping,
  undo,
} from "../../../addin/sheet";
import { guessMapping } from "../../../functions/audit/headings";
import { line, MONDAY } from "../../functions/log/four-days";
import { close, floor, planFor } from "./agreement";
import { auditCells, auditList, figureUnder, typeList } from "./job-lists";
import { openGritForEach, select, snapshot, tableRows, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });
openGritForEach();

const TODAY = MONDAY + 30;

/** A plan whose stages are all done, each in a tenth more hours than quoted. */
async function finish(jobName = "Hall A"): Promise<void> {
  await insertPlan(planFor(floor({ jobName })), "new sheet");
  await insertLog();
  const { stages } = (await readLog())!;
  const lines = stages.map((stage, i) => {
    const hours = { crewHours: 1.1 * stage.hours, machineHours: stage.machineHours };
    return line({ ...hours, floor: jobName, stage: stage.stage, area: stage.toDo, date: MONDAY + i });
  });
  await addLogLines(lines, TODAY, true);
}

const OWN = [
  "Job name",
  "Finished",
  "Bid price",
  "Billed",
  "Bid cost",
  "Final cost",
  "Bid hours",
  "Hours worked",
  "Foreman",
];
const OLD = [
  ["Annex", 45_000, 1000, 1000, 700, 780, 10, 12, "Sam"],
  ["Shop", 45_100, 1200, 1200, 800, 800, 9, 9, "Kim"],
];

describe("closing out a job", () => {
  it("adds a row to the user's table under their headings, and undoes exactly that", async () => {
    await finish();
    await typeList("Old jobs", "B3", [OWN, ...OLD], "Past");
    const { price, stages, log } = (await readLog())!;
    const before = await snapshot();
    const closed = await closeOut(11_000);
    expect(closed.what).toBe("Hall A added to Old jobs!B6");
    const row = (await tableRows("Past")).at(-1)!;
    expect(row).toMatchObject({ "Job name": "Hall A", Billed: 11_000, Foreman: "", Finished: log!.lines.at(-1)!.date });
    close(row["Bid price"], price);
    // Two people; a tenth more hours than quoted.
    const hours = stages.reduce((sum, stage) => sum + stage.hours, 0);
    expect(row["Bid hours"]).toBeCloseTo(2 * hours, 2);
    expect(row["Hours worked"]).toBeCloseTo(2.2 * hours, 2);
    // A tenth more wages with 12% overhead, and the 5% for contingency that wasn't needed.
    const wages = stages.reduce((sum, stage) => sum + stage.crewCost, 0);
    expect(row["Final cost"]).toBeCloseTo(row["Bid cost"] / 1.05 + 0.1 * wages * 1.12, 1);
    await undo(closed);
    expect(await snapshot()).toEqual(before);
  });

  it("finds the list that was chosen in the Jobs view, and stays above its total row", async () => {
    await finish();
    await typeList("Old jobs", "B3", [OWN, ...OLD, ["Total", "", 2200, 2200, 1500, 1580, 19, 21, ""]]);
    const source = await findJobList();
    await rememberMapping(source, guessMapping(source.headings));
    const before = await snapshot();
    const closed = await closeOut(11_000);
    expect(closed.what).toBe("Hall A added to Old jobs!B6, above the total row (check that it adds the new row up)");
    const names = (await valuesOf("Old jobs!B4:B7")).flat();
    expect(names).toEqual(["Annex", "Shop", "Hall A", "Total"]);
    await undo(closed);
    expect(await snapshot()).toEqual(before);
  });

  it("takes the next free row of a plain list, with the looks of the row above", async () => {
    await finish();
    await typeList("Old jobs", "B3", [OWN, ...OLD]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Old jobs").getRange("C5").numberFormat = [["yyyy-mm-dd"]];
      await context.sync();
    });
    const source = await findJobList();
    await rememberMapping(source, guessMapping(source.headings));
    const before = await snapshot();
    const closed = await closeOut(11_000);
    expect((await valuesOf("Old jobs!B6:C6"))[0]).toEqual(["Hall A", MONDAY + 7]);
    await undo(closed);
    expect(await snapshot()).toEqual(before);
  });

  it("is asked about where the list has the job already", async () => {
    await finish("shop");
    await typeList("Old jobs", "B3", [OWN, ...OLD], "Past");
    await expect(closeOut(11_000)).rejects.toThrow(/“shop” is in table Past on “Old jobs” already, in row 5/);
    await closeOut(11_000, true);
    expect(await tableRows("Past")).toHaveLength(3);
  });

  it("offers a jobs table where there is no list, and the audit counts the job", async () => {
    await finish();
    const before = await snapshot();
    await expect(closeOut(11_000)).rejects.toThrow(/No list of past jobs is known in this workbook/);
    const closed = await closeOut(11_000, true);
    expect(await tableRows("Jobs")).toMatchObject([{ Job: "Hall A", Bond: "metal", "Slab hardness": 5 }]);
    await select("Jobs!A6");
    const { audit, problems } = await auditList();
    expect(problems).toEqual([]);
    expect(audit.jobs).toBe(1);
    expect(figureUnder(await auditCells(), "Jobs counted")).toBe(1);
    await Excel.run(async (context) => {
      for (const name of ["Audit", "Audit jobs"]) context.workbook.worksheets.getItem(name).delete();
      await context.sync();
    });
    await undo(closed);
    expect(await snapshot()).toEqual(before);
  });

  it("needs a log with lines", async () => {
    await insertPlan(planFor(floor({ jobName: "Hall A" })), "new sheet");
    await expect(closeOut(11_000)).rejects.toThrow(/no log yet/);
    await insertLog();
    await expect(closeOut(11_000)).rejects.toThrow(/has no line yet/);
  });
});
