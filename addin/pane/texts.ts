/** The texts around the views: tabs, messages, what every command may say, and what several views say. */
import { counted } from "../common/count";

/** A command's own words: while it runs, to someone asking for another command meanwhile, and where it fails. */
export interface Doing {
  readonly busy: string;
  readonly still: string;
  readonly failed: string;
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** A command's own words, of what is being done ("inserting …") and what to do ("insert …"). */
export const doing = (now: string, toDo: string): Doing => ({
  busy: `${capital(now)}…`,
  still: `Still ${now}. Try again when it's done.`,
  failed: `Couldn't ${toDo}`,
});

export const FRAME = {
  views: "Views",
  notInHost:
    "This page isn't inside the spreadsheet. You can plan and look up functions here. To write into a workbook, open the pane from the spreadsheet's Gritledger buttons.",
  loading: "Loading…",
  loadFailed: "Couldn't load this view. Check the connection, then try again.",
  tryAgain: "Try again",

  message: "Message",
  dismiss: "Dismiss the message",
  undo: "Undo",
  undoLast: (what: string) => `Undo: ${what}`,
  undone: (what: string) => `Undid “${what}”.`,
  yes: "Yes",
  no: "No",
  leftAsItWas: "Nothing was changed.",
  answerFirst: "Answer the question first.",
  cancel: "Cancel",
  /** One thing to do is shown without counting. */
  progress: (what: string, done: number, of: number) =>
    of === 1 ? what : `${what}: ${done.toLocaleString("en-US")} of ${of.toLocaleString("en-US")}`,

  noWorkbook: "Not inside the spreadsheet: there's no workbook to write to.",
  waiting: "Waiting for the spreadsheet.",
  failure: (failed: string, why: string) => `${failed}: ${why}`,
  unknownFailure: (said: string) =>
    `the spreadsheet said “${said.replace(/\.$/, "")}”. Check the workbook, then try again.`,
} as const;

export const PANE_COMMANDS = {
  recalculate: doing("recalculating", "recalculate"),
  undo: doing("undoing", "undo"),
};

export const CALIBRATION = {
  allJobs: "All jobs",
  bond: (bond: string) => `${bond} bond`,
  /** In the workbook these stand as the input "Past jobs". */
  label: (group: string, jobs: number) => `${group}, ${counted(jobs, "job")}`,
  labelOfAll: (jobs: number) => `all ${counted(jobs, "job")}`,
  factor: (factor: string, low: string, high: string, confidence: string) =>
    `Took ${factor} × the quoted hours; ${low} to ${high} at ${confidence} confidence.`,
} as const;
