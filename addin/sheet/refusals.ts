/** Every question and refusal of the commands that write plans and shelves, with what to do next. */
import { grouped } from "../../functions/plan/field";
import { Gone, questionsOf, refusalsOf } from "../common/refusal";
import type { Unreadable } from "./read-plan";

const quoted = (names: readonly string[]) => names.map((name) => `“${name}”`).join(" and ");

export interface ChangedCell {
  readonly title: string;
  /** Empty where there is no old value. */
  readonly before: string | number;
  readonly value: number;
}

/** "Life of a set ft² 10,000 → 12,400", or without the old value where there is none. */
export const changeWords = (changes: readonly ChangedCell[]) =>
  changes
    .map(({ title, before, value }) => `${title} ${before === "" ? "" : `${inWords(before)} → `}${inWords(value)}`)
    .join(", ");

/** "Hall A!D31 (Floor area) holds “abc”, which is no number". */
function unreadableWords({ at, label, why, holds }: Unreadable): string {
  const held = { notNumber: "which is no number", notAllowed: "which can't be chosen" };
  if (why === "notNumber" || why === "notAllowed") return `${at} (${label}) holds “${holds}”, ${held[why]}`;
  if (why === "blankStage") return `${at} is a blank stage; delete its row`;
  if (why === "noTool") return `${at} has no tool or liquid`;
  return `${at} has no past jobs for “${holds}”`;
}

const inWords = (content: unknown) => (typeof content === "number" ? grouped(content) : String(content));

export const ask = questionsOf({
  overCells: ({ at, filled }: { at: string; filled: number }) => [
    `The lines need ${at}, which has ${filled === 1 ? "1 filled cell" : `${filled} filled cells`}.`,
    "Write over them?",
  ],
  elsewhere: ({ at }: { at: string }) => [
    `The selection has changed: the lines would go to ${at}, which is empty.`,
    "Write it there?",
  ],
  changeTool: (facts: {
    tool: string;
    table: string;
    changes: readonly ChangedCell[];
    newColumns: readonly string[];
    asText: readonly string[];
  }) => {
    const { tool, table, changes, newColumns, asText } = facts;
    const added =
      newColumns.length > 0
        ? ` The table has no column ${quoted(newColumns)} yet: it gets one at its right end, and what stands right of it moves over.`
        : "";
    // With the number format Text, no formula could use what was measured.
    const reformatted =
      asText.length > 0
        ? ` In ${quoted(asText)} its cell has the number format Text, in which a number is a text: it gets the number format General.`
        : "";
    return [`${tool} in the table ${table}: ${changeWords(changes)}.${added}${reformatted}`, "Write this?"];
  },
  rowsWithOwnCells: ({ sheet, cells }: { sheet: string; cells: readonly string[] }) => [
    `Rows of the plan on “${sheet}” go, and with them cells of your own: ${cells.join(", ")}.`,
    "Update the plan all the same?",
  ],
  undoChanged: ({ places }: { places: readonly string[] }) => [
    `You have changed or moved cells in what was inserted: ${places.join(", ")}.`,
    "Remove it with your changes?",
  ],
});

const ROOM = "Select a cell with room around it.";
const OR_ROOM = "or select a cell with room around it.";

