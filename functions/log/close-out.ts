/** A finished job as a row of the list of past jobs, from its bid or plans and its log. */
import type { JobKey } from "../audit/fields";
import type { System } from "../units";
import type { LogLine } from "./fields";
import { progress, type StageProgress } from "./progress";
import type { QuotedStage } from "./stages";

/** What past jobs record of a stage besides its figures. */
export interface ClosingStage extends QuotedStage {
  /** Of its tool; empty for a liquid and for work by the crew alone. */
  readonly bond: string;
  /** Empty for the machine of the plan's inputs, which has no name. */
  readonly machine: string;
  /** People of the crew, and what an hour of one costs, with burden. */
  readonly crew: number;
  readonly wage: number;
}

export interface ClosingFloor {
  readonly floor: string;
  /** ft² | m². */
  readonly area: number;
  readonly machineArea: number;
  /** Mohs; null where nobody has tested it. */
  readonly hardness: number | null;
}

export interface ClosingJob {
  readonly name: string;
  readonly floors: readonly ClosingFloor[];
  readonly stages: readonly ClosingStage[];
  /** Price it was sold at, and the full cost behind it: with overhead and contingency, each a share of what is before it. */
  readonly price: number;
  readonly cost: number;
  readonly overhead: number;
  readonly contingency: number;
}

export type ClosedJob = Partial<Record<JobKey, string | number>>;

const sumOf = <T>(items: readonly T[], of: (item: T) => number) => items.reduce((sum, item) => sum + of(item), 0);

/** Of the stage with most of something; undefined where no stage has any. */
const mostOf = <T>(items: readonly T[], of: (item: T) => number): T | undefined => {
  const most = items.reduce<T | undefined>((best, item) => (of(item) > (best ? of(best) : 0) ? item : best), undefined);
  return most;
};

/**
 * Quoted and actual, side by side. A stage's liquids and tools count as far as the floor is done; what the log doesn't record
 * (setup, trips, extras) costs as quoted, and the contingency is no cost.
 */
export function closedJob(job: ClosingJob, lines: readonly LogLine[], actualPrice: number, units: System): ClosedJob {
  const { stages } = progress(job.stages, lines, 0, units);
  const own = stages.map((stage, i) => ({ ...stage, closing: job.stages[i]! }));
  const withTools = own.filter(({ closing }) => closing.bond !== "");
  const machineArea = sumOf(job.floors, (floor) => floor.machineArea);
  const largest = mostOf(job.floors, ({ area }) => area);
  const people = (hours: (stage: StageProgress) => number) => sumOf(own, (stage) => hours(stage) * stage.closing.crew);
  const [quotedHours, actualHours] = [people(({ hours }) => hours.quoted), people(({ hours }) => hours.soFar)];
  const wages = (hours: (stage: StageProgress) => number) =>
    sumOf(own, (stage) => hours(stage) * stage.closing.crew * stage.closing.wage);
  const [quotedSets, actualSets] = [sumOf(own, ({ quote }) => quote.setsUsed), sumOf(own, ({ setsWorn }) => setsWorn)];
  const setPrice = quotedSets > 0 ? sumOf(own, ({ quote }) => quote.toolingCost) / quotedSets : 0;
  const more = sumOf(own, ({ cost }) => cost.soFar - cost.quoted);
  const direct = job.cost / ((1 + job.overhead) * (1 + job.contingency));
  const known: Partial<Record<JobKey, string | number | null | undefined>> = {
    job: job.name,
    date: lines.length > 0 ? Math.max(...lines.map(({ date }) => Math.floor(date))) : undefined,
    area: sumOf(job.floors, ({ area }) => area),
    passes: machineArea > 0 ? sumOf(withTools, ({ done }) => done) / machineArea : undefined,
    bond: mostOf(withTools, ({ hours }) => hours.soFar)?.closing.bond,
    hardness: largest?.hardness,
    machine: mostOf(own, ({ machineHours }) => machineHours)?.closing.machine,
    quotedPrice: job.price,
    actualPrice,
    quotedCost: job.cost,
    actualCost: (direct + more) * (1 + job.overhead),
    quotedHours,
    actualHours,
    quotedRate: quotedHours > 0 ? wages(({ hours }) => hours.quoted) / quotedHours : undefined,
    actualRate: actualHours > 0 ? wages(({ hours }) => hours.soFar) / actualHours : undefined,
    quotedSets,
    actualSets,
    quotedSetPrice: setPrice,
    actualSetPrice: setPrice,
    quotedLiquids: sumOf(own, ({ quote }) => quote.liquidsCost),
    actualLiquids: sumOf(own, ({ quote, share }) => share * quote.liquidsCost),
  };
  const filled = Object.entries(known).filter(([, value]) => value !== undefined && value !== null && value !== "");
  return Object.fromEntries(filled.map(([key, value]) => [key, typeof value === "number" ? rounded(value) : value]));
}

/** A hundredth is more than anybody measures; a sum of fractions has no end. */
const rounded = (x: number) => Math.round(x * 100) / 100;
