import { describe, expect, it } from "vitest";
import { derive, planOf } from "../../../../addin/pane/plan/derived";
import { draftOf } from "../../../../addin/pane/plan/draft";
import {
  COMPARED,
  type Comparison,
  cheapestFor,
  difference,
  differenceInWords,
  shortfall,
  type Totals,
} from "../../../../addin/pane/plan/sequences";
import { moveStage, removeStage, setMachine, setTool } from "../../../../addin/pane/plan/stages";
import { fillInExample, startPlan, typeNumber } from "../../../../addin/pane/plan/state";
import { reference } from "../../../helpers";
import { chooseSource, proposeAgain, putOnCheapestMachines, setChoice, withDraft } from "./noted";
import { fineAlone, twoTools, WIDE } from "./two-tools";

const tools = (state: Parameters<typeof derive>[0]) => derive(state).stages.map(({ tool }) => tool);
const onRow = (comparison: Comparison, key: keyof Totals) =>
  difference(COMPARED.find((row) => row.key === key)!, comparison);

describe("two sequences side by side", () => {
  const { comparison } = derive(fineAlone(twoTools()));

  reference(
    "are both counted with passes as the scratches need",
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
      expect(comparison!.depth).toBe(500);
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

  it("say where the shelf's passes are fewer than the scratches need, stage by stage", () => {
    expect(comparison!.remarks).toEqual([
      "My stage 1, M60: 1 pass listed, 15 needed to remove the previous scratches.",
    ]);
  });

  it("have the price with the shelf's passes say what it leaves out, and only where it does", () => {
    const { inputs } = fineAlone(twoTools());
    // By hand, above: 15 passes, 5439; with the shelf's one pass the price is lower.
    expect(shortfall(400, comparison!, { ...inputs, passesFrom: "shelf" })).toContain("takes 15 passes at 5,439.00");
    expect(shortfall(400, comparison!, { ...inputs, passesFrom: "scratch" })).toBe("");
    expect(shortfall(5439, comparison!, { ...inputs, passesFrom: "shelf" })).toBe("");
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
    const unmeasured = twoTools({ tools: [m30!, m60!, { ...m60!, name: "New 60", cut: null, passes: 2 }] });
    const { comparison: found } = derive({ ...unmeasured, ownStages: [{ work: "grind", tool: "New 60" }] });
    expect(found!.remarks[0]).toBe("My stage 1, New 60: no cut per pass measured, so 2 passes as listed.");
    expect(onRow(found!, "cost")).toBe("+1,239.50"); // by hand: 1619 − (2 × 180 + 19.50)
    expect(found!.remarks[1]).toContain("Mine costs less because");
  });

  it("say why there is none: no cut measured, no own stage, a tool that is gone", () => {
    const [m30, m60] = twoTools().shelf.shelf.tools;
    const unmeasured = derive(twoTools({ tools: [m30!, { ...m60!, cut: null }] }));
    expect(unmeasured.comparison).toBeNull();
    expect(unmeasured.noComparison).toContain("no measured cut per pass): M60");
    expect(derive({ ...twoTools(), ownStages: [] }).noComparison).toContain("no stages yet");
    const gone = derive({ ...twoTools(), ownStages: [{ work: "grind", tool: "M7" }] });
    expect([gone.comparison, gone.noComparison]).toEqual([null, "The shelf has no M7"]);
  });
});

describe("choosing the cheapest", () => {
  const cheapest = chooseSource(fineAlone(twoTools()), "cheapest");

  it("shows and writes it, with passes as the scratches need, and says so", () => {
    expect(tools(cheapest)).toEqual(["M30", "M60"]);
    expect(planOf(cheapest)).toMatchObject({
      inputs: { passesFrom: "scratch" },
      stages: [{ tool: "M30" }, { tool: "M60" }],
    });
    expect(derive(cheapest).estimate!.price).toBe(3238); // by hand, above
    expect(cheapest.note).toContain("Passes now follow scratch depth");
    expect(chooseSource(cheapest, "cheapest").note).toBe(cheapest.note);
  });

  it("keeps the user's own for the way back, with its passes and its price", () => {
    const back = chooseSource(cheapest, "mine");
    expect(tools(back)).toEqual(["M60"]);
    expect(back.inputs.passesFrom).toBe("shelf");
    expect(derive(back).estimate!.price).toBe(399); // by hand: one pass, 2 × (180 + 19.50), as before
    expect(back.note).toContain("Your listed passes are back");
    expect(proposeAgain(cheapest).inputs.passesFrom).toBe("shelf");
  });

  it("also over a reload of the pane", () => {
    const reloaded = withDraft(startPlan(), draftOf(cheapest));
    expect(chooseSource(reloaded, "mine").inputs.passesFrom).toBe("shelf");
  });

  it("leaves passes on the way back as the user has set them since, or had them before", () => {
    const since = setChoice(setChoice(cheapest, "passesFrom", "shelf"), "passesFrom", "scratch");
    const before = chooseSource(setChoice(fineAlone(twoTools()), "passesFrom", "scratch"), "cheapest");
    for (const state of [since, before]) {
      const back = chooseSource(state, "mine");
      expect(back.inputs.passesFrom).toBe("scratch");
      expect(derive(back).estimate!.price).toBe(5439); // by hand, above
    }
  });

  it("and then changing it makes it the user's own as it was shown, passes and all", () => {
    const own = removeStage(cheapest, 0);
    expect([own.source, own.inputs.passesFrom]).toEqual(["mine", "scratch"]);
    expect(chooseSource(own, "mine").inputs.passesFrom).toBe("scratch");
  });

  it("tells when passes are set back to the shelf's, for which it was not worked out", () => {
    const { notes, estimate } = derive(setChoice(cheapest, "passesFrom", "shelf"));
    expect(notes.at(-1)).toContain("this plan uses your listed passes");
    expect(estimate!.rows.map(({ passes }) => passes)).toEqual([1, 1]);
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
    expect([estimate, trouble]).toEqual([null, "The shelf has no sequence for this floor."]);
    expect(notes.join()).toContain("every tool leaves a deeper scratch than the 100 µm that are there");
  });
});

describe("a machine for a stage", () => {
  const state = fineAlone(twoTools({ machines: [WIDE] }));

  reference(
    "changes what the stage costs",
    "hand: twice the width takes half an hour, 39 of crew and 22 of machine; with a set of 80 and a change of 19.50",
    () => expect(derive(setMachine(state, 0, "Wide")).estimate!.rows[0]!.cost).toBeCloseTo(39 + 22 + 80 + 19.5, 9),
  );

  reference(
    "is the cheapest at a press, and what that saves is told",
    "hand: half an hour of crew, 0.5 × 78 = 39; the machine costs 22 either way",
    () => {
      const put = putOnCheapestMachines(state);
      expect(derive(put).stages).toMatchObject([{ tool: "M60", machine: "Wide" }]);
      expect(put.note).toBe("Each stage is now on its cheapest machine: 39.00 less for the stages.");
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
    expect([estimate, trouble]).toEqual([null, "The machines table has no Sold"]);
  });
});

it("the search is not done again for what no sequence depends on", () => {
  const { inputs, shelf } = fillInExample(startPlan("us"));
  const found = cheapestFor(inputs, shelf.shelf);
  expect(cheapestFor({ ...inputs, jobName: "Another", margin: 0.4, minimum: 900 }, shelf.shelf)).toBe(found);
  expect(cheapestFor({ ...inputs, speed: 12 }, shelf.shelf)).not.toBe(found);
  expect(cheapestFor({ ...inputs, speed: 12 }, { ...shelf.shelf })).not.toBe(found);
});
