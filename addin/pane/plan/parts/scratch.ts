/** The scratch test: which pick scratches the slab fills in its hardness. */
import { html } from "lit";
import { hardnessByPick, PICKS } from "../../../../functions/tables/mohs";
import type { PlanContext } from "../context";
import { typeNumber } from "../state";
import { SCRATCH } from "../strip-texts";

export function scratchView({ plan }: PlanContext) {
  const choose = (event: Event) => {
    const select = event.target as HTMLSelectElement;
    if (select.value === "") return;
    const hardness = String(hardnessByPick(Number(select.value)));
    plan.change((now) => typeNumber(now, "hardness", hardness));
  };
  return html`
    <div class="field choice">
      <label for="scratch-pick">${SCRATCH.label}</label>
      <div class="control">
        <select id="scratch-pick" aria-describedby="scratch-note" @change=${choose}>
          <option value="">${SCRATCH.choose}</option>
          ${PICKS.map(([name, mohs], i) => html`<option value=${i}>${SCRATCH.pick(name, mohs, hardnessByPick(i))}</option>`)}
          <option value=${PICKS.length}>${SCRATCH.none(hardnessByPick(PICKS.length))}</option>
        </select>
      </div>
      <p class="note" id="scratch-note">${SCRATCH.note}</p>
    </div>
  `;
}
