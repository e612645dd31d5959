import { expect, it } from "vitest";
import { startPlan, typeNumber } from "../../addin/pane/plan/state";
import { FIELDS } from "../../functions/plan/fields";
import { hardnessByPick, PICKS } from "../../functions/tables/mohs";
import { matrixFor } from "../../functions/tooling";
import { reference } from "../helpers";

reference(
  "a slab is as hard as midway between the pick that scratches it and the one before",
  "hand: Mohs 1 and 2.5 are talc and a fingernail; (2.5 + 3.5) / 2, (3.5 + 5.5) / 2, (5.5 + 6.5) / 2, (6.5 + 8.5) / 2; 10 is diamond",
  () => {
    expect([...PICKS.keys(), PICKS.length].map(hardnessByPick)).toEqual([1.8, 3, 4.5, 6, 7.5, 9.3]);
  },
);

it("glass scratches a soft or medium slab, a file a medium one, a masonry bit a hard one (common practice)", () => {
  expect(PICKS.map((_, i) => matrixFor(hardnessByPick(i)))).toEqual(["hard", "hard", "medium", "medium", "soft"]);
});

it("fills the plan's hardness within its bounds", () => {
  for (const i of [...PICKS.keys(), PICKS.length]) {
    const { hardness } = typeNumber(startPlan("us"), "hardness", String(hardnessByPick(i))).inputs;
    expect(hardness).toBe(hardnessByPick(i));
    expect(hardness).toBeGreaterThanOrEqual(FIELDS.hardness.domain.least);
    expect(hardness).toBeLessThanOrEqual(FIELDS.hardness.domain.most);
  }
});
