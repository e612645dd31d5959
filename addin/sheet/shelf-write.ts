/** What the pane writes into the shelf that the user keeps: a machines table, and what a test strip or a worn set taught. */
import { factorOf, header, TOOL_COLUMNS, type Tool } from "../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../functions/plan/starter-shelf";
import type { System } from "../../functions/units";
import { type Consent, needYes } from "../common/refusal";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { ask, changeWords, refuse } from "./refusals";
import { askNames, type FoundShelf, findShelf, refuseDuplicates } from "./shelf";
import { machinesSheet, shelfSheet } from "./shelf-sheet";
import { lookAround } from "./surroundings";

/** A machines table on a new sheet; with a shelf to belong to, where the workbook has none yet. */
export function insertMachines(units: System, sign = ""): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const around = await lookAround(context);
    const found = around.shelf;
    if (found?.machines) {
      const { name, sheet } = found.machines;
      throw refuse("machinesThere", { table: name, sheet });
    }
    return allOrNothing(context, async (ledger) => {
      if (!found) {
        const names = freeTogether({ tooling: "Tooling", liquids: "Liquids" }, around.names);
        const made = shelfSheet(starterShelf(units), units, names, sign);
        await insertSheet(ledger, freeSheetName("Shelf", around.sheets), made, false);
      }
      const { machines } = freeTogether({ machines: "Machines" }, around.names);
      const own = found?.tooling.units ?? units; // like the rest of the shelf
      const made = machinesSheet(starterMachines(own), own, machines, sign);
      await insertSheet(ledger, freeSheetName("Machines", around.sheets), made, true);
      const inserted = await ledger.close();
      const places = inserted.sheets.map(({ name }) => `“${name}”`);
      const onto = places.length > 1 ? `the new sheets ${places.join(" and ")}` : `the new sheet ${places[0]}`;
      return { ...inserted, what: `Machines table written to ${onto}` };
    });
  });
}

/** What was measured of a tool, in the plan's units. */
export type Measured = Partial<Pick<Tool, "cut" | "wear" | "life">>;

interface Change {
  title: string;
  /** Cell of the tool's row; undefined where the table has no such column yet. */
  cell: Excel.Range | undefined;
  value: number;
}

/** Writes into the row of a tool of the user's own table; asks before it covers a filled cell or adds a column. */
export function writeMeasured(
  tool: string,
  measured: Measured,
  units: System,
  agreed: Consent = false,
): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const found = await findShelf(context);
    refuseReadOnly(context);
    if (!found) {
      throw refuse("noTooling");
    }
    const names = askNames(found);
    await context.sync();
    refuseDuplicates(names);
    const { table, name, sheet } = found.tooling;
    const row = names.tooling.cells.values.findIndex(([other]) => String(other).trim() === tool);
    if (row < 0) throw refuse("noTool", { table: name, tool });
    const changes = await changesIn(row, measured, units, found);
    const changed = changes.map(({ title, cell, value }) => ({ title, before: contentOf(cell), value }));
    const newColumns = changes.filter(({ cell }) => !cell).map(({ title }) => title);
    const asText = changes.filter(isText).map(({ title }) => title);
    const mustAsk = newColumns.length > 0 || asText.length > 0 || changed.some(({ before }) => before !== "");
    if (mustAsk) needYes(agreed, ask("changeTool", { tool, table: name, changes: changed, newColumns, asText }));

    const home = context.workbook.worksheets.getItem(sheet);
    return allOrNothing(context, async (ledger) => {
      await ledger.noteFilled(
        home,
        changes.flatMap(({ cell }) => cell ?? []),
      );
      for (const change of changes) {
        if (isText(change)) change.cell!.numberFormat = [[GENERAL]];
        if (change.cell) change.cell.values = [[change.value]];
        else {
          ledger.noteColumn(name, change.title);
          const cell = table.columns.add(undefined, undefined, change.title).getDataBodyRange().getCell(row, 0);
          // A new column may look like the one beside it.
          cell.numberFormat = [[GENERAL]];
          cell.values = [[change.value]];
        }
      }
      return { ...(await ledger.close()), what: `${tool} in the table ${name}: ${changeWords(changed)}` };
    });
  });
}

const GENERAL = "General";

/** Whether a number that is written there would become a text. */
const isText = ({ cell }: Change) => cell !== undefined && cell.numberFormat[0]![0] === "@";

async function changesIn(row: number, measured: Measured, units: System, { tooling }: FoundShelf): Promise<Change[]> {
  const columns = TOOL_COLUMNS.filter(({ key }) => key in measured);
  const changes = columns.map((column) => {
    const title = header(column, tooling.units);
    const cell = tooling.headers.includes(title)
      ? tooling.table.columns.getItem(title).getDataBodyRange().getCell(row, 0).load("formulas,numberFormat")
      : undefined;
    return {
      title,
      cell,
      value: inOwnUnits(measured[column.key as keyof Measured]!, factorOf(column, units, tooling.units)),
    };
  });
  await tooling.table.context.sync();
  return changes;
}

/** Nobody measures more than four digits, which a conversion would fill up. */
const inOwnUnits = (value: number, factor: number) => (factor === 1 ? value : Number((value * factor).toPrecision(4)));

const contentOf = (cell: Excel.Range | undefined) => (cell ? cell.formulas[0]![0] : "");
