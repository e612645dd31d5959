/** How long IronCalc, a spreadsheet engine from the registry, takes for the plain formula of a function. */
import { columnNameFromNumber, Model } from "@ironcalc/wasm";
import { looksBack } from "../../addin/share/plain";
import { translate } from "../../addin/share/translate";
import { referenceRows, SURROUNDINGS } from "../addin/share/engine";
import { type Catalogued, isUnits } from "../catalogue";
import { rowsOf, takesLists } from "./columns";
import { median } from "./measure";

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
  if (looksBack(entry)) return undefined;
  const { args } = rowsOf(entry, ROWS);
  const model = new Model("bench", "en", "UTC", "en");
  model.pauseEvaluation();
  model.newSheet();
  model.renameSheet(1, "Reference");
  for (const [r, line] of referenceRows().entries()) {
    for (const [c, value] of line.entries()) model.setUserInput(1, r + 1, c + 1, String(value));
  }
  for (const [k, arg] of args.entries()) {
    if (isUnits(entry.params[k]!) || entry.params[k]!.name === "scale") continue;
    for (const [r, [cell]] of (arg as unknown[][]).entries())
      model.setUserInput(0, r + 1, k + 1, String(cell).toUpperCase());
  }
  model.resumeEvaluation();
  const without = evaluation(model);
  model.pauseEvaluation();
  // Of a function that takes lists, one formula over as many rows.
  for (let row = 1; row <= (takesLists(entry) ? 1 : ROWS); row++) {
    const given = args.map((arg, k) => {
      if (isUnits(entry.params[k]!)) return '"us"';
      if (entry.params[k]!.name === "scale") return '"mesh"';
      const letter = columnNameFromNumber(k + 1);
      const rows = (arg as unknown[][]).length;
      const isList = entry.params[k]!.text.includes("a range of numbers");
      return isList ? `${letter}$1:${letter}$${rows}` : `${letter}${rows === 1 ? 1 : row}`;
    });
    const formula = translate(`=GRIT.${entry.id}(${given.join(",")})`, {
      ...SURROUNDINGS,
      isRange: (reference) => reference.includes(":"),
    });
    model.setUserInput(0, row, 30, formula);
  }
  model.resumeEvaluation();
  const took = evaluation(model) - without;
  model.free();
  return took / ROWS;
}
