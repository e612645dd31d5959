/** Extra work beside the floors, picked from a list. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { ReadBid } from "../../../sheet";
import { button } from "../../parts/button";
import { addExtra, changeExtra, extraProblem, removeExtra } from "../choice";
import type { BidContext } from "../context";
import type { ChosenExtra } from "../state";
import { BID } from "../texts";
import { kindChoice } from "./floors";

const FIELDS = Object.keys(BID.extraLabels) as (keyof typeof BID.extraLabels)[];

export function extrasView({ bid, commands }: BidContext, { kinds, list }: ReadBid) {
  const add = () => {
    const { value } = document.getElementById("bid-extra") as HTMLSelectElement;
    const kind = kinds.find(({ name }) => name === value);
    if (kind) bid.change((now) => addExtra(now, kind));
  };
  const change = (index: number, part: Partial<ChosenExtra>) => bid.change((now) => changeExtra(now, index, part));
  return html`
    <p class="note">${BID.extrasNote}</p>
    <ul class="bid-rows">
      ${bid.state.extras.map((extra, i) => {
        const problem = bid.state.asked ? extraProblem(extra) : undefined;
        return html`
          <li>
            <p><strong>${extra.name}</strong> <span class="count">${extra.unit}</span></p>
            <div class="bid-extra">
              ${FIELDS.map(
                (key) => html`
                  <label>
                    ${BID.extraLabels[key]}
                    <input
                      type="text"
                      inputmode="decimal"
                      autocomplete="off"
                      aria-invalid=${problem ? "true" : "false"}
                      .value=${live(extra[key])}
                      @input=${(event: Event) => change(i, { [key]: (event.target as HTMLInputElement).value })}
                    >
                  </label>
                `,
              )}
            </div>
            ${problem ? html`<p class="problem">${problem}</p>` : nothing}
            <div class="row">
              ${kindChoice(BID.extraKind(extra.name), extra.kind, (kind) => change(i, { kind }))}
              ${button("×", () => bid.change((now) => removeExtra(now, i)), { size: "small", label: BID.removeExtra(extra.name) })}
            </div>
          </li>
        `;
      })}
    </ul>
    <div class="row">
      <label class="visually-hidden" for="bid-extra">${BID.addExtra}</label>
      <select id="bid-extra">
        ${kinds.map(({ name }) => html`<option value=${name}>${name}</option>`)}
      </select>
      ${button(BID.add, add, { id: "add-extra", label: BID.addExtra })}
    </div>
    <p class="note">${list ? BID.extrasFrom(list.table, list.sheet) : BID.extrasSample}</p>
    ${
      list
        ? list.problems.map((words) => html`<p class="problem">${words}</p>`)
        : html`<div class="row">${button(BID.keepList, commands.keepList, { id: "keep-extras", size: "small" })}</div>`
    }
  `;
}
