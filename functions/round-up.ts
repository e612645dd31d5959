/** Rounds up to a whole number, ignoring an excess below 1e-9 relative: 4.2 / 0.7 is 6, not 7. */
export function roundUp(x: number): number {
  const nearest = Math.round(x);
  return Math.abs(x - nearest) <= 1e-9 * Math.max(1, Math.abs(x)) ? nearest : Math.ceil(x);
}
