/** What the check of the list found: key figures, where the margin went, and the cells to fix. */
import { html, nothing, svg } from "lit";
import type { Audit } from "../../../../functions/audit/audit";
import { controlLimits } from "../../../../functions/audit/by-time";
import type { JobProblem, Pair } from "../../../../functions/audit/check";
import type { Mapping } from "../../../../functions/audit/headings";
import { EFFECTS } from "../../../../functions/audit/texts";
import { type JobSource, problemCell, problemText } from "../../../sheet";
import { money, percent } from "../../numbers";
import { button } from "../../parts/button";
import { checkDigest, earned, type FadeBar, fadeBars, unrecordedWords } from "../check";
import type { JobsContext } from "../context";
import { type Checked, SHOWN_AT_ONCE } from "../state";
import { JOBS } from "../texts";

export function checkView(context: JobsContext, source: JobSource, checked: Checked) {
  const { audit } = checked;
  return html`
    <p>${checkDigest(checked)}.</p>
    ${audit.margin ? marginView(audit, audit.margin, context.jobs.state.mapping) : nothing}
    ${checked.problems.length > 0 ? problemsView(context, source, checked.problems) : nothing}
  `;
}

function marginView(audit: Audit, margin: Pair, mapping: Mapping) {
  const { outliers } = audit;
  return html`
    <dl class="figures-list">
      ${figure(JOBS.quotedMargin, percent(margin.quoted))} ${figure(JOBS.actualMargin, percent(margin.actual))}
    </dl>
    <p>${earned(audit)}</p>
    ${fadePicture(audit, mapping)}
    <p class="note">${unrecordedWords(audit)}</p>
    ${outliers.length > 0 ? html`<p class="remark">${JOBS.outliers(outliers.length)}</p>` : nothing}
    ${monthsWords(audit)}
  `;
}

/** Limits of fewer months than these move with every new one (common practice, no source). */
const LEAST_MONTHS = 8;

function monthsWords({ months }: Audit) {
  const limits = controlLimits(months.map(({ fade }) => fade));
  if (!limits || months.length < LEAST_MONTHS) return nothing;
  const outside = months.filter(({ fade }) => fade < limits.low || fade > limits.high);
  const named = outside.map(({ year, month }) => `${year}-${String(month).padStart(2, "0")}`);
  return html`<p class="note">${JOBS.byMonth(months.length, named)}</p>`;
}

const figure = (name: string, value: string) => html`
  <div>
    <dt>${name}</dt>
    <dd class="main">${value}</dd>
  </div>
`;

/** A bar a cause, to the right of the middle where money was lost and to the left where it was gained. The words say the same. */
function fadePicture(audit: Audit, mapping: Mapping) {
  return html`
    <figure class="costs fade">
      <figcaption>${JOBS.fadeTitle}</figcaption>
      <ul>
        ${fadeBars(audit, mapping).map(
          (one) => html`
            <li>
              <span class="name">${one.cause}</span>
              <span class="cost">${one.money === 0 ? "" : money(Math.abs(one.money))} ${one.change}</span>
              ${bar(one)}
            </li>
          `,
        )}
      </ul>
    </figure>
  `;
}

const bar = ({ length, change }: FadeBar) => {
  const half = 50 * length;
  return svg`
    <svg class="bar" height="8" width="100%" aria-hidden="true" focusable="false">
      <rect class="track" width="100%" height="8" />
      <rect class="length" x="${change === "gained" ? 50 - half : 50}%" width="${half}%" height="8" />
      <rect class="middle" x="50%" width="1" height="8" />
    </svg>`;
};

function problemsView({ jobs }: JobsContext, source: JobSource, problems: readonly JobProblem[]) {
  const { mapping, shown } = jobs.state;
  const more = problems.length - shown;
  const showMore = () => jobs.change((now) => ({ ...now, shown: now.shown + SHOWN_AT_ONCE }));
  return html`
    <h3>${JOBS.problemsTitle}</h3>
    <ul class="to-fix-list">
      ${problems.slice(0, shown).map(
        (problem) => html`
          <li>
            <p><span class="address">${problemCell(source, mapping, problem)}</span> ${problemText(source, problem)}</p>
            <p class="note">${EFFECTS[problem.effect]}.</p>
          </li>
        `,
      )}
    </ul>
    ${more > 0 ? button(JOBS.showMore(Math.min(more, SHOWN_AT_ONCE), more), showMore, { size: "small" }) : nothing}
  `;
}
