/** The scratch test, whose code comes when it is first opened. */
import { html, nothing } from "lit";
import type { PlanContext } from "../context";
import { PLAN } from "../texts";
import type { scratchView } from "./scratch";

let view: typeof scratchView | undefined;
let code: "due" | "loading" | "failed" = "due";

/** Shown anew once the code is here, or could not be loaded. */
function load({ pane: { store } }: PlanContext): void {
  if (code === "loading" || view) return;
  code = "loading";
  import(/* webpackChunkName: "scratch" */ "./scratch")
    .then(
      (loaded) => {
        view = loaded.scratchView;
      },
      () => {
        code = "failed";
      },
    )
    .then(() => store.change((now) => ({ ...now })));
}

export function scratchLater(context: PlanContext) {
  const toggle = (event: Event) => {
    // The section around it hears of its own toggles only.
    event.stopPropagation();
    if ((event.target as HTMLDetailsElement).open) load(context);
  };
  return html`
    <details class="scratch" @toggle=${toggle}>
      <summary>${PLAN.scratch.title}</summary>
      ${view ? view(context) : code === "failed" ? html`<p class="note">${PLAN.scratch.notLoaded}</p>` : nothing}
    </details>
  `;
}
