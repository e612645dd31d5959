/** What scratches what: hardness of common picks, Mohs. */

/**
 * From the softest. Fingernail, copper and masonry bit: US National Park Service, Mohs Hardness Scale; window glass 5.5 and
 * a steel file 6.5: common practice.
 */
export const PICKS = [
  ["a fingernail", 2.5],
  ["a copper coin", 3.5],
  ["window glass", 5.5],
  ["a steel file or needle", 6.5],
  ["a masonry drill bit", 8.5],
] as const satisfies readonly (readonly [name: string, hardness: number])[];

/** The softest and the hardest mineral of the scale. */
const SOFTEST = 1;
const HARDEST = 10;

/**
 * Hardness of a slab by the softest pick that scratches it, counted from 0: midway between that pick and the one before,
 * which slides off. Beyond the last, no pick scratches.
 */
export function hardnessByPick(first: number): number {
  const below = PICKS[first - 1]?.[1] ?? SOFTEST;
  const above = PICKS[first]?.[1] ?? HARDEST;
  return Math.round((below + above) * 5) / 10;
}
