/**
 * When each stage is done, in the crew's working hours since the first morning. A cure runs day and night, so one that is
 * over by the next morning costs no working hours; one that is over during the day leaves the crew waiting until then.
 */
import { HOURS_IN_A_DAY } from "../tables/exposure-limits";

/** Days this close to whole are whole. */
const DECIMALS = 1e9;

/**
 * Working hours when a wait is over that begins at these working hours: the clock goes on at night, work does not.
 * The sheet has the same in a formula (addin/sheet/stage-formulas.ts).
 */
export function afterWait(worked: number, wait: number, hoursADay: number): number {
  const nights = Math.ceil(Math.round((worked / hoursADay) * DECIMALS) / DECIMALS) - 1;
  const clock = worked + (HOURS_IN_A_DAY - hoursADay) * nights + wait;
  const days = Math.floor(clock / HOURS_IN_A_DAY);
  return days * hoursADay + Math.min(hoursADay, clock - days * HOURS_IN_A_DAY);
}

export interface Timed {
  /** Working hours. */
  readonly hours: number;
  /** Between which its hours are shared; there is a wait after each. */
  readonly coats: number;
  /** After each coat, h. */
  readonly wait: number;
}

/** Working hours at which a stage is done that starts at `start`; the wait after its last coat is the next stage's. */
export function doneAt(start: number, { hours, coats, wait }: Timed, hoursADay: number): number {
  if (wait === 0 || coats <= 1) return start + hours;
  const one = hours / coats;
  // From the third coat on each takes as long as one that begins in the morning.
  const further = Math.max(0, coats - 2) * afterWait(one, wait, hoursADay);
  return afterWait(start + one, wait, hoursADay) + further + one;
}
