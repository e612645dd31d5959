/** One input of the plan: label, control, unit, hint, and what is wrong with it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { type ChoiceField, field, type Key, type NumberField, type TextField } from "../../../../functions/plan/fields";
import { unitOf } from "../../../../functions/plan/inputs";
import type { Commands } from "../../actions";
import { iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import {
  blankValue,
  doubtAbout,
  type State,
  setChoice,
  setText,
  settle,
  textIn,
  typeNumber,
  unlink,
} from "../../state";
import type { Store } from "../../store";
import { forgetIn } from "./calibration";

export const fieldId = (key: Key) => `field-${key}`;

export interface FieldContext {
  readonly store: Store;
  readonly commands: Commands;
  /** The field's problem where it is to be told. */
  readonly problem: string | undefined;
}

export function fieldView(key: Key, context: FieldContext) {
  const f = field(key);
  const { problem, store } = context;
  const doubt = doubtAbout(store.state, key);
  return html`
    <div class="field ${f.kind}" data-key=${key}>
      <label for=${fieldId(key)}>${f.label}</label>
      <div class="control">${control(key, context)}</div>
      <p class="note" id="note-${key}">${linkOf(key, store.state) ?? f.note}</p>
      ${doubt && !problem ? html`<p class="doubt" id="doubt-${key}">${doubt}</p>` : nothing}
      ${problem ? html`<p class="problem" id="problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}

const linkOf = (key: Key, { links }: State) => links[key] && html`from <span class="address">${links[key]}</span>`;

/** Everything beside the label that says what belongs into the field. */
function describedBy(key: Key, context: FieldContext): string {
  const parts = [`unit-${key}`, `note-${key}`];
  if (doubtAbout(context.store.state, key)) parts.push(`doubt-${key}`);
  if (context.problem) parts.push(`problem-${key}`);
  return parts.join(" ");
}

function control(key: Key, context: FieldContext) {
  const f = field(key);
  if (f.kind === "number") return numberControl(key, f, context);
  return f.kind === "choice" ? choiceControl(key, f, context) : textControl(key, f, context);
}

function numberControl(key: Key, f: NumberField, context: FieldContext) {
  const { store } = context;
  const address = store.state.links[key];
  const type = (event: Event) => store.change((s) => typeNumber(s, key, (event.target as HTMLInputElement).value));
  const unit = unitOf(key, store.state.inputs.units);
  return html`
    <input
      id=${fieldId(key)}
      type="text"
      inputmode=${f.domain.whole ? "numeric" : "decimal"}
      autocomplete="off"
      placeholder=${blankValue(store.state, key)}
      aria-describedby=${describedBy(key, context)}
      aria-invalid=${context.problem ? "true" : "false"}
      ?readonly=${address !== undefined}
      .value=${live(textIn(store.state, key))}
      @input=${type}
      @change=${() => store.change((s) => settle(s, key))}
    >
    <span class="unit" id="unit-${key}">${unit}</span>
    ${address === undefined ? linkButton(key, f, context) : unlinkButton(key, f, context)}
  `;
}

function linkButton(key: Key, f: NumberField, { commands, store }: FieldContext) {
  if (store.state.host === "absent") return nothing;
  const words = `Take ${f.label.toLowerCase()} from the selected cell`;
  return iconButton(words, ICONS.takeFromCell, () => commands.takeFromCell(key));
}

function unlinkButton(key: Key, f: NumberField, { store }: FieldContext) {
  const words = `Keep the number and stop taking ${f.label.toLowerCase()} from ${store.state.links[key]}`;
  return iconButton(words, ICONS.unlink, () => store.change((s) => unlink(s, key)));
}

function choiceControl(key: Key, f: ChoiceField, context: FieldContext) {
  const { store } = context;
  const value = String(store.state.inputs[key]);
  const choose = (event: Event) => store.change((s) => setChoice(s, key, (event.target as HTMLSelectElement).value));
  return html`
    <select
      id=${fieldId(key)}
      aria-describedby=${describedBy(key, context).replace(`unit-${key} `, "")}
      aria-invalid=${context.problem ? "true" : "false"}
      @change=${choose}
    >
      ${f.choices.map(([word, label]) => html`<option value=${word} .selected=${live(word === value)}>${label}</option>`)}
    </select>
  `;
}

function textControl(key: Key, _f: TextField, context: FieldContext) {
  const { store } = context;
  // Set by the Jobs view alone, because the plan's formulas refer to what it names.
  const isLearned = key === "pastJobs";
  const type = (event: Event) => store.change((s) => setText(s, key, (event.target as HTMLInputElement).value));
  return html`
    <input
      id=${fieldId(key)}
      type="text"
      autocomplete="off"
      aria-describedby=${describedBy(key, context).replace(`unit-${key} `, "")}
      aria-invalid=${context.problem ? "true" : "false"}
      ?readonly=${isLearned}
      .value=${live(textIn(store.state, key))}
      @input=${type}
    >
    ${isLearned ? iconButton("Forget what was learned", ICONS.remove, () => forgetIn(store)) : nothing}
  `;
}
