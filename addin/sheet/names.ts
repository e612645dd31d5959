/** Names that are still free in the workbook: ours are numbered when the plain one is taken. */
import type { PlanNames } from "./plan";

export interface Taken {
  readonly sheets: readonly string[];
  /** Tables and defined names share one set of names. */
  readonly names: readonly string[];
}

/** Whether a name is among others, as Excel compares them. */
export const holds = (taken: readonly string[], name: string) =>
  taken.some((t) => t.toLowerCase() === name.toLowerCase());

/** Characters that a sheet's name may have. */
const LONGEST_SHEET_NAME = 31;

/** "Stage plan", or "Stage plan 2" and so on. */
export function freeSheetName(wanted: string, taken: readonly string[]): string {
  for (let n = 2, name = wanted; ; n++) {
    if (!holds(taken, name)) return name;
    const number = ` ${n}`;
    name = wanted.slice(0, LONGEST_SHEET_NAME - number.length).trimEnd() + number;
  }
}

/** A floor's name as a sheet can have it; `otherwise` where nothing is left of it. Excel keeps "History" for itself. */
export function asSheetName(floor: string, otherwise: string): string {
  const allowed = floor
    .replace(/[[\]:*?/\\\p{Cc}]+/gu, " ")
    .replace(/\s+/g, " ")
    .trim();
  // Not within a character that takes two units.
  const name = allowed.slice(0, LONGEST_SHEET_NAME).replace(/[\uD800-\uDBFF]$/, "");
  const bare = name.replace(/^['\s]+|['\s]+$/g, "");
  return bare === "" || holds(["History"], bare) ? otherwise : bare;
}

/** One number for a group of names that belong together: Stages_Cost and Stages_Price, or both with _2. */
export function freeTogether<K extends string>(wanted: Record<K, string>, taken: readonly string[]): Record<K, string> {
  const known = new Set(taken.map((name) => name.toLowerCase()));
  for (let n = 1; ; n++) {
    const suffix = n === 1 ? "" : `_${n}`;
    const named = Object.entries<string>(wanted).map(([key, name]) => [key, name + suffix] as const);
    if (named.every(([, name]) => !known.has(name.toLowerCase())))
      return Object.fromEntries(named) as Record<K, string>;
  }
}

export type ShelfNames = Pick<
  PlanNames,
  "tooling" | "liquids" | "machines" | "toolingLacks" | "liquidsLacks" | "machinesLack" | "shelfUnits"
>;

export function freePlanNames({ names }: Taken, shelf: ShelfNames | undefined): PlanNames {
  const plan = freeTogether(
    {
      stages: "Stages",
      cost: "Stages_Cost",
      hours: "Stages_Hours",
      price: "Stages_Price",
      days: "Stages_Days",
      hoursAt: "Stages_HoursAt",
      priceAt: "Stages_PriceAt",
      daysAt: "Stages_DaysAt",
    },
    names,
  );
  if (shelf) return { ...plan, ...shelf };
  return {
    ...plan,
    ...freeTogether({ tooling: "Tooling", liquids: "Liquids" }, names),
    machines: undefined,
    toolingLacks: [],
    liquidsLacks: [],
    shelfUnits: undefined,
    machinesLack: [],
  };
}
