/** What past jobs say of the plan, beside the plain estimate. */
import { html, nothing } from "lit";
import type { Estimate } from "../../../../functions/plan/estimate";
import { carried, carry, forget } from "../../jobs/state";
import { hours, money } from "../../numbers";
import { button } from "../../parts/button";
import type { Store } from "../../store";
import { confidenceIn, insteadWords, learnedOf, otherSlab } from "../calibration";

export function learnedView(store: Store, estimate: Estimate) {
  const lesson = carried(store.state);
  if (!lesson) return nothing;
  return html`
    <div class="learned" id="learned" tabindex="-1" role="group" aria-labelledby="learned-title">
      <h3 id="learned-title">Learned from ${lesson.label}</h3>
      ${figures(store, estimate)} ${slabView(store)}
      ${button("Forget", () => forgetIn(store), { size: "small" })}
    </div>
  `;
}

function figures({ state }: Store, estimate: Estimate) {
  const found = learnedOf(state, estimate);
  if (typeof found === "string") return html`<p class="trouble">${found}</p>`;
  const { hours: within, days, price, low, high } = found;
  return html`
    <p class="learned-main">
      At ${confidenceIn(state)}: <strong>${hours(within)} h</strong> of the stages, ${days} ${days === 1 ? "day" : "days"} on site, price <strong>${money(price)}</strong>
    </p>
    <p class="note">Two jobs in three like these come out between ${money(low)} and ${money(high)}.</p>
  `;
}

function slabView(store: Store) {
  const other = otherSlab(store.state);
  if (!other) return nothing;
  const { words, instead } = other;
  return html`
    <p class="trouble" role="status">${words}</p>
    ${instead ? button(insteadWords(instead), () => store.change((state) => carry(state, instead)), { size: "small" }) : nothing}
  `;
}

/** The button goes with what it forgets, so the focus moves on. */
export function forgetIn(store: Store): void {
  store.change((state) => ({ ...forget(state), announcement: "Forgotten; the plan stands on the plain estimate." }));
  document.getElementById("insert")?.focus();
}
