/** Grit: what a grit number means in size, and whether one grit may follow another. */
import { badValue, noAnswer } from "./answer";
import { block, isFilled, numberOrTextReader, readAs, words } from "./cell";
import {
  amount,
  count,
  define,
  defineInTurn,
  gritNumber,
  oneCell,
  oneOf,
  orNone,
  rangeOf,
  SCALE,
  share,
} from "./declare";
import { ABOVE_0, ABOVE_1, ANY_NUMBER, SHARE } from "./domain";
import { roundUp } from "./round-up";
import { type Grit, isGritLabel, MICROMETERS, nearestGrit, type Scale, sizeOf } from "./scale";
import { COMMON_GRITS } from "./tables/trade-grits";

/** Ratios this close count as equal, so that the last digit of a division decides nothing. */
const CLOSE = 1e-9;

/** The usual limit of a step: a little above double. */
const DEFAULT_MAX_RATIO = 2.5;

export const MAX_RATIO = count("maxRatio", "Largest size ratio allowed in one step", ABOVE_1, {
  omitted: DEFAULT_MAX_RATIO,
});

/** What holds the grit, in the order the work goes. */
export type Bond = "metal" | "transitional" | "resin";

export const BOND_ORDER: Record<Bond, number> = { metal: 0, transitional: 1, resin: 2 };

export const BONDS = words<Bond>('"metal", "transitional" (or "hybrid") or "resin"', {
  metal: "metal",
  transitional: "transitional",
  hybrid: "transitional",
  resin: "resin",
});

/**
 * Particle size of a grit number.
 * @remarks The size of a grit differs by maker and by standard: if the maker states sizes, give them as the scale. A grit between two listed ones is interpolated in logarithms; one beyond the ends of its scale is #N/A. Labels coarser than any number (0, 00, 000), typed as text, have the sizes of the maker's own scale; in a copy without the add-in they are an error.
 * @example =GRIT.SIZE(30) → 600 | published: ASTM E11-17, Table 1, opening of sieve No. 30
 * @example =GRIT.SIZE({16;120;800;3000}) → {1180;125;18.75;5} | published: ASTM E11-17, Table 1, sieves No. 16 and No. 120; from 800 on 15000 / grit, common practice
 * @example =GRIT.SIZE(120,"p") → 125 | published: ISO 6344-2, grit P120
 * @example =GRIT.SIZE(1000,"jis") → 11.5 | published: JIS R 6001:1987, #1000
 * @example =GRIT.SIZE(100,{10,1000;1000,10}) → 100 | hand: 100 is midway between 10 and 1000 in ratio, and so is its size
 * @example =GRIT.SIZE("00",{"000",2500;"00",2000;16,1180}) → 2000 | hand: the maker's own label and size
 * @fails =GRIT.SIZE("00") → #N/A grit 00 is a label without a size on the mesh scale; give the maker's own grits and sizes as scale
 * @fails =GRIT.SIZE(3) → #N/A grit 3 is not on the mesh scale, which runs from 4 to 10000
 * @fails =GRIT.SIZE(30,"b") → #VALUE! scale must be "mesh", "f", "p", "jis" or "um" (the numbers are sizes in µm), or a range of two columns (grit, size in µm); got the text "b"
 * @plain {grit:size}
 * @source ASTM E11-17 Table 1; ISO 8486 (f); ISO 6344 (p); JIS R 6001 (jis); from mesh 800 on 15000 / grit, common practice.
 * @words diamond abrasive mesh micron particle
 */
export const SIZE = define(
  { label: "Particle size", unit: "micrometers" },
  [gritNumber("grit", "Grit number", ABOVE_0), SCALE],
  (scale) => (grit) => sizeOf(grit, scale),
);

/**
 * Listed grit number closest to a particle size.
 * @remarks Closest in ratio; between two equally close, the coarser. A size beyond the ends of the scale gives the grit at that end. On the mesh scale 800, 1500 and 3000 are listed besides the sieve numbers.
 * @example =GRIT.NEAREST(600) → 30 | published: ASTM E11-17, Table 1, opening of sieve No. 30
 * @example =GRIT.NEAREST(8) → 1500 | hand: 1500 is 10 µm and 3000 is 5 µm; 10 / 8 = 1.25 is less than 8 / 5 = 1.6
 * @example =GRIT.NEAREST(30,"jis") → 400 | published: JIS R 6001:1987, #400
 * @fails =GRIT.NEAREST(0) → #VALUE! size is blank or 0; it must be above 0
 * @plain {size:nearest}
 * @source The tables of SIZE, read backwards.
 * @words diamond abrasive mesh micron
 */
