/** Which of the user's headings holds which field: a row a field, with what is wrong told beside it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { JOB_KEYS, type JobKey, jobField, type WrongHeading } from "../../../../functions/audit/fields";
import { headingWords } from "../../../../functions/audit/texts";
import type { JobSource } from "../../../sheet";
import type { Store } from "../../store";
import { headingsOf, mappingDigest, mappingProblems, setHeading } from "../state";

const WHOSE = {
  guess: "Filled in where your headings explain themselves; choose the others.",
  "last time": "The headings you chose last time.",
  user: "Your choice.",
} as const;

export const headingId = (key: JobKey) => `heading-${key}`;

export function mappingView(store: Store, source: JobSource) {
  const { jobs } = store.state;
  const { chosen, mappingOpen: open } = jobs;
  const problems = mappingProblems(jobs);
  const count = Object.keys(problems).length;
  const toggle = (event: Event) => {
    const { open: mappingOpen } = event.target as HTMLDetailsElement;
    store.change((state) => ({ ...state, jobs: { ...state.jobs, mappingOpen } }));
  };
  return html`
    <details class="card" id="headings" .open=${open} @toggle=${toggle}>
      <summary>
        <h2>Your headings</h2>
        ${count > 0 ? html`<span class="to-mend">${count} to mend</span>` : nothing}
        ${open ? nothing : html`<span class="digest">${mappingDigest(jobs)}</span>`}
      </summary>
      <p class="note mapping-whose">${WHOSE[chosen]}</p>
      ${JOB_KEYS.map((key) => row(key, store, headingsOf(source), problems[key]))}
    </details>
  `;
}

function row(key: JobKey, store: Store, headings: readonly string[], wrong: WrongHeading | undefined) {
  const { label, note, required } = jobField(key);
  const problem = wrong && headingWords(key, wrong);
  const heading = store.state.jobs.mapping[key] ?? "";
  const known = heading === "" || headings.includes(heading);
  const choose = (event: Event) => {
    const { value } = event.target as HTMLSelectElement;
    store.change((state) => ({ ...state, jobs: setHeading(state.jobs, key, value) }));
  };
  return html`
    <div class="field" data-key=${key}>
      <label for=${headingId(key)}>${label}</label>
      <div class="control">
        <select
          id=${headingId(key)}
          aria-describedby="heading-note-${key} ${problem ? `heading-problem-${key}` : ""}"
          aria-invalid=${problem ? "true" : "false"}
          @change=${choose}
        >
          <option value="" .selected=${live(heading === "")}>${required ? "choose a column" : "not in the list"}</option>
          ${known ? nothing : html`<option value=${heading} .selected=${live(true)}>${heading} (gone)</option>`}
          ${headings.map((one) => html`<option value=${one} .selected=${live(one === heading)}>${one}</option>`)}
        </select>
      </div>
      <p class="note" id="heading-note-${key}">${required ? "Needed. " : ""}${note}</p>
      ${problem ? html`<p class="problem" id="heading-problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}
