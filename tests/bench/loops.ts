/**
 * What each function works out, as a bare loop over typed columns: the arithmetic of its definition for good numbers in US
 * units and mesh grits, nothing checked, nothing looked at twice. As fast as the same answers could be had in JavaScript.
 * Written from the definitions, not from the rooms; tests/bench/loops.test.ts holds each against its function.
 */
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import { ASTM_E11 } from "../../functions/tables/astm-e11";
import { RESIN_GRITS } from "../../functions/tables/trade-grits";

type Numbers = Float64Array;
type Texts = string[];

const FOOT = 0.3048;
const INCH = 0.0254;
const POUND = 4.4482216152605;

/** A whole number up, but for an excess below 1e-9 relative. */
function up(x: number): number {
  const near = Math.round(x);
  return Math.abs(x - near) <= 1e-9 * Math.max(1, Math.abs(x)) ? near : Math.ceil(x);
}

const LISTED = [...ASTM_E11, ...RESIN_GRITS];
const GRITS = Float64Array.from(LISTED, ([grit]) => grit);
const SIZES = Float64Array.from(LISTED, ([, size]) => size);
/** Slope of ln size over ln grit from each listed grit to the next. */
const SLOPES = Float64Array.from(
  LISTED.slice(1),
  ([grit, size], i) => Math.log(size / SIZES[i]!) / Math.log(grit / GRITS[i]!),
);
/** Squares of the sizes midway in ratio between a listed grit and the next. */
const MIDWAY = Float64Array.from(LISTED.slice(1), ([, size], i) => size * SIZES[i]!);

/** Mesh grit to µm: 15000 / grit from 800 on, below it a straight line in logarithms between listed grits. */
function micrometres(grit: number): number {
  if (grit >= 800) return 15000 / grit;
  let low = 0;
  let high = GRITS.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (GRITS[middle]! <= grit) low = middle;
    else high = middle;
  }
  return SIZES[low]! * (grit / GRITS[low]!) ** SLOPES[low]!;
}

function size(out: Numbers, grit: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = micrometres(grit[i]!);
}

function nearest(out: Numbers, wanted: Numbers) {
  for (let i = 0; i < out.length; i++) {
    const square = wanted[i]! * wanted[i]!;
    let low = 0;
    let high = MIDWAY.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (MIDWAY[middle]! > square) low = middle + 1;
      else high = middle;
    }
    out[i] = GRITS[low]!;
  }
}

function stepRatio(out: Numbers, from: Numbers, to: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = micrometres(from[i]!) / micrometres(to[i]!);
}

const ORDER: Record<string, number> = { metal: 0, transitional: 1, resin: 2 };

function verdict(ratio: number, bondsOn: number, maxRatio: number): string {
  if (bondsOn < 0) return "backwards";
  if (bondsOn > 1) return "add a transitional";
  if (bondsOn === 0 && ratio < 1 - 1e-9) return "backwards";
  if (bondsOn === 0 && ratio <= 1 + 1e-9) return "repeat";
  if (ratio < 0.5 * (1 - 1e-9)) return "backwards";
  return ratio > maxRatio * (1 + 1e-9) ? "too far" : "ok";
}

function stepCheck(out: Texts, from: Numbers, to: Numbers, fromBond: Texts, toBond: Texts, maxRatio: Numbers) {
  for (let i = 0; i < out.length; i++) {
    const ratio = micrometres(from[i]!) / micrometres(to[i]!);
    out[i] = verdict(ratio, ORDER[toBond[i]!]! - ORDER[fromBond[i]!]!, maxRatio[i]!);
  }
}

function sequenceCheck(out: Texts, grits: Numbers, bonds: Texts, maxRatio: Numbers) {
  let sizeBefore = micrometres(grits[0]!);
  let bondBefore = ORDER[bonds[0]!]!;
  out[0] = "start";
  for (let i = 1; i < out.length; i++) {
    const sizeHere = micrometres(grits[i]!);
    const bondHere = ORDER[bonds[i]!]!;
    out[i] = verdict(sizeBefore / sizeHere, bondHere - bondBefore, maxRatio[i]!);
    sizeBefore = sizeHere;
    bondBefore = bondHere;
  }
}