export const NEAREST = define(
  { label: "Grit number" },
  [amount("size", "Particle size", "micrometers", ABOVE_0), SCALE],
  (scale) => (size) => nearestGrit(size, scale),
);

const FROM = gritNumber("from", "Grit before the step", ABOVE_0);
const TO = gritNumber("to", "Grit after the step", ABOVE_0);

/**
 * How many times finer the next grit is than this one.
 * @example =GRIT.STEPRATIO(40,400) → 11.18421052631579 | published: ASTM E11-17, Table 1, sieves No. 40 and No. 400; 425 / 38
 * @example =GRIT.STEPRATIO(400,200) → 0.5066666666666667 | published: ASTM E11-17, Table 1, sieves No. 400 and No. 200; 38 / 75
 * @example =GRIT.STEPRATIO(90,30,"um") → 3 | hand: 90 µm / 30 µm
 * @fails =GRIT.STEPRATIO(30,"fine") → #VALUE! to must be above 0; got the text "fine"
 * @plain {from:size}/{to:size}
 * @source Ratio of the sizes that SIZE gives.
 * @words diamond sequence skip
 */
export const STEPRATIO = define(
  { label: "Ratio of the sizes: above 1 is finer, 1 is a repeat, below 1 is backwards" },
  [FROM, TO, SCALE],
  (scale) => (from, to) => sizeOf(from, scale) / sizeOf(to, scale),
);

export type Verdict = "backwards" | "add a transitional" | "repeat" | "too far" | "ok";

/** Whether a tool may follow another. A bond left out counts as the other one's. */
export function stepVerdict(
  fromSize: number,
  toSize: number,
  fromBond: Bond | undefined,
  toBond: Bond | undefined,
  maxRatio: number,
): Verdict {
  const ratio = fromSize / toSize;
  const bondsOn = fromBond && toBond ? BOND_ORDER[toBond] - BOND_ORDER[fromBond] : 0;
  if (bondsOn < 0) return "backwards";
  if (bondsOn > 1) return "add a transitional";
  // A softer bond leaves the finer scratch from the same grit, so a hand-over may overlap down to half.
  const leastRatio = bondsOn === 0 ? 1 : 0.5;
  if (ratio < leastRatio * (1 - CLOSE)) return "backwards";
  if (bondsOn === 0 && ratio <= 1 + CLOSE) return "repeat";
  if (ratio > maxRatio * (1 + CLOSE)) return "too far";
  return "ok";
}

/**
 * Whether one grit may follow another, in words.
 * @remarks The first that applies: a bond that goes back in the order metal, transitional, resin is backwards; metal straight to resin needs a transitional between; within one bond a coarser grit is backwards and the same size a repeat; when moving to the next bond the sizes may overlap down to a ratio of 0.5, below it is backwards; a ratio above maxRatio is too far; all else is ok.
 * @example =GRIT.STEPCHECK(30,60) → "ok" | hand: 600 µm / 250 µm = 2.4, not above 2.5 (ASTM E11, No. 30 and No. 60)
 * @example =GRIT.STEPCHECK(400,200) → "backwards" | common practice: 200 cuts harder than 400, so it comes before
 * @example =GRIT.STEPCHECK(80,100,"metal","resin") → "add a transitional" | common practice: metal to resin is too much of a jump
 * @example =GRIT.STEPCHECK(60,50,"metal","hybrid") → "ok" | hand: 250 µm / 300 µm = 0.83, at a hand-over not below 0.5
 * @example =GRIT.STEPCHECK(30,100) → "too far" | hand: 600 µm / 150 µm = 4, above 2.5
 * @fails =GRIT.STEPCHECK(30,60,"vitrified") → #VALUE! fromBond must be "metal", "transitional" (or "hybrid") or "resin"; got the text "vitrified"
 * @plain IF(0*{from:size}/{to:size}+IF(({fromBond}="")+({toBond}=""),0,{toBond:0|1|2}-{fromBond:0|1|2})<0,"backwards",IF(IF(({fromBond}="")+({toBond}=""),0,{toBond:0|1|2}-{fromBond:0|1|2})>1,"add a transitional",CHOOSE(2+SIGN(ROUND({from:size}/{to:size},9)-IF(IF(({fromBond}="")+({toBond}=""),0,{toBond:0|1|2}-{fromBond:0|1|2})=0,1,0.5)),"backwards",IF(IF(({fromBond}="")+({toBond}=""),0,{toBond:0|1|2}-{fromBond:0|1|2})=0,"repeat","ok"),IF(ROUND({from:size}/{to:size}/{maxRatio},9)>1,"too far","ok"))))
 * @source common practice, no source; steps of about double, bonds in the order metal, transitional, resin.
 * @words diamond sequence skip jump
 */
