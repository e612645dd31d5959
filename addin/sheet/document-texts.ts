/** What stops a copy of the workbook before it is made, or before it opens. */
import { refusalsOf } from "../common/refusal";

export const refuseFile = refusalsOf({
  noFiles: () =>
    "This spreadsheet doesn't give add-ins the workbook's file, so copies can't be made here. Open the workbook in Excel for Windows, Mac or the web, and make the copy there.",
  notInViewer: () =>
    "This viewer doesn't give add-ins the workbook's file, so copies can't be made here. Open the workbook in Excel for Windows, Mac or the web, and make the copy there.",
  empty: () => "The spreadsheet returned an empty file. Save the workbook, then try again.",
  notRead: ({ message }: { message: string }) =>
    `Couldn't read the workbook's file. The spreadsheet's message: ${message.replace(/\.?$/, ".")} Save the workbook, then try again.`,
});

/** How things stand if the spreadsheet doesn't open the copy. */
export const COPY_NOT_OPENED = "The copy wasn't opened, and this workbook is unchanged";
