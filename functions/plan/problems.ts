/** What is wrong with the inputs of a stage plan, field by field and together. */
import { shown } from "../cell";
import { isWithin } from "../domain";
import { type Field, grouped, type NumberField, type TextField } from "./field";
import { field, KEYS, type Key } from "./fields";
import { applies, type Inputs } from "./inputs";
import { RULES } from "./rules";

/** By field; empty when a plan can be made. */
export type Problems = Partial<Record<Key, string>>;

export function problemsOf(given: Inputs): Problems {
  const problems: Problems = {};
  for (const key of KEYS) {
    const found = applies(key, given) && problemWith(field(key), given[key]);
    if (found) problems[key] = found;
  }
  for (const { key, reads, problem } of RULES) {
    if (problems[key] || reads.some((read) => problems[read])) continue;
    const found = problem(given);
    if (found) problems[key] = found;
  }
  return problems;
}

/** Whether an input has what it needs by itself, and goes against others: shown even where nobody has been in its field. */
export const isAgainstOthers = (key: Key, given: Inputs): boolean =>
  RULES.some((rule) => rule.key === key && !rule.waits && rule.problem(given) !== undefined);

function problemWith(f: Field, value: unknown): string | undefined {
  if (f.kind === "number") return problemWithNumber(f, value);
  if (f.kind === "text") return problemWithText(f, String(value));
  const words = f.choices.map(([word]) => word);
  return words.includes(value as string)
    ? undefined
    : `${f.label} must be one of ${words.join(", ")}; got ${shown(value)}`;
}

function problemWithText({ label, longest = 200 }: TextField, text: string): string | undefined {
  return text.length > longest ? `${label} must be at most ${longest} characters` : undefined;
}

function problemWithNumber({ label, domain, percent, blankMeans }: NumberField, value: unknown): string | undefined {
  if (value === null) return blankMeans ? undefined : `${label} is missing; it must be ${domain.words}`;
  if (typeof value === "number" && isWithin(value, domain)) return undefined;
  const got = typeof value !== "number" ? shown(value) : percent ? `${grouped(value * 100)}%` : grouped(value);
  return `${label} must be ${domain.words}; got ${got}`;
}