export const STEPCHECK = define(
  { label: '"ok", "too far", "repeat", "backwards" or "add a transitional"' },
  [
    FROM,
    TO,
    oneOf("fromBond", "Bond before the step", BONDS, { omitted: "the other one's" }),
    oneOf("toBond", "Bond after the step", BONDS, { omitted: "the other one's" }),
    MAX_RATIO,
    SCALE,
  ],
  (scale) => (from, to, fromBond, toBond, maxRatio) =>
    stepVerdict(sizeOf(from, scale), sizeOf(to, scale), fromBond, toBond, maxRatio),
);

/**
 * Whether each grit of a list may follow the one before it, in words.
 * @remarks Each grit is checked against the last good one before it: a blank stays blank, a bad cell gives its own error, and neither spoils the next.
 * @example =GRIT.SEQUENCECHECK({16;30;60;400}) → {"start";"ok";"ok";"too far"} | hand: 1180 / 600 = 1.97, 600 / 250 = 2.4, 250 / 38 = 6.6 (ASTM E11 openings)
 * @example =GRIT.SEQUENCECHECK({30;60;50;100},{"metal";"metal";"transitional";"resin"}) → {"start";"ok";"ok";"ok"} | hand: 600 / 250 = 2.4, at the hand-over 250 / 300 = 0.83, 300 / 150 = 2 (ASTM E11 openings)
 * @fails =GRIT.SEQUENCECHECK({30,60;80,100}) → #VALUE! grits must be one column or one row; got 2 × 2 cells
 * @plain {grits:start|IF(0*{grits:size}=0,"start")|IF(0*{grits:size}+{grits:none},"start",IF(IF(({bonds:before}="")+({bonds}=""),0,{bonds:0|1|2}-{bonds:before:0|1|2})<0,"backwards",IF(IF(({bonds:before}="")+({bonds}=""),0,{bonds:0|1|2}-{bonds:before:0|1|2})>1,"add a transitional",CHOOSE(2+SIGN(ROUND({grits:before:size}/{grits:size},9)-IF(IF(({bonds:before}="")+({bonds}=""),0,{bonds:0|1|2}-{bonds:before:0|1|2})=0,1,0.5)),"backwards",IF(IF(({bonds:before}="")+({bonds}=""),0,{bonds:0|1|2}-{bonds:before:0|1|2})=0,"repeat","ok"),IF(ROUND({grits:before:size}/{grits:size}/{maxRatio},9)>1,"too far","ok")))))}
 * @source common practice, no source; as STEPCHECK.
 * @words diamond sequence skip jump
 */
export const SEQUENCECHECK = defineInTurn(
  { label: "One verdict for each grit, as STEPCHECK gives it", note: 'the first is "start"' },
  [
    gritNumber("grits", "Grits in working order, one column or one row", ABOVE_0, { note: "a blank cell is skipped" }),
    oneOf("bonds", "Bond of each grit", BONDS, {
      omitted: "the neighbor's",
      note: "in the shape of grits, or one for all",
    }),
    MAX_RATIO,
    SCALE,
  ],
  (scale) => {
    let last: { size: number; bond: Bond | undefined } | undefined;
    return (grit, bond, maxRatio) => {
      const size = sizeOf(grit, scale);
      const verdict = last ? stepVerdict(last.size, size, last.bond, bond, maxRatio) : "start";
      last = { size, bond };
      return verdict;
    };
  },
);

/** Steps of at most maxRatio that it takes to cover a ratio of sizes. */
const stepsFor = (ratio: number, maxRatio: number) => roundUp(Math.log(ratio) / Math.log(maxRatio));

