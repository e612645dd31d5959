/** Two commands at once: while one runs, none other starts, whichever they are and whenever the second is asked for. */
import { afterEach, expect, it, vi } from "vitest";
import { undoableBesides } from "../../../addin/pane/messages";
import { cutOnStrip, type MeasuredCut, type MeasuredWear, wearOfSet } from "../../../addin/pane/plan/strip";
import type { State } from "../../../addin/pane/state";
import type { Store } from "../../../addin/pane/store";
import type { Inserted } from "../../../addin/sheet";
import { openGritForEach, select, snapshot, workbook, write } from "../sheet/workbook";
import { type Commands, openPane } from "./open-pane";
import { chooseOnStrip, typeEntry } from "./plan/noted";

vi.setConfig({ testTimeout: 60_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

async function opened() {
  const { store, commands } = openPane();
  await write("Sheet1!A1:C2", [
    ["Job", "Bid price", "Billed"],
    ["A1", 1000, 1000],
  ]);
  await commands.insertTable("new sheet");
  const first = store.state.message!.inserted!;
  await select("Sheet1!F20");
  return { store, commands, first };
}

// Invented: what a worn set teaches of a tool.
const WORN = {
  heightBefore: "8.5",
  heightAfter: "7",
  wornArea: "3000",
  wornPasses: "2",
  newHeight: "8.5",
  wornOut: "2.5",
};

function worn({ state }: Store<State>): MeasuredCut | MeasuredWear {
  const typed = Object.entries(WORN).reduce(
    (s, [key, text]) => typeEntry(s, key as keyof typeof WORN, text),
    chooseOnStrip(state.plan, { tool: "Metal 30 medium" }),
  );
  return wearOfSet(typed.strip, typed.inputs, typed.shelf.shelf) as MeasuredWear;
}

function stripped({ state }: Store<State>): MeasuredCut {
  const chosen = chooseOnStrip(state.plan, { tool: "Metal 30 medium" });
  const typed = typeEntry(typeEntry(chosen, "cut", "120"), "slideSpeed", "2000");
  return cutOnStrip(typed.strip, typed.inputs, typed.shelf.shelf) as MeasuredCut;
}

/** All that write, as buttons and ribbon call them. */
const writing = (commands: Commands, store: Store<State>, first: Inserted): Record<string, () => Promise<void>> => ({
  "a plan on a new sheet": () => commands.insertTable("new sheet"),
  "a plan at the selected cell": () => commands.insertTable("selected cell"),
  "a call": () => commands.insertCall("=GRIT.SIZE(30)"),
  "a machines table": () => commands.addMachines(),
  "what was measured": () => commands.writeMeasured(worn(store)),
  "a test strip": () => commands.addStrip(stripped(store)),
  "a jobs table": () => commands.jobs.insertTable(),
  "formulas entered again": () => commands.repair.repair(),
  recalculation: () => commands.recalculate(),
  "an undo": () => commands.undo(first),
});

const NAMES = [
  "a plan on a new sheet",
  "a plan at the selected cell",
  "a call",
  "a machines table",
  "what was measured",
  "a jobs table",
  "an undo",
];

it.each(NAMES)(
  "nothing else is written while %s is, though every other command is asked for at each step",
  async (name) => {
    const { store, commands, first } = await opened();
    const all = writing(commands, store, first);
    if (name === "what was measured") {
      // It asks before it covers a filled cell; here the yes is given, and the write itself disturbed.
      await all[name]!();
      expect(store.state.question).not.toBeNull();
    }
    const before = await snapshot();
    const process = workbook.host.process.bind(workbook.host);
    const pending: Promise<void>[] = [];
    let requests = 0;
    const busyWith = new Set<string | undefined>();
    const told = new Set<string>();
    const slow = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
      requests++;
      for (const other of Object.values(all)) {
        store.change((state) => ({ ...state, turnedAway: "" }));
        const { busy, message, question } = store.state;
        pending.push(other());
        expect(store.state).toMatchObject({ busy, message, question });
        busyWith.add(busy?.busy);
        told.add(store.state.turnedAway);
      }
      await new Promise((resume) => setTimeout(resume, 2));
      return process(body);
    });
    if (name === "what was measured") commands.answer(true);
    else void all[name]!();
    await commands.idle();
    slow.mockRestore();
    await Promise.all(pending);
    expect(requests).toBeGreaterThan(3);
    // Every other one is told the same, at every step, and the line goes with the command that it is about.
    const [doing] = busyWith;
    expect([...told]).toEqual([
      `Still ${doing!.charAt(0).toLowerCase()}${doing!.slice(1, -1)}. Try again when it's done.`,
    ]);
    expect(store.state).toMatchObject({ busy: null, turnedAway: "", question: null, message: { kind: "done" } });
    const { inserted } = store.state.message!;
    if (name === "an undo") {
      expect((await snapshot()) as any).toMatchObject({ sheets: [{ name: "Sheet1" }], tables: [], names: [] });
      return;
    }
    expect(await snapshot()).not.toEqual(before);
    await commands.undo(inserted!);
    expect(store.state.message?.text).toMatch(/^Undid “.+”\.$/);
    expect(await snapshot()).toEqual(before);
  },
);

