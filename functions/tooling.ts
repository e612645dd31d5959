/** Tooling: how many sets a floor uses up, what they cost, how fast they wear, and which bond a slab wants. */
import { ABOVE_0, answer, badValue, type Domain, each, FROM_0, number, roundUp } from "./cell";
import { type System, systemOf } from "./units";

/** Sets of tools used up: the share of their life that the work takes. */
export const setsUsed = (area: number, life: number, passes = 1) => (area * passes) / life;

/** Whole sets to buy, beyond what is left of those on the shelf. */
export const setsToBuy = (used: number, onHand = 0) => Math.max(0, roundUp(used - onHand));

/**
 * Sets of tools that a floor uses up.
 * @customfunction TOOLSUSED
 * @param area Floor area, ft² | m²; 0 or more.
 * @param life Floor that one set lasts for in one pass, ft² | m² as the area; above 0.
 * @param [passes] Passes over the whole floor; 0 or more, 1 when left out.
 * @returns Sets used up, with fractions.
 * @example =GRIT.TOOLSUSED(5000,4000,2) → 2.5 | hand: 10000 ft² of single pass / 4000 ft² a set
 * @example =GRIT.TOOLSUSED(180000,960000) → 0.1875 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, units of production: 9000 of 48000 is used by 180000 of 960000 units
 * @fails =GRIT.TOOLSUSED(5000,0) → #VALUE! life must be above 0; got 0
 * @plain {area}*{passes}/{life}
 * @source Wear in proportion to the floor ground (units of production).
 */
export function toolsUsed(area: any[][], life: any[][], passes?: any[][]): any[][] {
  return answer(() =>
    each([number("area", area, FROM_0), number("life", life, ABOVE_0), number("passes", passes, FROM_0, 1)], setsUsed),
  );
}

/**
 * Whole sets of tools to buy for a floor.
 * @customfunction TOOLSTOBUY
 * @param area Floor area, ft² | m²; 0 or more.
 * @param life Floor that one set lasts for in one pass, ft² | m² as the area; above 0.
 * @param [passes] Passes over the whole floor; 0 or more, 1 when left out.
 * @param [onHand] Sets on the shelf, a half-worn one as 0.5; 0 or more, 0 when left out.
 * @returns Whole number of sets.
 * @example =GRIT.TOOLSTOBUY(5000,4000,2,1) → 2 | hand: 2.5 sets used, 1 on hand, so 1.5 are short
 * @example =GRIT.TOOLSTOBUY(4.2,0.7) → 6 | hand: 4.2 / 0.7 = 6, which binary arithmetic puts a hair above
 * @example =GRIT.TOOLSTOBUY(1000,4000,1,3) → 0 | hand: a quarter of a set used, three on hand
 * @fails =GRIT.TOOLSTOBUY(5000,4000,1,-1) → #VALUE! onHand must be 0 or more; got -1
 * @plain ({area}*{passes}/{life}>{onHand})*ROUNDUP(ROUND(({area}*{passes}/{life}-{onHand})*(1-1E-9),9),0)
 * @source common practice, no source: sets are bought whole.
 */
export function toolsToBuy(area: any[][], life: any[][], passes?: any[][], onHand?: any[][]): any[][] {
  return answer(() =>
    each(
      [
        number("area", area, FROM_0),
        number("life", life, ABOVE_0),
        number("passes", passes, FROM_0, 1),
        number("onHand", onHand, FROM_0, 0),
      ],
      (floor, lasts, n, shelf) => setsToBuy(setsUsed(floor, lasts, n), shelf),
    ),
  );
}

/**
 * Cost of the tools that a floor wears away.
 * @customfunction TOOLCOST
 * @param area Floor area, ft² | m²; 0 or more.
 * @param life Floor that one set lasts for in one pass, ft² | m² as the area; above 0.
 * @param price Price of one set, money; 0 or more.
 * @param [passes] Passes over the whole floor; 0 or more, 1 when left out.
 * @returns Cost, money.
 * @example =GRIT.TOOLCOST(180000,960000,48000) → 9000 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, units of production: 180000 units of 960000 at a base of 48000
 * @example =GRIT.TOOLCOST(5000,4000,360,2) → 900 | hand: 2.5 sets at 360
 * @fails =GRIT.TOOLCOST(5000,4000,-360) → #VALUE! price must be 0 or more; got -360
 * @plain {area}*{passes}/{life}*{price}
 * @source Units-of-production cost: price × share of the life used.
 */
export function toolCost(area: any[][], life: any[][], price: any[][], passes?: any[][]): any[][] {
  return answer(() =>
    each(
      [
        number("area", area, FROM_0),
        number("life", life, ABOVE_0),
        number("price", price, FROM_0),
        number("passes", passes, FROM_0, 1),
      ],
      (floor, lasts, perSet, n) => setsUsed(floor, lasts, n) * perSet,
    ),
  );
}

/** The floor that a wear rate is told for: 1000 ft² or 100 m². */
export const WEAR_AREA: Record<System, number> = { us: 1000, metric: 100 };

/** Wear of the segments, mm per 1000 ft² | mm per 100 m² of single pass. */
export const wearOf = (startHeight: number, endHeight: number, area: number, passes: number, system: System) =>
  ((startHeight - endHeight) * WEAR_AREA[system]) / (area * passes);

/** Floor that the segments still grind in a single pass, ft² | m². */
export const floorLeft = (height: number, minimumHeight: number, wearRate: number, system: System) =>
  (Math.max(0, height - minimumHeight) / wearRate) * WEAR_AREA[system];

