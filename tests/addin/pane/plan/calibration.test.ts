import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { commandsOn } from "../../../../addin/pane/actions";
import { carry, type Lesson, lessonOf, setHeading } from "../../../../addin/pane/jobs/state";
import { goToView } from "../../../../addin/pane/messages";
import { isLessonDue, learnedOf, otherSlab } from "../../../../addin/pane/plan/calibration";
import { derive } from "../../../../addin/pane/plan/derived";
import { fillInExample, type State, setChoice, startState, typeNumber } from "../../../../addin/pane/state";
import { Store } from "../../../../addin/pane/store";
import { watchWorkbook } from "../../../../addin/sheet";
import type { Calibrated } from "../../../../functions/plan/calibrated";
import { expectClose } from "../../../helpers";
import { figureBeside, type GritWorkbook, named, openGrit, select, write } from "../../sheet/workbook";

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

let workbook: GritWorkbook;
beforeEach(async () => {
  workbook = await openGrit();
  await Excel.run(async (context) => {
    context.workbook.worksheets.add("Old jobs").activate();
    await context.sync();
  });
  await write("Old jobs!B3:I9", LIST);
  await select("Old jobs!C4");
});
afterEach(() => workbook.dispose());

async function learning(value = "medium slab") {
  const store = new Store({ ...fillInExample(startState()), host: "ready" } as State, () => undefined);
  const commands = commandsOn(store);
  await commands.jobs.takeSelected();
  store.change((state) => ({ ...state, jobs: setHeading(state.jobs, "hardness", "Mohs") }));
  await commands.jobs.writeAudit();
  const { jobs } = store.state;
  const group = jobs.checked!.audit.groups.find((found) => found.value === value)!;
  store.change((state) => carry(state, lessonOf(jobs, group)!));
  return { store, commands };
}

const shown = ({ state }: Store) => learnedOf(state, derive(state).estimate!);
const hoursOf = (store: Store) => (shown(store) as Calibrated).hours / derive(store.state).estimate!.hours;

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
    expect(isLessonDue(store.state)).toBe(true);
    await commands.readLesson();
    expect(isLessonDue(store.state)).toBe(false);
    expectClose(hoursOf(store), at80(1, Math.log(1.25)), 1e-9);
    await write("Old jobs!H5", [[10]]);
    store.change((state) => goToView(goToView(state, "jobs"), "plan"));
    expect(isLessonDue(store.state)).toBe(true);
    await commands.readLesson();
    expectClose(hoursOf(store), CHANGED, 1e-9);
  });

  it("follows the workbook while the plan is looked at", async () => {
    const { store, commands } = await learning();
    await commands.readLesson();
    await watchWorkbook(commands.workbookChanged);
    await write("Old jobs!H5", [[10]]);
    await vi.waitFor(() => expectClose(hoursOf(store), CHANGED, 1e-9), { timeout: 5000 });
  });

  it("is read again before a plan is written, so that the pane and the sheet say the same", async () => {
    const { store, commands } = await learning();
    await commands.readLesson();
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
    await commands.readLesson();
    expect(store.state.inputs.pastJobs).toBe("medium slab, 4 jobs");
  });

  it("is told instead of priced when there are too few jobs left", async () => {
    const { store, commands } = await learning();
    await write("Old jobs!H4", [["?"]]);
    await commands.readLesson();
    expect(shown(store)).toContain("(medium slab, 3 jobs) has fewer than 3 of these jobs with hours now.");
  });

  it("is told instead of priced when the audit is gone, and priced again with another", async () => {
    const { store, commands } = await learning();
    await commands.readLesson();
    await watchWorkbook(commands.workbookChanged);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Audit").delete();
      await context.sync();
    });
    await vi.waitFor(() => expect(shown(store)).toContain("is gone or has another name."), { timeout: 5000 });
    await commands.jobs.writeAudit();
    const { jobs } = store.state;
    const group = jobs.checked!.audit.groups.find(({ value }) => value === "medium slab")!;
    store.change((state) => carry(state, lessonOf(jobs, group)!));
    expectClose(hoursOf(store), at80(1, Math.log(1.25)), 1e-9);
  });

  it("is told instead of priced when other cells stand where the audit told of it", async () => {
    const { store, commands } = await learning();
    const { line } = store.state.jobs.lesson as Lesson;
    const cell = line.split("!")[1]!.split(":")[0]!.replaceAll("$", "");
    await write(`Audit!${cell}`, [["something else"]]);
    await commands.readLesson();
    expect(shown(store)).toContain("holds “something else” where “medium slab” was");
  });

  it("takes no answer about jobs that the plan has gone on from", async () => {
    const { store, commands } = await learning();
    const asked = commands.readLesson();
    const { jobs } = store.state;
    const hard = jobs.checked!.audit.groups.find(({ value }) => value === "hard slab")!;
    store.change((state) => carry(state, lessonOf(jobs, hard)!));
    await asked;
    expect(store.state.inputs.pastJobs).toBe("hard slab, 3 jobs");
    expectClose(hoursOf(store), at80(2, Math.log(1.25)), 1e-9);
  });
});

describe("a slab of another hardness than the jobs that were learned from", () => {
  it("is told, with the factor of the jobs on such slabs and the way to take those", async () => {
    const { store } = await learning();
    expect(otherSlab(store.state)).toBeNull();
    store.change((state) => typeNumber(state, "hardness", "7.5"));
    const other = otherSlab(store.state)!;
    expect(other.words).toContain("These jobs were on medium slabs; this is a hard slab (7.5 Mohs).");
    expect(other.words).toContain("Took 2.00 × the quoted hours");
    store.change((state) => carry(state, other.instead!));
    expect(otherSlab(store.state)).toBeNull();
    expectClose(hoursOf(store), at80(2, Math.log(1.25)), 1e-9);
  });

  it("is told where nothing is known of such slabs", async () => {
    const { store } = await learning();
    store.change((state) => typeNumber(state, "hardness", "2"));
    expect(otherSlab(store.state)).toEqual({
      words:
        "These jobs were on medium slabs; this is a soft slab (2 Mohs). Of soft slabs nothing is known here: see the Jobs view.",
    });
  });

  it("is no matter where all jobs were learned from", async () => {
    const { store } = await learning("");
    store.change((state) => setChoice(typeNumber(state, "hardness", "9"), "surface", "coated"));
    expect(otherSlab(store.state)).toBeNull();
  });
});