it("a question that is open stays when another command is asked for, which is not started and told so", async () => {
  const { store, commands } = await opened();
  await select("Sheet1!A1");
  await commands.insertTable("selected cell");
  expect(store.state.question?.what).toMatch(/has \d+ filled cells/);
  const { question } = store.state;
  const before = await snapshot();
  for (const other of [() => commands.recalculate(), () => commands.insertTable("new sheet")]) {
    store.change((state) => ({ ...state, turnedAway: "" }));
    await other();
    expect(store.state).toMatchObject({
      question,
      message: null,
      turnedAway: "Answer the question first.",
    });
  }
  expect(await snapshot()).toEqual(before);
  commands.answer(false);
  expect(store.state).toMatchObject({ question: null, turnedAway: "", message: { text: "Nothing was changed." } });
  await commands.recalculate();
  expect(store.state.message?.text).toBe("Every cell of the workbook was recalculated.");
});

it("one insertion after the other can be undone, the last first, and one that is gone stands in nobody's way", async () => {
  const { store, commands, first } = await opened();
  const clean = await snapshot();
  await commands.insertTable("selected cell");
  const second = store.state.message!.inserted!;
  store.change((state) => ({ ...state, message: null }));
  expect(undoableBesides(store.state)).toBe(second);
  await commands.undo(second);
  expect(await snapshot()).toEqual(clean);
  expect(undoableBesides(store.state)).toBe(first);

  await Excel.run(async (context) => {
    context.workbook.worksheets.add("Extra").activate();
    await context.sync();
  });
  await select("Extra!B2");
  await commands.insertTable("selected cell");
  const third = store.state.message!.inserted!;
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Extra").delete();
    await context.sync();
  });
  await commands.undo(third);
  expect(store.state.message?.text).toContain("is gone, so there is nothing to undo in it");
  expect(undoableBesides({ ...store.state, message: null })).toBe(first);
  await commands.undo(first);
  expect(store.state.message?.text).toMatch(/^Undid “.+”\.$/);
  expect(undoableBesides(store.state)).toBeNull();
});

it("a yes that comes after the selection has moved asks again, for the cells that it would take now", async () => {
  const { store, commands } = await opened();
  await write("Sheet1!B200", [["mine"]]);
  await select("Sheet1!A1");
  await commands.insertTable("selected cell");
  await select("Sheet1!B200");
  const before = await snapshot();
  commands.answer(true);
  await commands.idle();
  expect(store.state.question?.what).toMatch(/^The lines need Sheet1!B200:C200, which has 1 filled cell\.$/);
  expect(await snapshot()).toEqual(before);
});