/** Ratio of the sizes between two ends, which must not go coarser. */
function ratioDown(from: Grit, to: Grit, scale: Scale): number {
  const ratio = sizeOf(from, scale) / sizeOf(to, scale);
  // Not a bad value: each grit is fine by itself, but no sequence of finer grits leads from one to the other.
  if (ratio < 1 - CLOSE) throw noAnswer(`from ${from} to ${to} goes coarser, and each step goes finer`);
  return Math.max(1, ratio);
}

/**
 * Fewest steps between two grits.
 * @remarks What even steps would need; the grits on the shelf may need more, see LADDER. From a finer to a coarser grit there is no answer, #NUM!.
 * @example =GRIT.STEPCOUNT(16,400) → 4 | hand: 1180 / 38 = 31.05 is above 2.5³ = 15.6 and not above 2.5⁴ = 39.1 (ASTM E11 openings)
 * @example =GRIT.STEPCOUNT(30,100,2) → 2 | hand: 600 / 150 = 4 = 2² (ASTM E11 openings)
 * @example =GRIT.STEPCOUNT(80,80) → 0 | identity: no ratio to cover
 * @fails =GRIT.STEPCOUNT(100,30) → #NUM! from 100 to 30 goes coarser, and each step goes finer
 * @plain IF(ROUND({from:size}/{to:size},9)<1,#NUM!,ROUNDUP(ROUND(LN({from:size}/{to:size})/LN({maxRatio})*(1-1E-9),9),0))
 * @source Steps of equal ratio: ln ratio / ln maxRatio, rounded up.
 * @words diamond sequence
 */
export const STEPCOUNT = define(
  { label: "Whole number of steps", note: "0 where there is nothing to do" },
  [
    gritNumber("from", "Grit before the first step", ABOVE_0),
    gritNumber("to", "Grit after the last step", ABOVE_0),
    MAX_RATIO,
    SCALE,
  ],
  (scale) => (from, to, maxRatio) => stepsFor(ratioDown(from, to, scale), maxRatio),
);

/**
 * The fewest grits from one to another with no step above maxRatio; among equally few, the most even steps
 * (least sum of squared ln ratio); among equally even, the coarser. A shortest path, found grit by grit from coarse to fine.
 */
function fewestGrits(from: Grit, to: Grit, maxRatio: number, available: readonly Grit[], scale: Scale): Grit[] {
  if (ratioDown(from, to, scale) <= 1 + CLOSE) return [from];
  const [coarsest, finest] = [sizeOf(from, scale), sizeOf(to, scale)];
  const between = (grit: Grit) => {
    // A number outside two numbers may be on no scale at all.
    if (typeof grit === "number" && typeof from === "number" && typeof to === "number") {
      return grit > Math.min(from, to) && grit < Math.max(from, to);
    }
    const size = sizeOf(grit, scale);
    return size < coarsest && size > finest;
  };
  const rungs = [from, ...new Set(available.filter(between)), to]
    .map((grit) => ({ grit, size: sizeOf(grit, scale) }))
    .sort((a, b) => b.size - a.size);

  // The best way down to each rung: how many steps, how uneven, and the rung before.
  const ways: { steps: number; unevenness: number; before: number }[] = [{ steps: 0, unevenness: 0, before: -1 }];
  for (let k = 1; k < rungs.length; k++) {
    let best = { steps: Number.POSITIVE_INFINITY, unevenness: Number.POSITIVE_INFINITY, before: -1 };
    for (let j = k - 1; j >= 0; j--) {
      const ratio = rungs[j]!.size / rungs[k]!.size;
      if (ratio > maxRatio * (1 + CLOSE)) break;
      const steps = ways[j]!.steps + 1;
      const unevenness = ways[j]!.unevenness + Math.log(ratio) ** 2;
      const better = steps < best.steps || (steps === best.steps && unevenness < best.unevenness + CLOSE);
      if (better) best = { steps, unevenness, before: j };
    }
    if (best.before < 0) {
      const reached = rungs[k - 1]!.grit;
      throw noAnswer(
        `no ladder from ${from} to ${to}: nothing available within a ratio of ${maxRatio} after ${reached}`,
      );
    }
    ways.push(best);
  }

  const ladder: Grit[] = [];
  for (let k = rungs.length - 1; k >= 0; k = ways[k]!.before) ladder.unshift(rungs[k]!.grit);
  return ladder;
}