function stepCount(out: Numbers, from: Numbers, to: Numbers, maxRatio: Numbers) {
  for (let i = 0; i < out.length; i++) {
    out[i] = up(Math.log(micrometres(from[i]!) / micrometres(to[i]!)) / Math.log(maxRatio[i]!));
  }
}

function scratch(out: Numbers, grit: Numbers, _bond: Texts, share: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = share[i]! * micrometres(grit[i]!);
}

function areaRate(out: Numbers, width: Numbers, speed: Numbers, overlap: Numbers, efficiency: Numbers) {
  for (let i = 0; i < out.length; i++) {
    out[i] = (width[i]! / 12) * speed[i]! * 60 * (1 - overlap[i]!) * efficiency[i]!;
  }
}

function passTime(
  out: Numbers,
  area: Numbers,
  width: Numbers,
  speed: Numbers,
  passes: Numbers,
  overlap: Numbers,
  efficiency: Numbers,
) {
  for (let i = 0; i < out.length; i++) {
    const rate = (width[i]! / 12) * speed[i]! * 60 * (1 - overlap[i]!) * efficiency[i]!;
    out[i] = (area[i]! * passes[i]!) / rate;
  }
}

function speedFor(
  out: Numbers,
  area: Numbers,
  width: Numbers,
  hours: Numbers,
  passes: Numbers,
  overlap: Numbers,
  efficiency: Numbers,
) {
  for (let i = 0; i < out.length; i++) {
    const width1 = (width[i]! / 12) * 60 * (1 - overlap[i]!) * efficiency[i]!;
    out[i] = (area[i]! * passes[i]!) / (width1 * hours[i]!);
  }
}

const across = (room: number, width: number, overlap: number) =>
  room <= width ? 1 : 1 + up((room - width) / (width * (1 - overlap)));

function lanes(out: Numbers, roomWidth: Numbers, width: Numbers, overlap: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = across(roomWidth[i]! * 12, width[i]!, overlap[i]!);
}

function roomTime(
  out: Numbers,
  roomLength: Numbers,
  roomWidth: Numbers,
  width: Numbers,
  speed: Numbers,
  passes: Numbers,
  overlap: Numbers,
  turnSeconds: Numbers,
  crosshatch: boolean[],
) {
  for (let i = 0; i < out.length; i++) {
    const turn = turnSeconds[i]! / 3600;
    const perHour = speed[i]! * 60;
    const along = across(roomWidth[i]! * 12, width[i]!, overlap[i]!);
    const alongHours = (along * roomLength[i]!) / perHour + (along - 1) * turn;
    if (crosshatch[i]) {
      const crossing = Math.floor(passes[i]! / 2);
      const cross = across(roomLength[i]! * 12, width[i]!, overlap[i]!);
      const crossHours = (cross * roomWidth[i]!) / perHour + (cross - 1) * turn;
      out[i] = (passes[i]! - crossing) * alongHours + crossing * crossHours;
    } else {
      out[i] = passes[i]! * alongHours;
    }
  }
}

function openShare(out: Numbers, roomLength: Numbers, roomWidth: Numbers, edgeStrip: Numbers) {
  for (let i = 0; i < out.length; i++) {
    const both = edgeStrip[i]! / 6;
    const open = Math.max(0, roomLength[i]! - both) * Math.max(0, roomWidth[i]! - both);
    out[i] = open / (roomLength[i]! * roomWidth[i]!);
  }
}

/** EDGETIME is a length times passes over a rate, ACTUALRATE an area times passes over hours: one product, one quotient. */
function timesOver(out: Numbers, a: Numbers, divisor: Numbers, b: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (a[i]! * b[i]!) / divisor[i]!;
}

function tipSpeed(out: Numbers, diameter: Numbers, rpm: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (Math.PI * diameter[i]! * rpm[i]!) / 12;
}

