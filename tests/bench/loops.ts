/**
 * The loop that a function is held against: the same arithmetic over typed columns, nothing checked, nothing looked at
 * twice, in US units and mesh grits. Where a function works cell by cell, the loop calls the function's own formula; so it
 * measures what the boundary costs, and nothing of the formula. Where a function reads ranges as a whole, reading them is
 * what it does, so its loop is written here from the definition; without one it has no ratio.
 */
import tQuantile from "@stdlib/stats-base-dists-t-quantile";
import type { Catalogued, Parameter } from "../catalogue";

type Numbers = Float64Array;

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

function noiseDose(out: Numbers, levels: Numbers, hours: Numbers, criterion: Numbers, exchange: Numbers) {
  let sum = 0;
  for (let i = 0; i < levels.length; i++) sum += (hours[i]! * 2 ** ((levels[i]! - criterion[0]!) / exchange[0]!)) / 8;
  out[0] = 100 * sum;
}

function dustTwa(out: Numbers, concentrations: Numbers, hours: Numbers) {
  let sum = 0;
  for (let i = 0; i < concentrations.length; i++) sum += concentrations[i]! * hours[i]!;
  out[0] = sum / 8;
}

interface WholeLoop {
  readonly loop: (out: any, ...columns: any[]) => void;
  /** Arguments that take a range, yet have one cell here. */
  readonly single?: readonly string[];
}

/** Where the answers go, then the arguments in their order. */
const WHOLE: Readonly<Record<string, WholeLoop>> = {
  CALIBRATE: { loop: calibrate },
  HOURSAT: { loop: hoursAt, single: ["confidence"] },
  OUTLIERS: { loop: outliers },
  HANDARM: { loop: handArm },
  NOISEDOSE: { loop: noiseDose },
  DUSTTWA: { loop: dustTwa },
};

const isPerCell = ({ takes }: Parameter) => takes === "each";
const isForTheCall = ({ takes }: Parameter) => takes === "call";

const isCellByCell = ({ params }: Catalogued) =>
  params.some(isPerCell) && params.every((parameter) => isPerCell(parameter) || isForTheCall(parameter));

/** Whether there is a loop: not for searches, whose time depends on what there is to search (planning.bench.ts). */
export const hasLoop = (entry: Catalogued) => entry.id in WHOLE || isCellByCell(entry);

/** Whether an argument that takes a range has one cell in the benchmark. */
export const isSingle = ({ id }: Catalogued, { name }: Parameter) => WHOLE[id]?.single?.includes(name) ?? false;

export type Loop = (out: any, ...columns: any[]) => void;

/** The loop of a function that `hasLoop`: where the answers go, then its columns in their order. */
export function loopOf(entry: Catalogued): Loop {
  const { id, params, fn } = entry;
  const whole = WHOLE[id];
  if (whole) return whole.loop;
  const call = fn.args.filter(({ takes }) => takes === "call").map(({ readAll }) => readAll!(undefined));
  const names = params.filter(isPerCell).map(({ name }) => `$${name}`);
  // Source of its own for each, so that V8 makes code of its own for it: one loop for all of them would find the formula
  // anew at every call, and flatter the function.
  const source = `/* ${id} */ for (let i = 0; i < out.length; i++) out[i] = formula(${names.map((name) => `${name}[i]`)});`;
  const run = new Function("out", "formula", ...names, source);
  return (out, ...columns) => run(out, fn.body(...call), ...columns);
}
