/** A stage of a plan: what is done, and with which tool or liquid of the shelf. */
import { NAMED_SCALES, sizeOf } from "../scale";
import { METAL_HONES_FROM, POLISH_BELOW } from "../tables/usual-grits";
import type { Inputs } from "./inputs";
import type { Tool } from "./shelf";

export const WORKS = ["grind", "hone", "polish", "densify", "guard"] as const;
export type Work = (typeof WORKS)[number];

/** A stage as it is priced and written. */
export interface PlannedStage {
  work: Work;
  tool: string;
  /** One of the machines table; left out, the machine of the inputs. */
  machine?: string;
}

/** A tool's particle size, µm: the maker's own where the shelf has it, else from the scale. */
export const toolSize = (tool: Tool, inputs: Inputs): number =>
  tool.size ?? sizeOf(tool.grit, NAMED_SCALES[inputs.scale]);

/** What a tool's stage does: metal grinds until it is fine enough to close the scratch pattern, and fine resin polishes. */
export function workOf({ bond }: Tool, size: number): Work {
  if (bond === "metal") return size > METAL_HONES_FROM ? "grind" : "hone";
  return bond === "resin" && size < POLISH_BELOW ? "polish" : "hone";
}
