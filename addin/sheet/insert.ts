/** Writes a stage plan into the workbook: all of it or nothing, never over the user's cells without a yes. */
import { FIELDS } from "../../functions/plan/fields";
import { signBefore } from "../../functions/plan/inputs";
import { absoluteAddress, pinned, rangeAddress } from "../common/a1";
import { later } from "../common/later";
import type { Consent } from "../common/refusal";
import { type Block, extent, type SheetSetup } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { allOrNothing, type Inserted, type Ledger } from "./ledger";
import { asSheetName, freePlanNames, freeSheetName } from "./names";
import { askRowCounts } from "./past-jobs";
import type { Plan, PlanNames } from "./plan";
import { findPlans } from "./plans";
import { type LinesOf, type QuoteLine, quoteLines } from "./quote-lines";
import { refuse } from "./refusals";
import { askNames, type NamesOnShelf, refuseDuplicates, shelfNames } from "./shelf";
import { shelfSheet } from "./shelf-sheet";
import { stageColumn } from "./stage-columns";
import type { ShelfLists } from "./stage-table";
import { lookAround } from "./surroundings";
import { askTarget, type Target } from "./target";
import { setUpSheet, writeBlock } from "./write";

export type Where = "new sheet" | "selected cell";

/** Where everything of a plan stands is a large part of the add-in, and a pane that is only looked at needs none of it. */
export const layouts = () => later(import(/* webpackChunkName: "plan" */ "./plan-layouts"), "lays plans out");

/** A plan on a sheet of its own; at the selected cell go lines that show what it comes to. */
export function insertPlan(
  given: Plan,
  where: Where,
  agreed: Consent = false,
  lines: readonly QuoteLine[] = ["price"],
): Promise<Inserted> {
  return inWorkbook(async (context) => {
    // Asked before all else, since the user may go on to other cells.
    const corner = where === "selected cell" && lines.length > 0 ? askCorner(context) : undefined;
    const around = await lookAround(context);
    const { planSheet } = await layouts();
    refuseReadOnly(context);
    const { shelf } = around;
    const names = freePlanNames(around, shelf && shelfNames(shelf));
    // What may be refused is found out before anything is written.
    const onShelf = shelf && askNames(shelf);
    const withRowCounts = askRowCounts(context, around, given.pastJobs);
    const freeTarget = corner && askForLines(corner, lines, around.tables);
    await context.sync();
    if (onShelf) refuseDuplicates(onShelf);
    const plan = { ...given, pastJobs: withRowCounts() };
    const target = freeTarget?.(agreed);

    const ours = Object.values(names);
    return allOrNothing(context, async (ledger) => {
      ledger.takeOverNames(around.broken.filter(({ name }) => ours.includes(name)));
      const lists = onShelf ? listsOf(onShelf) : await insertShelf(ledger, plan, names, around.sheets);
      const name = planSheetName(plan, around.sheets);
      const made = planSheet(plan, names, lists);
      await insertSheet(ledger, name, made, !target);
      if (target) await writeLines(ledger, target, linesOfNew(name, plan, names, made.block), lines, made.block.sign);
      const inserted = await ledger.close();
      return target ? { ...inserted, what: `${inserted.what}, its lines to ${target.range.address}` } : inserted;
    });
  });
}

/** Lines of a plan that stands in the workbook, at the selected cell. */
export function insertQuoteLines(
  sheetId: string,
  lines: readonly QuoteLine[],
  sign: string,
  agreed: Consent = false,
): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const corner = askCorner(context);
    const around = await lookAround(context);
    refuseReadOnly(context);
    const on = (await findPlans(context)).find((plan) => plan.sheetId === sheetId);
    if (!on) throw refuse("planGone");
    const freeTarget = askForLines(corner, lines, around.tables);
    await context.sync();
    const target = freeTarget(agreed);
    return allOrNothing(context, async (ledger) => {
      await writeLines(ledger, target, on, lines, sign);
      return { ...(await ledger.close()), what: `Lines of ${on.floor} written to ${target.range.address}` };
    });
  });
}

const askCorner = (context: Excel.RequestContext): Excel.Range =>
  context.workbook.getActiveCell().load("rowIndex,columnIndex,worksheet/id");

