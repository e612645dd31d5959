/** From direct cost to price: on numbers for the pane and the calibration, in formulas for the sheet, side by side. */
import { priceAtMargin } from "../price";
import { type Inputs, minimumOf, needed } from "./inputs";

/** What is added to the direct cost, in this order, each a share of everything before it. */
export const ADDED_TO_COST = ["overhead", "contingency"] as const;

export const costOf = (directCost: number, inputs: Inputs): number =>
  ADDED_TO_COST.reduce((cost, key) => cost * (1 + needed(inputs, key)), directCost);

/** At the target margin, or the minimum charge where that is more. */
export const priceOf = (cost: number, inputs: Inputs): number =>
  priceAtMargin(cost, needed(inputs, "margin"), minimumOf(inputs));

type Cell = (key: "margin" | "minimum" | (typeof ADDED_TO_COST)[number]) => string;

/** The same as `costOf`; the direct cost is a cell, or an expression in brackets. */
export const costFormula = (directCost: string, input: Cell): string =>
  [directCost, ...ADDED_TO_COST.map((key) => `(1+${input(key)})`)].join("*");

/** The same as `priceOf`. */
export const priceFormula = (cost: string, input: Cell): string =>
  `GRIT.PRICEAT(${cost},${input("margin")},${input("minimum")})`;
