/** What a stage does: with a tool, with a liquid, or by the crew alone. */

/** With a tool on the machine. */
const TOOL_WORKS = ["strip", "grind", "hone", "polish"] as const;
/** With a row of the liquids table. */
export const LIQUID_WORKS = [
  "densify",
  "guard",
  "grout",
  "stain",
  "coat",
  "joints",
  "cracks",
  "burnish",
  "clean",
  "dry",
  "protect",
] as const;
/** Those that may do without a liquid: the crew's hours, and what else they cost by area. */
export const LABOR_WORKS = ["burnish", "clean", "dry", "protect"] as const;
/** Those that go by length. */
export const LENGTH_WORKS = ["joints", "cracks"] as const;

export const WORKS = [...TOOL_WORKS, ...LIQUID_WORKS] as const;
export type Work = (typeof WORKS)[number];
export type LiquidWork = (typeof LIQUID_WORKS)[number];

const isAmong =
  <W extends string>(works: readonly W[]) =>
  (work: string): work is W =>
    (works as readonly string[]).includes(work);
export const isLiquidWork = isAmong(LIQUID_WORKS);
export const isLaborWork = isAmong(LABOR_WORKS);
export const isByLength = isAmong(LENGTH_WORKS);