function askForLines(corner: Excel.Range, lines: readonly QuoteLine[], tables: readonly Excel.Table[]) {
  const { rowIndex, columnIndex } = corner;
  return askTarget(corner, { rows: rowIndex + lines.length, columns: columnIndex + 2 }, tables);
}

/** In the fonts and widths that the cells have. */
async function writeLines(
  ledger: Ledger,
  { sheet, range, row, column }: Target,
  of: LinesOf,
  lines: readonly QuoteLine[],
  sign: string | undefined,
): Promise<void> {
  const { format } = range.getColumn(1).load("format/columnWidth");
  await ledger.noteFilled(sheet, [range]);
  await writeBlock(sheet, quoteLines(of, lines, { row, column, width: format.columnWidth }, sign));
}

/** Where the cells of a plan are that was just written. */
function linesOfNew(sheet: string, { inputs }: Plan, names: PlanNames, block: Block): LinesOf {
  const cellOf = (name: string) => {
    const found = block.names.find((placed) => placed.name === name);
    return found && absoluteAddress(found.row, found.column);
  };
  const { units } = inputs;
  const headings = { setsToBuy: stageColumn("setsToBuy").title(units), tool: stageColumn("tool").title(units) };
  return {
    sheet,
    units,
    inputs: { area: cellOf(FIELDS.area.name) },
    lines: { price: cellOf(names.price), hours: cellOf(names.hours), days: cellOf(names.days) },
    stages: { table: names.stages, headings },
  };
}

export const planSheetName = ({ inputs }: Plan, taken: readonly string[]) =>
  freeSheetName(asSheetName(inputs.floor, "Stage plan"), taken);

/** The names of the tools and machines on the shelf, as the sources of drop-down lists. */
export const listsOf = ({ tooling, machines }: NamesOnShelf): ShelfLists => ({
  tools: `=${pinned(tooling.cells.address)}`,
  machines: machines && `=${pinned(machines.cells.address)}`,
});

export async function insertShelf(
  ledger: Ledger,
  plan: Plan,
  names: PlanNames,
  sheets: readonly string[],
): Promise<ShelfLists> {
  const made = shelfSheet(plan.shelf, plan.inputs.units, names, signBefore(plan.inputs));
  const name = freeSheetName("Shelf", sheets);
  await insertSheet(ledger, name, made, false);
  const { row, column, rows } = made.block.tables.find((table) => table.name === names.tooling)!;
  return { tools: `=${pinned(`'${name}'!${rangeAddress(row + 1, column, rows - 1, 1)}`)}` };
}

/** Adds a sheet for this block, kept account of in the ledger, and asks for all that goes on it: the next sync sends it. */
export async function insertSheet(
  ledger: Ledger,
  name: string,
  { block, setup }: { block: Block; setup: SheetSetup },
  show: boolean,
): Promise<Excel.Worksheet> {
  refuseStructure(ledger.context);
  const sheet = await ledger.addSheet(name, watchedIn(block));
  await fillSheet(ledger, sheet, { block, setup }, show);
  return sheet;
}

/** No sheet is added where the workbook's structure is protected. */
export function refuseStructure({ workbook }: Excel.RequestContext): void {
  if (workbook.protection.protected) throw refuse("structureProtected");
}

/** Asks for all that goes on a sheet that was added. */
export async function fillSheet(
  ledger: Ledger,
  sheet: Excel.Worksheet,
  { block, setup }: { block: Block; setup: SheetSetup },
  show: boolean,
): Promise<void> {
  ledger.noteNames(block);
  await writeBlock(sheet, block);
  const { rows, columns } = extent(block);
  setUpSheet(sheet, setup, rows, columns);
  if (show) {
    sheet.activate();
    sheet.getRange("A1").select();
  }
}

/** What formulas fill is not worked on by hand, and may be more than Excel hands over at once. */
export function watchedIn(block: Block): string | undefined {
  if (block.looks.length === 0) return undefined;
  const { rows, columns } = extent({ ...block, looks: [] });
  return rangeAddress(0, 0, rows, columns);
}
