/** One look at the workbook before a command writes into it: which names are taken, and what there is to write beside. */
import type { Taken } from "./names";
import { askTables, type FoundShelf, shelfAmong } from "./shelf";

export interface Surroundings extends Taken {
  readonly tables: readonly Excel.Table[];
  readonly shelf: FoundShelf | undefined;
}

export async function lookAround(context: Excel.RequestContext): Promise<Surroundings> {
  const { worksheets, names, protection } = context.workbook;
  const tables = askTables(context);
  worksheets.load("items/name");
  names.load("items/name");
  // For the ledger, which adds sheets.
  protection.load("protected");
  await context.sync();
  return {
    sheets: worksheets.items.map((sheet) => sheet.name),
    names: [...tables.items, ...names.items].map((item) => item.name),
    tables: tables.items,
    shelf: shelfAmong(tables),
  };
}
