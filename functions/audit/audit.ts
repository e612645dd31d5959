/** What past jobs show together: where the margin went, how fast the work really was, and how estimates turned out. */
import { CellFailure } from "../answer";
import {
  actualAreaRate,
  type Calibration,
  calibrationOf,
  costOfRate,
  costOfUsage,
  logRatio,
  outlierTest,
} from "../jobs";
import { type Month, monthsOf } from "./by-time";
import type { Job, Pair } from "./check";
import {
  HARDNESS_CLASSES,
  type HardnessClass,
  hardnessClass,
  INTERVAL_CONFIDENCE,
  LEAST_FOR_INTERVAL,
} from "./classes";
import { PAIRS, type PairKey } from "./fields";
import type { Mapping } from "./headings";

/** Where margin is lost or won. Other is a changed price, machines, and whatever is not recorded. */
export const CAUSES = {
  rate: "Labor rate",
  hours: "Labor hours",
  toolUse: "Tooling use",
  toolPrice: "Tooling price",
  liquids: "Liquids",
  other: "Other",
} as const;
export type Cause = keyof typeof CAUSES;
export const CAUSE_KEYS = Object.keys(CAUSES) as Cause[];
/** The pairs that a list must have for a cause to be known. */
const CAUSE_PAIRS: Readonly<Record<Cause, readonly PairKey[]>> = {
  rate: ["hours", "rate"],
  hours: ["hours", "rate"],
  toolUse: ["sets", "setPrice"],
  toolPrice: ["sets", "setPrice"],
  liquids: ["liquids"],
  other: [],
};
/** Whether a list with these headings has what a cause is made of. */
export const hasCause = (mapping: Mapping, cause: Cause): boolean =>
  CAUSE_PAIRS[cause].every((pair) => PAIRS[pair].every((key) => mapping[key] !== undefined));
/** Money by cause; above 0 it was lost. */
export type FadeParts = Readonly<Record<Cause, number>>;

/** How fast the work was and how long tools lasted on slabs of a hardness, by bond. */
interface RateGroup {
  /** "" where not recorded. */
  readonly bond: string;
  readonly hardness: HardnessClass | "";
  readonly jobs: number;
  /** Floor of one pass in an hour, ft²/h | m²/h; undefined where not recorded. */
  readonly areaRate?: number;
  /** Floor of one pass that a set of tools lasted, ft² | m²; undefined where not recorded. */
  readonly toolLife?: number;
}

/** Why a group of jobs has no calibration: too few jobs, or what the calibration itself said. */
export type WhyNot =
  | { readonly kind: "tooFew"; readonly jobs: number; readonly least: number }
  | { readonly kind: "failed"; readonly message: string };

/** Jobs alike in one respect: how their hours turned out against the quote. */
export interface CalibrationGroup {
  readonly by: "all" | "bond" | "hardness" | "machine";
  /** The bond, hardness class or machine; "" for all. */
  readonly value: string;
  /** Jobs with hours both quoted and actual. */
  readonly jobs: number;
  readonly logRatios: readonly number[];
  readonly calibration?: Calibration;
  readonly whyNot?: WhyNot;
  /** Jobs among them whose hours are out of line with those of all jobs. */
  readonly marked: number;
  /** The factor of the others; undefined where none is marked, or too few are left. */
  readonly without?: number;
}

export interface Audit {
  readonly jobs: number;
  /** Money. */
  readonly price: Pair;
  readonly cost: Pair;
  /** Fraction of the price; undefined without jobs. */
  readonly margin?: Pair;
  /** Money by which the jobs earned less than quoted, each job's rounded to the cent; below 0 they earned more. */
  readonly fade: { readonly whole: number; readonly parts: FadeParts };
  /** Jobs that have the figures of each cause; what the others lost by it is under other. */
  readonly recorded: Readonly<Record<Cause, number>>;
  /** Jobs that lack a cause which the list has for others, and the money of theirs that is under other for now. */
  readonly unrecorded: { readonly jobs: number; readonly other: number };
  readonly rates: readonly RateGroup[];
  /** Rows of the jobs whose hours are out of line with the others. */
  readonly outliers: readonly number[];
  readonly groups: readonly CalibrationGroup[];
  /** By when they were finished, where the list says so. */
  readonly months: readonly Month[];
}

/** Whole cents, halves away from 0; 4 units in the last place make up for the half that a double fell short of. */
const cents = (money: number) => Math.sign(money) * Math.round(Math.abs(money) * 100 * (1 + 4 * Number.EPSILON)) + 0;

