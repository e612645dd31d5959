/** The card for a list of rooms, whose code comes when it is first opened. */
import { html, nothing } from "lit";
import type { Pane } from "../../commands";
import { partLater } from "../../part-later";
import type { roomsCard } from "../rooms-card";
import { ROOMS } from "../rooms-texts";

const later = partLater(async () => (await import(/* webpackChunkName: "rooms" */ "../rooms-card")).roomsCard);
const cards = new WeakMap<Pane, ReturnType<typeof roomsCard>>();

function cardOf(pane: Pane) {
  const made = cards.get(pane) ?? later.part()?.(pane);
  if (made) cards.set(pane, made);
  return made;
}

export function roomsLater(pane: Pane) {
  const toggle = (event: Event) => {
    if ((event.target as HTMLDetailsElement).open && !cards.has(pane)) later.ask(pane);
  };
  return html`
    <details class="card spaced" id="rooms" @toggle=${toggle}>
      <summary>
        <h2>${ROOMS.title}</h2>
        <span class="digest">${ROOMS.digest}</span>
      </summary>
      ${cardOf(pane)?.view() ?? (later.hasFailed() ? html`<p class="note">${ROOMS.partNotLoaded}</p>` : nothing)}
    </details>
  `;
}
