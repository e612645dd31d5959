/** The working that the Functions view shows: of which cell, and in which words. */
import type { CellMath, ShownCell } from "../../sheet";

export interface WorkingState {
  /** As it was when the user asked; the selection may have moved on since. */
  readonly shown: CellMath | null;
}

export const startWorking = (): WorkingState => ({ shown: null });

export const takeWorking = (shown: CellMath): WorkingState => ({ shown });

/** What the cell is, in a sentence. */
export function headline(cell: CellMath): string {
  const { address, formula, shown, workings, followed, refers } = cell;
  if (!formula) {
    const holds = shown === "" ? "It is empty." : `It holds “${shown}”, typed in.`;
    return `${address} has no formula. ${holds} Select a cell whose formula has a GRIT function.`;
  }
  if (workings.length === 0 && followed.length === 0 && refers.length === 0) {
    return `The formula in ${address} has no GRIT function. Select a cell whose formula has one.`;
  }
  return `${sentence(cell)}.`;
}

/** What a cell shows, and which of the values that a formula fills cells with it is. */
function sentence({ address, anchor, place, shown }: ShownCell): string {
  const shows = `${address} ${shown === "" ? "is blank" : `shows ${shown}`}`;
  if (!anchor) return shows;
  return `${shows}, filled by the formula in ${anchor}: row ${place.row + 1}, column ${place.column + 1} of its results`;
}

/** Each cell that the references led to. */
export const steps = ({ followed }: CellMath): { text: string; formula: string }[] =>
  followed.map((step) => ({ text: `It is taken from ${step.address}. ${sentence(step)}.`, formula: step.formula }));

/** What there is to know where no function of ours was found. */
export function lead({ workings, followed, refers }: CellMath): string {
  if (workings.length > 0) return "";
  if (refers.length === 0) {
    return followed.length > 0 ? "This formula has no GRIT function, and refers to no cells." : "";
  }
  const found = refers.some(({ ours }) => ours !== undefined);
  return found
    ? "This formula has no GRIT function itself, but cells that it refers to have. It refers to:"
    : "This formula has no GRIT function, and neither do the cells that it refers to. It refers to:";
}

/** The workings to tell in full: those that count in this cell, or may. */
export const told = ({ workings }: CellMath) => workings.filter(({ used }) => used !== "no");

/** What else is in the formula. */
export function remark({ workings }: CellMath): string {
  const names = new Set(workings.filter(({ used }) => used === "no").map(({ id }) => `GRIT.${id}`));
  return names.size === 0 ? "" : `Also in the formula, and not needed in this cell: ${[...names].join(", ")}.`;
}

/** What the spreadsheet shows while it does not know our functions, or has not worked them out. */
const NOT_YET = ["#NAME?", "#BUSY!"];

/** Where the cell is behind what the functions give. */
export function doubt(cell: CellMath): string {
  const isBehind = NOT_YET.includes(cell.shown) && told(cell).some(({ outcome }) => outcome.kind === "value");
  return isBehind
    ? `The cell shows ${cell.shown}, and the functions do give values: the spreadsheet has not worked it out yet. Enter the formula again, or use the check at the end of this view.`
    : "";
}
