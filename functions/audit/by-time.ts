/** The margin fade month by month, and whether it moves more than it usually does: a control chart for individuals. */
import { mean } from "../statistics";
import type { Job } from "./check";

/** Mean moving range of two normal observations, in standard deviations: d2 of NIST/SEMATECH e-Handbook 6.3.2.2. */
const MEAN_RANGE = 1.128;
/** Limits are so many standard deviations from the center. */
const REACH = 3;
export const LIMIT_FACTOR = REACH / MEAN_RANGE;

export interface ControlLimits {
  readonly center: number;
  readonly low: number;
  readonly high: number;
}

/** Between which observations in a row stay while nothing has changed; undefined for fewer than two. */
export function controlLimits(observed: readonly number[]): ControlLimits | undefined {
  if (observed.length < 2) return undefined;
  const center = mean(observed);
  const reach = LIMIT_FACTOR * mean(observed.slice(1).map((value, i) => Math.abs(value - observed[i]!)));
  return { center, low: center - reach, high: center + reach };
}

/** Jobs that were finished in a month. */
export interface Month {
  readonly year: number;
  /** From 1. */
  readonly month: number;
  readonly jobs: number;
  /** Money earned less than quoted, over the money charged. */
  readonly fade: number;
}

/** Day 25,569 of a spreadsheet is January 1, 1970. */
const DAYS_BEFORE_1970 = 25_569;
const DAY = 86_400_000;

/** Months with jobs, the last so many. */
export const MOST_MONTHS = 24;

export function monthsOf(jobs: readonly Job[]): Month[] {
  const months = new Map<number, { jobs: number; fade: number; price: number }>();
  for (const { date, price, cost } of jobs) {
    if (date === undefined) continue;
    const day = new Date((Math.floor(date) - DAYS_BEFORE_1970) * DAY);
    const key = 12 * day.getUTCFullYear() + day.getUTCMonth();
    const month = months.get(key) ?? { jobs: 0, fade: 0, price: 0 };
    months.set(key, month);
    month.jobs++;
    month.fade += price.quoted - cost.quoted - (price.actual - cost.actual);
    month.price += price.actual;
  }
  return [...months]
    .sort(([a], [b]) => a - b)
    .slice(-MOST_MONTHS)
    .map(([key, { jobs: count, fade, price }]) => {
      return { year: Math.floor(key / 12), month: (key % 12) + 1, jobs: count, fade: fade / price };
    });
}
