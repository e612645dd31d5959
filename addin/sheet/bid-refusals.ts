/** Why a bid isn't written, with what to do next. */
import { refusalsOf } from "../common/refusal";

export const refuse = refusalsOf({
  noPlans: () => "There is no stage plan in this workbook yet. Insert one for each floor in the Plan view first.",
  noShelf: () =>
    "The workbook's shelf is gone: no table has the columns of the tooling and liquids tables. Restore it, then try again.",
  mixedUnits: ({ one, other }: { one: string; other: string }) =>
    `“${one}” and “${other}” are in different units, so they can't be one bid. Plan them in the same units, or leave one out by deleting its sheet.`,
  mixedMoney: ({ one, other }: { one: string; other: string }) =>
    `“${one}” and “${other}” are in different currencies, so they can't be one bid. Plan them with the same currency sign.`,
  planGone: ({ sheets }: { sheets: string }) =>
    `The plans of this workbook have changed (${sheets}). Open the Bid view again, then write the bid.`,
});
