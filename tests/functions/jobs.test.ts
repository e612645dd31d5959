import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ACTUALRATE,
  ATCOMPLETION,
  CALIBRATE,
  CALIBRATEBY,
  calibrationOf,
  HOURSAT,
  logRatio,
  MARGINSLIP,
  OUTLIERS,
  RATEVARIANCE,
  USAGEVARIANCE,
} from "../../functions/jobs";
import { ask, column, error, expectClose, row, valueError } from "../helpers";
import { processorTime } from "../run/processor-time";

const ESTIMATED = column(20, 35, 12, 50, 28);
const ACTUAL = column(23, 33, 15, 61, 30);

/** The values of CALIBRATE by their labels. */
const calibration = (...args: unknown[]): Record<string, number> => Object.fromEntries(ask(CALIBRATE, ...args));

describe("ACTUALRATE", () => {
  it("counts one pass when passes are left out, and needs hours", () => {
    expect(ask(ACTUALRATE, 5000, 8)).toBe(625);
    expect(ask(ACTUALRATE, 5000, 0, 2)).toEqual(valueError("hours is blank or 0; it must be above 0"));
  });

  it("is per unit of the area given, whichever the system", () => {
    expect(ask(ACTUALRATE, 500, 8, 2, "metric")).toBe(125);
    expect(ask(ACTUALRATE, 500, 8, 2, "us")).toBe(125);
  });
});

describe("RATEVARIANCE and USAGEVARIANCE", () => {
  it("together are the whole difference between what was paid and what was quoted", () => {
    const amount = fc.double({ min: 0, max: 1e4, noNaN: true });
    fc.assert(
      fc.property(amount, amount, amount, amount, (paidRate, quotedRate, used, quoted) => {
        const parts = ask(RATEVARIANCE, paidRate, quotedRate, used) + ask(USAGEVARIANCE, used, quoted, quotedRate);
        expect(Math.abs(parts - (paidRate * used - quotedRate * quoted))).toBeLessThanOrEqual(1e-7);
      }),
    );
  });

  it("are below 0 where less was paid or used", () => {
    expect(ask(RATEVARIANCE, 25, 30, 40)).toBe(-200);
    expect(ask(USAGEVARIANCE, 36, 40, 30)).toBe(-120);
  });

  it("refuse a negative quantity in its own row", () => {
    expect(RATEVARIANCE(column(30, 30), [[28]], column(-1, 2))).toEqual([
      [valueError("actualQuantity must be 0 or more; got -1")],
      [4],
    ]);
  });
});

describe("MARGINSLIP", () => {
  it("is below 0 where the job earned more than quoted", () => {
    expectClose(ask(MARGINSLIP, 1000, 800, 1000, 700), -0.1);
  });

  it("refuses a price of 0, before or after", () => {
    expect(ask(MARGINSLIP, 0, 1, 1, 1)).toEqual(valueError("quotedPrice is blank or 0; it must be above 0"));
    expect(ask(MARGINSLIP, 1, 1, 0, 1)).toEqual(valueError("actualPrice is blank or 0; it must be above 0"));
  });
});

