/** Words that a price-only copy should make its sender look twice at. */
import { expect, it } from "vitest";
import { costWords } from "../../../addin/share/cost-words";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { book, sheet } from "./copy-files";

const TEXTS = [
  "<si><t>Price per square foot</t></si>",
  '<si><r><t>Target </t></r><r><t>margin</t></r><rPh sb="0" eb="1"><t>profit</t></rPh></si>',
  "<si><t>Total COSTS &amp; more</t></si>",
  "<si><t>Costa Verde, marginal notes</t></si>",
  "<si><t>Overhead</t></si>",
];
const row = (...cells: string[]) => `<row r="1">${cells.join("")}</row>`;
const shared = (address: string, number: number) => `<c r="${address}" t="s"><v>${number}</v></c>`;

const copyOf = (...cells: string[]) =>
  priceOnlyCopy(book({ sheets: { Quote: sheet(row(...cells)) }, strings: TEXTS }), { keep: [{ sheet: "Quote" }] })
    .bytes;

it("are found whatever their letters' case and in whatever runs they are written, each text once", () => {
  const copy = copyOf(shared("A1", 0), shared("B1", 1), shared("C1", 2), shared("D1", 1), shared("E1", 3));
  expect(costWords(copy)).toEqual(["Target margin", "Total COSTS & more"]);
});

it("are found in what a formula gave", () => {
  expect(costWords(copyOf('<c r="A1" t="str"><f>B9</f><v>Crew wages</v></c>'))).toEqual(["Crew wages"]);
});

it("do not come from cells that the copy does not have", () => {
  expect(costWords(copyOf(shared("A1", 0)))).toEqual([]);
});

/** Which words tell of costs: `common practice, no source`; the first four are a user's own. */
const ofText = (text: string) => costWords(copyOf(`<c r="A1" t="inlineStr"><is><t>${text}</t></is></c>`)).length > 0;

it.each([
  "labor 3,815",
  "Costing",
  "GP",
  "buy-in price",
  "Labour",
  "labor_rate",
  "GP 31 %",
  "Wage",
  "Payroll",
  "Salaries",
  "Margin",
  "mark up",
  "Mark-up",
  "profitability",
  "fully burdened rate",
  "break even",
  "Buying price",
  "net 3,815",
  "Net price",
])("are found: %s", (text) => {
  expect(ofText(text)).toBe(true);
});

it.each([
  "Costa Verde Hall",
  "costume store",
  "laboratory floor",
  "collaboration",
  "GPS survey",
  "network room",
  "marginal notes",
  "Net 30 days",
  "Payment: net 30.",
  "Planet hall",
  "1,200 sq ft",
])("are not seen in: %s", (text) => {
  expect(ofText(text)).toBe(false);
});

it("are found in the name of a sheet", () => {
  const bytes = book({ sheets: { "Job costing": sheet(row(shared("A1", 0))) }, strings: TEXTS });
  expect(costWords(priceOnlyCopy(bytes, { keep: [{ sheet: "Job costing" }] }).bytes)).toEqual(["Job costing"]);
});
