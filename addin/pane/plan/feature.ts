/** The Plan view and its commands. */
import type { Pane } from "../commands";
import type { Feature } from "../feature";
import { type PlanCommands, planCommands } from "./actions";
import { planFooter, planView } from "./view";

export function planFeature(pane: Pane): Feature & { readonly commands: PlanCommands } {
  const commands = planCommands(pane);
  const context = { pane, plan: pane.store.part("plan"), commands };
  return {
    commands,
    page: () => planView(context),
    footer: () => planFooter(context),
    needsWorkbook: true,
    isToRead: commands.isToRead,
    read: commands.read,
  };
}
