/** Past jobs: what they really took beside what was quoted, and what that says of the next one. */
import { badValue, noAnswer } from "./answer";
import { AREA, PASSES } from "./arguments";
import { argument, block, isFilled, numberReader, readAs } from "./cell";
import { amount, count, define, list, oneCell, type Raw, rangeOf, share, UNITS, yesNo } from "./declare";
import { ABOVE_0, domain, FROM_0, isWithin, SHARE } from "./domain";
import { each } from "./each";
import { drawnTogether, mean, median, medianDeviation, sampleDeviation, tQuantile } from "./statistics";

const CONFIDENCE = domain("above 0 and below 1 (80% is 0.8)", [
  [">", 0],
  ["<", 1],
]);

/** Floor covered in an hour by one pass, as a job turned out. */
export const actualAreaRate = (area: number, hours: number, passes = 1) => (area * passes) / hours;

/**
 * Area rate a past job actually reached.
 * @example =GRIT.ACTUALRATE(5000,8,2) → 1250 | hand: 10000 ft² of single pass / 8 h
 * @example =GRIT.ACTUALRATE(230.4,1,1,"metric") → 230.4 | identity: what one pass covers in an hour is the rate
 * @fails =GRIT.ACTUALRATE(5000,0) → #VALUE! hours is blank or 0; it must be above 0
 * @plain {area}*{passes}/{hours}
 * @source Definition of a rate: work done over time.
 * @words production history square feet foot sq ft sqft
 */
export const ACTUALRATE = define(
  { label: "Area rate of one pass", unit: "areaRate" },
  [AREA, amount("hours", "Machine hours it took", "hours", ABOVE_0), PASSES, UNITS],
  () => actualAreaRate,
);

const QUOTED_RATE = amount("quotedRate", "Rate in the quote", "moneyPerUnit", FROM_0);
const ACTUAL_QUANTITY = count("actualQuantity", "Quantity actually used: hours, sets, volume", FROM_0);

/** What a dearer or cheaper rate cost. */
export const costOfRate = (actualRate: number, quotedRate: number, actualQuantity: number) =>
  (actualRate - quotedRate) * actualQuantity;

/**
 * Cost of a rate that differs from the quoted one: an hourly wage, or the price of a set or a gallon.
 * @example =GRIT.RATEVARIANCE(32,30,50) → 100 | hand: 50 hours at 2 an hour more than quoted
 * @example =GRIT.RATEVARIANCE(9,7,20) → 40 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.2, material price variance, unfavorable
 * @example =GRIT.RATEVARIANCE(7.5,8,0.1) → -0.05 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, labor rate variance, favorable
 * @fails =GRIT.RATEVARIANCE("28/h",30,40) → #VALUE! actualRate must be 0 or more; got the text "28/h"
 * @plain ({actualRate}-{quotedRate})*{actualQuantity}
 * @source Standard costing: price variance = (actual − standard price) × actual quantity.
 * @words overrun budget wage
 */
export const RATEVARIANCE = define(
  { label: "Cost difference", unit: "money", note: "above 0 cost more than quoted" },
  [amount("actualRate", "Rate actually paid", "moneyPerUnit", FROM_0), QUOTED_RATE, ACTUAL_QUANTITY],
  () => costOfRate,
);

/** What using more or less cost, at the quoted rate. */
export const costOfUsage = (actualQuantity: number, quotedQuantity: number, quotedRate: number) =>
  (actualQuantity - quotedQuantity) * quotedRate;

/**
 * Cost of using more or less than quoted: hours, sets or volume at the quoted rate.
 * @example =GRIT.USAGEVARIANCE(58,50,30) → 240 | hand: 8 hours more than quoted, at 30
 * @example =GRIT.USAGEVARIANCE(0.5,0.25,7) → 1.75 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.2, material quantity variance, unfavorable
 * @example =GRIT.USAGEVARIANCE(0.05,0.1,8) → -0.4 | published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, labor time variance, favorable
 * @fails =GRIT.USAGEVARIANCE(44,-40,30) → #VALUE! quotedQuantity must be 0 or more; got -40
 * @plain ({actualQuantity}-{quotedQuantity})*{quotedRate}
 * @source Standard costing: quantity variance = (actual − standard quantity) × standard price.
 * @words overrun budget labor materials
 */
