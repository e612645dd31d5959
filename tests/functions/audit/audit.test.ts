import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { auditOf, CAUSE_KEYS, type FadeParts, fadeParts } from "../../../functions/audit/audit";
import type { Job, Pair } from "../../../functions/audit/check";
import { hardnessClass } from "../../../functions/audit/classes";
import { whyNotWords } from "../../../functions/audit/texts";
import { expectClose, reference } from "../../helpers";

const pair = (quoted: number, actual: number): Pair => ({ quoted, actual });

/** Five invented jobs; what they come to is worked out by hand beside each check. */
const FIVE: readonly Job[] = [
  {
    ...{ row: 0, job: "1001", bond: "metal", hardness: 3, machine: "Machine A, 28 in", area: 5000, passes: 2 },
    ...{ price: pair(10000, 10000), cost: pair(7000, 7600), hours: pair(40, 50), rate: pair(50, 52) },
    ...{ sets: pair(2, 2.5), setPrice: pair(300, 320), liquids: pair(200, 180) },
  },
  {
    ...{ row: 1, job: "1002", bond: "metal", hardness: 7, machine: "Machine A, 28 in", area: 4000, passes: 1 },
    ...{ price: pair(8000, 8500), cost: pair(5000, 5200), hours: pair(30, 25), sets: pair(1, 1) },
  },
  {
    ...{ row: 3, job: "1003", bond: "Metal", hardness: 3.9, area: 6000, passes: 1 },
    ...{ price: pair(12000, 12000), cost: pair(9000, 9000), hours: pair(60, 60), rate: pair(45, 45) },
  },
  {
    ...{ row: 4, job: "1004", bond: "resin", hardness: 5, passes: 3 },
    ...{ price: pair(5000, 4800), cost: pair(3000, 3100), hours: pair(20, 22), rate: pair(40, 40) },
  },
  {
    ...{ row: 7, job: "1005", machine: "Machine A, 28 in", passes: 1 },
    ...{ price: pair(2000, 2000), cost: pair(1500, 1450), liquids: pair(100, 90) },
  },
];
const none: FadeParts = { rate: 0, hours: 0, toolUse: 0, toolPrice: 0, liquids: 0, other: 0 };

const sum = (values: readonly number[]) => values.reduce((total, x) => total + x, 0);
const inCents = (parts: FadeParts) => sum(CAUSE_KEYS.map((cause) => Math.round(parts[cause] * 100)));

