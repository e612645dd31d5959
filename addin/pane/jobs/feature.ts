/** The Jobs view and its commands. */
import type { Pane } from "../commands";
import type { Feature } from "../feature";
import { isToRead } from "../reads";
import { jobsCommands } from "./actions";
import { jobsView } from "./view";

export function jobsFeature(pane: Pane): Feature {
  const commands = jobsCommands(pane);
  const context = { pane, jobs: pane.store.part("jobs"), commands };
  return {
    page: () => jobsView(context),
    needsWorkbook: true,
    isToRead: ({ reads }) => isToRead(reads.jobs),
    read: commands.look,
  };
}
