/** The commands of the Plan view, and how it follows the workbook. */
import { shown } from "../../../functions/cell";
import { FIELDS, type Key } from "../../../functions/plan/fields";
import { signBefore } from "../../../functions/plan/inputs";
import { needYes, questionsOf } from "../../common/refusal";
import {
  addStrip,
  type FollowedCell,
  hasDecimalComma,
  insertMachines,
  insertPlan,
  insertQuoteLines,
  later,
  listPlans,
  Refusal,
  readCalibration,
  readLinked,
  readPlan,
  readSelectedCell,
  readShelf,
  updatePlan,
  writeMeasured,
} from "../../sheet";
import type { Pane } from "../commands";
import { done, problem } from "../messages";
import { money } from "../numbers";
import { isToRead, outOfDate, reading } from "../reads";
import { type State, unavailable } from "../state";
import { takeReading, usedCalibration } from "./calibration";
import { derive, planOf } from "./derived";
import { dismissWelcome } from "./draft";
import {
  asWritten,
  fillInExample,
  isStarted,
  link,
  linkedCells,
  newPlan,
  type Place,
  type PlanState,
  showAllProblems,
  starterOf,
  type Told,
  takeKnown,
  takeLinked,
} from "./state";
import type { MeasuredCut, MeasuredWear } from "./strip";
import { PLAN, PLAN_COMMANDS, troubleWords } from "./texts";

export interface PlanCommands {
  /** A change of the plan that may have something to say. */
  change(next: (plan: PlanState) => Told): void;
  insertTable(place: Place): Promise<void>;
  /** Lines of the plan that is open, at the selected cell. */
  insertLines(): Promise<void>;
  /** Fills the form from a plan of the workbook, or starts a new one. */
  open(sheetId: string | null): Promise<void>;
  /** Writes the plan that is open where it stands. */
  update(): Promise<void>;
  fillInExample(): Promise<void>;
  takeFromCell(key: Key): Promise<void>;
  readShelf(): Promise<void>;
  /** How the spreadsheet writes numbers. */
  readNotation(): Promise<void>;
  /** Whether to read again what the plan takes from the workbook: the shelf, the linked cells and the calibration. */
  isToRead(state: State): boolean;
  read(): Promise<void>;
  /** Follows the workbook, once it has come to rest. */
  workbookChanged(): void;
  addMachines(): Promise<void>;
  /** Into the table of test strips. */
  addStrip(found: MeasuredCut): Promise<void>;
  /** Into the tool's row of the tooling table. */
  writeMeasured(found: MeasuredCut | MeasuredWear): Promise<void>;
}

const ask = questionsOf({
  exampleOver: () => PLAN.exampleOver,
  openOver: () => PLAN.openOver,
  update: ({ sheet, changes }: { sheet: string; changes: readonly string[] }) => PLAN.updateAsk(sheet, changes),
  insertWithout: ({ names }: { names: string }) => PLAN.insertWithout(names),
});

/** Why there are no hours of past jobs any more; empty where there are, or where none were asked for. */
function noHoursIn({ calibration, noCalibration }: PlanState): string {
  return calibration && noCalibration
    ? PLAN.noHours({ kind: "auditGone", label: calibration.label, why: noCalibration })
    : "";
}

/** The price as the plan shows it; empty where it shows none. */
function priceIn(plan: PlanState): string {
  const { estimate } = derive(plan);
  return estimate ? money(estimate.price, signBefore(plan.inputs)) : "";
}

/** It comes with the test strip's card. */
const measuring = () => later(import(/* webpackChunkName: "strip" */ "./strip"), "works out test strips");

/** It comes with the first plan that is opened. */
const reopening = () => later(import(/* webpackChunkName: "reopen" */ "./reopen"), "opens plans");

/** Milliseconds without a change after which the workbook has come to rest. */
const SETTLED_AFTER = 300;

