/** The test strip: entries, what they come to, and where that may go. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { signBefore } from "../../../../functions/plan/inputs";
import type { System } from "../../../../functions/units";
import { briefly, hours, money, otherReading } from "../../numbers";
import { button } from "../../parts/button";
import type { PlanContext } from "../context";
import { derive } from "../derived";
import { restoreBeforeStrip, takeFromStrip } from "../from-strip";
import type { PlanState } from "../state";
import {
  blankSpeed,
  CUT_ENTRIES,
  cutOnStrip,
  entry,
  entryUnit,
  type MeasuredCut,
  type MeasuredWear,
  rangeOf,
  ranWords,
  readEntry,
  rememberedCut,
  typeEntry,
  WEAR_ENTRIES,
  wearOfSet,
} from "../strip";
import type { EntryKey, StripState } from "../strip-state";
import { STRIP } from "../strip-texts";
import { machineOptions, toolOptions } from "./options";

export function stripView(context: PlanContext) {
  const { inputs, shelf, strip, beforeStrip } = context.plan.state;
  return html`
      ${choice("tool", toolOptions(shelf.shelf, strip.tool), context)}
      <h3>${STRIP.cutTitle}</h3>
      ${shelf.shelf.machines.length > 0 ? choice("machine", machineOptions(shelf.shelf, strip.machine), context) : nothing}
      ${CUT_ENTRIES.map((key) => entryView(key, context))}
      <p class="note">${STRIP.overlap}</p>
      ${cutView(cutOnStrip(strip, inputs, shelf.shelf), context)} ${rememberedView(context)}
      ${
        beforeStrip
          ? html`<div class="row">${button(STRIP.restore, () => context.commands.change(restoreBeforeStrip), { size: "small" })}</div>`
          : nothing
      }
      <h3>${STRIP.wearTitle}</h3>
      ${WEAR_ENTRIES.map((key) => entryView(key, context))}
      <p class="note">${STRIP.oneSet}</p>
      ${wearView(wearOfSet(strip, inputs, shelf.shelf), context)}
  `;
}

const changeStrip = ({ plan }: PlanContext, next: (strip: StripState) => StripState) =>
  plan.change((state) => ({ ...state, strip: next(state.strip) }));

function choice(key: "tool" | "machine", options: unknown, context: PlanContext) {
  const { label, note } = STRIP[key];
  const choose = (event: Event) => {
    const { value } = event.target as HTMLSelectElement;
    changeStrip(context, (strip) => ({ ...strip, [key]: value }));
  };
  const isNone = key === "tool" && context.plan.state.strip.tool === "";
  return html`
    <div class="field choice">
      <label for="strip-${key}">${label}</label>
      <div class="control">
        <select id="strip-${key}" aria-describedby="strip-note-${key}" @change=${choose}>
          ${isNone ? html`<option value="" .selected=${live(true)}>${STRIP.choose}</option>` : nothing} ${options}
        </select>
      </div>
      <p class="note" id="strip-note-${key}">${note}</p>
    </div>
  `;
}

function entryView(key: EntryKey, context: PlanContext) {
  const { strip, inputs, decimalComma } = context.plan.state;
  const { label, note } = entry(key);
  const { problem } = readEntry(strip, key);
  const doubt = decimalComma && !problem ? otherReading(strip.typed[key] ?? "") : "";
  const type = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    changeStrip(context, (now) => typeEntry(now, key, value));
  };
  const described = [
    `strip-unit-${key}`,
    `strip-note-${key}`,
    ...(doubt ? [`strip-doubt-${key}`] : []),
    ...(problem ? [`strip-problem-${key}`] : []),
  ];
  return html`
    <div class="field number">
      <label for="strip-${key}">${label}</label>
      <div class="control">
        <input
          id="strip-${key}"
          type="text"
          inputmode="decimal"
          autocomplete="off"
          placeholder=${blankOf(key, context.plan.state)}
          aria-describedby=${described.join(" ")}
          aria-invalid=${problem ? "true" : "false"}
          .value=${live(strip.typed[key] ?? "")}
          @input=${type}
        >
        <span class="unit" id="strip-unit-${key}">${entryUnit(key, inputs.units)}</span>
      </div>
      <p class="note" id="strip-note-${key}">${note}</p>
      ${doubt ? html`<p class="doubt" id="strip-doubt-${key}">${doubt}</p>` : nothing}
      ${problem ? html`<p class="problem" id="strip-problem-${key}">${problem}</p>` : nothing}
    </div>
  `;
}

function blankOf(key: EntryKey, { strip, inputs, shelf }: PlanState): string {
  if (key === "wornPasses" || key === "passes") return "1";
  const speed = key === "slideSpeed" ? blankSpeed(strip, inputs, shelf.shelf) : null;
  return speed === null ? "" : figure(speed);
}

/** Four digits: more than a strip can tell. */
const figure = (x: number) => briefly(Number(x.toPrecision(4)), { quantity: "length" });

