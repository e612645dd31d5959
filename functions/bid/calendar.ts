/** Days that are worked: so many of each week, from Monday on. A day is the number that a spreadsheet has for its date. */

const DAYS_IN_A_WEEK = 7;

/** 1 on a Monday, 7 on a Sunday: day 2 of every spreadsheet's count of days was a Monday. */
const weekdayOf = (day: number) => ((((day - 2) % DAYS_IN_A_WEEK) + DAYS_IN_A_WEEK) % DAYS_IN_A_WEEK) + 1;

/** The date of a working day, counted from 0 at the start; a start on a day off moves to the next Monday. */
export function workingDay(start: number, count: number, daysAWeek: number): number {
  const weekday = weekdayOf(start);
  const isOff = weekday > daysAWeek;
  const first = isOff ? start + DAYS_IN_A_WEEK + 1 - weekday : start;
  const since = (isOff ? 0 : weekday - 1) + count;
  return first + count + (DAYS_IN_A_WEEK - daysAWeek) * Math.floor(since / daysAWeek);
}
