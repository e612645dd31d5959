/** What each part of the Functions view is given. */
import type { Pane } from "../commands";
import type { Part } from "../store";
import type { FunctionsCommands } from "./actions";
import type { FunctionsState } from "./state";

export interface FunctionsContext {
  readonly pane: Pane;
  readonly functions: Part<FunctionsState>;
  readonly commands: FunctionsCommands;
}
