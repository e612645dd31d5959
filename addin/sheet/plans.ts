/** The stage plans of a workbook, each on a sheet of its own and known by the names of its input cells. */
import { FIELDS, KEYS, type Key } from "../../functions/plan/fields";
import type { System } from "../../functions/units";
import { sheetOf, withoutSheet } from "../common/a1";
import { type LineKey, NAMED_LINES } from "./price-lines";
import { stageColumn } from "./stage-columns";
import { STAGE_COLUMN_KEYS, type StageColumnKey } from "./stage-row";

/** A plan on a sheet of this workbook, also where the user has copied or renamed the sheet. */
export interface PlanOnSheet {
  readonly sheet: string;
  readonly sheetId: string;
  /** Name of the floor, else of the job, else of the sheet. */
  readonly floor: string;
  readonly jobName: string;
  readonly units: System;
  /** Where its inputs are: "$D$31". */
  readonly inputs: Readonly<Partial<Record<Key, string>>>;
  /** Where those of its figures are that have a name. */
  readonly lines: Readonly<Partial<Record<LineKey, string>>>;
  /** The names of those figures, and whether they are the sheet's own, as on a sheet that was copied. */
  readonly lineNames: Readonly<Partial<Record<LineKey, string>>>;
  readonly hasOwnNames: boolean;
  /** Its stage table, and the headings of those columns that it has. */
  readonly stages: { readonly table: string; readonly headings: Readonly<Partial<Record<StageColumnKey, string>>> };
}

const KEY_NAMED = new Map<string, Key>(KEYS.map((key) => [FIELDS[key].name.toLowerCase(), key]));

/** Stages_Price, or Stages_Price_2 where the workbook had one. */
const LINE_NAMED = new Map<string, LineKey>(NAMED_LINES.map((key) => [`stages_${key.toLowerCase()}`, key]));
const lineNamed = (name: string) => LINE_NAMED.get(name.toLowerCase().replace(/_\d+$/, ""));

/** Of a plan's table these are there in every version and units. */
const SURE: readonly StageColumnKey[] = ["no", "work", "tool", "bond", "grit", "passes", "hours", "cost"];

function headingsIn(headings: readonly string[], units: System) {
  const found = STAGE_COLUMN_KEYS.flatMap((key) => {
    const title = stageColumn(key).title(units);
    return headings.includes(title) ? [[key, title] as const] : [];
  });
  const has = Object.fromEntries(found) as Partial<Record<StageColumnKey, string>>;
  return SURE.every((key) => has[key]) ? has : undefined;
}

/** A cell that a name stands for; a name may stand for a constant, or for a cell that is gone. */
export const isCell = (formula: unknown) => /!\$[A-Z]+\$\d+$/.test(String(formula));
const cellOf = (formula: unknown) => withoutSheet(String(formula));
const sheetIn = (formula: unknown) => sheetOf(String(formula).replace(/^=/, ""));

/** Every sheet's names and tables, and the workbook's names, in one trip. */
export async function namesAndTables(context: Excel.RequestContext) {
  const { worksheets, names } = context.workbook;
  worksheets.load(
    "items/id,items/name,items/names/items/name,items/names/items/formula,items/tables/items/name,items/tables/items/columns/items/name",
  );
  names.load("items/name,items/formula");
  await context.sync();
  return { worksheets, names };
}

export type NamesAndTables = Awaited<ReturnType<typeof namesAndTables>>;

/** Every plan, in the order of the sheets. Trips don't grow with their number. */
export async function findPlans(context: Excel.RequestContext, book?: NamesAndTables): Promise<PlanOnSheet[]> {
  const { worksheets, names } = book ?? (await namesAndTables(context));
  const candidates = worksheets.items.flatMap((sheet) => {
    const named = sheet.names.items.filter(({ formula }) => isCell(formula));
    const inputs = cellsBy(named, (name) => KEY_NAMED.get(name.toLowerCase()));
    if (!inputs.units || !inputs.hardness) return [];
    const ofWorkbook = names.items.filter(({ formula }) => isCell(formula) && sheetIn(formula) === sheet.name);
    // On a sheet that was copied by hand, the copy's own names come first.
    const own = cellsBy(named, lineNamed);
    const lines = { ...cellsBy(ofWorkbook, lineNamed), ...own };
    const lineNames = { ...namesBy(ofWorkbook), ...namesBy(named) };
    const asked = (["units", "floor", "jobName"] as const).map((key) => {
      const cell = inputs[key];
      return cell === undefined ? undefined : sheet.getRange(cell).load("values");
    });
    return [{ sheet, inputs, lines, lineNames, hasOwnNames: own.price !== undefined, asked }];
  });
  if (candidates.length > 0) await context.sync();
  return candidates.flatMap(({ sheet, inputs, lines, lineNames, hasOwnNames, asked }) => {
    const [units, floor = "", jobName = ""] = asked.map((range) => (range ? String(range.values[0]![0]) : ""));
    if (units !== "us" && units !== "metric") return [];
    const stages = sheet.tables.items.flatMap(({ name, columns }) => {
      const headings = headingsIn(
        columns.items.map((column) => column.name),
        units,
      );
      return headings ? [{ table: name, headings }] : [];
    });
    const [first] = stages;
    if (!first) return [];
    const called = floor || jobName || sheet.name;
    const { id: sheetId } = sheet;
    const names = { lines, lineNames, hasOwnNames };
    return [{ sheet: sheet.name, sheetId, floor: called, jobName, units, inputs, ...names, stages: first }];
  });
}

function namesBy(items: readonly Excel.NamedItem[]): Partial<Record<LineKey, string>> {
  const names: Partial<Record<LineKey, string>> = {};
  for (const { name } of items) {
    const key = lineNamed(name);
    if (key !== undefined) names[key] ??= name;
  }
  return names;
}

function cellsBy<K extends string>(items: readonly Excel.NamedItem[], keyOf: (name: string) => K | undefined) {
  const cells: Partial<Record<K, string>> = {};
  for (const { name, formula } of items) {
    const key = keyOf(name);
    if (key !== undefined) cells[key] ??= cellOf(formula);
  }
  return cells;
}
