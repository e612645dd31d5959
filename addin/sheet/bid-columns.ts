/** The tables of the Bid sheet: what their columns are called and how they look. */
import { type System, symbol } from "../../functions/units";
import type { NumberFormat } from "./styles";

export interface BidColumn {
  readonly title: string | ((units: System) => string);
  readonly width: number;
  readonly format?: NumberFormat;
  /** Typed by the user, or by us for them; anything else is a formula. */
  readonly typed?: true;
}
type Columns<K extends string> = Readonly<Record<K, BidColumn>>;
const columns = <K extends string>(of: Columns<K>): Columns<K> => of;

export const FLOOR_COLUMNS = columns({
  floor: { title: "Floor", width: 130 },
  kind: { title: "Kind", width: 60, typed: true },
  order: { title: "Order", width: 44, format: "asTyped", typed: true },
  area: { title: (units) => `Area ${symbol("floorArea", units)}`, width: 62, format: "count" },
  finish: { title: "Finish", width: 120 },
  hours: { title: "Hours", width: 52, format: "hours" },
  waits: { title: "Wait h", width: 48, format: "hours" },
  direct: { title: "Direct cost", width: 78, format: "money" },
  price: { title: "Price", width: 82, format: "money" },
  starts: { title: "Starts", width: 72, format: "date" },
  ends: { title: "Ends", width: 72, format: "date" },
  bar: { title: "Schedule", width: 190 },
  check: { title: "Plan check", width: 120 },
  sheet: { title: "Sheet", width: 110 },
});
export type FloorColumn = keyof typeof FLOOR_COLUMNS;

export const EXTRA_COLUMNS = columns({
  name: { title: "Extra", width: 130, typed: true },
  kind: { title: "Kind", width: 60, typed: true },
  quantity: { title: "Quantity", width: 56, format: "asTyped", typed: true },
  unit: { title: "Unit", width: 46, typed: true },
  crewHours: { title: "Crew h each", width: 54, format: "asTyped", typed: true },
  material: { title: "Material each", width: 64, format: "moneyInput", typed: true },
  waste: { title: "Waste", width: 46, format: "percentFine", typed: true },
  words: { title: "On the proposal", width: 170, typed: true },
  hours: { title: "Hours", width: 52, format: "hours" },
  direct: { title: "Direct cost", width: 78, format: "money" },
  price: { title: "Price", width: 82, format: "money" },
  crew: { title: "Crew cost", width: 66, format: "money" },
  cents: { title: "Share cents", width: 76, format: "asTyped" },
  lost: { title: "Part of a cent", width: 60, format: "asTyped" },
  withPrice: { title: "Price with it", width: 76, format: "money" },
});
export type ExtraColumn = keyof typeof EXTRA_COLUMNS;

export const BUY_COLUMNS = columns({
  item: { title: "Tool or liquid", width: 130 },
  what: { title: "What", width: 46 },
  price: { title: "Price of one", width: 66, format: "money" },
  container: { title: (units) => `Container ${symbol("volume", units)}`, width: 58, format: "asTyped" },
  onHand: { title: "On hand", width: 50, format: "asTyped", typed: true },
  used: { title: "Used", width: 50, format: "sets" },
  toBuy: { title: "To buy", width: 50, format: "whole" },
  cost: { title: "Cost", width: 72, format: "money" },
  left: { title: "Left", width: 50, format: "sets" },
  worth: { title: "Worth of it", width: 66, format: "money" },
  whole: { title: "Not used", width: 66, format: "money" },
});
export type BuyColumn = keyof typeof BUY_COLUMNS;

/** One row a floor; what it uses of each item follows in columns of its own. */
export const MATH_COLUMNS = columns({
  sheet: { title: "Sheet", width: 110 },
  kind: { title: "Kind", width: 52 },
  order: { title: "Order", width: 44, format: "asTyped" },
  area: { title: (units) => `Area ${symbol("floorArea", units)}`, width: 60, format: "count" },
  hours: { title: "Hours", width: 52, format: "hours" },
  waits: { title: "Wait h", width: 48, format: "hours" },
  crew: { title: "Crew cost", width: 66, format: "money" },
  direct: { title: "Direct cost", width: 76, format: "money" },
  power: { title: "Power kW", width: 50, format: "hours" },
  dust: { title: (units) => `Dust ${symbol("mass", units)}`, width: 50, format: "whole" },
  slurry: { title: (units) => `Slurry ${symbol("volume", units)}`, width: 50, format: "whole" },
  start: { title: "From hour", width: 52, format: "oneDecimal" },
  done: { title: "To hour", width: 52, format: "oneDecimal" },
  cents: { title: "Share cents", width: 76, format: "asTyped" },
  lost: { title: "Part of a cent", width: 60, format: "asTyped" },
  withPrice: { title: "Price with it", width: 76, format: "money" },
  price: { title: "Price", width: 82, format: "money" },
  wholeSum: { title: "Whole containers", width: 70, format: "money" },
  moreSum: { title: "Not used, more", width: 70, format: "money" },
  unlisted: { title: "Not in To buy", width: 60, format: "sets" },
});
export type MathColumn = keyof typeof MATH_COLUMNS;

export const titleOf = ({ title }: BidColumn, units: System): string =>
  typeof title === "string" ? title : title(units);

export const keysOf = <K extends string>(of: Columns<K>): K[] => Object.keys(of) as K[];
