/** Liquids: how much densifier, guard or coating a floor takes, in how many containers, and how thick it lies. */
import { AREA } from "./arguments";
import { amount, count, define, share, UNITS } from "./declare";
import { ABOVE_0, BELOW_1, SHARE } from "./domain";
import { roundUp } from "./round-up";
import { type System, si, TOOL_SIZES_PER_LENGTH } from "./units";

/** Volume of liquid for a floor, waste included. */
export const liquidVolume = (area: number, coverage: number, coats = 1, waste = 0) =>
  (area * coats * (1 + waste)) / coverage;

/** Whole containers that hold a volume. */
export const wholeContainers = (volume: number, containerSize: number) => roundUp(volume / containerSize);

/**
 * Volume of a liquid (densifier, guard, coating) that a floor takes.
 * @example =GRIT.LIQUID(5000,400,2,0.1) → 27.5 | hand: 5000 × 2 × 1.1 / 400
 * @example =GRIT.LIQUID(460,10) → 46 | hand: 460 m² / 10 m²/L
 * @fails =GRIT.LIQUID(5000,400,2,10) → #VALUE! waste must be from 0 to below 1 (20% is 0.2); got 10
 * @plain {area}*{coats}*(1+{waste})/{coverage}
 * @source Volume is area over coverage.
 * @words epoxy sealer densifier hardener guard coating stain dye grout primer paint gallons square foot feet sq ft
 */
export const LIQUID = define(
  { label: "Volume", unit: "volume" },
  [
    AREA,
    amount("coverage", "Floor area one unit of liquid covers in one coat", "coverage", ABOVE_0),
    count("coats", "Coats", ABOVE_0, { omitted: 1, refusesBlank: true }),
    share("waste", "Share lost in cans, rollers and spills", BELOW_1, { omitted: 0 }),
  ],
  () => liquidVolume,
);

/**
 * Whole containers to buy for a volume.
 * @example =GRIT.CONTAINERS(27.5,5) → 6 | hand: 27.5 / 5 = 5.5
 * @example =GRIT.CONTAINERS(4.2,0.7) → 6 | hand: 4.2 / 0.7 = 6, which binary arithmetic puts a hair above
 * @fails =GRIT.CONTAINERS(27.5,0) → #VALUE! containerSize is blank or 0; it must be above 0
 * @plain ROUNDUP(ROUND({volume}/{containerSize}*(1-1E-9),9),0)
 * @source common practice, no source: containers are bought whole.
 * @words pail bucket drum kit jug can sealer epoxy order purchase
 */
export const CONTAINERS = define(
  { label: "Whole number of containers" },
  [
    amount("volume", "Volume needed", "volume", ABOVE_0),
    amount("containerSize", "Volume of one container", "volume", ABOVE_0),
  ],
  () => wholeContainers,
);

/** Coverage that leaves a dry film; the same arithmetic gives the film that a coverage leaves. */
export const coverageOf = (film: number, solids: number, units: System) => filmOrCoverage(units)(film, solids);

/** Dry film and coverage are each the volume that stays over the other. */
function filmOrCoverage(units: System) {
  const atOne = 1 / si("coverage", units) / si("filmThickness", units);
  return (other: number, solids: number) => (solids * atOne) / other;
}

/**
 * Film thickness a coat leaves at a given coverage.
 * @example =GRIT.FILM(160,0.6) → 6.015625 | hand: 231000 / 144 / 160 = 10.0260417 mil wet, 60% of it stays
 * @example =GRIT.FILM(100) → 16.041666666666668 | hand: 1 gal = 231 in³ (NIST SP 811) over 100 × 144 in² is 0.016041667 in
 * @example =GRIT.FILM(8,0.5,"metric") → 62.5 | hand: 1 L over 8 m² is 1/8 mm = 125 µm wet, half of it stays
 * @fails =GRIT.FILM(160,50) → #VALUE! solids must be above 0 and at most 1 (80% is 0.8); got 50
 * @plain {solids}*{units:231000/144|1000}/{coverage}
 * @source Thickness is volume over area; 1 US gal = 231 in³, so over 1 ft² it is 1604.1667 mil.
 * @words epoxy coating paint mil sealer dry wet build
 */
export const FILM = define(
  { label: "Film thickness", unit: "filmThickness" },
  [
    amount("coverage", "Floor area one unit of liquid covers", "coverage", ABOVE_0),
    share("solids", "Share of the liquid that stays when dry, by volume", SHARE, {
      omitted: 1,
      meaning: "the wet film",
    }),
    UNITS,
  ],
  filmOrCoverage,
);

/**
 * Coverage that leaves a dry film of a given thickness.
 * @example =GRIT.SPREADRATE(6,0.6) → 160.41666666666666 | hand: 0.6 × 1604.1667 / 6 mil
 * @example =GRIT.SPREADRATE(10) → 160.41666666666666 | hand: 231 in³ (NIST SP 811) over 144 in² is 1604.1667 mil, / 10
 * @example =GRIT.SPREADRATE(62.5,0.5,"metric") → 8 | hand: 62.5 µm dry is 125 µm wet, and 1 L at 1/8 mm covers 8 m²
 * @fails =GRIT.SPREADRATE(10,50) → #VALUE! solids must be above 0 and at most 1 (80% is 0.8); got 50
 * @plain {solids}*{units:231000/144|1000}/{film}
 * @source The inverse of FILM: coverage is volume over thickness; 1 US gal = 231 in³.
 * @words epoxy coating paint mil sealer primer guard film build square foot feet sq ft
 */
export const SPREADRATE = define(
  { label: "Coverage", unit: "coverage" },
  [
    amount("film", "Film thickness wanted, dry", "filmThickness", ABOVE_0),
    share("solids", "Share of the liquid that stays when dry, by volume", SHARE, {
      omitted: 1,
      meaning: "the film doesn't shrink",
    }),
    UNITS,
  ],
  filmOrCoverage,
);

/** Filler for a joint or crack, gal | L; width and depth in in | mm. */
export const fillerVolume = (length: number, width: number, depth: number, waste: number, system: System) =>
  (length * TOOL_SIZES_PER_LENGTH[system] * width * depth * (1 + waste) * si("toolSize", system) ** 3) /
  si("volume", system);

/**
 * Volume of filler for joints or cracks.
 * @example =GRIT.JOINTFILL(77,0.25,1) → 1 | hand: 77 × 12 × 0.25 × 1 = 231 in³, a US gallon (NIST SP 811)
 * @example =GRIT.JOINTFILL(100,6,25,0.1,"metric") → 16.5 | hand: 100 m × 6 mm × 25 mm = 15 L, × 1.1
 * @fails =GRIT.JOINTFILL(77,0.25,1,10) → #VALUE! waste must be from 0 to below 1 (20% is 0.2); got 10
 * @plain {length}*{units:12|1000}*{width}*{depth}*(1+{waste})/{units:231|10^6}
 * @source Volume of a rectangular groove; 1 US gal = 231 in³.
 * @words polyurea epoxy caulk sealant crack joint saw cut filler repair cartridge
 */
export const JOINTFILL = define(
  { label: "Volume", unit: "volume" },
  [
    amount("length", "Length of the joints or cracks", "length", ABOVE_0),
    amount("width", "Width", "toolSize", ABOVE_0),
    amount("depth", "Depth filled", "toolSize", ABOVE_0),
    share("waste", "Share lost in cartridges, overfill and shaving", BELOW_1, { omitted: 0 }),
    UNITS,
  ],
  (units) => (length, width, depth, waste) => fillerVolume(length, width, depth, waste, units),
);