/** The fade by cause in whole cents, in which sums are exact; other is what the recorded causes leave of the whole. */
function fadeInCents({ price, cost, hours, rate, sets, setPrice, liquids }: Job): FadeParts {
  const whole = cents(price.quoted - cost.quoted - (price.actual - cost.actual));
  const byRate = hours && rate ? cents(costOfRate(rate.actual, rate.quoted, hours.actual)) : 0;
  const byHours = hours && rate ? cents(costOfUsage(hours.actual, hours.quoted, rate.quoted)) : 0;
  const byUse = sets && setPrice ? cents(costOfUsage(sets.actual, sets.quoted, setPrice.quoted)) : 0;
  const byPrice = sets && setPrice ? cents(costOfRate(setPrice.actual, setPrice.quoted, sets.actual)) : 0;
  const byLiquids = liquids ? cents(liquids.actual - liquids.quoted) : 0;
  const other = whole - byRate - byHours - byUse - byPrice - byLiquids;
  return { rate: byRate, hours: byHours, toolUse: byUse, toolPrice: byPrice, liquids: byLiquids, other };
}

const inMoney = (parts: FadeParts) =>
  Object.fromEntries(CAUSE_KEYS.map((cause) => [cause, parts[cause] / 100])) as Record<Cause, number>;

/** What a job earned less than quoted, by cause: money, each part to the cent, the parts together the whole to the cent. */
export const fadeParts = (job: Job): FadeParts => inMoney(fadeInCents(job));

function sumOf<T>(items: readonly T[], amount: (item: T) => number): number {
  return items.reduce((total, item) => total + amount(item), 0);
}

const bothSides = (jobs: readonly Job[], pair: "price" | "cost"): Pair => ({
  quoted: sumOf(jobs, (job) => job[pair].quoted),
  actual: sumOf(jobs, (job) => job[pair].actual),
});

interface Group<V extends string = string> {
  /** "" where not recorded. */
  readonly value: V;
  readonly jobs: readonly Job[];
}

/** Upper and lower case are one, as in the spreadsheet's own comparisons; in the order of the alphabet, "" last. */
function byWord(jobs: readonly Job[], word: "bond" | "machine"): Group[] {
  const groups = new Map<string, { value: string; jobs: Job[] }>();
  for (const job of jobs) {
    const value = job[word] ?? "";
    const group = groups.get(value.toLowerCase());
    if (group) group.jobs.push(job);
    else groups.set(value.toLowerCase(), { value, jobs: [job] });
  }
  const last = ({ value }: Group) => Number(value === "");
  return [...groups.values()].sort((a, b) => last(a) - last(b) || a.value.localeCompare(b.value, "en"));
}

const byHardness = (jobs: readonly Job[]): Group<HardnessClass | "">[] =>
  [...HARDNESS_CLASSES, "" as const]
    .map((value) => ({ value, jobs: jobs.filter((job) => hardnessClass(job.hardness) === value) }))
    .filter((group) => group.jobs.length > 0);

/** Floor worked, passes counted, over what it took, of the jobs that have both. */
function worked(jobs: readonly Job[], taken: (job: Job) => number | undefined): number | undefined {
  const recorded = jobs.filter((job) => job.area !== undefined && taken(job) !== undefined);
  const floor = sumOf(recorded, (job) => job.area! * job.passes);
  const total = sumOf(recorded, (job) => taken(job)!);
  return total > 0 ? actualAreaRate(floor, total) : undefined;
}

const ratesOf = (jobs: readonly Job[]): RateGroup[] =>
  byWord(jobs, "bond").flatMap(({ value: bond, jobs: ofBond }) =>
    byHardness(ofBond).map(({ value: hardness, jobs: members }) => ({
      bond,
      hardness,
      jobs: members.length,
      areaRate: worked(members, (job) => job.hours?.actual),
      toolLife: worked(members, (job) => job.sets?.actual),
    })),
  );

/** Modified z-score beyond which a job is out of line, that of OUTLIERS. */
const OUTLIER_LIMIT = 3.5;

type Timed = Job & { readonly hours: Pair };
const timed = (jobs: readonly Job[]) => jobs.filter((job): job is Timed => job.hours !== undefined);
const hoursRatio = ({ hours }: Timed) => logRatio(hours.quoted, hours.actual);

