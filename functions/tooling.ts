/** Tooling: how many sets a floor uses up, what they cost, how fast they wear, and which bond a slab wants. */
import { badValue } from "./answer";
import { AREA, PASSES } from "./arguments";
import { amount, count, define, UNITS } from "./declare";
import { ABOVE_0, domain, FROM_0 } from "./domain";
import { roundUp } from "./round-up";
import type { System } from "./units";

/** Sets of tools used up: the share of their life that the work takes. */
export const setsUsed = (area: number, life: number, passes = 1) => (area * passes) / life;

/** Whole sets to buy, beyond what is left of those on the shelf. */
export const setsToBuy = (used: number, onHand = 0) => Math.max(0, roundUp(used - onHand));

const LIFE = amount("life", "Floor area one set lasts for in one pass", "floorArea", ABOVE_0);

/**
 * Sets of tools a floor uses up.
 * @example =GRIT.TOOLSUSED(5000,4000,2) → 2.5 | hand: 10000 ft² of single pass / 4000 ft² a set
 * @example =GRIT.TOOLSUSED(180000,960000) → 0.1875 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, units of production: 9000 of 48000 is used by 180000 of 960000 units
 * @fails =GRIT.TOOLSUSED(5000,0) → #VALUE! life is blank or 0; it must be above 0
 * @plain {area}*{passes}/{life}
 * @source Wear in proportion to the floor ground (units of production).
 * @words diamond segment consumables tooling
 */
export const TOOLSUSED = define({ label: "Sets used up, with decimals" }, [AREA, LIFE, PASSES], () => setsUsed);

/**
 * Whole sets of tools to buy for a floor.
 * @example =GRIT.TOOLSTOBUY(5000,4000,2,1) → 2 | hand: 2.5 sets used, 1 on hand, so 1.5 are short
 * @example =GRIT.TOOLSTOBUY(4.2,0.7) → 6 | hand: 4.2 / 0.7 = 6, which binary arithmetic puts a hair above
 * @example =GRIT.TOOLSTOBUY(1000,4000,1,3) → 0 | hand: a quarter of a set used, three on hand
 * @fails =GRIT.TOOLSTOBUY(5000,4000,1,-1) → #VALUE! onHand must be 0 or more; got -1
 * @plain ({area}*{passes}/{life}>{onHand})*ROUNDUP(ROUND(({area}*{passes}/{life}-{onHand})*(1-1E-9),9),0)
 * @source common practice, no source: sets are bought whole.
 * @words diamond segment consumables tooling order purchase
 */
export const TOOLSTOBUY = define(
  { label: "Whole number of sets" },
  [AREA, LIFE, PASSES, count("onHand", "Sets on the shelf, a half-worn one as 0.5", FROM_0, { omitted: 0 })],
  () => (area, life, passes, onHand) => setsToBuy(setsUsed(area, life, passes), onHand),
);

/**
 * Cost of the tools a floor uses up.
 * @example =GRIT.TOOLCOST(5000,4000,360,2) → 900 | hand: 2.5 sets at 360
 * @example =GRIT.TOOLCOST(180000,960000,48000) → 9000 | published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, units of production: 180000 units of 960000 at a base of 48000
 * @fails =GRIT.TOOLCOST(5000,4000,-360) → #VALUE! price must be 0 or more; got -360
 * @plain {area}*{passes}/{life}*{price}
 * @source Units-of-production cost: price × share of the life used.
 * @words diamond segment consumables tooling
 */
export const TOOLCOST = define(
  { label: "Cost", unit: "money" },
  [AREA, LIFE, amount("price", "Price of one set", "money", FROM_0), PASSES],
  () => (area, life, price, passes) => setsUsed(area, life, passes) * price,
);

/** The floor that a wear rate is told for: 1000 ft² or 100 m². */
const WEAR_AREA: Record<System, number> = { us: 1000, metric: 100 };

/** Wear of the segments, mm per 1000 ft² | mm per 100 m² of single pass. */
export const wearOf = (startHeight: number, endHeight: number, area: number, passes: number, system: System) =>
  ((startHeight - endHeight) * WEAR_AREA[system]) / (area * passes);

/** Floor that the segments still grind in a single pass, ft² | m². */
export const floorLeft = (height: number, minimumHeight: number, wearRate: number, system: System) =>
  (Math.max(0, height - minimumHeight) / wearRate) * WEAR_AREA[system];

/**
 * How fast the segments wear, from their heights before and after.
 * @example =GRIT.WEARRATE(10,8.5,3000,2) → 0.25 | hand: 1.5 mm over 6 × 1000 ft²
 * @example =GRIT.WEARRATE(10,8.5,300,2,"metric") → 0.25 | hand: 1.5 mm over 6 × 100 m²
 * @fails =GRIT.WEARRATE(8.5,10,3000) → #VALUE! endHeight must be at most startHeight (8.5); got 10
 * @plain IF({endHeight}>{startHeight},#VALUE!,({startHeight}-{endHeight})*{units:1000|100}/({area}*{passes}))
 * @source Wear in proportion to the floor ground (Archard: linear in load and distance).
 * @words diamond segment blade wear
 */
