/** What a plan asks about the price. */
import { type Domain, FROM_0 } from "../../domain";
import { both, type Field, PERCENT_BELOW_100 } from "../field";

const PERCENT_FROM_0: Domain = { ...FROM_0, words: "0% or more" };

export const PRICE_FIELDS = {
  currency: {
    kind: "text",
    name: "Price_Currency",
    group: "price",
    label: "Currency sign",
    note: "Stands before every amount; amounts aren't converted",
    start: { us: "$", metric: "€" },
    longest: 4,
  },
  overhead: {
    kind: "number",
    name: "Price_Overhead",
    group: "price",
    label: "Overhead",
    note: "On direct cost",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.12),
  },
  contingency: {
    kind: "number",
    name: "Price_Contingency",
    group: "price",
    label: "Contingency",
    note: "On direct cost plus overhead",
    domain: PERCENT_FROM_0,
    percent: true,
    start: both(0.05),
  },
  margin: {
    kind: "number",
    name: "Price_Margin",
    group: "price",
    label: "Target margin",
    note: "Share of the price, not of the cost",
    domain: PERCENT_BELOW_100,
    percent: true,
    start: both(0.3),
  },
  minimum: {
    kind: "number",
    name: "Price_Minimum",
    group: "price",
    label: "Minimum charge",
    note: "Default: one day's wages and burden, nothing else",
    domain: FROM_0,
    money: true,
    start: both(null),
    blankMeans: "a day of the crew, wages and burden",
  },
} as const satisfies Record<string, Field>;
