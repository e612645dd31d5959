/** Writes a stage plan into the workbook: all of it or nothing, never over the user's cells without a yes. */
import { signBefore } from "../../functions/plan/inputs";
import { pinned, rangeAddress } from "../common/a1";
import { later } from "../common/later";
import type { Consent } from "../common/refusal";
import { type Block, extent, type SheetSetup } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { allOrNothing, type Inserted, type Ledger } from "./ledger";
import { asSheetName, freePlanNames, freeSheetName } from "./names";
import { askRowCounts } from "./past-jobs";
import type { Plan, PlanNames } from "./plan";
import { refuse } from "./refusals";
import { askNames, type NamesOnShelf, refuseDuplicates, shelfNames } from "./shelf";
import { shelfSheet } from "./shelf-sheet";
import type { ShelfLists } from "./stage-table";
import { lookAround } from "./surroundings";
import { askTarget, type Target } from "./target";
import { setUpSheet, writeBlock } from "./write";

export type Where = "new sheet" | "selected cell";

/** Where everything of a plan stands is a large part of the add-in, and a pane that is only looked at needs none of it. */
const layouts = () => later(import(/* webpackChunkName: "plan" */ "./plan-layouts"), "lays plans out");

export function insertPlan(given: Plan, where: Where, agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    // Asked before all else, since the user may go on to other cells.
    const corner = where === "selected cell" ? context.workbook.getActiveCell() : undefined;
    corner?.load("rowIndex,columnIndex,worksheet/id");
    const around = await lookAround(context);
    const { planBlock, planSheet } = await layouts();
    refuseReadOnly(context);
    const { shelf } = around;
    const names = freePlanNames(around, shelf && shelfNames(shelf));
    // What may be refused is found out before anything is written.
    const onShelf = shelf && askNames(shelf);
    const withRowCounts = askRowCounts(context, around, given.pastJobs);
    const place = corner && planBlock(given, names, undefined, corner.rowIndex, corner.columnIndex);
    const freeTarget = corner && place && askTarget(corner, extent(place), around.tables);
    await context.sync();
    if (onShelf) refuseDuplicates(onShelf);
    const plan = { ...given, pastJobs: withRowCounts() };
    const target = freeTarget?.(agreed);

    const ours = Object.values(names);
    return allOrNothing(context, async (ledger) => {
      ledger.takeOverNames(around.broken.filter(({ name }) => ours.includes(name)));
      const lists = onShelf ? listsOf(onShelf) : await insertShelf(ledger, plan, names, around.sheets);
      if (target) await insertBlock(ledger, target, planBlock(plan, names, lists, target.row, target.column));
      else await insertSheet(ledger, planSheetName(plan, around.sheets), planSheet(plan, names, lists), true);
      return await ledger.close();
    });
  });
}

const planSheetName = ({ inputs }: Plan, taken: readonly string[]) =>
  freeSheetName(asSheetName(inputs.floor, "Stage plan"), taken);

/** The names of the tools and machines on the shelf, as the sources of drop-down lists. */
export const listsOf = ({ tooling, machines }: NamesOnShelf): ShelfLists => ({
  tools: `=${pinned(tooling.cells.address)}`,
  machines: machines && `=${pinned(machines.cells.address)}`,
});

async function insertShelf(
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
  if (ledger.context.workbook.protection.protected) throw refuse("structureProtected");
  const sheet = await ledger.addSheet(name, watchedIn(block));
  ledger.noteNames(block);
  await writeBlock(sheet, block);
  const { rows, columns } = extent(block);
  setUpSheet(sheet, setup, rows, columns);
  if (show) {
    sheet.activate();
    sheet.getRange("A1").select();
  }
  return sheet;
}

/** What formulas fill is not worked on by hand, and may be more than Excel hands over at once. */
function watchedIn(block: Block): string | undefined {
  if (block.looks.length === 0) return undefined;
  const { rows, columns } = extent({ ...block, looks: [] });
  return rangeAddress(0, 0, rows, columns);
}

async function insertBlock(ledger: Ledger, { sheet, range }: Target, block: Block): Promise<void> {
  await ledger.noteBlock(sheet, range);
  ledger.noteNames(block);
  ledger.noteTables(block);
  range.clear();
  await writeBlock(sheet, block);
}
