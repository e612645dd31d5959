/** The Jobs view: past jobs beside their quotes, and what they teach. */
import { html, nothing } from "lit";
import type { JobKey } from "../../../functions/audit/fields";
import type { JobSource } from "../../sheet";
import type { Commands } from "../actions";
import { button } from "../parts/button";
import { keepFocus, progressView } from "../parts/progress";
import { unavailable } from "../plan/derived";
import type { State } from "../state";
import type { Store } from "../store";
import { lessonsView } from "./parts/calibrations";
import { checkView } from "./parts/check";
import { headingId, mappingView } from "./parts/mapping";
import { mappingProblems, mappingTrouble, plural } from "./state";

export function jobsView(store: Store, commands: Commands) {
  const { jobs } = store.state;
  const { source, checked } = jobs;
  return html`
    <section class="card" aria-labelledby="list-title">
      <h2 id="list-title">Your past jobs</h2>
      ${listView(store, commands)}
    </section>
    ${source ? html`${mappingView(store, source)} ${auditCard(store, commands, source)}` : nothing}
    ${
      checked
        ? html`
          <section class="card" aria-labelledby="lessons-title">
            <h2 id="lessons-title">What past jobs teach</h2>
            ${lessonsView(store, checked.audit.groups)}
          </section>`
        : nothing
    }
  `;
}

function listView({ state }: Store, { jobs: commands }: Commands) {
  const { source, tables } = state.jobs;
  const takeTable = () => void commands.takeTable((document.getElementById("job-table") as HTMLSelectElement).value);
  const insertTable = async () => {
    await commands.insertTable();
    const select = document.getElementById("job-table") as HTMLSelectElement | null;
    if (select) select.selectedIndex = 0;
  };
  return html`
    <p>
      ${
        source
          ? html`List: <span class="address">${source.name}</span>, ${plural(source.rows, "row")}`
          : "One job a row: what was quoted, and what it really took. Under headings of your own."
      }
    </p>
    ${
      state.host === "ready"
        ? html`
          <div class="row">
            ${button("Use the list at the selected cell", commands.takeSelected, { id: "take-selected" })}
            ${
              tables.length > 0
                ? html`
                  <label class="visually-hidden" for="job-table">Table of this workbook</label>
                  <select id="job-table">
                    ${tables.map((table) => html`<option value=${table}>${table}</option>`)}
                  </select>
                  ${button("Use this table", takeTable)}`
                : nothing
            }
            ${button("Insert an empty jobs table", insertTable)}
          </div>`
        : nothing
    }
  `;
}

/** Checking and writing; the list is left as it is by both. */
function auditCard(store: Store, { jobs: commands }: Commands, source: JobSource) {
  const { state } = store;
  const { checked, progress } = state.jobs;
  const stopped = hindranceOf(state);
  const start = (id: string, command: () => Promise<void>) => {
    // While another command runs, this one is turned away in words.
    if (stopped && !state.busy) tell(store, stopped);
    else void command().then(() => keepFocus(id));
  };
  const look = { stopped, describedBy: "audit-why" };
  return html`
    <section class="card" aria-labelledby="check-title">
      <h2 id="check-title">Check and audit</h2>
      <div class="row">
        ${button("Check the list", () => start("check", commands.check), { id: "check", ...look })}
        ${button("Write the audit sheet", () => start("audit", commands.writeAudit), {
          id: "audit",
          appearance: "primary",
          ...look,
        })}
      </div>
      <p id="audit-why" class="why">${stopped}</p>
      ${progress ? progressView(progress, commands.cancel) : nothing}
      ${checked ? checkView(store, source, checked) : nothing}
    </section>
  `;
}

const hindranceOf = (state: State): string => unavailable(state) || mappingTrouble(state.jobs);

/** Says why nothing can be started; with headings to mend, the first of them is where to go on. */
function tell(store: Store, text: string): void {
  const [first] = Object.keys(mappingProblems(store.state.jobs)) as JobKey[];
  store.change((state) => {
    const jobs = first ? { ...state.jobs, mappingOpen: true } : state.jobs;
    return { ...state, message: { kind: "error", text }, jobs };
  });
  if (first) document.getElementById(headingId(first))?.focus();
}