export function planCommands(pane: Pane): PlanCommands {
  const { store } = pane;
  const plan = store.part("plan");

  /** The workbook's shelf as it is now. */
  async function takeShelf(): Promise<void> {
    const { units } = plan.state.inputs;
    const shelf = { ...(await readShelf(units)), units };
    // The same shelf stays the same object, by which the search for the cheapest knows that it has searched it.
    plan.change((now) => (JSON.stringify(now.shelf) === JSON.stringify(shelf) ? now : { ...now, shelf }));
  }

  const followed: FollowedCell[] = [];
  /** Cells that inputs are taken from may have changed since, or moved. */
  async function takeLinks(): Promise<void> {
    const asked = linkedCells(plan.state);
    if (asked.length === 0) return;
    const found = await readLinked(asked, followed);
    plan.change((now) => takeLinked(now, asked, found));
  }

  /** The plans that stand in the workbook. */
  async function takePlans(): Promise<void> {
    const found = await listPlans();
    plan.change((now) =>
      takeKnown(
        now,
        found.map(({ sheetId, sheet, floor }) => ({ sheetId, sheet, floor })),
      ),
    );
  }

  /** A command that needs the linked cells stops at the first that holds no number. */
  async function needLinks(): Promise<void> {
    await takeLinks();
    const { links, linkTroubles } = plan.state;
    const bad = (Object.keys(linkTroubles) as Key[]).find((key) => links[key]);
    if (bad) throw new Refusal(PLAN.sentence(PLAN.linkTrouble(FIELDS[bad].label, linkTroubles[bad]!)));
  }

  /** A plan with a calibration is priced by what the audit says now. */
  async function takeCalibration(): Promise<void> {
    const calibration = usedCalibration(plan.state);
    if (!calibration) return;
    const read = await readCalibration(calibration.line, calibration.value || "all");
    plan.change((now) => takeReading(now, calibration, read));
  }

  /** Nobody asked for this, so a failure is left for the next command to show. */
  const follow = () =>
    reading(store, "plan", async () => {
      // What has changed until now is read with the rest.
      clearTimeout(settling);
      const before = priceIn(plan.state);
      for (const take of [takeShelf, takeLinks, takeCalibration, takePlans]) await take().catch(() => undefined);
      const now = priceIn(plan.state);
      if (now !== before) store.change((state) => ({ ...state, announcement: PLAN.priceFollowed(now) }));
    });

  const hasOtherUnits = (state: State) => state.plan.shelf.units !== state.plan.inputs.units;

  /** Why the plan can't be written, with every problem of the form shown. */
  function stoppedBy(): string {
    const { firstProblem, problems, trouble } = derive(plan.state);
    const stopped = unavailable(store.state) || troubleWords(trouble);
    if (!stopped) return "";
    plan.change(showAllProblems);
    return firstProblem ? PLAN.sentence(problems[firstProblem]!) : stopped;
  }

  let settling: ReturnType<typeof setTimeout> | undefined;
  function workbookChanged(): void {
    clearTimeout(settling);
    // Another view has it all read when it goes back to the plan.
    if (store.state.view !== "plan") return;
    settling = setTimeout(() => {
      if (store.state.busy) workbookChanged();
      else readAgain();
    }, SETTLED_AFTER);
  }

  const readAgain = () => store.change((state) => outOfDate(state, "plan"));

  const commands: PlanCommands = {
    change: (next) =>
      store.change((state) => {
        const { plan: changed, note: text } = next(state.plan);
        const message = text === undefined ? state.message : ({ kind: "note", text } as const);
        return { ...state, plan: changed, message };
      }),

    isToRead: (state) => isToRead(state.reads.plan) || (hasOtherUnits(state) && !state.reads.plan.running),

    // In other units nothing is priced before it is read, so that is shown, and a failure too.
    read: () => (hasOtherUnits(store.state) ? commands.readShelf() : follow()),

    workbookChanged,

    async readNotation() {
      // Nobody asked for it, and where it is not known the pane does without.
      const decimalComma = await hasDecimalComma().catch(() => false);
      plan.change((now) => ({ ...now, decimalComma }));
    },

    async insertTable(place) {
      if (pane.isTaken()) return pane.idle();
      const stopped = stoppedBy() || (place === "selected cell" && plan.state.lines.length === 0 ? PLAN.noLines : "");
      if (stopped) return pane.show(problem(PLAN.notInserted(stopped)));
      return pane.run(PLAN_COMMANDS.insertTable, async (agreed) => {
        const before = priceIn(plan.state);
        await takeShelf();
        await needLinks();
        await takeCalibration();
        const why = noHoursIn(plan.state) || troubleWords(derive(plan.state).trouble);
        if (why) throw new Refusal(PLAN.notInserted(why));
        const { leftOut } = derive(plan.state);
        // Any other yes is to a question that came after this one.
        if (leftOut.length > 0 && agreed === false) throw ask("insertWithout", { names: leftOut.join(", ") });
        const now = priceIn(plan.state);
        const inserted = await insertPlan(planOf(plan.state), place, agreed, plan.state.lines);
        readAgain();
        const changed = now === before ? "" : ` ${PLAN.priceChangedMeanwhile(now, before)}`;
        return done(`${inserted.what}.${changed}`, inserted);
      });
    },

    insertLines: () =>
      pane.run(PLAN_COMMANDS.insertLines, async (agreed) => {
        const { opened, lines, inputs } = plan.state;
        if (lines.length === 0) throw new Refusal(PLAN.noLines);
        const inserted = await insertQuoteLines(opened!.sheetId, lines, signBefore(inputs), agreed);
        return done(`${inserted.what}.`, inserted);
      }),

    open: (sheetId) =>
      pane.run(PLAN_COMMANDS.open, async (agreed) => {
        if (isStarted(plan.state)) needYes(agreed, ask("openOver"));
        if (sheetId === null) {
          plan.change(newPlan);
          return done(PLAN.started);
        }
        const [opened, { openedInForm }] = await Promise.all([readPlan(sheetId), reopening()]);
        const { jobsOn, on } = opened;
        const read = jobsOn && (await readCalibration(jobsOn.line, jobsOn.value || "all"));
        plan.change((now) => openedInForm(now, opened, read && !("kind" in read) ? read : undefined));
        if (hasOtherUnits(store.state)) await takeShelf();
        return done(PLAN.opened(on.floor, on.sheet));
      }),

    async update() {
      if (pane.isTaken()) return pane.idle();
      const { opened } = plan.state;
      const stopped = stoppedBy();
      if (!opened) return;
      if (stopped) return pane.show(problem(PLAN.notUpdated(stopped)));
      return pane.run(PLAN_COMMANDS.update, async (agreed) => {
        await takeShelf();
        await needLinks();
        await takeCalibration();
        const why = noHoursIn(plan.state) || troubleWords(derive(plan.state).trouble);
        if (why) throw new Refusal(PLAN.notUpdated(why));
        const [before, { changesIn }] = await Promise.all([readPlan(opened.sheetId), reopening()]);
        const written = planOf(plan.state);
        const price = derive(plan.state).estimate?.price ?? null;
        const changes = changesIn(before, { ...written, price });
        if (changes.length === 0) return done(PLAN.nothingToUpdate(before.on.sheet));
        // Any other yes is to a question that came after this one.
        if (agreed === false) throw ask("update", { sheet: before.on.sheet, changes });
        const inserted = await updatePlan(opened.sheetId, written, agreed);
        plan.change(asWritten);
        readAgain();
        return done(`${inserted.what}.`, inserted);
      });
    },

    fillInExample: () =>
      pane.run(PLAN_COMMANDS.fillInExample, async (agreed) => {
        if (isStarted(plan.state)) needYes(agreed, ask("exampleOver"));
        plan.change((now) => dismissWelcome(fillInExample(now)));
        return null;
      }),

    takeFromCell: (key) =>
      pane.run(PLAN_COMMANDS.takeFromCell, async () => {
        const { address, value } = await readSelectedCell(key, followed);
        const { label } = FIELDS[key];
        if (typeof value !== "number") throw new Refusal(PLAN.cellHoldsNoNumber(label, address, shown(value)));
        plan.change((now) => link(now, key, address, value));
        return done(PLAN.takenFrom(label, address));
      }),

    readShelf() {
      const { message } = store.state;
      const { units } = plan.state.inputs;
      return reading(store, "plan", () =>
        pane.run(PLAN_COMMANDS.readShelf, async () => {
          // Until it is read, nothing is priced from a shelf in other units.
          plan.change((now) => (now.shelf.units === units ? now : { ...now, shelf: starterOf(units) }));
          await takeShelf();
          await takeCalibration();
          await takePlans().catch(() => undefined); // the shelf is what was asked for
          await needLinks();
          return message;
        }),
      );
    },

    addMachines: () =>
      pane.run(PLAN_COMMANDS.addMachines, async () => {
        const inserted = await insertMachines(plan.state.inputs.units, signBefore(plan.state.inputs));
        await takeShelf().catch(() => undefined); // what is written is written; the next read will show
        return done(PLAN.machinesAdded(inserted.what), inserted);
      }),

    addStrip: (found) =>
      pane.run(PLAN_COMMANDS.addStrip, async () => {
        const { strip, inputs } = plan.state;
        const { rememberedAs } = await measuring();
        const inserted = await addStrip(rememberedAs(found, strip, inputs, new Date()), inputs.units);
        await takeShelf().catch(() => undefined);
        return done(`${inserted.what}.`, inserted);
      }),

    writeMeasured: (found) =>
      pane.run(PLAN_COMMANDS.writeMeasured, async (agreed) => {
        const { measuredOf } = await measuring();
        const inserted = await writeMeasured(found.tool.name, measuredOf(found), plan.state.inputs.units, agreed);
        await takeShelf().catch(() => undefined);
        return done(`${inserted.what}.`, inserted);
      }),
  };
  return commands;
}
