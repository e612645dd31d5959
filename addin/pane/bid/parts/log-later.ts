/** The log's card, whose code comes when it is first opened; what it shows is read each time it is. */
import { html, nothing } from "lit";
import type { Pane } from "../../commands";
import { partLater } from "../../part-later";
import type { LogCard } from "../log-card";
import { LOG } from "../log-texts";

const later = partLater(async () => (await import(/* webpackChunkName: "log" */ "../log-card")).logCard);
const cards = new WeakMap<Pane, LogCard>();

function cardOf(pane: Pane): LogCard | undefined {
  const known = cards.get(pane);
  const made = known ?? later.part()?.(pane);
  if (made && !known) {
    cards.set(pane, made);
    void made.look();
  }
  return made;
}

export function logLater(pane: Pane) {
  const toggle = (event: Event) => {
    if (!(event.target as HTMLDetailsElement).open) return;
    const card = cards.get(pane);
    if (card) void card.look();
    else later.ask(pane);
  };
  return html`
    <details class="card spaced" id="log" @toggle=${toggle}>
      <summary>
        <h2>${LOG.title}</h2>
        <span class="digest">${LOG.digest}</span>
      </summary>
      ${cardOf(pane)?.view() ?? (later.hasFailed() ? html`<p class="note">${LOG.partNotLoaded}</p>` : nothing)}
    </details>
  `;
}
