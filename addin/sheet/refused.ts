/** What Excel's own refusals mean here, in words; loaded when there is one. */
import { type Refusal, refusalsOf } from "../common/refusal";
import { isOfficeError, type OfficeError } from "./office-error";

/** What Excel refuses, and what to do; the words between are what state the workbook is in. */
const MEANINGS = {
  denied: [
    "The sheet or the workbook is protected, or open for reading only",
    "unprotect it, or open it for editing, and try again",
  ],
  cellEdited: ["A cell is being edited", "press Enter in it, and try again"],
  itemGone: [
    "A sheet, a table or a name that this needs was deleted or renamed in the meantime",
    "check the workbook, and try again",
  ],
  cellsGone: ["Cells that this needs were deleted in the meantime", "check the workbook, and try again"],
  nameTaken: ["A name that this needs was taken in the meantime", "try again: it then takes another"],
  noRoom: [
    "There is no room: another table or filled cells stand where cells would have to move",
    "make room there, and try again",
  ],
  filterInTheWay: ["A filter is in the way", "clear the filter, and try again"],
  mergedInTheWay: ["Merged cells are in the way", "unmerge them, and try again"],
  otherWorkbook: ["Another workbook is in front", "click a cell of this workbook, and try again"],
  noCells: [
    "No cells of this workbook are selected: another workbook is in front, or a chart or picture is selected",
    "click a cell of this workbook, and try again",
  ],
  chartSheet: ["A chart sheet is in front, which has no cells", "go to a sheet with cells, and try again"],
  tooLarge: [
    "This is more than Excel on the web handles at once",
    "open the workbook in Excel on the desktop, and try again there",
  ],
} as const satisfies Readonly<Record<string, readonly [why: string, next: string]>>;

type Kind = keyof typeof MEANINGS;

/** Excel's codes, as its documentation lists them. */
const KINDS: Readonly<Record<string, Kind>> = {
  AccessDenied: "denied",
  InvalidOperationInCellEditMode: "cellEdited",
  ItemNotFound: "itemGone",
  InvalidReference: "cellsGone",
  ItemAlreadyExists: "nameTaken",
  InsertDeleteConflict: "noRoom",
  NonBlankCellOffSheet: "noRoom",
  FilteredRangeConflict: "filterInTheWay",
  MergedRangeConflict: "mergedInTheWay",
  InactiveWorkbook: "otherWorkbook",
  InvalidSelection: "noCells",
  UnsupportedSheet: "chartSheet",
  RequestPayloadSizeLimitExceeded: "tooLarge",
  ResponsePayloadSizeLimitExceeded: "tooLarge",
};

/** What fails with a code that says nothing when another workbook is in front (Excel add-ins, troubleshooting). */
const NEEDS_FOCUS =
  /^(?:Range\.select|Table\.clearFilters|Worksheet\.(?:activate|gridlines)|WorksheetCollection\.add|WorksheetFreezePanes\.\w+)$/;
/** What fails with the same code when a chart is selected (office-js#2268). */
const NEEDS_CELLS = /^(?:Workbook\.get\w+|)$/;

const meant =
  ([why, next]: readonly [string, string]) =>
  ({ left }: { left: string }) =>
    `${why}. ${left}; ${next}.`;

const refuse = refusalsOf({
  ...(Object.fromEntries(Object.entries(MEANINGS).map(([kind, meaning]) => [kind, meant(meaning)])) as Record<
    Kind,
    ReturnType<typeof meant>
  >),
  other: ({ message, left }: { message: string; left: string }) =>
    `Excel refused this: ${message.replace(/\.?$/, ".")} ${left}.`,
});

function kindOf({ code, debugInfo }: OfficeError): Kind | undefined {
  const { errorLocation = "" } = debugInfo ?? {};
  if (code === "GeneralException" && NEEDS_FOCUS.test(errorLocation)) return "otherWorkbook";
  if (code === "InvalidSelection" && !NEEDS_CELLS.test(errorLocation)) return "otherWorkbook";
  return Object.hasOwn(KINDS, code) ? KINDS[code] : undefined;
}

/** In what state a refusal leaves the workbook comes between why and what to do. */
export function refusedByExcel(error: OfficeError, left: string): Refusal {
  const kind = kindOf(error);
  return kind ? refuse(kind, { left }) : refuse("other", { message: error.message, left });
}

/** Why Excel refused; undefined where its own message is all there is. */
export function whyOf(error: unknown): string | undefined {
  const kind = isOfficeError(error) ? kindOf(error) : undefined;
  return kind && MEANINGS[kind][0];
}
