/** What a copy will have, what becomes a value in it, and what it will not have. */
import { html, nothing } from "lit";
import { cutOff } from "../../../common/count";
import type { CalculatingReport } from "../../../share/calculating-copy";
import type { PriceOnlyReport } from "../../../share/price-copy";
import { valuesByReason, worriesOf } from "../made";
import type { Made } from "../state";
import { SHARE } from "../texts";

/** Cells, or reasons, that are shown at once; the copy's own note sheet has them all. */
const MOST = 12;

export const reportView = (made: Made) => html`
  <div class="report" id="report">
    ${made.kind === "calculating" ? calculatingView(made.report) : priceView(made.report)}
    ${worriesOf(made).map((worry) => html`<p class="remark">${worry}</p>`)}
  </div>
`;

function calculatingView(report: CalculatingReport) {
  const { formulas, functions, values, sheets, removed } = report;
  if (formulas === 0 && values.length === 0) {
    return html`<p>${SHARE.noFormula(sheets)}</p>${removedView(removed)}`;
  }
  return html`
    <p>${SHARE.willCalculate(formulas)}</p>
    <details>
      <summary>${SHARE.byFunction}</summary>
      <ul class="counts">
        ${Object.entries(functions).map(
          ([name, count]) =>
            html`<li><span class="address">${name}</span> <span>${count.toLocaleString("en-US")}</span></li>`,
        )}
      </ul>
    </details>
    ${valuesView(report)}
    <p>${SHARE.willBeAdded(sheets)}</p>
    ${removedView(removed)}
  `;
}

const removedView = (removed: CalculatingReport["removed"]) =>
  removed.map(({ text }) => html`<p>${SHARE.leftOut(text)}</p>`);

function valuesView(report: CalculatingReport) {
  const { values } = report;
  if (values.length === 0) return html`<p>${SHARE.nothingBecomesValue}</p>`;
  const reasons = valuesByReason(report);
  const more = reasons.length - MOST;
  return html`
    <h3>${SHARE.becomeValues(values.length)}</h3>
    <ul class="to-fix-list">
      ${reasons.slice(0, MOST).map(
        ({ reason, places }) => html`
          <li>
            <p><span class="address">${cutOff(places, MOST)}</span></p>
            <p class="note">${reason}</p>
          </li>
        `,
      )}
    </ul>
    ${more > 0 ? html`<p class="note">${SHARE.moreReasons(more)}</p>` : nothing}
  `;
}

function priceView({ sheets, gone, without }: PriceOnlyReport) {
  return html`
    <h3>${SHARE.keptTitle}</h3>
    <ul class="to-fix-list">
      ${sheets.map(
        ({ name, cells, formulas, hiddenGone }) => html`
          <li>
            <p>${SHARE.kept(name, cells)}</p>
            ${formulas > 0 ? html`<p class="note">${SHARE.turnedIntoValues(formulas)}</p>` : nothing}
            ${hiddenGone > 0 ? html`<p class="note">${SHARE.hiddenLeftOut(hiddenGone)}</p>` : nothing}
          </li>
        `,
      )}
    </ul>
    <h3>${SHARE.goneTitle}</h3>
    <ul class="to-fix-list">
      ${gone.length > 0 ? html`<li>${SHARE.goneSheets(gone, MOST)}</li>` : nothing}
      <li>${SHARE.everyFormula}</li>
      ${without.map(({ what, count }) => html`<li>${SHARE.without(what, count)}</li>`)}
    </ul>
  `;
}
