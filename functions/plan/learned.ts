/** What past jobs say of a plan: the hours to count on, and the price that hangs on them. */
import { roundUp } from "../cell";
import { type Calibration, hoursBy } from "../jobs";
import { priceAtMargin } from "../price";
import { tQuantile } from "../statistics";
import type { Estimate } from "./estimate";
import type { Inputs } from "./inputs";

export interface Learned {
  /** Hours that the stages stay within at the plan's confidence, h. */
  hours: number;
  /** Days on site, with set-up and clean-up, for those hours. */
  days: number;
  /** Price for those hours, money. */
  price: number;
  /** Prices between which two jobs in three come out, money. */
  low: number;
  high: number;
}

/** One job in six takes less than the low hours, one more than the high: about one standard deviation to both sides. */
const ONE_IN_SIX = 1 / 6;

/** How the hours of past jobs came out against the quoted ones. */
export type Known = Pick<Calibration, "factor" | "spread" | "jobs">;

/** The spread behind a factor's interval, as a sheet shows it: the interval reaches as far to both sides of the factor. */
export function spreadBehind({ low, high, jobs }: Pick<Calibration, "low" | "high" | "jobs">, confidence: number) {
  return (Math.log(high / low) / 2 / tQuantile((1 + confidence) / 2, jobs - 1)) * Math.sqrt(jobs);
}

/**
 * Hours and prices in the light of past jobs.
 * Crew and machine cost of the stages grow with the hours; tools, liquids and set-up do not.
 */
export function learned(estimate: Estimate, inputs: Inputs, { factor, spread, jobs }: Known): Learned {
  // The estimate was made of these inputs, so the numbers that a price needs are there.
  const { confidence, setup, hoursADay, overhead, contingency, margin, minimum } = inputs;
  const perHour = estimate.rows.reduce((sum, { parts }) => sum + parts.crew + parts.machine, 0) / estimate.hours;
  const priceOf = (hours: number) => {
    const directCost = estimate.directCost + perHour * (hours - estimate.hours);
    return priceAtMargin(directCost * (1 + overhead!) * (1 + contingency!), margin!, minimum!);
  };
  const hoursAt = hoursBy({ centre: Math.log(factor), spread, jobs });
  const hours = hoursAt(estimate.hours, confidence!);
  return {
    hours,
    days: roundUp((hours + setup!) / hoursADay!),
    price: priceOf(hours),
    low: priceOf(hoursAt(estimate.hours, ONE_IN_SIX)),
    high: priceOf(hoursAt(estimate.hours, 1 - ONE_IN_SIX)),
  };
}
