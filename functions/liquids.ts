/** Liquids: how much densifier, guard or coating a floor takes, in how many containers, and how thick it lies. */
import { ABOVE_0, answer, BELOW_1, each, FROM_0, number, roundUp, SHARE } from "./cell";
import { si, systemOf } from "./units";

/** Volume of liquid for a floor, waste included. */
export const liquidVolume = (area: number, coverage: number, coats = 1, waste = 0) =>
  (area * coats * (1 + waste)) / coverage;

/** Whole containers that hold a volume. */
export const wholeContainers = (volume: number, containerSize: number) => roundUp(volume / containerSize);

/**
 * Volume of a liquid (densifier, guard, coating) that a floor takes.
 * @customfunction LIQUID
 * @param area Floor area, ft² | m²; 0 or more.
 * @param coverage Floor that one unit of liquid covers in one coat, ft²/gal | m²/L; above 0.
 * @param [coats] Coats; 0 or more, 1 when left out.
 * @param [waste] Share lost in cans, rollers and spills, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @returns Volume, gal | L.
 * @example =GRIT.LIQUID(5000,400,2,0.1) → 27.5 | hand: 5000 × 2 × 1.1 / 400
 * @example =GRIT.LIQUID(460,10) → 46 | hand: 460 m² / 10 m²/L
 * @fails =GRIT.LIQUID(5000,400,2,10) → #VALUE! waste must be from 0 to below 1 (20 % is 0.2); got 10
 * @plain {area}*{coats}*(1+{waste})/{coverage}
 * @source Volume is area over coverage.
 */
export function liquid(area: any[][], coverage: any[][], coats?: any[][], waste?: any[][]): any[][] {
  return answer(() =>
    each(
      [
        number("area", area, FROM_0),
        number("coverage", coverage, ABOVE_0),
        number("coats", coats, FROM_0, 1),
        number("waste", waste, BELOW_1, 0),
      ],
      liquidVolume,
    ),
  );
}

/**
 * Whole containers to buy for a volume.
 * @customfunction CONTAINERS
 * @param volume Volume needed, gal | L; 0 or more.
 * @param containerSize Volume of one container, gal | L as the volume; above 0.
 * @returns Whole number of containers.
 * @example =GRIT.CONTAINERS(27.5,5) → 6 | hand: 27.5 / 5 = 5.5
 * @example =GRIT.CONTAINERS(4.2,0.7) → 6 | hand: 4.2 / 0.7 = 6, which binary arithmetic puts a hair above
 * @fails =GRIT.CONTAINERS(27.5,0) → #VALUE! containerSize must be above 0; got 0
 * @plain ROUNDUP(ROUND({volume}/{containerSize}*(1-1E-9),9),0)
 * @source common practice, no source: containers are bought whole.
 */
export function containers(volume: any[][], containerSize: any[][]): any[][] {
  return answer(() =>
    each([number("volume", volume, FROM_0), number("containerSize", containerSize, ABOVE_0)], wholeContainers),
  );
}

/**
 * Thickness of the film that a coat leaves at a given coverage.
 * @customfunction FILM
 * @param coverage Floor that one unit of liquid covers, ft²/gal | m²/L; above 0.
 * @param [solids] Share of the liquid that stays when dry, by volume, a fraction above 0 and at most 1 (80 % is 0.8); 1 (the wet film) when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Film thickness, mil | µm.
 * @example =GRIT.FILM(100) → 16.041666666666668 | hand: 1 gal = 231 in³ (NIST SP 811) over 100 × 144 in² is 0.016041667 in
 * @example =GRIT.FILM(8,0.5,"metric") → 62.5 | hand: 1 L over 8 m² is 1/8 mm = 125 µm wet, half of it stays
 * @fails =GRIT.FILM(160,50) → #VALUE! solids must be above 0 and at most 1 (80 % is 0.8); got 50
 * @plain {solids}*{units:231000/144|1000}/{coverage}
 * @source Thickness is volume over area; 1 US gal = 231 in³, so over 1 ft² it is 1604.1667 mil.
 */
export function film(coverage: any[][], solids?: any[][], units?: string): any[][] {
  return answer(() => {
    const system = systemOf(units);
    const filmAtCoverageOne = 1 / si("coverage", system) / si("filmThickness", system);
    return each(
      [number("coverage", coverage, ABOVE_0), number("solids", solids, SHARE, 1)],
      (spread, share) => (share * filmAtCoverageOne) / spread,
    );
  });
}
