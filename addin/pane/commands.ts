/** What every view may do: hold the state, run commands, and those commands that all views share. */
import { Gone, type Inserted, recalculate, undo } from "../sheet";
import type { Written } from "./calibration";
import { done, type Message, notUndoable } from "./messages";
import { dropCalibration } from "./plan/calibration";
import { outOfDate } from "./reads";
import { type Runner, runnerOn } from "./runner";
import type { State } from "./state";
import type { Store } from "./store";
import { FRAME, PANE_COMMANDS } from "./texts";

export interface Pane extends Runner {
  readonly store: Store<State>;
  recalculate(): Promise<void>;
  undo(inserted: Inserted): Promise<void>;
  /** Shows why something cannot be done, or what it did; null takes the message away. */
  show(message: Message | null): void;
}

export function paneOn(store: Store<State>): Pane {
  const runner = runnerOn(store);
  return {
    ...runner,
    store,

    recalculate: () => runner.run(PANE_COMMANDS.recalculate, async () => done(await recalculate())),

    undo: (inserted) =>
      runner.run(PANE_COMMANDS.undo, async (agreed) => {
        try {
          await undo(inserted, agreed);
        } catch (error) {
          if (error instanceof Gone) store.change((state) => notUndoable(state, inserted));
          throw error;
        }
        // The shelf may have been written to, or have come with the plan.
        store.change((state) => outOfDate(notUndoable(withoutAudit(state, inserted), inserted), "plan"));
        return done(FRAME.undone(inserted.what));
      }),

    show: (message) => store.change((state) => ({ ...state, message })),
  };
}

/** With its audit sheet gone there is nothing that a plan could refer to. */
export function withoutAudit(state: State, inserted: Inserted): State {
  const { written } = state.jobs;
  if (!written || written.sheet !== inserted) return state;
  const plan = isOf(written, state) ? dropCalibration(state.plan) : state.plan;
  return { ...state, plan, jobs: { ...state.jobs, written: null } };
}

const isOf = ({ sheet }: Written, { plan: { calibration } }: State) =>
  calibration !== null && sheet.calibrationRefs.some(({ estimated }) => estimated === calibration.estimated);
