/** The log's card with its commands, made when it is first opened. */
import type { Pane } from "../commands";
import { logCommands } from "./log-actions";
import { logView } from "./parts/log";

export interface LogCard {
  view(): unknown;
  /** Reads the log as it is now. */
  look(): Promise<void>;
}

export function logCard(pane: Pane): LogCard {
  const commands = logCommands(pane);
  const context = { pane, log: pane.store.part("log"), commands };
  const look = () => pane.idle().then(commands.look);
  let undoable = pane.store.state.undoables.length;
  pane.store.subscribe(({ undoables }) => {
    const isUndone = undoables.length < undoable;
    undoable = undoables.length;
    // What was taken out again may have been a line.
    if (isUndone) void look();
  });
  return { view: () => logView(context), look };
}
