/** The two sequences on offer, the user's own and the cheapest from the shelf, counted alike and side by side. */
import { cheapest } from "../../../functions/plan/cheapest";
import { type Estimate, estimate } from "../../../functions/plan/estimate";
import { FIELDS, KEYS } from "../../../functions/plan/fields";
import type { Inputs } from "../../../functions/plan/inputs";
import { type Proposal, propose } from "../../../functions/plan/proposal";
import type { Shelf, Tool, Unpriced } from "../../../functions/plan/shelf";
import type { PlannedStage } from "../../../functions/plan/stage";
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
  /** What the two columns do not show. */
  readonly remarks: readonly string[];
}

/** Both counted alike. Null where the user's costs less: it need not keep to the rules of the cheapest, so it saves nothing. */
export function compare(
  inputs: Inputs,
  shelf: Shelf,
  mine: readonly PlannedStage[],
  cheapestStages: readonly PlannedStage[],
): Comparison | null {
  const own = estimate(inputs, shelf, mine);
  const totals = { mine: totalsOf(own), cheapest: totalsOf(estimate(inputs, shelf, cheapestStages)) };
  if (isDearer(totals.cheapest.cost, totals.mine.cost)) return null;
  return { ...totals, remarks: unmeasured(own) };
}

const isDearer = (a: number, than: number) => money(a) !== money(than) && a > than;

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

/** Stages whose passes leave scratches in the floor, or don't reach the depth. */
export const shortStages = ({ rows }: Estimate): string[] =>
  rows.flatMap(({ tool, passes, needed, verdict }) =>
    needed === undefined || passes >= needed ? [] : [PLAN.passesShort(tool, passes, needed, verdict === "start")],
  );

/** Stages whose tool could cut deeper than their machine has the power for. */
export const shortOfPower = ({ rows }: Estimate): string[] =>
  rows.flatMap(({ tool, machine, cut, fullCut }) =>
    cut === undefined || fullCut === undefined || fullCut <= cut * (1 + 1e-9)
      ? []
      : [PLAN.powerShort(tool, machine, cut.toFixed(0), fullCut.toFixed(0))],
  );

/** What the proposal would take if the shelf had its price; tools at what others of their bond cost. */
export function wantedUnpriced(inputs: Inputs, shelf: Shelf, unpriced: Unpriced | undefined): string[] {
  if (!unpriced) return [];
  const priceOf = ({ bond }: Tool) =>
    Math.max(0, ...shelf.tools.filter((tool) => tool.bond === bond).map(({ price }) => price));
  const tools = [...shelf.tools, ...unpriced.tools.map((tool) => ({ ...tool, price: priceOf(tool) }))];
  const liquids = [...shelf.liquids, ...unpriced.liquids];
  const names = [...unpriced.tools, ...unpriced.liquids].map(({ name }) => name);
  const wanted = propose(inputs, { ...shelf, tools, liquids }).stages.map(({ tool }) => tool);
  return names.filter((name) => wanted.includes(name));
}

/** Stages of which nobody knows whether their passes are enough. */
const unmeasured = ({ rows }: Estimate): string[] =>
  rows.flatMap(({ tool, size, passes, needed }, i) =>
    size === null || needed !== undefined ? [] : [PLAN.cutNotMeasured(i + 1, tool, passes)],
  );

export interface ComparedRow {
  readonly key: keyof Totals;
  readonly label: string;
  /** Decimals that are shown. */
  readonly decimals: number;
  readonly show: (amount: number, sign: string) => string;
}

const sets = (x: number) => x.toFixed(2);

export const COMPARED: readonly ComparedRow[] = [
  { key: "stages", label: PLAN.compared.stages, decimals: 0, show: (x) => String(x) },
  { key: "passes", label: PLAN.compared.passes, decimals: 1, show: (x) => String(Number(x.toFixed(1))) },
  { key: "hours", label: PLAN.compared.hours, decimals: 1, show: (x) => hours(x) },
  { key: "setsUsed", label: PLAN.compared.setsUsed, decimals: 2, show: sets },
  { key: "setsToBuy", label: PLAN.compared.setsToBuy, decimals: 0, show: (x) => String(x) },
  { key: "cost", label: PLAN.compared.cost, decimals: 2, show: money },
  { key: "price", label: PLAN.compared.price, decimals: 2, show: money },
];

/** What the cheapest takes more (above 0) or less than mine, of the figures as they are shown, so that the row adds up. */
const more = ({ key, decimals }: ComparedRow, { mine, cheapest: best }: Comparison): number =>
  Number((Number(best[key].toFixed(decimals)) - Number(mine[key].toFixed(decimals))).toFixed(decimals));

export function difference(row: ComparedRow, comparison: Comparison, sign = ""): string {
  const amount = more(row, comparison);
  if (amount === 0) return PLAN.compared.same;
  return `${amount < 0 ? "−" : "+"}${row.show(Math.abs(amount), sign)}`;
}

/** Figures that the ear is given. */
const HEARD: readonly (keyof Totals)[] = ["hours", "setsUsed", "setsToBuy", "cost", "price"];

/** The difference for the ear: "Cheapest compared with mine: hours 3.2 less, sets used the same, …". */
export function differenceInWords(comparison: Comparison, sign = ""): string {
  const parts = COMPARED.filter(({ key }) => HEARD.includes(key)).map((row) => {
    const amount = more(row, comparison);
    return PLAN.comparedInWords(row.label, Math.sign(amount), row.show(Math.abs(amount), sign));
  });
  return PLAN.comparedAloud(parts);
}

/** Inputs that a sequence depends on: neither what the job is called nor what is worked out or put on top of its cost. */
const DECISIVE = KEYS.filter(
  (key) => !["price", "pastJobs", "exposure"].includes(FIELDS[key].group) && !["jobName", "floor"].includes(key),
);

/** Searched anew only when something has changed that it depends on. */
function remembered(search: typeof cheapest): typeof cheapest {
  let last: { readonly inputs: Inputs; readonly shelf: Shelf; readonly found: Proposal } | undefined;
  return (inputs, shelf) => {
    const known = last?.shelf === shelf && DECISIVE.every((key) => last?.inputs[key] === inputs[key]);
    if (!known || !last) last = { inputs, shelf, found: search(inputs, shelf) };
    return last.found;
  };
}

export const cheapestFor = remembered(cheapest);
export const proposalFor = remembered(propose);
