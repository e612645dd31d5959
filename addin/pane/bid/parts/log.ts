/** The log's card: today's line, where the job stands, and lines kept elsewhere. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { JOB_FIELDS } from "../../../../functions/audit/fields";
import { LOG_KEYS, type LogKey, logField } from "../../../../functions/log/fields";
import { type JobProgress, OFF, offBy, progress, type StageProgress } from "../../../../functions/log/progress";
import { cellWords, dayWords } from "../../../../functions/log/texts";
import { offWords, stageNeeds, sumNeeds, toolWords } from "../../../../functions/log/words";
import { symbol } from "../../../../functions/units";
import type { ForemansList, Logged } from "../../../sheet";
import type { Pane } from "../../commands";
import { hours, money, share } from "../../numbers";
import { button } from "../../parts/button";
import type { Part } from "../../store";
import type { LogCommands } from "../log-actions";
import { billedText, floorsIn, readBilled, readEntry, stagesOn, typeEntry } from "../log-entry";
import type { LogState } from "../log-state";
import { LOG } from "../log-texts";

export interface LogContext {
  readonly pane: Pane;
  readonly log: Part<LogState>;
  readonly commands: LogCommands;
}

export function logView(context: LogContext) {
  const { logged } = context.log.state;
  if (!logged) return html`<p class="note">${logged === null ? LOG.noPlans : ""}</p>`;
  if (!logged.log) {
    return html`
      <p class="note">${LOG.noLog}</p>
      <div class="row">${button(LOG.start, context.commands.start, { id: "log-start" })}</div>
    `;
  }
  return html`${entryView(context, logged)} ${forecastView(logged)} ${listView(context)} ${closeView(context)}`;
}

function entryView(context: LogContext, { units }: Logged) {
  const { log, commands } = context;
  const { problems } = log.state.asked ? readEntry(log.state) : { problems: {} };
  const submit = async (event: Event) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLElement;
    await commands.add();
    if (!log.state.asked) form.querySelector<HTMLInputElement>("#log-area")?.focus();
  };
  return html`
    <h3 id="log-entry-title">${LOG.entryTitle}</h3>
    <form id="log-entry" aria-labelledby="log-entry-title" @submit=${submit} @keydown=${submitOnEnter}>
      ${LOG_KEYS.map((key) => fieldView(key, context, problems[key], units))}
      <div class="row">${button(LOG.add, () => document.querySelector<HTMLFormElement>("#log-entry")?.requestSubmit(), { id: "log-add" })}</div>
      <p class="note">${LOG.enterAdds}</p>
    </form>
  `;
}

/** A form whose only button isn't the browser's own isn't sent by Enter. */
function submitOnEnter(event: KeyboardEvent): void {
  if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
  event.preventDefault();
  (event.currentTarget as HTMLFormElement).requestSubmit();
}

