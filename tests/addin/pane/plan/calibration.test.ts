import { beforeEach, describe, expect, it, vi } from "vitest";
import { calibrationOf } from "../../../../addin/pane/calibration";
import { setHeading } from "../../../../addin/pane/jobs/list";
import { calibratedOf, type NoHours, otherSlab, usedCalibration } from "../../../../addin/pane/plan/calibration";
import { derive } from "../../../../addin/pane/plan/derived";
import { typeNumber } from "../../../../addin/pane/plan/state";
import { PLAN } from "../../../../addin/pane/plan/texts";
import { goToView, type State } from "../../../../addin/pane/state";
import type { Store } from "../../../../addin/pane/store";
import { useInPlan } from "../../../../addin/pane/use-calibration";
import { watchWorkbook } from "../../../../addin/sheet";
import type { Calibrated } from "../../../../functions/plan/calibrated";
import { expectClose } from "../../../helpers";
import { figureBeside, named, openGritForEach, select, write } from "../../sheet/workbook";
import { followPlan, openPane } from "../open-pane";
import { setChoice } from "./noted";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

/** Invented; on medium slabs they took 12.5/10, 20/20 and 8/10 of the quoted hours, on hard ones twice that. */
const LIST = [
  ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bid hours", "Hours worked", "Mohs"],
  ["C1", 1000, 1000, 700, 780, 10, 12.5, 5],
  ["C2", 2000, 2000, 1400, 1400, 20, 20, 5],
  ["C3", 1500, 1500, 1000, 1000, 10, 8, 5],
  ["C4", 1000, 1000, 700, 780, 10, 25, 8],
  ["C5", 2000, 2000, 1400, 1400, 20, 40, 8],
  ["C6", 1500, 1500, 1000, 1000, 10, 16, 8],
];
/** Hand: t(0.8, 2) = 0.6 / √0.32, and a spread of ln 1.25 around a factor of 1. */
const T80 = 0.6 / Math.sqrt(0.32);
const at80 = (factor: number, spread: number) => factor * Math.exp(T80 * spread * Math.sqrt(4 / 3));

openGritForEach();
beforeEach(async () => {
  await Excel.run(async (context) => {
    context.workbook.worksheets.add("Old jobs").activate();
    await context.sync();
  });
  await write("Old jobs!B3:I9", LIST);
  await select("Old jobs!C4");
});

async function learning(value = "medium slab") {
  const opened = openPane();
  const { store, commands } = opened;
  await commands.jobs.takeSelected();
  store.part("jobs").change((jobs) => setHeading(jobs, "hardness", "Mohs"));
  await commands.jobs.writeAudit();
  const { jobs } = store.state;
  const group = jobs.checked!.audit.groups.find((found) => found.value === value)!;
  store.change((state) => useInPlan(state, calibrationOf(jobs.written, group)!));
  return { ...opened, store, commands };
}

const shown = ({ state }: Store<State>) =>
  calibratedOf(state.plan, usedCalibration(state.plan)!, derive(state.plan).estimate!);
const noHours = (store: Store<State>) => PLAN.noHours(shown(store) as NoHours);
const hoursOf = (store: Store<State>) => (shown(store) as Calibrated).hours / derive(store.state.plan).estimate!.hours;

/** C2 now took 10 of its 20 hours: log ratios ln 1.25, ln 0.5 and ln 0.8; their mean is ln 0.5 / 3. */
const CHANGED = at80(
  0.5 ** (1 / 3),
  Math.sqrt(
    [Math.log(1.25), Math.log(0.5), Math.log(0.8)]
      .map((ratio) => (ratio - Math.log(0.5) / 3) ** 2)
      .reduce((sum, square) => sum + square) / 2,
  ),
);

