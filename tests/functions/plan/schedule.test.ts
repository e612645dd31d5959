/** Cures as waits between stages, in the crew's working hours. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { afterWait, doneAt } from "../../../functions/plan/schedule";
import { reference } from "../../helpers";

describe("after a wait, work goes on", () => {
  it.each([
    ["at once where there is none", 5, 0, 5],
    ["the next morning after 12 h from the end of a day: the night has 16", 8, 12, 8],
    ["the next morning after 12 h from midday, and the afternoon is lost", 4, 12, 8],
    ["4 h later on the same day", 2, 4, 6],
    ["at the end of the next day after 24 h from the end of a day", 8, 24, 16],
    ["a day and an hour of work later after 25 h from the first hour", 1, 25, 10],
    ["at the end of the third day after two nights and the day between", 8, 48, 24],
  ])("%s (hand, days of 8 h)", (_, worked, wait, then) => {
    expect(afterWait(worked, wait, 8)).toBeCloseTo(then, 9);
  });

  /** The clock turned in quarter hours: it is work while the hour of the day is below the day's length. */
  function byTheClock(worked: number, wait: number, day: number): number {
    const isWork = (quarter: number) => quarter % 96 < day * 4;
    let [quarter, done] = [0, 0];
    while (done < worked * 4) if (isWork(quarter++)) done++;
    for (let left = wait * 4; left > 0; left--) if (isWork(quarter++)) done++;
    return done / 4;
  }

  it("as a clock that is turned by quarter hours has it (simulation)", () => {
    const quarters = (most: number, least = 0) => fc.integer({ min: least * 4, max: most * 4 }).map((n) => n / 4);
    fc.assert(
      fc.property(quarters(60, 0.25), quarters(80), quarters(24, 1), (worked, wait, day) => {
        expect(afterWait(worked, wait, day)).toBeCloseTo(byTheClock(worked, wait, day), 9);
      }),
    );
  });
});

describe("a stage of several coats", () => {
  reference("waits between them", "hand: 2 h, 4 h of wait, 2 h more", () => {
    expect(doneAt(0, { hours: 4, coats: 2, wait: 4 }, 8)).toBe(8);
  });
  reference(
    "takes a morning each where they cure overnight",
    "hand: 2 h on each of three mornings of 8 h days: 8 + 8 + 2",
    () => expect(doneAt(0, { hours: 6, coats: 3, wait: 12 }, 8)).toBe(18),
  );
  reference("takes its hours alone where nothing cures", "hand: 3 + 6", () => {
    expect(doneAt(3, { hours: 6, coats: 3, wait: 0 }, 8)).toBe(9);
  });
});
