import tQuantileOf from "@stdlib/stats-base-dists-t-quantile";
import fc from "fast-check";
import { log, mean, std } from "mathjs";
import { describe, expect } from "vitest";
import { PASSTIME } from "../../functions/coverage";
import { ACTUALRATE, CALIBRATE, HOURSAT, OUTLIERS, RATEVARIANCE, USAGEVARIANCE } from "../../functions/jobs";
import { ask, column, expectClose, reference } from "../helpers";

const calibration = (...args: unknown[]): Record<string, number> => Object.fromEntries(ask(CALIBRATE, ...args));

/** Jobs whose log ratios are these values, exactly but for rounding. */
const withLogRatios = (values: number[]): [estimated: unknown[][], actual: unknown[][]] => [
  column(...values.map(() => 1)),
  column(...values.map(Math.exp)),
];

describe("ACTUALRATE", () => {
  reference(
    "of the hours that 20.3636 acres take is the published capacity of 20.4 acres an hour, whatever the passes",
    "published: Iowa State University Extension PM 696 (2001), 40 ft at 6 mph and 70 %",
    () => {
      const acre = 43560;
      for (const passes of [1, 2, 3]) {
        const hours = ask(PASSTIME, 20.3636 * acre, 40 * 12, 6 * 88, passes, 0, 0.7);
        expect(Math.abs(ask(ACTUALRATE, 20.3636 * acre, hours, passes) / acre - 20.4)).toBeLessThanOrEqual(0.05);
      }
    },
  );
});

describe("RATEVARIANCE and USAGEVARIANCE", () => {
  const MATERIALS = "published: OpenStax Principles of Accounting Vol. 2, ch. 8.2, material variances";
  const LABOR = "published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, labor variances";

  reference("20 at 6 for 7 saves 20, and 20 at 9 for 7 costs 40 more", MATERIALS, () => {
    expect(ask(RATEVARIANCE, 6, 7, 20)).toBe(-20);
    expect(ask(RATEVARIANCE, 9, 7, 20)).toBe(40);
  });

  reference("0.20 for 0.25 at 7 saves 0.35, and 0.50 for 0.25 costs 1.75 more", MATERIALS, () => {
    expectClose(ask(USAGEVARIANCE, 0.2, 0.25, 7), -0.35);
    expectClose(ask(USAGEVARIANCE, 0.5, 0.25, 7), 1.75);
  });

  reference("0.10 h at 7.50 for 8.00 saves 0.05, and at 9.50 costs 0.15 more", LABOR, () => {
    expectClose(ask(RATEVARIANCE, 7.5, 8, 0.1), -0.05);
    expectClose(ask(RATEVARIANCE, 9.5, 8, 0.1), 0.15);
  });

  reference("0.05 h for 0.10 at 8 saves 0.40, and 0.20 h costs 0.80 more", LABOR, () => {
    expectClose(ask(USAGEVARIANCE, 0.05, 0.1, 8), -0.4);
    expectClose(ask(USAGEVARIANCE, 0.2, 0.1, 8), 0.8);
  });

  reference("0.20 h at 9.50 for 0.10 h at 8.00 costs 0.30 by rate, 0.80 by time, 1.10 in all", LABOR, () => {
    const byRate = ask(RATEVARIANCE, 9.5, 8, 0.2);
    const byTime = ask(USAGEVARIANCE, 0.2, 0.1, 8);
    expectClose(byRate, 0.3);
    expectClose(byTime, 0.8);
    expectClose(byRate + byTime, 1.1);
  });
});

