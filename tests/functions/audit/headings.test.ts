import { describe, expect, it } from "vitest";
import { JOB_FIELDS, JOB_KEYS, type JobKey, jobField } from "../../../functions/audit/fields";
import { guessMapping, type Mapping, problemsOfMapping } from "../../../functions/audit/headings";
import { headingWords } from "../../../functions/audit/texts";
import { QUANTITIES } from "../../../functions/units";

const OWN_LABELS = JOB_KEYS.map((key) => jobField(key).label);

describe("headings", () => {
  it("of our own empty table are all recognized, with or without a unit", () => {
    const own = Object.fromEntries(JOB_KEYS.map((key) => [key, jobField(key).label]));
    expect(guessMapping(OWN_LABELS)).toEqual(own);
    for (const units of ["us", "metric"] as const) {
      const withUnit = (key: JobKey) => {
        const { label, quantity } = jobField(key);
        return quantity ? `${label} ${QUANTITIES[quantity][units][0]}` : label;
      };
      expect(guessMapping(JOB_KEYS.map(withUnit)).area).toBe(withUnit("area"));
    }
  });

  // Ten invented contractors, each with what an estimator would say their headings mean.
  const CONTRACTORS: [who: string, meant: Mapping, notMeant: string[]][] = [
    [
      "who writes it out",
      {
        job: "Job Number",
        quotedPrice: "Quoted Price",
        actualPrice: "Actual Price",
        quotedCost: "Quoted Cost",
        actualCost: "Actual Cost",
        quotedHours: "Quoted Hours",
        actualHours: "Actual Hours",
      },
      ["Customer", "Notes"],
    ],
    [
      "who abbreviates",
      {
        job: "Job #",
        area: "Sq. Ft.",
        quotedHours: "Est. Hrs",
        actualHours: "Act. Hrs",
        quotedPrice: "Bid Price ($)",
        actualPrice: "Inv. Price (final)",
        quotedCost: "Est. Cost",
        actualCost: "Act. Cost",
      },
      [],
    ],
    [
      "whose list came out of a program",
      {
        job: "job_id",
        date: "finish_date",
        area: "areaM2",
        quotedHours: "hoursEstimated",
        actualHours: "hoursActual",
        quotedCost: "cost_budget",
        actualCost: "cost_actual",
      },
      ["created_by", "start_date"],
    ],
    [
      "who shouts",
      {
        job: "PROJECT",
        quotedPrice: "CONTRACT AMOUNT",
        actualPrice: "INVOICED",
        quotedCost: "BUDGET COST",
        actualCost: "FINAL COST",
        hardness: "MOHS",
      },
      ["GC", "PM"],
    ],
    [
      "who thinks in tools",
      {
        bond: "Bond type",
        quotedSets: "Sets (est)",
        actualSets: "Sets used",
        quotedSetPrice: "$/set est",
        actualSetPrice: "Price paid per set",
        machine: "Grinder",
        passes: "# of passes",
      },
      ["Tooling cost est", "Grit"],
    ],
    [
      "who thinks in labor",
      {
        quotedHours: "Man-hours, planned",
        actualHours: "Man-hours, worked",
        quotedRate: "Labor rate ($/hr) - bid",
        actualRate: "Labor $/hr (actual)",
      },
      ["Foreman", "Drive hours"],
    ],
    [
      "who bills in pounds",
      {
        quotedPrice: "Tender price £",
        actualPrice: "Final price £",
        quotedRate: "Labour rate £/h (tender)",
        actualRate: "Labour rate £/h (real)",
        quotedLiquids: "Densifier & guard cost, tender",
        actualLiquids: "Densifier & guard cost, real",
      },
      ["VAT £"],
    ],
    [
      "who keeps sides apart by a dash",
      {
        quotedPrice: "Quote – Total Price",
        actualPrice: "Actual – Total Price",
        quotedHours: "Quote – Labour (hrs)",
        actualHours: "Actual – Labour (hrs)",
        area: "Floor Size (ft²)",
        hardness: "Slab hardness (Mohs)",
      },
      ["Quote – Sent by"],
    ],
    [
      "who leaves it open which half is which",
      { job: "Job", date: "Date completed" },
      ["Price", "Cost", "Hours", "Quote", "Contract", "Invoice", "Estimated vs actual hours", "Date quoted"],
    ],
    [
      "who has two of everything",
      { quotedCost: "Estimated cost" },
      ["Hours (est)", "Est hours", "Act price", "Price (actual)", "Cost of estimate software", "Invoice no."],
    ],
  ];
  for (const [who, meant, notMeant] of CONTRACTORS) {
    it(`of a contractor ${who} are recognized, and left alone where in doubt`, () => {
      const headings = [...notMeant, ...Object.values(meant)];
      expect(guessMapping(headings)).toEqual(meant);
      expect(guessMapping(headings.reverse())).toEqual(meant);
    });
  }

  it("are never used twice, and a blank one never", () => {
    const used = Object.values(guessMapping(["", " ", "Job", "job", "Bid price", "Bid price", "$", "…"]));
    expect(used).toEqual([]);
  });
});

