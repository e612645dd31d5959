/** How the headings of somebody's own list are recognized, whatever the list is of, and what can be wrong with them. */

/** What a field is called in a heading. */
export interface NamedField {
  /** What a heading says that means this field, in main words; the likelier one first. */
  readonly words: readonly string[];
  readonly money?: true;
  /** Which half of a pair it is, said in the heading too. */
  readonly side?: string;
}

/** For each field, the heading of the user's column that holds it. */
export type Headings<Key extends string> = Partial<Record<Key, string>>;

const IDLE_WORDS = new Set("total a an and for in of the type with".split(" "));

/** The words of a list: main words with what else people write for them, and one that says nothing beside others. */
export interface Vocabulary {
  readonly synonyms: Readonly<Record<string, string>>;
  readonly idle?: string;
}

function wordReader({ synonyms }: Vocabulary) {
  const mainWordOf = new Map(
    Object.entries(synonyms).flatMap(([main, others]) => others.split(" ").map((other) => [other, main] as const)),
  );
  /** A heading in main words: "Hrs. (est)" and "estHours" are both hours and quoted. */
  return (heading: string): string[] => {
    const plain = heading
      .normalize("NFKC")
      .replace(/([a-z])([A-Z])/g, "$1 $2")
      .toLowerCase()
      .replace(/\b(?:sq|square)[\s.]*(?:ft|feet|foot|m|met(?:er|re)s?)\b/g, " area ")
      .replace(/\p{Sc}/gu, " money ")
      .replace(/#/g, " number ")
      .replace(/\//g, " per ");
    const words = plain.match(/[\p{L}\p{N}]+/gu) ?? [];
    return words.filter((word) => !IDLE_WORDS.has(word)).flatMap((word) => (mainWordOf.get(word) ?? word).split(" "));
  };
}

/** The words whatever their order, each once. */
const bag = (words: Iterable<string>) => [...new Set(words)].sort().join(" ");

/** Which of the field's phrases a heading of these words is, the likeliest being 0; -1 for none. */
function rankOf(words: readonly string[], { words: phrases, money, side }: NamedField, idle: string | undefined) {
  // "Job" is a field, in "Job cost" it means nothing; a $ makes a price of "$ per set", and nothing of "Cost ($)".
  const telling = words.filter((word) => word !== idle && word !== "per");
  const heard = [words, telling, money ? telling.filter((word) => word !== "money") : telling].map(bag);
  return phrases.findIndex((phrase) => heard.includes(bag([...phrase.split(" "), ...(side ? [side] : [])])));
}

/**
 * Which heading holds which field, as far as the headings say so beyond doubt; whatever word is not understood, or
 * two headings that are equally likely, leave the field to the user.
 */
export function headingGuesser<Key extends string>(
  fields: Readonly<Record<Key, NamedField>>,
  vocabulary: Vocabulary,
): (headings: readonly string[]) => Headings<Key> {
  const mainWords = wordReader(vocabulary);
  return (headings) => {
    const heard = headings.map((heading) => ({ heading, words: mainWords(heading) }));
    const found: Headings<Key> = {};
    for (const key of Object.keys(fields) as Key[]) {
      const [first, second] = heard
        .map(({ heading, words }) => ({ heading, rank: rankOf(words, fields[key], vocabulary.idle) }))
        .filter(({ rank }) => rank >= 0)
        .sort((a, b) => a.rank - b.rank);
      if (first && first.rank !== second?.rank) found[key] = first.heading;
    }
    return found;
  };
}

/** What is wrong with a field's heading. */
export type WrongHeading<Key extends string> =
  | { readonly kind: "missing" }
  | { readonly kind: "halfMissing"; readonly other: Key }
  | { readonly kind: "gone"; readonly heading: string }
  | { readonly kind: "repeated"; readonly heading: string; readonly columns: number }
  | { readonly kind: "shared"; readonly heading: string; readonly with: Key };

/** What is wrong with a choice of headings, by field; empty when the list can be read with it. */
export function wrongHeadings<Key extends string>(
  fields: Readonly<Record<Key, { readonly words: unknown; readonly required?: true }>>,
  chosen: Headings<Key>,
  headings: readonly string[],
  otherHalf?: Readonly<Partial<Record<Key, Key>>>,
): Partial<Record<Key, WrongHeading<Key>>> {
  const problems: Partial<Record<Key, WrongHeading<Key>>> = {};
  const keys = Object.keys(fields) as Key[];
  const mapped = keys.filter((key) => chosen[key] !== undefined);
  for (const key of keys) {
    const heading = chosen[key];
    if (heading === undefined) {
      const other = otherHalf?.[key];
      if (fields[key].required) problems[key] = { kind: "missing" };
      else if (other && chosen[other] !== undefined) problems[key] = { kind: "halfMissing", other };
      continue;
    }
    const columns = headings.filter((other) => other === heading).length;
    const rival = mapped.find((other) => other !== key && chosen[other] === heading);
    if (columns === 0) problems[key] = { kind: "gone", heading };
    else if (columns > 1) problems[key] = { kind: "repeated", heading, columns };
    else if (rival) problems[key] = { kind: "shared", heading, with: rival };
  }
  return problems;
}

/** What is wrong with a field's heading, and what to do. */
export function wrongHeadingWords<Key extends string>(
  key: Key,
  wrong: WrongHeading<Key>,
  labelOf: (key: Key) => string,
): string {
  switch (wrong.kind) {
    case "missing":
      return `${labelOf(key)} is missing. Choose its column.`;
    case "halfMissing":
      return halfMissing(labelOf(key), labelOf(wrong.other));
    case "gone":
      return `No column is headed "${wrong.heading}" now. Choose another.`;
    case "repeated":
      return `${wrong.columns} columns are headed "${wrong.heading}". Rename one, or choose another.`;
    case "shared":
      return `"${wrong.heading}" is also used for ${labelOf(wrong.with)}. Choose another column.`;
  }
}

export const halfMissing = (label: string, other: string) => `${label} is missing. ${other} can't be used without it.`;
