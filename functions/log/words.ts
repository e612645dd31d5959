/** What a log says of a stage, a floor or the job, in words: the same on the sheet and in the pane. */
import { type System, symbol } from "../units";
import { OFF, offBy, type Progress, type StageProgress } from "./progress";

export const FORECAST_WORDS = {
  notBegun: "not begun",
  noArea: "hours logged, no area yet",
  asQuoted: "about as quoted",
  /** After a percentage. */
  more: "% more hours than quoted",
  fewer: "% fewer hours than quoted",
  done: "done",
  usedUp: "the quoted hours are used up",
  /** Before and after a figure. */
  areaNeeded: ["needs ", " a day"],
  areaSoFar: ["; ", " so far"],
  paceNeeded: ["the rest must go ", " times as fast as quoted"],
  setLasts: "the set lasts",
  setShort: ["won't last: ", " short"],
} as const;

/** As the spreadsheet's own FIXED: with thousands separators, half a unit rounded up. */
const fixed = (x: number, decimals = 0) =>
  x.toLocaleString("en-US", { minimumFractionDigits: decimals, maximumFractionDigits: decimals });

const around = ([before, after]: readonly [string, string], figure: string) => before + figure + after;

/** How far the hours are off what is earned; a tenth either way is not said to be off. */
export function offWords(progress: Progress): string {
  const off = offBy(progress);
  if (off === undefined) return progress.hours.soFar > 0 ? FORECAST_WORDS.noArea : FORECAST_WORDS.notBegun;
  if (Math.abs(off) <= OFF) return FORECAST_WORDS.asQuoted;
  return `${Math.round(100 * Math.abs(off))}${off > 0 ? FORECAST_WORDS.more : FORECAST_WORDS.fewer}`;
}

/** What has to happen for the quoted hours of a stage to hold. */
export function stageNeeds({ share, areaADay, areaADayNeeded }: StageProgress, units: System): string {
  if (share >= 1) return FORECAST_WORDS.done;
  if (areaADayNeeded === undefined) return FORECAST_WORDS.usedUp;
  const area = (x: number) => `${fixed(x)} ${symbol("floorArea", units)}`;
  const soFar = areaADay === undefined ? "" : around(FORECAST_WORDS.areaSoFar, area(areaADay));
  return around(FORECAST_WORDS.areaNeeded, area(areaADayNeeded)) + soFar;
}

/** The same of a floor or of the whole job, which have no one area. */
export function sumNeeds({ share, paceNeeded }: Progress): string {
  if (share >= 1) return FORECAST_WORDS.done;
  return paceNeeded === undefined ? FORECAST_WORDS.usedUp : around(FORECAST_WORDS.paceNeeded, fixed(paceNeeded, 2));
}

/** Whether the tools on the machine last; empty while no wear is known. */
export function toolWords({ tools }: StageProgress, units: System): string {
  if (!tools) return "";
  if (tools.short <= 0) return FORECAST_WORDS.setLasts;
  return around(FORECAST_WORDS.setShort, `${fixed(tools.short)} ${symbol("floorArea", units)}`);
}
