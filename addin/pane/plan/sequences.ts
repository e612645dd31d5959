/** The two sequences on offer, the user's own and the cheapest from the shelf, counted alike and side by side. */
import { cheapest } from "../../../functions/plan/cheapest";
import { cutOf, type Estimate, estimate, machinesFor } from "../../../functions/plan/estimate";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { type PlannedStage, type Proposal, usualDepth } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import { hours, money } from "../numbers";
import { PLAN } from "./texts";

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

/** What a price with the shelf's passes leaves out, where the scratches need more; empty where they do not. */
export function shortfall(price: number, { mine, depth }: Comparison, { passesFrom }: Inputs): string {
  if (passesFrom === "scratch" || mine.price <= price) return "";
  return PLAN.shortfall(Math.round(depth), mine.passes, money(mine.price));
}

/** Where the shelf's passes would leave scratches in the floor, and where nobody knows. */
function remarksOn({ rows }: Estimate, inputs: Inputs, shelf: Shelf): string[] {
  return rows.flatMap((row, i) => {
    const tool = shelf.tools.find(({ name }) => name === row.tool);
    const machine = machinesFor(inputs, shelf).find(({ name }) => name === row.machine);
    if (row.size === null || !tool || !machine) return [];
    if (cutOf(tool, row.size, machine, inputs) === undefined) {
      return [PLAN.cutNotMeasured(i + 1, row.tool, tool.passes)];
    }
    return tool.passes >= row.passes ? [] : [PLAN.passesNeeded(i + 1, row.tool, tool.passes, row.passes)];
  });
}

/** The cheapest of those that keep to the rules; the user's need not keep to them. */
const paradox = ({ mine, cheapest: best }: Pick<Comparison, "mine" | "cheapest">): string[] =>
  money(mine.cost) === money(best.cost) || mine.cost > best.cost ? [] : [PLAN.paradox];

export interface ComparedRow {
  readonly key: keyof Totals;
  readonly label: string;
  /** Decimals that are shown. */
  readonly decimals: number;
  readonly show: (amount: number) => string;
}

const sets = (x: number) => x.toFixed(2);

export const COMPARED: readonly ComparedRow[] = [
  { key: "stages", label: PLAN.compared.stages, decimals: 0, show: String },
  { key: "passes", label: PLAN.compared.passes, decimals: 1, show: (x) => String(Number(x.toFixed(1))) },
  { key: "hours", label: PLAN.compared.hours, decimals: 1, show: hours },
  { key: "setsUsed", label: PLAN.compared.setsUsed, decimals: 2, show: sets },
  { key: "setsToBuy", label: PLAN.compared.setsToBuy, decimals: 0, show: String },
  { key: "cost", label: PLAN.compared.cost, decimals: 2, show: money },
  { key: "price", label: PLAN.compared.price, decimals: 2, show: money },
];

/** What the cheapest takes more (above 0) or less than mine, of the figures as they are shown, so that the row adds up. */
const more = ({ key, decimals }: ComparedRow, { mine, cheapest: best }: Comparison): number =>
  Number((Number(best[key].toFixed(decimals)) - Number(mine[key].toFixed(decimals))).toFixed(decimals));

export function difference(row: ComparedRow, comparison: Comparison): string {
  const amount = more(row, comparison);
  if (amount === 0) return PLAN.compared.same;
  return `${amount < 0 ? "−" : "+"}${row.show(Math.abs(amount))}`;
}

/** Figures that the ear is given. */
const HEARD: readonly (keyof Totals)[] = ["hours", "setsUsed", "setsToBuy", "cost", "price"];

/** The difference for the ear: "Cheapest compared with mine: hours 3.2 less, sets used the same, …". */
export function differenceInWords(comparison: Comparison): string {
  const parts = COMPARED.filter(({ key }) => HEARD.includes(key)).map((row) => {
    const amount = more(row, comparison);
    return PLAN.comparedInWords(row.label, Math.sign(amount), row.show(Math.abs(amount)));
  });
  return PLAN.comparedAloud(parts);
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
