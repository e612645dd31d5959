/** A stage of a plan: what is done, and with which tool or liquid of the shelf. */
import { scratchDepth } from "../grit";
import { NAMED_SCALES, sizeOf } from "../scale";
import { METAL_HONES_FROM, POLISH_BELOW } from "../tables/usual-grits";
import type { Inputs } from "./inputs";
import type { Tool } from "./shelf";
import type { Work } from "./works";

/** A stage as it is priced and written. */
export interface PlannedStage {
  work: Work;
  tool: string;
  /** One of the machines table; left out, the machine of the inputs. */
  machine?: string;
  /** Passes or coats that somebody counted; left out, they are worked out. */
  passes?: number;
}

/** A tool's particle size, µm: the maker's own where the shelf has it, else from the scale. */
export const toolSize = (tool: Tool, inputs: Inputs): number =>
  tool.size ?? sizeOf(tool.grit, NAMED_SCALES[inputs.scale]);

/** Depth of the scratch it leaves, µm: as the shelf has it, else by size and bond. */
export const scratchOf = ({ scratch, bond }: Tool, size: number): number => scratch ?? scratchDepth(size, bond);

/** The same of a tool whose size may not be known: one that strips has no grit of its own. */
export const scratchLeft = (tool: Tool, inputs: Inputs): number =>
  tool.scratch ?? scratchOf(tool, toolSize(tool, inputs));

/** What a tool's stage does: metal grinds until it is fine enough to close the scratch pattern, and fine resin polishes. */
export function workOf({ bond, stripRate }: Tool, size: number): Work {
  if (stripRate !== null) return "strip";
  if (bond === "metal") return size > METAL_HONES_FROM ? "grind" : "hone";
  return bond === "resin" && size < POLISH_BELOW ? "polish" : "hone";
}