/** Complete elliptic integral of the second kind by the arithmetic–geometric mean: K(m) (1 − Σ 2ⁿ⁻¹ cₙ²). */
function ellipticE(m: number): number {
  let a = 1;
  let b = Math.sqrt(1 - m);
  if (b === 0) return 1;
  let sum = m / 2;
  for (let power = 1; ; power *= 2) {
    const c = (a - b) / 2;
    if (c < 1e-9) return (Math.PI / (a + b)) * (1 - sum);
    const geometric = Math.sqrt(a * b);
    a = (a + b) / 2;
    b = geometric;
    sum += power * c * c;
  }
}

function slideSpeed(out: Numbers, headRadius: Numbers, toolRadius: Numbers, headRpm: Numbers, carrierRpm: Numbers) {
  for (let i = 0; i < out.length; i++) {
    const a = (headRadius[i]! / 12) * 2 * Math.PI * Math.abs(carrierRpm[i]!);
    const b = (toolRadius[i]! / 12) * 2 * Math.PI * Math.abs(headRpm[i]! + carrierRpm[i]!);
    const sum = a + b;
    out[i] = sum === 0 ? 0 : (2 / Math.PI) * sum * ellipticE(Math.min(1, (4 * a * b) / (sum * sum)));
  }
}

function pressure(out: Numbers, load: Numbers, segments: Numbers, segmentArea: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = load[i]! / (segments[i]! * segmentArea[i]!);
}

/** µm a pass for a coefficient of 1: lbf × ft/min over in × ft/min, where the minutes cancel. */
const CUT_OF_ONE = (POUND * FOOT) / (INCH * FOOT) / 1e6;

function cutPerPass(
  out: Numbers,
  coefficient: Numbers,
  load: Numbers,
  slide: Numbers,
  width: Numbers,
  speed: Numbers,
  overlap: Numbers,
) {
  for (let i = 0; i < out.length; i++) {
    const swept = width[i]! * (1 - overlap[i]!) * speed[i]!;
    out[i] = (coefficient[i]! * load[i]! * slide[i]! * CUT_OF_ONE) / swept;
  }
}

function cutCoefficient(
  out: Numbers,
  cut: Numbers,
  load: Numbers,
  slide: Numbers,
  width: Numbers,
  speed: Numbers,
  overlap: Numbers,
) {
  for (let i = 0; i < out.length; i++) {
    const swept = width[i]! * (1 - overlap[i]!) * speed[i]!;
    out[i] = (cut[i]! * swept) / (load[i]! * slide[i]! * CUT_OF_ONE);
  }
}

function passesToClear(out: Numbers, from: Numbers, to: Numbers, cut: Numbers, minimum: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = Math.max(minimum[i]!, up((from[i]! - to[i]!) / cut[i]!));
}

function toolsToBuy(out: Numbers, area: Numbers, life: Numbers, passes: Numbers, onHand: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = Math.max(0, up((area[i]! * passes[i]!) / life[i]! - onHand[i]!));
}

function toolCost(out: Numbers, area: Numbers, life: Numbers, price: Numbers, passes: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = ((area[i]! * passes[i]!) / life[i]!) * price[i]!;
}

function wearRate(out: Numbers, startHeight: Numbers, endHeight: Numbers, area: Numbers, passes: Numbers) {
  for (let i = 0; i < out.length; i++) {
    out[i] = ((startHeight[i]! - endHeight[i]!) * 1000) / (area[i]! * passes[i]!);
  }
}

function lifeLeft(out: Numbers, height: Numbers, minimumHeight: Numbers, rate: Numbers) {
  for (let i = 0; i < out.length; i++) {
    out[i] = (Math.max(0, height[i]! - minimumHeight[i]!) * 1000) / rate[i]!;
  }
}

function bond(out: Texts, hardness: Numbers) {
  for (let i = 0; i < out.length; i++) {
    const mohs = hardness[i]!;
    out[i] = mohs < 4 ? "hard" : mohs <= 6 ? "medium" : "soft";
  }
}

function quotient(out: Numbers, a: Numbers, b: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = a[i]! / b[i]!;
}

