/** The Jobs view: past jobs beside their quotes, and what they teach. */
import { html } from "lit";
import type { Commands } from "./actions";
import type { Store } from "./store";

export function jobsView(_store: Store, _commands: Commands) {
  return html``;
}
