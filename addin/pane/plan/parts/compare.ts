/** The user's sequence beside the cheapest from the shelf, and the choice between the two. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { signBefore } from "../../../../functions/plan/inputs";
import type { PlanContext } from "../context";
import type { Derived } from "../derived";
import { COMPARED, type Comparison, difference, differenceInWords, SOURCES } from "../sequences";
import { chooseSource } from "../stages";
import { noComparisonWords, PLAN } from "../texts";

export function compareView({ plan }: PlanContext, { comparison, noComparison }: Derived) {
  const { source, inputs } = plan.state;
  return html`
    <fieldset class="place sources">
      <legend>${PLAN.planWith}</legend>
      ${SOURCES.map(
        (one) => html`
          <label>
            <input
              type="radio"
              name="source"
              .checked=${live(source === one)}
              @change=${() => plan.change((state) => chooseSource(state, one))}
            >
            ${PLAN.sources[one]}
          </label>
        `,
      )}
    </fieldset>
    ${comparison ? compared(comparison, signBefore(inputs)) : nothing}
    ${noComparison ? html`<p class="remark">${noComparisonWords(noComparison)}</p>` : nothing}
  `;
}

function compared(comparison: Comparison, sign: string) {
  return html`
    <table class="compared">
      <thead>
        <tr>
          <td></td>
          <th scope="col">${PLAN.compared.mine}</th>
          <th scope="col">${PLAN.compared.cheapest}</th>
          <th scope="col">${PLAN.compared.difference}</th>
        </tr>
      </thead>
      <tbody>
        ${COMPARED.map(
          (row) => html`
            <tr>
              <th scope="row">${row.label}</th>
              <td>${row.show(comparison.mine[row.key], sign)}</td>
              <td>${row.show(comparison.cheapest[row.key], sign)}</td>
              <td>${difference(row, comparison, sign)}</td>
            </tr>
          `,
        )}
      </tbody>
    </table>
    <p class="visually-hidden">${differenceInWords(comparison, sign)}</p>
    ${comparison.remarks.map((remark) => html`<p class="remark">${remark}</p>`)}
  `;
}
