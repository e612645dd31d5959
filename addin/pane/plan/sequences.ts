/** The two sequences on offer, the user's own and the cheapest from the shelf, counted alike and side by side. */
import { cheapest } from "../../../functions/plan/cheapest";
import { cutOf, type Estimate, estimate, machinesFor } from "../../../functions/plan/estimate";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { type PlannedStage, type Proposal, usualDepth } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import { hours, money } from "../numbers";

export const SOURCES = ["mine", "cheapest"] as const;
export type Source = (typeof SOURCES)[number];

export interface Totals {
  stages: number;
  /** Of tools; coats of a liquid are not passes. */
  passes: number;
  hours: number;
  setsUsed: number;
  setsToBuy: number;
  /** Of the stages alone. */
  cost: number;
  price: number;
}

export interface Comparison {
  readonly mine: Totals;
  readonly cheapest: Totals;
  /** That the scratches of the start have, µm. */
  readonly depth: number;
  /** What the two columns do not show. */
  readonly remarks: readonly string[];
}

/** The cheapest sequence is counted with passes as the scratches need, so both are. */
const onScratches = (inputs: Inputs): Inputs => ({ ...inputs, passesFrom: "scratch" });

export function compare(
  inputs: Inputs,
  shelf: Shelf,
  mine: readonly PlannedStage[],
  cheapestStages: readonly PlannedStage[],
): Comparison {
  const own = estimate(onScratches(inputs), shelf, mine);
  const totals = { mine: totalsOf(own), cheapest: totalsOf(estimate(onScratches(inputs), shelf, cheapestStages)) };
  const depth = inputs.depth ?? usualDepth(inputs);
  return { ...totals, depth, remarks: [...remarksOn(own, inputs, shelf), ...paradox(totals)] };
}

export function totalsOf({ rows, price }: Estimate): Totals {
  const sum = (of: (row: Estimate["rows"][number]) => number) => rows.reduce((all, row) => all + of(row), 0);
  return {
    stages: rows.length,
    passes: sum((row) => (row.grit === null ? 0 : row.passes)),
    hours: sum((row) => row.hours),
    setsUsed: sum((row) => row.setsUsed),
    setsToBuy: sum((row) => row.setsToBuy),
    cost: sum((row) => row.cost),
    price,
  };
}

/** What a price with the shelf's passes leaves out, where the scratches ask for more; empty where they do not. */
export function shortfall(price: number, { mine, depth }: Comparison, { passesFrom }: Inputs): string {
  if (passesFrom === "scratch" || mine.price <= price) return "";
  const needs = `${passesWords(mine.passes)}, and its price is ${money(mine.price)}`;
  return `Passes are counted as on the shelf. To take ${Math.round(depth)} µm off and each scratch after it, this sequence needs ${needs}: see Two sequences, and try a test strip.`;
}

const passesWords = (n: number) => `${n} ${n === 1 ? "pass" : "passes"}`;

/** Where the shelf's passes would leave scratches in the floor, and where nobody knows. */
function remarksOn({ rows }: Estimate, inputs: Inputs, shelf: Shelf): string[] {
  return rows.flatMap((row, i) => {
    const tool = shelf.tools.find(({ name }) => name === row.tool);
    const machine = machinesFor(inputs, shelf).find(({ name }) => name === row.machine);
    if (row.size === null || !tool || !machine) return [];
    const stage = `My stage ${i + 1}, ${row.tool}`;
    if (cutOf(tool, row.size, machine, inputs) === undefined) {
      return [
        `${stage}: nobody has measured its cut per pass, so the shelf's ${passesWords(tool.passes)} are counted.`,
      ];
    }
    if (tool.passes >= row.passes) return [];
    return [`${stage}: ${passesWords(tool.passes)} on the shelf, ${row.passes} to take out the scratches before it.`];
  });
}

/** The cheapest of those that keep to the rules; the user's need not keep to them. */
function paradox({ mine, cheapest: best }: Pick<Comparison, "mine" | "cheapest">): string[] {
  if (money(mine.cost) === money(best.cost) || mine.cost > best.cost) return [];
  return [
    "Mine costs less because it does without something the cheapest must have: steps in order, the matrix this slab wants, the same last grit and liquids, or a measured cut for every tool.",
  ];
}

export interface ComparedRow {
  readonly key: keyof Totals;
  readonly label: string;
  /** Decimals that are shown. */
  readonly decimals: number;
  readonly show: (amount: number) => string;
}

const sets = (x: number) => x.toFixed(2);

export const COMPARED: readonly ComparedRow[] = [
  { key: "stages", label: "Stages", decimals: 0, show: String },
  { key: "passes", label: "Passes", decimals: 1, show: (x) => String(Number(x.toFixed(1))) },
  { key: "hours", label: "Hours", decimals: 1, show: hours },
  { key: "setsUsed", label: "Sets used", decimals: 2, show: sets },
  { key: "setsToBuy", label: "Sets to buy", decimals: 0, show: String },
  { key: "cost", label: "Cost of the stages", decimals: 2, show: money },
  { key: "price", label: "Price", decimals: 2, show: money },
];

/** What the cheapest takes more (+) or less (−) than mine, of the figures as they are shown, so that the row adds up. */
export function difference({ key, decimals, show }: ComparedRow, { mine, cheapest: best }: Comparison): string {
  const more = Number(best[key].toFixed(decimals)) - Number(mine[key].toFixed(decimals));
  if (show(Math.abs(more)) === show(0)) return "same";
  return `${more < 0 ? "−" : "+"}${show(Math.abs(more))}`;
}

/** The difference for the ear: "the cheapest beside mine: hours 3.2 less, sets used the same, …". */
export function differenceInWords(comparison: Comparison): string {
  const told = ["hours", "setsUsed", "setsToBuy", "cost", "price"];
  const parts = COMPARED.filter(({ key }) => told.includes(key)).map((row) => {
    const shown = difference(row, comparison);
    const amount = shown === "same" ? "the same" : `${shown.slice(1)} ${shown.startsWith("−") ? "less" : "more"}`;
    return `${row.label.toLowerCase()} ${amount}`;
  });
  return `The cheapest beside mine: ${parts.join(", ")}.`;
}

/** Inputs that a sequence depends on: neither what the job is called nor what is worked out or put on top of its cost. */
const DECISIVE = KEYS.filter(
  (key) => !["price", "pastJobs", "exposure"].includes(FIELDS[key].group) && key !== "jobName",
);

let last: { readonly inputs: Inputs; readonly shelf: Shelf; readonly found: Proposal } | undefined;

/** The cheapest sequence, searched anew only when something has changed that it depends on. */
export function cheapestFor(inputs: Inputs, shelf: Shelf): Proposal {
  const known = last?.shelf === shelf && DECISIVE.every((key) => last?.inputs[key] === inputs[key]);
  if (!known || !last) last = { inputs, shelf, found: cheapest(inputs, shelf) };
  return last.found;
}
