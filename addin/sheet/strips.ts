/** Test strips in a table of their own, a row each. */
import { header } from "../../functions/plan/shelf";
import { STRIP_COLUMNS, type Strip } from "../../functions/plan/strips";
import type { System } from "../../functions/units";
import { type Block, emptyBlock, type SheetSetup, tableSetup } from "./block";
import { inWorkbook, refuseReadOnly } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { refuse } from "./refusals";
import { askTables, stripInTable, stripsIn } from "./shelf";
import type { NumberFormat } from "./styles";
import { lookAround } from "./surroundings";
import { asText } from "./write";

const TOP = 3;
/** Rows of a new table, the first of them taken. */
const ROWS = 40;

/** Writes a strip into the first blank row of the table, or into a new table on a sheet of its own. */
export function addStrip(strip: Strip, units: System): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const tables = askTables(context);
    const around = await lookAround(context);
    refuseReadOnly(context);
    const found = stripsIn(tables);
    if (!found) {
      const { strips } = freeTogether({ strips: "Strips" }, around.names);
      return allOrNothing(context, async (ledger) => {
        await insertSheet(
          ledger,
          freeSheetName("Test strips", around.sheets),
          stripsSheet(strip, units, strips),
          false,
        );
        const inserted = await ledger.close();
        return { ...inserted, what: `Test strip written to the new sheet “${inserted.sheets[0]!.name}”` };
      });
    }
    const body = found.table.getDataBodyRange().load("values");
    await context.sync();
    const row = body.values.findIndex((cells) => cells.every((cell) => cell === ""));
    if (row < 0) throw refuse("stripsFull", { table: found.name, sheet: found.sheet });
    const own = stripInTable(strip, units, found);
    // Cell by cell, since filters may hide the row; what isn't known stays blank.
    const values = STRIP_COLUMNS.flatMap((column) => {
      const value = own[column.key];
      if (value === null) return [];
      const cell = body.getCell(row, found.headers.indexOf(header(column, found.units)));
      return { cell, value: typeof value === "string" ? asText(value) : value };
    });
    return allOrNothing(context, async (ledger) => {
      const home = context.workbook.worksheets.getItem(found.sheet);
      await ledger.noteFilled(
        home,
        values.map(({ cell }) => cell),
      );
      for (const { cell, value } of values) cell.values = [[value]];
      return { ...(await ledger.close()), what: `Test strip written to row ${row + 1} of the table ${found.name}` };
    });
  });
}

const FORMATS: Partial<Record<keyof Strip, NumberFormat>> = { date: "date", overlap: "percent" };

function stripsSheet(strip: Strip, units: System, name: string): { block: Block; setup: SheetSetup } {
  const block = emptyBlock();
  block.cells.push({ row: 0, column: 0, content: "Test strips", style: "title" });
  block.cells.push({
    row: 1,
    column: 0,
    content: "What was cut on test strips. Add rows as you need; a plan takes the nearest ones of the same tool.",
    style: "caution",
  });
  STRIP_COLUMNS.forEach((column, at) => {
    block.cells.push({ row: TOP, column: at, content: header(column, units), style: "tableHeader" });
    const format = FORMATS[column.key];
    for (let i = 0; i < ROWS; i++) {
      const content = i === 0 ? (strip[column.key] ?? "") : "";
      block.cells.push({ row: TOP + 1 + i, column: at, content, style: "tableInput", format });
    }
  });
  block.tables.push({ name, row: TOP, column: 0, rows: ROWS + 1, columns: STRIP_COLUMNS.length });
  return {
    block,
    setup: tableSetup(
      TOP,
      STRIP_COLUMNS.map(({ key }) => (key === "tool" || key === "slab" ? 120 : 76)),
    ),
  };
}
