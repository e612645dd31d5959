/** The selected cell's math: a card above the list of functions. */
import { html, nothing } from "lit";
import type { CallMath, Outcome } from "../../../share/math/call-math";
import type { CellMath } from "../../../sheet";
import { problem } from "../../messages";
import { button } from "../../parts/button";
import { unavailable } from "../../state";
import type { FunctionsContext } from "../context";
import { callsShown, doubt, headline, lead, remark, steps } from "../math";
import { MATH } from "../texts";

export function mathView({ pane, functions, commands }: FunctionsContext) {
  const { math } = functions.state;
  const stopped = unavailable(pane.store.state);
  const show = () => {
    // While another command runs, this one is turned away in words.
    if (stopped && !pane.store.state.busy) pane.show(problem(stopped));
    else void commands.showMath();
  };
  return html`
    <section class="card math" aria-labelledby="math-title">
      <h2 id="math-title">${MATH.title}</h2>
      <p class="note">${MATH.intro}</p>
      <div class="row">
        ${button(MATH.show, show, { id: "show-math", main: true, stopped, describedBy: "math-why" })}
      </div>
      <p id="math-why" class="why">${stopped}</p>
      ${math ? cellView(math) : nothing}
    </section>
  `;
}

const line = (text: string, kind: string) => (text ? html`<p class=${kind}>${text}</p>` : nothing);

const cellView = (cell: CellMath) => html`
  <p class="math-cell">${headline(cell)}</p>
  ${line(doubt(cell), "trouble")}
  ${line(cell.formula, "code")}
  ${steps(cell).map(({ text, formula }) => html`<p>${text}</p><p class="code">${formula}</p>`)}
  ${line(lead(cell), "note")}
  ${cell.refers.length > 0 ? refersView(cell) : nothing}
  ${callsShown(cell).map(callView)}
  ${line(remark(cell), "note")}
`;

const refersView = ({ refers }: CellMath) => html`
  <dl class="params">
    ${refers.map(
      ({ given, address, holds, ours }) => html`
        <dt>${given}</dt>
        <dd>
          ${address && address !== given ? html`<span class="given">${address}</span> ` : nothing}${holds}
          ${ours ? html`<br />${MATH.selectToShow(ours)}` : nothing}
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
      ${used === "perhaps" ? html`<p class="note">${MATH.perhaps}</p>` : nothing}
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
      ${formula === undefined ? nothing : html`<h4>${MATH.withNumbers}</h4><p class="code">=${formula}</p>`}
      ${outcomeView(outcome)}
      ${line(why ?? "", "note")}
      ${notes.map((note) => line(note, "note"))}
      ${source ? html`<p class="note">${MATH.source(source)}</p>` : nothing}
    </article>
  `;
}

function outcomeView(outcome: Outcome) {
  if (outcome.kind === "value") return html`<p class="outcome">${MATH.result} <strong>${outcome.text}</strong></p>`;
  if (outcome.kind === "unknown") return html`<p class="outcome">${MATH.resultUnknown(outcome.why)}</p>`;
  const { code, message } = outcome;
  return html`<p class="trouble">${code} ${message}</p>`;
}