/**
 * Fewest grits that lead from one grit to another.
 * @remarks Of all ladders with the fewest grits it gives the one with the most even ratios, and of equally even ones the coarser. If a gap is too wide for maxRatio, or from is the finer, there is no ladder, #NUM!.
 * @example =GRIT.LADDER(30,100) → {30;50;100} | hand: 600 / 150 = 4 needs a grit between; at 300 µm (No. 50) both steps are 2, the most even (ASTM E11 openings)
 * @example =GRIT.LADDER(800,3000,2,{2000;1500;1000}) → {800;1500;3000} | hand: 18.75, 10 and 5 µm, ratios 1.875 and 2; by 1000 (15 µm) or 2000 (7.5 µm) one of the two steps would be 2.5 or 3
 * @fails =GRIT.LADDER(30,120,2,{40;400}) → #NUM! no ladder from 30 to 120: nothing available within a ratio of 2 after 40
 * @fails =GRIT.LADDER(100,30) → #NUM! from 100 to 30 goes coarser, and each step goes finer
 * @plain none: a search over the grits there are
 * @source Shortest path; the default grits are common practice, no source.
 * @words diamond sequence shelf tooling
 */
export const LADDER = define(
  { label: "Column of grits, from first to last" },
  [
    oneCell(gritNumber("from", "First grit", ABOVE_0)),
    oneCell(gritNumber("to", "Last grit", ABOVE_0)),
    oneCell(MAX_RATIO),
    rangeOf("available", "Grits to choose from, in any order", "one cell or a range of numbers", gritsIn, {
      omitted: `${COMMON_GRITS.slice(0, -1).join(", ")} and ${COMMON_GRITS.at(-1)}`,
      note: 'blanks, 0s and grits outside from and to are skipped; needed on the scale "um"',
    }),
    SCALE,
  ],
  (from, to, maxRatio, available, scale) =>
    fewestGrits(from, to, maxRatio, available ?? commonGrits(scale), scale).map((grit) => [grit]),
);

const ANY_GRIT = numberOrTextReader(ANY_NUMBER, isGritLabel);

/** The grits of a shelf, or nothing where it is left blank. */
function gritsIn(available: unknown): Grit[] | undefined {
  const filled = block("available", available).flat().filter(isFilled);
  if (filled.length === 0) return undefined;
  return filled.map((cell) => readAs("available", cell, ANY_GRIT));
}

function commonGrits(scale: Scale): readonly number[] {
  if (scale === MICROMETERS) throw badValue('available is missing; on the scale "um" it must list sizes in µm');
  return COMMON_GRITS;
}

/** Scratch depth as a share of the particle size: an assumption, to be calibrated on a test strip. */
const SCRATCH_SHARES: Record<Bond, number> = { metal: 0.5, transitional: 0.35, resin: 0.2 };

/** Depth of the scratch a tool leaves, µm. */
export const scratchDepth = (size: number, bond: Bond, share = SCRATCH_SHARES[bond]) => share * size;

/**
 * Depth of the scratch that a grit leaves in the floor.
 * @remarks The default shares are an assumption: measure a test strip and give your own.
 * @example =GRIT.SCRATCH(30) → 300 | hand: 0.5 × 600 µm (ASTM E11, No. 30); the share is an assumption to be calibrated
 * @example =GRIT.SCRATCH(200,"resin") → 15 | hand: 0.2 × 75 µm (ASTM E11, No. 200); the share is an assumption to be calibrated
 * @example =GRIT.SCRATCH(120,"metal","p",0.4) → 50 | hand: 0.4 × 125 µm (ISO 6344-2, P120)
 * @fails =GRIT.SCRATCH(30,"metal",,20) → #VALUE! share must be above 0 and at most 1 (80% is 0.8); got 20
 * @plain {share:{bond:0.5|0.35|0.2}}*{grit:size}
 * @source common practice, no source; the shares are an assumption to be calibrated on a test strip.
 * @words diamond swirl mark surface profile csp roughness
 */
export const SCRATCH = define(
  { label: "Scratch depth", unit: "micrometers" },
  [
    gritNumber("grit", "Grit number", ABOVE_0),
    oneOf("bond", "Bond of the tool", BONDS, { omitted: "metal", note: "metal leaves the deepest scratch" }),
    SCALE,
    orNone(
      share("share", "Depth as a share of the particle size", SHARE, {
        note: "an assumption, calibrate it on a test strip",
      }),
      "by bond: metal 0.50, transitional 0.35, resin 0.20",
    ),
  ],
  (scale) => (grit, bond, share) => scratchDepth(sizeOf(grit, scale), bond ?? "metal", share),
);
