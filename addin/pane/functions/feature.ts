/** The Functions view and its commands. */
import type { Pane } from "../commands";
import type { Feature } from "../feature";
import { isToRead } from "../reads";
import { functionsCommands } from "./actions";
import { functionsView } from "./view";

export function functionsFeature(pane: Pane): Feature {
  const commands = functionsCommands(pane);
  const context = { pane, functions: pane.store.part("functions"), commands };
  return {
    page: () => functionsView(context),
    needsWorkbook: false,
    isToRead: ({ reads }) => isToRead(reads.functions),
    read: commands.loadCatalogue,
  };
}
