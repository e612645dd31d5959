/** Check this installation: the command, how far it is, and the report to copy. */
import { html, nothing } from "lit";
import { button } from "../../parts/button";
import { keepFocus, progressView } from "../../parts/progress";
import type { FunctionsContext } from "../context";
import { INSTALLATION } from "../texts";

/** It stands below the button, most often out of sight: the focus brings it there, unless the user has gone on. */
function showReport(): void {
  const report = document.getElementById("installation-report");
  if (report && isFree(document.activeElement)) report.focus();
  else keepFocus("check-installation");
}

const isFree = (focused: Element | null) =>
  focused === null || focused === document.body || focused.id === "check-installation";

export function installationView({ pane, functions, commands }: FunctionsContext) {
  if (pane.store.state.host !== "ready") return nothing;
  const { report, progress } = functions.state.installation;
  const { check, copy, download, cancel } = commands.installation;
  const start = () => void check().then(showReport);
  return html`
    <section class="block installation" aria-labelledby="installation-title">
      <h2 id="installation-title">${INSTALLATION.title}</h2>
      <p class="note">${INSTALLATION.intro}</p>
      <div class="row">${button(INSTALLATION.check, start, { id: "check-installation" })}</div>
      ${progress ? progressView(progress, cancel) : nothing}
      ${
        report
          ? html`
            <p>${report.digest}.</p>
            <label class="visually-hidden" for="installation-report">${INSTALLATION.report}</label>
            <textarea id="installation-report" readonly rows="8" .value=${report.text}></textarea>
            <div class="row">${button(INSTALLATION.copy, copy)} ${button(INSTALLATION.download, download)}</div>`
          : nothing
      }
    </section>
  `;
}
