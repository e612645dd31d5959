/** The page that the customer gets: written from the bid, and whether it still fits it. */
import { html, nothing } from "lit";
import type { ReadBid } from "../../../sheet";
import { button } from "../../parts/button";
import type { BidContext } from "../context";
import { BID } from "../texts";

export function proposalView({ commands }: BidContext, { proposal }: ReadBid) {
  return html`
    <section class="card" aria-labelledby="bid-proposal">
      <h2 id="bid-proposal">${BID.proposalTitle}</h2>
      <p class="note">${BID.proposalNote}</p>
      ${proposal ? html`<p>${BID.proposalOn(proposal.sheet)}</p>` : nothing}
      ${proposal?.warning ? html`<p class="problem">${proposal.warning}</p>` : nothing}
      <div class="row">
        ${button(proposal ? BID.anotherProposal : BID.writeProposal, commands.writeProposal, { id: "write-proposal" })}
      </div>
      <p class="note">${BID.proposalOut}</p>
    </section>
  `;
}
