/** What the pane knows: the frame around the views, and each view's own state. */

import { type LogState, startLog } from "./bid/log-state";
import { type RoomsState, startRooms } from "./bid/rooms-state";
import { type BidState, startBid } from "./bid/state";
import { type FunctionsState, startFunctions } from "./functions/state";
import { type JobsState, startJobs } from "./jobs/state";
import { afterMove, type Messages, startMessages } from "./messages";
import { type PlanState, startPlan } from "./plan/state";
import { CURRENT, DUE, outOfDate, type Read } from "./reads";
import { type ShareState, startShare } from "./share/state";
import { FRAME } from "./texts";

export const VIEWS = { plan: "Plan", bid: "Bid", functions: "Functions", jobs: "Jobs", share: "Share" } as const;
export type View = keyof typeof VIEWS;
export const VIEW_KEYS = Object.keys(VIEWS) as View[];

export interface State extends Messages {
  readonly view: View;
  readonly host: "waiting" | "ready" | "absent";
  /** Whether a view's code is here; it is loaded when the view is first opened. */
  readonly code: Readonly<Record<View, "due" | "loading" | "here" | "failed">>;
  /** Whether what a view shows is as the workbook has it. */
  readonly reads: Readonly<Record<View, Read>>;
  readonly plan: PlanState;
  readonly jobs: JobsState;
  readonly share: ShareState;
  readonly bid: BidState;
  readonly log: LogState;
  readonly rooms: RoomsState;
  readonly functions: FunctionsState;
}

export const startState = (plan: PlanState = startPlan()): State => ({
  ...startMessages(),
  view: "plan",
  host: "waiting",
  code: { plan: "due", bid: "due", functions: "due", jobs: "due", share: "due" },
  // The plan is read when the spreadsheet is there.
  reads: { plan: CURRENT, bid: DUE, functions: DUE, jobs: DUE, share: DUE },
  plan,
  jobs: startJobs(),
  share: startShare(),
  bid: startBid(),
  log: startLog(),
  rooms: startRooms(),
  functions: startFunctions(),
});

/** Views whose workbook may have changed since they were last in sight. */
const READ_AT_RETURN: readonly View[] = ["plan", "bid", "share"];

export function goToView(state: State, view: View): State {
  if (state.view === view) return state;
  const code = state.code[view] === "failed" ? { ...state.code, [view]: "due" as const } : state.code;
  const moved = { ...afterMove(state), view, code };
  return READ_AT_RETURN.includes(view) ? outOfDate(moved, view) : moved;
}

/** Why the workbook cannot be worked on right now; empty when it can. */
export function unavailable({ host, busy, question }: State): string {
  if (host === "absent") return FRAME.noWorkbook;
  if (host === "waiting") return FRAME.waiting;
  if (busy) return busy.busy;
  return question ? FRAME.answerFirst : "";
}
