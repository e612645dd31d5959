/** Finds and reads the shelf that the user keeps in the workbook. */
import {
  type Column,
  header,
  inPlanUnits,
  LIQUID_COLUMNS,
  type Liquid,
  MACHINE_COLUMNS,
  type Shelf,
  TOOL_COLUMNS,
  type Tool,
  type Unpriced,
} from "../../functions/plan/shelf";
import {
  type BadRow,
  type Duplicates,
  duplicatesAmong,
  shelfOf,
  withoutDuplicates,
} from "../../functions/plan/shelf-rows";
import { starterShelf } from "../../functions/plan/starter-shelf";
import { STRIP_COLUMNS, type Strip, stripsOf } from "../../functions/plan/strips";
import type { System } from "../../functions/units";
import { cellAddress } from "../common/a1";
import { inWorkbook } from "./in-workbook";
import type { ShelfNames } from "./names";
import { refuse } from "./refusals";

export interface FoundTable {
  table: Excel.Table;
  name: string;
  sheet: string;
  headers: string[];
  units: System;
}

export interface FoundShelf {
  tooling: FoundTable;
  liquids: FoundTable;
  machines: FoundTable | undefined;
}

type Columns = readonly Column<any>[];

/** The units in which a table has all of these columns that it must have, in whatever order. */
function unitsOf(headers: readonly string[], columns: Columns): System | undefined {
  return (["us", "metric"] as const).find((units) =>
    columns.every((column) => column.optional || headers.includes(header(column, units))),
  );
}

/** What formulas need to know of a shelf that is there. */
export const shelfNames = ({ tooling, liquids, machines }: FoundShelf): ShelfNames => ({
  tooling: tooling.name,
  liquids: liquids.name,
  machines: machines?.name,
  toolingLacks: lacking(tooling, TOOL_COLUMNS),
  liquidsLacks: lacking(liquids, LIQUID_COLUMNS),
  machinesLack: machines ? lacking(machines, MACHINE_COLUMNS) : [],
  shelfUnits: { tooling: tooling.units, liquids: liquids.units, machines: (machines ?? tooling).units },
});

const lacking = <Row>({ headers, units }: FoundTable, columns: readonly Column<Row>[]): (keyof Row & string)[] =>
  columns.filter((column) => !headers.includes(header(column, units))).map(({ key }) => key);

/** Asks for what a shelf is known by. */
export const askTables = (context: Excel.RequestContext): Excel.TableCollection =>
  context.workbook.tables.load("items/name,items/worksheet/id,items/worksheet/name,items/columns/items/name");

/** The tooling, liquids and machines tables among the workbook's, known by their headers; undefined where there is no shelf. */
export function shelfAmong(tables: Excel.TableCollection): FoundShelf | undefined {
  const tooling = foundIn(tables, TOOL_COLUMNS);
  const liquids = foundIn(tables, LIQUID_COLUMNS);
  return tooling && liquids ? { tooling, liquids, machines: foundIn(tables, MACHINE_COLUMNS) } : undefined;
}

/** The table with all of these columns, in either units. */
export function foundIn(tables: Excel.TableCollection, columns: Columns): FoundTable | undefined {
  for (const table of tables.items) {
    const headers = table.columns.items.map(({ name }) => name);
    const units = unitsOf(headers, columns);
    if (units) return { table, name: table.name, sheet: table.worksheet.name, headers, units };
  }
  return undefined;
}

/** The table of test strips among the workbook's, if any. */
export const stripsIn = (tables: Excel.TableCollection): FoundTable | undefined => foundIn(tables, STRIP_COLUMNS);

/** A strip of a plan in the units of the table. */
export const stripInTable = (strip: Strip, units: System, table: { units: System }): Strip =>
  inPlanUnits([strip], STRIP_COLUMNS, units, table.units)[0]!;

export async function findShelf(context: Excel.RequestContext): Promise<FoundShelf | undefined> {
  const tables = askTables(context);
  await context.sync();
  return shelfAmong(tables);
}

/** Rows in our column order, whatever the user's is. */
export function ordered(found: FoundTable, columns: Columns, values: any[][]): unknown[][] {
  const places = columns.map((column) => found.headers.indexOf(header(column, found.units)));
  return values.map((row) => places.map((place) => row[place] ?? null));
}

/** The cells with the names of a table. */
interface NamesOf {
  readonly found: FoundTable;
  readonly cells: Excel.Range;
}

export interface NamesOnShelf {
  readonly tooling: NamesOf;
  readonly liquids: NamesOf;
  readonly machines: NamesOf | undefined;
}

/** Asks for the names in every table and where they stand. */
export function askNames({ tooling, liquids, machines }: FoundShelf): NamesOnShelf {
  const of = (found: FoundTable, [first]: Columns): NamesOf => {
    const cells = found.table.columns.getItem(first!.title).getDataBodyRange();
    return { found, cells: cells.load("values,address,rowIndex,columnIndex") };
  };
  return {
    tooling: of(tooling, TOOL_COLUMNS),
    liquids: of(liquids, LIQUID_COLUMNS),
    machines: machines && of(machines, MACHINE_COLUMNS),
  };
}

