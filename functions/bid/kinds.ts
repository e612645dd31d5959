/** What a floor or an extra is to a bid: part of its price, offered beside it, or not in it. */
export const BID_KINDS = ["base", "option", "left out"] as const;
export type BidKind = (typeof BID_KINDS)[number];
