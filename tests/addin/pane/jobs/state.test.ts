import { describe, expect, it } from "vitest";
import { calibrationOf, groupName, isOutdated } from "../../../../addin/pane/calibration";
import { withoutAudit } from "../../../../addin/pane/commands";
import {
  checkDigest,
  earned,
  factorOf,
  fadeBars,
  isThisSlab,
  markedWords,
  takeCheck,
  unrecordedWords,
} from "../../../../addin/pane/jobs/check";
import {
  headingsOf,
  mappingDigest,
  mappingProblems,
  mappingTrouble,
  setHeading,
  takeSource,
} from "../../../../addin/pane/jobs/list";
import { type JobsState, SHOWN_AT_ONCE, startJobs } from "../../../../addin/pane/jobs/state";
import { dropCalibration, usedCalibration } from "../../../../addin/pane/plan/calibration";
import { derive, planOf } from "../../../../addin/pane/plan/derived";
import { draftOf, withDraft } from "../../../../addin/pane/plan/draft";
import { fillInExample, startPlan } from "../../../../addin/pane/plan/state";
import { type State, startState } from "../../../../addin/pane/state";
import { FRAME } from "../../../../addin/pane/texts";
import { useInPlan } from "../../../../addin/pane/use-calibration";
import { auditOf, type CalibrationGroup } from "../../../../functions/audit/audit";
import type { Job } from "../../../../functions/audit/check";
import { JOB_KEYS } from "../../../../functions/audit/fields";
import type { Mapping } from "../../../../functions/audit/headings";
import type { Inputs } from "../../../../functions/plan/inputs";
import { reference } from "../../../helpers";
import { source, writtenFor } from "./fixtures";

const HEADINGS = ["Job no", "Bid price", "Billed", "Bid cost", "Final cost", "Remarks"];
const MAPPING = {
  job: "Job no",
  quotedPrice: "Bid price",
  actualPrice: "Billed",
  quotedCost: "Bid cost",
  actualCost: "Final cost",
};

const EVERYTHING = Object.fromEntries(JOB_KEYS.map((key) => [key, key])) as Mapping;

/** Quoted at 10 h, which took this long. */
const job = (row: number, hours: number, over: Partial<Job> = {}): Job => ({
  row,
  job: `J${row}`,
  bond: "metal",
  passes: 1,
  price: { quoted: 1000, actual: 1000 },
  cost: { quoted: 700, actual: 700 },
  hours: { quoted: 10, actual: hours },
  ...over,
});

const audit = auditOf([job(0, 8), job(1, 10), job(2, 12.5), job(3, 11, { bond: "resin" })]);
const groupOf = (by: CalibrationGroup["by"], value = "") =>
  audit.groups.find((group) => group.by === by && group.value === value)!;

const listed = (headings = HEADINGS) => takeSource(startJobs(), source({ headings }), {});
const checked = (): JobsState => takeCheck(listed(), { rows: 4, problems: [], audit });
const written = { sheet: writtenFor(audit), groups: audit.groups };
const audited = (): JobsState => ({ ...checked(), written });

