/** The function library as the Functions view shows it, read from the file that the build makes of the doc comments. */
import * as z from "zod/mini";
import { Refusal } from "../../sheet";
import { FUNCTIONS } from "./texts";

const SYMBOLS = z.object({ us: z.string(), metric: z.string() });
const PARAMETER = z.object({
  name: z.string(),
  text: z.string(),
  optional: z.boolean(),
  kind: z.enum(["number", "word", "yes or no", "units", "scale", "range"]),
  takes: z.enum(["each", "one", "list", "one or list", "call"]),
  bounds: z.readonly(z.array(z.readonly(z.tuple([z.enum([">", ">=", "<", "<="]), z.number()])))),
  isWhole: z.boolean(),
  words: z.readonly(z.array(z.readonly(z.array(z.string())))),
  unit: z.optional(SYMBOLS),
  isShare: z.boolean(),
  isGrit: z.boolean(),
  fallback: z.optional(z.union([z.number(), z.boolean()])),
  omitted: z.optional(z.string()),
  blank: z.enum(["zero", "left out", "refused"]),
});
const ENTRY = z.object({
  id: z.string(),
  topic: z.string(),
  summary: z.string(),
  remarks: z.string(),
  params: z.array(PARAMETER),
  returns: z.string(),
  outcome: z.object({ unit: z.optional(SYMBOLS), isShare: z.boolean() }),
  isInTurn: z.boolean(),
  examples: z.array(z.object({ call: z.string(), value: z.string(), source: z.string() })),
  fails: z.array(z.object({ call: z.string(), code: z.string(), message: z.string() })),
  plain: z.string(),
  noPlain: z.optional(z.string()),
  source: z.string(),
  words: z.string(),
});
const CATALOGUE = z.array(ENTRY);

export type Entry = z.infer<typeof ENTRY>;
/** The entries, or why there are none. */
export type Catalogue = { readonly entries: readonly Entry[] } | { readonly trouble: string };

export interface Topic {
  readonly title: string;
  readonly entries: readonly Entry[];
}

/** Reads the catalogue from beside the script of the functions, wherever that is served. */
export async function readCatalogue(): Promise<Catalogue> {
  const script = document.querySelector<HTMLScriptElement>('script[src$="functions.js"]');
  const url = new URL("catalogue.json", script?.src ?? document.baseURI);
  try {
    const response = await fetch(url);
    if (!response.ok) return { trouble: FUNCTIONS.listUnread(response.status) };
    const parsed = CATALOGUE.safeParse(await response.json());
    return parsed.success ? { entries: parsed.data } : { trouble: FUNCTIONS.listDamaged };
  } catch {
    return { trouble: FUNCTIONS.listUnreachable };
  }
}

/** The entries as the pane has them, or read now; a command that needs them and cannot have them says what it left. */
export async function entriesOr(known: Catalogue | null, left: string): Promise<readonly Entry[]> {
  const catalogue = known ?? (await readCatalogue());
  if ("trouble" in catalogue) throw new Refusal(`${left}. ${catalogue.trouble}`);
  return catalogue.entries;
}

/** Entries that have every word of the search in their name, topic, summary or parameters. */
export function matching(entries: readonly Entry[], search: string): Entry[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  return entries.filter((entry) => {
    const text = textOf(entry);
    return words.every((word) => text.includes(word));
  });
}

const textOf = ({ id, topic, summary, words, params }: Entry) =>
  ["grit.", id, topic, summary, words, ...params.flatMap(({ name, text }) => [name, text])].join(" ").toLowerCase();

/** Entries by topic, in the catalogue's order. */
export function byTopic(entries: readonly Entry[]): Topic[] {
  const topics = [...new Set(entries.map((entry) => entry.topic))];
  return topics.map((topic) => ({ title: titleOf(topic), entries: entries.filter((entry) => entry.topic === topic) }));
}

const titleOf = (topic: string) => topic.charAt(0).toUpperCase() + topic.slice(1);

/** How a function is called: AREARATE(width, speed, [overlap]). */
export const signature = ({ id, params }: Entry) =>
  `${id}(${params.map(({ name, optional }) => (optional ? `[${name}]` : name)).join(", ")})`;

/** "in | mm" of the doc comments, as a reader says it. */
export const readable = (text: string) => text.replaceAll(" | ", " or ");