export const USAGEVARIANCE = define(
  { label: "Cost difference", unit: "money", note: "above 0 cost more than quoted" },
  [
    ACTUAL_QUANTITY,
    count("quotedQuantity", "Quantity in the quote, in the same unit (hours, sets, volume)", FROM_0),
    QUOTED_RATE,
  ],
  () => costOfUsage,
);

/** Quoted margin less actual margin: (1 − quoted cost/price) − (1 − actual cost/price), where the ones cancel. */
const fadeOf = (quotedPrice: number, quotedCost: number, actualPrice: number, actualCost: number) =>
  actualCost / actualPrice - quotedCost / quotedPrice;

/**
 * Margin fade: share of the price lost between the quote and the finished job.
 * @example =GRIT.MARGINSLIP(10000,7000,10000,8200) → 0.12 | hand: quoted margin 30%, actual margin 18%
 * @example =GRIT.MARGINSLIP(10000,7000,14000,9800) → 0 | identity: price and cost grown alike leave the margin
 * @fails =GRIT.MARGINSLIP(10000,7000,0,8200) → #VALUE! actualPrice is blank or 0; it must be above 0
 * @plain {actualCost}/{actualPrice}-{quotedCost}/{quotedPrice}
 * @source Definition of the margin, (price − cost) / price, before and after.
 * @words profit fade loss overrun
 */
export const MARGINSLIP = define(
  { label: "Quoted margin less actual margin", isShare: true, note: "above 0 the job earned less than quoted" },
  [
    amount("quotedPrice", "Price in the quote", "money", ABOVE_0),
    amount("quotedCost", "Cost in the quote", "money", FROM_0),
    amount("actualPrice", "Price actually charged", "money", ABOVE_0),
    amount("actualCost", "Final cost", "money", FROM_0),
  ],
  () => fadeOf,
);

// Of one job there is no spread. Two give one, if a wide one; how many are enough is for the reader to judge.
const LEAST_JOBS = 2;

/** Logarithm of what a job took over what was estimated: 0 as estimated, above 0 more. */
export function logRatio(estimated: number, actual: number): number {
  const ratio = actual / estimated;
  // A ratio at the ends of what a number can be has lost its digits.
  return ratio > 1e-300 && ratio < 1e300 ? Math.log(ratio) : Math.log(actual) - Math.log(estimated);
}

export interface Calibration {
  /** Geometric mean of actual / estimated, and the ends of its confidence interval. */
  factor: number;
  low: number;
  high: number;
  /** Sample standard deviation of the log ratios. */
  spread: number;
  jobs: number;
}

/** Mean and spread of the log ratios, where there are jobs enough. */
function centerAndSpread(logRatios: ArrayLike<number>): { center: number; spread: number } {
  const jobs = logRatios.length;
  if (jobs < LEAST_JOBS) {
    throw noAnswer(`at least ${LEAST_JOBS} jobs must have both an estimated and an actual value; got ${jobs}`);
  }
  const center = mean(logRatios);
  return { center, spread: sampleDeviation(logRatios, center) };
}

/** Confidence interval of the mean log ratio by Student's t, turned back into a factor. */
export function calibrationOf(logRatios: ArrayLike<number>, confidence: number): Calibration {
  const { center, spread } = centerAndSpread(logRatios);
  const jobs = logRatios.length;
  const reach = (tQuantile((1 + confidence) / 2, jobs - 1) * spread) / Math.sqrt(jobs);
  return {
    factor: fromLog(center),
    low: fromLog(center - reach),
    high: fromLog(center + reach),
    spread,
    jobs,
  };
}

