/** One look at the workbook before a command writes into it: which names are taken, and what there is to write beside. */
import type { Taken } from "./names";
import { askTables, type FoundShelf, shelfAmong } from "./shelf";
import type { BrokenName } from "./take-out";

export interface Surroundings extends Taken {
  readonly tables: readonly Excel.Table[];
  readonly shelf: FoundShelf | undefined;
  /** Names whose cell is gone, as when a plan's sheet was deleted by hand: they are free to be taken over. */
  readonly broken: readonly BrokenName[];
}

export async function lookAround(context: Excel.RequestContext): Promise<Surroundings> {
  const { worksheets, names, protection } = context.workbook;
  const tables = askTables(context);
  worksheets.load("items/name");
  names.load("items/name,items/formula");
  // For the ledger, which adds sheets.
  protection.load("protected");
  await context.sync();
  const isBroken = ({ formula }: Excel.NamedItem) => String(formula).includes("#REF!");
  const broken = names.items.filter(isBroken);
  return {
    broken: broken.map(({ name, formula }) => ({ name, formula })),
    sheets: worksheets.items.map((sheet) => sheet.name),
    names: [...tables.items, ...names.items.filter((item) => !isBroken(item))].map((item) => item.name),
    tables: tables.items,
    shelf: shelfAmong(tables),
  };
}
