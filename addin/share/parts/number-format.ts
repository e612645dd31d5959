/**
 * Number formats of a price-only copy. A format has sections for positive numbers, negative ones, zeros and texts, with
 * words of their own if need be: those that no cell of the copy shows must not be in it.
 */

/** What a cell shows by its format. */
export type Shown = number | "text";

/** A format, read once for all cells that have it. */
export interface Format {
  readonly sections: readonly string[];
  /** The last section is for texts. */
  readonly hasText: boolean;
  readonly conditions: readonly (Condition | undefined)[];
}

type Condition = (value: number) => boolean;

export function formatOf(code: string): Format {
  const sections = sectionsOf(code);
  const last = sections.length - 1;
  const hasText = last >= 3 || bare(sections[last]!).includes("@");
  return { sections, hasText, conditions: (hasText ? sections.slice(0, -1) : sections).map(conditionOf) };
}

/** The format with nothing but General where no cell shows a section that has words or figures in it. */
export function shownFormat(code: string, shown: readonly Shown[]): string {
  const format = formatOf(code);
  const used = shown.map((value) => sectionFor(value, format));
  const usedOnce = new Set(used);
  const kept = (section: string, i: number) => {
    if (usedOnce.has(i) || isMute(section)) return section;
    // A condition stays one, or this section would catch every value; but its limit can tell a figure.
    const beyond = shown.filter((value, at) => typeof value === "number" && used[at]! > i) as number[];
    return `${neutralCondition(section, beyond)}General`;
  };
  return format.sections.map(kept).join(";");
}

const LIMITS = [0, ...Array.from({ length: 16 }, (_, i) => [10 ** i, -(10 ** i)]).flat()];

/** A section's condition with a limit that says nothing, and that none of these values meets either. */
function neutralCondition(section: string, values: readonly number[]): string {
  const found = CONDITION.exec(bare(section));
  if (!found) return "";
  const [own, operator] = found as unknown as [string, string];
  const limit = LIMITS.find((one) => !values.some((value) => TESTS[operator]!(value, one)));
  return limit === undefined ? own : `[${operator}${limit}]`;
}

/** The section by which a value is shown; nothing where that is as it stands. */
export function sectionShown(format: Format, shown: Shown): string | undefined {
  const { sections } = format;
  // An empty format is General.
  return sections.length === 1 && sections[0] === "" ? undefined : sections[sectionFor(shown, format)];
}

/** Cut at the semicolons that are no part of a text. */
function sectionsOf(code: string): string[] {
  const sections = [""];
  for (const [piece] of code.matchAll(/"[^"]*"?|[\\_*][\s\S]?|\[[^\]]*\]?|[\s\S]/g)) {
    if (piece === ";") sections.push("");
    else sections[sections.length - 1] += piece;
  }
  return sections;
}

const bare = (section: string) => section.replace(/"[^"]*"?|[\\_*][\s\S]?/g, "");

/** The section by which a value is shown. */
function sectionFor(value: Shown, { sections, hasText, conditions }: Format): number {
  if (value === "text") return hasText ? sections.length - 1 : -1;
  const numbers = conditions.length;
  if (conditions.some(Boolean)) {
    const met = conditions.findIndex((condition) => condition?.(value));
    if (met >= 0) return met;
    const free = conditions.lastIndexOf(undefined);
    return free >= 0 ? free : numbers - 1;
  }
  if (value < 0) return numbers > 1 ? 1 : 0;
  return value === 0 && numbers > 2 ? 2 : 0;
}

/** "[>=100]". */
const CONDITION = /\[(<=|>=|<>|<|>|=)(-?[\d.]+(?:E[-+]?\d+)?)\]/i;
const TESTS: Readonly<Record<string, (value: number, limit: number) => boolean>> = {
  "<=": (value, limit) => value <= limit,
  ">=": (value, limit) => value >= limit,
  "<>": (value, limit) => value !== limit,
  "<": (value, limit) => value < limit,
  ">": (value, limit) => value > limit,
  "=": (value, limit) => value === limit,
};

function conditionOf(section: string): Condition | undefined {
  const [, operator, limit] = CONDITION.exec(bare(section)) ?? [];
  return operator === undefined ? undefined : (value) => TESTS[operator]!(value, Number(limit));
}

/** Nothing but places for digits, parts of dates, signs and colors. */
export const isMute = (section: string) =>
  /^(?:General|[0#?.,%@ $€£+\-()/:]|E[+-]|[ymdhs]|AM\/PM|\[(?:black|blue|cyan|green|magenta|red|white|yellow|color ?\d\d?|[hms]+)\]|_.|\*[ -]|\\[ \-.,/()])*$/i.test(
    section,
  );
