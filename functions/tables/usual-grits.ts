/**
 * Where a sequence usually starts and ends. Planning defaults, common practice, no source: a test strip decides.
 * The last grits of levels 1 to 4 lie within the older appearance chart's ranges (see appearance.ts).
 */

/**
 * First grit on a bare, troweled floor, by the exposure of aggregate wanted: the deeper the cut, the coarser.
 * A transitional 100 opens class A; metal opens B and C.
 */
export const FIRST_GRIT_BY_EXPOSURE = { A: 100, B: 30, C: 16 } as const;

/** First grit where a coating or adhesive has to come off. */
export const FIRST_GRIT_ON_COATING = 16;

/** Last grit of a finish that is looked at. */
export const LAST_GRIT_BY_FINISH = { flat: 60, satin: 200, polished: 800, "highly polished": 3000 } as const;

/** Metal grit that leaves a profile for a coating, by the least profile (CSP) it asks for: 16 to 25 leave CSP 2 to 3. */
export function gritForProfile(leastProfile: number): number {
  if (leastProfile >= 3) return 16;
  return leastProfile >= 2 ? 30 : 60;
}

/** Through a film this thin a metal scratch shows, mil: it is honed with a transitional or a resin tool after the metal. */
export const THIN_FILM = 10;
export const LAST_GRIT_UNDER_THIN_FILM = 100;

/** Resin stages finer than this polish; coarser ones hone, µm. */
export const POLISH_BELOW = 30;

/** Metal tools this fine or finer close up the scratch pattern, which is honing; coarser ones grind, µm. */
export const METAL_HONES_FROM = 150;

/** A floor ground no finer than this was left by metal, so resin does not come next, µm. */
export const LEFT_BY_METAL = 125;

/**
 * Densifier goes on after the first stage at least this fine, µm, by the matrix that the slab wants: a soft slab takes it
 * early and once more, a very hard one only after grit 400.
 */
export const DENSIFY_BELOW = { hard: [300, 75], medium: [150], soft: [38] } as const;
