import { describe, expect } from "vitest";
import { BOND, GRINDRATIO, LIFELEFT, TOOLCOST, TOOLSUSED, WEARRATE } from "../../functions/tooling";
import { ask, expectClose, reference } from "../helpers";

describe("TOOLSUSED and TOOLCOST", () => {
  const UNITS_OF_PRODUCTION =
    "published: OpenStax Principles of Accounting Vol. 1, ch. 11.3, printing press, units of production";

  reference("180000 of 960000 units of a base of 48000 cost 9000", UNITS_OF_PRODUCTION, () => {
    expectClose(ask(TOOLCOST, 180000, 960000, 48000), 9000);
    expectClose(ask(TOOLSUSED, 180000, 960000) * 48000, 9000);
  });

  reference("one unit costs 0.05", UNITS_OF_PRODUCTION, () => expectClose(ask(TOOLCOST, 1, 960000, 48000), 0.05));
});

describe("WEARRATE and LIFELEFT", () => {
  reference(
    "wear is linear in the distance ground, so passes and floor count alike",
    "published: Archard's wear law, V = K·W·L/H (from memory)",
    () => {
      expect(ask(WEARRATE, 10, 9, 4000, 1)).toBe(ask(WEARRATE, 10, 9, 1000, 4));
      expectClose(ask(WEARRATE, 10, 8, 4000), 2 * ask(WEARRATE, 10, 9, 4000));
    },
  );

  reference(
    "the same wear in both systems",
    "hand: 1 mm over 1000 ft² = 92.90304 m² is 1 / 0.9290304 mm per 100 m²",
    () => {
      expectClose(ask(WEARRATE, 10, 9, 92.90304, 1, "metric"), 1 / 0.9290304);
      expectClose(ask(LIFELEFT, 8, 3, 1 / 0.9290304, "metric"), 464.5152);
    },
  );
});

describe("BOND", () => {
  reference(
    "a hard slab takes a softer matrix than a soft one",
    "common practice: hard slab, soft bond; soft slab, hard bond",
    () => {
      const softest = ["hard", "medium", "soft"];
      const order = [2, 3, 4, 5, 6, 7, 8].map((hardness) => softest.indexOf(ask(BOND, hardness)));
      expect(order).toEqual([...order].sort());
      expect([order[0], order.at(-1)]).toEqual([0, 2]);
    },
  );
});

describe("GRINDRATIO", () => {
  reference(
    "20 parts of work for 1 of wheel is 20, and not its inverse the wear ratio",
    "hand: by its definition, volume of work over volume of tool, 20 / 1",
    () => expect(ask(GRINDRATIO, 20, 1)).toBe(20),
  );
});