/** Hours that a job like these finishes within at a confidence, by the t interval of one further observation. */
function hoursLike(logRatios: ArrayLike<number>): (estimate: number, confidence: number) => number {
  return hoursBy({ ...centerAndSpread(logRatios), jobs: logRatios.length });
}

/** The same, where only the mean and the sample deviation of the jobs' log ratios are known. */
export function hoursBy({
  center,
  spread,
  jobs,
}: {
  center: number;
  spread: number;
  jobs: number;
}): (estimate: number, confidence: number) => number {
  const spreadAhead = spread * Math.sqrt(1 + 1 / jobs);
  // A column of estimates mostly asks for one confidence, and its t value takes far longer than all the rest.
  const factors = new Map<number, number>();
  return (estimate, confidence) => {
    let factor = factors.get(confidence);
    if (factor === undefined) {
      factor = fromLog(center + tQuantile(confidence, jobs - 1) * spreadAhead);
      factors.set(confidence, factor);
    }
    return estimate * factor;
  };
}

/** A factor from its logarithm, which must be neither endless nor nothing. */
function fromLog(exponent: number): number {
  const factor = Math.exp(exponent);
  if (factor > 0 && factor < Number.POSITIVE_INFINITY) return factor;
  throw noAnswer("the jobs differ too much for an answer at this confidence");
}

const POSITIVE = numberReader(ABOVE_0);
const PASSED_OVER = { note: "a job with a blank or a 0 is skipped" };
const LEFT_BLANK = { note: "a job with a blank or a 0 gives a blank" };

/** What was estimated for past jobs, and beside it what they took. */
type Jobs = Readonly<Record<"estimated" | "actual", any[][]>>;

/** Both ranges, after checking that they are given and that each cell of the one stands beside a cell of the other. */
function paired(given: { estimated: Raw; actual: Raw }): Jobs {
  const ranges = Object.entries(given).map(([name, range]) => {
    const cells = block(name, range);
    if (!range?.[0]?.length) throw badValue(`${name} is missing; it must be a range of numbers ${ABOVE_0.words}`);
    return cells;
  });
  const [estimated, actual] = ranges as [any[][], any[][]];
  if (estimated.length !== actual.length || estimated[0]!.length !== actual[0]!.length) {
    const shape = (block: any[][]) => `${block.length} × ${block[0]!.length} cells`;
    throw badValue(`actual must have the shape of estimated, ${shape(estimated)}; got ${shape(actual)}`);
  }
  return { estimated, actual };
}

/** Where in its range a cell stands, as messages say it. */
function placeIn(cells: any[][], r: number, c: number): string {
  const places = [`row ${r + 1}`, `column ${c + 1}`];
  if (cells[0]!.length === 1) return places[0]!;
  return cells.length === 1 ? places[1]! : places.join(", ");
}

/** Whether a cell is a good value, at a glance: nearly every one is, and there are many. */
const isGood = (cell: unknown): cell is number => typeof cell === "number" && isWithin(cell, ABOVE_0);

/** The log ratios of the jobs with two good values; of any other, what `otherwise` makes of it. */
function ratiosOf({ estimated, actual }: Jobs, otherwise: (r: number, c: number) => number | undefined): Float64Array {
  const ratios = new Float64Array(estimated.length * estimated[0]!.length);
  let count = 0;
  for (let r = 0; r < estimated.length; r++) {
    const estimates = estimated[r]!;
    const actuals = actual[r]!;
    for (let c = 0; c < estimates.length; c++) {
      const before = estimates[c];
      const after = actuals[c];
      const ratio = isGood(before) && isGood(after) ? logRatio(before, after) : otherwise(r, c);
      if (ratio !== undefined) ratios[count++] = ratio;
    }
  }
  return ratios.subarray(0, count);
}

const isFinished = ({ estimated, actual }: Jobs, r: number, c: number) =>
  isFilled(estimated[r]![c]) && isFilled(actual[r]![c]);

