import { describe, expect, it } from "vitest";
import { derive } from "../../../../addin/pane/plan/derived";
import { link, startPlan, typeNumber } from "../../../../addin/pane/plan/state";
import {
  blankSpeed,
  cutOnStrip,
  entryUnit,
  type MeasuredCut,
  measuredOf,
  ranWords,
  readEntry,
  rememberedAs,
  wearOfSet,
} from "../../../../addin/pane/plan/strip";
import type { EntryKey } from "../../../../addin/pane/plan/strip-state";
import { cutOf, machinesFor } from "../../../../functions/plan/estimate";
import { startInputs } from "../../../../functions/plan/inputs";
import { reference } from "../../../helpers";
import { chooseOnStrip, type NotedPlan, restoreBeforeStrip, setChoice, takeFromStrip, typeEntry } from "./noted";

const filled = (state: NotedPlan, entries: Partial<Record<EntryKey, string>>): NotedPlan =>
  (Object.entries(entries) as [EntryKey, string][]).reduce((s, [key, text]) => typeEntry(s, key, text), state);

const TOOL = "Metal 60 medium"; // of the starter shelf; its speed factor is 1
const withTool = (state: NotedPlan) => chooseOnStrip(state, { tool: TOOL });
const cut = (state: NotedPlan) => cutOnStrip(state.strip, state.inputs, state.shelf.shelf);
const wear = (state: NotedPlan) => wearOfSet(state.strip, state.inputs, state.shelf.shelf);

/** The strip of CUTCOEFFICIENT's example. */
const METRIC: NotedPlan = {
  ...startPlan("metric"),
  inputs: { ...startInputs("metric"), length: 24, width: 15, load: 200, machineWidth: 700, speed: 6, overlap: 0 },
};
const ON_STRIP = { cut: "56.038", slideSpeed: "10" };

describe("a strip of several passes", () => {
  reference(
    "cuts in one of them its share of the depth, and is remembered with both",
    "hand: 168.114 µm in 3 passes are 56.038 a pass, as on the strip of one",
    () => {
      const state = filled(withTool(METRIC), { ...ON_STRIP, cut: "168.114", passes: "3" });
      const found = cut(state) as MeasuredCut;
      expect(found.coefficient).toBe(200);
      expect(measuredOf(found)).toEqual({ cut: 56.038 });
      const strip = rememberedAs(found, state.strip, state.inputs, new Date(2026, 0, 15));
      expect(strip).toMatchObject({ cut: 168.114, passes: 3 });
    },
  );

  it("is one pass where none are typed, and no part of one", () => {
    const state = filled(withTool(METRIC), ON_STRIP);
    const found = cut(state) as MeasuredCut;
    expect(rememberedAs(found, state.strip, state.inputs, new Date())).toMatchObject({ cut: 56.038, passes: 1 });
    expect(readEntry(typeEntry(state, "passes", "1.5").strip, "passes").problem).toBe(
      "Passes over the strip must be a whole number, 1 or more; got 1.5",
    );
  });

  it("shows a third of a depth in no more digits than anybody measures", () => {
    const found = cut(filled(withTool(METRIC), { ...ON_STRIP, cut: "100", passes: "3" })) as MeasuredCut;
    expect(measuredOf(found)).toEqual({ cut: 33.333 });
  });
});

