/** What past jobs say of the plan, beside the plain estimate. */
import { html, nothing } from "lit";
import { CellFailure } from "../../../functions/cell";
import type { Estimate } from "../../../functions/plan/estimate";
import { FIELDS } from "../../../functions/plan/inputs";
import { learned } from "../../../functions/plan/learned";
import { carried, forget } from "../jobs";
import { briefly, hours, money } from "../numbers";
import type { Store } from "../store";
import { button } from "./button";

export function learnedView(store: Store, estimate: Estimate) {
  const lesson = carried(store.state);
  if (!lesson) return nothing;
  return html`
    <div class="learned" id="learned" tabindex="-1" role="group" aria-labelledby="learned-title">
      <h3 id="learned-title">Learned from ${lesson.label}</h3>
      ${figures(store, estimate, lesson.logRatios)}
      ${button("Forget", () => forgetIn(store), { size: "small" })}
    </div>
  `;
}

function figures({ state: { inputs } }: Store, estimate: Estimate, logRatios: readonly number[]) {
  try {
    const { hours: within, price, low, high } = learned(estimate, inputs, logRatios);
    return html`
      <p class="learned-main">
        At ${briefly(inputs.confidence!, FIELDS.confidence)} %: <strong>${hours(within)} h</strong> of the stages, price <strong>${money(price)}</strong>
      </p>
      <p class="note">Two jobs in three like these come out between ${money(low)} and ${money(high)}.</p>
    `;
  } catch (failure) {
    if (failure instanceof CellFailure)
      return html`<p class="trouble">No hours at this confidence: ${failure.message}.</p>`;
    throw failure;
  }
}

/** The button goes with what it forgets, so the focus moves on. */
export function forgetIn(store: Store): void {
  store.change((state) => ({ ...forget(state), announcement: "Forgotten; the plan stands on the plain estimate." }));
  document.getElementById("insert")?.focus();
}
