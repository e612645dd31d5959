/** What the pane has just said, how long it stays, and what can be undone after it. */
import type { Inserted } from "../sheet";
import { setLessonRead } from "./plan/calibration";
import type { Message, State, View } from "./state";

/** How many insertions can be taken back, one after the other: each keeps what stood in its cells. */
const MOST_UNDOABLE = 20;

/** A command's last word; what it inserted is from now on what can be undone first. */
export function say(state: State, message: Message | null): State {
  const undoables = [...state.undoables, ...(message?.inserted ? [message.inserted] : [])].slice(-MOST_UNDOABLE);
  return { ...idle(state), message, undoables };
}

/** What was undone, or is gone from the workbook, cannot be undone any more. */
export const notUndoable = (state: State, inserted: Inserted): State => ({
  ...state,
  undoables: state.undoables.filter((other) => other !== inserted),
  message: state.message?.inserted === inserted ? null : state.message,
});

/** No command runs any more. */
export const idle = (state: State): State => ({ ...state, busy: "", turnedAway: "" });

/**
 * A command that is asked for while another runs, or waits for an answer, is not started: that is told, and the other one
 * goes on as it was.
 */
export function turnAway(state: State): State {
  if (!state.busy) return { ...state, turnedAway: "Answer the question first: nothing else was started." };
  const doing = state.busy.charAt(0).toLowerCase() + state.busy.slice(1).replace("…", "");
  return { ...state, turnedAway: `Still ${doing}: nothing else was started. Try again when it is done.` };
}

/** What can be undone while no command runs and the message on show does not offer it. */
export function undoableBesides({ undoables, message, busy }: State): Inserted | null {
  const last = undoables.at(-1);
  return busy || !last || last === message?.inserted ? null : last;
}

/** Goes to another view; what was said in the one before stays only where it is an error or can be undone. */
export function goToView(state: State, view: View): State {
  const { message } = state;
  if (state.view === view) return state;
  const stays = message?.kind === "error" || message?.inserted;
  // Sheets may have come and gone since the Share view was last seen.
  const share = view === "share" ? { ...state.share, looked: false } : state.share;
  const next = { ...state, view, share, message: stays ? message : null, announcement: "" };
  // The audit, the shelf and the linked cells may say something else by now.
  return view === "plan" ? setLessonRead({ ...next, followed: false }, false) : next;
}
