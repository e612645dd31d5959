/** One input of the job: label, control, unit, note, and what is wrong with it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { type BidKey, bidField, bidUnit } from "../../../../functions/bid/job";
import { fieldText, problemOf, typeField } from "../choice";
import type { BidContext } from "../context";
import { BID } from "../texts";

export function jobFieldView({ bid }: BidContext, key: BidKey) {
  const { state } = bid;
  const field = bidField(key);
  const { units = "us", sign = "" } = state.read ?? {};
  const problem = state.asked || state.typed[key] ? problemOf(state, key) : undefined;
  const money = field.kind === "number" && field.money ? sign : "";
  return html`
    <div class="field ${field.kind === "number" ? "number" : "text"}" data-key=${key}>
      <label for="bid-field-${key}">${field.label}</label>
      <div class="control">
        <input
          id="bid-field-${key}"
          type=${field.kind === "date" ? "date" : "text"}
          inputmode=${field.kind === "number" ? "decimal" : nothing}
          autocomplete="off"
          placeholder=${key === "minimum" ? BID.dayOfWages : nothing}
          aria-describedby="bid-note-${key} ${problem ? `bid-problem-${key}` : ""}"
          aria-invalid=${problem ? "true" : "false"}
          .value=${live(fieldText(state, key))}
          @input=${(event: Event) => bid.change((now) => typeField(now, key, (event.target as HTMLInputElement).value))}
        >
        <span class="unit">${money}${bidUnit(key, units)}</span>
      </div>
      <p class="note" id="bid-note-${key}">${field.note}</p>
      ${problem ? html`<p class="problem" id="bid-problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}
