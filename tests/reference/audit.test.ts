import { describe, expect } from "vitest";
import { auditOf, fadeParts } from "../../functions/audit/audit";
import type { Job, Pair } from "../../functions/audit/check";
import { INTERVAL_CONFIDENCE } from "../../functions/audit/classes";
import { expectClose, reference } from "../helpers";

const pair = (quoted: number, actual: number): Pair => ({ quoted, actual });
const job = (rest: Partial<Job>): Job => ({
  ...{ row: 0, job: "1", passes: 1, price: pair(9000, 9000), cost: pair(0, 0) },
  ...rest,
});

/** Jobs of one quoted hour whose log ratios are these values, exactly but for rounding. */
const withLogRatios = (values: readonly number[], rest: Partial<Job> = {}) =>
  values.map((value, row) => job({ row, hours: pair(1, Math.exp(value)), ...rest }));

describe("the slip by cause", () => {
  reference(
    "of labor at 9.50 for 0.20 h against 8.00 for 0.10 h is 0.30 by rate and 0.80 by hours, 1.10 in all",
    "published: OpenStax Principles of Accounting Vol. 2, ch. 8.3, labor variances",
    () => {
      const labor = job({ cost: pair(0.8, 1.9), hours: pair(0.1, 0.2), rate: pair(8, 9.5) });
      const none = { toolUse: 0, toolPrice: 0, liquids: 0, other: 0 };
      expect(fadeParts(labor)).toEqual({ ...none, rate: 0.3, hours: 0.8 });
      expect(auditOf([labor]).fade.whole).toBe(1.1);
    },
  );

  reference(
    "of material at 7 for 0.50 against 0.25 is 1.75 by use, and of 20 at 9 against 7 is 40 by price",
    "published: OpenStax Principles of Accounting Vol. 2, ch. 8.2, material variances",
    () => {
      const used = fadeParts(job({ cost: pair(1.75, 3.5), sets: pair(0.25, 0.5), setPrice: pair(7, 7) }));
      expect(used).toMatchObject({ toolUse: 1.75, toolPrice: 0, other: 0 });
      const dearer = fadeParts(job({ cost: pair(140, 180), sets: pair(20, 20), setPrice: pair(7, 9) }));
      expect(dearer).toMatchObject({ toolUse: 0, toolPrice: 40, other: 0 });
    },
  );

  reference(
    "of a whole job is 25.50 by wages, 61.20 by hours, -83.00 by use and 130.00 by price of material, 133.70 in all",
    "published: basiccollegeaccounting.com, Standard Costing Question & Answer for Materials & Labor Variances (2007)",
    () => {
      const whole = job({
        ...{ cost: pair(4233 + 244.8, 4280 + 331.5), hours: pair(136, 170), rate: pair(1.8, 1.95) },
        ...{ sets: pair(1020, 1000), setPrice: pair(4.15, 4.28) },
      });
      const parts = { rate: 25.5, hours: 61.2, toolUse: -83, toolPrice: 130, liquids: 0, other: 0 };
      expect(fadeParts(whole)).toEqual(parts);
      expect(auditOf([whole]).fade).toEqual({ whole: 133.7, parts });
    },
  );
});

describe("the calibration of a group", () => {
  const ACUPUNCTURE = [8.6, 9.4, 7.9, 6.8, 8.3, 7.3, 9.2, 9.6, 8.7, 11.4, 10.3, 5.4, 8.1, 5.5, 6.9];

  reference(
    "has mean 8.2267 and deviation 1.6722 of 15 log ratios, and the interval ± t s / √15 of a t table",
    "published: OpenStax Introductory Statistics 2e, ch. 8.2, acupuncture example; t table: t(0.95, 14) = 1.761",
    () => {
      const others = withLogRatios([0, 1, 2], { bond: "resin" });
      const { groups } = auditOf([...others, ...withLogRatios(ACUPUNCTURE, { bond: "metal" })]);
      const { factor, low, high, spread, jobs } = groups.find(({ value }) => value === "metal")!.calibration!;
      const expectNear = (value: number, printed: number, within: number) =>
        expect(Math.abs(value - printed)).toBeLessThanOrEqual(within);
      expectNear(Math.log(factor), 8.2267, 5e-5);
      expectNear(spread, 1.6722, 5e-5);
      expect(INTERVAL_CONFIDENCE).toBe(0.9);
      const reach = (1.761 * 1.6722) / Math.sqrt(15);
      expectNear(Math.log(low), 8.2267 - reach, 5e-4);
      expectNear(Math.log(high), 8.2267 + reach, 5e-4);
      expect(jobs).toBe(15);
    },
  );

  reference(
    "of 10 h each that took 8, 10 and 12.5 h is 1, from 0.68647 to 1.45672",
    "hand: log ratios -ln 1.25, 0 and ln 1.25, so s = ln 1.25; t(0.95, 2) = 2.91998558 (t table); exp(± t s / √3)",
    () => {
      const jobs = [8, 10, 12.5].map((hours, row) => job({ row, hardness: 7, hours: pair(10, hours) }));
      for (const { by, calibration } of auditOf(jobs).groups) {
        expect(["all", "hardness"]).toContain(by);
        expectClose(calibration!.factor, 1);
        expectClose(calibration!.low, 0.6864735718938174, 1e-8);
        expectClose(calibration!.high, 1.4567203180761026, 1e-8);
      }
    },
  );
});

describe("outliers", () => {
  reference(
    "of ten are the two wild ones",
    "published: Iglewicz and Hoaglin (1993), How to Detect and Handle Outliers, example (as others quote it): scores 25.86 and 26.31, the others at most 1.574",
    () => {
      const measured = [2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3];
      const withoutHours = job({ row: 99 });
      expect(auditOf([withoutHours, ...withLogRatios(measured)]).outliers).toEqual([8, 9]);
    },
  );
});
