/** What each part of the Jobs view is given. */
import type { Pane } from "../commands";
import type { Part } from "../store";
import type { JobsCommands } from "./actions";
import type { JobsState } from "./state";

export interface JobsContext {
  readonly pane: Pane;
  readonly jobs: Part<JobsState>;
  readonly commands: JobsCommands;
}