describe("what a plan learned", () => {
  it("is read again when the plan comes into view", async () => {
    const { store, commands } = await learning();
    expect(store.state.reads.plan.due).toBe(true);
    await commands.read();
    expect(store.state.reads.plan.due).toBe(false);
    expectClose(hoursOf(store), at80(1, Math.log(1.25)), 1e-9);
    await write("Old jobs!H5", [[10]]);
    store.change((state) => goToView(goToView(state, "jobs"), "plan"));
    expect(store.state.reads.plan.due).toBe(true);
    await commands.read();
    expectClose(hoursOf(store), CHANGED, 1e-9);
  });

  it("follows the workbook while the plan is looked at", async () => {
    const opened = await learning();
    const { store, commands } = opened;
    followPlan(opened);
    await commands.read();
    await watchWorkbook(commands.workbookChanged);
    await write("Old jobs!H5", [[10]]);
    await vi.waitFor(() => expectClose(hoursOf(store), CHANGED, 1e-9), { timeout: 5000 });
  });

  it("is read again before a plan is written, so that the pane and the sheet say the same", async () => {
    const { store, commands } = await learning();
    await commands.read();
    await write("Old jobs!H5", [[10]]);
    await commands.insertTable("new sheet");
    expectClose(hoursOf(store), CHANGED, 1e-9);
    const { price, hours, days } = shown(store) as Calibrated;
    expectClose(await figureBeside("Price at 80%", "Stage plan"), price, 1e-9);
    expectClose(await named("Stages_HoursAt"), hours, 1e-9);
    expect(await named("Stages_DaysAt")).toBe(days);
  });

  it("says how many jobs there are by now", async () => {
    const { store, commands } = await learning();
    await write("Old jobs!I7", [[5]]);
    await commands.read();
    expect(store.state.plan.inputs.pastJobs).toBe("medium slab, 4 jobs");
  });

  it("is told instead of priced when there are too few jobs left", async () => {
    const { store, commands } = await learning();
    await write("Old jobs!H4", [["?"]]);
    await commands.read();
    expect(noHours(store)).toContain("(medium slab, 3 jobs) has fewer than 3 of these jobs with hours now.");
  });

  it("is told instead of priced when the audit is gone, and priced again with another", async () => {
    const opened = await learning();
    const { store, commands } = opened;
    followPlan(opened);
    await commands.read();
    await watchWorkbook(commands.workbookChanged);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Audit").delete();
      await context.sync();
    });
    await vi.waitFor(() => expect(noHours(store)).toContain("is gone or has another name."), { timeout: 5000 });
    await commands.jobs.writeAudit();
    const { jobs } = store.state;
    const group = jobs.checked!.audit.groups.find(({ value }) => value === "medium slab")!;
    store.change((state) => useInPlan(state, calibrationOf(jobs.written, group)!));
    expectClose(hoursOf(store), at80(1, Math.log(1.25)), 1e-9);
  });

  it("is told instead of priced when other cells stand where the audit told of it", async () => {
    const { store, commands } = await learning();
    const { line } = store.state.plan.calibration!;
    const cell = line.split("!")[1]!.split(":")[0]!.replaceAll("$", "");
    await write(`Audit!${cell}`, [["something else"]]);
    await commands.read();
    expect(noHours(store)).toContain("holds “something else” where “medium slab” was");
  });

  it("takes no answer about jobs that the plan has gone on from", async () => {
    const { store, commands } = await learning();
    const asked = commands.read();
    const { jobs } = store.state;
    const hard = jobs.checked!.audit.groups.find(({ value }) => value === "hard slab")!;
    store.change((state) => useInPlan(state, calibrationOf(jobs.written, hard)!));
    await asked;
    expect(store.state.plan.inputs.pastJobs).toBe("hard slab, 3 jobs");
    expectClose(hoursOf(store), at80(2, Math.log(1.25)), 1e-9);
  });
});

describe("a slab of another hardness than the jobs that were learned from", () => {
  it("is told, with the factor of the jobs on such slabs and the way to take those", async () => {
    const { store } = await learning();
    expect(otherSlab(store.state.plan, store.state.jobs.written)).toBeNull();
    store.part("plan").change((plan) => typeNumber(plan, "hardness", "7.5"));
    const other = otherSlab(store.state.plan, store.state.jobs.written)!;
    expect(PLAN.otherSlab(other)).toContain("These past jobs were on medium slabs; this is a hard slab (7.5 Mohs).");
    expect(PLAN.otherSlab(other)).toContain("Took 2.00 × the quoted hours");
    store.change((state) => useInPlan(state, other.instead!));
    expect(otherSlab(store.state.plan, store.state.jobs.written)).toBeNull();
    expectClose(hoursOf(store), at80(2, Math.log(1.25)), 1e-9);
  });

  it("is told where nothing is known of such slabs", async () => {
    const { store } = await learning();
    store.part("plan").change((plan) => typeNumber(plan, "hardness", "2"));
    const other = otherSlab(store.state.plan, store.state.jobs.written)!;
    expect(other.instead).toBeUndefined();
    expect(PLAN.otherSlab(other)).toBe(
      "These past jobs were on medium slabs; this is a soft slab (2 Mohs). No past jobs on soft slabs: see the Jobs view.",
    );
  });

  it("is no matter where all jobs were learned from", async () => {
    const { store } = await learning("");
    store.part("plan").change((plan) => setChoice(typeNumber(plan, "hardness", "9"), "surface", "coated"));
    expect(otherSlab(store.state.plan, store.state.jobs.written)).toBeNull();
  });
});
