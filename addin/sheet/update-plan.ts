/** Opens a plan that stands on a sheet, and writes it anew where it stands. */
import { FIELDS, KEYS } from "../../functions/plan/fields";
import { signBefore } from "../../functions/plan/inputs";
import { cellAddress, quotedSheet, rangeAddress, withoutSheet } from "../common/a1";
import { later } from "../common/later";
import { type Consent, needYes } from "../common/refusal";
import { findGroup, type GroupOnAudit } from "./audit-group";
import type { Block } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { listsOf } from "./insert";
import { type LayoutChange, layoutChange, RowNotFound } from "./layout-change";
import { allOrNothing, type Inserted, type Ledger } from "./ledger";
import { freePlanNames } from "./names";
import { askRowCounts } from "./past-jobs";
import type { Plan, PlanNames } from "./plan";
import { findPlans, type PlanOnSheet } from "./plans";
import { NAMED_LINES } from "./price-lines";
import { askPlan, type PlanRead, type Unreadable } from "./read-plan";
import { ask, refuse } from "./refusals";
import { askNames, refuseDuplicates, shelfNames } from "./shelf";
import { STAGE_COLUMN_KEYS, type StageColumnKey } from "./stage-row";
import { lookAround, type Surroundings } from "./surroundings";

const layouts = () => later(import(/* webpackChunkName: "plan" */ "./plan-layouts"), "lays plans out");

/** The plans of this workbook. */
export const listPlans = (): Promise<PlanOnSheet[]> => inWorkbook(findPlans);

export interface OpenedPlan extends Omit<PlanRead, "unreadable"> {
  readonly on: PlanOnSheet;
  /** The audit's line of the past jobs that it is calibrated by; undefined where it isn't. */
  readonly jobsOn: GroupOnAudit | undefined;
  /** What the sheet shows now; null where it shows an error. */
  readonly price: number | null;
}

/** Reads a plan from its sheet; refused, with each cell and why, where some of it can't be read. */
export function readPlan(sheetId: string): Promise<OpenedPlan> {
  return inWorkbook(async (context) => {
    const on = await planOn(context, sheetId);
    const sheet = context.workbook.worksheets.getItem(sheetId);
    const read = askPlan(sheet, on);
    const price = on.lines.price === undefined ? undefined : sheet.getRange(on.lines.price).load("values");
    await context.sync();
    const { unreadable, ...plan } = read();
    const jobsOn = plan.pastJobs && (await findGroup(context, plan.pastJobs));
    if (plan.pastJobs && !jobsOn) {
      const at = on.inputs.pastJobs ?? "";
      unreadable.push({ at, label: FIELDS.pastJobs.label, why: "noPastJobs", holds: plan.inputs.pastJobs });
    }
    refuseUnreadable(on, unreadable);
    const shown = price?.values[0]?.[0];
    return { ...plan, on, jobsOn, price: typeof shown === "number" ? shown : null };
  });
}

function refuseUnreadable({ sheet }: PlanOnSheet, unreadable: readonly Unreadable[]): void {
  if (unreadable.length > 0) throw refuse("unreadable", { sheet, cells: unreadable.map((cell) => ({ ...cell })) });
}

async function planOn(context: Excel.RequestContext, sheetId: string): Promise<PlanOnSheet> {
  const on = (await findPlans(context)).find((plan) => plan.sheetId === sheetId);
  if (!on) throw refuse("planGone");
  return on;
}

