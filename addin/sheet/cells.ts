/** Small commands on single cells and on the whole workbook. */
import { inWorkbook } from "./insert";
import { Refusal } from "./refusal";
import { type Inserted, Ledger } from "./undo";
import { inNamespace } from "./write";

/** The active cell: where it is, and what it holds. */
export function readSelectedCell(): Promise<{ address: string; value: unknown }> {
  return inWorkbook(async (context) => {
    const cell = context.workbook.getActiveCell().load("address,values");
    await context.sync();
    return { address: cell.address, value: cell.values[0]![0] };
  });
}

/** Writes a call of one of our functions into the active cell, which must be empty. */
export function insertFunction(call: string): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const cell = context.workbook.getActiveCell().load("address,formulas");
    const sheet = context.workbook.worksheets.getActiveWorksheet();
    await context.sync();
    if (cell.formulas[0]![0] !== "") {
      throw new Refusal(`${cell.address} is not empty. Select an empty cell for the function.`);
    }
    const ledger = new Ledger(context);
    await ledger.block(sheet, cell);
    try {
      cell.formulas = [[inNamespace(call)]];
      await context.sync();
      return { ...(await ledger.close()), what: `${call} written to ${cell.address}` };
    } catch (error) {
      await ledger.rollBack();
      throw error;
    }
  });
}

/** Recalculates every cell, which Excel does not do by itself when the functions arrive after the workbook. */
export function recalculate(): Promise<string> {
  return inWorkbook(async (context) => {
    context.workbook.application.calculate("Full");
    await context.sync();
    return "Every cell of the workbook was recalculated.";
  });
}