function cutView(found: MeasuredCut | string, context: PlanContext) {
  if (typeof found === "string") return html`<p class="note">${found}</p>`;
  const { units } = context.plan.state.inputs;
  return html`
    <dl class="figures-list">
      ${figureView(STRIP.coefficient, `${figure(found.coefficient)} mm³/kJ`)}
      ${figureView(STRIP.slideSpeed.label, `${figure(found.slideSpeed)} ${entryUnit("slideSpeed", units)}`)}
    </dl>
    <p class="note">${ranWords(found, units)}</p>
    <div class="row">
      ${button(STRIP.use, () => context.commands.change((state) => takeFromStrip(state, found)), { size: "small" })}
      ${write(STRIP.writeCut, found, context)} ${remember(found, context)}
    </div>
  `;
}

function remember(found: MeasuredCut, { pane, commands }: PlanContext) {
  if (pane.store.state.host !== "ready") return nothing;
  return button(STRIP.remember, () => commands.addStrip(found), { size: "small" });
}

/** What the workbook remembers of the chosen tool, and what it makes of the plan. */
function rememberedView({ plan, commands }: PlanContext) {
  const { inputs, shelf, strip } = plan.state;
  const found = rememberedCut(strip, inputs, shelf.shelf);
  if (!found) return nothing;
  const { strips, coefficient, low, high } = found.known;
  const mohs = STRIP.to(figure(Math.min(...found.hardness)), figure(Math.max(...found.hardness)));
  const range = rangeOf(found, inputs, shelf.shelf, derive(plan.state).stages);
  const span = ([a, b]: readonly [number, number], show: (x: number) => string) => STRIP.to(show(a), show(b));
  return html`
    <h3>${STRIP.remembered}</h3>
    <p class="note">
      ${STRIP.rememberedWords(strips, mohs, figure(coefficient), figure(low), figure(high))}
      ${
        range && strips > 1
          ? STRIP.range(
              span(range.passes, String),
              span(range.hours, hours),
              span(range.price, (x) => money(x, signBefore(inputs))),
            )
          : nothing
      }
    </p>
    <div class="row">
      ${button(STRIP.useRemembered, () => commands.change((state) => takeFromStrip(state, found)), { size: "small" })}
    </div>
  `;
}

/** The shelf's own words for it, without the "/" that its headers cannot have. */
const WEAR_UNITS: Record<System, string> = { us: "mm/1000 ft²", metric: "mm/100 m²" };

function wearView(found: MeasuredWear | string, context: PlanContext) {
  if (typeof found === "string") return html`<p class="note">${found}</p>`;
  const { units } = context.plan.state.inputs;
  return html`
    <dl class="figures-list">
      ${figureView(STRIP.wear, `${figure(found.wear)} ${WEAR_UNITS[units]}`)}
      ${figureView(STRIP.life, `${figure(found.life)} ${entryUnit("wornArea", units)}`)}
    </dl>
    <div class="row">${write(STRIP.writeWear, found, context)}</div>
  `;
}

const figureView = (name: string, value: string) => html`
  <div>
    <dt>${name}</dt>
    <dd>${value}</dd>
  </div>
`;

function write(words: string, found: MeasuredCut | MeasuredWear, { pane, commands }: PlanContext) {
  if (pane.store.state.host !== "ready") return nothing;
  return button(words, () => commands.writeMeasured(found), { size: "small" });
}
