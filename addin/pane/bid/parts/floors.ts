/** The floors in the order in which they are worked: base, option or left out. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { BID_KINDS, type BidKind } from "../../../../functions/bid/kinds";
import { symbol } from "../../../../functions/units";
import type { ReadBid } from "../../../sheet";
import { briefly, hours } from "../../numbers";
import { button } from "../../parts/button";
import { moveUp, setKind } from "../choice";
import type { BidContext } from "../context";
import { BID } from "../texts";

export function floorsView({ bid }: BidContext, { plans, units }: ReadBid) {
  return html`
    <p class="note">${BID.floorsNote}</p>
    <ol class="bid-rows">
      ${bid.state.floors.map(({ sheetId, kind }, i) => {
        const plan = plans.find((one) => one.sheetId === sheetId);
        if (!plan) return nothing;
        const { floor, area, hours: worked } = plan;
        const figures =
          area === undefined || worked === undefined
            ? BID.error
            : BID.figures(`${briefly(area, { quantity: "floorArea" })} ${symbol("floorArea", units)}`, hours(worked));
        return html`
          <li>
            <p><strong>${floor}</strong> <span class="count">${figures}</span></p>
            <div class="row">
              ${kindChoice(BID.kindOf(floor), kind, (value) => bid.change((now) => setKind(now, sheetId, value)))}
              ${
                i > 0
                  ? button("↑", () => bid.change((now) => moveUp(now, i)), { size: "small", label: BID.moveUp(floor) })
                  : nothing
              }
            </div>
          </li>
        `;
      })}
    </ol>
  `;
}

export const kindChoice = (label: string, kind: BidKind, choose: (kind: BidKind) => void) => html`
  <select
    aria-label=${label}
    @change=${(event: Event) => choose((event.target as HTMLSelectElement).value as BidKind)}
  >
    ${BID_KINDS.map((one) => html`<option value=${one} .selected=${live(one === kind)}>${BID.kinds[one]}</option>`)}
  </select>
`;
