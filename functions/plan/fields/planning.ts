/** What a plan asks about passes, a test strip and past jobs. */
import { ABOVE_0, BELOW_1, type Domain } from "../../domain";
import { both, type Field, from0To, type Given, upTo } from "../field";

const CHANCE: Domain = { words: "above 0% and below 100%", least: ABOVE_0.least, most: BELOW_1.most };
const isCalibrated = (given: Given) => given.pastJobs !== "";

export const PLANNING_FIELDS = {
  passesFrom: {
    kind: "choice",
    name: "Floor_Passes",
    group: "planning",
    label: "Passes",
    note: "How many passes each tool makes",
    choices: [
      ["larger", "enough for depth and scratches, at least the shelf's"],
      ["scratch", "just enough for depth and scratches"],
      ["shelf", "as listed on the shelf"],
    ],
    start: "larger",
  },
  depth: {
    kind: "number",
    name: "Floor_Depth",
    group: "planning",
    label: "Depth to remove",
    note: "Default: usual for the class; a test strip decides",
    domain: from0To(50_000),
    usualMost: { us: 6000, metric: 6000 },
    unit: "µm",
    start: both(null),
    blankMeans: "the usual depth for the surface and exposure",
  },
  cutCoefficient: {
    kind: "number",
    name: "Floor_Cut",
    group: "planning",
    label: "Cutting coefficient",
    note: "From a test strip; blank uses the shelf's cut",
    domain: upTo(1_000_000),
    usualMost: { us: 5000, metric: 5000 },
    unit: "mm³/kJ",
    start: both(null),
    blankMeans: "the shelf's cut per pass",
  },
  stripSize: {
    kind: "number",
    name: "Floor_StripSize",
    group: "planning",
    label: "Test strip grit size",
    note: "Other tools cut in proportion to their size",
    domain: upTo(10_000),
    unit: "µm",
    start: both(null),
    blankMeans: "not needed without a coefficient",
  },
  slideSpeed: {
    kind: "number",
    name: "Machine_SlideSpeed",
    group: "planning",
    label: "Sliding speed",
    note: "Tool speed over the floor, strip and job alike",
    domain: upTo(100_000),
    usualMost: { us: 10_000, metric: 50 },
    quantity: "slidingSpeed",
    start: both(null),
    blankMeans: "not needed without a coefficient",
  },
  pastJobs: {
    kind: "text",
    name: "Price_PastJobs",
    group: "pastJobs",
    label: "Calibrated from",
    note: "Similar past jobs, picked in the Jobs view",
    start: "",
    when: isCalibrated,
  },
  confidence: {
    kind: "number",
    name: "Price_Confidence",
    group: "pastJobs",
    label: "Confidence",
    note: "Chance that the hours are enough",
    domain: CHANCE,
    percent: true,
    start: both(0.8),
    when: isCalibrated,
  },
} as const satisfies Record<string, Field>;
