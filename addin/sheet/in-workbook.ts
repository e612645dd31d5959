/** Every command that touches the workbook runs in here. */
import { Refusal } from "../common/refusal";
import { refuse } from "./refusals";

/** Runs a batch; `left` says in what state a refusal leaves the workbook. */
export function inWorkbook<T>(
  batch: (context: Excel.RequestContext) => Promise<T>,
  left = "Nothing was changed",
): Promise<T> {
  const run = (context: Excel.RequestContext) => {
    // Comes with the batch's own first request, so that it takes none besides.
    context.workbook.load("readOnly");
    return batch(context);
  };
  return inWords(() => runAsOne(run), left);
}

/** Newer Excels take all of it back at one press of their own Undo; others need a press for every request that wrote. */
export function runAsOne<T>(batch: (context: Excel.RequestContext) => Promise<T>): Promise<T> {
  const merges = Office.context.requirements.isSetSupported("ExcelApi", "1.20");
  return merges ? Excel.run({ mergeUndoGroup: true }, batch) : Excel.run(batch);
}

/**
 * Some Excels take what is written into a workbook that is open for reading only, and then cannot save it. To be called
 * once the batch has read something, and before the user is asked anything.
 */
export function refuseReadOnly({ workbook }: Excel.RequestContext): void {
  if (!workbook.readOnly) return;
  throw refuse("readOnly");
}

const NO_ROOM = [
  "There is no room: another table or filled cells stand where cells would have to move",
  "make room there, and try again",
] as const;

/** What Excel's refusals mean here, and what to do; the words between are what state the workbook is in. */
const MEANINGS: Readonly<Record<string, readonly [why: string, next: string]>> = {
  AccessDenied: [
    "The sheet or the workbook is protected, or open for reading only",
    "unprotect it, or open it for editing, and try again",
  ],
  InvalidOperationInCellEditMode: ["A cell is being edited", "press Enter in it, and try again"],
  ItemNotFound: [
    "A sheet, a table or a name that this needs was deleted or renamed in the meantime",
    "check the workbook, and try again",
  ],
  InvalidReference: ["Cells that this needs were deleted in the meantime", "check the workbook, and try again"],
  ItemAlreadyExists: ["A name that this needs was taken in the meantime", "try again: it then takes another"],
  InsertDeleteConflict: NO_ROOM,
  NonBlankCellOffSheet: NO_ROOM,
  FilteredRangeConflict: ["A filter is in the way", "clear the filter, and try again"],
  MergedRangeConflict: ["Merged cells are in the way", "unmerge them, and try again"],
};

/** Turns Excel's refusals into words. */
export async function inWords<T>(work: () => Promise<T>, left: string): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Refusal || !isOfficeError(error)) throw error;
    const meaning = Object.hasOwn(MEANINGS, error.code) ? MEANINGS[error.code] : undefined;
    if (meaning) throw new Refusal(`${meaning[0]}. ${left}; ${meaning[1]}.`);
    throw new Refusal(`Excel refused this: ${error.message.replace(/\.?$/, ".")} ${left}.`);
  }
}

/** Whether Excel says that something isn't there that was asked for by name. */
export const isNotFound = (error: unknown) => isOfficeError(error) && error.code === "ItemNotFound";

const isOfficeError = (error: unknown): error is { code: string; message: string } =>
  typeof error === "object" && error !== null && "code" in error && "message" in error;
