/** Plans of the workbook in the pane: opened into the form, changed there, and written where they stand. */
import { describe, expect, it, vi } from "vitest";
import { derive } from "../../../../addin/pane/plan/derived";
import { removeStage } from "../../../../addin/pane/plan/stages";
import { setChoice, typeNumber } from "../../../../addin/pane/plan/state";
import { insertPlan, listPlans, type Plan } from "../../../../addin/sheet";
import { expectSheetAgrees, floor, planFor } from "../../sheet/agreement";
import { LIST } from "../../sheet/faults-commands";
import { auditList, typeList } from "../../sheet/job-lists";
import { openGritForEach, snapshot, write } from "../../sheet/workbook";
import { openPane } from "../open-pane";

vi.setConfig({ testTimeout: 60_000 });
openGritForEach();

const HALL: Plan = planFor(floor({ floor: "Hall A", crew: 3 }));

/** A pane that has opened the first plan of the workbook. */
async function openedPane() {
  const pane = openPane();
  await pane.commands.readShelf();
  const [first] = await listPlans();
  await pane.commands.open(first!.sheetId);
  return { ...pane, sheetId: first!.sheetId };
}

describe("a plan of the workbook", () => {
  it("is listed, and fills the form as its sheet has it", async () => {
    await write("Sheet1!B2", [[4100]]);
    await insertPlan({ ...HALL, inputs: { ...HALL.inputs, area: 4100 }, links: { area: "Sheet1!B2" } }, "new sheet");
    const { store, sheetId } = await openedPane();
    const { plan, message } = store.state;
    expect(plan.known).toEqual([{ sheetId, sheet: "Hall A", floor: "Hall A" }]);
    expect(plan.opened).toEqual(plan.known[0]);
    expect(message).toMatchObject({
      kind: "done",
      text: "Opened Hall A from “Hall A”. Change it, then update the plan.",
    });
    expect(plan.inputs).toMatchObject({ floor: "Hall A", crew: 3, length: 80, area: 4100 });
    expect(plan.links.area?.replace(/[$']/g, "")).toBe("Sheet1!B2");
    // Its sequence is the proposed one, and goes on following the inputs.
    expect(plan.ownStages).toBeNull();
    expect(derive(plan).stages.map(({ tool }) => tool)).toEqual(HALL.stages.map(({ tool }) => tool));
  });

  it("says what will change before anything is written, writes it, and undoes it as one", async () => {
    await insertPlan(HALL, "new sheet");
    const { store, commands } = await openedPane();
    const before = await snapshot();
    commands.change((plan) => ({ plan: removeStage(typeNumber(plan, "length", "100"), 2) }));
    await commands.update();
    const { question } = store.state;
    expect(question?.question).toBe("Update the plan?");
    expect(question?.what).toMatch(
      /^On “Hall A”: Floor length: 80 ft → 100 ft; stage 3 removed: Transitional 100; Price: \$[\d,.]+ → \$[\d,.]+\.$/,
    );
    expect(await snapshot()).toEqual(before);
    commands.answer(true);
    await commands.idle();
    expect(store.state.message).toMatchObject({ text: "Plan updated on “Hall A”." });
    const { inputs } = store.state.plan;
    await expectSheetAgrees({ ...HALL, inputs, stages: derive(store.state.plan).stages });
    await commands.undo(store.state.message!.inserted!);
    expect(await snapshot()).toEqual(before);
  });

  it("is left alone where nothing differs, and on a no", async () => {
    await insertPlan(HALL, "new sheet");
    const { store, commands } = await openedPane();
    const before = await snapshot();
    await commands.update();
    expect(store.state.message).toMatchObject({ text: "Nothing to update: the plan on “Hall A” is as it is here." });
    commands.change((plan) => setChoice(plan, "grinding", "wet"));
    await commands.update();
    expect(store.state.question?.what).toContain("Wet or dry: dry, with dust collection → wet, slurry collected");
    commands.answer(false);
    expect(await snapshot()).toEqual(before);
  });

  it("asks before it takes the place of entries that are nowhere else, and starts a new plan", async () => {
    await insertPlan(HALL, "new sheet");
    const { store, commands, sheetId } = await openedPane();
    await commands.open(null);
    expect(store.state.plan).toMatchObject({ opened: null, inputs: { floor: "", length: null } });
    commands.change((plan) => ({ plan: typeNumber(plan, "length", "33") }));
    await commands.open(sheetId);
    expect(store.state.question?.question).toBe("Drop them and open the other plan?");
    expect(store.state.plan.inputs.length).toBe(33);
    commands.answer(true);
    await commands.idle();
    expect(store.state.plan.inputs.length).toBe(80);
  });

  it("names the cell that keeps it from being read, and the form stays as it was", async () => {
    await insertPlan(HALL, "new sheet");
    const pane = openPane();
    const [first] = await listPlans();
    await write(`'Hall A'!${first!.inputs.hardness}`, [["hard"]]);
    const before = pane.store.state.plan;
    await pane.commands.open(first!.sheetId);
    expect(pane.store.state.message).toMatchObject({ kind: "error" });
    expect(pane.store.state.message?.text).toContain("(Slab hardness) holds “hard”, which is no number");
    expect(pane.store.state.plan).toBe(before);
  });

  it("keeps the past jobs that it is calibrated by", async () => {
    await typeList("Old jobs", "B3", [
      ...LIST,
      ...[3, 4, 5].map((n) => [`B${n}`, 900, 900, 600, 650, 8 + n, 9 + n, "metal"]),
    ]);
    const { written } = await auditList();
    const [all] = written.calibrationRefs;
    const pastJobs = { ...all! };
    const inputs = { ...HALL.inputs, pastJobs: "all 4 jobs" };
    await insertPlan({ ...HALL, inputs, pastJobs }, "new sheet");
    const { store, commands } = await openedPane();
    expect(store.state.plan.calibration).toMatchObject({ by: "all", value: "", known: { jobs: 4 } });
    const before = await snapshot();
    await commands.update();
    expect(store.state.message).toMatchObject({ text: "Nothing to update: the plan on “Hall A” is as it is here." });
    commands.change((plan) => ({ plan: typeNumber(plan, "crew", "4") }));
    await commands.update();
    commands.answer(true);
    await commands.idle();
    expect(store.state.message).toMatchObject({ text: "Plan updated on “Hall A”." });
    await commands.undo(store.state.message!.inserted!);
    expect(await snapshot()).toEqual(before);
  });
});
