/** What can't be copied or converted, and why: every reason with its words. */
import { type Reason, Refusal, refusalsOf } from "../common/refusal";

/** Why a file is no workbook that can be copied. */
export class UnreadableWorkbook extends Refusal {}

const REPAIR = "Repair it in Excel (Open, Open and Repair), save it and try again.";
const SAVE_AS = "Save it as an Excel Workbook (.xlsx): File, Save As. Then try again.";

/** A part that a workbook can't do without. */
export type Needed = "contents" | "sheets" | "part";
const NEEDED: Readonly<Record<Needed, string>> = {
  contents: "its list of contents",
  sheets: "its list of sheets",
  part: "one of its parts",
};

export const unreadable = refusalsOf(
  {
    empty: () => "This file is empty. Save the workbook and try again.",
    encrypted: () =>
      "This workbook is encrypted with a password. Remove it (File, Info, Protect Workbook) and try again.",
    old: () => `This is an old workbook (.xls). ${SAVE_AS}`,
    binary: () => `This is a binary workbook (.xlsb). ${SAVE_AS}`,
    noWorkbook: () => `This isn't an Excel workbook (.xlsx). ${SAVE_AS}`,
    zipOfOthers: () => "This is a zip without an Excel workbook in it. Choose another file.",
    brokenZip: ({ detail }: { detail: string }) => `This file is damaged and can't be unpacked (${detail}). ${REPAIR}`,
    partMissing: ({ part, needed }: { part: string; needed: Needed }) =>
      `This workbook is damaged: ${NEEDED[needed]} (${part}) is missing. ${REPAIR}`,
    sheetMissing: ({ part, sheet }: { part: string; sheet: string }) =>
      `This workbook is damaged: the sheet "${sheet}" (${part}) is missing. ${REPAIR}`,
    sheetNowhere: ({ sheet }: { sheet: string }) =>
      `This workbook is damaged: it doesn't say where the sheet "${sheet}" is. ${REPAIR}`,
    noSheets: ({ part }: { part: string }) => `This isn't an Excel workbook: ${part} lists no sheets. ${SAVE_AS}`,
    notClosed: ({ tag }: { tag: string }) =>
      `This workbook is damaged: <${tag}> isn't closed in one of its parts. ${REPAIR}`,
    noCells: () => `This workbook has no sheet with cells. Add a worksheet and try again.`,
    badChecksum: ({ part }: { part: string }) => `This file is damaged: ${part} doesn't match its checksum. ${REPAIR}`,
    badMarkup: () => `This workbook is damaged: its styles, theme or texts can't be read. ${REPAIR}`,
    partEmpty: () => `This workbook is damaged: one of its parts is empty. ${REPAIR}`,
  },
  UnreadableWorkbook,
);

/** What was chosen for a price-only copy, and can't be in it. */
export const refuseChoice = refusalsOf({
  nothing: () => "Choose at least one sheet or range for the copy.",
  noSheet: ({ sheet, sheets }: { sheet: string; sheets: readonly string[] }) =>
    `This workbook has no sheet "${sheet}". It has ${sheets.map((name) => `"${name}"`).join(", ")}.`,
  noCells: ({ sheet }: { sheet: string }) => `The sheet "${sheet}" is a chart or a dialog, with no cells to copy.`,
  noRange: ({ range }: { range: string }) => `"${range}" isn't a range of cells. Write it like A1:F30.`,
});

/** Why a formula can't be written in the spreadsheet's own functions. */
export class Untranslatable extends Error {
  constructor(
    message: string,
    readonly reason: Reason,
  ) {
    super(message);
  }

  /** Whether a formula for each of the cells that it fills could do. */
  get onlyCellByCell(): boolean {
    return this.reason.kind === "oneAtATime";
  }
}

export const untranslatable = refusalsOf(
  {
    noPlainFormula: ({ id, why }: { id: string; why: string }) => `GRIT.${id} has no plain formula: ${why}.`,
    noFunction: ({ id }: { id: string }) => `There's no function GRIT.${id}.`,
    tooManyArguments: ({ id, most, given }: { id: string; most: number; given: number }) =>
      `GRIT.${id} takes at most ${most} arguments, not ${given}.`,
    oneAtATime: ({ id, name }: { id: string; name: string }) =>
      `The plain formula of GRIT.${id} gives one answer, and ${name} is a range.`,
    rangeForTheCall: ({ id, name }: { id: string; name: string }) =>
      `${name} of GRIT.${id} is a range. A plain formula needs one of its words, or cells in two columns.`,
    gritLabel: ({ id, name }: { id: string; name: string }) =>
      `${name} of GRIT.${id} is a label, and plain formulas look sizes up by number.`,
    noList: ({ id, name }: { id: string; name: string }) => `${name} of GRIT.${id} isn't a range.`,
    looksBack: ({ id }: { id: string }) =>
      `Each answer of GRIT.${id} depends on those before it, so it must be the whole formula, with plain ranges.`,
    lambda: () => "It has names of LET or LAMBDA, which plain formulas can't use.",
    severalReferences: () => "One of its arguments combines several references.",
    unknownSize: ({ name }: { name: string }) => `How many cells ${name} gives isn't known in advance.`,
    unknownCells: ({ reference }: { reference: string }) => `Which cells ${reference} covers isn't known in advance.`,
    tooFewCells: ({ reference }: { reference: string }) => `The formula fills more cells than ${reference} has.`,
    typedArray: () => "A formula with a typed array can't be split cell by cell.",
    operator: ({ operator }: { operator: string }) => `A formula with ${operator} can't be split cell by cell.`,
    severalCells: ({ name }: { name: string }) => `${name} of several cells can't be split cell by cell.`,
    bracketOpen: () => "A bracket in the formula isn't closed.",
    tooLong: ({ length, most }: { length: number; most: number }) =>
      `The plain formula has ${length} characters; a cell holds ${most}.`,
    lostName: ({ name }: { name: string }) => `It uses the name ${name}, which couldn't be converted.`,
    noName: ({ name }: { name: string }) => `This workbook has no name ${name}.`,
    scaleTooLong: ({ reference, most }: { reference: string; most: number }) =>
      `The scale ${reference} has more than ${most} rows.`,
    movingScale: () =>
      "Its scale is a range that moves with the cell. With $ before its letters and numbers it could be converted.",
  },
  Untranslatable,
);
