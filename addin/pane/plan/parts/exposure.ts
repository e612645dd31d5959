/** What one person's day comes to beside the action and limit values, where the crew's exposure is given. */
import { html, nothing } from "lit";
import {
  EXPOSURE_CAUTION,
  EXPOSURE_LINE_KEYS,
  type ExposureFigures,
  type ExposureKey,
  exposureLine,
  exposureOf,
  type Figure,
} from "../../../../functions/plan/exposure";
import type { Inputs } from "../../../../functions/plan/inputs";
import type { Problems } from "../../../../functions/plan/problems";
import type { System } from "../../../../functions/units";
import { figureText, withUnit } from "../../numbers";
import { PLAN } from "../texts";

export function exposureView(inputs: Inputs, problems: Problems) {
  const figures = exposureOf(inputs, problems);
  return html`
    <div class="exposure" role="group" aria-labelledby="exposure-title">
      <h3 id="exposure-title">${PLAN.exposureTitle}</h3>
      <dl>
        ${EXPOSURE_LINE_KEYS.map((key) => lineView(key, figures[key], inputs.units))}
      </dl>
      <p class="caution">${EXPOSURE_CAUTION}</p>
    </div>
  `;
}

/** A line whose figure stands beside its values, or one that says how long it takes to reach them. */
function lineView(key: ExposureKey, { value, action, limit, words }: ExposureFigures, units: System) {
  const line = exposureLine(key);
  const unit = line.unit(units);
  const beside = [
    ...(action === "" ? [] : [PLAN.actionValue(inUnit(action, unit))]),
    ...(limit === "" ? [] : [PLAN.limit(inUnit(limit, unit))]),
  ].join(", ");
  return html`
    <div>
      <dt>${line.label}</dt>
      <dd>
        ${value === "" ? nothing : html`<strong>${inUnit(value, unit)}</strong>`}
        ${words ? html`<span class="words">${words}</span>` : nothing}
        ${beside ? html`<span class="beside">${beside}</span>` : nothing}
      </dd>
    </div>
  `;
}

const inUnit = (figure: Figure, unit: string) =>
  typeof figure === "number" ? withUnit(figureText(figure), unit) : figure;
