/** The Bid view and its commands. */
import type { Pane } from "../commands";
import type { Feature } from "../feature";
import { isToRead } from "../reads";
import { bidCommands } from "./actions";
import { bidView } from "./view";

export function bidFeature(pane: Pane): Feature {
  const commands = bidCommands(pane);
  const context = { pane, bid: pane.store.part("bid"), commands };
  return {
    page: () => bidView(context),
    needsWorkbook: true,
    isToRead: ({ reads }) => isToRead(reads.bid),
    read: commands.look,
  };
}