/** The log ratios of the jobs that have both values; a bad value is an error that tells its place. */
function logRatiosIn(given: { estimated: Raw; actual: Raw }): Float64Array {
  const jobs = paired(given);
  const read = (name: keyof Jobs, r: number, c: number): number =>
    readAs(`${name} in ${placeIn(jobs[name], r, c)}`, jobs[name][r]![c], POSITIVE);
  return ratiosOf(jobs, (r, c) =>
    isFinished(jobs, r, c) ? logRatio(read("estimated", r, c), read("actual", r, c)) : undefined,
  );
}

/**
 * How actual results of past jobs compare with their estimates, and how sure that is.
 * @remarks The factor is the geometric mean of actual / estimated, so a job at double and one at half even out. With 2 jobs there is an interval, but a very wide one; with fewer there is none, #NUM!.
 * @example =GRIT.CALIBRATE({10;10;10},{8;10;12.5}) → {"factor",1;"low",0.6864735718938174;"high",1.4567203180761026;"spread",0.22314355131420976;"jobs",3} | hand: log ratios -ln 1.25, 0 and ln 1.25, so s = ln 1.25; t(0.95, 2) = 2.91998558 (t table) and exp(± t × s / √3)
 * @example =GRIT.CALIBRATE({20;35;12;50;28},{23;33;15;61;30}) → {"factor",1.1211800478306555;"low",1.0060374601849489;"high",1.2495008877924458;"spread",0.1136600326829907;"jobs",5} | library: scipy 1.17.1, stats.gmean and stats.t.interval of the log ratios
 * @fails =GRIT.CALIBRATE({10;20;30},{12;"n/a";33}) → #VALUE! actual in row 2 must be above 0; got the text "n/a"
 * @fails =GRIT.CALIBRATE({10;20},{12;""}) → #NUM! at least 2 jobs must have both an estimated and an actual value; got 1
 * @plain IF((ROWS({estimated})<>ROWS({actual}))+(COLUMNS({estimated})<>COLUMNS({actual})),#VALUE!,IF(SUM(IF(IFERROR(({estimated}<>0)*({estimated}<>""),1)*IFERROR(({actual}<>0)*({actual}<>""),1),IF(0*{estimated}+({estimated}<"")*({estimated}>0),IF(0*{actual}+({actual}<"")*({actual}>0),0,#VALUE!),#VALUE!),0))+SUM(IFERROR(1+0*LN({actual}/{estimated}),0))<2,#NUM!,CHOOSE({1,2;3,4;5,6;7,8;9,10},"factor",EXP(AVERAGE(IFERROR(LN({actual}/{estimated}),""))),"low",EXP(AVERAGE(IFERROR(LN({actual}/{estimated}),""))-TINV(1-{confidence},SUM(IFERROR(1+0*LN({actual}/{estimated}),0))-1)*STDEV(IFERROR(LN({actual}/{estimated}),""))/SQRT(SUM(IFERROR(1+0*LN({actual}/{estimated}),0)))),"high",EXP(AVERAGE(IFERROR(LN({actual}/{estimated}),""))+TINV(1-{confidence},SUM(IFERROR(1+0*LN({actual}/{estimated}),0))-1)*STDEV(IFERROR(LN({actual}/{estimated}),""))/SQRT(SUM(IFERROR(1+0*LN({actual}/{estimated}),0)))),"spread",STDEV(IFERROR(LN({actual}/{estimated}),"")),"jobs",SUM(IFERROR(1+0*LN({actual}/{estimated}),0)))))
 * @source Student's t interval of the mean log ratio (lognormal model), as in any statistics text.
 * @words history estimate accuracy
 */
