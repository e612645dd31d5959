/** The test strip's card, whose code comes when it is first opened. */
import { html, nothing } from "lit";
import { partLater } from "../../part-later";
import type { PlanContext } from "../context";
import { PLAN } from "../texts";

const later = partLater(async () => (await import(/* webpackChunkName: "strip" */ "./strip")).stripView);

export function stripLater(context: PlanContext) {
  const toggle = (event: Event) => {
    if ((event.target as HTMLDetailsElement).open) later.ask(context.pane);
  };
  return html`
    <details class="card strip" id="strip" @toggle=${toggle}>
      <summary>
        <h2>${PLAN.stripTitle}</h2>
        <span class="digest">${PLAN.stripDigest}</span>
      </summary>
      ${later.part()?.(context) ?? (later.hasFailed() ? html`<p class="note">${PLAN.partNotLoaded}</p>` : nothing)}
    </details>
  `;
}
