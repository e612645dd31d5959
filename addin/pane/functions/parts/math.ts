/** The selected cell's working: a card above the list of functions. */
import { html, nothing } from "lit";
import type { CallMath, Outcome } from "../../../share/math/call-math";
import type { CellMath } from "../../../sheet";
import type { Commands } from "../../actions";
import { button } from "../../parts/button";
import { unavailable } from "../../plan/derived";
import type { Store } from "../../store";
import { doubt, headline, lead, remark, steps, told } from "../math";

export function workingView(store: Store, commands: Commands) {
  const { state } = store;
  const { shown } = state.working;
  const stopped = unavailable(state);
  const show = () => {
    if (stopped) store.change((s) => ({ ...s, message: { kind: "error", text: stopped } }));
    else void commands.showWorking();
  };
  return html`
    <section class="card working" aria-labelledby="working-title">
      <h2 id="working-title">The selected cell</h2>
      <p class="note">How its number comes about: each GRIT function in its formula with this cell’s numbers.</p>
      <div class="row">
        ${button("Show the working", show, { id: "show-working", stopped, describedBy: "working-why" })}
      </div>
      <p id="working-why" class="why">${stopped}</p>
      ${shown ? cellView(shown) : nothing}
    </section>
  `;
}

const line = (text: string, kind: string) => (text ? html`<p class=${kind}>${text}</p>` : nothing);

const cellView = (cell: CellMath) => html`
  <p class="working-cell">${headline(cell)}</p>
  ${line(doubt(cell), "trouble")}
  ${line(cell.formula, "code")}
  ${steps(cell).map(({ text, formula }) => html`<p>${text}</p><p class="code">${formula}</p>`)}
  ${line(lead(cell), "note")}
  ${cell.refers.length > 0 ? refersView(cell) : nothing}
  ${told(cell).map(callView)}
  ${line(remark(cell), "note")}
`;

const refersView = ({ refers }: CellMath) => html`
  <dl class="params">
    ${refers.map(
      ({ given, address, holds, ours }) => html`
        <dt>${given}</dt>
        <dd>
          ${address && address !== given ? html`<span class="given">${address}</span> ` : nothing}${holds}
          ${ours ? html`<br />Select ${ours} and show its working.` : nothing}
        </dd>
      `,
    )}
  </dl>
`;

function callView({ id, summary, used, args, formula, why, notes, outcome, source }: CallMath) {
  return html`
    <article class="call">
      <h3>GRIT.${id}</h3>
      <p>${summary}</p>
      ${used === "perhaps" ? html`<p class="note">Whether it counts in this cell is not known here.</p>` : nothing}
      ${
        args.length > 0
          ? html`
            <dl class="params">
              ${args.map(
                ({ name, given, value }) => html`
                  <dt>${name}</dt>
                  <dd>${given && given !== value ? html`<span class="given">${given}</span> ` : nothing}${value}</dd>
                `,
              )}
            </dl>`
          : nothing
      }
      ${formula === undefined ? nothing : html`<h4>With its numbers</h4><p class="code">=${formula}</p>`}
      ${outcomeView(outcome)}
      ${line(why ?? "", "note")}
      ${notes.map((note) => line(note, "note"))}
      ${source ? html`<p class="note">Source: ${source}</p>` : nothing}
    </article>
  `;
}

function outcomeView(outcome: Outcome) {
  if (outcome.kind === "value") return html`<p class="outcome">Result: <strong>${outcome.text}</strong></p>`;
  if (outcome.kind === "unknown") return html`<p class="outcome">Result not known here: ${outcome.why}.</p>`;
  const { code, message } = outcome;
  return html`<p class="trouble">${code} ${message}</p>`;
}
