/** The empty jobs table filled in and audited, and an audit carried into a plan. */
import { expect, it, vi } from "vitest";
import { insertJobsTable, insertPlan, type Plan } from "../../../addin/sheet";
import { JOB_KEYS, jobField } from "../../../functions/audit/fields";
import { close, expectSheetAgrees, floor, planFor } from "./agreement";
import { FIVE_JOBS } from "./five-jobs";
import { auditCells, auditList, figureUnder, rowsUnder, typeList } from "./job-lists";
import { figureBeside, openGritForEach, select, valuesOf, write } from "./workbook";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();

const addRows = (table: string, rows: readonly (readonly unknown[])[]) =>
  Excel.run(async (context) => {
    context.workbook.tables.getItem(table).rows.add(undefined, rows as any[][]);
    await context.sync();
  });

it("an empty jobs table gives an audit of no jobs, without an error in any cell", async () => {
  await insertJobsTable("us");
  await select("Jobs!A6");
  const { problems } = await auditList();
  expect(problems).toMatchObject([{ row: 0, key: null, effect: "left out" }]);
  const cells = await auditCells();
  expect(figureUnder(cells, "Jobs counted")).toBe(0);
  expect(cells.flat().filter((cell) => String(cell).startsWith("#"))).toEqual([]);
});

it("an audit of one job without hours has no error in any cell either", async () => {
  await typeList("Sheet1", "A1", FIVE_JOBS.slice(0, 2));
  await write("Sheet1!K2:L2", [["", ""]]);
  await auditList();
  const cells = await auditCells();
  expect(figureUnder(cells, "Jobs counted")).toBe(1);
  expect(cells.flat().filter((cell) => String(cell).startsWith("#"))).toEqual([]);
});

it("an audit of an empty jobs table fills as the table does", async () => {
  await insertJobsTable("us");
  await select("Jobs!A6");
  await auditList();
  // The five jobs have no date; the table's own row stays blank.
  const [headings, ...jobs] = FIVE_JOBS;
  const at = headings!.map((heading) =>
    heading === "Area" ? "Floor area" : heading === "Mohs" ? "Slab hardness" : heading,
  );
  const labels = JOB_KEYS.map((key) => jobField(key).label);
  expect(at.filter((heading) => !labels.includes(String(heading)))).toEqual([]);
  await addRows(
    "Jobs",
    jobs.map((job) => labels.map((label) => job[at.indexOf(label)] ?? "")),
  );
  const cells = await auditCells();
  expect([figureUnder(cells, "Jobs counted"), figureUnder(cells, "Not counted")]).toEqual([5, 1]);
  // By hand, as in audit.test.ts: 5300 earned as quoted, 5289.45 in the end; labor hours 160 − 400 + 190.
  close(figureUnder(cells, "Fade, money"), 5300 - 5289.45);
  const causes = rowsUnder(cells, ["Cause", "Money lost"]);
  close(causes.find((row) => row.Cause === "Labor hours")!["Money lost"], -50);
});

it("the rules of an empty jobs table warn of what an audit would leave out, and of nothing else", async () => {
  await insertJobsTable("metric");
  const units = (await valuesOf("Jobs!A4:U5")) as [string[], string[]];
  expect(units[0]![units[1]!.indexOf("Floor area")]).toBe("m²");
  const rules = await Excel.run(async (context) => {
    const body = context.workbook.tables.getItem("Jobs").getDataBodyRange();
    const cells = JOB_KEYS.map((_, i) => body.getCell(0, i).dataValidation.load("rule,errorAlert,type"));
    await context.sync();
    return cells.map(({ rule, errorAlert, type }) => ({ rule, style: errorAlert?.style, type }));
  });
  const ruleOf = (key: (typeof JOB_KEYS)[number]) => rules[JOB_KEYS.indexOf(key)]!;
  expect(ruleOf("quotedPrice").rule.decimal).toMatchObject({ formula1: 0, operator: "GreaterThan" });
  expect(ruleOf("actualCost").rule.decimal).toMatchObject({ formula1: 0, operator: "GreaterThanOrEqualTo" });
  expect(ruleOf("hardness").rule.decimal).toMatchObject({ formula1: 1, formula2: 10 });
  expect(ruleOf("quotedPrice").style).toBe("Warning");
  expect([ruleOf("job").type, ruleOf("bond").type]).toEqual(["None", "None"]);
});

// Metal: 44 h for 40, 30 for 30 and 40 for 50; Student's t at 0.8 with 2 degrees of freedom is 0.6 / √0.32.
const METAL = [Math.log(1.1), 0, Math.log(0.8)];
function metalHoursFor(hours: number): number {
  const mean = METAL.reduce((sum, log) => sum + log) / 3;
  const spread = Math.sqrt(METAL.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 2);
  return hours * Math.exp(mean + (0.6 / Math.sqrt(0.32)) * spread * Math.sqrt(1 + 1 / 3));
}

it.each([
  ["a table", "Done"],
  ["plain cells", undefined],
] as const)("a plan gets its hours and price from a group of the audit of %s", async (_, table) => {
  await typeList("Bob's jobs", "A1", FIVE_JOBS, table);
  const { audit, written } = await auditList();
  const metal = audit.groups.findIndex(({ by, value }) => by === "bond" && value === "metal");
  const inputs = floor({ pastJobs: "metal", confidence: 0.8 });
  const plan: Plan = { ...planFor(inputs), pastJobs: written.calibrationRefs[metal] };
  await insertPlan(plan, "new sheet");
  const { rows, hours, directCost } = await expectSheetAgrees(plan);
  const sheet = "Stage plan";
  const wanted = metalHoursFor(hours);
  close(await figureBeside("Hours at 80%", sheet), wanted);
  const perHour = rows.reduce((sum, row) => sum + row.parts.crew + row.parts.machine, 0) / hours;
  close(
    await figureBeside("Price at 80%", sheet),
    ((directCost + perHour * (wanted - hours)) * (1 + inputs.overhead!) * (1 + inputs.contingency!)) /
      (1 - inputs.margin!),
  );

  // All jobs of the group took as long as quoted: nothing is left to allow for.
  const taken = String.fromCharCode(65 + FIVE_JOBS[0]!.indexOf("Actual hours"));
  await write(`Bob's jobs!${taken}2:${taken}4`, [[40], [30], [50]]);
  close(await figureBeside("Hours at 80%", sheet), hours);
});

it("a plan counts jobs that are added to the table later", async () => {
  await typeList("Old jobs", "A1", FIVE_JOBS, "Done");
  const { written } = await auditList();
  await insertPlan(
    { ...planFor(floor({ pastJobs: "all", confidence: 0.5 })), pastJobs: written.calibrationRefs[0] },
    "new sheet",
  );
  const factor = () => figureBeside("Past jobs: actual ÷ estimated hours", "Stage plan");
  close(await factor(), (1.1 * 0.8 * 1.25) ** (1 / 5));
  await addRows("Done", [
    [106, 1000, 1, "resin", 5, "Narrow", 900, 900, 500, 600, 10, 20, 40, 40, "", "", "", "", "", ""],
  ]);
  close(await factor(), (1.1 * 0.8 * 1.25 * 2) ** (1 / 6));
});
