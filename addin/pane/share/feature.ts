/** The Share view and its commands. */
import type { Pane } from "../commands";
import type { Feature } from "../feature";
import { isToRead } from "../reads";
import { shareCommands } from "./actions";
import { shareView } from "./view";

export function shareFeature(pane: Pane): Feature {
  const commands = shareCommands(pane);
  const context = { pane, share: pane.store.part("share"), commands };
  return {
    page: () => shareView(context),
    needsWorkbook: true,
    isToRead: ({ reads }) => isToRead(reads.share),
    read: commands.look,
  };
}
