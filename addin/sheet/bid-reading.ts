/** What a bid needs to know of the plans on the workbook's sheets, read in one go. */
import { planCells } from "./bid-formulas";
import { refuse } from "./bid-refusals";
import type { BidItemRow } from "./bid-tables";
import { KEY_LABELS } from "./plan-texts";
import type { PlanOnSheet } from "./plans";
import { askNames, type FoundShelf, refuseDuplicates } from "./shelf";

export interface PlanForBid {
  readonly plan: PlanOnSheet;
  /** The cell of its own check, with its sheet. */
  readonly check: string | undefined;
  /** What its price is written with. */
  readonly sign: string;
  /** What stands in the stages' column Tool. */
  readonly names: readonly string[];
}

/** Rows in which a plan's check is looked for: it stands at the top. */
const ROWS = 60;

/** Asked for at once, so that trips don't grow with the plans; once the answers have come, the function it returns gives them. */
export function askPlansForBid(context: Excel.RequestContext, plans: readonly PlanOnSheet[]): () => PlanForBid[] {
  const asked = plans.map((plan) => {
    const sheet = context.workbook.worksheets.getItem(plan.sheetId);
    const { tool } = plan.stages.headings;
    return {
      plan,
      price: plan.lines.price === undefined ? undefined : sheet.getRange(plan.lines.price).load("numberFormat"),
      labels: sheet.getRange(`A1:D${ROWS}`).load("formulas"),
      tools: sheet.tables.getItem(plan.stages.table).columns.getItem(tool!).getDataBodyRange().load("values"),
    };
  });
  return () =>
    asked.map(({ plan, price, labels, tools }) => ({
      plan,
      check: checkIn(labels.formulas, plan),
      sign: signIn(String(price ? price.numberFormat[0]![0] : "")),
      names: tools.values.map(([name]) => String(name).trim()).filter((name) => name !== ""),
    }));
}

/** The formula in the row of that label. */
function checkIn(rows: readonly (readonly unknown[])[], plan: PlanOnSheet): string | undefined {
  const row = rows.findIndex(([label]) => label === KEY_LABELS.upToDate);
  const column = row < 0 ? -1 : rows[row]!.findIndex((entry) => String(entry).startsWith("="));
  return column < 0 ? undefined : planCells(plan).at(`$${"ABCD"[column]}$${row + 1}`);
}

export const signIn = (format: string) => /^"([^"]*)"/.exec(format)?.[1] ?? "";

/** Floors in two systems or currencies can't be added up. */
export function refuseMixed(plans: readonly PlanForBid[]): void {
  const [first, ...others] = plans;
  if (!first) throw refuse("noPlans");
  const other = others.find(({ plan }) => plan.units !== first.plan.units);
  if (other) throw refuse("mixedUnits", { one: first.plan.sheet, other: other.plan.sheet });
  const foreign = others.find(({ sign }) => sign !== first.sign);
  if (foreign) throw refuse("mixedMoney", { one: first.plan.sheet, other: foreign.plan.sheet });
}

/** Asks for the shelf's own names; gives those items that plans name, tools first. */
export function askItems(shelf: FoundShelf): (plans: readonly PlanForBid[]) => Omit<BidItemRow, "onHand">[] {
  const onShelf = askNames(shelf);
  const container = shelf.liquids.headers.find((title) => title.startsWith("Container"));
  const containers = shelf.liquids.table.columns.getItem(container!).getDataBodyRange().load("values");
  return (plans) => {
    refuseDuplicates(onShelf);
    const named = new Set(plans.flatMap(({ names }) => names.map((name) => name.toLowerCase())));
    const namesIn = ({ cells }: { cells: Excel.Range }) => cells.values.map(([name]) => String(name).trim());
    const isNamed = (name: string) => name !== "" && named.has(name.toLowerCase());
    const tools = namesIn(onShelf.tooling).filter(isNamed);
    // Work that needs no liquid is nothing to buy.
    const liquids = namesIn(onShelf.liquids).filter((name, i) => isNamed(name) && Number(containers.values[i]![0]) > 0);
    return [
      ...tools.map((name) => ({ name, what: "tool" as const })),
      ...liquids.map((name) => ({ name, what: "liquid" as const })),
    ];
  };
}
