/** What each part of the Plan view is given. */
import type { Pane } from "../commands";
import type { Part } from "../store";
import type { PlanCommands } from "./actions";
import type { PlanState } from "./state";

export interface PlanContext {
  readonly pane: Pane;
  readonly plan: Part<PlanState>;
  readonly commands: PlanCommands;
}
