/** How the headings of a contractor's own job list are recognized, and what can be wrong with them. */
import { type Headings, headingGuesser, type WrongHeading as Wrong, wrongHeadings } from "../headings";
import { JOB_FIELDS, type JobKey, OTHER_HALF } from "./fields";

/** For each of our fields, the heading of the user's column that holds it. */
export type Mapping = Headings<JobKey>;
export type WrongHeading = Wrong<JobKey>;

/** A main word, and what else people write for it. */
const SYNONYMS: Readonly<Record<string, string>> = {
  quoted: "quote quotes est estd estimate estimated bid budget budgeted plan planned tender tendered proposed contract",
  actual: "actuals act invoice inv real realised realized final true paid spent used worked took taken",
  "actual price": "invoiced billed charged",
  price: "prices amount revenue sales",
  cost: "costs expense expenses",
  hours: "hour hourly hrs hr h",
  rate: "rates wage wages",
  labor: "labour man men crew",
  "labor hours": "manhours",
  sets: "set",
  tool: "tools tooling diamond diamonds",
  liquids: "liquid chemical chemicals densifier densifiers guard sealer",
  job: "jobs project projects wo",
  number: "no nr num id code ref",
  date: "dates",
  finished: "finish completed complete completion done end closed",
  area: "size footage sqft sf ft2 sqm m2",
  floor: "slab concrete",
  passes: "pass",
  bond: "bonds",
  machine: "machines grinder equipment",
  money: "usd eur gbp cad aud dollar dollars euro euros",
};

export const guessMapping: (headings: readonly string[]) => Mapping = headingGuesser(JOB_FIELDS, {
  synonyms: SYNONYMS,
  idle: "job",
});

/** What is wrong with a mapping, by field; empty when the list can be read with it. */
export const problemsOfMapping = (
  mapping: Mapping,
  headings: readonly string[],
): Partial<Record<JobKey, WrongHeading>> => wrongHeadings(JOB_FIELDS, mapping, headings, OTHER_HALF);
