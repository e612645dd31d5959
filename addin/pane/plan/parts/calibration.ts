/** What past jobs say of the plan, beside the standard estimate. */
import { html, nothing } from "lit";
import type { Estimate } from "../../../../functions/plan/estimate";
import { signBefore } from "../../../../functions/plan/inputs";
import type { Calibration } from "../../calibration";
import type { Pane } from "../../commands";
import { hours, money } from "../../numbers";
import { button } from "../../parts/button";
import { useInPlan } from "../../use-calibration";
import {
  calibratedOf,
  confidenceIn,
  dropCalibration,
  insteadWords,
  isCalibrated,
  otherSlab,
  usedCalibration,
} from "../calibration";
import type { PlanContext } from "../context";
import { PLAN } from "../texts";

export function calibrationView(context: PlanContext, estimate: Estimate) {
  const calibration = usedCalibration(context.plan.state);
  if (!calibration) return nothing;
  return html`
    <div class="calibration" id="calibration" tabindex="-1" role="group" aria-labelledby="calibration-title">
      <h3 id="calibration-title">${PLAN.calibratedBy(calibration.label)}</h3>
      ${figures(context, calibration, estimate)} ${slabView(context)}
      ${button(PLAN.removeCalibration, () => removeCalibration(context.pane), { size: "small" })}
    </div>
  `;
}

function figures({ plan }: PlanContext, calibration: Calibration, estimate: Estimate) {
  const found = calibratedOf(plan.state, calibration, estimate);
  if (!isCalibrated(found)) return html`<p class="trouble">${PLAN.noHours(found)}</p>`;
  const { hours: within, days, price, low, high } = found;
  const sign = signBefore(plan.state.inputs);
  return html`
    <p class="calibration-main">
      ${PLAN.atConfidence(confidenceIn(plan.state))} <strong>${hours(within)} h</strong> ${PLAN.calibrated(days)}
      <strong>${money(price, sign)}</strong>
    </p>
    <p class="note">${PLAN.likelyRange(money(low, sign), money(high, sign))}</p>
  `;
}

function slabView({ pane, plan }: PlanContext) {
  const other = otherSlab(plan.state, pane.store.state.jobs.written);
  if (!other) return nothing;
  const { instead } = other;
  return html`
    <p class="trouble" role="status">${PLAN.otherSlab(other)}</p>
    ${
      instead
        ? button(insteadWords(instead), () => pane.store.change((state) => useInPlan(state, instead)), {
            size: "small",
          })
        : nothing
    }
  `;
}

/** The button goes with what it removes, so the focus moves on. */
export function removeCalibration({ store }: Pane): void {
  store.change((state) => ({
    ...state,
    plan: dropCalibration(state.plan),
    announcement: PLAN.calibrationRemoved,
  }));
  document.getElementById("insert")?.focus();
}
