/** What the pane has just said, how long it stays, and what can be undone after it. */
import type { Inserted } from "../sheet";
import { setLessonRead } from "./lesson";
import type { Message, State, View } from "./state";

/** A command's last word; what it inserted is from now on what can be undone. */
export function say(state: State, message: Message | null): State {
  return { ...idle(state), message, undoable: message?.inserted ?? state.undoable };
}

/** No command runs any more. */
export const idle = (state: State): State => ({ ...state, busy: "", turnedAway: "" });

/** A command that is asked for while another runs is not started: that is told, and the running one goes on as it was. */
export function turnAway(state: State): State {
  const doing = state.busy.charAt(0).toLowerCase() + state.busy.slice(1).replace("…", "");
  return { ...state, turnedAway: `Still ${doing}: nothing else was started. Try again when it is done.` };
}

/** What can be undone while no command runs and the message on show does not offer it. */
export const undoableBesides = ({ undoable, message, busy }: State): Inserted | null =>
  busy || undoable === message?.inserted ? null : undoable;

/** Goes to another view; what was said in the one before stays only where it is an error or can be undone. */
export function goToView(state: State, view: View): State {
  const { message } = state;
  if (state.view === view) return state;
  const stays = message?.kind === "error" || message?.inserted;
  // Sheets may have come and gone since the Share view was last seen.
  const share = view === "share" ? { ...state.share, looked: false } : state.share;
  const next = { ...state, view, share, message: stays ? message : null, announcement: "" };
  // The audit may say something else by now.
  return view === "plan" ? setLessonRead(next, false) : next;
}
