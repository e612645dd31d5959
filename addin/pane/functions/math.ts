/** The math that the Functions view shows: of which cell, and in which words. */
import type { CellMath, ShownCell } from "../../sheet";
import { MATH } from "./texts";

/** What the cell is, in a sentence. */
export function headline(cell: CellMath): string {
  const { address, formula, shown, calls, followed, refers } = cell;
  if (!formula) return MATH.noFormula(address, shown);
  if (calls.length === 0 && followed.length === 0 && refers.length === 0) return MATH.noFunction(address);
  return `${sentence(cell)}.`;
}

/** What a cell shows, and which of the values that a formula fills cells with it is. */
function sentence({ address, anchor, place, shown }: ShownCell): string {
  const shows = MATH.shows(address, shown);
  return anchor ? MATH.filledBy(shows, anchor, place.row + 1, place.column + 1) : shows;
}

/** Each cell that the references led to. */
export const steps = ({ followed }: CellMath): { text: string; formula: string }[] =>
  followed.map((step) => ({ text: MATH.takenFrom(step.address, sentence(step)), formula: step.formula }));

/** What there is to know where no function of ours was found. */
export function lead({ calls, followed, refers }: CellMath): string {
  if (calls.length > 0) return "";
  if (refers.length === 0) return followed.length > 0 ? MATH.noFunctionNorCells : "";
  return refers.some(({ ours }) => ours !== undefined) ? MATH.functionsInCells : MATH.noFunctionInCells;
}

/** The calls to show in full: those that count in this cell, or may. */
export const callsShown = ({ calls }: CellMath) => calls.filter(({ used }) => used !== "no");

/** What else is in the formula. */
export function remark({ calls }: CellMath): string {
  const names = new Set(calls.filter(({ used }) => used === "no").map(({ id }) => `GRIT.${id}`));
  return names.size === 0 ? "" : MATH.notNeeded([...names]);
}

/** What the spreadsheet shows while it does not know our functions, or has not worked them out. */
const NOT_YET = ["#NAME?", "#BUSY!"];

/** Where the cell is behind what the functions give. */
export function doubt(cell: CellMath): string {
  const isBehind = NOT_YET.includes(cell.shown) && callsShown(cell).some(({ outcome }) => outcome.kind === "value");
  return isBehind ? MATH.behind(cell.shown) : "";
}
