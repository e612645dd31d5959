/** A log with its forecast: LibreOffice calculates its plain copy to the add-in's value in every cell, also after more is logged. */
import { afterAll, beforeAll, expect, it } from "vitest";
import { columnLetters } from "../../../../addin/common/a1";
import { calculatingCopy } from "../../../../addin/share/calculating-copy";
import { addLogLines, insertLog, insertPlan, readLog } from "../../../../addin/sheet";
import { CATALOGUE } from "../../../catalogue";
import { line, MONDAY } from "../../../functions/log/four-days";
import { reportCompared } from "../../../run/compared";
import { floor, planFor } from "../../sheet/agreement";
import { expectForecastAgrees } from "../../sheet/logs";
import { type GritWorkbook, openGrit } from "../../sheet/workbook";
import { isError } from "../engine";
import { isSame, recalculated } from "./soffice";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

let workbook: GritWorkbook;
let compared = 0;
reportCompared("a log with its forecast, LibreOffice", () => compared);
beforeAll(async () => {
  workbook = await openGrit();
});
afterAll(() => workbook.dispose());

async function compareLog(): Promise<void> {
  const { bytes, report } = calculatingCopy(await workbook.xlsx(), OPTIONS);
  expect(report.values).toEqual([]);
  const [theirs] = await recalculated([bytes]);
  const found = theirs!.get("Log")!;
  const { row, column, values } = await Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem("Log").getUsedRange().load("rowIndex,columnIndex,values");
    await context.sync();
    return { row: used.rowIndex, column: used.columnIndex, values: used.values };
  });
  for (const [r, cells] of values.entries()) {
    for (const [c, value] of cells.entries()) {
      const address = `${columnLetters(column + c)}${row + r + 1}`;
      const cell = found.get(address);
      compared++;
      expect(isSame(isError(cell) ? cell.code : cell, value), `Log!${address}: ${value}, theirs ${cell}`).toBe(true);
    }
  }
}

it("agrees in every cell of the Log sheet, empty and with two floors' days", { timeout: 600_000 }, async () => {
  await insertPlan(planFor(floor({ jobName: "Hall A" })), "new sheet");
  await insertPlan(planFor(floor({ jobName: "Hall B", length: 40, exposure: "A" })), "new sheet");
  await insertLog();
  await compareLog();
  const { stages } = (await readLog())!;
  const lines = ["Hall A", "Hall B"].flatMap((name, i) => {
    const own = stages.filter((stage) => stage.floor === name);
    const day = MONDAY + 7 * i;
    const part = (n: number, share: number) => {
      return { floor: name, stage: own[n]!.stage, area: Math.round(own[n]!.toDo * share) };
    };
    return [
      line({ ...part(0, 0.3), date: day, machineHours: 7, crewHours: 8, sets: 1, height: 10 }),
      line({ ...part(0, 0.3), date: day + 1, machineHours: 6, crewHours: 7, height: 5 }),
      line({ ...part(0, 0.2), date: day + 2, machineHours: 5, crewHours: 6, height: 2.5 }),
      line({ ...part(1, 0.5), date: day + 3, machineHours: 1, crewHours: 1.5, sets: 1, height: 9 }),
      line({ ...part(1, 0.2), date: day + 4, machineHours: 2, crewHours: 2.5, sets: 1, height: 8.5 }),
      line({ ...part(2, 1), date: day + 4, crewHours: 6.2 }),
    ];
  });
  await addLogLines(lines, MONDAY + 30, true);
  await expectForecastAgrees();
  await compareLog();
});