describe("a mapping", () => {
  const REQUIRED: Mapping = {
    job: "Job",
    quotedPrice: "Bid",
    actualPrice: "Paid",
    quotedCost: "Cost bid",
    actualCost: "Cost",
  };
  const HEADINGS = [...Object.values(REQUIRED), "Hrs bid", "Hrs", "Rate", "Rate"];
  const wordsOf = (mapping: Mapping) =>
    Object.fromEntries(
      Object.entries(problemsOfMapping(mapping, HEADINGS)).map(([key, wrong]) => [
        key,
        headingWords(key as JobKey, wrong),
      ]),
    );

  it("with all that is required is enough", () => {
    expect(problemsOfMapping(REQUIRED, HEADINGS)).toEqual({});
    expect(problemsOfMapping({ ...REQUIRED, quotedHours: "Hrs bid", actualHours: "Hrs" }, HEADINGS)).toEqual({});
  });

  it("without anything lists each required field", () => {
    const required = JOB_KEYS.filter((key) => jobField(key).required);
    expect(required).toEqual(Object.keys(REQUIRED));
    const problems = problemsOfMapping({}, HEADINGS);
    expect(Object.keys(problems)).toEqual(required);
    expect(problems.job).toEqual({ kind: "missing" });
    expect(wordsOf({}).job).toBe("Job is missing. Choose its column.");
  });

  it("lists a heading that the list doesn't have, or has twice", () => {
    const hours = { ...REQUIRED, quotedHours: "Hours bid", actualHours: "Hrs" };
    expect(problemsOfMapping(hours, HEADINGS)).toEqual({ quotedHours: { kind: "gone", heading: "Hours bid" } });
    expect(wordsOf(hours).quotedHours).toBe('No column is headed "Hours bid" now. Choose another.');
    const rates = { ...REQUIRED, quotedRate: "Rate", actualRate: "Hrs" };
    expect(problemsOfMapping(rates, HEADINGS)).toEqual({
      quotedRate: { kind: "repeated", heading: "Rate", columns: 2 },
    });
    expect(wordsOf(rates).quotedRate).toBe('2 columns are headed "Rate". Rename one, or choose another.');
  });

  it("lists both fields that are taken from one column", () => {
    const cost = { ...REQUIRED, quotedCost: "Cost" };
    expect(problemsOfMapping(cost, HEADINGS)).toEqual({
      quotedCost: { kind: "shared", heading: "Cost", with: "actualCost" },
      actualCost: { kind: "shared", heading: "Cost", with: "quotedCost" },
    });
    expect(wordsOf(cost)).toEqual({
      quotedCost: '"Cost" is also used for Actual cost. Choose another column.',
      actualCost: '"Cost" is also used for Quoted cost. Choose another column.',
    });
  });

  it("lists the half of a pair that is missing", () => {
    for (const [one, other] of [
      ["quotedHours", "actualHours"],
      ["actualRate", "quotedRate"],
      ["quotedSets", "actualSets"],
      ["actualSetPrice", "quotedSetPrice"],
      ["quotedLiquids", "actualLiquids"],
    ] as const) {
      const half = { ...REQUIRED, [one]: "Hrs" };
      expect(problemsOfMapping(half, HEADINGS)).toEqual({ [other]: { kind: "halfMissing", other: one } });
      expect(wordsOf(half)).toEqual({
        [other]: `${JOB_FIELDS[other].label} is missing. ${JOB_FIELDS[one].label} can't be used without it.`,
      });
    }
  });
});
