/** A plan over described machines and a labeled tool: LibreOffice calculates its copy to the add-in's value in every cell. */
import { afterAll, beforeAll, expect, it } from "vitest";
import { columnLetters } from "../../../../addin/common/a1";
import { calculatingCopy } from "../../../../addin/share/calculating-copy";
import { insertMachines, insertPlan, type Plan } from "../../../../addin/sheet";
import { propose } from "../../../../functions/plan/proposal";
import type { Shelf } from "../../../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../../../functions/plan/starter-shelf";
import { CATALOGUE } from "../../../catalogue";
import { reportCompared } from "../../../run/compared";
import { expectSheetAgrees, floor, SECOND } from "../../sheet/agreement";
import { type GritWorkbook, openGrit } from "../../sheet/workbook";
import { isError } from "../engine";
import { isSame, recalculated } from "./soffice";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
const PLAN = "Stage plan";

let workbook: GritWorkbook;
let compared = 0;
reportCompared("a plan over described machines, LibreOffice", () => compared);
beforeAll(async () => {
  workbook = await openGrit();
});
afterAll(() => workbook.dispose());

it("agrees in every cell of the plan", { timeout: 600_000 }, async () => {
  const starter = starterShelf("us");
  const coarse = starter.tools.find(({ name }) => name === "Metal 16 medium")!;
  const labeled = { ...coarse, name: "Metal 00", grit: "00", size: 2000, cut: 500 };
  const shelf: Shelf = { ...starter, tools: [...starter.tools, labeled], machines: starterMachines("us") };
  const inputs = floor({ exposure: "C", cutCoefficient: 400, stripSize: 600, slideSpeed: 1600, passesFrom: "scratch" });
  const names = ["Machine A, 20 in", "Machine B, 32 in", ""];
  const proposed = propose(inputs, starter).stages.map(({ work, tool }, i) =>
    work === "densify" || work === "guard" ? { work, tool } : { work, tool, machine: names[i % 3]! },
  );
  const stages = [{ work: "grind" as const, tool: "Metal 00", machine: names[0]! }, ...proposed];
  const plan: Plan = { inputs, links: {}, shelf, stages };
  // The shelf comes with a first plan, the machines after it.
  await insertPlan({ ...plan, stages: proposed.map(({ work, tool }) => ({ work, tool })) }, "new sheet");
  await insertMachines("us");
  await insertPlan(plan, "new sheet");
  const { rows } = await expectSheetAgrees(plan, SECOND);
  expect(rows[0]!.fullCut!).toBeGreaterThan(rows[0]!.cut!);

  const { bytes, report } = calculatingCopy(await workbook.xlsx(), OPTIONS);
  expect(report.values).toEqual([]);
  const [theirs] = await recalculated([bytes]);
  for (const name of [PLAN, `${PLAN} 2`, "Machines"]) {
    const found = theirs!.get(name)!;
    const { row, column, values } = await Excel.run(async (context) => {
      const used = context.workbook.worksheets.getItem(name).getUsedRange().load("rowIndex,columnIndex,values");
      await context.sync();
      return { row: used.rowIndex, column: used.columnIndex, values: used.values };
    });
    for (const [r, line] of values.entries()) {
      for (const [c, value] of line.entries()) {
        const address = `${columnLetters(column + c)}${row + r + 1}`;
        const cell = found.get(address);
        compared++;
        expect(isSame(isError(cell) ? cell.code : cell, value), `${name}!${address}: ${value}, theirs ${cell}`).toBe(
          true,
        );
      }
    }
  }
});