export const CALIBRATE = define(
  {
    label:
      "Five rows of label and value: factor (multiply estimates by it), low and high (its interval), spread (of the log ratios), jobs (used)",
  },
  [
    list(count("estimated", "Estimate for each past job (hours, cost or any one quantity)", ABOVE_0, PASSED_OVER)),
    list(count("actual", "Actual result of each job, in the same unit and shape as estimated", ABOVE_0, PASSED_OVER)),
    oneCell(share("confidence", "Confidence of the interval", CONFIDENCE, { omitted: 0.9 })),
  ],
  (estimated, actual, confidence) => {
    const { factor, low, high, spread, jobs } = calibrationOf(logRatiosIn({ estimated, actual }), confidence);
    return [
      ["factor", factor],
      ["low", low],
      ["high", high],
      ["spread", spread],
      ["jobs", jobs],
    ];
  },
);

/**
 * Hours the next job finishes within at a confidence you choose, based on past jobs.
 * @remarks It allows for the spread between jobs and for how few of them there are. At 0.5 it is the estimate times the factor of CALIBRATE. With fewer than 2 jobs there is no answer, #NUM!.
 * @example =GRIT.HOURSAT(40,{10;10;10},{8;10;12.5}) → 52.571459328693724 | hand: t(0.8, 2) = 0.6 / √0.32 = 1.06066, 40 × exp(1.06066 × ln 1.25 × √(4/3))
 * @example =GRIT.HOURSAT(30,{20;35;12;50;28},{23;33;15;61;30}) → 37.81617995804903 | library: scipy 1.17.1, stats.t.ppf
 * @example =GRIT.HOURSAT(40,{10;10},{8;12.5},0.5) → 40 | identity: half of such jobs take more than the median, half less
 * @fails =GRIT.HOURSAT(40,{10;10;10},{8;10;12.5},80) → #VALUE! confidence must be above 0 and below 1 (80% is 0.8); got 80
 * @plain IF((ROWS({estimated})<>ROWS({actual}))+(COLUMNS({estimated})<>COLUMNS({actual})),#VALUE!,IF(SUM(IF(IFERROR(({estimated}<>0)*({estimated}<>""),1)*IFERROR(({actual}<>0)*({actual}<>""),1),IF(0*{estimated}+({estimated}<"")*({estimated}>0),IF(0*{actual}+({actual}<"")*({actual}>0),0,#VALUE!),#VALUE!),0))+SUM(IFERROR(1+0*LN({actual}/{estimated}),0))<2,#NUM!,{estimate}*EXP(AVERAGE(IFERROR(LN({actual}/{estimated}),""))+SIGN({confidence}-0.5)*TINV(1-ABS(2*{confidence}-1),SUM(IFERROR(1+0*LN({actual}/{estimated}),0))-1)*STDEV(IFERROR(LN({actual}/{estimated}),""))*SQRT(1+1/SUM(IFERROR(1+0*LN({actual}/{estimated}),0))))))
 * @source One-sided Student t prediction bound of one further log ratio (lognormal model): m + t × s × √(1 + 1/n).
 * @words history risk contingency estimate
 */
export const HOURSAT = define(
  { label: "Hours", unit: "hours" },
  [
    amount("estimate", "Hours estimated for the next job", "hours", ABOVE_0),
    list(count("estimated", "Hours estimated for each past job", ABOVE_0, PASSED_OVER)),
    list(count("actual", "Hours each job actually took, in the shape of estimated", ABOVE_0, PASSED_OVER)),
    share("confidence", "Chance of finishing within these hours", CONFIDENCE, { omitted: 0.8 }),
  ],
  (estimated, actual) => hoursLike(logRatiosIn({ estimated, actual })),
);

/** Normal deviates make a median distance of 0.6745 standard deviations. */
const NORMAL_MEDIAN_DEVIATION = 0.6745;
/** Ratios this close count as equal, so that the last digit of a division makes no outlier. */
const CLOSE = 1e-9;

/** Whether a log ratio stands out from the others: |modified z-score| above the limit, with no division by 0. */
export function outlierTest(logRatios: ArrayLike<number>, limit: number): (logRatio: number) => boolean {
  const center = median(logRatios);
  const deviation = medianDeviation(logRatios, center);
  return (ratio) => NORMAL_MEDIAN_DEVIATION * Math.abs(ratio - center) > limit * deviation + CLOSE;
}