describe("a job list", () => {
  it("is taken with the headings that explain themselves", () => {
    const jobs = listed();
    expect(jobs.mapping).toEqual(MAPPING);
    expect(jobs).toMatchObject({ chosen: "guess", mappingOpen: true });
    expect(mappingTrouble(jobs)).toBe("");
  });

  it("is taken with the headings of last time where it has them all, even those that no one could guess", () => {
    const lastTime = { ...MAPPING, bond: "Remarks" };
    const jobs = takeSource(startJobs(), source({ headings: HEADINGS }), lastTime);
    expect(jobs).toMatchObject({ mapping: lastTime, chosen: "last time", mappingOpen: false });
    expect(mappingDigest(jobs)).toBe("the headings you chose last time: 6 of 21 fields have a column");
  });

  it("that lacks a heading of last time is taken afresh", () => {
    const jobs = takeSource(startJobs(), source({ headings: HEADINGS }), { ...MAPPING, bond: "Diamond" });
    expect(jobs).toMatchObject({ mapping: MAPPING, chosen: "guess" });
  });

  it("offers each heading once, and none that is blank", () => {
    expect(headingsOf(source({ headings: ["Job", "", "Cost", "Cost", "  "] }))).toEqual(["Job", "Cost"]);
  });

  it("with a required column missing says which, and cannot be read until it is chosen", () => {
    const jobs = setHeading(listed(), "actualCost", "");
    expect(mappingProblems(jobs).actualCost).toEqual({ kind: "missing" });
    expect(mappingTrouble(jobs)).toBe("Fix the headings first: Actual cost.");
    expect(mappingTrouble(setHeading(jobs, "actualCost", "Final cost"))).toBe("");
  });

  it("with other headings, or another list, is no longer checked nor audited", () => {
    expect(setHeading(audited(), "bond", "Remarks")).toMatchObject({ checked: null, written: null, chosen: "user" });
    expect(takeSource(audited(), source({ headings: HEADINGS }), {})).toMatchObject({ checked: null, written: null });
  });

  it("whose every heading explains itself shows no mapping, unless a needed column is missing", () => {
    const known = Object.values(MAPPING);
    expect(listed(known).mappingOpen).toBe(false);
    expect(listed(known.slice(0, -1)).mappingOpen).toBe(true);
  });

  it("that is checked again shows its first problems again, and keeps its audit", () => {
    const jobs = takeCheck({ ...audited(), shown: 500 }, { rows: 4, problems: [], audit });
    expect(jobs).toMatchObject({ shown: SHOWN_AT_ONCE, written, mappingOpen: false });
  });
});

