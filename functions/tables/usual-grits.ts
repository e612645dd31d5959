/**
 * Where a sequence usually starts and ends. Planning defaults, common practice, no source: a test strip decides.
 * The last grits of levels 1 to 4 lie within the older appearance chart's ranges (see appearance.ts).
 */

/** First grit on a bare, troweled floor, by the exposure of aggregate wanted: the deeper the cut, the coarser. */
export const FIRST_GRIT_BY_EXPOSURE = { A: 100, B: 50, C: 30 } as const;

/** First grit where a coating or adhesive has to come off. */
export const FIRST_GRIT_ON_COATING = 16;

/** Last grit of a finish that is looked at. */
export const LAST_GRIT_BY_FINISH = { flat: 60, satin: 200, polished: 800, "highly polished": 3000 } as const;

/** Last grit of a profile for a coating, by the least profile (CSP) the coating asks for. */
export const lastGritForProfile = (leastProfile: number): number => (leastProfile >= 3 ? 30 : 60);

/** Resin stages finer than this polish; coarser ones hone, µm. */
export const POLISH_BELOW = 30;

/** Densifier goes on after the first stage at least this fine, µm: the floor is open enough, and still takes it. */
export const DENSIFY_BELOW = 150;
