/** What the plan comes to, live, and where the cost lies. */
import { html, nothing, svg } from "lit";
import type { Estimate } from "../../../../functions/plan/estimate";
import { unitOf } from "../../../../functions/plan/inputs";
import { hours, money, share } from "../../numbers";
import { allDoubts } from "../../state";
import type { Store } from "../../store";
import { learnedView } from "./calibration";

export function resultView(estimate: Estimate, store: Store) {
  const { inputs } = store.state;
  const { price, perArea, cost, hours: stageHours, crewHours, days } = estimate;
  return html`
    <dl class="figures-list">
      ${figure("Price", money(price), "main")}
      ${figure(`Price per ${unitOf("area", inputs.units)}`, money(perArea), "main")}
      ${figure("Cost", money(cost))}
      ${figure("Hours of the stages", `${hours(stageHours)} h`)}
      ${figure("Crew hours", `${hours(crewHours)} h`)}
      ${figure("Days on site", String(days))}
    </dl>
    ${price === inputs.minimum ? html`<p class="remark">This is the minimum charge.</p>` : nothing}
    ${allDoubts(store.state).map((doubt) => html`<p class="remark">${doubt}</p>`)}
    ${learnedView(store, estimate)} ${costPicture(estimate)}
  `;
}

const figure = (name: string, value: string, kind = "") => html`
  <div>
    <dt>${name}</dt>
    <dd class=${kind}>${value}</dd>
  </div>
`;

/** A bar a stage. The words and numbers beside the bars say the same, so the bars need no text of their own. */
function costPicture({ rows, directCost }: Estimate) {
  const stages = rows.map(({ tool, cost }, i) => ({ name: `${i + 1} ${tool}`, cost }));
  const setUp = directCost - rows.reduce((sum, row) => sum + row.cost, 0);
  const parts = [...stages, { name: "Set-up and clean-up", cost: setUp }];
  const largest = Math.max(...parts.map((part) => part.cost));
  return html`
    <figure class="costs">
      <figcaption>Direct cost by stage</figcaption>
      <ul>
        ${parts.map(
          ({ name, cost }) => html`
            <li>
              <span class="name">${name}</span>
              <span class="cost">${money(cost)} <span class="share">${directCost > 0 ? share(cost / directCost) : ""}</span></span>
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
