/** The commands: each calls the workbook's side once, one at a time, and says how it went. */
import { shown } from "../../functions/cell";
import { FIELDS, type Key } from "../../functions/plan/fields";
import {
  type Consent,
  Gone,
  hasDecimalComma,
  type Inserted,
  insertFunction,
  insertMachines,
  insertPlan,
  NeedsAnswer,
  Refusal,
  readCalibration,
  readLinked,
  readMath,
  readSelectedCell,
  readShelf,
  recalculate,
  undo,
  writeMeasured,
} from "../sheet";
import { readCatalogue } from "./functions/catalogue";
import { loadedLibrary } from "./functions/library";
import { takeWorking, headline as workingHeadline } from "./functions/math";
import { type RepairCommands, repairCommandsOn } from "./functions/repair-actions";
import { type JobsCommands, jobsCommandsOn } from "./jobs/actions";
import { afterUndo, carried } from "./jobs/state";
import { idle, notUndoable, say, turnAway } from "./messages";
import { money } from "./numbers";
import { setLessonRead, takeCalibration } from "./plan/calibration";
import { derive, hindrance, planOf } from "./plan/derived";
import { type MeasuredCut, type MeasuredWear, measuredOf } from "./plan/strip";
import { type ShareCommands, shareCommandsOn } from "./share/actions";
import { link, type Message, type Place, type State, starterOf, takeLinked, tellAllProblems } from "./state";
import type { Store } from "./store";

export interface Commands {
  /** Resolves when no command runs. */
  idle(): Promise<void>;
  insertTable(place: Place): Promise<void>;
  insertCall(call: string): Promise<void>;
  takeFromCell(key: Key): Promise<void>;
  readShelf(): Promise<void>;
  /** How the spreadsheet writes numbers. */
  readNotation(): Promise<void>;
  /** Follows what the user did to the shelf, the linked cells and the audit in the meantime. */
  lookAgain(): Promise<void>;
  /** What the plan learns from past jobs, as their audit has it now. */
  readLesson(): Promise<void>;
  /** Follows it, once the workbook has come to rest. */
  workbookChanged(): void;
  addMachines(): Promise<void>;
  /** Into the tool's row of the tooling table. */
  writeMeasured(found: MeasuredCut | MeasuredWear): Promise<void>;
  recalculate(): Promise<void>;
  undo(inserted: Inserted): Promise<void>;
  loadCatalogue(): Promise<void>;
  /** How the selected cell's number comes about. */
  showWorking(): Promise<void>;
  answer(yes: boolean): void;
  dismiss(): void;
  readonly jobs: JobsCommands;
  readonly share: ShareCommands;
  readonly repair: RepairCommands;
}

/** What a command leaves to say. */
type Outcome = Promise<Message | null>;

/** The price as the plan shows it; empty where it shows none. */
function priceIn(state: State): string {
  const { estimate } = derive(state);
  return estimate ? money(estimate.price) : "";
}

const done = (text: string, inserted?: Inserted): Message => ({ kind: "done", text, inserted });

/** Milliseconds without a change after which the workbook has come to rest. */
const SETTLED_AFTER = 300;

