import { describe, expect } from "vitest";
import { estimate } from "../../../functions/plan/estimate";
import type { Inputs } from "../../../functions/plan/inputs";
import { learned } from "../../../functions/plan/learned";
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
const asQuoted = [-Math.log(1.25), 0, Math.log(1.25)];
/** Each took twice that. */
const twice = asQuoted.map((ratio) => ratio + Math.log(2));

describe("what past jobs teach of a plan", () => {
  reference(
    "is the hours to count on and their price",
    "hand: t(0.8, 2) = 0.6 / √0.32; 2 h × exp(t × ln 1.25 × √(4/3)) = 2.628573 h; 440 + 100 × 0.628573, × 1.1 × 1.05 / 0.7 = × 1.65",
    () => {
      const { hours, price } = learned(plan, inputs, asQuoted);
      const wanted = 2 * Math.exp((0.6 / Math.sqrt(0.32)) * Math.log(1.25) * Math.sqrt(4 / 3));
      expectClose(hours, wanted);
      expectClose(price, 1.65 * (440 + 100 * (wanted - 2)));
      expect(hours).toBeCloseTo(2.628573, 6);
    },
  );

  reference(
    "is a price range of one spread to both sides",
    "hand: 2 h / 1.25 = 1.6 h, 440 − 40 = 400, × 1.65 = 660; 2 h × 1.25 = 2.5 h, 440 + 50 = 490, × 1.65 = 808.50",
    () => {
      const { low, high } = learned(plan, inputs, asQuoted);
      expectClose(low, 660);
      expectClose(high, 808.5);
    },
  );

  reference(
    "is centred on the hours that such jobs usually take",
    "hand: half of them stay within 2 × 2 h, 440 + 200 = 640, × 1.65 = 1056; 3.2 h: 560 × 1.65 = 924; 5 h: 740 × 1.65 = 1221",
    () => {
      const { hours, price, low, high } = learned(plan, { ...inputs, confidence: 0.5 }, twice);
      expectClose(hours, 4);
      expectClose(price, 1056);
      expectClose(low, 924);
      expectClose(high, 1221);
    },
  );

  reference("never falls below the minimum charge", "hand: 660 is below 700, 808.50 above", () => {
    const { low, high } = learned(plan, { ...inputs, minimum: 700 }, asQuoted);
    expect(low).toBe(700);
    expectClose(high, 808.5);
  });

  reference(
    "leaves set-up, tools and liquids as they are",
    "hand: 3 h of set-up × 75 = 225 more, whatever the hours: 400 + 225 = 625, × 1.65 = 1031.25",
    () => {
      const withSetUp = { ...inputs, setup: 3 };
      const planned = estimate(withSetUp, shelf, [{ work: "grind", tool: "M30" }]);
      expectClose(learned(planned, withSetUp, asQuoted).low, 1031.25);
    },
  );
});
