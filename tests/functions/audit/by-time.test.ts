/** Margin fade by month, and the limits of a control chart. */
import { describe, expect, it } from "vitest";
import { controlLimits, LIMIT_FACTOR, MOST_MONTHS, monthsOf } from "../../../functions/audit/by-time";
import type { Job } from "../../../functions/audit/check";
import { expectClose, reference } from "../../helpers";

describe("control limits", () => {
  reference(
    "of ten batches' flow rates are 50.81, 45.8159 and 55.8041",
    "published: NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, individuals control charts",
    () => {
      const rates = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
      const { center, low, high } = controlLimits(rates)!;
      expectClose(center, 50.81);
      expect(Math.abs(low - 45.8159)).toBeLessThan(5e-5);
      expect(Math.abs(high - 55.8041)).toBeLessThan(5e-5);
    },
  );

  reference("reach 2.66 mean moving ranges", "published: NIST/SEMATECH e-Handbook, 6.3.2.2: 3 / 1.128", () => {
    expect(Math.abs(LIMIT_FACTOR - 2.66)).toBeLessThan(0.005);
  });

  it("need two observations", () => {
    expect(controlLimits([0.1])).toBeUndefined();
    expect(controlLimits([0.1, 0.1])).toEqual({ center: 0.1, low: 0.1, high: 0.1 });
  });
});

const job = (date: number | undefined, fade: number): Job => ({
  ...{ row: 0, job: "", passes: 1, date },
  ...{ price: { quoted: 1000, actual: 1000 }, cost: { quoted: 600, actual: 600 + fade } },
});

describe("months", () => {
  // Days as a sheet counts them: 2025-01-31, 2025-02-01, 2025-02-28, 2025-12-31, 2026-01-01.
  const [JAN_31, FEB_1, FEB_28, DEC_31, NEXT_JAN_1] = [45688, 45689, 45716, 46022, 46023] as const;

  it("have the jobs that were finished in them, in order, whatever the list's", () => {
    const jobs = [job(NEXT_JAN_1, 50), job(FEB_28, 30), job(JAN_31, 10), job(FEB_1 + 0.9, 50), job(undefined, 900)];
    expect(monthsOf([...jobs, job(DEC_31, -20)])).toEqual([
      { year: 2025, month: 1, jobs: 1, fade: 0.01 },
      { year: 2025, month: 2, jobs: 2, fade: 80 / 2000 },
      { year: 2025, month: 12, jobs: 1, fade: -0.02 },
      { year: 2026, month: 1, jobs: 1, fade: 0.05 },
    ]);
  });

  it("are the last ones where there are many", () => {
    const many = Array.from({ length: 40 }, (_, i) => job(JAN_31 + 31 * i, 10));
    const months = monthsOf(many);
    expect(months).toHaveLength(MOST_MONTHS);
    expect(months.at(-1)!.year).toBe(2028);
  });
});
