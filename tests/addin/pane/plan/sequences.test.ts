import { describe, expect, it } from "vitest";
import { derive, planOf } from "../../../../addin/pane/plan/derived";
import { draftOf } from "../../../../addin/pane/plan/draft";
import {
  COMPARED,
  type Comparison,
  cheapestFor,
  difference,
  differenceInWords,
  shortStages,
  type Totals,
} from "../../../../addin/pane/plan/sequences";
import { moveStage, removeStage, setMachine, setTool } from "../../../../addin/pane/plan/stages";
import { fillInExample, startPlan, typeNumber } from "../../../../addin/pane/plan/state";
import { noComparisonWords, troubleWords } from "../../../../addin/pane/plan/texts";
import { reference } from "../../../helpers";
import { chooseSource, proposeAgain, putOnCheapestMachines, setChoice, withDraft } from "./noted";
import { fineAlone, twoTools, WIDE } from "./two-tools";

const tools = (state: Parameters<typeof derive>[0]) => derive(state).stages.map(({ tool }) => tool);
const onRow = (comparison: Comparison, key: keyof Totals) =>
  difference(COMPARED.find((row) => row.key === key)!, comparison);

describe("two sequences side by side", () => {
  const { comparison } = derive(fineAlone(twoTools()));

  reference(
    "are both counted with the plan's own passes: by default those that depth and scratches need",
    "hand: M60 alone takes 500 − 125 in cuts of 25, 15 passes of 180 and a change of 19.50; M30 takes 500 − 300 in cuts of 100, 2 of 160, then M60 300 − 125, 7 of 180, and two changes. Price at a margin of half: twice the cost",
    () => {
      expect(comparison!.mine).toEqual({
        stages: 1,
        passes: 15,
        hours: 15.25,
        setsUsed: 15,
        setsToBuy: 15,
        cost: 2719.5,
        price: 5439,
      });
      expect(comparison!.cheapest).toEqual({
        stages: 2,
        passes: 9,
        hours: 9.5,
        setsUsed: 8,
        setsToBuy: 8,
        cost: 1619,
        price: 3238,
      });
    },
  );

  reference(
    "differ by what the cheapest takes more (+) or less (−), of the figures as shown",
    "hand: 9.5 − 15.3 hours (15.25 to one decimal), 1619 − 2719.50, 3238 − 5439",
    () => {
      expect(COMPARED.map((row) => difference(row, comparison!))).toEqual([
        "+1",
        "−6",
        "−5.8",
        "−7.00",
        "−7",
        "−1,100.50",
        "−2,201.00",
      ]);
      expect(differenceInWords(comparison!)).toBe(
        "Cheapest compared with mine: hours 5.8 less, sets used 7.00 less, sets to buy 7 less, stage cost 1,100.50 less, price 2,201.00 less.",
      );
    },
  );

  it("aren't compared where the user's leaves scratches, which the price says stage by stage", () => {
    // By hand, above: 15 passes; as listed one pass, which would cost less than what has to keep to the rules.
    const listed = derive(setChoice(fineAlone(twoTools()), "passesFrom", "shelf"));
    expect(listed.comparison).toBeNull();
    expect(shortStages(listed.estimate!)).toEqual(["M60: 1 pass planned, 15 needed for this depth."]);
    expect(shortStages(derive(fineAlone(twoTools())).estimate!)).toEqual([]);
    const both = { ...twoTools(), ownStages: ["M30", "M60"].map((tool) => ({ work: "grind", tool }) as const) };
    // By hand: M30 (500 − 300) / 100 = 2 and M60 (300 − 125) / 25 = 7.
    expect(shortStages(derive(setChoice(both, "passesFrom", "shelf")).estimate!)).toEqual([
      "M30: 1 pass planned, 2 needed for this depth.",
      "M60: 1 pass planned, 7 needed to remove the scratches before.",
    ]);
  });

  it.each([1.2, 1.3, 1.5, 2, 2.5, 4])("save nothing that is none, at a largest step of %d", (maxRatio) => {
    const plan = fillInExample(startPlan());
    const { comparison: found, noComparison } = derive({ ...plan, inputs: { ...plan.inputs, maxRatio } });
    if (found) expect(found.cheapest.cost).toBeLessThanOrEqual(found.mine.cost + 0.005);
    else expect(noComparison).not.toBeNull();
  });

  it("are the same where the user's is the cheapest", () => {
    const state = twoTools();
    const { comparison: same } = derive({ ...state, ownStages: cheapestFor(state.inputs, state.shelf.shelf).stages });
    expect(COMPARED.map((row) => difference(row, same!))).toEqual(COMPARED.map(() => "same"));
    expect(differenceInWords(same!)).toContain("price the same");
  });

  it("tell of a tool whose cut nobody has measured: its passes are the shelf's", () => {
    const state = twoTools();
    const [m30, m60] = state.shelf.shelf.tools;
    const withNew = (listed: number) => {
      const unmeasured = twoTools({ tools: [m30!, m60!, { ...m60!, name: "New 60", cut: null, passes: listed }] });
      return derive({ ...unmeasured, ownStages: [{ work: "grind", tool: "New 60" }] });
    };
    expect(withNew(12).comparison!.remarks).toEqual([
      "My stage 1, New 60: no cut per pass measured, so 12 passes as listed.",
    ]);
    expect(onRow(withNew(12).comparison!, "cost")).toBe("−560.50"); // by hand: 1619 − (12 × 180 + 19.50)
    // By hand: 2 × 180 + 19.50 is less than 1619, which is no saving of the cheapest.
    expect(withNew(2).comparison).toBeNull();
    expect(noComparisonWords(withNew(2).noComparison!)).toContain("yours costs less only because it skips something");
  });

  it("say why there is none: no cut measured, no own stage, a tool that is gone", () => {
    const [m30, m60] = twoTools().shelf.shelf.tools;
    const unmeasured = derive(twoTools({ tools: [m30!, { ...m60!, cut: null }] }));
    expect(unmeasured.comparison).toBeNull();
    expect(noComparisonWords(unmeasured.noComparison!)).toContain("no measured cut per pass): M60");
    expect(noComparisonWords(derive({ ...twoTools(), ownStages: [] }).noComparison!)).toContain("no stages yet");
    const gone = derive({ ...twoTools(), ownStages: [{ work: "grind", tool: "M7" }] });
    expect([gone.comparison, noComparisonWords(gone.noComparison!)]).toEqual([null, "The shelf has no M7"]);
  });
});

