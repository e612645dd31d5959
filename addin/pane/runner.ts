/** Runs commands, one at a time, and says how each went. */
import { type Consent, NeedsAnswer, Refusal } from "../sheet";
import { idle, type Message, type Messages, note, problem, say, turnAway } from "./messages";
import type { Store } from "./store";
import { type Doing, FRAME } from "./texts";

/** What a command does, and leaves to say. */
type Work = (agreed: Consent) => Promise<Message | null>;

export interface Runner {
  /** Runs a command; while one runs or waits for an answer, no other starts, and the user is told. */
  run(doing: Doing, work: Work): Promise<void>;
  /** Whether a command runs or waits for an answer; the user is told so. */
  isTaken(): boolean;
  /** Resolves when no command runs. */
  idle(): Promise<void>;
  answer(yes: boolean): void;
}

export function runnerOn<S extends Messages>(store: Store<S>): Runner {
  let running = Promise.resolve();

  function isTaken(): boolean {
    const taken = store.state.busy !== null || store.state.question !== null;
    if (taken) store.change(turnAway);
    return taken;
  }

  function run(doing: Doing, work: Work, agreed: Consent = false): Promise<void> {
    if (!isTaken()) running = runNow(doing, work, agreed);
    return running;
  }

  /** Work that needs an answer asks for it and, on yes, runs again with what was agreed to. */
  async function runNow(doing: Doing, work: Work, agreed: Consent): Promise<void> {
    store.change((state) => ({ ...state, busy: doing, message: null, question: null }));
    try {
      const message = await work(agreed);
      store.change((state) => say(state, message));
    } catch (error) {
      const question = questionOf(error, (asked) => void run(doing, work, asked));
      const message = question ? null : problem(failure(doing, error));
      store.change((state) => ({ ...idle(state), message, question }));
    }
  }

  return {
    run: (doing, work) => run(doing, work),
    isTaken,

    async idle() {
      // Another may begin as soon as one is done.
      while (store.state.busy) await running;
    },

    answer(yes) {
      const { question } = store.state;
      const message = yes ? null : note(FRAME.leftAsItWas);
      store.change((state) => ({ ...state, question: null, turnedAway: "", message }));
      if (yes) question?.yes();
    },
  };
}

function questionOf(error: unknown, goOn: (asked: Consent) => void): Messages["question"] {
  if (!(error instanceof NeedsAnswer)) return null;
  const { message: what, question, asked } = error;
  return { what, question, yes: () => goOn(asked) };
}

/** What happened, why, and what to do next. What Excel refuses has become a refusal by now. */
function failure({ failed }: Doing, error: unknown): string {
  if (error instanceof Refusal) return error.message;
  const { message = String(error) } = error as { message?: string };
  return FRAME.failure(failed, FRAME.unknownFailure(message));
}
