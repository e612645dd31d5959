/** What the check of the list found: key figures, where the margin went, and the cells to mend. */
import { html, nothing, svg } from "lit";
import type { Audit } from "../../../../functions/audit/audit";
import type { JobProblem, Pair } from "../../../../functions/audit/check";
import type { Mapping } from "../../../../functions/audit/fields";
import { EFFECTS } from "../../../../functions/audit/texts";
import { type JobSource, problemCell, problemText } from "../../../sheet";
import { money, percent } from "../../numbers";
import { button } from "../../parts/button";
import type { Store } from "../../store";
import { type Checked, checkDigest, earned, SHOWN_AT_ONCE, type SlipBar, slipBars, untoldWords } from "../state";

export function checkView(store: Store, source: JobSource, checked: Checked) {
  const { audit } = checked;
  return html`
    <p>${checkDigest(checked)}.</p>
    ${audit.margin ? marginView(audit, audit.margin, store.state.jobs.mapping) : nothing}
    ${checked.problems.length > 0 ? problemsView(store, source, checked.problems) : nothing}
  `;
}

function marginView(audit: Audit, margin: Pair, mapping: Mapping) {
  const { outliers } = audit;
  return html`
    <dl class="figures-list">
      ${figure("Quoted margin", percent(margin.quoted))} ${figure("Actual margin", percent(margin.actual))}
    </dl>
    <p>${earned(audit)}</p>
    ${slipPicture(audit, mapping)}
    <p class="note">${untoldWords(audit)}</p>
    ${
      outliers.length > 0
        ? html`<p class="remark">
            ${outliers.length === 1 ? "1 job stands" : `${outliers.length} jobs stand`} out from the others by the hours
            taken; the audit sheet marks which.
          </p>`
        : nothing
    }
  `;
}

const figure = (name: string, value: string) => html`
  <div>
    <dt>${name}</dt>
    <dd class="main">${value}</dd>
  </div>
`;

/** A bar a cause, to the right of the middle where money was lost and to the left where it was gained. The words say the same. */
function slipPicture(audit: Audit, mapping: Mapping) {
  return html`
    <figure class="costs slip">
      <figcaption>Where the margin went</figcaption>
      <ul>
        ${slipBars(audit, mapping).map(
          (one) => html`
            <li>
              <span class="name">${one.cause}</span>
              <span class="cost">${one.money === 0 ? "" : money(Math.abs(one.money))} ${one.words}</span>
              ${bar(one)}
            </li>
          `,
        )}
      </ul>
    </figure>
  `;
}

const bar = ({ length, words }: SlipBar) => {
  const half = 50 * length;
  return svg`
    <svg class="bar" height="8" width="100%" aria-hidden="true" focusable="false">
      <rect class="track" width="100%" height="8" />
      <rect class="length" x="${words === "gained" ? 50 - half : 50}%" width="${half}%" height="8" />
      <rect class="middle" x="50%" width="1" height="8" />
    </svg>`;
};

function problemsView(store: Store, source: JobSource, problems: readonly JobProblem[]) {
  const { mapping, shown } = store.state.jobs;
  const more = problems.length - shown;
  const showMore = () =>
    store.change((state) => ({ ...state, jobs: { ...state.jobs, shown: state.jobs.shown + SHOWN_AT_ONCE } }));
  return html`
    <h3>To mend in the list</h3>
    <ul class="to-mend-list">
      ${problems.slice(0, shown).map(
        (problem) => html`
          <li>
            <p><span class="address">${problemCell(source, mapping, problem)}</span> ${problemText(source, problem)}</p>
            <p class="note">${EFFECTS[problem.effect]}.</p>
          </li>
        `,
      )}
    </ul>
    ${more > 0 ? button(`Show ${Math.min(more, SHOWN_AT_ONCE)} more of ${more}`, showMore, { size: "small" }) : nothing}
  `;
}
