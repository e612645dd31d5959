/** A plan calibrated by past jobs: the hours to count on, and the price that follows from them. */
import { type Calibration, hoursBy } from "../jobs";
import { roundUp } from "../round-up";
import { tQuantile } from "../statistics";
import type { Estimate } from "./estimate";
import type { Inputs } from "./inputs";
import { costOf, priceOf } from "./price-chain";

export interface Calibrated {
  /** Hours that the stages stay within at the plan's confidence, h. */
  hours: number;
  /** Days on site, with setup and cleanup, for those hours. */
  days: number;
  /** Price for those hours, money. */
  price: number;
  /** Prices between which two jobs in three come out, money. */
  low: number;
  high: number;
}

/** One job in so many takes less than the low hours, one more than the high: about one standard deviation to both sides. */
export const ONE_IN = 6;

/** How the hours of past jobs came out against the quoted ones. */
export type HoursRatio = Pick<Calibration, "factor" | "spread" | "jobs">;

/** The spread behind a factor's interval, as a sheet shows it: the interval reaches as far to both sides of the factor. */
export function spreadBehind({ low, high, jobs }: Pick<Calibration, "low" | "high" | "jobs">, confidence: number) {
  return (Math.log(high / low) / 2 / tQuantile((1 + confidence) / 2, jobs - 1)) * Math.sqrt(jobs);
}

/**
 * Hours and prices as past jobs make them likely.
 * Crew and machine cost of the stages grow with the hours; tools, liquids and setup do not.
 */
export function calibrated(estimate: Estimate, inputs: Inputs, { factor, spread, jobs }: HoursRatio): Calibrated {
  // The estimate was made of these inputs, so the numbers that a price needs are there.
  const { confidence, setup, hoursADay } = inputs;
  const perHour = estimate.rows.reduce((sum, { parts }) => sum + parts.crew + parts.machine, 0) / estimate.hours;
  const priceFor = (hours: number) =>
    priceOf(costOf(estimate.directCost + perHour * (hours - estimate.hours), inputs), inputs);
  const hoursAt = hoursBy({ center: Math.log(factor), spread, jobs });
  const hours = hoursAt(estimate.hours, confidence!);
  return {
    hours,
    // Cures take the working hours that they take in the plan.
    days: roundUp((hours + setup! + estimate.waits) / hoursADay!),
    price: priceFor(hours),
    low: priceFor(hoursAt(estimate.hours, 1 / ONE_IN)),
    high: priceFor(hoursAt(estimate.hours, 1 - 1 / ONE_IN)),
  };
}
