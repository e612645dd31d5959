import { describe, expect } from "vitest";
import { calibrationOf } from "../../../functions/jobs";
import { calibrated, spreadBehind } from "../../../functions/plan/calibrated";
import { estimate } from "../../../functions/plan/estimate";
import type { Inputs } from "../../../functions/plan/inputs";
import { expectClose, reference } from "../../helpers";
import { hourAPass, tool } from "./fixtures";

/** Two passes of an hour at 100 an hour of crew and machine; 2 × 2400 / 10000 sets at 500 are 240; so 440 in all. */
const inputs: Inputs = {
  ...hourAPass,
  changeHours: 0,
  setup: 0,
  overhead: 0.1,
  contingency: 0.05,
  margin: 0.3,
  minimum: 0,
  confidence: 0.8,
};
const shelf = { tools: [tool("M30")], liquids: [], machines: [] };
const plan = estimate(inputs, shelf, [{ work: "grind", tool: "M30" }]);

/** Quoted at 10 h each, these took 8, 10 and 12.5 h: a factor of 1, a spread of ln 1.25. */
const asQuoted = { factor: 1, spread: Math.log(1.25), jobs: 3 };
/** Each took twice that. */
const twice = { ...asQuoted, factor: 2 };

describe("what past jobs teach of a plan", () => {
  reference(
    "is the hours to count on and their price",
    "hand: t(0.8, 2) = 0.6 / √0.32; 2 h × exp(t × ln 1.25 × √(4/3)) = 2.628573 h; 440 + 100 × 0.628573, × 1.1 × 1.05 / 0.7 = × 1.65",
    () => {
      const { hours, price } = calibrated(plan, inputs, asQuoted);
      const wanted = 2 * Math.exp((0.6 / Math.sqrt(0.32)) * Math.log(1.25) * Math.sqrt(4 / 3));
      expectClose(hours, wanted);
      expectClose(price, 1.65 * (440 + 100 * (wanted - 2)));
      expect(hours).toBeCloseTo(2.628573, 6);
    },
  );

  reference(
    "is days on site too, with the working hours that cures take in the plan",
    "hand: 2 h of grinding at factor 2 and confidence 0.5 are 4 h; 3 h more of waits make 7, with 2 h of setup 9: 2 days of 8",
    () => {
      const given = { ...inputs, confidence: 0.5, setup: 2, hoursADay: 8 };
      expect(calibrated({ ...plan, waits: 3 }, given, twice).days).toBe(2);
      expect(calibrated({ ...plan, waits: 0 }, given, twice).days).toBe(1);
    },
  );

  reference(
    "is a price range that two jobs in three stay in",
    "hand: t(5/6, 2) = (2/3) / √(2 × 5/36) = 1.264911; exp(t × ln 1.25 × √(4/3)) = 1.385307; 2 h / 1.385307 = 1.443723 h, 440 − 55.627704; 2 h × 1.385307 = 2.770615 h, 440 + 77.061467; both × 1.65",
    () => {
      const { low, high } = calibrated(plan, inputs, asQuoted);
      expect(low).toBeCloseTo(1.65 * 384.372296, 4);
      expect(high).toBeCloseTo(1.65 * 517.061467, 4);
    },
  );

  reference(
    "is centered on the hours that such jobs usually take",
    "hand: half of them stay within 2 × 2 h, 440 + 200 = 640, × 1.65 = 1056; a sixth within 4 h / 1.385307 = 2.887446 h, 528.744591 × 1.65 = 872.428575; five sixths within 5.541229 h, 794.122934 × 1.65 = 1310.302841",
    () => {
      const { hours, price, low, high } = calibrated(plan, { ...inputs, confidence: 0.5 }, twice);
      expectClose(hours, 4);
      expectClose(price, 1056);
      expect(low).toBeCloseTo(872.428575, 5);
      expect(high).toBeCloseTo(1310.302841, 5);
    },
  );

  reference("never falls below the minimum charge", "hand: 634.21 is below 700, 853.15 above", () => {
    const { low, high } = calibrated(plan, { ...inputs, minimum: 700 }, asQuoted);
    expect(low).toBe(700);
    expect(high).toBeCloseTo(853.15, 2);
  });

  reference(
    "leaves set-up, tools and liquids as they are",
    "hand: 3 h of set-up × 75 = 225 more, whatever the hours: 384.372296 + 225 = 609.372296, × 1.65 = 1005.464288",
    () => {
      const withSetUp = { ...inputs, setup: 3 };
      const planned = estimate(withSetUp, shelf, [{ work: "grind", tool: "M30" }]);
      expect(calibrated(planned, withSetUp, asQuoted).low).toBeCloseTo(1005.464288, 4);
    },
  );

  reference(
    "is the days on site for those hours, set-up included",
    "hand: 2.628573 h and 3 h of set-up are 5.628573 h: 3 days of 2 h, where the plain 5 h are 3 as well; 6 days of 1 h, where they are 5",
    () => {
      const withSetUp = { ...inputs, setup: 3, hoursADay: 2 };
      expect(calibrated(plan, withSetUp, asQuoted).days).toBe(3);
      expect(calibrated(plan, { ...withSetUp, hoursADay: 1 }, asQuoted).days).toBe(6);
    },
  );

  reference(
    "knows the spread by the interval that a sheet shows",
    "hand: the interval given for CALIBRATE({10;10;10},{8;10;12.5}), by hand from t(0.95, 2) = 2.91998558; its spread is ln 1.25",
    () => {
      const shown = { low: 0.6864735718938174, high: 1.4567203180761026, jobs: 3 };
      expectClose(spreadBehind(shown, 0.9), Math.log(1.25), 1e-7);
    },
  );

  reference("knows a spread of none", "identity: jobs that all took twice the hours have no spread", () => {
    const { low, high, jobs } = calibrationOf([Math.log(2), Math.log(2)], 0.9);
    expect(spreadBehind({ low, high, jobs }, 0.9)).toBe(0);
  });
});