describe("choosing the cheapest", () => {
  const cheapest = chooseSource(fineAlone(twoTools()), "cheapest");

  it("shows and writes it, with passes counted as before", () => {
    expect(tools(cheapest)).toEqual(["M30", "M60"]);
    expect(planOf(cheapest)).toMatchObject({
      inputs: { passesFrom: "larger" },
      stages: [{ tool: "M30" }, { tool: "M60" }],
    });
    expect(derive(cheapest).estimate!.price).toBe(3238); // by hand, above
  });

  it("keeps the user's own for the way back, with its price", () => {
    const back = chooseSource(cheapest, "mine");
    expect(tools(back)).toEqual(["M60"]);
    expect(derive(back).estimate!.price).toBe(5439); // by hand, above
    const reloaded = withDraft(startPlan(), draftOf(cheapest));
    expect([reloaded.source, chooseSource(reloaded, "mine").inputs]).toEqual(["cheapest", cheapest.inputs]);
  });

  it("has to do with the listed passes where the plan uses those, or there is none", () => {
    const enough = twoTools({ tools: twoTools().shelf.shelf.tools.map((tool) => ({ ...tool, passes: 7 })) });
    // By hand: M30 7 × 160 and M60 7 × 180 with two changes; M60 alone would need 15.
    const listed = derive(chooseSource(setChoice(enough, "passesFrom", "shelf"), "cheapest"));
    expect(listed.estimate!.rows.map(({ tool, passes }) => [tool, passes])).toEqual([
      ["M30", 7],
      ["M60", 7],
    ]);
    const none = derive(chooseSource(setChoice(twoTools(), "passesFrom", "shelf"), "cheapest"));
    expect(troubleWords(none.trouble)).toBe("The shelf has no sequence for this floor.");
    expect(none.notes.join()).toContain("the listed passes don't remove this depth");
  });

  it.each([
    ["removed", removeStage(cheapest, 0), ["M60"]],
    ["moved", moveStage(cheapest, 0, 1), ["M60", "M30"]],
    ["given another tool", setTool(cheapest, 1, "M30"), ["M30", "M30"]],
  ])("is the user's own once a stage is %s", (_, changed, wanted) => {
    expect(changed.source).toBe("mine");
    expect(tools(changed)).toEqual(wanted);
  });

  it("ends with a proposal asked for again, and with the example", () => {
    expect(proposeAgain(cheapest)).toMatchObject({ source: "mine", ownStages: null });
    expect(fillInExample(cheapest).source).toBe("mine");
  });

  it("has no price where the shelf leads nowhere, and says why", () => {
    const deep = chooseSource(typeNumber(twoTools(), "depth", "100"), "cheapest");
    const { estimate, trouble, notes } = derive(deep);
    expect([estimate, troubleWords(trouble)]).toEqual([null, "The shelf has no sequence for this floor."]);
    expect(notes.join()).toContain("no steps of at most 2.5 lead from 100 µm to grit 60");
  });
});

