/** What each part of the Bid view is given. */
import type { Pane } from "../commands";
import type { Part } from "../store";
import type { BidCommands } from "./actions";
import type { BidState } from "./state";

export interface BidContext {
  readonly pane: Pane;
  readonly bid: Part<BidState>;
  readonly commands: BidCommands;
}
