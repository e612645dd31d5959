/**
 * A price shared out in whole cents by the largest remainder: each gets the whole cents of its exact share, and the cents
 * left go to those whose share lost most, the first of equals first. The shares always sum to the price.
 */

/** Shares this close to whole cents are whole: binary arithmetic leaves less than that. */
const DECIMALS = 1e6;
const rounded = (x: number) => Math.round(x * DECIMALS) / DECIMALS;

/** What each gets, in cents, in proportion to its weight; nothing where no weight is above 0. */
export function centsByWeight(cents: number, weights: readonly number[]): number[] {
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  if (!(total > 0)) return weights.map(() => 0);
  const exact = weights.map((weight) => rounded((cents * weight) / total));
  const whole = exact.map(Math.floor);
  const lost = exact.map((share, i) => rounded(share - whole[i]!));
  const left = cents - whole.reduce((sum, share) => sum + share, 0);
  const inOrder = weights.map((_, i) => i).sort((a, b) => lost[b]! - lost[a]! || a - b);
  const luckier = new Set(inOrder.slice(0, left));
  return whole.map((share, i) => share + (luckier.has(i) ? 1 : 0));
}

/** The same in money. */
export const sharesOf = (price: number, weights: readonly number[]): number[] =>
  centsByWeight(Math.round(price * 100), weights).map((cents) => cents / 100);
