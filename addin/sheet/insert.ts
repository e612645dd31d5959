/** Writes a stage plan into the workbook: all of it or nothing, never over the user's cells without a yes. */
import { rangeAddress } from "../common/a1";
import { later } from "../common/later";
import { type Consent, needYes } from "../common/refusal";
import { type Block, extent, type SheetSetup } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { freePlanNames, freeSheetName, takenNames } from "./names";
import { withRowCounts } from "./past-jobs";
import type { Plan, PlanNames } from "./plan";
import { ask, refuse } from "./refusals";
import { type FoundShelf, findShelf, inOtherUnits, otherUnits, refuseDuplicates, shelfNames } from "./shelf";
import { shelfSheet } from "./shelf-sheet";
import type { ShelfLists } from "./stage-table";
import { allOrNothing, type Inserted, type Ledger } from "./undo";
import { setUpSheet, writeBlock } from "./write";

export type Where = "new sheet" | "selected cell";

/** Where everything of a plan stands is a large part of the add-in, and a pane that is only looked at needs none of it. */
const layouts = () => later(import(/* webpackChunkName: "plan" */ "./plan-layouts"), "lays plans out");

export function insertPlan(given: Plan, where: Where, agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    // Before all else, since the user may go on to other cells.
    const corner = where === "selected cell" ? await cornerOf(context) : undefined;
    const { planBlock, planSheet } = await layouts();
    const taken = await takenNames(context);
    refuseReadOnly(context);
    const plan = given.pastJobs ? { ...given, pastJobs: await withRowCounts(context, given.pastJobs) } : given;
    const found = await findShelf(context);
    if (found && inOtherUnits(found, plan.inputs.units)) throw refuse("otherUnits", { words: otherUnits(found) });
    if (found) await refuseDuplicates(context, found);
    const names = freePlanNames(taken, found && shelfNames(found));
    // What may be refused is found out before anything is written.
    const placed = corner && planBlock(plan, names, undefined, corner.rowIndex, corner.columnIndex);
    const target = corner && placed && (await targetOf(corner, extent(placed), agreed));

    return allOrNothing(context, async (ledger) => {
      const lists = found ? await listsOf(context, found) : await insertShelf(ledger, plan, names, taken.sheets);
      if (target) await insertBlock(ledger, target, planBlock(plan, names, lists, target.row, target.column));
      else await insertSheet(ledger, freeSheetName("Stage plan", taken.sheets), planSheet(plan, names, lists), true);
      return await ledger.close();
    });
  });
}

/** The names of the tools and machines on the shelf, as the sources of drop-down lists. */
async function listsOf(context: Excel.RequestContext, { tooling, machines }: FoundShelf): Promise<ShelfLists> {
  const cellsOf = (table: Excel.Table, column: string) =>
    table.columns.getItem(column).getDataBodyRange().load("address");
  const tools = cellsOf(tooling.table, "Tool");
  const named = machines && cellsOf(machines.table, "Machine");
  await context.sync();
  return { tools: listSource(tools.address), machines: named && listSource(named.address) };
}

function listSource(address: string): string {
  const bang = address.lastIndexOf("!");
  return `=${address.slice(0, bang + 1)}${address.slice(bang + 1).replace(/([A-Z]+)(\d+)/g, "$$$1$$$2")}`;
}

async function insertShelf(ledger: Ledger, plan: Plan, names: PlanNames, sheets: string[]): Promise<ShelfLists> {
  const made = shelfSheet(plan.shelf, plan.inputs.units, names);
  const sheet = await insertSheet(ledger, freeSheetName("Shelf", sheets), made, false);
  const body = sheet.tables.getItem(names.tooling).columns.getItem("Tool").getDataBodyRange().load("address");
  await sheet.context.sync();
  return { tools: listSource(body.address) };
}

/** A new sheet with this block on it, kept account of in the ledger. */
export async function insertSheet(
  ledger: Ledger,
  name: string,
  { block, setup }: { block: Block; setup: SheetSetup },
  show: boolean,
): Promise<Excel.Worksheet> {
  const { protection } = ledger.context.workbook;
  protection.load("protected");
  await ledger.context.sync();
  if (protection.protected) {
    throw refuse("structureProtected");
  }
  const sheet = await ledger.addSheet(name, watchedIn(block));
  ledger.names(block);
  await writeBlock(sheet, block);
  const { rows, columns } = extent(block);
  setUpSheet(sheet, setup, rows, columns);
  if (show) {
    sheet.activate();
    sheet.getRange("A1").select();
  }
  await ledger.context.sync();
  return sheet;
}

