/** The owner's own list of extra work, in a table on a sheet of its own. */
import { EXTRA_KIND_COLUMNS, starterExtras } from "../../functions/bid/extras";
import { header } from "../../functions/plan/shelf";
import type { System } from "../../functions/units";
import { refuse } from "./bid-refusals";
import { EXTRAS_LIST } from "./bid-texts";
import { type Block, emptyBlock, type SheetSetup, tableSetup } from "./block";
import { extraKindsIn } from "./extra-kinds";
import { inWorkbook } from "./in-workbook";
import { insertSheet } from "./insert";
import { allOrNothing, type Inserted } from "./ledger";
import { freeSheetName, freeTogether } from "./names";
import { askTables } from "./shelf";
import type { NumberFormat } from "./styles";
import { lookAround } from "./surroundings";

const TOP = 3;
const FORMATS: Partial<Record<string, NumberFormat>> = { money: "moneyInput", percent: "percent" };
const WIDTHS: Partial<Record<string, number>> = { name: 120, words: 250 };

/** Writes the sample list for the owner to change. */
export function insertExtrasList(units: System, sign = ""): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const tables = askTables(context);
    const around = await lookAround(context);
    const found = extraKindsIn(tables);
    if (found) throw refuse("extrasThere", { table: found.name, sheet: found.sheet });
    const { extras } = freeTogether({ extras: "Extras" }, around.names);
    const sheet = freeSheetName("Extras", around.sheets);
    return allOrNothing(context, async (ledger) => {
      await insertSheet(ledger, sheet, extrasSheet(units, sign, extras), true);
      return { ...(await ledger.close()), what: EXTRAS_LIST.written(sheet) };
    });
  });
}

function extrasSheet(units: System, sign: string, name: string): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(sign);
  block.cells.push({ row: 0, column: 0, content: EXTRAS_LIST.title, style: "title" });
  block.cells.push({ row: 1, column: 0, content: EXTRAS_LIST.note, style: "caution" });
  const kinds = starterExtras(units);
  EXTRA_KIND_COLUMNS.forEach((column, i) => {
    block.cells.push({ row: TOP, column: i, content: header(column, units), style: "tableHeader" });
    const format = column.format && FORMATS[column.format];
    kinds.forEach((kind, r) => {
      block.cells.push({ row: TOP + 1 + r, column: i, content: kind[column.key] ?? "", style: "tableInput", format });
    });
  });
  block.tables.push({ name, row: TOP, column: 0, rows: kinds.length + 1, columns: EXTRA_KIND_COLUMNS.length });
  return {
    block,
    setup: tableSetup(
      TOP,
      EXTRA_KIND_COLUMNS.map(({ key }) => WIDTHS[key] ?? 76),
    ),
  };
}
