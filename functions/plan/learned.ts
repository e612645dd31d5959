/** What past jobs say of a plan: the hours to count on, and the price that hangs on them. */
import { hoursLike } from "../jobs";
import { priceAtMargin } from "../price";
import type { Estimate } from "./estimate";
import type { Inputs } from "./inputs";

export interface Learned {
  /** Hours that the stages stay within at the plan's confidence, h. */
  hours: number;
  /** Price for those hours, money. */
  price: number;
  /** Prices between which two jobs in three come out, money. */
  low: number;
  high: number;
}

/** One job in six takes less than the low hours, one more than the high: about one standard deviation to both sides. */
const ONE_IN_SIX = 1 / 6;

/**
 * Hours and prices in the light of past jobs, given as log ratios of actual to quoted hours.
 * Crew and machine cost of the stages grow with the hours; tools, liquids and set-up do not.
 */
export function learned(estimate: Estimate, inputs: Inputs, logRatios: readonly number[]): Learned {
  // The estimate was made of these inputs, so the numbers that a price needs are there.
  const { confidence, overhead, contingency, margin, minimum } = inputs;
  const perHour = estimate.rows.reduce((sum, { parts }) => sum + parts.crew + parts.machine, 0) / estimate.hours;
  const priceOf = (hours: number) => {
    const directCost = estimate.directCost + perHour * (hours - estimate.hours);
    return priceAtMargin(directCost * (1 + overhead!) * (1 + contingency!), margin!, minimum!);
  };
  const hoursAt = hoursLike(logRatios);
  const hours = hoursAt(estimate.hours, confidence!);
  return {
    hours,
    price: priceOf(hours),
    low: priceOf(hoursAt(estimate.hours, ONE_IN_SIX)),
    high: priceOf(hoursAt(estimate.hours, 1 - ONE_IN_SIX)),
  };
}
