/**
 * Where a job stands by its log, and where it comes out: by stage, floor and whole job. The Log sheet has the same arithmetic
 * in plain formulas. Terms of earned value (ANSI/EIA-748): earned hours are the quoted hours of what is done.
 */
import { floorLeft, wearOf } from "../tooling";
import type { System } from "../units";
import type { LogLine } from "./fields";
import type { QuotedStage } from "./stages";
import { workday } from "./workday";

/** A quoted amount, what it has taken so far, and what it comes to. */
interface Course {
  readonly quoted: number;
  /** The part of the quoted amount that belongs to what is done. */
  readonly earned: number;
  readonly soFar: number;
  /** What it comes to if the rest goes at the pace so far, and if the rest goes as quoted. */
  readonly atPace: number;
  readonly asQuoted: number;
}

export interface Progress {
  /** Share of the quoted hours that is earned. */
  readonly share: number;
  readonly hours: Course;
  readonly cost: Course;
  /** Working days at the plan's hours a day, at the pace so far. */
  readonly daysLeft: number;
  /**
   * How many times as fast as quoted the rest must go for the quoted hours to hold; undefined where nothing is left to do or
   * no quoted hours are.
   */
  readonly paceNeeded: number | undefined;
}

interface ToolLife {
  /** Last height, mm, and the wear since the set was fitted, mm per 1000 ft² | 100 m². */
  readonly height: number;
  readonly wear: number;
  /** Floor in single pass that the set still does, after what was done since it was measured, ft² | m². */
  readonly left: number;
  /** What the stage needs beyond that; 0 where the set lasts. */
  readonly short: number;
  /** The day on which it is worn out at the pace so far; undefined where it lasts. */
  readonly wornOutOn: number | undefined;
}

export interface StageProgress extends Progress {
  readonly quote: QuotedStage;
  /** Floor done, each pass counted. */
  readonly done: number;
  readonly machineHours: number;
  readonly setsFitted: number;
  readonly setsWorn: number;
  /** Floor a day so far, and needed from here on for the quoted hours to hold; undefined where there is no such pace. */
  readonly areaADay: number | undefined;
  readonly areaADayNeeded: number | undefined;
  /** Undefined while the heights logged show no wear. */
  readonly tools: ToolLife | undefined;
}

interface FloorProgress extends Progress {
  readonly floor: string;
}

export interface JobProgress {
  readonly stages: readonly StageProgress[];
  readonly floors: readonly FloorProgress[];
  readonly job: Progress;
  /** Crew hours logged on no stage of the plans. */
  readonly otherHours: number;
}

/** Above this, worked hours are said to be off the earned ones. */
export const OFF = 0.1;

/** More, or less, than the earned hours were worked: 0.25 is a quarter more. Undefined before anything is earned. */
export const offBy = ({ hours: { earned, soFar } }: Progress): number | undefined =>
  earned > 0 ? soFar / earned - 1 : undefined;

/** A line and its stage have the same. No name holds a line break. */
const keyOf = ({ floor, stage }: { readonly floor: string; readonly stage: string }) =>
  `${floor}\n${stage}`.toLowerCase();

const shareOf = (done: number, { toDo }: QuotedStage) => (toDo > 0 ? Math.min(1, done / toDo) : 0);

const sumOf = <T>(items: readonly T[], of: (item: T) => number | null) =>
  items.reduce((sum, item) => sum + (of(item) ?? 0), 0);

/** By the log's own figures: at the pace so far it is ATCOMPLETION, where that can be said. */
const courseOf = (quoted: number, earned: number, soFar: number): Course => {
  const rest = quoted - earned;
  return {
    quoted,
    earned,
    soFar,
    atPace: earned > 0 ? (soFar * quoted) / earned : quoted + soFar,
    asQuoted: soFar + rest,
  };
};

function progressOf(hours: Course, cost: Course, hoursADay: number): Progress {
  const rest = hours.quoted - hours.earned;
  const left = hours.quoted - hours.soFar;
  return {
    share: hours.quoted > 0 ? hours.earned / hours.quoted : 0,
    hours,
    cost,
    daysLeft: hoursADay > 0 ? (hours.atPace - hours.soFar) / hoursADay : 0,
    paceNeeded: rest > 0 && left > 0 ? rest / left : undefined,
  };
}

/** A part in proportion, or nothing where there is nothing to be in proportion to. */
const inProportion = (part: number, whole: number, amount: number) => (whole > 0 ? (amount * part) / whole : 0);

/**
 * Sets worn by now: in proportion to the floor done, but at least all sets that were fitted except the last, and at most all of
 * them.
 */
function setsWorn(fitted: number, byArea: number): number {
  if (fitted <= 0) return byArea;
  return Math.min(Math.max(byArea, fitted - 1), fitted);
}

