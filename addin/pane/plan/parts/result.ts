/** What the plan comes to, live, and where the cost lies. */
import { html, nothing, svg } from "lit";
import type { Estimate } from "../../../../functions/plan/estimate";
import { type Inputs, minimumOf, signBefore, unitOf } from "../../../../functions/plan/inputs";
import { symbol } from "../../../../functions/units";
import { figureText, hours, money, share, withUnit } from "../../numbers";
import type { PlanContext } from "../context";
import { allDoubts } from "../doubts";
import { remarksOn } from "../remarks";
import { PLAN } from "../texts";
import { calibrationView } from "./calibration";

export function resultView(context: PlanContext, estimate: Estimate, leftOut: readonly string[]) {
  const { state } = context.plan;
  const { inputs } = state;
  const { price, perArea, cost, hours: stageHours, waits, crewHours, days } = estimate;
  const sign = signBefore(inputs);
  return html`
    <dl class="figures-list">
      ${figure(PLAN.price, money(price, sign), "main")}
      ${figure(PLAN.pricePer(unitOf("area", inputs.units)), money(perArea, sign), "main")}
      ${figure(PLAN.cost, money(cost, sign))}
      ${figure(PLAN.stageHours, `${hours(stageHours)} h`)}
      ${figure(PLAN.crewHours, `${hours(crewHours)} h`)}
      ${waits > 0 ? figure(PLAN.waits, `${hours(waits)} h`) : nothing}
      ${figure(PLAN.days, String(days))}
    </dl>
    ${price === minimumOf(inputs) ? html`<p class="remark">${PLAN.isMinimum(inputs.minimum === null)}</p>` : nothing}
    ${remarksOn(estimate, inputs).map((remark) => html`<p class="note">${remark}</p>`)}
    <p class="remark">${wasteOf(estimate, inputs)}</p>
    ${leftOut.map((name) => html`<p class="trouble">${PLAN.noPrice(name)}</p>`)}
    ${allDoubts(state).map((doubt) => html`<p class="remark">${doubt}</p>`)}
    ${calibrationView(context, estimate)} ${costPicture(estimate, sign)}
  `;
}

/** What grinding leaves to carry off, with the care that it needs. */
function wasteOf({ dust, slurry }: Estimate, { units, grinding }: Pick<Inputs, "units" | "grinding">): string {
  const about = (amount: number, quantity: "mass" | "volume") =>
    withUnit(figureText(Number(amount.toPrecision(2))), symbol(quantity, units));
  const mass = about(dust, "mass");
  return grinding === "wet" ? PLAN.slurry(about(slurry, "volume"), mass) : PLAN.dust(mass);
}

const figure = (name: string, value: string, kind = "") => html`
  <div>
    <dt>${name}</dt>
    <dd class=${kind}>${value}</dd>
  </div>
`;

/** A bar a stage. The words and numbers beside the bars say the same, so the bars need no text of their own. */
function costPicture({ rows, directCost }: Estimate, sign: string) {
  const stages = rows.map(({ tool, cost }, i) => ({ name: `${i + 1} ${tool}`, cost }));
  const ofStages = rows.reduce((sum, row) => sum + row.cost, 0);
  const setup = directCost - ofStages;
  // Shares are of all stages, as on the sheet.
  const shares = stages.map(({ cost }) => (ofStages > 0 ? share(cost / ofStages) : ""));
  const parts = [...stages, { name: PLAN.setup, cost: setup }];
  const largest = Math.max(...parts.map((part) => part.cost));
  return html`
    <figure class="costs">
      <figcaption>${PLAN.costByStage}</figcaption>
      <ul>
        ${parts.map(
          ({ name, cost }, i) => html`
            <li>
              <span class="name">${name}</span>
              <span class="cost">${money(cost, sign)} <span class="share">${shares[i] ?? nothing}</span></span>
              ${bar(largest > 0 ? cost / largest : 0)}
            </li>
          `,
        )}
      </ul>
    </figure>
  `;
}

const bar = (length: number) => svg`
  <svg class="bar" height="6" width="100%" aria-hidden="true" focusable="false">
    <rect class="track" width="100%" height="6" rx="3" />
    <rect class="length" width=${`${(100 * length).toFixed(1)}%`} height="6" rx="3" />
  </svg>`;
