/** The scratch test, whose code comes when it is first opened. */
import { html, nothing } from "lit";
import { partLater } from "../../part-later";
import type { PlanContext } from "../context";
import { PLAN } from "../texts";

const later = partLater(async () => (await import(/* webpackChunkName: "scratch" */ "./scratch")).scratchView);

export function scratchLater(context: PlanContext) {
  const toggle = (event: Event) => {
    // The section around it hears of its own toggles only.
    event.stopPropagation();
    if ((event.target as HTMLDetailsElement).open) later.ask(context.pane);
  };
  return html`
    <details class="scratch" @toggle=${toggle}>
      <summary>${PLAN.scratchTitle}</summary>
      ${later.part()?.(context) ?? (later.hasFailed() ? html`<p class="note">${PLAN.partNotLoaded}</p>` : nothing)}
    </details>
  `;
}