describe("the margin fade of a job by cause", () => {
  reference(
    "is 100 by rate, 500 by hours, 150 by tool use, 50 by tool price, -20 by liquids, -180 by the rest",
    "hand: (52 - 50) × 50 h; (50 - 40) × 50; (2.5 - 2) × 300; (320 - 300) × 2.5; 180 - 200; whole 3000 - 2400 = 600",
    () => {
      const parts = { rate: 100, hours: 500, toolUse: 150, toolPrice: 50, liquids: -20, other: -180 };
      expect(fadeParts(FIVE[0]!)).toEqual(parts);
    },
  );

  reference(
    "is other as far as only half of what a cause needs is recorded",
    "hand: 1002 without rate and set price: 3000 - 3300 = -300; 1005: 500 - 550 = -50, of which liquids 90 - 100",
    () => {
      expect(fadeParts(FIVE[1]!)).toEqual({ ...none, other: -300 });
      expect(fadeParts(FIVE[4]!)).toEqual({ ...none, liquids: -10, other: -40 });
    },
  );

  reference(
    "rounds halves of a cent away from 0, whatever a double makes of them",
    "hand: 1.005 and 2.675 h at 1 and at -1 over the quote are 1.01, 2.68, and as much below 0",
    () => {
      const at = (actualRate: number, quotedRate: number, hours: number) =>
        fadeParts({ ...FIVE[1]!, sets: undefined, hours: pair(hours, hours), rate: pair(quotedRate, actualRate) }).rate;
      expect([at(1, 0, 1.005), at(0, 1, 1.005), at(1, 0, 2.675), at(0, 1, 2.675)]).toEqual([1.01, -1.01, 2.68, -2.68]);
    },
  );

  const money = (least: number, most: number) => fc.integer({ min: least, max: most }).map((cents) => cents / 100);
  const both = (value: fc.Arbitrary<number>) => fc.record({ quoted: value, actual: value });
  const amounts = {
    row: fc.nat(),
    job: fc.string(),
    passes: fc.constant(1),
    price: both(money(1, 1e8)),
    cost: both(money(0, 1e8)),
    hours: both(fc.double({ min: 0.1, max: 1e4, noNaN: true })),
    rate: both(fc.double({ min: 0, max: 500, noNaN: true })),
    sets: both(fc.double({ min: 0, max: 1e3, noNaN: true })),
    setPrice: both(fc.double({ min: 0, max: 5e3, noNaN: true })),
    liquids: both(money(0, 1e7)),
  };
  const someRecorded: fc.Arbitrary<Job> = fc.record(amounts, {
    requiredKeys: ["row", "job", "passes", "price", "cost"],
  });

  it("sums to the whole to the cent, for one random job and for many", () => {
    const cents = (amount: number) => Math.round(amount * 100);
    const whole = ({ price, cost }: Job) =>
      cents(price.quoted) - cents(cost.quoted) - (cents(price.actual) - cents(cost.actual));
    fc.assert(
      fc.property(someRecorded, (job) => {
        expect(inCents(fadeParts(job))).toBe(whole(job));
      }),
      { numRuns: 10000 },
    );
    fc.assert(
      fc.property(fc.array(someRecorded, { maxLength: 30 }), (jobs) => {
        const { fade } = auditOf(jobs);
        expect(inCents(fade.parts)).toBe(sum(jobs.map(whole)));
        expect(cents(fade.whole)).toBe(sum(jobs.map(whole)));
      }),
    );
  });

  it("leaves nothing for other where the price stood and all of the cost is recorded", () => {
    fc.assert(
      fc.property(fc.record(amounts), (job) => {
        const { price, hours, rate, sets, setPrice, liquids } = job;
        const cost = (side: keyof Pair) => hours[side] * rate[side] + sets[side] * setPrice[side] + liquids[side];
        const { other } = fadeParts({
          ...job,
          price: pair(price.quoted, price.quoted),
          cost: pair(cost("quoted"), cost("actual")),
        });
        // The whole and five parts, each rounded by half a cent at most.
        expect(Math.abs(Math.round(other * 100))).toBeLessThanOrEqual(3);
      }),
    );
  });
});

describe("hardness of the slab", () => {
  it("is soft below 4 Mohs, hard above 6, and unknown where not recorded", () => {
    expect([1, 3.9, 4, 5, 6, 6.1, 10].map(hardnessClass)).toEqual([
      ...["soft slab", "soft slab", "medium slab", "medium slab"],
      ...["medium slab", "hard slab", "hard slab"],
    ]);
    expect(hardnessClass(undefined)).toBe("");
  });
});

