/** What a price-only copy is to have: whole sheets, and ranges that are taken from the selection. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { repeat } from "lit/directives/repeat.js";
import type { CellsFound, SheetFound } from "../../../sheet";
import type { Commands } from "../../actions";
import { button, iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import type { Store } from "../../store";
import { isCovered, removeRange, type ShareState, sheetsInOrder, tick } from "../state";

export function choiceView(store: Store, commands: Commands) {
  const { host, share } = store.state;
  return html`
    <section class="card" aria-labelledby="choice-title">
      <h2 id="choice-title">What they may see</h2>
      ${share.sheets.length > 0 ? sheetsView(store) : nothing} ${rangesView(store)}
      ${
        host === "ready"
          ? html`
            <div class="row">${button("Add the selected range", commands.share.addSelected, { id: "add-range" })}</div>
            <div class="row">
              <p class="note">Values are copied as they stand.</p>
              ${button("Recalculate first", commands.recalculate, { size: "small" })}
            </div>`
          : nothing
      }
    </section>
  `;
}

const sheetsView = (store: Store) => html`
  <fieldset class="ticks">
    <legend>Whole sheets, without their hidden rows and columns</legend>
    ${repeat(
      sheetsInOrder(store.state.share),
      ({ name }) => name,
      (sheet) => sheetView(store, sheet),
    )}
  </fieldset>
`;

function sheetView(store: Store, { name, visible, used }: SheetFound) {
  const toggle = (event: Event) => {
    const { checked } = event.target as HTMLInputElement;
    change(store, (share) => tick(share, name, checked));
  };
  const remarks = [visible ? "" : "hidden sheet", used || "empty"].filter(Boolean).join(", ");
  return html`
    <label>
      <input type="checkbox" .checked=${live(store.state.share.ticked.includes(name))} @change=${toggle}>
      <span>${name} <span class="note">${remarks}</span></span>
    </label>
  `;
}

function rangesView(store: Store) {
  const { share } = store.state;
  if (share.ranges.length === 0) return nothing;
  return html`
    <h3>Ranges</h3>
    <ul class="ranges">
      ${share.ranges.map((cells) => rangeView(store, cells))}
    </ul>
  `;
}

function rangeView(store: Store, cells: CellsFound) {
  const address = `${cells.sheet}!${cells.range}`;
  const remove = () => {
    change(store, (share) => removeRange(share, cells));
    // The button that had the focus is gone.
    document.getElementById("add-range")?.focus();
  };
  return html`
    <li>
      <span class="address">${address}</span>
      ${isCovered(store.state.share, cells) ? html`<span class="note">in its whole sheet already</span>` : nothing}
      ${iconButton(`Remove ${address}`, ICONS.remove, remove)}
    </li>
  `;
}

const change = (store: Store, next: (share: ShareState) => ShareState) =>
  store.change((state) => ({ ...state, share: next(state.share) }));
