/** The Jobs view: past jobs beside their quotes, and what they say of the next. */
import { html, nothing } from "lit";
import type { JobKey } from "../../../functions/audit/fields";
import type { JobSource } from "../../sheet";
import { problem } from "../messages";
import { button } from "../parts/button";
import { keepFocus, progressView } from "../parts/progress";
import { unavailable } from "../state";
import type { JobsContext } from "./context";
import { mappingProblems, mappingTrouble } from "./list";
import { calibrationsView } from "./parts/calibrations";
import { checkView } from "./parts/check";
import { headingId, mappingView } from "./parts/mapping";
import { JOBS } from "./texts";

export function jobsView(context: JobsContext) {
  const { source, checked } = context.jobs.state;
  return html`
    <section class="card" aria-labelledby="list-title">
      <h2 id="list-title">${JOBS.listTitle}</h2>
      ${listView(context)}
    </section>
    ${source ? html`${mappingView(context, source)} ${auditCard(context, source)}` : nothing}
    ${
      checked
        ? html`
          <section class="card" aria-labelledby="calibrations-title">
            <h2 id="calibrations-title">${JOBS.calibrationTitle}</h2>
            ${calibrationsView(context, checked.audit.groups)}
          </section>`
        : nothing
    }
  `;
}

function listView({ pane, jobs, commands }: JobsContext) {
  const { source, tables } = jobs.state;
  const takeTable = () => void commands.takeTable((document.getElementById("job-table") as HTMLSelectElement).value);
  const insertTable = async () => {
    await commands.insertTable();
    const select = document.getElementById("job-table") as HTMLSelectElement | null;
    if (select) select.selectedIndex = 0;
  };
  return html`
    <p>
      ${
        source ? html`${JOBS.list} <span class="address">${source.name}</span>, ${JOBS.rows(source.rows)}` : JOBS.noList
      }
    </p>
    ${
      pane.store.state.host === "ready"
        ? html`
          <div class="row">
            ${button(JOBS.takeSelected, commands.takeSelected, { id: "take-selected", main: !source })}
            ${
              tables.length > 0
                ? html`
                  <label class="visually-hidden" for="job-table">${JOBS.tables}</label>
                  <select id="job-table">
                    ${tables.map((table) => html`<option value=${table}>${table}</option>`)}
                  </select>
                  ${button(JOBS.takeTable, takeTable)}`
                : nothing
            }
            ${button(JOBS.insertTable, insertTable)}
          </div>`
        : nothing
    }
  `;
}

/** Checking and writing; the list is left as it is by both. */
function auditCard(context: JobsContext, source: JobSource) {
  const { pane, jobs, commands } = context;
  const { checked, progress } = jobs.state;
  const stopped = unavailable(pane.store.state) || mappingTrouble(jobs.state);
  const start = (id: string, command: () => Promise<void>) => {
    // While another command runs, this one is turned away in words.
    if (stopped && !pane.store.state.busy) showTrouble(context, stopped);
    else void command().then(() => keepFocus(id));
  };
  const look = { stopped, describedBy: "audit-why" };
  return html`
    <section class="card" aria-labelledby="check-title">
      <h2 id="check-title">${JOBS.checkTitle}</h2>
      <div class="row">
        ${button(JOBS.check, () => start("check", commands.check), { id: "check", main: !checked, ...look })}
        ${button(JOBS.writeAudit, () => start("audit", commands.writeAudit), { id: "audit", main: !!checked, ...look })}
      </div>
      <p id="audit-why" class="why">${stopped}</p>
      ${progress ? progressView(progress, commands.cancel) : nothing}
      ${checked ? checkView(context, source, checked) : nothing}
    </section>
  `;
}

/** Says why nothing can be started; with headings to fix, the first of them is where to go on. */
function showTrouble({ pane, jobs }: JobsContext, text: string): void {
  const [first] = Object.keys(mappingProblems(jobs.state)) as JobKey[];
  pane.show(problem(text));
  if (!first) return;
  jobs.change((now) => ({ ...now, mappingOpen: true }));
  document.getElementById(headingId(first))?.focus();
}