describe("one measured pass", () => {
  reference(
    "gives the cutting coefficient",
    "hand: 56.038e-6 m × 0.7 m × 0.1 m/s / (200 × 9.80665 N × 10 m/s) = 200e-12 m³/J",
    () =>
      expect(cut(filled(withTool(METRIC), ON_STRIP))).toMatchObject({ coefficient: 200, slideSpeed: 10, size: 250 }),
  );

  reference(
    "gives half of it where a machine with twice the load cut as deep",
    "hand: the same cut for twice the power",
    () => {
      const { shelf } = METRIC.shelf;
      const heavy = { name: "Heavy", width: 700, speed: 6, load: 400, toolsASet: 9, cost: 50 };
      const state: NotedPlan = { ...METRIC, shelf: { ...METRIC.shelf, shelf: { ...shelf, machines: [heavy] } } };
      const ran = chooseOnStrip(filled(withTool(state), ON_STRIP), { machine: "Heavy" });
      expect(cut(ran)).toMatchObject({ coefficient: 100 });
      expect(cut(chooseOnStrip(ran, { machine: "Sold" }))).toContain("no Sold");
    },
  );

  reference(
    "has the sliding speed from the heads where none is typed",
    "published: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), E(1) = 1; a = 2π × 1 ft × 30 and b = 2π × 0.25 ft × 120 give (2/π) × 120π = 240 ft/min",
    () => {
      const heads = { headRadius: "12", toolRadius: "3", headSpeed: "90", carrierSpeed: "30" };
      const state = filled(withTool({ ...startPlan("us") }), { cut: "50", ...heads });
      expect(blankSpeed(state.strip, state.inputs, state.shelf.shelf)).toBe(240);
      expect(cut(state)).toMatchObject({ slideSpeed: 240 });
      expect(cut(typeEntry(state, "slideSpeed", "500"))).toMatchObject({ slideSpeed: 500 });
    },
  );

  it("takes the plan's sliding speed where the strip tells none", () => {
    const state = filled(withTool(typeNumber(METRIC, "slideSpeed", "10")), { cut: "56.038" });
    expect(cut(state)).toMatchObject({ coefficient: 200 });
  });

  it.each([
    ["a tool", METRIC, "Choose the tool"],
    ["the depth", withTool(METRIC), "Still needed: depth removed."],
    ["the sliding speed", filled(withTool(METRIC), { cut: "50" }), "Still needed: the sliding speed"],
    ["heads that turn", filled(withTool(METRIC), { cut: "50", toolRadius: "3", headSpeed: "0" }), "the sliding speed"],
    ["a depth above 0", filled(withTool(METRIC), { cut: "0", slideSpeed: "10" }), "Fix the highlighted fields"],
    ["a machine", typeNumber(filled(withTool(METRIC), ON_STRIP), "load", "0"), "Fix the Machine section first."],
  ])("asks for %s", (_, state, told) => {
    expect(cut(state)).toContain(told);
  });

  it("says in words what is wrong with an entry", () => {
    const { strip } = filled(METRIC, { cut: "-3", headSpeed: "fast" });
    expect(readEntry(strip, "cut").problem).toBe("Depth removed must be above 0 and at most 10,000; got -3");
    expect(readEntry(strip, "headSpeed").problem).toContain('got the text "fast"');
  });
});

it("says with which speed, load, width and overlap the coefficient is worked out, the tool's factor included", () => {
  const { shelf } = METRIC.shelf;
  const tools = shelf.tools.map((tool) => (tool.name === TOOL ? { ...tool, speedFactor: 0.5 } : tool));
  const slower: NotedPlan = { ...METRIC, shelf: { ...METRIC.shelf, shelf: { ...shelf, tools } } };
  const found = cut(filled(withTool(typeNumber(slower, "overlap", "20")), ON_STRIP)) as MeasuredCut;
  // hand: 6 m/min × 0.5
  expect(ranWords(found, "metric")).toBe(
    "At 3 m/min (including the tool's speed factor), 200 kgf, 700 mm, 20% overlap.",
  );
});

describe("a strip used in the plan", () => {
  const found = cut(filled(withTool(METRIC), ON_STRIP)) as MeasuredCut;

  it("fills in coefficient, size and sliding speed, and counts passes as the scratches need", () => {
    const linked = link(typeNumber(METRIC, "stripSize", "x"), "cutCoefficient", "Quote!C5", 150);
    const used = takeFromStrip(linked, found);
    expect(used.inputs).toMatchObject({
      cutCoefficient: 200,
      stripSize: 250,
      slideSpeed: 10,
      passesFrom: "scratch",
    });
    expect([used.links, used.typed]).toEqual([{}, {}]);
    expect(derive(used).problems).toEqual({});
    expect(used.openGroups).toContain("planning");
    expect(used.note).toContain(TOOL);
  });

  it("can be given up for what was there before, in the units of now", () => {
    const linked = link(METRIC, "cutCoefficient", "Quote!C5", 150);
    const before = { ...linked, inputs: { ...linked.inputs, stripSize: 300, slideSpeed: 6.096 } };
    const back = restoreBeforeStrip(takeFromStrip(before, found));
    expect([back.inputs, back.links, back.beforeStrip]).toEqual([before.inputs, before.links, null]);
    // The cell holds the old unit; 6.096 m/s are 1200 ft/min (0.3048 m to a foot).
    const inFeet = restoreBeforeStrip(setChoice(takeFromStrip(before, found), "units", "us"));
    expect(inFeet.inputs).toMatchObject({
      cutCoefficient: 150,
      stripSize: 300,
      slideSpeed: 1200,
      passesFrom: "larger",
    });
    expect(inFeet.links).toEqual({});
    expect(restoreBeforeStrip(METRIC)).toBe(METRIC);
  });

  it("gives the strip's own tool no less than the cut that was measured, and hardly more", () => {
    for (const depth of ["37.3", "56.038", "119", "0.77"]) {
      const state = filled(withTool(METRIC), { ...ON_STRIP, cut: depth });
      const { tool, size } = cut(state) as MeasuredCut;
      const { inputs, shelf } = takeFromStrip(state, cut(state) as MeasuredCut);
      const planned = cutOf(tool, size, machinesFor(inputs, shelf.shelf)[0]!, inputs)!;
      expect(planned / Number(depth)).toBeGreaterThanOrEqual(1 - 1e-9);
      expect(planned / Number(depth)).toBeLessThan(1.001); // identity: the inverse, rounded up in its fourth digit
    }
  });

  it("writes the depth itself into the tooling table", () => {
    expect(measuredOf(found)).toEqual({ cut: 56.038 });
  });
});