function fieldView(key: LogKey, { log }: LogContext, problem: string | undefined, units: Logged["units"]) {
  const { label, note, quantity, unit } = logField(key);
  const type = (event: Event) => {
    const { value } = event.target as HTMLInputElement | HTMLSelectElement;
    log.change((now) => typeEntry(now, key, value));
  };
  return html`
    <div class="field" data-key=${key}>
      <label for="log-${key}">${label}</label>
      <div class="control">
        ${key === "floor" || key === "stage" ? choice(key, log.state, type, problem) : entry(key, log.state, type, problem)}
        <span class="unit">${quantity ? symbol(quantity, units) : (unit ?? "")}</span>
      </div>
      <p class="note" id="log-note-${key}">${note}</p>
      ${problem ? html`<p class="problem" id="log-problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}

const describedBy = (key: LogKey, problem: string | undefined) =>
  `log-note-${key}${problem ? ` log-problem-${key}` : ""}`;

function entry(key: LogKey, { typed }: LogState, type: (event: Event) => void, problem: string | undefined) {
  const { kind } = logField(key);
  return html`<input
    id="log-${key}"
    type=${kind === "date" ? "date" : "text"}
    inputmode=${kind === "number" ? "decimal" : nothing}
    autocomplete="off"
    aria-describedby=${describedBy(key, problem)}
    aria-invalid=${problem ? "true" : "false"}
    .value=${live(typed[key] ?? "")}
    @input=${type}
  />`;
}

function choice(key: "floor" | "stage", log: LogState, type: (event: Event) => void, problem: string | undefined) {
  const chosen = log.typed[key] ?? "";
  const options = key === "floor" ? floorsIn(log) : stagesOn(log, log.typed.floor ?? "");
  const isKnown = options.some((option) => option.toLowerCase() === chosen.toLowerCase());
  const other = chosen === "" ? LOG.choose : LOG.notAStage(chosen);
  return html`
    <select
      id="log-${key}"
      aria-describedby=${describedBy(key, problem)}
      aria-invalid=${problem ? "true" : "false"}
      @change=${type}
    >
      ${isKnown ? nothing : html`<option value=${chosen} .selected=${live(true)}>${other}</option>`}
      ${options.map(
        (option) =>
          html`<option value=${option} .selected=${live(option.toLowerCase() === chosen.toLowerCase())}>${option}</option>`,
      )}
    </select>
  `;
}

function forecastView({ stages, log, units, sign }: Logged) {
  const found = progress(stages, log!.lines, log!.changedAt, units);
  const { share: part, hours: course, cost, daysLeft } = found.job;
  return html`
    <h3>${LOG.forecastTitle}</h3>
    <p>${LOG.done(share(part), hours(course.soFar), hours(course.earned))}</p>
    <p>${LOG.atPace(hours(course.atPace), hours(course.quoted), money(cost.atPace, sign), money(cost.quoted, sign))}</p>
    <p>${LOG.asQuoted(hours(course.asQuoted), money(cost.asQuoted, sign))} ${LOG.daysLeft(hours(daysLeft))}</p>
    <p>${LOG.needs(sumNeeds(found.job))}</p>
    <ul class="to-fix-list">${remarksOf(found, units)}</ul>
    ${found.otherHours > 1e-9 ? html`<p class="note">${LOG.otherHours(hours(found.otherHours))}</p>` : nothing}
    ${badView(log!)}
  `;
}

/** Stages that are off by more than a tenth, and tools that won't last. */
function remarksOf({ stages }: JobProgress, units: Logged["units"]) {
  const isOff = (stage: StageProgress) => Math.abs(offBy(stage) ?? 0) > OFF;
  return stages
    .filter((stage) => isOff(stage) || (stage.tools?.short ?? 0) > 0)
    .map((stage) => {
      const { tools, quote } = stage;
      const wornOut = tools?.wornOutOn !== undefined && LOG.wornOut(toolWords(stage, units), dayWords(tools.wornOutOn));
      const words = [isOff(stage) && `${offWords(stage)}; ${stageNeeds(stage, units)}`, wornOut].filter(Boolean);
      return html`<li><p>${LOG.stage(quote.floor, quote.stage)} ${words.join("; ")}.</p></li>`;
    });
}

function badView({ bad }: NonNullable<Logged["log"]>) {
  if (bad.length === 0) return nothing;
  return html`
    <p class="problem">${LOG.badLines(bad.length)}</p>
    <ul class="to-fix-list">
      ${bad
        .slice(0, MOST_LISTED)
        .map(
          ({ cell, problems }) =>
            html`<li><p><span class="address">${cell}</span> ${problems.map(cellWords).join(" ")}</p></li>`,
        )}
    </ul>
  `;
}

const MOST_LISTED = 20;

function listView({ log, commands }: LogContext) {
  const { list } = log.state;
  return html`
    <h3>${LOG.listTitle}</h3>
    <p class="note">${LOG.listNote}</p>
    <div class="row">${button(LOG.takeList, commands.takeList, { id: "log-take-list" })}</div>
    ${list ? foundView(list, commands) : nothing}
    <p class="note">${LOG.anotherNote}</p>
    <div class="row">${button(LOG.another, commands.start, { id: "log-another", size: "small" })}</div>
  `;
}

function foundView({ name, top, lines, already, bad }: ForemansList, commands: LogCommands) {
  return html`
    <p>${LOG.listFound(name, lines.length, already, bad.length)}</p>
    <ul class="to-fix-list">
      ${bad
        .slice(0, MOST_LISTED)
        .map(
          ({ row, problems }) =>
            html`<li><p><span class="address">${LOG.row(top + row + 1)}</span> ${problems.map(cellWords).join(" ")}</p></li>`,
        )}
    </ul>
    ${
      lines.length > 0
        ? html`<div class="row">${button(LOG.addList(lines.length), commands.addList, { id: "log-add-list" })}</div>`
        : nothing
    }
  `;
}

function closeView({ log, commands }: LogContext) {
  const { label, note } = JOB_FIELDS.actualPrice;
  const type = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    log.change((now) => ({ ...now, billed: value }));
  };
  const { problem } = readBilled(log.state);
  return html`
    <h3>${LOG.closeTitle}</h3>
    <p class="note">${LOG.closeNote}</p>
    <div class="field" data-key="billed">
      <label for="log-billed">${label}</label>
      <div class="control">
        <input
          id="log-billed"
          type="text"
          inputmode="decimal"
          autocomplete="off"
          aria-describedby="log-note-billed ${problem ? "log-problem-billed" : ""}"
          aria-invalid=${problem ? "true" : "false"}
          .value=${live(billedText(log.state))}
          @input=${type}
        />
      </div>
      <p class="note" id="log-note-billed">${note}</p>
      ${problem ? html`<p class="problem" id="log-problem-billed">${problem}</p>` : nothing}
    </div>
    <div class="row">${button(LOG.close, commands.closeOut, { id: "log-close" })}</div>
  `;
}
