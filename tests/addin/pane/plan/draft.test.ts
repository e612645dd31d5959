import { describe, expect, it } from "vitest";
import { draftOf } from "../../../../addin/pane/plan/draft";
import { addStage } from "../../../../addin/pane/plan/stages";
import { fillInExample, link, startPlan } from "../../../../addin/pane/plan/state";
import { chooseOnStrip, type NotedPlan, typeEntry, withDraft } from "./noted";

const worked = (): NotedPlan => ({
  ...addStage(link(fillInExample(startPlan("metric")), "margin", "Quote!C9", 0.25), "Guard"),
  place: "selected cell",
  source: "cheapest",
  strip: typeEntry(chooseOnStrip(startPlan(), { tool: "Metal 30 medium" }), "cut", "120").strip,
});

const changed = (change: (draft: any) => void) => {
  const draft = JSON.parse(draftOf(worked()));
  change(draft);
  return JSON.stringify(draft);
};

describe("a draft", () => {
  it("brings back the inputs, links, stages, place, chosen sequence and test strip", () => {
    const { inputs, links, ownStages, place, source, strip } = worked();
    expect(withDraft(startPlan(), draftOf(worked()))).toMatchObject({
      inputs,
      links,
      ownStages,
      place,
      source,
      strip,
      note: undefined,
    });
  });

  it("may hold a value that the form will tell about", () => {
    const stored = changed((draft) => {
      draft.inputs.speed = -3;
    });
    expect(withDraft(startPlan(), stored).inputs.speed).toBe(-3);
  });

  it.each([
    ["no JSON", "{"],
    ["another version", changed((draft) => (draft.version = 2))],
    ["no version", changed((draft) => delete draft.version)],
    ["null for all of it", "null"],
    ["a list for all of it", `[${changed(() => {})}]`],
    ["a calibration that is none", changed((draft) => (draft.calibration = { label: 7 }))],
    ["a place that is none", changed((draft) => (draft.place = "nowhere"))],
    ["a link that is no text", changed((draft) => (draft.links.margin = 5))],
    ["an input missing", changed((draft) => delete draft.inputs.speed)],
    ["text for a number", changed((draft) => (draft.inputs.speed = "fast"))],
    ["an unknown choice", changed((draft) => (draft.inputs.finish = "mirror"))],
    ["an unknown work", changed((draft) => (draft.ownStages[0].work = "paint"))],
    ["an unknown sequence", changed((draft) => (draft.source = "dearest"))],
    ["an unknown measurement", changed((draft) => (draft.strip.typed.color = "grey"))],
    ["a link of no input", changed((draft) => (draft.links.color = "Quote!A1"))],
  ])("with %s is left out, and the user told", (_, stored) => {
    const fresh = startPlan();
    const state = withDraft(fresh, stored);
    expect({ ...state, note: undefined }).toEqual({ ...fresh, note: undefined });
    expect(state.note).toBe("The plan kept from before doesn't fit this version, so the form starts fresh.");
  });
});