describe("a machine for a stage", () => {
  const state = fineAlone(twoTools({ machines: [WIDE] }));

  reference(
    "changes what the stage costs",
    "hand: twice the width takes half as long, 7.5 h for 15 passes, 585 of crew and 330 of machine; with 15 sets of 80 and a change of 19.50",
    () => expect(derive(setMachine(state, 0, "Wide")).estimate!.rows[0]!.cost).toBeCloseTo(585 + 330 + 1200 + 19.5, 9),
  );

  reference(
    "is the cheapest at a press, and what that saves is told",
    "hand: 7.5 h of crew, 7.5 × 78 = 585; the machine costs 330 either way",
    () => {
      const put = putOnCheapestMachines(state);
      expect(derive(put).stages).toMatchObject([{ tool: "M60", machine: "Wide" }]);
      expect(put.note).toBe("Each stage is now on its cheapest machine: $585.00 less for the stages.");
    },
  );

  it("stays when it is the cheapest already, and that is told", () => {
    const put = putOnCheapestMachines(putOnCheapestMachines(state));
    expect(put.note).toBe("Each stage is already on its cheapest machine.");
    const best = chooseSource(state, "cheapest");
    expect(putOnCheapestMachines(best).source).toBe("cheapest");
  });

  it("stays with a stage that takes another tool", () => {
    expect(derive(setTool(setMachine(state, 0, "Wide"), 0, "M30")).stages[0]).toMatchObject({ machine: "Wide" });
  });

  it("that is gone from the table is told instead of a price", () => {
    const { estimate, trouble } = derive(setMachine(state, 0, "Sold"));
    expect([estimate, troubleWords(trouble)]).toEqual([null, "The machines table has no Sold"]);
  });
});

it("the search is not done again for what no sequence depends on", () => {
  const { inputs, shelf } = fillInExample(startPlan("us"));
  const found = cheapestFor(inputs, shelf.shelf);
  expect(cheapestFor({ ...inputs, jobName: "Another", margin: 0.4, minimum: 900 }, shelf.shelf)).toBe(found);
  expect(cheapestFor({ ...inputs, speed: 12 }, shelf.shelf)).not.toBe(found);
  expect(cheapestFor({ ...inputs, speed: 12 }, { ...shelf.shelf })).not.toBe(found);
});
