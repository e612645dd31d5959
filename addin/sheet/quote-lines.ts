/**
 * Lines of a quote that a plan gives: a label and a live value each, in cells of the user's own. They keep their fonts and
 * widths; only numbers get a format.
 */
import type { System } from "../../functions/units";
import { symbol } from "../../functions/units";
import { quotedSheet } from "../common/a1";
import { type Block, emptyBlock, type PlacedCell } from "./block";
import type { PlanOnSheet } from "./plans";
import type { NumberFormat } from "./styles";

export const QUOTE_LINES = ["price", "perArea", "hours", "days", "sets", "stages"] as const;
export type QuoteLine = (typeof QUOTE_LINES)[number];

/** What the lines refer to: a plan that stands on a sheet. */
export type LinesOf = Pick<PlanOnSheet, "sheet" | "units" | "inputs" | "lines" | "stages">;

const LABELS: Readonly<Record<QuoteLine, (units: System) => string>> = {
  price: () => "Price",
  perArea: (units) => `Per ${symbol("floorArea", units)}`,
  hours: () => "Hours",
  days: () => "Days",
  sets: () => "Sets",
  stages: () => "Stages",
};
const labelOf = (line: QuoteLine, units: System): string => LABELS[line](units);

/** Stages that the words can tell of. */
const MOST_STAGES = 20;

/** Points that an amount with cents takes in a usual font, up to 999,999.99. */
const WIDE_ENOUGH = 64;

function formulaOf(line: QuoteLine, { sheet, lines, inputs, stages }: LinesOf): string {
  const cell = (address: string | undefined) => (address === undefined ? "NA()" : `${quotedSheet(sheet)}!${address}`);
  const column = (key: "setsToBuy" | "tool") => `${stages.table}[${stages.headings[key]}]`;
  switch (line) {
    case "price":
    case "hours":
    case "days":
      return cell(lines[line]);
    case "perArea":
      return `${cell(lines.price)}/${cell(inputs.area)}`;
    case "sets":
      return `SUM(${column("setsToBuy")})`;
    case "stages": {
      // One after the other, since what joins a whole column came later than 2010.
      const nth = (n: number) => `INDEX(${column("tool")},${n})`;
      const others = Array.from({ length: MOST_STAGES - 1 }, (_, i) => i + 2);
      return [nth(1), ...others.map((n) => `IF(ROWS(${column("tool")})<${n},"",", "&${nth(n)})`)].join("&");
    }
  }
}

const formatOf = (line: QuoteLine, width: number): NumberFormat | undefined =>
  ({
    price: width < WIDE_ENOUGH ? ("moneyWhole" as const) : ("moneyInput" as const),
    perArea: "moneyInput" as const,
    hours: "oneDecimal" as const,
    days: "count" as const,
    sets: "count" as const,
    stages: undefined,
  })[line];

/** Labels in one column, values in the next; `width` is that of the values' column, in points. */
export function quoteLines(
  of: LinesOf,
  lines: readonly QuoteLine[],
  at: { readonly row: number; readonly column: number; readonly width: number },
  sign: string | undefined,
): Block {
  const block = emptyBlock(sign);
  lines.forEach((line, i) => {
    const row = at.row + i;
    const format = formatOf(line, at.width);
    const value: PlacedCell = { row, column: at.column + 1, content: { formula: `=${formulaOf(line, of)}` } };
    block.cells.push({ row, column: at.column, content: labelOf(line, of.units) });
    block.cells.push({ ...value, ...(format && { format }) });
  });
  return block;
}
