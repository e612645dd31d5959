/** Finds and reads the shelf that the user keeps in the workbook. */
import { header, LIQUID_COLUMNS, type Shelf, shelfOf, starterShelf, TOOL_COLUMNS } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";

interface FoundTable {
  table: Excel.Table;
  name: string;
  sheet: string;
  headers: string[];
  units: System;
}

export interface FoundShelf {
  tooling: FoundTable;
  liquids: FoundTable;
}

type Columns = typeof TOOL_COLUMNS | typeof LIQUID_COLUMNS;

/** The units in which a table has all of these columns, in whatever order. */
function unitsOf(headers: readonly string[], columns: Columns): System | undefined {
  return (["us", "metric"] as const).find((units) =>
    columns.every((column) => headers.includes(header(column as Columns[number], units))),
  );
}

/** The workbook's tooling and liquids tables, known by their headers; undefined when it has none. */
export async function findShelf(context: Excel.RequestContext): Promise<FoundShelf | undefined> {
  const { tables } = context.workbook;
  tables.load("items/name,items/worksheet/name");
  await context.sync();
  const headerRows = tables.items.map((table) => table.getHeaderRowRange().load("values"));
  await context.sync();
  const found = (columns: Columns): FoundTable | undefined => {
    for (const [i, table] of tables.items.entries()) {
      const headers = headerRows[i]!.values[0]!.map(String);
      const units = unitsOf(headers, columns);
      if (units) return { table, name: table.name, sheet: table.worksheet.name, headers, units };
    }
    return undefined;
  };
  const tooling = found(TOOL_COLUMNS);
  const liquids = found(LIQUID_COLUMNS);
  return tooling && liquids ? { tooling, liquids } : undefined;
}

/** Rows in our column order, whatever the user's is. */
function ordered(found: FoundTable, columns: Columns, values: any[][]): unknown[][] {
  const places = columns.map((column) => found.headers.indexOf(header(column as Columns[number], found.units)));
  return values.map((row) => places.map((place) => row[place]));
}

export interface ReadShelf {
  shelf: Shelf;
  /** The units its numbers are in, which may not be the plan's. */
  units: System;
  from: string;
  problems: string[];
}

/** The workbook's shelf, or the starter one where it has none yet. */
export function readShelf(units: System): Promise<ReadShelf> {
  return Excel.run(async (context) => {
    const found = await findShelf(context);
    if (!found)
      return { shelf: starterShelf(units), units, from: "the starter shelf (invented tools and prices)", problems: [] };
    const { tooling, liquids } = found;
    const toolRows = tooling.table.getDataBodyRange().load("values");
    const liquidRows = liquids.table.getDataBodyRange().load("values");
    await context.sync();
    const { shelf, badTools, badLiquids } = shelfOf(
      ordered(tooling, TOOL_COLUMNS, toolRows.values),
      ordered(liquids, LIQUID_COLUMNS, liquidRows.values),
    );
    const told = (table: FoundTable) => (bad: { row: number; reason: string }) =>
      `${table.name}, row ${bad.row}: ${bad.reason}; the row is left out`;
    const problems = [...badTools.map(told(tooling)), ...badLiquids.map(told(liquids))];
    if (tooling.units !== units || liquids.units !== units) problems.unshift(otherUnits(found));
    return {
      shelf,
      units: tooling.units,
      from: `tables ${tooling.name} and ${liquids.name} on “${tooling.sheet}”`,
      problems,
    };
  });
}

export function otherUnits({ tooling, liquids }: FoundShelf): string {
  if (tooling.units !== liquids.units) return `${tooling.name} is in ${tooling.units} units and ${liquids.name} is not`;
  return `The shelf in this workbook is in ${tooling.units} units; set Units to ${tooling.units} for this plan`;
}
