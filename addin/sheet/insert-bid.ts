/** Writes the bid of the workbook's plans: all of it or nothing. */
import type { BidJob } from "../../functions/bid/job";
import type { BidKind } from "../../functions/bid/kinds";
import { later } from "../common/later";
import { NAMED_BID_LINES } from "./bid-lines";
import { askItems, askPlansForBid, refuseMixed } from "./bid-reading";
import { refuse } from "./bid-refusals";
import type { BidNames } from "./bid-sheet";
import type { BidExtraRow, BidFloorRow } from "./bid-tables";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { findPlans } from "./plans";
import { lookAround } from "./surroundings";

/** What was chosen in the pane. */
export interface BidChoice {
  readonly job: BidJob;
  readonly floors: readonly { readonly sheetId: string; readonly kind: BidKind; readonly order: number }[];
  readonly extras: readonly BidExtraRow[];
}

const layouts = () => later(import(/* webpackChunkName: "bid-sheet" */ "./bid-sheet"), "lays the bid out");

export function insertBid({ job, floors, extras }: BidChoice): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const around = await lookAround(context);
    const plans = await findPlans(context);
    refuseReadOnly(context);
    const { shelf } = around;
    const chosen = floors.map((floor) => ({ ...floor, plan: plans.find(({ sheetId }) => sheetId === floor.sheetId) }));
    if (plans.length === 0) throw refuse("noPlans");
    if (!shelf) throw refuse("noShelf");
    const known = chosen.flatMap(({ plan }) => plan ?? []);
    if (known.length < chosen.length)
      throw refuse("planGone", { sheets: `${known.length} of ${chosen.length} are there` });
    const read = askPlansForBid(context, known);
    const itemsOf = askItems(shelf);
    const { bidSheet } = await layouts();
    await context.sync();
    const forBid = read();
    refuseMixed(forBid);
    const [first] = forBid;
    const rows: BidFloorRow[] = forBid.map(({ plan, check }, i) => ({
      plan,
      check,
      kind: chosen[i]!.kind,
      order: chosen[i]!.order,
    }));
    const items = itemsOf(forBid).map((item) => ({ ...item, onHand: undefined }));
    const names = freeBidNames(around.names);
    const { units } = first!.plan;
    const made = bidSheet({ job, units, sign: first!.sign, floors: rows, extras, items, shelf }, names);
    const name = freeSheetName("Bid", around.sheets);
    return allOrNothing(context, async (ledger) => {
      ledger.takeOverNames(around.broken.filter((broken) => Object.values(names).includes(broken.name)));
      await insertSheet(ledger, name, made, true);
      return { ...(await ledger.close()), what: `Bid written to the new sheet “${name}”` };
    });
  });
}

const freeBidNames = (taken: readonly string[]): BidNames =>
  freeTogether(
    { floors: "BidFloors", extras: "BidExtras", toBuy: "BidToBuy", math: "BidMath", ...NAMED_BID_LINES },
    taken,
  );