describe("what the check found", () => {
  it("is told in a sentence, with what was left out", () => {
    const problem = { row: 1, key: null, wrong: { kind: "blankRow" }, effect: "left out" } as const;
    expect(checkDigest({ rows: 5, problems: [problem], audit })).toBe(
      "5 rows: 4 jobs counted, 1 not counted, 1 problem",
    );
    expect(checkDigest({ rows: 1, problems: [], audit: auditOf([job(0, 8)]) })).toBe(
      "1 row: 1 job counted, 0 not counted, no problems",
    );
  });

  reference(
    "has a bar a cause, as long as its share of the longest, and says which way it went",
    "hand: 12 h at 40 for 10 at 40 lost 80; liquids 60 for 100 gained 40, half as long; the cost in all rose by 40, so other is 0",
    () => {
      const rate = { quoted: 40, actual: 40 };
      const liquids = { quoted: 100, actual: 60 };
      const cost = { quoted: 700, actual: 740 };
      const bars = fadeBars(auditOf([job(0, 12, { rate, liquids, cost })]), EVERYTHING);
      const byCause = Object.fromEntries(bars.map(({ cause, ...bar }) => [cause, bar]));
      expect(byCause["Labor hours"]).toEqual({ money: 80, length: 1, change: "lost" });
      expect(byCause.Liquids).toEqual({ money: -40, length: 0.5, change: "gained" });
      expect(byCause.Other).toEqual({ money: 0, length: 0, change: "no difference" });
      expect(bars).toHaveLength(6);
    },
  );

  it("of jobs that turned out as quoted has no bars", () => {
    expect(fadeBars(auditOf([job(0, 10)]), EVERYTHING).every(({ length }) => length === 0)).toBe(true);
  });

  it("says what the jobs earned beside the quotes, whichever way it went", () => {
    const costing = (actual: number) => earned(auditOf([job(0, 10, { cost: { quoted: 700, actual } })]));
    expect(costing(780)).toBe("The jobs earned 80.00 less than quoted.");
    expect(costing(690)).toBe("The jobs earned 10.00 more than quoted.");
    expect(costing(700)).toBe("The jobs earned what was quoted.");
  });

  reference(
    "explains a margin that rose while less was earned",
    "hand: 1000 - 700 is 30 %, 900 - 620 is 31.1 % and 20 less, at a price 100 lower; 1200 - 850 is 29.2 % and 50 more",
    () => {
      const turned = (price: number, cost: number) =>
        earned(auditOf([job(0, 10, { price: { quoted: 1000, actual: price }, cost: { quoted: 700, actual: cost } })]));
      expect(turned(900, 620)).toBe(
        "The jobs earned 20.00 less than quoted. Margin as a share of price still rose: 100.00 less was charged.",
      );
      expect(turned(1200, 850)).toBe(
        "The jobs earned 50.00 more than quoted. Margin as a share of price still fell: 200.00 more was charged.",
      );
      expect(turned(1100, 700)).toBe("The jobs earned 100.00 more than quoted.");
    },
  );

  it("says how much of Other is of jobs whose cause is not known, and nothing where all is told", () => {
    const rate = { quoted: 40, actual: 40 };
    const cost = { quoted: 700, actual: 780 };
    const told = job(0, 12, { rate, cost });
    expect(unrecordedWords(auditOf([told]))).toBe("");
    // By hand: 12 h for 10 at 40 explain 80 of the first; of the second, without its hours, the 80 are other.
    expect(unrecordedWords(auditOf([told, { ...told, row: 1, hours: undefined }]))).toBe(
      "80.00 of Other comes from 1 job with missing details.",
    );
  });

  reference(
    "says how many jobs of a group stand out, and its factor without them",
    "hand: 8, 9, 10, 11 and 12.5 h for 10 and once 60; their product over 10^5 is 0.99, its fifth root 0.998",
    () => {
      const jobs = [8, 9, 10, 11, 12.5, 60].map((hours, row) => job(row, hours));
      const [all] = auditOf(jobs).groups;
      expect(markedWords(all!)).toBe("1 job here has unusual hours. Without it, the factor is 1.00.");
      expect(all!.without).toBeCloseTo(0.99 ** (1 / 5), 12);
      expect(markedWords(auditOf(jobs.slice(0, 5)).groups[0]!)).toBe("");
    },
  );

  it("says of a cause that the list does not tell that it is not there, instead of no difference", () => {
    const words = Object.fromEntries(fadeBars(audit, MAPPING).map(({ cause, change }) => [cause, change]));
    expect(words).toMatchObject({
      "Labor hours": "not in the list",
      Liquids: "not in the list",
      Other: "no difference",
    });
  });

  it("shows how far a long list is", () => {
    expect(FRAME.progress("Reading rows", 4000, 20000)).toBe("Reading rows: 4,000 of 20,000");
  });
});

