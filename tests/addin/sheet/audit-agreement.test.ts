/** Every figure of the Audit sheet held against functions/audit on the same list, however bad the list. */
import fc from "fast-check";
import { expect, it, vi } from "vitest";
import { CAUSE_KEYS, CAUSES, type Cause, fadeParts } from "../../../functions/audit/audit";
import type { Job } from "../../../functions/audit/check";
import { hardnessClass } from "../../../functions/audit/classes";
import { JOB_KEYS, type JobKey, jobField } from "../../../functions/audit/fields";
import type { Mapping } from "../../../functions/audit/headings";
import { close } from "./agreement";
import { type Audited, auditCells, auditList, figureUnder, jobRows, rowsUnder, typeList } from "./job-lists";
import { openGritForEach } from "./workbook";

// Each opens a workbook of its own, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();

const HEADINGS = JOB_KEYS.map((key) => jobField(key).label);
const ALL: Mapping = Object.fromEntries(JOB_KEYS.map((key) => [key, jobField(key).label]));

const recordedBy = ({ hours, rate, sets, setPrice, liquids }: Job): Record<Cause, boolean> => {
  const [labor, tools] = [Boolean(hours && rate), Boolean(sets && setPrice)];
  return { rate: labor, hours: labor, toolUse: tools, toolPrice: tools, liquids: Boolean(liquids), other: true };
};

async function expectAgreement({ jobs, rows, audit }: Audited): Promise<void> {
  const cells = await auditCells();
  expect(figureUnder(cells, "Jobs counted")).toBe(audit.jobs);
  expect(figureUnder(cells, "Not counted")).toBe(rows - audit.jobs);
  close(figureUnder(cells, "Quoted price"), audit.price.quoted);
  close(figureUnder(cells, "Actual price"), audit.price.actual);
  close(figureUnder(cells, "Fade, money"), audit.fade.whole);
  if (audit.margin) {
    close(figureUnder(cells, "Quoted margin"), audit.margin.quoted);
    close(figureUnder(cells, "Actual margin"), audit.margin.actual);
  }
  const causes = rowsUnder(cells, ["Cause", "Money lost"]);
  for (const cause of CAUSE_KEYS) {
    const line = causes.find((row) => row.Cause === CAUSES[cause])!;
    close(line["Money lost"], audit.fade.parts[cause]);
  }

  close(causes.find((row) => row.Cause === "Part of Other")!["Money lost"], audit.unrecorded.other);

  const lines = jobRows(cells, rows);
  const counted = new Map(jobs.map((job) => [job.row, job]));
  lines.forEach((line, row) => {
    const job = counted.get(row);
    expect(line.Counted, `row ${row}`).toBe(job ? "yes" : "no");
    if (!job) {
      expect(Object.values(line).filter((cell) => typeof cell === "number" && cell !== 0)).toEqual([]);
      return;
    }
    const parts = fadeParts(job);
    const isRecorded = recordedBy(job);
    for (const cause of CAUSE_KEYS) {
      if (isRecorded[cause]) close(line[CAUSES[cause]], parts[cause]);
      else expect(line[CAUSES[cause]]).toBe("not known");
    }
    expect(Math.round(100 * line["Fade, money"])).toBe(
      CAUSE_KEYS.reduce((cents, cause) => cents + Math.round(100 * (isRecorded[cause] ? line[CAUSES[cause]] : 0)), 0),
    );
    close(line["Quoted margin"], 1 - job.cost.quoted / job.price.quoted);
    close(line["Actual margin"], 1 - job.cost.actual / job.price.actual);
    expect(line.Slab).toBe(hardnessClass(job.hardness));
    expect(line.Bond).toBe(job.bond ?? "");
    expect(line.Machine).toBe(job.machine ?? "");
    expect(line["Quoted hours"]).toBe(job.hours?.quoted ?? 0);
    expect(line["Actual hours"]).toBe(job.hours?.actual ?? 0);
  });
  const standing = lines.flatMap((line, row) => (Object.values(line).includes("unusual") ? [row] : []));
  expect(standing).toEqual(audit.outliers);

  const rates = rowsUnder(cells, ["Bond", "Slab", "Jobs", "Area/h", "Area/set"], "By bond and slab");
  audit.rates.forEach((group, i) => {
    const line = rates[i]!;
    expect([line.Bond, line.Slab, line.Jobs]).toEqual([
      group.bond || "not recorded",
      group.hardness || "not recorded",
      group.jobs,
    ]);
    if (group.areaRate === undefined) expect(line["Area/h"]).toBe("not recorded");
    else close(line["Area/h"], group.areaRate);
    if (group.toolLife === undefined) expect(line["Area/set"]).toBe("not recorded");
    else close(line["Area/set"], group.toolLife);
  });
  const calibrations = rowsUnder(cells, ["Group", "Jobs", "Factor", "Low, 90%", "High, 90%"]);
  const groups = calibrations.filter((line) => line.Group !== "other or blank");
  expect(groups).toHaveLength(audit.groups.length);
  audit.groups.forEach((group, i) => {
    const line = groups[i]!;
    expect([line.Group, line.Jobs]).toEqual([group.value || "all", group.jobs]);
    if (group.jobs < 3) expect(line.Factor).toBe("fewer than 3");
    if (!group.calibration) return;
    close(line.Factor, group.calibration.factor);
    close(line["Low, 90%"], group.calibration.low);
    close(line["High, 90%"], group.calibration.high);
  });
}