/** Lines of a stage, its heights in the order of the days. */
function toolLife(
  lines: readonly LogLine[],
  { toDo }: QuotedStage,
  done: number,
  areaADay: number | undefined,
  minimumHeight: number,
  units: System,
): ToolLife | undefined {
  const fittedOn = Math.max(0, ...lines.filter(({ sets }) => (sets ?? 0) > 0).map(({ date }) => date));
  const measured = lines.filter(({ height, date }) => (height ?? 0) > 0 && date >= fittedOn);
  if (measured.length === 0) return undefined;
  const firstOn = Math.min(...measured.map(({ date }) => date));
  const lastOn = Math.max(...measured.map(({ date }) => date));
  // The day a set is fitted may have the old one's height too, and on the last day the most worn one counts.
  const heightsOn = (day: number) => measured.filter(({ date }) => date === day).map(({ height }) => height!);
  const first = Math.max(...heightsOn(firstOn));
  const height = Math.min(...heightsOn(lastOn));
  const between = sumOf(
    lines.filter(({ date }) => date > firstOn && date <= lastOn),
    ({ area }) => area,
  );
  if (!(between > 0) || height >= first) return undefined;
  const wear = wearOf(first, height, between, 1, units);
  const since = sumOf(
    lines.filter(({ date }) => date > lastOn),
    ({ area }) => area,
  );
  const left = Math.max(0, floorLeft(height, minimumHeight, wear, units) - since);
  const short = Math.max(0, toDo - done - left);
  const lastDay = Math.max(...lines.map(({ date }) => date));
  const days = areaADay ? Math.ceil(left / areaADay - 1e-9) : 0;
  return { height, wear, left, short, wornOutOn: short > 0 ? workday(lastDay, days) : undefined };
}

function stageProgress(
  quote: QuotedStage,
  own: readonly LogLine[],
  minimumHeight: number,
  units: System,
): StageProgress {
  const done = sumOf(own, ({ area }) => area);
  const worked = sumOf(own, ({ crewHours }) => crewHours);
  const machineHours = sumOf(own, (line) => line.machineHours);
  const fitted = sumOf(own, ({ sets }) => sets);
  const share = shareOf(done, quote);
  const worn = setsWorn(fitted, share * quote.setsUsed);
  const tooling =
    quote.setsUsed > 0 ? inProportion(worn, quote.setsUsed, quote.toolingCost) : share * quote.toolingCost;
  const cost = quote.crewCost + quote.machineCost + quote.toolingCost + quote.liquidsCost;
  const soFar =
    inProportion(worked, quote.hours, quote.crewCost) +
    inProportion(machineHours, quote.machineHours, quote.machineCost) +
    tooling +
    share * quote.liquidsCost;
  const hours = courseOf(quote.hours, share * quote.hours, worked);
  const progress = progressOf(hours, courseOf(cost, share * cost, soFar), quote.hoursADay);
  const left = quote.hours - worked;
  const areaADay = worked > 0 && done > 0 ? (done / worked) * quote.hoursADay : undefined;
  return {
    ...progress,
    // What is done is known of a stage by its floor, whatever its hours.
    share,
    quote,
    done,
    machineHours,
    setsFitted: fitted,
    setsWorn: worn,
    areaADay,
    areaADayNeeded: share < 1 && left > 0 ? ((quote.toDo - done) / left) * quote.hoursADay : undefined,
    tools: toolLife(own, quote, done, areaADay, minimumHeight, units),
  };
}

function together(stages: readonly StageProgress[]): Progress {
  const course = (key: "hours" | "cost") =>
    courseOf(
      sumOf(stages, (stage) => stage[key].quoted),
      sumOf(stages, (stage) => stage[key].earned),
      sumOf(stages, (stage) => stage[key].soFar),
    );
  const hours = course("hours");
  const days = sumOf(stages, ({ quote }) => quote.hours / quote.hoursADay);
  return progressOf(hours, course("cost"), days > 0 ? hours.quoted / days : 0);
}

/** `minimumHeight` is the segment height at which a set is changed, mm. */
export function progress(
  quotes: readonly QuotedStage[],
  lines: readonly LogLine[],
  minimumHeight: number,
  units: System,
): JobProgress {
  const ofStage = new Map(quotes.map((quote) => [keyOf(quote), [] as LogLine[]]));
  for (const line of lines) ofStage.get(keyOf(line))?.push(line);
  const stages = quotes.map((quote) => stageProgress(quote, ofStage.get(keyOf(quote))!, minimumHeight, units));
  const floors = [...new Set(quotes.map(({ floor }) => floor))];
  const worked = sumOf(stages, ({ hours }) => hours.soFar);
  return {
    stages,
    floors: floors.map((floor) => ({ floor, ...together(stages.filter(({ quote }) => quote.floor === floor)) })),
    job: together(stages),
    otherHours: sumOf(lines, ({ crewHours }) => crewHours) - worked,
  };
}

/** Hours worked, on whatever stage or on none, and earned up to the end of each logged day. */
export interface DayHours {
  readonly date: number;
  readonly worked: number;
  readonly earned: number;
}

export function hoursByDay(quotes: readonly QuotedStage[], lines: readonly LogLine[]): DayHours[] {
  const stages = new Map(quotes.map((quote) => [keyOf(quote), { quote, done: 0 }]));
  const days: DayHours[] = [];
  let worked = 0;
  for (const line of [...lines].sort((a, b) => a.date - b.date)) {
    worked += line.crewHours ?? 0;
    const stage = stages.get(keyOf(line));
    if (stage) stage.done += line.area ?? 0;
    const earned = sumOf([...stages.values()], ({ quote, done }) => shareOf(done, quote) * quote.hours);
    if (days.at(-1)?.date === line.date) days.pop();
    days.push({ date: line.date, worked, earned });
  }
  return days;
}
