/** How long IronCalc, a spreadsheet engine from the registry, takes for the plain formula of a function. */
import { Model } from "@ironcalc/wasm";
import { referenceRows } from "../addin/share/engine";
import type { Catalogued } from "../catalogue";
import { median } from "./measure";
import { FORMULA_COLUMN, plainRows } from "./plain-rows";

/** Fewer rows than the functions get, because the engine takes seconds for those; the time is told for one row. */
const ROWS = 1000;
const TURNS = 5;

function evaluation(model: Model): number {
  return median(
    Array.from({ length: TURNS }, () => {
      const start = performance.now();
      model.evaluate();
      return performance.now() - start;
    }),
  );
}

/** ms for each row, without what the engine takes for the arguments alone; nothing where each row's formula is another. */
export function ironCalcTime(entry: Catalogued): number | undefined {
  const { columns, count, formula, isFilledDown } = plainRows(entry, ROWS);
  if (!isFilledDown) return undefined;
  const model = new Model("bench", "en", "UTC", "en");
  model.pauseEvaluation();
  model.newSheet();
  model.renameSheet(1, "Reference");
  for (const [r, line] of referenceRows().entries()) {
    for (const [c, value] of line.entries()) model.setUserInput(1, r + 1, c + 1, String(value));
  }
  for (const { column, cells } of columns) {
    for (const [r, cell] of cells.entries()) model.setUserInput(0, r + 1, column, String(cell).toUpperCase());
  }
  model.resumeEvaluation();
  const without = evaluation(model);
  model.pauseEvaluation();
  for (let row = 0; row < count; row++) model.setUserInput(0, row + 1, FORMULA_COLUMN, formula(row));
  model.resumeEvaluation();
  const took = evaluation(model) - without;
  model.free();
  return took / ROWS;
}
