/** The Bid view: which floors and extras are offered, what belongs to the whole job, and what the bid comes to. */
import { html, nothing } from "lit";
import { BID_FIELDS, BID_GROUPS, BID_KEYS } from "../../../functions/bid/job";
import { problem } from "../messages";
import { button } from "../parts/button";
import { keepFocus } from "../parts/progress";
import { unavailable } from "../state";
import type { BidContext } from "./context";
import { extrasView } from "./parts/extras";
import { jobFieldView } from "./parts/field";
import { floorsView } from "./parts/floors";
import { logLater } from "./parts/log-later";
import { proposalView } from "./parts/proposal";
import { resultView } from "./parts/result";
import { roomsLater } from "./parts/rooms-later";
import { BID } from "./texts";

export function bidView(context: BidContext) {
  const { read } = context.bid.state;
  if (!read || read.plans.length === 0) {
    return html`
      <section class="card" aria-labelledby="bid-floors">
        <h2 id="bid-floors">${BID.floorsTitle}</h2>
        <p class="note">${read ? BID.noPlans : ""}</p>
        <div class="row">${button(BID.readAgain, context.commands.look)}</div>
      </section>
      ${roomsLater(context.pane)}
    `;
  }
  return html`
    <section class="card" aria-labelledby="bid-floors">
      <h2 id="bid-floors">${BID.floorsTitle}</h2>
      ${floorsView(context, read)}
    </section>
    <section class="card" aria-labelledby="bid-extras">
      <h2 id="bid-extras">${BID.extrasTitle}</h2>
      ${extrasView(context, read)}
    </section>
    ${jobView(context)} ${writeView(context)}
    ${read.bid ? resultView(read, read.bid) : nothing}
    ${read.bid ? proposalView(context, read) : nothing}
    ${roomsLater(context.pane)} ${logLater(context.pane)}
  `;
}

const GROUPS = Object.entries(BID_GROUPS) as [keyof typeof BID_GROUPS, string][];

function jobView(context: BidContext) {
  return GROUPS.map(
    ([group, title]) => html`
      <details class="card" id="bid-${group}" ?open=${group === "customer"}>
        <summary><h2>${title}</h2></summary>
        ${BID_KEYS.filter((key) => BID_FIELDS[key].group === group).map((key) => jobFieldView(context, key))}
      </details>
    `,
  );
}

function writeView({ pane, bid, commands }: BidContext) {
  const stopped = unavailable(pane.store.state);
  const write = () => {
    // While another command runs, this one is turned away in words.
    if (stopped && !pane.store.state.busy) pane.show(problem(stopped));
    else void commands.write().then(() => keepFocus("write-bid"));
  };
  return html`
    <section class="card" aria-label=${BID.jobTitle}>
      <div class="row">
        ${button(bid.state.read?.bid ? BID.update : BID.insert, write, { id: "write-bid", main: true, stopped, describedBy: "bid-why" })}
        ${button(BID.readAgain, commands.look, { id: "read-bid" })}
      </div>
      <p id="bid-why" class="why">${stopped}</p>
    </section>
  `;
}
