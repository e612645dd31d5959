import { describe, expect, it } from "vitest";
import { remarksOn } from "../../../../addin/pane/plan/remarks";
import { PLAN } from "../../../../addin/pane/plan/texts";
import { KEY_LABELS, LINE_LABELS } from "../../../../addin/sheet/plan-texts";
import { estimate } from "../../../../functions/plan/estimate";
import type { Inputs } from "../../../../functions/plan/inputs";
import { propose } from "../../../../functions/plan/proposal";
import { starterShelf } from "../../../../functions/plan/starter-shelf";
import { floor } from "../../sheet/agreement";

const shelf = starterShelf("us");

function remarks(over: Partial<Inputs>): string[] {
  const inputs = floor(over);
  return remarksOn(estimate(inputs, shelf, propose(inputs, shelf).stages), inputs);
}

describe("beside the result", () => {
  it("stands what must be bought, with its price, since the stages are charged with wear alone", () => {
    const inputs = floor({ area: 40_000, length: null, width: null, edgeLength: 0 });
    const { rows } = estimate(inputs, shelf, propose(inputs, shelf).stages);
    // By hand: whole sets times the price of a set on the shelf.
    const price = rows.reduce(
      (sum, { tool, setsToBuy }) => sum + setsToBuy * (shelf.tools.find(({ name }) => name === tool)?.price ?? 0),
      0,
    );
    const sets = rows.reduce((sum, row) => sum + row.setsToBuy, 0);
    expect(sets).toBeGreaterThan(3);
    expect(remarks({ area: 40_000, length: null, width: null, edgeLength: 0 })).toEqual([
      `Tools are priced by wear, liquids by whole containers. To buy for this job: ${sets} tool sets, $${price.toLocaleString("en-US", { minimumFractionDigits: 2 })}.`,
    ]);
  });

  // By hand: 1,000 ft at 10 ft/h is 100 h a step, more than any pass over 4,000 ft² takes; at 10,000 ft/h it is 6 minutes.
  it("is said where the edges set the hours, and only there", () => {
    const slow = { edgeLength: 1000, edgeRate: 10 };
    expect(remarks(slow)[1]).toMatch(
      /^Edges set the hours of all \d+ tool stages: the hand work takes longer than the machine\.$/,
    );
    expect(remarks({ ...slow, edgeRate: 10_000 })).toHaveLength(1);
    expect(remarks({ ...slow, edgeWork: "after" })).toHaveLength(1);
  });
});

it("total cost has one name in pane and sheet", () => {
  expect([PLAN.cost, KEY_LABELS.cost, LINE_LABELS.cost]).toEqual(new Array(3).fill("Total cost"));
});

it("a minimum that nobody has typed says that it is wages alone", () => {
  expect(PLAN.isMinimum(true)).toContain("without machine, tools or margin");
  expect(PLAN.isMinimum(false)).toBe("This is the minimum charge.");
});

it("a thin film's last stage says why it costs more than a thick one", () => {
  const { stages } = propose(floor({ finish: "coating", film: 8 }), shelf);
  expect(stages.at(-1)).toMatchObject({
    tool: "Transitional 100",
    reason: "Hones metal scratches that this thin film would show; a thick one hides them.",
  });
  const thick = propose(floor({ finish: "coating", film: 20 }), shelf).stages;
  expect(thick.map(({ tool }) => tool).join()).not.toContain("Transitional");
});
