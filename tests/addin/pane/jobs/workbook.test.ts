import { beforeEach, describe, expect, it, vi } from "vitest";
import { calibrationOf } from "../../../../addin/pane/calibration";
import type { Progress } from "../../../../addin/pane/cancelable";
import { setHeading } from "../../../../addin/pane/jobs/list";
import { useInPlan } from "../../../../addin/pane/use-calibration";
import { expectClose } from "../../../helpers";
import { figureBeside, openGritForEach, select, snapshot, write } from "../../sheet/workbook";
import { openPane } from "../open-pane";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

/** Invented; these three took 12.5/10, 20/20 and 8/10 of the quoted hours: a factor of 1 and a spread of ln 1.25. */
const LIST = [
  ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bid hours", "Hours worked", "Stone"],
  ["C1", 1000, 1000, 700, 780, 10, 12.5, "metal"],
  ["C2", 2000, 2000, 1400, 1400, 20, 20, "metal"],
  ["C3", 1500, 1500, 1000, 1000, 10, 8, "metal"],
];

const BONDS = ["metal", "resin", "transitional"];

openGritForEach();
beforeEach(async () => {
  await Excel.run(async (context) => {
    context.workbook.worksheets.add("Old jobs").activate();
    await context.sync();
  });
  await write("Old jobs!B3:I6", LIST);
  await select("Old jobs!C4");
});

const opened = () => openPane();

async function audited() {
  const pane = opened();
  await pane.commands.jobs.takeSelected();
  pane.store.part("jobs").change((jobs) => setHeading(jobs, "bond", "Stone"));
  await pane.commands.jobs.writeAudit();
  expect(pane.store.state.message?.text).toBe("Audit written to the new sheets “Audit” and “Audit jobs”.");
  return pane;
}

async function learned() {
  const pane = await audited();
  const { jobs } = pane.store.state;
  const metal = jobs.checked!.audit.groups.find(({ value }) => value === "metal")!;
  pane.store.change((state) => useInPlan(state, calibrationOf(jobs.written, metal)!));
  return pane;
}

describe("past jobs in a workbook", () => {
  it("teach the hours of a plan that stands beside their audit", async () => {
    const { store, commands } = await learned();
    await commands.insertTable("new sheet");
    expect(store.state.message?.kind).toBe("done");
    const hours = await figureBeside("Hours of all stages", "Stage plan");
    // Hand: t(0.8, 2) = 0.6 / √0.32.
    const times = Math.exp((0.6 / Math.sqrt(0.32)) * Math.log(1.25) * Math.sqrt(4 / 3));
    expectClose(await figureBeside("Hours at 80%", "Stage plan"), hours * times, 1e-9);
  });

  it("teach nothing any more when their audit is undone", async () => {
    const { store, commands } = await learned();
    const { written } = store.state.jobs;
    await commands.undo(written!.sheet);
    expect(store.state).toMatchObject({
      plan: { inputs: { pastJobs: "" }, calibration: null },
      jobs: { written: null },
    });
  });

  it("keep a plan from being written when their audit was deleted by hand", async () => {
    const { store, commands } = await learned();
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Audit").delete();
      await context.sync();
    });
    const before = await snapshot();
    await commands.insertTable("new sheet");
    expect(store.state.message?.text).toContain("The audit sheet for these past jobs (metal bond, 3 jobs) is gone");
    expect(await snapshot()).toEqual(before);
  });

  it("are found again by the next pane, with the headings chosen in this one", async () => {
    await audited();
    const { store, commands } = opened();
    await commands.jobs.look();
    expect(store.state.jobs).toMatchObject({ chosen: "last time", mapping: { bond: "Stone" }, source: { rows: 3 } });
  });

  it("that are canceled half way leave the workbook as it was", async () => {
    const { store, commands } = opened();
    await commands.jobs.takeSelected();
    await commands.jobs.check();
    const before = await snapshot();
    const writing = commands.jobs.writeAudit();
    await vi.waitFor(() => expect(store.state.jobs.progress?.doing).toBe("Writing the audit"), { interval: 1 });
    commands.jobs.cancel();
    await writing;
    expect(store.state.message).toEqual({ kind: "note", text: "Canceled; nothing was written." });
    expect(await snapshot()).toEqual(before);
  });

  it("that are many, canceled at any moment of the check and the audit, leave the workbook as it was", async () => {
    const many = Array.from({ length: 2100 }, (_, i) => [`M${i}`, 1000, 1000, 700, 750, 10, 11, BONDS[i % 3]!]);
    await write(`Old jobs!B7:I${6 + many.length}`, many);
    await select("Old jobs!C4");
    const first = opened();
    await first.commands.jobs.takeSelected();
    first.store.part("jobs").change((jobs) => setHeading(jobs, "bond", "Stone"));
    await first.commands.jobs.check();
    const before = await snapshot();
    const canceledWhile = new Set<string>();
    for (let moment = 0; ; moment++) {
      const told = new Set<Progress>();
      const { store, commands } = opened();
      store.subscribe(({ jobs: { progress } }) => {
        if (!progress || told.has(progress) || told.add(progress).size !== moment + 1) return;
        canceledWhile.add(progress.doing);
        commands.jobs.cancel();
      });
      await commands.jobs.takeSelected();
      await commands.jobs.writeAudit();
      if (told.size <= moment) {
        expect(store.state.message?.text).toBe("Audit written to the new sheets “Audit” and “Audit jobs”.");
        break;
      }
      expect(store.state.message, `moment ${moment}`).toEqual({
        kind: "note",
        text: "Canceled; nothing was written.",
      });
      expect(store.state.jobs).toMatchObject({ written: null, progress: null });
      expect(await snapshot(), `moment ${moment}`).toEqual(before);
    }
    expect([...canceledWhile]).toEqual(["Reading jobs", "Working out the figures", "Writing the audit"]);
  }, 120_000);
});
