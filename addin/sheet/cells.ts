/** Small commands on single cells and on the whole workbook. */
import type { Key } from "../../functions/plan/fields";
import { withoutSheet } from "../common/a1";
import { inWorkbook } from "./in-workbook";
import type { Links } from "./plan";

/** The active cell: where it is, and what it holds. */
export function readSelectedCell(): Promise<{ address: string; value: unknown }> {
  return inWorkbook(async (context) => {
    const cell = context.workbook.getActiveCell().load("address,values");
    await context.sync();
    return { address: cell.address, value: cell.values[0]![0] };
  });
}

/** What the cells hold that inputs are taken from; undefined where a sheet is gone. */
export function readLinked(links: Links): Promise<Partial<Record<Key, unknown>>> {
  return inWorkbook(async (context) => {
    const entries = Object.entries(links) as [Key, string][];
    const sheets = entries.map(([, address]) => context.workbook.worksheets.getItemOrNullObject(sheetOf(address)));
    await context.sync();
    const cells = entries.map(([, address], i) => {
      const sheet = sheets[i]!;
      return sheet.isNullObject ? undefined : sheet.getRange(withoutSheet(address)).load("values");
    });
    await context.sync();
    return Object.fromEntries(entries.map(([key], i) => [key, cells[i]?.values[0]?.[0]]));
  });
}

/** "'My quote'!C5" → "My quote". */
export function sheetOf(address: string): string {
  const name = address.slice(0, address.lastIndexOf("!"));
  return name.startsWith("'") ? name.slice(1, -1).replace(/''/g, "'") : name;
}

/** Recalculates every cell, which Excel does not do by itself when the functions arrive after the workbook. */
export function recalculate(): Promise<string> {
  return inWorkbook(async (context) => {
    context.workbook.application.calculate("Full");
    await context.sync();
    return "Every cell of the workbook was recalculated.";
  });
}