export const WEARRATE = define(
  { label: "Wear of single pass", unit: "wearRate" },
  [
    amount("startHeight", "Segment height before", "millimeters", ABOVE_0),
    amount("endHeight", "Segment height after", "millimeters", ABOVE_0, { note: "at most startHeight" }),
    amount("area", "Area ground between the measurements", "floorArea", ABOVE_0),
    count("passes", "Passes over that area", ABOVE_0, { omitted: 1, refusesBlank: true }),
    UNITS,
  ],
  (units) => (startHeight, endHeight, area, passes) => {
    if (endHeight > startHeight)
      throw badValue(`endHeight must be at most startHeight (${startHeight}); got ${endHeight}`);
    return wearOf(startHeight, endHeight, area, passes, units);
  },
);

/**
 * Floor area the segments can still grind before they reach their limit.
 * @example =GRIT.LIFELEFT(8.5,2.5,0.25) → 24000 | hand: 6 mm / 0.25 mm = 24 times 1000 ft²
 * @example =GRIT.LIFELEFT(8.5,2.5,0.25,"metric") → 2400 | hand: 6 mm / 0.25 mm = 24 times 100 m²
 * @example =GRIT.LIFELEFT(2,2.5,0.25) → 0 | hand: already below the limit
 * @fails =GRIT.LIFELEFT(8.5,2.5,0) → #VALUE! wearRate is blank or 0; it must be above 0
 * @plain ({height}>{minimumHeight})*({height}-{minimumHeight})*{units:1000|100}/{wearRate}
 * @source Wear in proportion to the floor ground, solved for the floor.
 * @words diamond segment blade wear remaining
 */
export const LIFELEFT = define(
  { label: "Floor area of single pass", unit: "floorArea", note: "0 once the limit is reached" },
  [
    amount("height", "Segment height now", "millimeters", ABOVE_0),
    amount("minimumHeight", "Segment height at which the set is changed", "millimeters", FROM_0),
    amount("wearRate", "Wear", "wearRate", ABOVE_0),
    UNITS,
  ],
  (units) => (height, minimumHeight, wearRate) => floorLeft(height, minimumHeight, wearRate, units),
);

const MOHS = domain("from 1 to 10", [
  [">=", 1],
  ["<=", 10],
]);

/** A hard slab wants a soft bond, which lets go of blunt grit sooner; a soft slab a hard one, which wears less. */
export function matrixFor(hardness: number): "hard" | "medium" | "soft" {
  if (hardness < 4) return "hard";
  return hardness <= 6 ? "medium" : "soft";
}

/**
 * Bond hardness (matrix) to try first on a slab.
 * @remarks A hard slab needs a soft bond, a soft slab a hard bond; a test strip decides.
 * @example =GRIT.BOND(7) → "soft" | common practice: hard slab, soft bond
 * @example =GRIT.BOND(3) → "hard" | common practice: soft slab, hard bond
 * @example =GRIT.BOND({4;6}) → {"medium";"medium"} | common practice: both limits belong to the middle
 * @fails =GRIT.BOND(0) → #VALUE! hardness is blank or 0; it must be from 1 to 10
 * @plain IF({hardness}<4,"hard",IF({hardness}<=6,"medium","soft"))
 * @source common practice, no source.
 * @words diamond matrix hard soft slab
 */
export const BOND = define(
  { label: "The matrix: hard, medium or soft" },
  [count("hardness", "Mohs scratch hardness of the slab", MOHS)],
  () => matrixFor,
);

/**
 * Grinding ratio: volume of floor removed for each volume of tool worn away.
 * @example =GRIT.GRINDRATIO(1200,30) → 40 | hand: 1200 / 30
 * @example =GRIT.GRINDRATIO(5,10) → 0.5 | hand: the tool wears twice as fast as the floor
 * @fails =GRIT.GRINDRATIO(1200,0) → #VALUE! volumeWorn is blank or 0; it must be above 0
 * @plain {volumeRemoved}/{volumeWorn}
 * @source Definition of the grinding ratio G: volume of work removed over volume of tool worn. Figures for wheels on steel don't apply to segments on concrete.
 * @words diamond wear efficiency
 */
export const GRINDRATIO = define(
  { label: "The ratio G, no unit" },
  [
    count("volumeRemoved", "Volume of floor removed, in any unit of volume", ABOVE_0),
    count("volumeWorn", "Volume of tool worn away, in the same unit", ABOVE_0),
  ],
  () => (volumeRemoved, volumeWorn) => volumeRemoved / volumeWorn,
);
