/** What past jobs say together: where the margin went, how fast the work really was, and how estimates turn out. */
import type { Calibration } from "../jobs";
import type { Job, Pair } from "./check";

/** Where margin is lost or won. Other is a changed price, machines, and whatever is not recorded. */
export const CAUSES = {
  rate: "Labour rate",
  hours: "Labour hours",
  toolUse: "Tooling use",
  toolPrice: "Tooling price",
  liquids: "Liquids",
  other: "Other",
} as const;
export type Cause = keyof typeof CAUSES;
export const CAUSE_KEYS = Object.keys(CAUSES) as Cause[];

/** Money by which a job earned less than quoted, in whole cents; below 0 it earned more. The parts sum to the whole. */
export interface Slip {
  readonly whole: number;
  readonly parts: Readonly<Record<Cause, number>>;
}

export const HARDNESS_CLASSES = ["soft slab", "medium slab", "hard slab"] as const;
export type HardnessClass = (typeof HARDNESS_CLASSES)[number];

/** How fast the work was and how long tools lasted on slabs of a hardness, by bond. */
export interface RateGroup {
  /** "" where not recorded. */
  readonly bond: string;
  readonly hardness: HardnessClass | "";
  readonly jobs: number;
  /** Floor of one pass in an hour, ft²/h | m²/h; undefined where not recorded. */
  readonly areaRate?: number;
  /** Floor of one pass that a set of tools lasted, ft² | m²; undefined where not recorded. */
  readonly toolLife?: number;
}

/** Jobs alike in one respect: how their hours turned out against the quote. */
export interface CalibrationGroup {
  readonly by: "all" | "bond" | "hardness" | "machine";
  /** The bond, hardness class or machine; "" for all. */
  readonly value: string;
  /** Jobs with hours both quoted and actual. */
  readonly jobs: number;
  readonly logRatios: readonly number[];
  readonly calibration?: Calibration;
  /** Why there is no calibration. */
  readonly whyNot?: string;
}

export interface Audit {
  readonly jobs: number;
  /** Money. */
  readonly price: Pair;
  readonly cost: Pair;
  /** Fraction of the price; undefined without jobs. */
  readonly margin?: Pair;
  readonly slip: Slip;
  readonly rates: readonly RateGroup[];
  /** Rows of the jobs whose hours are out of line with the others. */
  readonly outliers: readonly number[];
  readonly groups: readonly CalibrationGroup[];
}
