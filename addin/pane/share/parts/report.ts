/** What a copy will have, what becomes a value in it, and what it will not have. */
import { html, nothing } from "lit";
import type { CalculatingReport } from "../../../share/calculating-copy";
import type { PriceOnlyReport } from "../../../share/price-copy";
import { counted, cutOff, type Made, valuesByReason, worriesOf } from "../state";

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
    return html`
      <p>No formula uses Gritledger's functions: the copy is this workbook with one more sheet, ${sheets.join(", ")}.</p>
      ${removedView(removed)}
    `;
  }
  return html`
    <p>${counted(formulas, "formula")} will use the spreadsheet's own functions, and still calculate.</p>
    <details>
      <summary>By function</summary>
      <ul class="counts">
        ${Object.entries(functions).map(
          ([name, count]) =>
            html`<li><span class="address">${name}</span> <span>${count.toLocaleString("en-US")}</span></li>`,
        )}
      </ul>
    </details>
    ${valuesView(report)}
    <p>${counted(sheets.length, "sheet")} will be added: ${sheets.join(", ")}.</p>
    ${removedView(removed)}
  `;
}

const removedView = (removed: CalculatingReport["removed"]) =>
  removed.map(({ text }) => html`<p>Left out: ${text}.</p>`);

function valuesView(report: CalculatingReport) {
  const { values } = report;
  if (values.length === 0) return html`<p>Nothing becomes a value.</p>`;
  const reasons = valuesByReason(report);
  const more = reasons.length - MOST;
  return html`
    <h3>${counted(values.length, "formula becomes a value", "formulas become values")}</h3>
    <ul class="to-mend-list">
      ${reasons.slice(0, MOST).map(
        ({ reason, places }) => html`
          <li>
            <p><span class="address">${cutOff(places, MOST)}</span></p>
            <p class="note">${reason}</p>
          </li>
        `,
      )}
    </ul>
    ${more > 0 ? html`<p class="note">And for ${counted(more, "more reason")}; the copy's note sheet lists all.</p>` : nothing}
  `;
}

function priceView({ sheets, gone, without }: PriceOnlyReport) {
  return html`
    <h3>Kept, as values</h3>
    <ul class="to-mend-list">
      ${sheets.map(
        ({ name, cells, formulas, hiddenGone }) => html`
          <li>
            <p>${name}: ${counted(cells, "cell")}</p>
            ${formulas > 0 ? html`<p class="note">${counted(formulas, "formula turned into its value", "formulas turned into their values")}</p>` : nothing}
            ${hiddenGone > 0 ? html`<p class="note">${counted(hiddenGone, "hidden cell")} left out</p>` : nothing}
          </li>
        `,
      )}
    </ul>
    <h3>Gone</h3>
    <ul class="to-mend-list">
      ${gone.length > 0 ? html`<li>${gone.length === 1 ? "Sheet" : "Sheets"} ${cutOff(gone, MOST)}</li>` : nothing}
      <li>Every formula</li>
      ${without.map(({ what, count }) => html`<li>${sentence(what)} (${count.toLocaleString("en-US")})</li>`)}
    </ul>
  `;
}

const sentence = (words: string) => words.charAt(0).toUpperCase() + words.slice(1);