/**
 * Past jobs whose actual value is out of line with the others, TRUE or FALSE for each.
 * @remarks Look into the jobs it marks before you calibrate; it removes none. A bad value gives its own error and counts for no other job. Where more than half of the jobs have the very same ratio, every other ratio stands out. LibreOffice shows 1 and 0 in a copy without the add-in.
 * @example =GRIT.OUTLIERS({10;10;10;10;10},{9;10;11;12;30}) → {FALSE;FALSE;FALSE;FALSE;TRUE} | hand: ln ratios -0.105, 0, 0.095, 0.182, 1.099; median 0.095, distances 0.201, 0.095, 0, 0.087, 1.003, so MAD 0.095; 0.6745 × 0.201 / 0.095 = 1.42, 0.6745 × 1.003 / 0.095 = 7.1
 * @example =GRIT.OUTLIERS({10;10;10;10;10},{9;10;11;12;30},8) → {FALSE;FALSE;FALSE;FALSE;FALSE} | hand: as above, 7.1 is below 8
 * @fails =GRIT.OUTLIERS({10;20;30},{9;"?";33}) → #VALUE! actual must be above 0; got the text "?"
 * @plain IF((ROWS({estimated})<>ROWS({actual}))+(COLUMNS({estimated})<>COLUMNS({actual})),#VALUE!,IF(IFERROR(({estimated}<>0)*({estimated}<>""),1)*IFERROR(({actual}<>0)*({actual}<>""),1),IF(0*{estimated}+({estimated}<"")*({estimated}>0),IF(0*{actual}+({actual}<"")*({actual}>0),0.6745*ABS(LN({actual}/{estimated})-MEDIAN(IFERROR(IF(({estimated}<"")*({estimated}>0)*({actual}<"")*({actual}>0),LN({actual}/{estimated}),""),"")))>{limit}*MEDIAN(IFERROR(ABS(IFERROR(IF(({estimated}<"")*({estimated}>0)*({actual}<"")*({actual}>0),LN({actual}/{estimated}),""),"")-MEDIAN(IFERROR(IF(({estimated}<"")*({estimated}>0)*({actual}<"")*({actual}>0),LN({actual}/{estimated}),""),""))),""))+1E-9,#VALUE!),#VALUE!),""))
 * @source Iglewicz and Hoaglin (1993), modified z-score, limit 3.5; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.
 * @words history unusual odd
 */
export const OUTLIERS = define(
  { label: "TRUE or FALSE for each job, in the shape of estimated" },
  [
    list(count("estimated", "Estimate for each past job (hours, cost or any one quantity)", ABOVE_0, LEFT_BLANK)),
    list(count("actual", "Actual result of each job, in the same unit and shape as estimated", ABOVE_0, LEFT_BLANK)),
    oneCell(count("limit", "Modified z-score beyond which a job stands out", ABOVE_0, { omitted: 3.5 })),
  ],
  (estimated, actual, limit) => {
    const jobs = paired({ estimated, actual });
    const standsOut = outlierTest(
      ratiosOf(jobs, () => undefined),
      limit,
    );
    const marks = each(
      [argument("estimated", jobs.estimated, POSITIVE), argument("actual", jobs.actual, POSITIVE)],
      (before, after) => standsOut(logRatio(before, after)),
    );
    for (let r = 0; r < marks.length; r++) {
      for (let c = 0; c < marks[r]!.length; c++) if (!isFinished(jobs, r, c)) marks[r]![c] = "";
    }
    return marks;
  },
);

/** What a running job comes to: the rest at the pace so far, or the rest as quoted. */
export const atCompletion = (quoted: number, soFar: number, done: number, restAsQuoted = false) =>
  restAsQuoted ? soFar + quoted * (1 - done) : soFar / done;