/** What formulas fill is not worked on by hand, and may be more than Excel hands over at once. */
function watchedIn(block: Block): string | undefined {
  if (block.looks.length === 0) return undefined;
  const { rows, columns } = extent({ ...block, looks: [] });
  return rangeAddress(0, 0, rows, columns);
}

interface Target {
  sheet: Excel.Worksheet;
  range: Excel.Range;
  row: number;
  column: number;
}

/** The selected cell. */
async function cornerOf(context: Excel.RequestContext): Promise<Excel.Range> {
  const cell = context.workbook.getActiveCell().load("rowIndex,columnIndex,worksheet/id");
  await context.sync();
  return cell;
}

/** The cells that a block at the selected cell would take, found free or given up by the user. */
async function targetOf(corner: Excel.Range, end: ReturnType<typeof extent>, agreed: Consent): Promise<Target> {
  const { context } = corner;
  const sheet = context.workbook.worksheets.getItem(corner.worksheet.id);
  sheet.protection.load("protected");
  await context.sync();
  if (sheet.protection.protected) throw refuse("sheetProtected");

  const { rowIndex: row, columnIndex: column } = corner;
  if (end.rows > 1_048_576 || end.columns > 16_384) {
    throw refuse("noRoom");
  }
  const range = sheet.getRangeByIndexes(row, column, end.rows - row, end.columns - column);
  range.load("address,formulas");
  sheet.tables.load("items/name");
  await context.sync();
  const overlaps = sheet.tables.items.map((table) => ({
    name: table.name,
    common: table.getRange().getIntersectionOrNullObject(range),
  }));
  await context.sync();
  const inTheWay = overlaps.find(({ common }) => !common.isNullObject);
  if (inTheWay) {
    throw refuse("tableInTheWay", { table: inTheWay.name, at: range.address });
  }
  await refuseFilteredAndHidden(range);
  await refuseMergedAndSpilled(range);
  const { dataValidation, conditionalFormats } = range;
  dataValidation.load("type");
  const coloring = conditionalFormats.getCount();
  await context.sync();
  const hasRules = dataValidation.type !== "None" || coloring.value > 0;
  const filled = range.formulas.flat().filter((content) => content !== "").length;
  const at = range.address;
  if (filled > 0 || hasRules) needYes(agreed, ask("overCells", { at, filled, hasRules }));
  // The yes was for other cells: another one is selected by now, or the sheet has another name.
  else if (typeof agreed === "object" && agreed.facts.at !== at) throw ask("elsewhere", { at });
  return { sheet, range, row, column };
}

/**
 * Where a filter hides rows, Excel loses what is written to several at once, and a table in the cells of a filter ends it.
 * What is hidden by hand would be written, but nobody would see it.
 */
async function refuseFilteredAndHidden(range: Excel.Range): Promise<void> {
  const filter = range.worksheet.autoFilter.getRangeOrNullObject().load("address");
  const common = filter.getIntersectionOrNullObject(range);
  range.load("hidden");
  await range.context.sync();
  if (!filter.isNullObject && !common.isNullObject) {
    throw refuse("filterInTheWay", { filter: filter.address, at: range.address });
  }
  if (range.hidden !== false) {
    throw refuse("cellsHidden", { at: range.address });
  }
}

/** Undoing could neither merge cells again, nor tell what a formula had filled from what was typed. */
async function refuseMergedAndSpilled(range: Excel.Range): Promise<void> {
  const knows = (version: string) => Office.context.requirements.isSetSupported("ExcelApi", version);
  const merged = knows("1.13") ? range.getMergedAreasOrNullObject().load("address") : undefined;
  if (knows("1.12")) range.load("hasSpill");
  await range.context.sync();
  if (merged && !merged.isNullObject) {
    throw refuse("mergedInTheWay", { merged: merged.address, at: range.address });
  }
  if (range.hasSpill !== false && knows("1.12")) {
    throw refuse("spillInTheWay", { at: range.address });
  }
}

async function insertBlock(ledger: Ledger, { sheet, range }: Target, block: Block): Promise<void> {
  await ledger.block(sheet, range);
  ledger.names(block);
  ledger.tables(block);
  range.clear();
  await ledger.context.sync();
  await writeBlock(sheet, block);
}
