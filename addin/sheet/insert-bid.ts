/** Writes the bid of the workbook's plans: all of it or nothing. */
import type { BidJob } from "../../functions/bid/job";
import type { BidKind } from "../../functions/bid/kinds";
import { later } from "../common/later";
import { NAMED_BID_LINES } from "./bid-lines";
import { askItems, askPlansForBid, refuseMixed } from "./bid-reading";
import { refuse } from "./bid-refusals";
import type { BidNames } from "./bid-sheet";
import type { BidExtraRow, BidTables } from "./bid-tables";
import { findBid } from "./bids";
import type { Block } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { findPlans, type NamesAndTables, namesAndTables } from "./plans";
import { addressOf, beyond, resize, type TableArea } from "./resized";
import { lookAround, type Surroundings } from "./surroundings";
import { writeBlock } from "./write";

/** What was chosen in the pane. */
export interface BidChoice {
  readonly job: BidJob;
  readonly floors: readonly { readonly sheetId: string; readonly kind: BidKind; readonly order: number }[];
  readonly extras: readonly BidExtraRow[];
}

const layouts = () => later(import(/* webpackChunkName: "bid-sheet" */ "./bid-layouts"), "lays the bid out");

export function insertBid(choice: BidChoice): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const around = await lookAround(context);
    const askedPlans = await findChosen(context, choice, around);
    const { bidSheet } = await layouts();
    await context.sync();
    const task = askedPlans();
    const names = freeBidNames(around.names);
    const made = bidSheet({ ...task, job: choice.job }, names);
    const name = freeSheetName("Bid", around.sheets);
    return allOrNothing(context, async (ledger) => {
      ledger.takeOverNames(around.broken.filter((broken) => Object.values(names).includes(broken.name)));
      await insertSheet(ledger, name, made, true);
      return { ...(await ledger.close()), what: `Bid written to the new sheet “${name}”` };
    });
  });
}

/** Finds the chosen plans and asks what a bid needs of them; once the answers have come, the function gives its tables. */
async function findChosen(
  context: Excel.RequestContext,
  { floors, extras }: BidChoice,
  { shelf }: Surroundings,
  book?: NamesAndTables,
): Promise<() => BidTables & { sign: string }> {
  const plans = await findPlans(context, book);
  refuseReadOnly(context);
  if (plans.length === 0) throw refuse("noPlans");
  if (!shelf) throw refuse("noShelf");
  const known = floors.map(({ sheetId }) => plans.find((plan) => plan.sheetId === sheetId));
  const there = known.flatMap((plan) => plan ?? []);
  if (there.length < floors.length) throw refuse("planGone", { there: there.length, of: floors.length });
  const read = askPlansForBid(context, there);
  const itemsOf = askItems(shelf);
  return () => {
    const forBid = read();
    refuseMixed(forBid);
    const [first] = forBid;
    return {
      units: first!.plan.units,
      sign: first!.sign,
      floors: forBid.map(({ plan, check }, i) => ({ plan, check, kind: floors[i]!.kind, order: floors[i]!.order })),
      extras,
      items: itemsOf(forBid).map((item) => ({ ...item, onHand: undefined })),
      shelf,
    };
  };
}

/** Writes the bid anew where it stands: what the user has typed or put beside it stays. */
export function updateBid(choice: BidChoice): Promise<Inserted> {
  return inWorkbook(async (context) => {
    if (!Office.context.requirements.isSetSupported("ExcelApi", "1.13")) throw refuse("tooOld");
    const around = await lookAround(context);
    const book = await namesAndTables(context);
    const bid = await findBid(context, book);
    if (!bid) throw refuse("noBid");
    const askedPlans = await findChosen(context, choice, around, book);
    const sheet = context.workbook.worksheets.getItem(bid.sheetId);
    sheet.protection.load("protected");
    const { updateOf } = await layouts();
    await context.sync();
    const task = askedPlans();
    if (sheet.protection.protected) throw refuse("bidProtected", { sheet: bid.sheet });
    if (task.units !== bid.units) throw refuse("otherUnits", { sheet: bid.sheet });
    const { foreign, cells, block, tables, typed } = updateOf(bid, { ...task, job: choice.job });
    if (foreign !== undefined) throw refuse("bidChanged", { table: foreign });
    const rooms = tables.flatMap(({ is, was }) => beyond(is, was)).map((area) => sheet.getRange(addressOf(area)));
    for (const room of rooms) room.load("address,formulas");
    const hidden = tables.map(({ was }) => sheet.getRange(addressOf(was)).load("rowHidden"));
    await context.sync();
    const filled = rooms.find(({ formulas }) => formulas.flat().some((entry) => entry !== ""));
    if (filled) throw refuse("bidNoRoom", { at: filled.address });
    if (hidden.some(({ rowHidden }) => rowHidden !== false)) throw refuse("bidHidden", { sheet: bid.sheet });
    return allOrNothing(context, async (ledger) => {
      const ranges = cells.map(({ address }) => sheet.getRange(address));
      if (ranges.length > 0) await ledger.noteFilled(sheet, ranges);
      await ledger.noteResized(sheet, tables);
      for (const table of tables) resize(sheet, table);
      cells.forEach(({ content }, i) => {
        ranges[i]!.formulas = [[content]];
      });
      sheet.getRange(typed).clear("Contents");
      let sent = 0;
      for (const part of byTable(block, tables)) {
        // Each trip has the workbook calculated once more.
        if (sent + lengthOf(part) > MOST_SENT) {
          await context.sync();
          sent = 0;
        }
        sent += lengthOf(part);
        await writeBlock(sheet, part);
      }
      return { ...(await ledger.close()), what: `Bid updated on “${bid.sheet}”` };
    });
  });
}

/** Characters in one request, of which Excel on the web takes 5 MB; their looks take as much again. */
const MOST_SENT = 2e6;
const lengthOf = ({ cells }: Block) =>
  cells.reduce((sum, { content }) => sum + (typeof content === "object" ? content.formula.length : 20), 0);

/** A block's cells and rules, table by table. */
function byTable(block: Block, tables: readonly { readonly is: TableArea }[]): Block[] {
  return tables.map(({ is }) => {
    const isIn = ({ column }: { column: number }) => column >= is.column && column < is.column + is.columns;
    return { ...block, cells: block.cells.filter(isIn), rules: block.rules.filter(isIn) };
  });
}

const freeBidNames = (taken: readonly string[]): BidNames =>
  freeTogether(
    { floors: "BidFloors", extras: "BidExtras", toBuy: "BidToBuy", math: "BidMath", ...NAMED_BID_LINES },
    taken,
  );
