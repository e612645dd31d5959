/**
 * Number formats of a price-only copy. A format has sections for positive numbers, negative ones, zeros and texts, with
 * words of their own if need be: those that no cell of the copy shows must not be in it.
 */

/** What a cell shows by its format. */
export type Shown = number | "text";

/** The format with nothing but General where no cell shows a section that has words or figures in it. */
export function shownFormat(code: string, shown: readonly Shown[]): string {
  const sections = sectionsOf(code);
  const used = new Set(shown.map((value) => sectionFor(value, sections)));
  return sections.map((section, i) => (used.has(i) || isMute(section) ? section : "General")).join(";");
}

/** The section by which a value is shown; nothing where that is as it stands. */
export function sectionShown(code: string, shown: Shown): string | undefined {
  const sections = sectionsOf(code);
  // An empty format is General.
  return sections.length === 1 && sections[0] === "" ? undefined : sections[sectionFor(shown, sections)];
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
function sectionFor(value: Shown, sections: readonly string[]): number {
  const last = sections.length - 1;
  const hasText = last >= 3 || bare(sections[last]!).includes("@");
  if (value === "text") return hasText ? last : -1;
  const numbers = hasText ? sections.slice(0, -1) : sections;
  const conditions = numbers.map(conditionOf);
  if (conditions.some(Boolean)) {
    const met = conditions.findIndex((condition) => condition?.(value));
    if (met >= 0) return met;
    const free = conditions.lastIndexOf(undefined);
    return free >= 0 ? free : numbers.length - 1;
  }
  if (value < 0) return numbers.length > 1 ? 1 : 0;
  return value === 0 && numbers.length > 2 ? 2 : 0;
}

/** "[>=100]". */
function conditionOf(section: string): ((value: number) => boolean) | undefined {
  const found = /\[(<=|>=|<>|<|>|=)(-?[\d.]+(?:E[-+]?\d+)?)\]/i.exec(bare(section));
  if (!found) return undefined;
  const limit = Number(found[2]);
  const tests: Record<string, (value: number) => boolean> = {
    "<=": (value) => value <= limit,
    ">=": (value) => value >= limit,
    "<>": (value) => value !== limit,
    "<": (value) => value < limit,
    ">": (value) => value > limit,
    "=": (value) => value === limit,
  };
  return tests[found[1]!];
}

/** Nothing but places for digits, parts of dates, signs and colors. */
const isMute = (section: string) =>
  /^(?:General|[0#?.,%@ $€£+\-()/:]|E[+-]|[ymdhs]|AM\/PM|\[(?:black|blue|cyan|green|magenta|red|white|yellow|color ?\d\d?|[hms]+)\]|_.|\*[ -]|\\[ \-.,/()])*$/i.test(
    section,
  );
