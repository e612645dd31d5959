/** The sheets and cells a copy of the workbook can be limited to. */
import { withoutSheet } from "../common/a1";
import { inWorkbook } from "./in-workbook";

/** A sheet to choose from. */
export interface SheetFound {
  readonly name: string;
  readonly visible: boolean;
  /** The cells it uses, such as "A1:H40"; empty where it has none. */
  readonly used: string;
}

/** Cells of one sheet, such as those of "A1:D20" on "Quote". */
export interface CellsFound {
  readonly sheet: string;
  readonly range: string;
}

/** Every sheet, in the workbook's order. */
export function listSheets(): Promise<SheetFound[]> {
  return inWorkbook(async (context) => {
    const sheets = context.workbook.worksheets.load("items/name,items/visibility");
    await context.sync();
    const used = sheets.items.map((sheet) => sheet.getUsedRangeOrNullObject(true).load("address"));
    await context.sync();
    return sheets.items.map(({ name, visibility }, i) => ({
      name,
      visible: visibility === "Visible",
      used: used[i]!.isNullObject ? "" : withoutSheet(used[i]!.address),
    }));
  });
}

/** The cells that the user has selected. */
export function selectedCells(): Promise<CellsFound> {
  return inWorkbook(async (context) => {
    const range = context.workbook.getSelectedRange().load("address,worksheet/name");
    await context.sync();
    return { sheet: range.worksheet.name, range: withoutSheet(range.address) };
  });
}