describe("CALIBRATE", () => {
  const ACUPUNCTURE = [8.6, 9.4, 7.9, 6.8, 8.3, 7.3, 9.2, 9.6, 8.7, 11.4, 10.3, 5.4, 8.1, 5.5, 6.9];
  reference(
    "has the t interval 7.3006 to 9.1527 around 8.2267 for 15 log ratios",
    "published: OpenStax Introductory Statistics 2e, ch. 8.2, acupuncture example, 95 % confidence",
    () => {
      const { factor, low, high, spread, jobs } = calibration(...withLogRatios(ACUPUNCTURE), 0.95);
      const expectPrinted = (value: number, printed: number) =>
        expect(Math.abs(value - printed)).toBeLessThanOrEqual(5e-5);
      expectPrinted(Math.log(factor!), 8.2267);
      expectPrinted(spread!, 1.6722);
      expectPrinted(Math.log(low!), 7.3006);
      expectPrinted(Math.log(high!), 9.1527);
      expect(jobs).toBe(15);
    },
  );

  const hours = fc.double({ min: 0.5, max: 500, noNaN: true });
  const jobs = fc.array(fc.tuple(hours, hours), { minLength: 2, maxLength: 25 });
  const confidence = fc.double({ min: 0.05, max: 0.99, noNaN: true });

  reference(
    "and HOURSAT of random jobs",
    "library: mathjs 15.2.0 log, mean and std, and @stdlib/stats-base-dists-t-quantile 0.2.3",
    () => {
      fc.assert(
        fc.property(jobs, confidence, (pairs, level) => {
          const estimated = column(...pairs.map(([before]) => before));
          const actual = column(...pairs.map(([, after]) => after));
          const ratios = pairs.map(([before, after]) => log(after / before));
          const n = ratios.length;
          const center = mean(ratios);
          const spread = Number(std(ratios));
          const reach = (tQuantileOf((1 + level) / 2, n - 1) * spread) / Math.sqrt(n);

          const found = calibration(estimated, actual, level);
          expectClose(found.factor, Math.exp(center));
          expectClose(found.low, Math.exp(center - reach), 1e-9);
          expectClose(found.high, Math.exp(center + reach), 1e-9);
          expect(Math.abs(found.spread! - spread)).toBeLessThanOrEqual(1e-12);
          expect(found.jobs).toBe(n);

          const ahead = tQuantileOf(level, n - 1) * spread * Math.sqrt(1 + 1 / n);
          expectClose(ask(HOURSAT, 24, estimated, actual, level), 24 * Math.exp(center + ahead), 1e-9);
        }),
        { numRuns: 200 },
      );
    },
  );

  reference(
    "by NIST's hardest univariate set, as hours: mean 10000000.2 and deviation 0.1",
    "published: NIST StRD NumAcc4, certified values; of a small relative spread, ln ratio spreads by deviation / mean",
    () => {
      const hoursTaken = [10000000.2, ...Array.from({ length: 500 }, () => [10000000.1, 10000000.3]).flat()];
      const estimated = column(...hoursTaken.map(() => 10000000.2));
      const { factor, spread } = calibration(estimated, column(...hoursTaken));
      expectClose(factor, 1, 1e-14);
      expectClose(spread, 0.1 / 10000000.2, 1e-6);
    },
  );
});

describe("HOURSAT", () => {
  reference(
    "tends to the lognormal quantile as past jobs grow many: the 90th percentile of (0, 1) is 3.602224",
    "identity: exp(1.2815516), by the normal quantile of 0.9 that every normal table gives as 1.2816",
    () => {
      // The normal quantiles in the middle of 4000 equal shares have mean 0 and, scaled, deviation 1.
      const normal = Array.from({ length: 4000 }, (_, i) => tQuantileOf((i + 0.5) / 4000, 1e6));
      const scale = Number(std(normal));
      const [estimated, actual] = withLogRatios(normal.map((z) => z / scale));
      expectClose(ask(HOURSAT, 1, estimated, actual, 0.9), 3.60222447927916, 1e-3);
    },
  );
});

describe("OUTLIERS", () => {
  // The book's own ten measurements and the modified z-scores it works out, printed to three digits.
  const MEASURED = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
  const SCORES = [1.574, 0.6745, 0.2248, 0.2248, 0.6745, 1.574, 0.6745, 0.6745, 25.86, 26.31];
  const BOOK =
    "published: Iglewicz and Hoaglin (1993), How to Detect and Handle Outliers, example (as others quote it); hand: median 2.45, MAD 0.15";

  reference("finds the two wild ones of ten, which no plain z-score finds", BOOK, () => {
    expect(ask(OUTLIERS, ...withLogRatios(MEASURED))).toEqual(column(...SCORES.map((score) => score > 3.5)));
    const center = mean(MEASURED);
    const deviation = Number(std(MEASURED));
    expect(MEASURED.filter((x) => Math.abs(x - center) / deviation > 3)).toEqual([]);
  });

  reference("gives each of them the score of the book", BOOK, () => {
    const marksAt = (limit: number) => ask(OUTLIERS, ...withLogRatios(MEASURED), limit).flat();
    for (const [i, score] of SCORES.entries()) {
      expect(marksAt(score * 0.999)[i], `${MEASURED[i]} below ${score}`).toBe(true);
      expect(marksAt(score * 1.001)[i], `${MEASURED[i]} above ${score}`).toBe(false);
    }
  });
});
