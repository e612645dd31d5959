/**
 * The check of a line of the log. What can't be right is a problem of its cell; what is likely a typing error is asked about, and
 * taken all the same.
 */

import { fits, isEmpty, numberMeant, trimmed } from "../audit/job-cells";
import { isBlank } from "../cell";
import { LOG_KEYS, type LogKey, type LogLine, logField, sameName } from "./fields";
import type { QuotedStage } from "./stages";

/** What is wrong with a cell. `meant` is the number that a text was likely meant to be. */
type WrongCell =
  | { readonly kind: "missing" }
  | { readonly kind: "badValue"; readonly got: unknown; readonly meant?: number };

export interface CellProblem {
  readonly key: LogKey;
  readonly wrong: WrongCell;
}

/** A line from cells that stand under its fields; or what is wrong with them. */
export function readLine(cells: Readonly<Partial<Record<LogKey, unknown>>>): LogLine | readonly CellProblem[] {
  const problems: CellProblem[] = [];
  for (const key of LOG_KEYS) {
    const field = logField(key);
    const got = cells[key];
    if (isEmpty(field, got)) {
      if (field.required) problems.push({ key, wrong: { kind: "missing" } });
      continue;
    }
    if (fits(field, got)) continue;
    const meant = numberMeant(field, got);
    problems.push({ key, wrong: { kind: "badValue", got, ...(meant !== undefined && { meant }) } });
  }
  if (problems.length > 0) return problems;
  const text = (key: LogKey) => (isBlank(cells[key]) ? "" : trimmed(String(cells[key])));
  const number = (key: LogKey) => (typeof cells[key] === "number" ? (cells[key] as number) : null);
  return {
    date: number("date")!,
    floor: text("floor"),
    stage: text("stage"),
    area: number("area"),
    machineHours: number("machineHours"),
    crewHours: number("crewHours"),
    sets: number("sets"),
    height: number("height"),
    note: text("note"),
  };
}

export const isLine = (read: ReturnType<typeof readLine>): read is LogLine => !Array.isArray(read);

/** What of a line is likely a typing error. */
export type Doubt =
  | { readonly kind: "unknownFloor"; readonly floor: string }
  | { readonly kind: "unknownStage"; readonly floor: string; readonly stage: string }
  | { readonly kind: "areaLeft"; readonly stage: string; readonly area: number; readonly left: number }
  | { readonly kind: "dayHours"; readonly hours: number; readonly hoursADay: number }
  | { readonly kind: "future"; readonly date: number }
  | { readonly kind: "beforeStart"; readonly date: number; readonly start: number }
  | { readonly kind: "heightGrew"; readonly before: number; readonly height: number };

export interface Known {
  readonly stages: readonly QuotedStage[];
  /** Those that are in the log already. */
  readonly lines: readonly LogLine[];
  readonly today: number;
  /** First day of the job; undefined where no bid says it. */
  readonly start: number | undefined;
}

/** Half a millimeter is what two readings of a worn segment may differ by (common practice, no source). */
const READING = 0.5;

export function doubtsOf(line: LogLine, { stages, lines, today, start }: Known): Doubt[] {
  const doubts: Doubt[] = [];
  const onFloor = stages.filter(({ floor }) => sameName(floor, line.floor));
  const quote = onFloor.find(({ stage }) => sameName(stage, line.stage));
  if (onFloor.length === 0) doubts.push({ kind: "unknownFloor", floor: line.floor });
  else if (!quote) doubts.push({ kind: "unknownStage", floor: line.floor, stage: line.stage });
  const before = lines.filter(({ floor }) => sameName(floor, line.floor));
  const ofStage = before.filter(({ stage }) => sameName(stage, line.stage));
  if (quote && line.area !== null) {
    const left = Math.max(0, quote.toDo - ofStage.reduce((sum, { area }) => sum + (area ?? 0), 0));
    if (line.area > left * (1 + 1e-9)) doubts.push({ kind: "areaLeft", stage: quote.stage, area: line.area, left });
  }
  const hoursADay = (quote ?? onFloor[0] ?? stages[0])?.hoursADay ?? 24;
  const onDay = before.filter(({ date }) => Math.floor(date) === Math.floor(line.date));
  const hours = onDay.reduce((sum, { crewHours }) => sum + (crewHours ?? 0), line.crewHours ?? 0);
  if (hours > hoursADay * (1 + 1e-9)) doubts.push({ kind: "dayHours", hours, hoursADay });
  if (line.date >= today + 1) doubts.push({ kind: "future", date: line.date });
  if (start !== undefined && line.date < start) doubts.push({ kind: "beforeStart", date: line.date, start });
  if (line.height !== null && !((line.sets ?? 0) > 0)) {
    const last = ofStage.filter(({ height, date }) => height !== null && date <= line.date).at(-1);
    if (last && line.height > last.height! + READING) {
      doubts.push({ kind: "heightGrew", before: last.height!, height: line.height });
    }
  }
  return doubts;
}

/** The same for the same work written down twice, whatever its note. */
export const workOf = ({ date, floor, stage, area, machineHours, crewHours, sets, height }: LogLine): string =>
  JSON.stringify([date, floor.toLowerCase(), stage.toLowerCase(), area, machineHours, crewHours, sets, height]);