function calibrationGroup(
  by: CalibrationGroup["by"],
  { value, jobs }: Group,
  outliers: ReadonlySet<number>,
): CalibrationGroup {
  const members = timed(jobs);
  const logRatios = members.map(hoursRatio);
  const others = members.filter(({ row }) => !outliers.has(row));
  const group = { by, value, jobs: logRatios.length, logRatios, marked: members.length - others.length };
  if (logRatios.length < LEAST_FOR_INTERVAL) {
    return { ...group, whyNot: { kind: "tooFew", jobs: logRatios.length, least: LEAST_FOR_INTERVAL } };
  }
  try {
    const calibration = calibrationOf(logRatios, INTERVAL_CONFIDENCE);
    if (group.marked === 0 || others.length < LEAST_FOR_INTERVAL) return { ...group, calibration };
    return { ...group, calibration, without: calibrationOf(others.map(hoursRatio), INTERVAL_CONFIDENCE).factor };
  } catch (failure) {
    if (failure instanceof CellFailure) return { ...group, whyNot: { kind: "failed", message: failure.message } };
    throw failure;
  }
}

function* calibrationGroups(jobs: readonly Job[], outliers: ReadonlySet<number>): Steps<CalibrationGroup[]> {
  const groups = [calibrationGroup("all", { value: "", jobs }, outliers)];
  const alike = { bond: byWord(jobs, "bond"), hardness: byHardness(jobs), machine: byWord(jobs, "machine") };
  for (const by of ["bond", "hardness", "machine"] as const) {
    for (const group of alike[by]) {
      yield;
      if (group.value !== "") groups.push(calibrationGroup(by, group, outliers));
    }
  }
  return groups;
}

function outlierRows(jobs: readonly Job[]): number[] {
  const compared = timed(jobs);
  if (compared.length === 0) return [];
  const standsOut = outlierTest(compared.map(hoursRatio), OUTLIER_LIMIT);
  return compared.filter((job) => standsOut(hoursRatio(job))).map((job) => job.row);
}

/** Whether a job has what a cause is made of. */
const HAS: Readonly<Record<Cause, (job: Job) => unknown>> = {
  rate: ({ hours, rate }) => hours && rate,
  hours: ({ hours, rate }) => hours && rate,
  toolUse: ({ sets, setPrice }) => sets && setPrice,
  toolPrice: ({ sets, setPrice }) => sets && setPrice,
  liquids: (job) => job.liquids,
  other: () => true,
};

function unrecordedBy(jobs: readonly Job[], fades: readonly FadeParts[], asked: readonly Cause[]): Audit["unrecorded"] {
  const lacks = jobs.map((job) => asked.some((cause) => !HAS[cause](job)));
  const cents = sumOf(
    fades.filter((_, i) => lacks[i]),
    (fade) => fade.other,
  );
  return { jobs: lacks.filter(Boolean).length, other: cents / 100 };
}

function recordedBy(jobs: readonly Job[]): Record<Cause, number> {
  const count = (cause: Cause) => jobs.filter(HAS[cause]).length;
  const [labor, tooling] = [count("hours"), count("toolUse")];
  return {
    ...{ rate: labor, hours: labor, toolUse: tooling, toolPrice: tooling },
    ...{ liquids: count("liquids"), other: jobs.length },
  };
}

/** Work in short steps, so that between them a page can show its progress, and stop it. */
type Steps<Result> = Generator<undefined, Result>;

/**
 * What the jobs that count show together; of 20,000 jobs no step takes longer than a page may stand still.
 * Without a mapping, the list is taken to have what any of its jobs has.
 */
export function* auditSteps(jobs: readonly Job[], mapping?: Mapping): Steps<Audit> {
  const price = bothSides(jobs, "price");
  const cost = bothSides(jobs, "cost");
  const marginOn = (side: keyof Pair) => (price[side] - cost[side]) / price[side];
  yield;
  const fades = jobs.map(fadeInCents);
  yield;
  const totals = CAUSE_KEYS.map((cause) => [cause, sumOf(fades, (fade) => fade[cause])] as const);
  const parts = Object.fromEntries(totals) as Record<Cause, number>;
  yield;
  const recorded = recordedBy(jobs);
  const asked = CAUSE_KEYS.filter((cause) => (mapping ? hasCause(mapping, cause) : recorded[cause] > 0));
  yield;
  const rates = ratesOf(jobs);
  yield;
  const outliers = outlierRows(jobs);
  yield;
  const groups = yield* calibrationGroups(jobs, new Set(outliers));
  return {
    jobs: jobs.length,
    price,
    cost,
    margin: jobs.length > 0 ? { quoted: marginOn("quoted"), actual: marginOn("actual") } : undefined,
    recorded,
    unrecorded: unrecordedBy(jobs, fades, asked),
    fade: { whole: sumOf(totals, ([, total]) => total) / 100, parts: inMoney(parts) },
    rates,
    outliers,
    groups,
    months: monthsOf(jobs),
  };
}

/** The same in one go. */
export function auditOf(jobs: readonly Job[], mapping?: Mapping): Audit {
  const steps = auditSteps(jobs, mapping);
  let step = steps.next();
  while (!step.done) step = steps.next();
  return step.value;
}