/**
 * How fast the segments wear, from their heights before and after.
 * @customfunction WEARRATE
 * @param startHeight Segment height before, mm; 0 or more.
 * @param endHeight Segment height after, mm; 0 or more, and at most startHeight.
 * @param area Floor ground in between, ft² | m²; above 0.
 * @param [passes] Passes over that floor; above 0, 1 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Wear, mm per 1000 ft² | mm per 100 m² of single pass.
 * @example =GRIT.WEARRATE(10,8.5,3000,2) → 0.25 | hand: 1.5 mm over 6 × 1000 ft²
 * @example =GRIT.WEARRATE(10,8.5,300,2,"metric") → 0.25 | hand: 1.5 mm over 6 × 100 m²
 * @fails =GRIT.WEARRATE(8.5,10,3000) → #VALUE! endHeight must be at most startHeight (8.5); got 10
 * @plain IF({endHeight}>{startHeight},#VALUE!,({startHeight}-{endHeight})*{units:1000|100}/({area}*{passes}))
 * @source Wear in proportion to the floor ground (Archard: linear in load and distance).
 */
export function wearRate(
  startHeight: any[][],
  endHeight: any[][],
  area: any[][],
  passes?: any[][],
  units?: string,
): any[][] {
  return answer(() => {
    const system = systemOf(units);
    return each(
      [
        number("startHeight", startHeight, FROM_0),
        number("endHeight", endHeight, FROM_0),
        number("area", area, ABOVE_0),
        number("passes", passes, ABOVE_0, 1),
      ],
      (start, end, floor, n) => {
        if (end > start) throw badValue(`endHeight must be at most startHeight (${start}); got ${end}`);
        return wearOf(start, end, floor, n, system);
      },
    );
  });
}

/**
 * Floor that the segments can still grind before they are down to their limit.
 * @customfunction LIFELEFT
 * @param height Segment height now, mm; 0 or more.
 * @param minimumHeight Segment height at which the set is changed, mm; 0 or more.
 * @param wearRate Wear, mm per 1000 ft² | mm per 100 m²; above 0.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Floor area of single pass, ft² | m²; 0 once the limit is reached.
 * @example =GRIT.LIFELEFT(8.5,2.5,0.25) → 24000 | hand: 6 mm / 0.25 mm = 24 times 1000 ft²
 * @example =GRIT.LIFELEFT(8.5,2.5,0.25,"metric") → 2400 | hand: 6 mm / 0.25 mm = 24 times 100 m²
 * @example =GRIT.LIFELEFT(2,2.5,0.25) → 0 | hand: already below the limit
 * @fails =GRIT.LIFELEFT(8.5,2.5,0) → #VALUE! wearRate must be above 0; got 0
 * @plain ({height}>{minimumHeight})*({height}-{minimumHeight})*{units:1000|100}/{wearRate}
 * @source Wear in proportion to the floor ground, solved for the floor.
 */
export function lifeLeft(height: any[][], minimumHeight: any[][], wearRate: any[][], units?: string): any[][] {
  return answer(() => {
    const system = systemOf(units);
    return each(
      [
        number("height", height, FROM_0),
        number("minimumHeight", minimumHeight, FROM_0),
        number("wearRate", wearRate, ABOVE_0),
      ],
      (now, least, rate) => floorLeft(now, least, rate, system),
    );
  });
}

const MOHS: Domain = { words: "from 1 to 10", least: 1, most: 10 };

/** A hard slab wants a soft bond, which lets go of blunt grit sooner; a soft slab a hard one, which wears less. */
export function matrixFor(hardness: number): "hard" | "medium" | "soft" {
  if (hardness < 4) return "hard";
  return hardness <= 6 ? "medium" : "soft";
}

/**
 * Hardness of the bond (matrix) to try first on a slab.
 * @customfunction BOND
 * @remarks A hard slab wants a soft bond, a soft slab a hard bond; a test strip has the last word.
 * @param hardness Mohs scratch hardness of the slab, from 1 to 10.
 * @returns The matrix: hard, medium or soft.
 * @example =GRIT.BOND(7) → "soft" | common practice: hard slab, soft bond
 * @example =GRIT.BOND(3) → "hard" | common practice: soft slab, hard bond
 * @example =GRIT.BOND({4;6}) → {"medium";"medium"} | common practice: both limits belong to the middle
 * @fails =GRIT.BOND(0) → #VALUE! hardness must be from 1 to 10; got 0
 * @plain IF({hardness}<4,"hard",IF({hardness}<=6,"medium","soft"))
 * @source common practice, no source.
 */
export function bond(hardness: any[][]): any[][] {
  return answer(() => each([number("hardness", hardness, MOHS)], matrixFor));
}

/**
 * Grinding ratio: how much floor comes off for each part of tool worn away.
 * @customfunction GRINDRATIO
 * @param volumeRemoved Volume of floor removed, any unit of volume; 0 or more.
 * @param volumeWorn Volume of tool worn away, the same unit; above 0.
 * @returns The ratio G, no unit.
 * @example =GRIT.GRINDRATIO(1200,30) → 40 | hand: 1200 / 30, inside the 20 to 80 that training texts give for ordinary wheels
 * @example =GRIT.GRINDRATIO(5,10) → 0.5 | hand: the tool wears twice as fast as the floor
 * @fails =GRIT.GRINDRATIO(1200,0) → #VALUE! volumeWorn must be above 0; got 0
 * @plain {volumeRemoved}/{volumeWorn}
 * @source Definition of the grinding ratio G: volume of work removed over volume of tool worn.
 */
export function grindRatio(volumeRemoved: any[][], volumeWorn: any[][]): any[][] {
  return answer(() =>
    each(
      [number("volumeRemoved", volumeRemoved, FROM_0), number("volumeWorn", volumeWorn, ABOVE_0)],
      (removed, worn) => removed / worn,
    ),
  );
}
