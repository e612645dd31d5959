/** Writes the page for the customer from the workbook's bid: all of it or nothing. */
import { later } from "../common/later";
import { type Consent, needYes } from "../common/refusal";
import { signIn } from "./bid-reading";
import { ask, refuse } from "./bid-refusals";
import { findBid } from "./bids";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName } from "./names";
import { findPlans, namesAndTables } from "./plans";
import { proposalAmong } from "./proposals";
import { lookAround } from "./surroundings";

const layouts = () => later(import(/* webpackChunkName: "proposal" */ "./proposal-layouts"), "lays the proposal out");

export function insertProposal(agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const around = await lookAround(context);
    const book = await namesAndTables(context);
    const bid = await findBid(context, book);
    refuseReadOnly(context);
    if (!bid) throw refuse("noBidYet");
    const plans = await findPlans(context, book);
    const before = proposalAmong(book);
    if (before) needYes(agreed, ask("anotherProposal", { sheet: before.sheet.name }));
    const asked = before?.sheet.getUsedRange().load("formulas,rowIndex,columnIndex");
    const { offered } = bid.cells;
    const price = offered && context.workbook.worksheets.getItem(bid.sheetId).getRange(offered).load("numberFormat");
    const { keptWords, proposalSheet, written } = await layouts();
    await context.sync();
    // What begins elsewhere was moved, and can't be told apart.
    const rows = asked && asked.rowIndex === 0 && asked.columnIndex === 0 ? asked.formulas : undefined;
    const made = proposalSheet({
      bid,
      plans: new Map(plans.map((plan) => [plan.sheet, plan])),
      sign: price ? signIn(String(price.numberFormat[0]![0])) : "",
      kept: rows ? keptWords(rows) : { sentences: {} },
    });
    const name = freeSheetName("Proposal", around.sheets);
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, name, made, true);
      return { ...(await ledger.close()), what: written(name, rows && before!.sheet.name) };
    });
  });
}
