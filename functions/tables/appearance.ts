/**
 * Appearance levels of a polished concrete floor.
 * Source: ASCC Concrete Polishing Council appearance chart (taken into ACI-ASCC 310.1-20), seen on a page reproducing it.
 * A level is defined by image clarity (ASTM D5767) and a haze index below 10 (ASTM D4039), not by a grit.
 */
interface AppearanceLevel {
  readonly level: 1 | 2 | 3 | 4;
  readonly name: string;
  /** Image clarity value in percent, from and to. */
  readonly imageClarity: readonly [least: number, most: number];
  /** Planning default only: the last grit, from and to, of the older chart (CPAA, seen on a page restating it). */
  readonly olderLastGrit: readonly [coarsest: number, finest: number];
}

/** Level 1 of the older chart reads "below 100"; it begins here with the coarsest grit in common use. */
export const APPEARANCE_LEVELS: readonly AppearanceLevel[] = [
  { level: 1, name: "flat (ground)", imageClarity: [0, 9], olderLastGrit: [6, 100] },
  { level: 2, name: "satin (honed)", imageClarity: [10, 39], olderLastGrit: [100, 400] },
  { level: 3, name: "polished", imageClarity: [40, 69], olderLastGrit: [400, 800] },
  { level: 4, name: "highly polished", imageClarity: [70, 100], olderLastGrit: [800, 3000] },
];
