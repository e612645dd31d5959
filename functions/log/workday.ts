/** Working days, Monday to Friday, on days as a sheet counts them: 1 is a Sunday in every spreadsheet's count, and 7 a Saturday. */

const isWeekend = (day: number) => day % 7 <= 1;

/** The day that many working days after a day, as the spreadsheet's own WORKDAY without holidays; the day itself for 0. */
export function workday(from: number, days: number): number {
  let day = Math.floor(from);
  for (let left = days; left > 0; ) {
    day++;
    if (!isWeekend(day)) left--;
  }
  return day;
}

/** A date of the calendar here as a sheet counts it, whatever the time of the day. */
export const dayOf = (date: Date): number =>
  Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / 86_400_000 + 25_569;
