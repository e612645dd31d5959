/** The words for what the check of a line finds, as the pane and the questions show them. */
import { isError } from "../audit/job-cells";
import { shown } from "../cell";
import { grouped } from "../plan/field";
import { type System, symbol } from "../units";
import type { CellProblem, Doubt } from "./check";
import { type LogKey, logField } from "./fields";

/** A day as a sheet shows it: "2026-11-30". */
export const dayWords = (day: number): string =>
  new Date((Math.floor(day) - 25_569) * 86_400_000).toISOString().slice(0, 10);

const labelOf = (key: LogKey) => logField(key).label;

/** What is wrong with a cell of a line, and what it may be. */
export function cellWords({ key, wrong }: CellProblem): string {
  const allowed = logField(key).domain?.words ?? "a name";
  if (wrong.kind === "missing") return `${labelOf(key)} is missing. It must be ${allowed}.`;
  const got = isError(wrong.got) ? `the error ${wrong.got}` : shown(wrong.got);
  const next = wrong.meant === undefined ? "" : ` Enter the number ${wrong.meant}.`;
  return `${labelOf(key)} must be ${allowed}; got ${got}.${next}`;
}

/** Nobody reads more digits of a figure that was worked out. */
const figure = (x: number) => grouped(Number(x.toPrecision(6)));

/** What of a line is likely a typing error. */
export function doubtWords(doubt: Doubt, units: System): string {
  switch (doubt.kind) {
    case "unknownFloor":
      return `The job has no floor “${doubt.floor}”.`;
    case "unknownStage":
      return `“${doubt.floor}” has no stage “${doubt.stage}”.`;
    case "areaLeft": {
      const unit = symbol("floorArea", units);
      return `${figure(doubt.area)} ${unit} is more than the ${figure(doubt.left)} ${unit} left of ${doubt.stage}, each pass counted.`;
    }
    case "dayHours":
      return `That makes ${figure(doubt.hours)} crew hours on this floor that day; the plan's day has ${figure(doubt.hoursADay)}.`;
    case "future":
      return `${dayWords(doubt.date)} is in the future.`;
    case "beforeStart":
      return `${dayWords(doubt.date)} is before the start, ${dayWords(doubt.start)}.`;
    case "heightGrew":
      return `Segments grew from ${figure(doubt.before)} to ${figure(doubt.height)} mm, but no new set was fitted.`;
  }
}
