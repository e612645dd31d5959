/** Every text of the Functions view, to be read through in one go; what a check found is in `repair-words.ts`. */
import { counted } from "../../common/count";
import { doing } from "../texts";

export const FUNCTIONS_COMMANDS = {
  insertCall: doing("inserting the function", "insert the function"),
  showMath: doing("reading the selected cell", "read the selected cell"),
  check: doing("checking the workbook", "check the workbook"),
  repair: doing("entering formulas again", "enter formulas again"),
  installation: doing("checking this installation", "check this installation"),
  copyReport: doing("copying the report", "copy the report"),
};

export const FUNCTIONS = {
  reading: "Reading the list of functions…",
  tryAgain: "Try again",
  listUnread: (status: number) => `Couldn't read the list of functions: error ${status}.`,
  listDamaged: "The list of functions is damaged.",
  listUnreachable: "Couldn't load the list of functions. Check the connection.",
  listNotHereYet: "The list of functions isn't loaded yet. Wait a moment, then try again.",
  notLoaded: "Couldn't load the add-in's functions. Close the pane, open it again and try again.",
  search: "Find a function",
  searchHint: "name, trade word or argument",
  found(found: number, all: number): string {
    if (found === all) return `${all} functions. In a cell, each begins with GRIT.`;
    return found === 0 ? `None of ${all} functions match; try fewer words.` : `${found} of ${all} functions`;
  },
  optional: "optional",
  gives: "Gives",
  examples: (count: number) => (count === 1 ? "Example" : "Examples"),
  errors: "Errors",
  source: "Source",
  insert: "Insert at the selected cell",
} as const;

export const MATH = {
  title: "The math behind this cell",
  intro: "Each GRIT function in the selected cell, with its numbers.",
  show: "Show the math",
  noFormula: (address: string, shown: string) =>
    `${address} has no formula. ${shown === "" ? "It's empty." : `It holds “${shown}”, typed in.`} Select a cell whose formula has a GRIT function.`,
  noFunction: (address: string) =>
    `The formula in ${address} has no GRIT function. Select a cell whose formula has one.`,
  shows: (address: string, shown: string) => `${address} ${shown === "" ? "is blank" : `shows ${shown}`}`,
  filledBy: (shows: string, anchor: string, row: number, column: number) =>
    `${shows}, filled by the formula in ${anchor}: row ${row}, column ${column} of its results`,
  takenFrom: (address: string, sentence: string) => `It's taken from ${address}. ${sentence}.`,
  noFunctionNorCells: "This formula has no GRIT function and refers to no cells.",
  functionsInCells: "This formula has no GRIT function, but cells it refers to do. It refers to:",
  noFunctionInCells: "Neither this formula nor the cells it refers to have a GRIT function. It refers to:",
  notNeeded: (names: readonly string[]) => `Also in the formula, but not used in this cell: ${names.join(", ")}.`,
  behind: (shown: string) =>
    `The cell shows ${shown}, but the functions give values: the spreadsheet hasn't calculated it yet. Enter the formula again, or use the check at the end of this view.`,
  selectToShow: (address: string) => `Select ${address} and show its math.`,
  perhaps: "It may not count in this cell.",
  withNumbers: "With its numbers",
  result: "Result:",
  resultUnknown: (why: string) => `Result not known here: ${why}.`,
  source: (source: string) => `Source: ${source}`,
} as const;

export const REPAIR = {
  title: "Check and repair",
  intro: "For cells with #NAME? or outdated values. The check reads and calculates every sheet; it changes no formula.",
  check: "Check this workbook",
  recalculate: "Recalculate all",
  repair: (cells: number) => `Repair ${counted(cells, "cell")}`,
  left: "Nothing was checked",
} as const;

export const INSTALLATION = {
  title: "Check this installation",
  intro:
    "Tries what the add-in relies on, on sheets of its own, and removes them again. Excel's own Undo list is cleared. Send us the report: nothing of your workbook is in it.",
  check: "Check this installation",
  report: "Report",
  copy: "Copy the report",
  download: "Download",
  copied: "Report copied.",
  notCopied: "Couldn't copy the report. Select its text and copy it by hand.",
  file: "gritledger-check.txt",
} as const;