describe("CALIBRATE", () => {
  it("gives its five rows in their order", () => {
    expect(ask(CALIBRATE, ESTIMATED, ACTUAL).map(([label]: [string]) => label)).toEqual([
      "factor",
      "low",
      "high",
      "spread",
      "jobs",
    ]);
  });

  it("passes over a job with a blank on either side, however the host passes a blank", () => {
    const whole = calibration(ESTIMATED, ACTUAL);
    for (const blank of [null, "", undefined, 0]) {
      const estimated = column(blank, 20, 35, 99, 12, 50, blank, 28);
      const actual = column(77, 23, 33, blank, 15, 61, blank, 30);
      expect(calibration(estimated, actual)).toEqual(whole);
    }
  });

  it("takes rows and blocks as well as columns", () => {
    const whole = calibration(ESTIMATED, ACTUAL);
    expect(calibration(row(20, 35, 12, 50, 28), row(23, 33, 15, 61, 30))).toEqual(whole);
    const block = (values: unknown[][]) => [values.slice(0, 3).flat(), [...values.slice(3).flat(), null]];
    expect(calibration(block(ESTIMATED), block(ACTUAL))).toEqual(whole);
  });

  it("widens its interval with the confidence, around the same factor", () => {
    const [narrow, wide] = [calibration(ESTIMATED, ACTUAL, 0.5), calibration(ESTIMATED, ACTUAL, 0.99)];
    expect(narrow.factor).toBe(wide.factor);
    expect(wide.low).toBeLessThan(narrow.low!);
    expect(wide.high).toBeGreaterThan(narrow.high!);
    expect(calibration(ESTIMATED, ACTUAL)).toEqual(calibration(ESTIMATED, ACTUAL, 0.9));
  });

  it("of jobs that all slipped alike has no spread", () => {
    const { factor, low, high, spread, jobs } = calibration(column(10, 20, 30), column(12, 24, 36));
    for (const value of [factor, low, high]) expectClose(value, 1.2, 1e-14);
    expect(spread).toBeLessThan(1e-15);
    expect(jobs).toBe(3);
  });

  it("turns around when estimated and actual change places", () => {
    const there = calibration(ESTIMATED, ACTUAL);
    const back = calibration(ACTUAL, ESTIMATED);
    expectClose(back.factor, 1 / there.factor!);
    expectClose(back.low, 1 / there.high!);
    expectClose(back.spread, there.spread!);
  });

  it("does not feel the unit that both are told in", () => {
    const inMinutes = (cells: unknown[][]) => cells.map(([hours]) => [(hours as number) * 60]);
    const { factor, spread } = calibration(inMinutes(ESTIMATED), inMinutes(ACTUAL));
    expectClose(factor, calibration(ESTIMATED, ACTUAL).factor!);
    expectClose(spread, calibration(ESTIMATED, ACTUAL).spread!, 1e-11);
  });

  it("needs two jobs", () => {
    const tooFew = (jobs: number) =>
      error("#NUM!", `at least 2 jobs must have both an estimated and an actual value; got ${jobs}`);
    expect(ask(CALIBRATE, 10, 12)).toEqual(tooFew(1));
    expect(ask(CALIBRATE, column(10, null, 9), column(null, 12, 11))).toEqual(tooFew(1));
    expect(ask(CALIBRATE, column(null, null), column(null, null))).toEqual(tooFew(0));
    expect(calibration(column(10, 10), column(12, 15)).jobs).toBe(2);
  });

  it("tells the place of a bad value", () => {
    const found = (estimated: unknown[][], actual: unknown[][]) => ask(CALIBRATE, estimated, actual);
    expect(found(column(10, 20), column(12, "21 h"))).toEqual(
      valueError('actual in row 2 must be above 0; got the text "21 h"'),
    );
    expect(found(row(10, 20, -3), row(12, 21, 4))).toEqual(valueError("estimated in column 3 must be above 0; got -3"));
    expect(found([row(1, 2)[0]!, row(3, 4)[0]!], [row(1, 2)[0]!, row(3, true)[0]!])).toEqual(
      valueError("actual in row 2, column 2 must be above 0; got TRUE"),
    );
  });

  it("passes an error of its cells on", () => {
    expect(ask(CALIBRATE, column(10, 20), column(12, { code: "#DIV/0!" }))).toMatchObject({ code: "#DIV/0!" });
  });

  it("refuses ranges that do not pair up, and one left out", () => {
    expect(ask(CALIBRATE, column(10, 20, 30), column(12, 21))).toEqual(
      valueError("actual must have the shape of estimated, 3 × 1 cells; got 2 × 1 cells"),
    );
    expect(ask(CALIBRATE, column(10, 20), row(12, 21))).toEqual(
      valueError("actual must have the shape of estimated, 2 × 1 cells; got 1 × 2 cells"),
    );
    expect(ask(CALIBRATE, ESTIMATED, undefined)).toEqual(
      valueError("actual is missing; it must be a range of numbers above 0"),
    );
  });

  it("refuses a confidence typed as a whole percent, and more than one", () => {
    expect(ask(CALIBRATE, ESTIMATED, ACTUAL, 90)).toEqual(
      valueError("confidence must be above 0 and below 1 (80% is 0.8); got 90"),
    );
    expect(ask(CALIBRATE, ESTIMATED, ACTUAL, column(0.8, 0.9))).toEqual(
      valueError("confidence must be one cell; got 2 × 1 cells"),
    );
  });

  it("of jobs apart beyond all numbers has no answer", () => {
    expect(ask(CALIBRATE, column(1e-300, 1e300), column(1e300, 1e-300), 0.999)).toEqual(
      error("#NUM!", "the jobs differ too much for an answer at this confidence"),
    );
  });

  it("keeps its interval in its confidence", () => {
    // 2000 times 6 jobs whose true factor is 1.15: the interval must hold it in 80 % of them, give or take chance
    // (four standard errors of 0.8 in 2000 are 0.036).
    const RUNS = 2000;
    const normal = gaussian(20);
    let held = 0;
    for (let run = 0; run < RUNS; run++) {
      const ratios = Array.from({ length: 6 }, () => Math.log(1.15) + 0.2 * normal());
      const { low, high } = calibrationOf(ratios, 0.8);
      if (low < 1.15 && 1.15 < high) held++;
    }
    expect(Math.abs(held / RUNS - 0.8)).toBeLessThan(0.036);
  });
});

