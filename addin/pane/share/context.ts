/** What each part of the Share view is given. */
import type { Pane } from "../commands";
import type { Part } from "../store";
import type { ShareCommands } from "./actions";
import type { ShareState } from "./state";

export interface ShareContext {
  readonly pane: Pane;
  readonly share: Part<ShareState>;
  readonly commands: ShareCommands;
}
