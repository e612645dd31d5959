/**
 * A plan calibrated by a group of past jobs, whose expressions are the longest there are: in a calculating copy every
 * figure of it follows, the likely range too. As one formula that range had 10,780 characters, and stayed a value.
 */
import { expect, it } from "vitest";
import { buildDemo } from "../../../addin/preview/demo-workbook";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { insertPlan } from "../../../addin/sheet";
import { CATALOGUE } from "../../catalogue";
import { floor, planFor } from "../sheet/agreement";
import { auditList } from "../sheet/job-lists";
import { figureBeside, openGritForEach, select, workbook } from "../sheet/workbook";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

openGritForEach();

it("has no figure that became a value", async () => {
  await buildDemo();
  await select("'Past jobs'!A1");
  const { written } = await auditList();
  const longest = [...written.calibrationRefs].sort((a, b) => b.estimated.length - a.estimated.length)[0]!;
  await insertPlan({ ...planFor(floor({ pastJobs: "jobs like it" })), pastJobs: longest }, "new sheet");
  const low = await figureBeside("Likely price range, low", "Stage plan");
  expect(low).toBeLessThan(await figureBeside("Likely price range, high", "Stage plan"));
  expect(await figureBeside("Likely hours, low", "Stage plan")).toBeGreaterThan(0);
  const { report } = calculatingCopy(await workbook.xlsx(), OPTIONS);
  expect(report.values).toEqual([]);
});
