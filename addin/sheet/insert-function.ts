/** A call of one of our functions at the selected cell. */
import { inWorkbook } from "./in-workbook";
import { allOrNothing, type Inserted } from "./ledger";
import { refuse } from "./refusals";
import { inNamespace } from "./write";

/** Writes a call of one of our functions into the active cell, which must be empty. */
export function insertFunction(call: string): Promise<Inserted> {
  return inWorkbook(async (context) => {
    const cell = context.workbook.getActiveCell().load("address,formulas,numberFormat");
    const knowsSpills = Office.context.requirements.isSetSupported("ExcelApi", "1.12");
    if (knowsSpills) cell.load("hasSpill");
    await context.sync();
    if (cell.formulas[0]![0] !== "") {
      throw refuse("cellFilled", { at: cell.address });
    }
    if (knowsSpills && cell.hasSpill) {
      throw refuse("cellSpilled", { at: cell.address });
    }
    if (cell.numberFormat[0]![0] === "@") {
      throw refuse("cellIsText", { at: cell.address });
    }
    return allOrNothing(context, async (ledger) => {
      await ledger.noteFilled(cell.worksheet, [cell]);
      cell.formulas = [[inNamespace(call)]];
      return { ...(await ledger.close()), what: `${call} written to ${cell.address}` };
    });
  });
}
