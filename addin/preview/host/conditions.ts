/** What a host can be like that makes it refuse what is sound elsewhere. A test sets one; by itself a host has none. */
import { accessDenied, HostError } from "./errors";

export interface Conditions {
  /** Another workbook's window has the focus. */
  otherWorkbookInFront: boolean;
  chartSheetActive: boolean;
  /** The workbook can only be looked at, and doesn't say so. */
  viewOnly: boolean;
  /** How many bytes a request may have: 5 MB in Excel on the web. */
  largestRequest: number;
  /** A web viewer that doesn't hand over the workbook's file. */
  withoutFile: boolean;
}

export const noConditions = (): Conditions => ({
  otherWorkbookInFront: false,
  chartSheetActive: false,
  viewOnly: false,
  largestRequest: Number.POSITIVE_INFINITY,
  withoutFile: false,
});

const general = () =>
  new HostError("GeneralException", "There was an internal error while processing the request.", 500);
const noSelection = () => new HostError("InvalidSelection", "The current selection is invalid for this operation.");
const unsupportedSheet = () =>
  new HostError("UnsupportedSheet", "The operation failed because the sheet type doesn't support it.");

/** The documentation's table (Excel add-ins, troubleshooting), and a sheet's names (office-js#6365). */
const OTHER_IN_FRONT: Readonly<Record<string, () => HostError>> = {
  "Range.select": general,
  "Table.clearFilters": general,
  "Workbook.getActiveCell": noSelection,
  "Workbook.getSelectedRange": noSelection,
  "Worksheet.activate": general,
  "Worksheet.delete": noSelection,
  "Worksheet.gridlines": general,
  "Worksheet.names": noSelection,
  "WorksheetCollection.add": general,
  "WorksheetFreezePanes.freezeAt": general,
  "WorksheetFreezePanes.freezeRows": general,
  "WorksheetFreezePanes.getLocationOrNullObject": general,
  "WorksheetFreezePanes.unfreeze": general,
};

/** office-js#2444. guess(chart-sheet-active): that the selection is refused with the code of what is no cell (office-js#2268). */
const CHART_SHEET_ACTIVE: Readonly<Record<string, () => HostError>> = {
  "WorksheetCollection.getActiveWorksheet": unsupportedSheet,
  "Workbook.getActiveCell": noSelection,
  "Workbook.getSelectedRange": noSelection,
};

/** Methods that only read, calculate or show. */
const CHANGES_NOTHING = /^(?:_|get|select$|activate$|calculate$|createWorkbook$|open$|notify)/;

export const changes = (method: string): boolean => !CHANGES_NOTHING.test(method);

/** Throws where the host is in no condition for this member; `isChange` where it would change the workbook. */
export function refuseByCondition(conditions: Conditions, member: string, isChange: boolean): void {
  // guess(view-only): the code.
  if (conditions.viewOnly && isChange) throw accessDenied();
  if (conditions.otherWorkbookInFront && Object.hasOwn(OTHER_IN_FRONT, member)) throw OTHER_IN_FRONT[member]!();
  if (conditions.chartSheetActive && Object.hasOwn(CHART_SHEET_ACTIVE, member)) throw CHART_SHEET_ACTIVE[member]!();
}

export function refuseBySize({ largestRequest }: Conditions, batch: object): HostError | undefined {
  if (largestRequest === Number.POSITIVE_INFINITY || JSON.stringify(batch).length <= largestRequest) return undefined;
  return new HostError("RequestPayloadSizeLimitExceeded", "The request payload size has exceeded the limit.", 413);
}
