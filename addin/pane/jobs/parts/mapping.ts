/** Which of the user's headings holds which field: a row a field, with what is wrong beside it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { JOB_KEYS, type JobKey, jobField } from "../../../../functions/audit/fields";
import type { WrongHeading } from "../../../../functions/audit/headings";
import { headingWords } from "../../../../functions/audit/texts";
import type { JobSource } from "../../../sheet";
import type { JobsContext } from "../context";
import { headingsOf, mappingDigest, mappingProblems, setHeading } from "../list";
import { JOBS } from "../texts";

export const headingId = (key: JobKey) => `heading-${key}`;

export function mappingView({ jobs }: JobsContext, source: JobSource) {
  const { chosen, mappingOpen: open } = jobs.state;
  const problems = mappingProblems(jobs.state);
  const count = Object.keys(problems).length;
  const toggle = (event: Event) => {
    const { open: mappingOpen } = event.target as HTMLDetailsElement;
    jobs.change((now) => (now.mappingOpen === mappingOpen ? now : { ...now, mappingOpen }));
  };
  return html`
    <details class="card" id="headings" .open=${open} @toggle=${toggle}>
      <summary>
        <h2>${JOBS.headingsTitle}</h2>
        ${count > 0 ? html`<span class="to-fix">${JOBS.toFix(count)}</span>` : nothing}
        ${open ? nothing : html`<span class="digest">${mappingDigest(jobs.state)}</span>`}
      </summary>
      <p class="note mapping-whose">${JOBS.whose[chosen]}</p>
      ${JOB_KEYS.map((key) => row(key, jobs, headingsOf(source), problems[key]))}
    </details>
  `;
}

function row(key: JobKey, jobs: JobsContext["jobs"], headings: readonly string[], wrong: WrongHeading | undefined) {
  const { label, note, required } = jobField(key);
  const problem = wrong && headingWords(key, wrong);
  const heading = jobs.state.mapping[key] ?? "";
  const known = heading === "" || headings.includes(heading);
  const choose = (event: Event) => {
    const { value } = event.target as HTMLSelectElement;
    jobs.change((now) => setHeading(now, key, value));
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
          <option value="" .selected=${live(heading === "")}>${required ? JOBS.chooseColumn : JOBS.notInList}</option>
          ${known ? nothing : html`<option value=${heading} .selected=${live(true)}>${JOBS.gone(heading)}</option>`}
          ${headings.map((one) => html`<option value=${one} .selected=${live(one === heading)}>${one}</option>`)}
        </select>
      </div>
      <p class="note" id="heading-note-${key}">${required ? JOBS.required : ""}${note}</p>
      ${problem ? html`<p class="problem" id="heading-problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}