function liquid(out: Numbers, area: Numbers, coverage: Numbers, coats: Numbers, waste: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (area[i]! * coats[i]! * (1 + waste[i]!)) / coverage[i]!;
}

function containers(out: Numbers, volume: Numbers, containerSize: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = up(volume[i]! / containerSize[i]!);
}

function film(out: Numbers, coverage: Numbers, solids: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (solids[i]! * (231000 / 144)) / coverage[i]!;
}

function crewCost(out: Numbers, hours: Numbers, crew: Numbers, rate: Numbers, burden: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = hours[i]! * crew[i]! * rate[i]! * (1 + burden[i]!);
}

function machineCost(
  out: Numbers,
  price: Numbers,
  salvage: Numbers,
  years: Numbers,
  interest: Numbers,
  hoursPerYear: Numbers,
  running: Numbers,
) {
  for (let i = 0; i < out.length; i++) {
    const rate = interest[i]!;
    const recovery = rate === 0 ? 1 / years[i]! : rate / -Math.expm1(-years[i]! * Math.log1p(rate));
    out[i] = ((price[i]! - salvage[i]!) * recovery + salvage[i]! * rate) / hoursPerYear[i]! + running[i]!;
  }
}

function priceAt(out: Numbers, cost: Numbers, margin: Numbers, minimum: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = Math.max(minimum[i]!, cost[i]! / (1 - margin[i]!));
}

function margin(out: Numbers, price: Numbers, cost: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (price[i]! - cost[i]!) / price[i]!;
}

function markup(out: Numbers, price: Numbers, cost: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (price[i]! - cost[i]!) / cost[i]!;
}

function markupFor(out: Numbers, share: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = share[i]! / (1 - share[i]!);
}

/** RATEVARIANCE is a difference of rates times a quantity, USAGEVARIANCE one of quantities times a rate. */
function differenceTimes(out: Numbers, a: Numbers, b: Numbers, factor: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = (a[i]! - b[i]!) * factor[i]!;
}

function marginSlip(
  out: Numbers,
  quotedPrice: Numbers,
  quotedCost: Numbers,
  actualPrice: Numbers,
  actualCost: Numbers,
) {
  for (let i = 0; i < out.length; i++) out[i] = actualCost[i]! / actualPrice[i]! - quotedCost[i]! / quotedPrice[i]!;
}

function logRatios(estimated: Numbers, actual: Numbers): Numbers {
  const ratios = new Float64Array(estimated.length);
  for (let i = 0; i < ratios.length; i++) ratios[i] = Math.log(actual[i]! / estimated[i]!);
  return ratios;
}

/** Mean and sample standard deviation. */
function spreadOf(values: Numbers): [mean: number, deviation: number] {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  const mean = sum / values.length;
  let squares = 0;
  for (let i = 0; i < values.length; i++) squares += (values[i]! - mean) * (values[i]! - mean);
  return [mean, Math.sqrt(squares / (values.length - 1))];
}

/** The five numbers of CALIBRATE; the t value is a library's. */
function calibrate(out: Numbers, estimated: Numbers, actual: Numbers, confidence: Numbers) {
  const [mean, deviation] = spreadOf(logRatios(estimated, actual));
  const jobs = estimated.length;
  const reach = (tQuantile((1 + confidence[0]!) / 2, jobs - 1) * deviation) / Math.sqrt(jobs);
  out.set([Math.exp(mean), Math.exp(mean - reach), Math.exp(mean + reach), deviation, jobs]);
}

/** At one confidence for all estimates, whose t value is a library's. */
function hoursAt(out: Numbers, estimate: Numbers, estimated: Numbers, actual: Numbers, confidence: Numbers) {
  const [mean, deviation] = spreadOf(logRatios(estimated, actual));
  const jobs = estimated.length;
  const factor = Math.exp(mean + tQuantile(confidence[0]!, jobs - 1) * deviation * Math.sqrt(1 + 1 / jobs));
  for (let i = 0; i < out.length; i++) out[i] = estimate[i]! * factor;
}

