/** What the pane says about its commands, how long that stays, and what can be undone after it. */
import type { Inserted } from "../sheet";
import { type Doing, FRAME } from "./texts";

export interface Message {
  readonly kind: "done" | "note" | "error";
  readonly text: string;
  /** What can be taken back. */
  readonly inserted?: Inserted;
}

export const done = (text: string, inserted?: Inserted): Message => ({ kind: "done", text, inserted });
export const note = (text: string): Message => ({ kind: "note", text });
export const problem = (text: string): Message => ({ kind: "error", text });

export interface Question {
  readonly what: string;
  readonly question: string;
  readonly yes: () => void;
}

export interface Messages {
  /** The command that is running. */
  readonly busy: Doing | null;
  /** What someone sees who asked for a command that wasn't started; else empty. */
  readonly turnedAway: string;
  readonly message: Message | null;
  readonly question: Question | null;
  /** What was inserted and can be taken back, the last last: what came before it may be what it stands on. */
  readonly undoables: readonly Inserted[];
  /** A change that only a listener would miss. */
  readonly announcement: string;
}

export const startMessages = (): Messages => ({
  busy: null,
  turnedAway: "",
  message: null,
  question: null,
  undoables: [],
  announcement: "",
});

/** How many insertions can be taken back, one after the other: each keeps what stood in its cells. */
const MOST_UNDOABLE = 20;

/** A command's last word; what it inserted is from now on what can be undone first. */
export function say<S extends Messages>(state: S, message: Message | null): S {
  const undoables = [...state.undoables, ...(message?.inserted ? [message.inserted] : [])].slice(-MOST_UNDOABLE);
  return { ...idle(state), message, undoables };
}

/** What was undone, or is gone from the workbook, cannot be undone any more. */
export const notUndoable = <S extends Messages>(state: S, inserted: Inserted): S => ({
  ...state,
  undoables: state.undoables.filter((other) => other !== inserted),
  message: state.message?.inserted === inserted ? null : state.message,
});

/** No command runs any more. */
export const idle = <S extends Messages>(state: S): S => ({ ...state, busy: null, turnedAway: "" });

/** A command that is asked for while another runs, or waits for an answer, is not started, and the user is told so. */
export const turnAway = <S extends Messages>(state: S): S => ({
  ...state,
  turnedAway: state.busy?.still ?? FRAME.answerFirst,
});

/** What can be undone while no command runs and the message on show does not offer it. */
export function undoableBesides({ undoables, message, busy }: Messages): Inserted | null {
  const last = undoables.at(-1);
  return busy || !last || last === message?.inserted ? null : last;
}

/** What was said in one view stays in the next only where it is an error or can be undone. */
export function afterMove<S extends Messages>(state: S): S {
  const { message } = state;
  const stays = message?.kind === "error" || message?.inserted;
  return { ...state, message: stays ? message : null, announcement: "" };
}