/**
 * Hours or money that a running job comes to, from what it has taken so far.
 * @remarks Say TRUE for restAsQuoted where what went wrong won't go wrong again.
 * @example =GRIT.ATCOMPLETION(16,21,0.875) → 24 | hand: 21 h for seven eighths are 24 h for all
 * @example =GRIT.ATCOMPLETION(16,21,0.875,TRUE) → 23 | hand: 21 h, and an eighth of 16 h
 * @example =GRIT.ATCOMPLETION(100,80,1) → 80 | identity: a job that is done comes to what it took
 * @fails =GRIT.ATCOMPLETION(16,21,0) → #VALUE! done is blank or 0; it must be above 0 and at most 1 (80% is 0.8)
 * @fails =GRIT.ATCOMPLETION(16,21,1.2) → #VALUE! done must be above 0 and at most 1 (80% is 0.8); got 1.2
 * @plain IF({restAsQuoted},{soFar}+{quoted}*(1-{done}),{soFar}/{done})
 * @source Earned value (ANSI/EIA-748): estimate at completion, from the cost performance so far or with the rest at budget.
 * @words forecast earned value EAC estimate progress log
 */
export const ATCOMPLETION = define(
  { label: "Hours or money when the job is done" },
  [
    count("quoted", "Hours or money quoted for all of it", FROM_0),
    count("soFar", "Hours or money taken so far", FROM_0),
    share("done", "Share of it that is done", SHARE),
    yesNo("restAsQuoted", "Whether the rest goes as quoted, not at the pace so far"),
  ],
  () => atCompletion,
);

/** Jobs that are alike in something. */
export interface JobGroup {
  readonly value: string;
  readonly logRatios: ArrayLike<number>;
}
export type GroupCalibration = Pick<Calibration, "factor" | "low" | "high" | "jobs"> & {
  readonly value: string;
  /** How much of the factor is that of all jobs, a fraction. */
  readonly borrowed: number;
};

/** Factors by group, where groups of few jobs borrow from all. */
export function calibrateGroups(groups: readonly JobGroup[], confidence: number): GroupCalibration[] {
  const jobs = groups.reduce((all, { logRatios }) => all + logRatios.length, 0);
  if (jobs < LEAST_JOBS) {
    throw noAnswer(`at least ${LEAST_JOBS} jobs must have an estimate, an actual value and a group; got ${jobs}`);
  }
  const degrees = jobs - groups.length;
  // With one job in each there is nothing that tells the groups apart from chance: all are one.
  if (degrees === 0) {
    const all = Float64Array.from(groups, ({ logRatios }) => logRatios[0]!);
    const { factor, low, high } = calibrationOf(all, confidence);
    return groups.map(({ value }) => ({ value, jobs: 1, factor, low, high, borrowed: 1 }));
  }
  const means = groups.map(({ logRatios }) => mean(logRatios));
  const squares = groups.map(({ logRatios }, i) =>
    logRatios.length > 1 ? sampleDeviation(logRatios, means[i]!) ** 2 * (logRatios.length - 1) : 0,
  );
  const within = squares.reduce((all, square) => all + square, 0) / degrees;
  const weights = groups.map(({ logRatios }) => logRatios.length);
  const t = tQuantile((1 + confidence) / 2, degrees);
  return drawnTogether({ means, weights, within }).map(({ center, variance, drawn }, i) => {
    const reach = t * Math.sqrt(variance);
    return {
      value: groups[i]!.value,
      jobs: weights[i]!,
      factor: fromLog(center),
      low: fromLog(center - reach),
      high: fromLog(center + reach),
      borrowed: groups.length > 1 ? drawn : 0,
    };
  });
}

const HEADER = ["group", "jobs", "factor", "low", "high"] as const;