function medianOf(values: Numbers): number {
  const sorted = values.slice().sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

function outliers(out: boolean[], estimated: Numbers, actual: Numbers, limit: Numbers) {
  const ratios = logRatios(estimated, actual);
  const median = medianOf(ratios);
  const deviation = medianOf(ratios.map((ratio) => Math.abs(ratio - median)));
  for (let i = 0; i < out.length; i++) out[i] = (0.6745 * Math.abs(ratios[i]! - median)) / deviation > limit[0]!;
}

function handArm(out: Numbers, vibration: Numbers, hours: Numbers) {
  let sum = 0;
  for (let i = 0; i < vibration.length; i++) sum += vibration[i]! * vibration[i]! * hours[i]!;
  out[0] = Math.sqrt(sum / 8);
}

function noiseTime(out: Numbers, level: Numbers, criterion: Numbers, exchange: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = 8 / 2 ** ((level[i]! - criterion[i]!) / exchange[i]!);
}

function noiseDose(out: Numbers, levels: Numbers, hours: Numbers, criterion: Numbers, exchange: Numbers) {
  let sum = 0;
  for (let i = 0; i < levels.length; i++) sum += (hours[i]! * 2 ** ((levels[i]! - criterion[0]!) / exchange[0]!)) / 8;
  out[0] = 100 * sum;
}

function shroudAir(out: Numbers, diameter: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = 25 * diameter[i]!;
}

function handTime(out: Numbers, vibration: Numbers, limit: Numbers) {
  for (let i = 0; i < out.length; i++) out[i] = 8 * (limit[i]! / vibration[i]!) ** 2;
}

function dustTwa(out: Numbers, concentrations: Numbers, hours: Numbers) {
  let sum = 0;
  for (let i = 0; i < concentrations.length; i++) sum += concentrations[i]! * hours[i]!;
  out[0] = sum / 8;
}

/** The loop of each function by id: where the answers go, then the parameters in their order without scale and units. */
export const LOOPS: Readonly<Record<string, (out: any, ...columns: any[]) => void>> = {
  SIZE: size,
  NEAREST: nearest,
  STEPRATIO: stepRatio,
  STEPCHECK: stepCheck,
  SEQUENCECHECK: sequenceCheck,
  STEPCOUNT: stepCount,
  SCRATCH: scratch,
  AREARATE: areaRate,
  PASSTIME: passTime,
  SPEEDFOR: speedFor,
  LANES: lanes,
  ROOMTIME: roomTime,
  OPENSHARE: openShare,
  EDGETIME: timesOver,
  TIPSPEED: tipSpeed,
  SLIDESPEED: slideSpeed,
  PRESSURE: pressure,
  CUTPERPASS: cutPerPass,
  CUTCOEFFICIENT: cutCoefficient,
  PASSESTOCLEAR: passesToClear,
  TOOLSUSED: timesOver,
  TOOLSTOBUY: toolsToBuy,
  TOOLCOST: toolCost,
  WEARRATE: wearRate,
  LIFELEFT: lifeLeft,
  BOND: bond,
  GRINDRATIO: quotient,
  LIQUID: liquid,
  CONTAINERS: containers,
  FILM: film,
  CREWCOST: crewCost,
  MACHINECOST: machineCost,
  PRICEAT: priceAt,
  MARGIN: margin,
  MARKUP: markup,
  MARKUPFOR: markupFor,
  ACTUALRATE: timesOver,
  RATEVARIANCE: differenceTimes,
  USAGEVARIANCE: differenceTimes,
  MARGINSLIP: marginSlip,
  CALIBRATE: calibrate,
  HOURSAT: hoursAt,
  OUTLIERS: outliers,
  HANDARM: handArm,
  NOISETIME: noiseTime,
  NOISEDOSE: noiseDose,
  SHROUDAIR: shroudAir,
  HANDTIME: handTime,
  DUSTTWA: dustTwa,
};

/** These search; how long they take depends on what there is to search, see tests/bench/planning.bench.ts. */
export const SEARCHES = ["LADDER", "CHEAPESTSTEPS"];