const ODD = ["", "n/a", " ", "$1,200", "12", 0, -3, true, { f: "=1/0" }, { f: "=NA()" }, { f: '=""' }] as const;
/** Mostly a good cell, now and then anything that is found in lists. */
const mostly = (good: fc.Arbitrary<unknown>) =>
  fc.oneof({ weight: 14, arbitrary: good }, { weight: 1, arbitrary: fc.constantFrom(...ODD) });
const name = fc.constantFrom("metal", "Metal", "resin", "big *", "<3", 28, "a ~ b?");
/** In steps of 4 cents: a quarter of an hour then costs whole cents, and no last digit decides how half a cent rounds. */
const money = (least: number, most: number) =>
  mostly(fc.integer({ min: least * 25, max: most * 25 }).map((steps) => steps / 25));
const row = fc.tuple(
  ...JOB_KEYS.map((key) => {
    const { kind, money: isMoney, domain } = jobField(key);
    if (key === "job")
      return mostly(
        fc.oneof(fc.integer({ min: 1, max: 500 }), fc.constantFrom("J 7", "Total", "7a", "Sum:", "* 2024")),
      );
    if (key === "hardness") return mostly(fc.constantFrom(1, 3.5, 3.99, 4, 5, 6, 6.01, 7, 10, 11));
    if (key === "passes") return mostly(fc.integer({ min: 1, max: 8 }));
    if (kind === "text") return mostly(name).filter((cell) => cell !== 0);
    if (kind === "date") return mostly(fc.integer({ min: 45000, max: 46000 }));
    return isMoney
      ? money(domain!.least > 0 ? 1 : 0, 9000)
      : mostly(fc.integer({ min: 1, max: 300 }).map((n) => n / 4));
  }),
);
const ADDED_UP: ReadonlySet<JobKey> = new Set([
  ...(["quotedPrice", "actualPrice", "quotedCost", "actualCost", "quotedHours", "actualHours"] as const),
]);
const EMPTY_ROW = JOB_KEYS.map(() => "");
const lists = fc.array(fc.oneof({ weight: 12, arbitrary: row }, { weight: 1, arbitrary: fc.constant(EMPTY_ROW) }), {
  minLength: 12,
  maxLength: 30,
});

/** Drawn once and for all: shrinking a list over a workbook takes minutes. */
const DRAWN = fc.sample(lists, { numRuns: 6, seed: 20261125 });

it.each(DRAWN.map((rows, i) => [i % 2 === 0 ? "a table" : "plain cells", rows] as const))(
  "sheet and functions agree on a list with every kind of bad cell, in %s",
  async (kept, rows) => {
    // A row twice, one that adds up the figures of those above, and a last row that is filled, so that plain cells end
    // where the list does.
    const first = rows.findIndex(([job]) => typeof job === "number");
    const above = first < 0 ? rows : [...rows, rows[first]!];
    const jobsAbove = above.filter(([job]) => job !== "Total" && job !== "Sum:");
    const sums = JOB_KEYS.map((key, i) =>
      ADDED_UP.has(key) ? jobsAbove.reduce((sum, row) => sum + (typeof row[i] === "number" ? row[i] : 0), 0) : "",
    );
    const list = [HEADINGS, ...above, ["All of it", ...sums.slice(1)], ["last", ...EMPTY_ROW.slice(1)]];
    await typeList("Old jobs", "B3", list, kept === "a table" ? "Jobs" : undefined);
    const audited = await auditList(ALL);
    expect(audited.rows).toBe(above.length + 2);
    expect(audited.problems).toContainEqual(
      expect.objectContaining({ row: above.length, wrong: { kind: "total", by: "figures", name: "All of it" } }),
    );
    await expectAgreement(audited);
  },
  20_000,
);
