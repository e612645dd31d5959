/** How the headings of a contractor's own job list are recognized, and what can be wrong with them. */
import { JOB_KEYS, type JobField, type JobKey, jobField, OTHER_HALF } from "./fields";

/** For each of our fields, the heading of the user's column that holds it. */
export type Mapping = Partial<Record<JobKey, string>>;

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
const MAIN_WORDS = new Map(
  Object.entries(SYNONYMS).flatMap(([main, others]) => others.split(" ").map((other) => [other, main] as const)),
);
const IDLE_WORDS = new Set("total a an and for in of the type with".split(" "));

/** A heading in main words: "Hrs. (est)" and "estHours" are both hours and quoted. */
function mainWords(heading: string): string[] {
  const plain = heading
    .normalize("NFKC")
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .replace(/\b(?:sq|square)[\s.]*(?:ft|feet|foot|m|met(?:er|re)s?)\b/g, " area ")
    .replace(/\p{Sc}/gu, " money ")
    .replace(/#/g, " number ")
    .replace(/\//g, " per ");
  const words = plain.match(/[\p{L}\p{N}]+/gu) ?? [];
  return words.filter((word) => !IDLE_WORDS.has(word)).flatMap((word) => (MAIN_WORDS.get(word) ?? word).split(" "));
}

/** The words whatever their order, each once. */
const bag = (words: Iterable<string>) => [...new Set(words)].sort().join(" ");

/** Which of the field's phrases a heading of these words is, the likeliest being 0; -1 for none. */
function rankOf(words: readonly string[], { words: phrases, money, side }: JobField): number {
  // "Job" is a field, in "Job cost" it means nothing; a $ makes a price of "$ per set", and nothing of "Cost ($)".
  const telling = words.filter((word) => word !== "job" && word !== "per");
  const heard = [words, telling, money ? telling.filter((word) => word !== "money") : telling].map(bag);
  return phrases.findIndex((phrase) => heard.includes(bag([...phrase.split(" "), ...(side ? [side] : [])])));
}

/**
 * Which heading holds which field, as far as the headings say so beyond doubt; whatever word is not understood, or
 * two headings that are equally likely, leave the field to the user.
 */
export function guessMapping(headings: readonly string[]): Mapping {
  const heard = headings.map((heading) => ({ heading, words: mainWords(heading) }));
  const mapping: Mapping = {};
  for (const key of JOB_KEYS) {
    const [first, second] = heard
      .map(({ heading, words }) => ({ heading, rank: rankOf(words, jobField(key)) }))
      .filter(({ rank }) => rank >= 0)
      .sort((a, b) => a.rank - b.rank);
    if (first && first.rank !== second?.rank) mapping[key] = first.heading;
  }
  return mapping;
}

/** What is wrong with a field's heading. */
export type WrongHeading =
  | { readonly kind: "missing" }
  | { readonly kind: "halfMissing"; readonly other: JobKey }
  | { readonly kind: "gone"; readonly heading: string }
  | { readonly kind: "repeated"; readonly heading: string; readonly columns: number }
  | { readonly kind: "shared"; readonly heading: string; readonly with: JobKey };

/** What is wrong with a mapping, by field; empty when the list can be read with it. */
export function problemsOfMapping(
  mapping: Mapping,
  headings: readonly string[],
): Partial<Record<JobKey, WrongHeading>> {
  const problems: Partial<Record<JobKey, WrongHeading>> = {};
  const mapped = JOB_KEYS.filter((key) => mapping[key] !== undefined);
  for (const key of JOB_KEYS) {
    const heading = mapping[key];
    if (heading === undefined) {
      const other = OTHER_HALF[key];
      if (jobField(key).required) problems[key] = { kind: "missing" };
      else if (other && mapping[other] !== undefined) problems[key] = { kind: "halfMissing", other };
      continue;
    }
    const columns = headings.filter((other) => other === heading).length;
    const rival = mapped.find((other) => other !== key && mapping[other] === heading);
    if (columns === 0) problems[key] = { kind: "gone", heading };
    else if (columns > 1) problems[key] = { kind: "repeated", heading, columns };
    else if (rival) problems[key] = { kind: "shared", heading, with: rival };
  }
  return problems;
}
