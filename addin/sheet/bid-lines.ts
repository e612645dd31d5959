/** The cells of the Bid sheet that have a name: its inputs, and the figures worked out from them. */
import { BID_FIELDS, BID_KEYS, type BidKey } from "../../functions/bid/job";
import { BID_LABELS } from "./bid-texts";

/** Figures in the order of the sheet. */
export const BID_LINES = {
  price: [
    ...(["floorsCost", "extrasCost", "setupCost", "tripsCost", "nightsCost", "overtimeCost", "wholeCost"] as const),
    ...([
      "directCost",
      "overheadCost",
      "contingencyCost",
      "cost",
      "price",
      "offered",
      "perArea",
      "marginShown",
    ] as const),
    ...(["tax", "total"] as const),
  ],
  time: [
    ...(["hours", "waits", "days", "ends", "buyCost", "leftWorth", "power", "dust", "bags", "slurry"] as const),
    ...(["weights", "centsLeft", "overtimeShare", "firstDay", "daysIn"] as const),
  ],
  checks: ["upToDate", "plansFit", "sharesFit", "itemsFit", "powerFit"],
} as const;
export type BidSection = keyof typeof BID_LINES;
export type BidLine = (typeof BID_LINES)[BidSection][number];
export const BID_LINE_KEYS: readonly BidLine[] = Object.values(BID_LINES).flat();

/** Those that a quote of the user's may refer to by a name of the workbook. */
export const NAMED_BID_LINES = {
  price: "Bid_Price",
  cost: "Bid_Cost",
  hours: "Bid_Hours",
  days: "Bid_Days",
  offered: "Bid_Offered",
} as const satisfies Partial<Record<BidLine, string>>;
export type NamedBidLine = keyof typeof NAMED_BID_LINES;
export const NAMED_BID_KEYS = Object.keys(NAMED_BID_LINES) as NamedBidLine[];

const isNamed = (key: BidCell): key is NamedBidLine => key in NAMED_BID_LINES;
/** An input, a figure, or the units of the sheet. */
export type BidCell = BidKey | BidLine | "units";
export const BID_CELLS: readonly BidCell[] = ["units", ...BID_KEYS, ...BID_LINE_KEYS];

/** The name of a cell on its sheet; a figure that has a name of the workbook has no other. */
export function cellName(key: BidCell): string | undefined {
  if (isNamed(key)) return undefined;
  if (key in BID_FIELDS) return BID_FIELDS[key as BidKey].name;
  return `Bid_${key[0]!.toUpperCase()}${key.slice(1)}`;
}

export const lineLabel = (key: BidLine | "units"): string => BID_LABELS[key];