describe("HOURSAT", () => {
  it("at one half is the estimate times the factor", () => {
    expectClose(ask(HOURSAT, 30, ESTIMATED, ACTUAL, 0.5), 30 * calibration(ESTIMATED, ACTUAL).factor!);
  });

  it("asks for more hours the surer one wants to be", () => {
    const hours = ask(HOURSAT, 30, ESTIMATED, ACTUAL, row(0.1, 0.5, 0.8, 0.9, 0.99)).flat();
    expect(hours).toEqual([...hours].sort((a, b) => a - b));
    expect(ask(HOURSAT, 30, ESTIMATED, ACTUAL)).toBe(hours[2]);
  });

  it("spills over estimates and confidences", () => {
    const table = ask(HOURSAT, column(10, null, 20), ESTIMATED, ACTUAL, row(0.5, 0.8));
    expect(table.map((line: unknown[]) => line.length)).toEqual([2, 2, 2]);
    expectClose(table[2][1], 2 * table[0][1]);
    expect(table[1][0]).toEqual(valueError("estimate is blank or 0; it must be above 0"));
  });

  it("needs hours", () => {
    expect(ask(HOURSAT, 0, ESTIMATED, ACTUAL)).toEqual(valueError("estimate is blank or 0; it must be above 0"));
  });

  it("needs two jobs, and tells a bad one's place", () => {
    expect(ask(HOURSAT, 30, column(10, 20), column(12, null))).toEqual(
      error("#NUM!", "at least 2 jobs must have both an estimated and an actual value; got 1"),
    );
    expect(ask(HOURSAT, 30, column(10, 20), column(12, "x"))).toEqual(
      valueError('actual in row 2 must be above 0; got the text "x"'),
    );
  });

  it("says so where two wild jobs leave no finite answer", () => {
    expect(ask(HOURSAT, 30, column(10, 10), column(1, 100), 1 - 1e-12)).toEqual(
      error("#NUM!", "the jobs differ too much for an answer at this confidence"),
    );
  });

  it("is kept by as many next jobs as it says", () => {
    // 2000 times 5 past jobs and a sixth: four standard errors of 0.8 in 2000 are 0.036.
    const RUNS = 2000;
    const normal = gaussian(7);
    let kept = 0;
    for (let run = 0; run < RUNS; run++) {
      const took = () => 10 * Math.exp(0.1 + 0.25 * normal());
      const hours = ask(HOURSAT, 10, column(10, 10, 10, 10, 10), column(took(), took(), took(), took(), took()), 0.8);
      if (took() <= hours) kept++;
    }
    expect(Math.abs(kept / RUNS - 0.8)).toBeLessThan(0.036);
  });
});