describe("the audit of five jobs", () => {
  const audit = auditOf(FIVE);

  reference(
    "adds up prices, costs and margins",
    "hand: 10000 + 8000 + 12000 + 5000 + 2000 = 37000, in the end 37300; 25500, in the end 26350; 11500 / 37000",
    () => {
      expect(audit).toMatchObject({ jobs: 5, price: pair(37000, 37300), cost: pair(25500, 26350) });
      expectClose(audit.margin!.quoted, 11500 / 37000);
      expectClose(audit.margin!.actual, 10950 / 37300);
    },
  );

  reference(
    "adds up the margin fade by cause",
    "hand: whole 600 - 300 + 0 + 300 - 50 = 550; hours 500 + 2 × 40; liquids -20 - 10; other -180 - 300 + 220 - 40",
    () => {
      const parts = { rate: 100, hours: 580, toolUse: 150, toolPrice: 50, liquids: -30, other: -300 };
      expect(audit.fade).toEqual({ whole: 550, parts });
    },
  );

  reference(
    "has the area rate and tool life of each bond on each class of slab",
    "hand: soft (5000 × 2 + 6000) / (50 + 60) h, 5000 × 2 / 2.5 sets; hard 4000 / 25 h, 4000 / 1 set; no area for resin",
    () => {
      expect(audit.rates).toEqual([
        { bond: "metal", hardness: "soft slab", jobs: 2, areaRate: 16000 / 110, toolLife: 4000 },
        { bond: "metal", hardness: "hard slab", jobs: 1, areaRate: 160, toolLife: 4000 },
        { bond: "resin", hardness: "medium slab", jobs: 1 },
        { bond: "", hardness: "", jobs: 1 },
      ]);
    },
  );

  reference(
    "gives how much of Other is of jobs that lack a cause, of those that the list has",
    "hand: 1002 lacks the rate, 1003 and 1004 sets and liquids, 1005 hours and sets: -300 + 0 + 220 - 40; 1004's 220 = 300 - 80",
    () => {
      expect(audit.unrecorded).toEqual({ jobs: 4, other: -120 });
      const hours = { quotedHours: "a", actualHours: "b", quotedRate: "c", actualRate: "d" };
      // Asked for labor alone, only 1002 and 1005 lack it.
      expect(auditOf(FIVE, hours).unrecorded).toEqual({ jobs: 2, other: -340 });
      expect(auditOf(FIVE, {}).unrecorded).toEqual({ jobs: 0, other: 0 });
    },
  );

  it("groups them by bond, hardness and machine, with what is recorded only", () => {
    expect(audit.groups.map(({ by, value, jobs }) => [by, value, jobs])).toEqual([
      ["all", "", 4],
      ["bond", "metal", 3],
      ["bond", "resin", 1],
      ["hardness", "soft slab", 2],
      ["hardness", "medium slab", 1],
      ["hardness", "hard slab", 1],
      ["machine", "Machine A, 28 in", 2],
    ]);
  });

  reference(
    "calibrates all of them and those with metal bond, by the geometric mean of actual over quoted hours",
    "hand: 50/40 × 25/30 × 60/60 × 22/20 = 1.1458333, its fourth root; without the last 1.0416667, its cube root",
    () => {
      const [all, metal] = audit.groups;
      expectClose(all!.calibration!.factor, (1.375 / 1.2) ** 0.25);
      expectClose(metal!.calibration!.factor, Math.cbrt(1.25 / 1.2));
      expect([all!.calibration!.jobs, metal!.calibration!.jobs]).toEqual([4, 3]);
    },
  );

  it("gives fewer than 3 jobs no interval, and says so", () => {
    const [, , ...few] = audit.groups;
    expect(few.map(({ calibration }) => calibration)).toEqual([undefined, undefined, undefined, undefined, undefined]);
    expect(few[1]!.whyNot).toEqual({ kind: "tooFew", jobs: 2, least: 3 });
    expect(whyNotWords(few[1]!.whyNot!)).toBe("Needs 3 jobs with quoted and actual hours; has 2.");
    expect(audit.groups[1]!.whyNot).toBeUndefined();
  });

  it("leaves the jobs as they were", () => {
    const before = structuredClone(FIVE);
    auditOf(FIVE);
    expect(FIVE).toEqual(before);
  });
});

describe("an audit", () => {
  it("of no jobs shows nothing, and fails at nothing", () => {
    expect(auditOf([])).toEqual({
      ...{ jobs: 0, price: pair(0, 0), cost: pair(0, 0), fade: { whole: 0, parts: none }, rates: [], outliers: [] },
      months: [],
      recorded: none,
      unrecorded: { jobs: 0, other: 0 },
      groups: [expect.objectContaining({ by: "all", jobs: 0, logRatios: [] })],
    });
  });

  it("names the rows of outliers as they are in the list", () => {
    const others = FIVE.slice(1).map((job, i) => ({ ...job, hours: pair(40, 40 + i) }));
    const audit = auditOf([...others, { ...FIVE[0]!, row: 42, hours: pair(40, 400) }]);
    expect(audit.outliers).toEqual([42]);
  });

  it("has no tool life where no sets were used up", () => {
    const [group] = auditOf([{ ...FIVE[0]!, sets: pair(1, 0) }]).rates;
    expect(group).toMatchObject({ areaRate: 200, toolLife: undefined });
  });

  it("says why jobs that differ beyond all reason give no calibration", () => {
    const jobs = [1e300, 1, 1e-300].map((actual) => ({ ...FIVE[0]!, hours: pair(1, actual) }));
    const [all] = auditOf(jobs).groups;
    expect(all!.calibration).toBeUndefined();
    const message = "the jobs differ too much for an answer at this confidence";
    expect(all!.whyNot).toEqual({ kind: "failed", message });
    expect(whyNotWords(all!.whyNot!)).toBe(`No factor: ${message}.`);
  });
});
