import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { workingDay } from "../../../functions/bid/calendar";

/** Excel's day 25569 is January 1, 1970. */
const dateOf = (day: number) => new Date((day - 25_569) * 86_400_000);
const isWorked = (day: number, daysAWeek: number) => ((dateOf(day).getUTCDay() + 6) % 7) + 1 <= daysAWeek;

/** Counted on the calendar, day by day. */
function counted(start: number, count: number, daysAWeek: number): number {
  let day = start;
  while (!isWorked(day, daysAWeek)) day++;
  for (let left = count; left > 0; left--) {
    do day++;
    while (!isWorked(day, daysAWeek));
  }
  return day;
}

describe("a working day", () => {
  it("is the one on the calendar", () => {
    const start = fc.integer({ min: 40_000, max: 60_000 });
    fc.assert(
      fc.property(start, fc.integer({ min: 0, max: 300 }), fc.integer({ min: 1, max: 7 }), (from, count, days) => {
        expect(workingDay(from, count, days)).toBe(counted(from, count, days));
      }),
    );
  });

  it("passes over a weekend, or only its Sunday", () => {
    // December 11, 2026 is a Friday.
    expect(dateOf(workingDay(46_367, 1, 5)).toISOString()).toMatch(/^2026-12-14/);
    expect(dateOf(workingDay(46_367, 1, 6)).toISOString()).toMatch(/^2026-12-12/);
    expect(dateOf(workingDay(46_367, 2, 6)).toISOString()).toMatch(/^2026-12-14/);
  });
});