/** Writes a plan over the one on a sheet; what the user has put beside it stays. */
export function updatePlan(sheetId: string, given: Plan, agreed: Consent = false): Promise<Inserted> {
  return inWorkbook(async (context) => {
    if (!Office.context.requirements.isSetSupported("ExcelApi", "1.13")) throw refuse("tooOldToUpdate");
    const around = await lookAround(context);
    refuseReadOnly(context);
    const on = await planOn(context, sheetId);
    const { planSheet } = await layouts();
    const { shelf } = around;
    if (!shelf) throw refuse("noShelf");
    const sheet = context.workbook.worksheets.getItem(sheetId);
    const read = askPlan(sheet, on);
    const cells = sheet
      .getRange("A1")
      .getBoundingRect(sheet.getUsedRange())
      .load("formulas,values,numberFormat,rowHidden");
    const table = sheet.tables
      .getItem(on.stages.table)
      .getRange()
      .load("address,values,rowIndex,columnIndex,columnCount");
    sheet.protection.load("protected");
    // Where another workbook is in front, Excel refuses a sheet's names: found out before anything is written.
    sheet.names.load("items/name");
    const filter = sheet.autoFilter.getRangeOrNullObject().load("address");
    const onShelf = askNames(shelf);
    const withRowCounts = askRowCounts(context, around, given.pastJobs);
    await context.sync();
    refuseDuplicates(onShelf);
    if (sheet.protection.protected) throw refuse("planProtected", { sheet: on.sheet });
    if (!filter.isNullObject || cells.rowHidden !== false) throw refuse("planHidden", { sheet: on.sheet });

    const { unreadable, ...was } = read();
    refuseUnreadable(on, unreadable);
    const names = namesOf(on, around);
    const columnAt = (key: StageColumnKey) => table.values[0]!.indexOf(on.stages.headings[key]);
    const columns = STAGE_COLUMN_KEYS.filter((key) => on.stages.headings[key] !== undefined).sort(
      (a, b) => columnAt(a) - columnAt(b),
    );
    const lists = listsOf(onShelf);
    const before = planSheet({ ...was, shelf: given.shelf }, names, lists, columns).block;
    const after = planSheet({ ...given, pastJobs: withRowCounts() }, names, lists, columns).block;
    const change = changeOf(on, () =>
      layoutChange(before, after, {
        formulas: cells.formulas,
        columnOf: (column) => (columns[column] ? table.columnIndex + columnAt(columns[column]) : column),
        known: knownRows(before, on, names, table.rowIndex),
      }),
    );
    if (change.ownGone.length > 0) {
      const lost = change.ownGone.map(([row, column]) => cellAddress(row, column));
      needYes(agreed, ask("rowsWithOwnCells", { sheet: on.sheet, cells: lost }));
    }

    const first = change.rowOf(after.tables[0]!.row);
    return allOrNothing(context, async (ledger) => {
      if (change.rowsGone.length > 0) await noteReferences(ledger, on.sheet);
      await ledger.changeSheet(sheet, {
        change,
        sign: signBefore(given.inputs),
        cells,
        table: {
          name: on.stages.table,
          before: withoutSheet(table.address),
          after: rangeAddress(first, table.columnIndex, given.stages.length + 1, table.columnCount),
        },
        removed: change.names.gone.flatMap((name) => {
          const address = addressOf(on, name, names);
          const scope = isLineName(name, names) && !on.hasOwnNames ? ("workbook" as const) : ("sheet" as const);
          return address === undefined ? [] : [{ name, scope, address }];
        }),
      });
      return { ...(await ledger.close()), what: `Plan updated on “${on.sheet}”` };
    });
  });
}

/** The names that the plan on a sheet has, and free ones for what it doesn't have yet, with the same number behind. */
function namesOf(on: PlanOnSheet, { names, shelf }: Surroundings): PlanNames {
  const { stages: _, ...lines } = freePlanNames(
    { sheets: [], names: on.hasOwnNames ? [] : names },
    shelf && shelfNames(shelf),
  );
  return { ...lines, ...on.lineNames, stages: on.stages.table };
}

const isLineName = (name: string, names: PlanNames) => NAMED_LINES.some((key) => names[key] === name);

/** Where a name of the plan is on its sheet. */
function addressOf(on: PlanOnSheet, name: string, names: PlanNames): string | undefined {
  const line = NAMED_LINES.find((key) => names[key] === name);
  if (line !== undefined) return on.lines[line];
  const key = KEYS.find((input) => FIELDS[input].name === name);
  return key && on.inputs[key];
}

/** The rows of the table and of what has a name. */
function knownRows(layout: Block, on: PlanOnSheet, names: PlanNames, tableRow: number): Map<number, number> {
  const known = new Map<number, number>();
  const { row: top, rows } = layout.tables[0]!;
  for (let row = 0; row < rows; row++) known.set(top + row, tableRow + row);
  for (const { name, row } of layout.names) {
    const address = addressOf(on, name, names);
    if (address !== undefined) known.set(row, Number(/\d+$/.exec(address)![0]) - 1);
  }
  return known;
}

function changeOf(on: PlanOnSheet, change: () => LayoutChange): LayoutChange {
  try {
    return change();
  } catch (error) {
    if (error instanceof RowNotFound) throw refuse("rowNotFound", { sheet: on.sheet, label: error.label });
    throw error;
  }
}

/** Formulas elsewhere lose a cell whose row goes; an undo gives it back to them. */
async function noteReferences(ledger: Ledger, name: string): Promise<void> {
  const sheets = ledger.context.workbook.worksheets.load("items/name");
  await ledger.context.sync();
  const others = sheets.items.filter((sheet) => sheet.name !== name);
  const used = others.map((sheet) => sheet.getUsedRangeOrNullObject(true).load("formulas,rowIndex,columnIndex"));
  await ledger.context.sync();
  const own = quotedSheet(name).slice(1, -1).toLowerCase();
  for (const [i, range] of used.entries()) {
    if (range.isNullObject) continue;
    const refer = range.formulas.flatMap((line, r) =>
      line.flatMap((entry, c) => {
        const isReference = typeof entry === "string" && entry.startsWith("=") && entry.toLowerCase().includes(own);
        return isReference ? [others[i]!.getCell(range.rowIndex + r, range.columnIndex + c)] : [];
      }),
    );
    if (refer.length > 0) await ledger.noteFilled(others[i]!, refer);
  }
}
