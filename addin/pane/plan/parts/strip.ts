/** The test strip: entries, what they come to, and where that may go. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { System } from "../../../../functions/units";
import type { Commands } from "../../actions";
import { briefly, otherReading } from "../../numbers";
import { button } from "../../parts/button";
import { chooseOnStrip, putBackBeforeStrip, type State, takeFromStrip, typeEntry } from "../../state";
import type { Store } from "../../store";
import {
  blankSpeed,
  CUT_ENTRIES,
  cutOnStrip,
  type EntryKey,
  entry,
  entryUnit,
  type MeasuredCut,
  type MeasuredWear,
  ranWords,
  readEntry,
  WEAR_ENTRIES,
  wearOfSet,
} from "../strip";
import { machineOptions, toolOptions } from "./options";

export function stripView(store: Store, commands: Commands) {
  const { inputs, shelf, strip } = store.state;
  return html`
    <details class="card strip" id="strip">
      <summary>
        <h2>Test strip</h2>
        <span class="digest">Measure one pass, or a worn set, and plan with your own cut, wear and life</span>
      </summary>
      ${choice("tool", "Tool", "That was measured", toolOptions(shelf.shelf, strip.tool), store)}
      <h3>Cut of one pass</h3>
      ${
        shelf.shelf.machines.length > 0
          ? choice("machine", "Machine", "That ran the strip", machineOptions(shelf.shelf, strip.machine), store)
          : nothing
      }
      ${CUT_ENTRIES.map((key) => entryView(key, store))}
      <p class="note">Lanes overlap on the strip as on the job.</p>
      ${cutView(cutOnStrip(strip, inputs, shelf.shelf), store, commands)}
      ${
        store.state.beforeStrip
          ? html`<div class="row">${button("Put the old values back", () => store.change(putBackBeforeStrip), { size: "small" })}</div>`
          : nothing
      }
      <h3>Wear of the segments</h3>
      ${WEAR_ENTRIES.map((key) => entryView(key, store))}
      <p class="note">For a set of the machine of the inputs.</p>
      ${wearView(wearOfSet(strip, inputs, shelf.shelf), store, commands)}
    </details>
  `;
}

function choice(key: "tool" | "machine", label: string, note: string, options: unknown, store: Store) {
  const choose = (event: Event) =>
    store.change((state) => chooseOnStrip(state, { [key]: (event.target as HTMLSelectElement).value }));
  const isNone = key === "tool" && store.state.strip.tool === "";
  return html`
    <div class="field choice">
      <label for="strip-${key}">${label}</label>
      <div class="control">
        <select id="strip-${key}" aria-describedby="strip-note-${key}" @change=${choose}>
          ${isNone ? html`<option value="" .selected=${live(true)}>Choose…</option>` : nothing} ${options}
        </select>
      </div>
      <p class="note" id="strip-note-${key}">${note}</p>
    </div>
  `;
}

function entryView(key: EntryKey, store: Store) {
  const { strip, inputs, decimalComma } = store.state;
  const { label, note } = entry(key);
  const { problem } = readEntry(strip, key);
  const doubt = decimalComma && !problem ? otherReading(strip.typed[key] ?? "") : "";
  const type = (event: Event) =>
    store.change((state) => typeEntry(state, key, (event.target as HTMLInputElement).value));
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
          placeholder=${blankOf(key, store.state)}
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

function blankOf(key: EntryKey, { strip, inputs }: State): string {
  if (key === "wornPasses") return "1";
  const speed = key === "slideSpeed" ? blankSpeed(strip, inputs) : null;
  return speed === null ? "" : figure(speed);
}

/** Four digits: more than a strip can tell. */
const figure = (x: number) => briefly(Number(x.toPrecision(4)), { quantity: "length" });

function cutView(found: MeasuredCut | string, store: Store, commands: Commands) {
  if (typeof found === "string") return html`<p class="note">${found}</p>`;
  const { units } = store.state.inputs;
  return html`
    <dl class="figures-list">
      ${told("Cutting coefficient", `${figure(found.coefficient)} mm³/kJ`)}
      ${told("Sliding speed", `${figure(found.slideSpeed)} ${entryUnit("slideSpeed", units)}`)}
    </dl>
    <p class="note">${ranWords(found, units)}</p>
    <div class="row">
      ${button("Use in this plan", () => store.change((state) => takeFromStrip(state, found)), { size: "small" })}
      ${write("Write the cut per pass into the tooling table", found, store, commands)}
    </div>
  `;
}

/** The shelf's own words for it, without the "/" that its headers cannot have. */
const WEAR_UNITS: Record<System, string> = { us: "mm/1000 ft²", metric: "mm/100 m²" };

function wearView(found: MeasuredWear | string, store: Store, commands: Commands) {
  if (typeof found === "string") return html`<p class="note">${found}</p>`;
  const { units } = store.state.inputs;
  return html`
    <dl class="figures-list">
      ${told("Wear", `${figure(found.wear)} ${WEAR_UNITS[units]}`)}
      ${told("Life of a set, one pass", `${figure(found.life)} ${entryUnit("wornArea", units)}`)}
    </dl>
    <div class="row">${write("Write wear and life into the tooling table", found, store, commands)}</div>
  `;
}

const told = (name: string, value: string) => html`
  <div>
    <dt>${name}</dt>
    <dd>${value}</dd>
  </div>
`;

function write(words: string, found: MeasuredCut | MeasuredWear, store: Store, commands: Commands) {
  return store.state.host === "ready" ? button(words, () => commands.writeMeasured(found), { size: "small" }) : nothing;
}
