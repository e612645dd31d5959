/** Extra work that a bid may have beside its floors: the list that an owner begins with. Prices and rates are invented. */
import { BELOW_1, FROM_0 } from "../domain";
import { amount, type Column, called, orBlank } from "../plan/shelf";
import { rowsOf } from "../plan/shelf-rows";
import type { System } from "../units";

export interface ExtraKind {
  name: string;
  /** A word of the owner's: ft, each, trip. */
  unit: string;
  /** Whole-crew hours and material cost of one. */
  crewHours: number;
  material: number;
  /** Share lost of the material. */
  waste: number;
  /** What the customer reads. */
  words: string | null;
}

/** No heading is one of the bid's own table of extras, for which it would be taken. */
export const EXTRA_KIND_COLUMNS: readonly Column<ExtraKind>[] = [
  { key: "name", title: "Kind of extra", check: called },
  { key: "unit", title: "Unit", check: called },
  { key: "crewHours", title: "Crew h a unit", check: amount(FROM_0) },
  { key: "material", title: "Material a unit", format: "money", check: amount(FROM_0) },
  { key: "waste", title: "Waste", format: "percent", check: amount(BELOW_1) },
  { key: "words", title: "Customer reads", check: orBlank(called) },
];

/** The kinds in a table's rows, blank ones left out. */
export const extraKindsOf = (rows: readonly (readonly unknown[])[]) => rowsOf(rows, EXTRA_KIND_COLUMNS);

const FEET_IN_A_METER = 3.28;
const SQUARE_FEET_IN_A_SQUARE_METER = 10.8;
const rounded = (x: number) => Number(x.toPrecision(2));
type Starter = Omit<ExtraKind, "unit" | "crewHours" | "material"> & {
  readonly [K in "unit" | "crewHours" | "material"]: Readonly<Record<System, ExtraKind[K]>>;
};
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

const STARTER: readonly Starter[] = [
  { name: "Joint filling", ...byLength(0.01, 0.9), waste: 0.1, words: "Control joints filled and shaved flush" },
  { name: "Crack repair", ...byLength(0.03, 1.2), waste: 0.15, words: "Cracks opened, filled and ground flush" },
  { name: "Coating removal", ...byArea(0.0025, 0.05), waste: 0, words: "Old coating removed" },
  { name: "Grout", ...byArea(0.001, 0.12), waste: 0.1, words: "Pinholes grouted" },
  { name: "Stain", ...byArea(0.0015, 0.2), waste: 0.1, words: "Stain, one color" },
  { name: "Floor protection", ...byArea(0.0004, 0.25), waste: 0.1, words: "Floor covered after polishing" },
  { name: "Final cleaning", ...byArea(0.0003, 0.01), waste: 0, words: "Final cleaning before handover" },
  { name: "Burnishing", ...byArea(0.0003, 0.02), waste: 0, words: "Burnished once more after handover" },
  { name: "Moisture test", ...both("tests", 0.3, 45), waste: 0, words: "Relative humidity tests in the slab" },
  { name: "Travel", ...both("trips", 0, 180), waste: 0, words: "Travel" },
  { name: "Lodging", ...both("nights", 0, 320), waste: 0, words: "Lodging" },
  { name: "Rental", ...both("days", 0, 150), waste: 0, words: "Rented equipment" },
  { name: "Permits", ...both("each", 0, 100), waste: 0, words: "Permits and fees" },
];

export const starterExtras = (units: System): ExtraKind[] =>
  STARTER.map((extra) => ({
    ...extra,
    ...{ unit: extra.unit[units], crewHours: extra.crewHours[units], material: extra.material[units] },
  }));

/** Tests of the slab's relative humidity for a floor in ft²: ASTM F2170 asks for 3 for the first 1,000 and 1 for each further. */
export const moistureTests = (area: number): number => 3 + Math.max(0, Math.ceil((area - 1000) / 1000));
