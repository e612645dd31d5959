/** Writes the log of a job on a sheet of its own, with the forecast of its plans beside it. */
import type { QuotedStage } from "../../functions/log/stages";
import { type Consent, needYes } from "../common/refusal";
import { findBid } from "./bids";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { logAmong } from "./log";
import { askQuotes, soldPlans } from "./log-quotes";
import { logSheet } from "./log-sheet";
import { askLog, logWritten, refuseLog } from "./log-texts";
import { freeSheetName, freeTogether } from "./names";
import { findPlans, namesAndTables } from "./plans";
import { lookAround } from "./surroundings";

export function insertLog(agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const book = await namesAndTables(context);
    const plans = soldPlans(await findPlans(context, book), await findBid(context, book));
    refuseReadOnly(context);
    if (plans.length === 0) throw refuseLog("noPlans");
    const quotes = askQuotes(context, plans);
    const around = await lookAround(context);
    const there = logAmong(around.tables);
    if (there) needYes(agreed, askLog("another", { sheet: there.worksheet.name }));
    const { units, sign, floors, stages } = quotes();
    const { log: table } = freeTogether({ log: "Log" }, around.names);
    const name = freeSheetName("Log", around.sheets);
    const made = logSheet({ table, units, sign, floors, dates: datesFor(stages) });
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, name, made, true);
      return { ...(await ledger.close()), what: logWritten(name, stages.length) };
    });
  });
}

/** Room for a job that takes two fifths longer than quoted, on a picture that can still be read. */
function datesFor(stages: readonly QuotedStage[]): number {
  const days = stages.reduce((sum, { hours, hoursADay }) => sum + (hoursADay > 0 ? hours / hoursADay : 0), 0);
  return Math.min(30, Math.max(10, Math.ceil(1.4 * days) + 2));
}