describe("OUTLIERS", () => {
  it("leaves a job without both values blank, however the host passes a blank", () => {
    for (const blank of [null, "", undefined, 0]) {
      const marks = ask(OUTLIERS, column(10, 10, blank, 10, 10, 10), column(9, blank, 3, 10, 11, 40));
      expect(marks).toEqual(column(false, "", "", false, false, true));
    }
  });

  it("gives a bad value its own error and no other job", () => {
    const marks = ask(OUTLIERS, column(10, 10, 10, "ten", 10, 10), column(9, 10, 11, 9, -2, 40));
    expect(marks).toEqual(
      column(
        false,
        false,
        false,
        valueError('estimated must be above 0; got the text "ten"'),
        valueError("actual must be above 0; got -2"),
        true,
      ),
    );
  });

  it("finds a job that took far less as well as one that took far more", () => {
    expect(ask(OUTLIERS, column(10, 10, 10, 10, 10), column(1, 9, 10, 11, 99))).toEqual(
      column(true, false, false, false, true),
    );
  });

  it("where most ratios are the very same finds every other one, and no rounding", () => {
    // 0.1 × 3 and 0.3 are a last digit apart.
    expect(ask(OUTLIERS, column(1, 1, 0.1, 1, 1), column(3, 3, 0.1 * 3, 3, 3.1))).toEqual(
      column(false, false, false, false, true),
    );
  });

  it("marks no job of one or two, and none of jobs that are all alike", () => {
    expect(ask(OUTLIERS, 10, 99)).toBe(false);
    expect(ask(OUTLIERS, column(10, 10), column(1, 99))).toEqual(column(false, false));
    expect(ask(OUTLIERS, column(10, 20, 30), column(11, 22, 33))).toEqual(column(false, false, false));
  });

  it("takes the shape of its ranges", () => {
    expect(ask(OUTLIERS, row(10, 10, 10, 10), row(9, 10, 11, 50))).toEqual(row(false, false, false, true));
  });

  it("marks fewer the higher the limit", () => {
    const values = column(8, 9, 10, 11, 12, 15, 30);
    const tens = values.map(() => [10]);
    const count = (limit?: number) => ask(OUTLIERS, tens, values, limit).flat().filter(Boolean).length;
    // Log ratios -0.223, -0.105, 0, 0.095, 0.182, 0.405, 1.099: median 0.095, distances 0.318, 0.201, 0.095, 0, 0.087,
    // 0.310, 1.003, so MAD 0.201 and scores 1.07, 0.67, 0.32, 0, 0.29, 1.04, 3.37.
    expect([count(0.5), count(1), count(3.3), count(3.5)]).toEqual([4, 3, 1, 0]);
    expect(count()).toBe(count(3.5));
  });

  it("takes a limit of 0 for the default, and refuses one below and ranges that do not pair up", () => {
    expect(ask(OUTLIERS, ESTIMATED, ACTUAL, 0)).toEqual(ask(OUTLIERS, ESTIMATED, ACTUAL, 3.5));
    expect(ask(OUTLIERS, ESTIMATED, ACTUAL, -1)).toEqual(valueError("limit must be above 0; got -1"));
    expect(ask(OUTLIERS, ESTIMATED, column(1, 2))).toEqual(
      valueError("actual must have the shape of estimated, 5 × 1 cells; got 2 × 1 cells"),
    );
  });
});

describe("many jobs", () => {
  it("are calibrated and searched for outliers in well under a second", () => {
    const normal = gaussian(1);
    const estimated = Array.from({ length: 20_000 }, (_, i) => [5 + (i % 90)]);
    const actual = estimated.map(([hours]) => [hours! * Math.exp(0.1 + 0.2 * normal())]);
    const started = processorTime();
    const { factor, jobs } = calibration(estimated, actual);
    const marks = ask(OUTLIERS, estimated, actual);
    expect(processorTime() - started).toBeLessThan(1000);
    expect(jobs).toBe(20_000);
    expectClose(factor, Math.exp(0.1), 0.01);
    expect(marks).toHaveLength(20_000);
  });
});

describe("the log ratio", () => {
  it("is 0 as estimated, above 0 for more, and of opposite sign the other way round", () => {
    expect(logRatio(12, 12)).toBe(0);
    expect(logRatio(10, 12)).toBeGreaterThan(0);
    expect(logRatio(10, 12)).toBe(-logRatio(12, 10));
  });
});

/** Normal deviates by Box and Muller from a small generator, the same in every run. */
function gaussian(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    // Park and Miller's minimal standard generator.
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (let warmUp = 0; warmUp < 10; warmUp++) uniform();
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
}

describe("ATCOMPLETION", () => {
  it("is what was quoted where the work goes as quoted, whichever way the rest is taken", () => {
    for (const rest of [false, true]) expect(ask(ATCOMPLETION, 40, 10, 0.25, rest)).toBe(40);
  });

  it("takes a share for each row, and gives a bad one its own error", () => {
    expect(ask(ATCOMPLETION, 16, column(21, 21, 21), column(0.875, 0, 1), true)).toEqual(
      column(23, expect.objectContaining({ code: "#VALUE!" }), 21),
    );
  });
});

