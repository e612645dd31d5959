/** Why a bid isn't written, with what to do next. */
import { questionsOf, refusalsOf } from "../common/refusal";

export const refuse = refusalsOf({
  noPlans: () => "There is no stage plan in this workbook yet. Insert one for each floor in the Plan view first.",
  noShelf: () =>
    "The workbook's shelf is gone: no table has the columns of the tooling and liquids tables. Restore it, then try again.",
  extrasThere: ({ table, sheet }: { table: string; sheet: string }) =>
    `There is a list of extras already: the table ${table} on “${sheet}”. Change it there.`,
  mixedUnits: ({ one, other }: { one: string; other: string }) =>
    `“${one}” and “${other}” are in different units, so they can't be one bid. Plan them in the same units, or leave one out by deleting its sheet.`,
  mixedMoney: ({ one, other }: { one: string; other: string }) =>
    `“${one}” and “${other}” are in different currencies, so they can't be one bid. Plan them with the same currency sign.`,
  planGone: ({ there, of }: { there: number; of: number }) =>
    `Only ${there} of the ${of} plans chosen are still there. Read the plans again, then write the bid.`,
  noBidYet: () => "This workbook has no bid yet. Insert it first, then write the proposal.",
  noBid: () => "The bid's sheet is gone. Open the Bid view again, then write a new bid.",
  bidProtected: ({ sheet }: { sheet: string }) =>
    `The sheet “${sheet}” is protected. Unprotect it, then update the bid.`,
  bidHidden: ({ sheet }: { sheet: string }) =>
    `Rows of the tables on “${sheet}” are hidden by a filter or by hand. Show them all, then update the bid.`,
  bidChanged: ({ table }: { table: string }) =>
    `The table ${table} has other columns than the bid gave it. Put them back as they were, then update the bid.`,
  bidNoRoom: ({ at }: { at: string }) =>
    `The bid's tables need ${at}, which isn't empty. Move what stands there, then update the bid.`,
  otherUnits: ({ sheet }: { sheet: string }) =>
    `The bid on “${sheet}” is in other units than its plans. Delete that sheet, then write a new bid.`,
  tooOld: () =>
    "This Excel can't resize a table for an add-in. Update Excel, or delete the bid's sheet and write a new bid.",
});

export const refuseRooms = refusalsOf({
  emptySheet: () => "This sheet is empty. Select a cell in the list of rooms.",
  noHeadings: () =>
    "No headings found above the selected cell. Select a cell in the list; its first row must name the columns.",
  noRows: () => "The list has no rows below its headings.",
  tooMany: ({ list, rows, most }: { list: string; rows: number; most: number }) =>
    `${list} has ${rows} rows; ${most} rooms can be planned at once. Split the list.`,
  hidden: ({ list }: { list: string }) =>
    `Rows of ${list} are hidden, by a filter or by hand. Show them all, then read it again.`,
});

export const ask = questionsOf({
  anotherProposal: ({ sheet }: { sheet: string }) => [
    `There's a proposal on “${sheet}” already. It stays as it is; the new one takes over its sentences.`,
    "Write another one?",
  ],
});
