/** The bid worked by hand: LibreOffice calculates its plain copy to the add-in's value in every cell of the Bid sheet. */
import { afterAll, beforeAll, expect, it } from "vitest";
import { columnLetters } from "../../../../addin/common/a1";
import { calculatingCopy } from "../../../../addin/share/calculating-copy";
import { insertProposal } from "../../../../addin/sheet";
import { CATALOGUE } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import { handWorkedPlans, insertHandWorked } from "../../sheet/hand-worked-bid";
import { type GritWorkbook, openGrit } from "../../sheet/workbook";
import { isError } from "../engine";
import { isSame, recalculated } from "./soffice";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

let workbook: GritWorkbook;
let compared = 0;
reportCompared("a bid, LibreOffice", () => compared);
beforeAll(async () => {
  workbook = await openGrit();
});
afterAll(() => workbook.dispose());

it("agrees in every cell of the Bid sheet and the proposal", { timeout: 600_000 }, async () => {
  await handWorkedPlans();
  await insertHandWorked();
  await insertProposal();
  const { bytes, report } = calculatingCopy(await workbook.xlsx(), OPTIONS);
  expect(report.values).toEqual([]);
  const [theirs] = await recalculated([bytes]);
  for (const sheet of ["Bid", "Proposal"]) {
    const found = theirs!.get(sheet)!;
    const { row, column, values } = await Excel.run(async (context) => {
      const used = context.workbook.worksheets.getItem(sheet).getUsedRange().load("rowIndex,columnIndex,values");
      await context.sync();
      return { row: used.rowIndex, column: used.columnIndex, values: used.values };
    });
    // The price offered, worked by hand.
    expect(values.flat()).toContain(6230);
    for (const [r, cells] of values.entries()) {
      for (const [c, value] of cells.entries()) {
        const address = `${columnLetters(column + c)}${row + r + 1}`;
        const cell = found.get(address);
        compared++;
        expect(isSame(isError(cell) ? cell.code : cell, value), `${sheet}!${address}: ${value}, theirs ${cell}`).toBe(
          true,
        );
      }
    }
  }
});