/** Names that stand more than once in their table, with the cells; a lookup would take the first of them for the others. */
function duplicatesIn({ tooling, liquids, machines }: NamesOnShelf): { names: Duplicates[]; words: string } {
  const tables = [tooling, liquids, ...(machines ? [machines] : [])].map(({ found, cells }) => {
    return { found, cells, duplicates: duplicatesAmong(cells.values.map(([name]) => name)) };
  });
  const told = tables.flatMap(({ found, cells, duplicates }) =>
    duplicates.map(({ name, rows }) => {
      const places = rows.map((row) => cellAddress(cells.rowIndex + row, cells.columnIndex));
      return `“${name}” stands ${rows.length} times in the table ${found.name}, in ${listed(places)} of “${found.sheet}”`;
    }),
  );
  const names = tables.flatMap(({ duplicates }) => duplicates);
  if (names.length === 0) return { names, words: "" };
  return { names, words: `${told.join("; ")}. They are looked up by name: give each row a name of its own` };
}

/** Nothing is written that would look up one row and mean another. */
export function refuseDuplicates(names: NamesOnShelf): void {
  const { words } = duplicatesIn(names);
  if (words) throw refuse("duplicates", { words });
}

export interface ReadShelf {
  /** In the units asked for, whatever the tables are in. */
  shelf: Shelf;
  from: string;
  problems: string[];
  /** Rows that could be used but for their missing price. */
  unpriced?: Unpriced;
  /** Why nothing can be priced from it. */
  unfit?: string;
}

/** Rows of a table that were left out, in words. */
export const told = (table: FoundTable | undefined, rows: readonly BadRow[]) =>
  rows.map((bad) => `${table?.name}, row ${bad.row}: ${bad.reason}; the row is left out`);

/** The strips in the plan's units, where the workbook has a table of them. */
function rememberedIn(found: FoundTable | undefined, rows: Excel.Range | undefined, units: System) {
  if (!found || !rows) return { shelf: {}, problems: [] };
  const { good, bad } = stripsOf(ordered(found, STRIP_COLUMNS, rows.values));
  return { shelf: { strips: inPlanUnits(good, STRIP_COLUMNS, found.units, units) }, problems: told(found, bad) };
}

/** The workbook's shelf, or the starter one where it has none yet. */
export function readShelf(units: System): Promise<ReadShelf> {
  return inWorkbook(async (context) => {
    const all = askTables(context);
    await context.sync();
    const found = shelfAmong(all);
    const strips = stripsIn(all);
    const stripRows = strips?.table.getDataBodyRange().load("values");
    if (!found) {
      if (strips) await context.sync();
      const remembered = rememberedIn(strips, stripRows, units);
      const shelf = { ...starterShelf(units), ...remembered.shelf };
      return { shelf, from: "the starter shelf (invented tools and prices)", problems: remembered.problems };
    }
    const { tooling, liquids, machines } = found;
    const toolRows = tooling.table.getDataBodyRange().load("values");
    const liquidRows = liquids.table.getDataBodyRange().load("values");
    const machineRows = machines?.table.getDataBodyRange().load("values");
    const names = askNames(found);
    await context.sync();
    const { shelf, unpriced, badTools, badLiquids, badMachines } = shelfOf(
      ordered(tooling, TOOL_COLUMNS, toolRows.values),
      ordered(liquids, LIQUID_COLUMNS, liquidRows.values),
      machines && machineRows ? ordered(machines, MACHINE_COLUMNS, machineRows.values) : [],
    );
    const remembered = rememberedIn(strips, stripRows, units);
    const problems = [
      ...told(tooling, badTools),
      ...told(liquids, badLiquids),
      ...told(machines, badMachines),
      ...remembered.problems,
    ];
    const duplicates = duplicatesIn(names);
    const toolsOf = (rows: readonly Tool[]) => inPlanUnits(rows, TOOL_COLUMNS, tooling.units, units);
    const liquidsOf = (rows: readonly Liquid[]) => inPlanUnits(rows, LIQUID_COLUMNS, liquids.units, units);
    const unfit = duplicates.words || undefined;
    if (unfit) problems.unshift(unfit);
    const tables = [tooling, liquids, ...(machines ? [machines] : [])];
    const sheets = new Set(tables.map(({ sheet }) => `“${sheet}”`));
    return {
      shelf: {
        ...remembered.shelf,
        tools: toolsOf(withoutDuplicates(shelf.tools, duplicates.names)),
        liquids: liquidsOf(withoutDuplicates(shelf.liquids, duplicates.names)),
        machines: inPlanUnits(
          withoutDuplicates(shelf.machines, duplicates.names),
          MACHINE_COLUMNS,
          machines?.units ?? units,
          units,
        ),
      },
      unfit,
      unpriced:
        unpriced.tools.length + unpriced.liquids.length > 0
          ? { tools: toolsOf(unpriced.tools), liquids: liquidsOf(unpriced.liquids) }
          : undefined,
      from: `tables ${listed(tables.map(({ name }) => name))} on ${listed([...sheets])}${convertedFrom(tables, units)}`,
      problems,
    };
  });
}

function convertedFrom(tables: readonly FoundTable[], units: System): string {
  const other = tables.filter((table) => table.units !== units);
  if (other.length === 0) return "";
  const which = other.length === tables.length ? "" : `${listed(other.map(({ name }) => name))} `;
  return `; ${which}converted from ${other[0]!.units === "us" ? "US" : "metric"} units`;
}

/** "Tooling, Liquids and Machines". */
const listed = (names: readonly string[]) =>
  [names.slice(0, -1).join(", "), ...names.slice(-1)].filter((part) => part !== "").join(" and ");