/** The groups in the order in which they are met, whatever their letter case; a job without one is in none. */
function groupsIn(estimated: Raw, actual: Raw, names: any[][]): JobGroup[] {
  const jobs = paired({ estimated, actual });
  if (names.length !== jobs.estimated.length || names[0]!.length !== jobs.estimated[0]!.length) {
    const shape = (cells: any[][]) => `${cells.length} × ${cells[0]!.length} cells`;
    throw badValue(`groups must have the shape of estimated, ${shape(jobs.estimated)}; got ${shape(names)}`);
  }
  const found = new Map<string, { value: string; logRatios: number[] }>();
  const read = (name: keyof Jobs, r: number, c: number): number =>
    readAs(`${name} in ${placeIn(jobs[name], r, c)}`, jobs[name][r]![c], POSITIVE);
  names.forEach((row, r) => {
    row.forEach((cell, c) => {
      const value = isFilled(cell) ? String(cell).trim() : "";
      if (value === "" || !isFinished(jobs, r, c)) return;
      const key = value.toLowerCase();
      const group = found.get(key) ?? { value, logRatios: [] };
      found.set(key, group);
      group.logRatios.push(logRatio(read("estimated", r, c), read("actual", r, c)));
    });
  });
  return [...found.values()];
}

/**
 * How actual results compare with estimates by group, such as bond or slab; groups of few jobs borrow from all.
 * @remarks A header row, then a row for each group in the order of the list. A group's factor is drawn toward that of all jobs by as much as its jobs are few and the groups alike; with one job in each, all have the same. A job with a blank or a 0, or without a group, is skipped; letter case doesn't count. With fewer than 2 jobs there is no answer, #NUM!.
 * @example =GRIT.CALIBRATEBY({10;10;10;10;10;10},{12;13;11;8;9;10},{"metal";"metal";"metal";"resin";"resin";"resin"}) → {"group","jobs","factor","low","high";"metal",3,1.1838902574899552,1.0485968735935205,1.336639634425373;"resin",3,0.9063692159136271,0.8027905628208143,1.0233119241827036} | library: scipy 1.17.1, stats.t, with the definition written out in Python
 * @example =GRIT.CALIBRATEBY({10;10},{8;12.5},{"metal";"resin"},0.5) → {"group","jobs","factor","low","high";"metal",1,1,0.8,1.25;"resin",1,1,0.8,1.25} | hand: one job in each, so both have the mean of ln 0.8 and ln 1.25, 0; t(0.75, 1) = 1, and s / √2 = ln 1.25
 * @fails =GRIT.CALIBRATEBY({10;20},{12;24},{"metal"}) → #VALUE! groups must have the shape of estimated, 2 × 1 cells; got 1 × 1 cells
 * @fails =GRIT.CALIBRATEBY({10;20},{12;""},{"metal";"resin"}) → #NUM! at least 2 jobs must have an estimate, an actual value and a group; got 1
 * @plain none: a row for each group that the list turns out to have
 * @source Random-effects means of log ratios: DerSimonian and Laird (1986); intervals after Morris (1983), Student's t.
 * @words history estimate accuracy bond slab machine shrink
 */
export const CALIBRATEBY = define(
  { label: "A header row, then group, jobs, factor (multiply estimates by it), low and high (its interval)" },
  [
    list(count("estimated", "Estimate for each past job (hours, cost or any one quantity)", ABOVE_0, PASSED_OVER)),
    list(count("actual", "Actual result of each job, in the same unit and shape as estimated", ABOVE_0, PASSED_OVER)),
    rangeOf(
      "groups",
      "Group of each job, such as its bond, slab or machine",
      "words or numbers in the shape of estimated",
      (given) => block("groups", given as Raw),
      { note: "a job with a blank is skipped" },
    ),
    oneCell(share("confidence", "Confidence of the interval", CONFIDENCE, { omitted: 0.9 })),
  ],
  (estimated, actual, groups, confidence) => {
    const rows = calibrateGroups(groupsIn(estimated, actual, groups), confidence);
    return [[...HEADER], ...rows.map(({ value, jobs, factor, low, high }) => [value, jobs, factor, low, high])];
  },
);