describe("a worn set", () => {
  const WORN = { heightBefore: "8.5", heightAfter: "7", wornPasses: "2", newHeight: "8.5", wornOut: "2.5" };

  reference(
    "gives wear and the life of a set",
    "hand: 1.5 mm over 6 × 1000 ft², and over 6 × 100 m², is 0.25 mm; 6 mm last 24 times as far",
    () => {
      const us = wear(filled(withTool(startPlan("us")), { ...WORN, wornArea: "3000" }));
      expect(us).toMatchObject({ wear: 0.25, life: 24000 });
      const metric = wear(filled(withTool(METRIC), { ...WORN, wornArea: "300" }));
      expect(metric).toMatchObject({ wear: 0.25, life: 2400 });
      expect(measuredOf(us as never)).toEqual({ wear: 0.25, life: 24000 });
    },
  );

  reference(
    "keeps three digits, and takes a blank for one pass",
    "hand: 1.5 / 7 = 0.214286 mm, 6 × 7000 / 1.5 = 28000",
    () => {
      const state = filled(withTool(startPlan("us")), { ...WORN, wornPasses: "", wornArea: "7000" });
      expect(wear(state)).toMatchObject({ wear: 0.214, life: 28000 });
    },
  );

  it.each([
    ["a tool", filled(METRIC, WORN), "Choose the tool"],
    ["the floor", filled(withTool(METRIC), WORN), "Still needed: area ground between measurements."],
    ["wear", filled(withTool(METRIC), { ...WORN, wornArea: "300", heightAfter: "8.5" }), "No measurable wear yet"],
    [
      "a height after that is lower",
      filled(withTool(METRIC), { ...WORN, wornArea: "300", heightAfter: "9" }),
      "at most the height before (8.5 mm); got 9 mm",
    ],
    [
      "a new height that no worn segment is above",
      filled(withTool(METRIC), { ...WORN, wornArea: "300", newHeight: "8" }),
      "at least the height before (8.5 mm); got 8 mm",
    ],
    [
      "a worn-out height below a new one",
      filled(withTool(METRIC), { ...WORN, wornArea: "300", wornOut: "8.5" }),
      "lower than a new one (8.5 mm); got 8.5 mm",
    ],
  ])("asks for %s", (_, state, told) => {
    expect(wear(state)).toContain(told);
  });
});

it("switching units converts what was measured and leaves the rest as typed", () => {
  const us = filled(startPlan("us"), { headRadius: "12", wornArea: "1,000", cut: "50", slideSpeed: "quick" });
  const { strip } = setChoice(us, "units", "metric");
  // NIST SP 811: 12 in are 304.8 mm, 1000 ft² are 92.90304 m².
  expect(strip.typed).toEqual({ headRadius: "304.8", wornArea: "92.90304", cut: "50", slideSpeed: "quick" });
  expect([entryUnit("headRadius", "us"), entryUnit("headRadius", "metric"), entryUnit("wornPasses", "us")]).toEqual([
    "in",
    "mm",
    "",
  ]);
});
