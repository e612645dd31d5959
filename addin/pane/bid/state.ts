/** What the Bid view knows. Its changes are in `choice.ts`, which comes with the view. */
import type { BidJob, BidKey } from "../../../functions/bid/job";
import type { BidKind } from "../../../functions/bid/kinds";
import type { ReadBid } from "../../sheet";

interface ChosenFloor {
  readonly sheetId: string;
  readonly kind: BidKind;
}

/** As typed. */
export interface ChosenExtra {
  readonly name: string;
  readonly kind: BidKind;
  readonly quantity: string;
  readonly unit: string;
  readonly crewHours: string;
  readonly material: string;
  readonly waste: string;
  readonly words: string;
}

export interface BidState {
  /** Undefined until it was read. */
  readonly read: ReadBid | undefined;
  /** In the order in which they are worked. */
  readonly floors: readonly ChosenFloor[];
  readonly extras: readonly ChosenExtra[];
  readonly job: BidJob | undefined;
  /** What fields hold that were typed in. */
  readonly typed: Readonly<Partial<Record<BidKey, string>>>;
  /** Whether the user has asked to write the bid, and is told what is wrong. */
  readonly asked: boolean;
}

export const startBid = (): BidState => ({
  read: undefined,
  floors: [],
  extras: [],
  job: undefined,
  typed: {},
  asked: false,
});