export function commandsOn(store: Store): Commands {
  let running = Promise.resolve();

  /** Runs one command; while one runs or waits for an answer, no other starts, and who asks for it is told. */
  function run(doing: string, work: (agreed: Consent) => Outcome, agreed: Consent = false): Promise<void> {
    if (store.state.busy || store.state.question) store.change(turnAway);
    else running = runNow(doing, work, agreed);
    return running;
  }

  /** Work that needs an answer asks for it and, on yes, runs again with what was agreed to. */
  async function runNow(doing: string, work: (agreed: Consent) => Outcome, agreed: Consent): Promise<void> {
    store.change((state) => ({ ...state, busy: doing, message: null, question: null }));
    try {
      const message = await work(agreed);
      store.change((state) => say(state, message));
    } catch (error) {
      const asked = error instanceof NeedsAnswer ? error : null;
      const question = asked && {
        what: asked.message,
        question: asked.question,
        yes: () => void run(doing, work, asked.asked),
      };
      const message = question ? null : failure(doing, error);
      store.change((state) => ({ ...idle(state), message, question }));
    }
  }

  /** Cells that inputs are taken from may have changed since; the pane follows them. */
  async function refreshLinks(): Promise<void> {
    const { links } = store.state;
    if (Object.keys(links).length === 0) return;
    const values = await readLinked(links);
    store.change((state) => takeLinked(state, links, values));
  }

  /** A command that needs the linked cells stops at the first that holds no number. */
  async function needLinks(): Promise<void> {
    await refreshLinks();
    const { links, linkTroubles } = store.state;
    const bad = (Object.keys(linkTroubles) as Key[]).find((key) => links[key]);
    if (bad) throw new Refusal(`${linkTroubles[bad]}.`);
  }

  /** A plan that learns from past jobs is priced by what their audit says now. */
  async function readLesson(): Promise<void> {
    const lesson = carried(store.state);
    if (!lesson) return;
    store.change((state) => setLessonRead(state, true));
    const told = await readCalibration(lesson.line, lesson.value || "all");
    store.change((state) => takeCalibration(state, lesson, told));
  }

  let settling: ReturnType<typeof setTimeout> | undefined;
  function workbookChanged(): void {
    clearTimeout(settling);
    // Another view reads it all when it goes back to the plan.
    if (store.state.view !== "plan") return;
    settling = setTimeout(() => {
      if (store.state.busy) workbookChanged();
      else void lookAgain();
    }, SETTLED_AFTER);
  }

  const setFollowed = (followed: boolean) =>
    store.change((state) => (state.followed === followed ? state : { ...state, followed }));

  /** One look at a time, so that none brings back what the one after it has read. */
  let looking = Promise.resolve();
  function lookAgain(): Promise<void> {
    setFollowed(true); // asked for once, however long the look before it takes
    looking = looking.then(look);
    return looking;
  }

  /** Nobody asked for this look, so a failure is left for the next command to tell. */
  async function look(): Promise<void> {
    if (store.state.busy || store.state.host !== "ready") return setFollowed(false); // asked for again when it can be
    const before = priceIn(store.state);
    for (const read of [takeShelf, refreshLinks, readLesson]) await read().catch(() => undefined);
    const now = priceIn(store.state);
    if (now === before) return;
    const announcement = `The workbook has changed: ${now ? `the price is now ${now}` : "there is no price now"}.`;
    store.change((state) => ({ ...state, announcement }));
  }

  /** The workbook's shelf as it is now. */
  async function takeShelf(): Promise<void> {
    const { units } = store.state.inputs;
    const shelf = { ...(await readShelf(units)), units };
    // The same shelf stays the same object, by which the search for the cheapest knows that it has searched it.
    store.change((state) => (JSON.stringify(state.shelf) === JSON.stringify(shelf) ? state : { ...state, shelf }));
  }

  return {
    async idle() {
      // Another may begin as soon as one is done.
      while (store.state.busy) await running;
    },

    lookAgain,

    readLesson: () => readLesson().catch(() => undefined),

    workbookChanged,

    async readNotation() {
      // Nobody asked for it, and where it is not told the pane does without.
      const decimalComma = await hasDecimalComma().catch(() => false);
      store.change((state) => ({ ...state, decimalComma }));
    },

    insertTable(place) {
      const { state } = store;
      if (state.busy || state.question) {
        store.change(turnAway);
        return running;
      }
      const derived = derive(state);
      const stopped = hindrance(state, derived);
      if (stopped) {
        const why = derived.firstProblem ? derived.problems[derived.firstProblem] : stopped;
        store.change((s) => ({ ...tellAllProblems(s), message: { kind: "error", text: `Not inserted. ${why}` } }));
        return running;
      }
      return run("Inserting the stage table…", async (agreed) => {
        const before = priceIn(store.state);
        await takeShelf();
        await needLinks();
        await readLesson();
        const { lessonTrouble } = store.state.jobs;
        if (lessonTrouble) throw new Refusal(`Not inserted. ${lessonTrouble}`);
        const { trouble } = derive(store.state);
        if (trouble) throw new Refusal(`Not inserted. ${trouble}`);
        const now = priceIn(store.state);
        const inserted = await insertPlan(planOf(store.state), place, agreed);
        await takeShelf().catch(() => undefined); // what is written is written; the next look will tell
        const changed = now === before ? "" : ` The workbook had changed: the price is ${now}, no longer ${before}.`;
        return done(`${inserted.what}.${changed}`, inserted);
      });
    },

    insertCall: (call) =>
      run("Inserting the function…", async () => {
        const inserted = await insertFunction(call);
        return done(`${inserted.what}.`, inserted);
      }),

    takeFromCell: (key) =>
      run("Reading the selected cell…", async () => {
        const { address, value } = await readSelectedCell();
        const { label } = FIELDS[key];
        if (typeof value !== "number") {
          throw new Refusal(`${label} needs a number; ${address} holds ${shown(value)}. Select another cell.`);
        }
        store.change((state) => link(state, key, address, value));
        return done(`${label} is taken from ${address}.`);
      }),

    readShelf() {
      const { message, inputs } = store.state;
      const { units } = inputs;
      return run("Reading the shelf…", async () => {
        // Until it is read, nothing is priced from a shelf in other units.
        store.change((state) => ({ ...state, shelf: state.shelf.units === units ? state.shelf : starterOf(units) }));
        await takeShelf();
        await needLinks();
        return message;
      });
    },

    addMachines: () =>
      run("Adding a machines table…", async () => {
        const inserted = await insertMachines(store.state.inputs.units);
        await takeShelf().catch(() => undefined); // what is written is written; the next look will tell
        return done(
          `${inserted.what}. Its machines are invented: overtype them before you quote; the cheapest sequence uses them wherever they cost less.`,
          inserted,
        );
      }),

    writeMeasured: (found) =>
      run("Writing into the tooling table…", async (agreed) => {
        const inserted = await writeMeasured(found.tool.name, measuredOf(found), store.state.inputs.units, agreed);
        await takeShelf().catch(() => undefined);
        return done(`${inserted.what}.`, inserted);
      }),

    recalculate: () => run("Recalculating…", async () => done(await recalculate())),

    undo: (inserted) =>
      run("Undoing…", async (agreed) => {
        try {
          await undo(inserted, agreed);
        } catch (error) {
          if (error instanceof Gone) store.change((state) => notUndoable(state, inserted));
          throw error;
        }
        store.change((state) => afterUndo(state, inserted));
        store.change((state) => notUndoable(state, inserted));
        await takeShelf().catch(() => undefined); // it may have been written to, or have come with the plan
        return done(`Undone: ${inserted.what}.`);
      }),

    async loadCatalogue() {
      store.change((state) => ({ ...state, catalogue: "reading" }));
      const catalogue = await readCatalogue();
      store.change((state) => ({ ...state, catalogue }));
    },

    showWorking: () =>
      run("Reading the selected cell…", async () => {
        const { catalogue } = store.state;
        if (typeof catalogue === "string" || "trouble" in catalogue) {
          throw new Refusal("The list of functions is not there yet. Wait a moment, then try again.");
        }
        const cell = await readMath(catalogue.entries, loadedLibrary());
        store.change((state) => ({
          ...state,
          working: takeWorking(cell),
          announcement: workingHeadline(cell),
        }));
        return null;
      }),

    answer(yes) {
      const { question } = store.state;
      const message: Message = { kind: "note", text: "Left as it was." };
      store.change((state) => ({ ...state, question: null, turnedAway: "", message: yes ? null : message }));
      if (yes) question?.yes();
    },

    dismiss() {
      store.change((state) => ({ ...state, message: null }));
    },

    jobs: jobsCommandsOn(store, run),

    share: shareCommandsOn(store, run),

    repair: repairCommandsOn(store, run),
  };
}

const NEXT_STEPS: Readonly<Record<string, string>> = {
  InvalidOperationInCellEditMode: "A cell is being edited. Press Enter in it, then try again.",
  AccessDenied: "The sheet is protected. Unprotect it, or choose another place, then try again.",
};

/** What happened, why, and what to do next. */
function failure(doing: string, error: unknown): Message {
  if (error instanceof Refusal) return { kind: "error", text: error.message };
  const { code = "", message = String(error) } = error as { code?: string; message?: string };
  const what = `${doing.replace("…", "")} did not work`;
  const next =
    NEXT_STEPS[code] ?? `The spreadsheet said: ${message.replace(/\.?$/, ".")} Check the workbook, then try again.`;
  return { kind: "error", text: `${what}. ${next}` };
}
