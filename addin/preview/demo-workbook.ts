/**
 * The demo workbook: an invented job, in a quote that an estimator might already have. It is written by the add-in's own
 * workbook code through the real client library, as a click in the pane would.
 */
import { startInputs } from "../../functions/plan/inputs";
import { propose } from "../../functions/plan/proposal";
import { starterShelf } from "../../functions/plan/starter-shelf";
import { insertPlan, type Plan } from "../sheet";
import { PAST_JOBS } from "./demo-jobs";

const AREA_CELL = "Quote!C6";

const QUOTE: (string | number)[][] = [
  ["Quote 0147", "", ""],
  ["Client", "", "Mill Lane Bakery (invented)"],
  ["Site", "", "Packing hall, ground floor"],
  ["", "", ""],
  ["Measured on site", "", ""],
  ["Floor area, ft²", "", 4200],
  ["Slab hardness, Mohs", "", 5],
  ["", "", ""],
  ["Our price", "", ""],
  ["Polished floor, level 3", "", ""],
  ["Baseboard protection", "", 420],
  ["Travel and lodging", "", 360],
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

/** The user's quote takes the price from the plan by its name. */
async function takePrice(): Promise<void> {
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Quote").getRange("C10").formulas = [["=Stages_Price"]];
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

/** 84 × 50 ft, Mohs 5, class B, level 3. */
export function demoPlan(): Plan {
  const inputs = { ...startInputs("us"), jobName: "Mill Lane Bakery, packing hall", length: 84, width: 50, area: 4200 };
  const shelf = starterShelf("us");
  const { stages } = propose(inputs, shelf);
  return { inputs, links: { area: AREA_CELL, hardness: "Quote!C7" }, stages, shelf };
}

export async function buildDemo(): Promise<void> {
  await writeQuote();
  await writePastJobs();
  await insertPlan(demoPlan(), "new sheet");
  await takePrice();
}
