/** The card for a list of rooms with its commands, made when it is first opened. */
import type { Pane } from "../commands";
import { planOf } from "../plan/derived";
import { roomsView } from "./parts/rooms";
import { roomsCommands } from "./rooms-actions";

export function roomsCard(pane: Pane) {
  const commands = roomsCommands(pane);
  const rooms = pane.store.part("rooms");
  return { view: () => roomsView({ rooms, commands, form: () => planOf(pane.store.state.plan) }) };
}