describe("what a group of jobs took", () => {
  reference(
    "is the factor and its interval",
    "hand: ln ratios −ln 1.25, 0, ln 1.25: factor 1; t(0.95, 2) = 0.9 / √0.095 = 2.92; exp(±2.92 × 0.22314 / √3) = 0.69 and 1.46",
    () => {
      expect(factorOf(groupOf("bond", "metal"))).toBe("Took 1.00 × the quoted hours; 0.69 to 1.46 at 90% confidence.");
    },
  );

  it("is nothing with fewer than three jobs, and says so", () => {
    const resin = groupOf("bond", "resin");
    expect(factorOf(resin)).toBe("Needs 3 jobs with quoted and actual hours; has 1.");
    expect(calibrationOf(written, resin)).toBeUndefined();
  });

  it("needs an audit sheet before a plan can refer to it", () => {
    const metal = groupOf("bond", "metal");
    expect(calibrationOf(null, metal)).toBeUndefined();
    expect(calibrationOf(written, metal)).toMatchObject({ label: "metal bond, 3 jobs", by: "bond", value: "metal" });
  });

  it("is found in the audit by its kind and word, wherever a later check lists it", () => {
    const later = auditOf([job(0, 8), job(1, 10), job(2, 12.5), job(3, 11, { bond: "ceramic" })]);
    const jobs = takeCheck(audited(), { rows: 4, problems: [], audit: later });
    const metal = later.groups.find(({ value }) => value === "metal")!;
    expect(later.groups.indexOf(metal)).not.toBe(audit.groups.indexOf(groupOf("bond", "metal")));
    expect(calibrationOf(jobs.written, metal)).toMatchObject(calibrationOf(written, groupOf("bond", "metal"))!);
    expect(isOutdated(jobs.written, metal)).toBe(false);
  });

  it("of jobs that the audit sheet does not have asks for another audit", () => {
    const later = auditOf([job(0, 8), job(1, 10), job(2, 12.5), job(3, 11), job(4, 9)]);
    const jobs = takeCheck(audited(), { rows: 5, problems: [], audit: later });
    const metal = later.groups.find(({ value }) => value === "metal")!;
    expect(calibrationOf(jobs.written, metal)).toBeUndefined();
    expect(isOutdated(jobs.written, metal)).toBe(true);
    expect(isOutdated(null, metal)).toBe(false);
  });

  it("is of the present plan's slab where the hardness falls into the same class", () => {
    // common practice, as in the bond to try first: Mohs 3 is a soft slab, 7 a hard one
    const soft = { by: "hardness", value: "soft slab", jobs: 3, logRatios: [], marked: 0 } as const;
    const inputs = (hardness: number | null) => ({ ...startPlan().inputs, hardness }) as Inputs;
    expect([3, 7, null].map((mohs) => isThisSlab(soft, inputs(mohs)))).toEqual([true, false, false]);
    expect(isThisSlab({ ...soft, by: "machine" }, inputs(3))).toBe(false);
  });

  it("goes by a name that an owner would use", () => {
    const group = { jobs: 3, logRatios: [] };
    expect(groupName({ ...group, by: "all", value: "" })).toBe("All jobs");
    expect(groupName({ ...group, by: "hardness", value: "hard slab" })).toBe("hard slab");
    expect(groupName({ ...group, by: "machine", value: "Machine A, 28 in" })).toBe("Machine A, 28 in");
  });
});

describe("a calibration", () => {
  const calibration = calibrationOf(written, groupOf("all"))!;
  const start = (): State => ({ ...startState(fillInExample(startPlan())), view: "jobs", jobs: audited() });

  it("is taken into the plan, which says which past jobs it uses", () => {
    const { view, plan } = useInPlan(start(), calibration);
    expect(view).toBe("plan");
    expect(plan.inputs.pastJobs).toBe("all 4 jobs");
    expect(plan.openGroups).toContain("pastJobs");
    expect(planOf(plan).pastJobs).toMatchObject({ estimated: calibration.estimated, actual: calibration.actual });
    expect(derive(plan).trouble).toBeNull();
  });

  it("is dropped on a word, and when the plan's field is emptied by hand", () => {
    const { plan } = useInPlan(start(), calibration);
    const dropped = dropCalibration(plan);
    expect(usedCalibration(dropped)).toBeUndefined();
    expect(dropped.inputs.pastJobs).toBe("");
    expect(planOf({ ...plan, inputs: { ...plan.inputs, pastJobs: "" } }).pastJobs).toBeUndefined();
  });

  it("goes with the audit sheet that it refers to, and with no other", () => {
    const state = useInPlan(start(), calibration);
    expect(usedCalibration(withoutAudit(state, { ...written.sheet }).plan)).toBe(calibration);
    const undone = withoutAudit(state, written.sheet);
    expect(usedCalibration(undone.plan)).toBeUndefined();
    expect(undone.jobs.written).toBeNull();
    const fromAnother = { ...calibration, estimated: "'Audit'!$B$9:$B$12" };
    expect(usedCalibration(withoutAudit(useInPlan(start(), fromAnother), written.sheet).plan)).toBe(fromAnother);
  });

  it("survives a reload of the pane", () => {
    const stored = draftOf(useInPlan(start(), calibration).plan);
    expect(usedCalibration(withDraft(startPlan(), stored).plan)).toEqual(calibration);
  });
});
