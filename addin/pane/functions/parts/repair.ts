/** Check and repair: the commands, how far they are, and what was found. */
import { html, nothing } from "lit";
import { cutOff } from "../../../common/count";
import { button } from "../../parts/button";
import { keepFocus, progressView } from "../../parts/progress";
import type { FunctionsContext } from "../context";
import type { Finding } from "../repair";
import { REPAIR } from "../texts";

/** Cells of a kind that are named at once. */
const MOST = 8;

export function repairView({ pane, functions, commands }: FunctionsContext) {
  if (pane.store.state.host !== "ready") return nothing;
  const { found, progress } = functions.state.repair;
  const cells = found?.repairable ?? 0;
  // The button that had the focus may be gone afterwards.
  const start = (command: () => Promise<void>) => void command().then(() => keepFocus("check-workbook"));
  return html`
    <section class="block repair" aria-labelledby="repair-title">
      <h2 id="repair-title">${REPAIR.title}</h2>
      <p class="note">${REPAIR.intro}</p>
      <div class="row">
        ${button(REPAIR.check, () => start(commands.repair.check), { id: "check-workbook" })}
        ${button(REPAIR.recalculate, pane.recalculate)}
      </div>
      ${progress ? progressView(progress, commands.repair.cancel) : nothing}
      ${found ? html`<p>${found.digest}.</p>` : nothing}
      ${
        cells > 0
          ? html`<div class="row">
              ${button(REPAIR.repair(cells), () => start(commands.repair.repair), { appearance: "primary" })}
            </div>`
          : nothing
      }
      ${findingsView(found?.findings ?? [])}
    </section>
  `;
}

const findingsView = (findings: readonly Finding[]) =>
  findings.length === 0
    ? nothing
    : html`
        <ul class="to-fix-list">
          ${findings.map(
            ({ title, places, advice }) => html`
              <li>
                <h3>${title}</h3>
                ${places.length > 0 ? html`<p class="address">${cutOff(places, MOST)}</p>` : nothing}
                <p class="note">${advice}</p>
              </li>
            `,
          )}
        </ul>
      `;
