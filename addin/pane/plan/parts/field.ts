/** One input of the plan: label, control, unit, hint, and what is wrong with it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { ChoiceField, NumberField } from "../../../../functions/plan/field";
import { field, type Key } from "../../../../functions/plan/fields";
import { isInMil, unitOf } from "../../../../functions/plan/inputs";
import { usualDepth } from "../../../../functions/plan/usual";
import { MICROMETERS_IN_A_MIL } from "../../../../functions/units";
import { FIELD_KEY, FIELD_KEYS } from "../../keys";
import { iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import type { PlanContext } from "../context";
import { blankValue, doubtAbout, settle } from "../doubts";
import { type PlanState, setChoice, setText, textIn, typeNumber, unlink } from "../state";
import { PLAN } from "../texts";
import { removeCalibration } from "./calibration";

export const fieldId = (key: Key) => `field-${key}`;

/** `problem` is the field's where it is to be shown. */
export function fieldView(key: Key, context: PlanContext, problem: string | undefined) {
  const f = field(key);
  const { state } = context.plan;
  const doubt = problem ? "" : doubtAbout(state, key);
  const parts = [
    ...(f.kind === "number" ? [`unit-${key}`] : []),
    `note-${key}`,
    ...(doubt ? [`doubt-${key}`] : []),
    ...(problem ? [`problem-${key}`] : []),
  ];
  const said = { describedBy: parts.join(" "), invalid: problem ? "true" : "false" } as const;
  return html`
    <div class="field ${f.kind}" data-key=${key}>
      <label for=${fieldId(key)}>${f.label}</label>
      <div class="control">${control(key, context, said)}</div>
      <p class="note" id="note-${key}">${linkOf(key, state) ?? f.note} ${inMil(key, state)}</p>
      ${doubt ? html`<p class="doubt" id="doubt-${key}">${doubt}</p>` : nothing}
      ${problem ? html`<p class="problem" id="problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}

/** A depth or size in US units in mil too, which a contractor has a feel for. */
function inMil(key: Key, { inputs }: PlanState) {
  const micrometers = inputs[key] ?? (key === "depth" ? usualDepth(inputs) : null);
  if (typeof micrometers !== "number" || !isInMil(unitOf(key, inputs.units), inputs)) return nothing;
  return PLAN.inMil(String(Number((micrometers / MICROMETERS_IN_A_MIL).toFixed(1))));
}

/** What a listener is given beside the label: all that says what belongs into the field, and what is wrong. */
interface Said {
  readonly describedBy: string;
  readonly invalid: "true" | "false";
}

const linkOf = (key: Key, { links }: PlanState) =>
  links[key] && html`${PLAN.from} <span class="address">${links[key]}</span>`;

function control(key: Key, context: PlanContext, said: Said) {
  const f = field(key);
  if (f.kind === "number") return numberControl(key, f, context, said);
  return f.kind === "choice" ? choiceControl(key, f, context, said) : textControl(key, context, said);
}

const textOf = (event: Event) => (event.target as HTMLInputElement | HTMLSelectElement).value;

function numberControl(key: Key, f: NumberField, context: PlanContext, said: Said) {
  const { state, change } = context.plan;
  return html`
    <input
      id=${fieldId(key)}
      type="text"
      inputmode=${f.domain.whole ? "numeric" : "decimal"}
      autocomplete="off"
      placeholder=${blankValue(state, key)}
      aria-describedby=${said.describedBy}
      aria-invalid=${said.invalid}
      aria-keyshortcuts=${FIELD_KEYS}
      ?readonly=${state.links[key] !== undefined}
      .value=${live(textIn(state, key))}
      @input=${(event: Event) => change((plan) => typeNumber(plan, key, textOf(event)))}
      @change=${() => change((plan) => settle(plan, key))}
    >
    <span class="unit" id="unit-${key}">${f.money ? state.inputs.currency.trim() : ""}${unitOf(key, state.inputs.units)}</span>
    ${cellButton(key, f, context)}
  `;
}

/** A key in the field gives it too, so that it need not be a tab stop. */
function cellButton(key: Key, f: NumberField, { pane, plan, commands }: PlanContext) {
  const address = plan.state.links[key];
  const look = { tabindex: -1, keys: FIELD_KEYS };
  if (address !== undefined) {
    const words = `${PLAN.unlink(f.label, address)} (${FIELD_KEY})`;
    return iconButton(words, ICONS.unlink, () => plan.change((state) => unlink(state, key)), look);
  }
  if (pane.store.state.host === "absent") return nothing;
  const words = `${PLAN.takeFromCell(f.label)} (${FIELD_KEY})`;
  return iconButton(words, ICONS.takeFromCell, () => commands.takeFromCell(key), look);
}

function choiceControl(key: Key, f: ChoiceField, { plan, commands }: PlanContext, said: Said) {
  const value = String(plan.state.inputs[key]);
  return html`
    <select
      id=${fieldId(key)}
      aria-describedby=${said.describedBy}
      aria-invalid=${said.invalid}
      @change=${(event: Event) => commands.change((state) => setChoice(state, key, textOf(event)))}
    >
      ${f.choices.map(([word, label]) => html`<option value=${word} .selected=${live(word === value)}>${label}</option>`)}
    </select>
  `;
}

function textControl(key: Key, { plan, pane }: PlanContext, said: Said) {
  // Set by the Jobs view alone, because the plan's formulas refer to what it names.
  const isCalibration = key === "pastJobs";
  return html`
    <input
      id=${fieldId(key)}
      type="text"
      autocomplete="off"
      aria-describedby=${said.describedBy}
      aria-invalid=${said.invalid}
      ?readonly=${isCalibration}
      .value=${live(textIn(plan.state, key))}
      @input=${(event: Event) => plan.change((state) => setText(state, key, textOf(event)))}
    >
    ${isCalibration ? iconButton(PLAN.removeCalibration, ICONS.remove, () => removeCalibration(pane)) : nothing}
  `;
}
