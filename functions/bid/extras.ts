/** Extra work that a bid may have beside its floors: the list that an owner begins with. Prices and rates are invented. */
import type { System } from "../units";

export interface ExtraKind {
  readonly name: string;
  readonly unit: Readonly<Record<System, string>>;
  /** Whole-crew hours and material cost of one. */
  readonly crewHours: Readonly<Record<System, number>>;
  readonly material: Readonly<Record<System, number>>;
  /** Share lost of the material. */
  readonly waste: number;
  /** What the customer reads. */
  readonly words: string;
}

const FEET_IN_A_METER = 3.28;
const SQUARE_FEET_IN_A_SQUARE_METER = 10.8;
const rounded = (x: number) => Number(x.toPrecision(2));
const both = (unit: string, hours: number, material: number) => ({
  unit: { us: unit, metric: unit },
  crewHours: { us: hours, metric: hours },
  material: { us: material, metric: material },
});
const per = (us: string, metric: string, factor: number) => (hours: number, material: number) => ({
  unit: { us, metric },
  crewHours: { us: hours, metric: rounded(hours * factor) },
  material: { us: material, metric: rounded(material * factor) },
});
const byLength = per("ft", "m", FEET_IN_A_METER);
const byArea = per("ft²", "m²", SQUARE_FEET_IN_A_SQUARE_METER);

export const STARTER_EXTRAS: readonly ExtraKind[] = [
  { name: "Joint filling", ...byLength(0.01, 0.9), waste: 0.1, words: "Control joints filled and shaved flush" },
  { name: "Crack repair", ...byLength(0.03, 1.2), waste: 0.15, words: "Cracks opened, filled and ground flush" },
  { name: "Coating removal", ...byArea(0.0025, 0.05), waste: 0, words: "Old coating removed" },
  { name: "Grout", ...byArea(0.001, 0.12), waste: 0.1, words: "Pinholes grouted" },
  { name: "Stain", ...byArea(0.0015, 0.2), waste: 0.1, words: "Stain, one color" },
  { name: "Floor protection", ...byArea(0.0004, 0.25), waste: 0.1, words: "Floor covered after polishing" },
  { name: "Final cleaning", ...byArea(0.0003, 0.01), waste: 0, words: "Final cleaning before handover" },
  { name: "Burnishing", ...byArea(0.0003, 0.02), waste: 0, words: "Burnished once more after handover" },
  { name: "Moisture test", ...both("test", 0.3, 45), waste: 0, words: "Relative humidity tests in the slab" },
  { name: "Travel", ...both("trip", 0, 180), waste: 0, words: "Travel" },
  { name: "Lodging", ...both("night", 0, 320), waste: 0, words: "Lodging" },
  { name: "Rental", ...both("day", 0, 150), waste: 0, words: "Rented equipment" },
  { name: "Permits", ...both("each", 0, 100), waste: 0, words: "Permits and fees" },
];

/** Tests of the slab's relative humidity for a floor in ft²: ASTM F2170 asks for 3 for the first 1,000 and 1 for each further. */
export const moistureTests = (area: number): number => 3 + Math.max(0, Math.ceil((area - 1000) / 1000));