export const refuse = refusalsOf({
  sheetProtected: () => "This sheet is protected. Unprotect it or use a new sheet.",
  noRoom: () => "The lines don't fit between the selected cell and the end of the sheet. Select another cell.",
  tableInTheWay: ({ table, at }: { table: string; at: string }) => `The table ${table} is in the way of ${at}. ${ROOM}`,
  filterInTheWay: ({ filter, at }: { filter: string; at: string }) =>
    `The filter of ${filter} is in the way of ${at}. Remove the filter, ${OR_ROOM}`,
  cellsHidden: ({ at }: { at: string }) =>
    `Rows or columns of ${at} are hidden, so part of the lines wouldn't show. Unhide them, ${OR_ROOM}`,
  mergedInTheWay: ({ merged, at }: { merged: string; at: string }) =>
    `Merged cells (${merged}) are in the way of ${at}. Unmerge them, ${OR_ROOM}`,
  spillInTheWay: ({ at }: { at: string }) => `A formula that fills several cells is in the way of ${at}. ${ROOM}`,
  structureProtected: () =>
    "The workbook's structure is protected, so no sheet can be added. Nothing was changed; unprotect the workbook and try again.",
  readOnly: () =>
    "This workbook is open for reading only. Nothing was changed; open it for editing, or save it under another name, and try again.",

  machinesThere: ({ table, sheet }: { table: string; sheet: string }) =>
    `There is a machines table already: ${table} on “${sheet}”. Add your machines there.`,
  stripsFull: ({ table, sheet }: { table: string; sheet: string }) =>
    `The table ${table} on “${sheet}” has no blank row left. Drag its lower right corner down a few rows, then add the strip again.`,
  planGone: () => "That sheet has no plan any more. Choose another plan.",
  unreadable: ({ sheet, cells }: { sheet: string; cells: readonly Pick<Unreadable, keyof Unreadable>[] }) =>
    `Can't read the plan on “${sheet}”: ${cells.map(unreadableWords).join("; ")}. Fix this, then try again.`,
  planProtected: ({ sheet }: { sheet: string }) =>
    `The sheet “${sheet}” is protected. Nothing was changed; unprotect it and try again.`,
  planHidden: ({ sheet }: { sheet: string }) =>
    `Rows of “${sheet}” are hidden or filtered. Nothing was changed; show them and try again.`,
  rowNotFound: ({ sheet, label }: { sheet: string; label: string }) =>
    `The plan on “${sheet}” has no row “${label}” where it should be, perhaps since an earlier version wrote it. Insert it as a new plan.`,
  noShelf: () => "This workbook has no shelf to price the plan from. Put the tables back, or insert a new plan.",
  tooOldToUpdate: () => "This Excel is too old to update a plan where it stands. Insert it as a new plan.",
  noTooling: () => "This workbook has no tooling table to write to yet. Insert a stage table first: it brings one.",
  noTool: ({ table, tool }: { table: string; tool: string }) =>
    `The table ${table} has no tool called ${tool}. Read the shelf again, then choose one.`,
  duplicates: ({ words }: { words: string }) => `${words}. Nothing was changed.`,

  cellFilled: ({ at }: { at: string }) => `${at} is not empty. Select an empty cell for the function.`,
  cellSpilled: ({ at }: { at: string }) =>
    `${at} is filled by another cell's formula. Select an empty cell for the function.`,
  cellIsText: ({ at }: { at: string }) =>
    `${at} has the number format Text, so a formula there isn't calculated. Give it another number format, or select another cell.`,

  halfWritten: ({ why, places }: { why: string; places: string }) =>
    `This stopped halfway (${why}), and what was written so far could not be taken out again. Look at ${places}, and delete or restore what is wrong there.`,
  undoReadOnly: () => "Nothing was undone: this workbook is open for reading only. Open it for editing, then undo.",
  undoHidden: ({ at }: { at: string }) =>
    `Nothing was undone: rows of ${at}, where it was written, are hidden by a filter or by hand. Show them all, then undo.`,
  undoResized: ({ table }: { table: string }) =>
    `Nothing was undone: the table ${table} has moved, or has other rows or columns by now. Put it back as it was, then undo.`,
  undoProtected: ({ sheet }: { sheet: string }) =>
    `Nothing was undone: the sheet “${sheet}” is protected. Unprotect it, then undo.`,
  undoStructure: () =>
    "Nothing was undone: the workbook's structure is protected, so no sheet can be deleted. Unprotect the workbook, then undo.",
  undoLastSheet: () =>
    "Nothing was undone: no other sheet is visible, and a workbook needs one. Add or unhide a sheet, then undo.",
});

export const gone = refusalsOf(
  {
    sheet: () => "The sheet with the stage table is gone, so there is nothing to undo on it.",
    cells: () => "What was written to is gone, so there is nothing to undo in it.",
  },
  Gone,
);
