/** The user's sequence beside the cheapest from the shelf, and the choice between the two. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { Store } from "../../store";
import type { Derived } from "../derived";
import { COMPARED, type Comparison, difference, differenceInWords, SOURCES, type Source } from "../sequences";
import { chooseSource } from "../stages";

const LABELS: Record<Source, string> = { mine: "My sequence", cheapest: "Cheapest from my shelf" };

const ON_THE_SHELF = "The result below still counts passes as on the shelf.";

export function compareView(store: Store, { comparison, noComparison }: Derived) {
  const { source, inputs } = store.state;
  return html`
    <fieldset class="place sources">
      <legend>Plan with</legend>
      ${SOURCES.map(
        (one) => html`
          <label>
            <input
              type="radio"
              name="source"
              .checked=${live(source === one)}
              @change=${() => store.change((state) => chooseSource(state, one))}
            >
            ${LABELS[one]}
          </label>
        `,
      )}
    </fieldset>
    ${comparison ? compared(comparison) : nothing}
    ${comparison && inputs.passesFrom === "shelf" ? html`<p class="remark">${ON_THE_SHELF}</p>` : nothing}
    ${noComparison ? html`<p class="remark">${noComparison}</p>` : nothing}
  `;
}

function compared(comparison: Comparison) {
  return html`
    <table class="compared">
      <caption class="note">
        Both with passes as the scratches need, from ${Math.round(comparison.depth)} µm to take off
      </caption>
      <thead>
        <tr>
          <td></td>
          <th scope="col">Mine</th>
          <th scope="col">Cheapest</th>
          <th scope="col">Difference</th>
        </tr>
      </thead>
      <tbody>
        ${COMPARED.map(
          (row) => html`
            <tr>
              <th scope="row">${row.label}</th>
              <td>${row.show(comparison.mine[row.key])}</td>
              <td>${row.show(comparison.cheapest[row.key])}</td>
              <td>${difference(row, comparison)}</td>
            </tr>
          `,
        )}
      </tbody>
    </table>
    <p class="visually-hidden">${differenceInWords(comparison)}</p>
    ${comparison.remarks.map((remark) => html`<p class="remark">${remark}</p>`)}
  `;
}
