/** Check and repair: the commands, how far they are, and what was found. */
import { html, nothing } from "lit";
import type { Commands } from "../../actions";
import { button } from "../../parts/button";
import { progressView } from "../../parts/progress";
import { counted, cutOff } from "../../share/state";
import type { Store } from "../../store";
import type { Finding } from "../repair";

/** Cells of a kind that are named at once. */
const MOST = 8;

export function repairView(store: Store, commands: Commands) {
  const { host, repair } = store.state;
  if (host !== "ready") return nothing;
  const { found, progress } = repair;
  const cells = found?.repairable ?? 0;
  const start = (command: () => Promise<void>) => void command().then(keepFocus);
  return html`
    <section class="room repair" aria-labelledby="repair-title">
      <h2 id="repair-title">Check and repair</h2>
      <p class="note">
        For cells with #NAME? or values from long ago. The check reads every sheet, calculates everything and tells what
        changed; it changes no formula.
      </p>
      <div class="row">
        ${button("Check this workbook", () => start(commands.repair.check), { id: "check-workbook" })}
        ${button("Recalculate all", commands.recalculate)}
      </div>
      ${progress ? progressView(progress, commands.repair.cancel) : nothing}
      ${found ? html`<p>${found.digest}.</p>` : nothing}
      ${
        cells > 0
          ? html`<div class="row">
              ${button(`Repair ${counted(cells, "cell")}`, () => start(commands.repair.repair), { appearance: "primary" })}
            </div>`
          : nothing
      }
      ${findingsView(found?.findings ?? [])}
    </section>
  `;
}

/** The focus stays with the commands, where the button that had it is gone. */
function keepFocus(): void {
  if (document.activeElement === document.body) document.getElementById("check-workbook")?.focus();
}

const findingsView = (findings: readonly Finding[]) =>
  findings.length === 0
    ? nothing
    : html`
        <ul class="to-mend-list">
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