describe("CALIBRATEBY", () => {
  const rowsOf = (...args: unknown[]) =>
    ask(CALIBRATEBY, ...args).slice(1) as [string, number, number, number, number][];
  const jobs = (...groups: [name: string, ...ratios: number[]][]) => {
    const all = groups.flatMap(([name, ...ratios]) => ratios.map((ratio) => [name, ratio] as const));
    return [
      column(...all.map(() => 10)),
      column(...all.map(([, ratio]) => 10 * ratio)),
      column(...all.map(([name]) => name)),
    ] as const;
  };

  it("has a header row, then the groups as they are met, in their first spelling", () => {
    const given = jobs(["Metal", 1.1, 1.2], ["resin", 0.9], [" metal ", 1.3], ["resin", 1]);
    expect(ask(CALIBRATEBY, ...given)[0]).toEqual(["group", "jobs", "factor", "low", "high"]);
    expect(rowsOf(...given).map(([group, count]) => [group, count])).toEqual([
      ["Metal", 3],
      ["resin", 2],
    ]);
  });

  it("is CALIBRATE where all jobs are one group", () => {
    const given = jobs(["all", 1.1, 1.25, 0.9, 1.4]);
    const { factor, low, high } = calibration(given[0], given[1]);
    const [, count, ...found] = rowsOf(...given)[0]!;
    expect(count).toBe(4);
    for (const [i, wanted] of [factor!, low!, high!].entries()) expectClose(found[i]!, wanted);
  });

  it("draws a small group nearer to all than a large one of the same mean", () => {
    const metal = [1.28, 1.32, 1.3, 1.27, 1.33, 1.31, 1.29];
    const rows = rowsOf(...jobs(["few", 1.3, 1.3], ["many", ...metal], ["other", 0.9, 1, 1.1, 0.95, 1.05]));
    const [few, many, other] = rows.map(([, , factor]) => factor) as [number, number, number];
    expect(other).toBeLessThan(few);
    expect(few).toBeLessThan(many);
  });

  it("gives groups that are alike the common factor, and those that differ their own", () => {
    const alike = rowsOf(...jobs(["a", 0.8, 1.25], ["b", 0.8, 1.25], ["c", 0.8, 1.25]));
    for (const [, , factor] of alike) expectClose(factor, 1);
    const apart = rowsOf(...jobs(["a", 0.5, 0.5], ["b", 2, 2]));
    expectClose(apart[0]![2], 0.5);
    expectClose(apart[1]![2], 2);
    // All jobs of each alike: nothing is unknown.
    for (const [, , factor, low, high] of apart) expect([low, high]).toEqual([factor, factor]);
  });

  it("gives all the same where each group has one job", () => {
    const rows = rowsOf(...jobs(["a", 0.8], ["b", 1.25], ["c", 1.1]));
    const { factor, low, high } = calibration(column(1, 1, 1), column(0.8, 1.25, 1.1));
    for (const [, count, ...found] of rows) {
      expect(count).toBe(1);
      for (const [i, wanted] of [factor!, low!, high!].entries()) expectClose(found[i]!, wanted);
    }
  });

  it("skips a job without a group, and one that is not finished", () => {
    const [estimated, actual] = [column(10, 10, 10, 10), column(12, 11, "", 9)];
    expect(rowsOf(estimated, actual, column("a", "", "a", "a")).map(([, count]) => count)).toEqual([2]);
  });

  it.each([
    [column(10, 20), column(12, "n/a"), column("a", "b"), 'actual in row 2 must be above 0; got the text "n/a"'],
    [
      column(10, 20),
      row(12, 24),
      column("a", "b"),
      "actual must have the shape of estimated, 2 × 1 cells; got 1 × 2 cells",
    ],
    [
      column(10, 20),
      column(12, 24),
      row("a", "b"),
      "groups must have the shape of estimated, 2 × 1 cells; got 1 × 2 cells",
    ],
  ])("names what is wrong", (estimated, actual, groups, message) => {
    expect(ask(CALIBRATEBY, estimated, actual, groups)).toEqual(valueError(message));
  });

  it("doesn't depend on the order of the jobs or the unit of the hours", () => {
    const ratio = fc.double({ min: 0.3, max: 3, noNaN: true });
    const job = fc.tuple(fc.constantFrom("a", "b", "c"), ratio);
    fc.assert(
      fc.property(
        fc.array(job, { minLength: 5, maxLength: 30 }),
        fc.double({ min: 0.1, max: 60, noNaN: true }),
        (list, unit) => {
          const of = (items: typeof list, hour: number) =>
            new Map(
              rowsOf(
                column(...items.map(() => 10 * hour)),
                column(...items.map(([, r]) => 10 * r * hour)),
                column(...items.map(([name]) => name)),
              ).map(([name, ...found]) => [name, found]),
            );
          const before = of(list, 1);
          const after = of([...list].reverse(), unit);
          for (const [name, found] of before) {
            found.forEach((value, i) => {
              expect(Math.abs(after.get(name)![i]! / value - 1)).toBeLessThan(1e-6);
            });
          }
        },
      ),
    );
  });
});
