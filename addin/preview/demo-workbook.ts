/**
 * The demo workbook: an invented job, in a quote that an estimator might already have. It is written by the add-in's own
 * workbook code through the real client library, as a click in the pane would.
 */
import { starterExtras } from "../../functions/bid/extras";
import { startJob } from "../../functions/bid/job";
import { type Inputs, startInputs } from "../../functions/plan/inputs";
import { propose } from "../../functions/plan/proposal";
import { starterShelf } from "../../functions/plan/starter-shelf";
import { insertBid, insertPlan, insertProposal, type Plan, readBid } from "../sheet";
import { PAST_JOBS } from "./demo-jobs";

const AREA_CELL = "Quote!C6";
const CLIENT = "Mill Lane Bakery (invented)";
/** Monday, November 2, 2026, as a sheet counts days, so that days can be logged; the bid went out a month before. */
const START = 46_328;
const DATE = 46_300;

const QUOTE: (string | number)[][] = [
  ["Quote 0147", "", ""],
  ["Client", "", CLIENT],
  ["Site", "", "14 Mill Lane, ground floor"],
  ["", "", ""],
  ["Measured on site", "", ""],
  ["Packing hall, ft²", "", 4200],
  ["Slab hardness, Mohs", "", 5],
  ["", "", ""],
  ["Our price", "", ""],
  ["Floors and extras", "", ""],
  ["Baseboard protection", "", 420],
  ["Dumpster", "", 360],
  ["Total without tax", "", "=SUM(C10:C12)"],
];

async function writeQuote(): Promise<void> {
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.getActiveWorksheet();
    sheet.name = "Quote";
    sheet.getRangeByIndexes(0, 0, QUOTE.length, 3).formulas = QUOTE;
    sheet.getRange("A1").format.font.size = 16;
    for (const heading of ["A1", "A5", "A9", "A13:C13"]) sheet.getRange(heading).format.font.bold = true;
    sheet.getRange("C10:C13").numberFormat = "#,##0.00" as any;
    sheet.getRange("C6").numberFormat = "#,##0" as any;
    sheet.getRange("A:A").format.columnWidth = 130;
    sheet.getRange("C:C").format.columnWidth = 170;
    await context.sync();
  });
}

/** The user's quote takes the price from the bid by its name. */
async function takePrice(): Promise<void> {
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Quote").getRange("C10").formulas = [["=Bid_Offered"]];
    await context.sync();
  });
}

/** A plain list, as owners keep them: no table, their own headings. */
async function writePastJobs(): Promise<void> {
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.add("Past jobs");
    const asTyped = (cell: string | number) => (typeof cell === "string" && cell ? `'${cell}` : cell);
    const list = sheet.getRangeByIndexes(0, 0, PAST_JOBS.length, PAST_JOBS[0]!.length);
    list.formulas = PAST_JOBS.map((row) => row.map(asTyped));
    list.getRow(0).format.font.bold = true;
    list.getColumn(1).numberFormat = "yyyy-mm-dd" as any;
    list.getRow(0).format.wrapText = true;
    sheet.getRange("A:U").format.columnWidth = 62;
    await context.sync();
  });
}

function planOf(over: Partial<Inputs>, links: Plan["links"] = {}): Plan {
  const inputs = { ...startInputs("us"), jobName: "Mill Lane Bakery", ...over };
  const shelf = starterShelf("us");
  const { stages } = propose(inputs, shelf);
  return { inputs, links, stages, shelf };
}

/** 84 × 50 ft, Mohs 5, class B, level 3. */
export const demoPlan = (): Plan =>
  planOf({ floor: "Packing hall", length: 84, width: 50, area: 4200 }, { area: AREA_CELL, hardness: "Quote!C7" });

const OTHERS = (): Plan[] => [
  planOf({ floor: "Cold store", length: 30, width: 24, area: 720, finish: "coating", film: 8, hardness: 5.5 }),
  planOf({ floor: "Shop", length: 36, width: 20, area: 720, finish: "highly polished", exposure: "A", hardness: 4.5 }),
];

/** Two floors in the price and the shop as an option, with two extras. */
async function writeBid(): Promise<void> {
  const { plans, job } = await readBid();
  const extra = (name: string, quantity: number) => {
    const { words, ...kind } = starterExtras("us").find((one) => one.name === name)!;
    return { ...kind, quantity, kind: "base", words: words ?? "" };
  };
  await insertBid({
    job: {
      ...{ ...startJob("us"), ...job },
      ...{ client: CLIENT, site: "14 Mill Lane", date: DATE, start: START, trips: 2, tripCost: 85, rounding: 10 },
    },
    floors: plans.map(({ sheetId, floor }, i) => ({
      ...{ sheetId, order: i + 1 },
      kind: floor === "Shop" ? "option" : "base",
    })),
    extras: [extra("Joint filling", 310), extra("Moisture test", 7)],
  });
}

export async function buildDemo(): Promise<void> {
  await writeQuote();
  await writePastJobs();
  for (const plan of [demoPlan(), ...OTHERS()]) await insertPlan(plan, "new sheet");
  await writeBid();
  await insertProposal();
  await takePrice();
  await showPlan();
}

/** What most people look at first. */
async function showPlan(): Promise<void> {
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Packing hall").activate();
    await context.sync();
  });
}
