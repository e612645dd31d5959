/** What a price-only copy is to have: whole sheets, and ranges that are taken from the selection. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { repeat } from "lit/directives/repeat.js";
import type { CellsFound, SheetFound } from "../../../sheet";
import { button, iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import { isCovered, removeRange, sheetsInOrder, tick } from "../choice";
import type { ShareContext } from "../context";
import { SHARE } from "../texts";

export function choiceView(context: ShareContext) {
  const { pane, share, commands } = context;
  return html`
    <section class="card" aria-labelledby="choice-title">
      <h2 id="choice-title">${SHARE.choiceTitle}</h2>
      ${share.state.sheets.length > 0 ? sheetsView(context) : nothing} ${rangesView(context)}
      ${
        pane.store.state.host === "ready"
          ? html`
            <div class="row">${button(SHARE.addSelected, commands.addSelected, { id: "add-range" })}</div>
            <div class="row">
              <p class="note">${SHARE.asTheyStand}</p>
              ${button(SHARE.recalculate, pane.recalculate, { size: "small" })}
            </div>`
          : nothing
      }
    </section>
  `;
}

const sheetsView = (context: ShareContext) => html`
  <fieldset class="ticks">
    <legend>${SHARE.wholeSheets}</legend>
    ${repeat(
      sheetsInOrder(context.share.state),
      ({ name }) => name,
      (sheet) => sheetView(context, sheet),
    )}
  </fieldset>
`;

function sheetView({ share }: ShareContext, { name, visible, used }: SheetFound) {
  const toggle = (event: Event) => {
    const { checked } = event.target as HTMLInputElement;
    share.change((now) => tick(now, name, checked));
  };
  const remarks = [visible ? "" : SHARE.hidden, used || SHARE.empty].filter(Boolean).join(", ");
  return html`
    <label>
      <input type="checkbox" .checked=${live(share.state.ticked.includes(name))} @change=${toggle}>
      <span>${name} <span class="note">${remarks}</span></span>
    </label>
  `;
}

function rangesView(context: ShareContext) {
  const { ranges } = context.share.state;
  if (ranges.length === 0) return nothing;
  return html`
    <h3>${SHARE.ranges}</h3>
    <ul class="ranges">
      ${ranges.map((cells) => rangeView(context, cells))}
    </ul>
  `;
}

function rangeView({ share }: ShareContext, cells: CellsFound) {
  const address = `${cells.sheet}!${cells.range}`;
  const remove = () => {
    share.change((now) => removeRange(now, cells));
    // The button that had the focus is gone.
    document.getElementById("add-range")?.focus();
  };
  return html`
    <li>
      <span class="address">${address}</span>
      ${isCovered(share.state, cells) ? html`<span class="note">${SHARE.covered}</span>` : nothing}
      ${iconButton(SHARE.removeRange(address), ICONS.remove, remove)}
    </li>
  `;
}
