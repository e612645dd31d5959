/** The stages in order: what is used, what the step is worth, and the means to change it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { StageEstimate } from "../../../../functions/plan/estimate";
import type { PlannedStage, Work } from "../../../../functions/plan/proposal";
import type { Commands } from "../../actions";
import { hours, money } from "../../numbers";
import { button, iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import type { State } from "../../state";
import type { Store } from "../../store";
import type { Derived } from "../derived";
import {
  addStage,
  isTool,
  moveStage,
  proposeAgain,
  putOnCheapestMachines,
  removeStage,
  setMachine,
  setTool,
  setWork,
  worksFor,
} from "../stages";
import { machineOptions, shelfOptions } from "./options";

export function sequenceView(store: Store, commands: Commands, derived: Derived) {
  const { stages, notes, estimate, trouble } = derived;
  const { ownStages, shelf, source } = store.state;
  return html`
    <ol class="stages">
      ${stages.map((stage, at) => stageView(store, stage, at, stages.length, estimate?.rows[at]))}
    </ol>
    ${trouble ? html`<p class="trouble">${trouble}</p>` : nothing}
    ${notes.map((note) => html`<p class="remark">${note}</p>`)}
    <div class="row">
      <label class="visually-hidden" for="add-stage">Add a stage with</label>
      <select id="add-stage" @change=${(event: Event) => add(store, event.target as HTMLSelectElement)}>
        <option value="" .selected=${live(true)}>Add a stage…</option>
        ${shelfOptions(shelf.shelf, "")}
      </select>
      ${ownStages && source === "mine" ? button("Propose again", () => store.change(proposeAgain), { size: "small" }) : nothing}
    </div>
    <p class="note">${originOf(store.state)}</p>
    ${machinesView(store, commands, derived)}
  `;
}

function originOf({ ownStages, source }: State): string {
  if (source === "cheapest") return "The cheapest by the cut per pass; a change of yours makes it your own.";
  return ownStages ? "Your own sequence." : "Proposed from the shelf by common practice; change what you know better.";
}

/** With a machines table, the one button that compares them all; without, the way to get one. */
function machinesView(store: Store, commands: Commands, { estimate }: Derived) {
  const { shelf, host } = store.state;
  if (shelf.shelf.machines.length > 0) {
    if (!estimate) return nothing;
    return html`
      <div class="row">
        ${button("Cheapest machine for each stage", () => store.change(putOnCheapestMachines), {
          id: "cheapest-machines",
          size: "small",
        })}
      </div>
    `;
  }
  if (host !== "ready") return nothing;
  return html`
    <div class="shelf">
      <p class="note">Every stage runs on the machine of the inputs. More than one machine?</p>
      ${button("Add a machines table", () => addMachines(commands), { size: "small" })}
    </div>
  `;
}

function stageView(
  store: Store,
  stage: PlannedStage & { readonly reason?: string },
  at: number,
  count: number,
  row: StageEstimate | undefined,
) {
  const { shelf } = store.state.shelf;
  const place = `stage ${at + 1}`;
  const chosen = (event: Event) => (event.target as HTMLSelectElement).value;
  const works = worksFor(stage.tool, shelf);
  return html`
    <li class="stage">
      <div class="stage-what">
        <select
          class="work"
          aria-label="Work of ${place}"
          @change=${(event: Event) => store.change((s) => setWork(s, at, chosen(event) as Work))}
        >
          ${works.map((work) => html`<option value=${work} .selected=${live(work === stage.work)}>${work}</option>`)}
        </select>
        <select
          class="tool"
          aria-label="Tool or liquid of ${place}"
          @change=${(event: Event) => store.change((s) => setTool(s, at, chosen(event)))}
        >
          ${shelfOptions(shelf, stage.tool)}
        </select>
      </div>
      ${
        shelf.machines.length > 0 && isTool(stage.tool, shelf)
          ? html`
            <select
              class="machine"
              aria-label="Machine of ${place}"
              @change=${(event: Event) => store.change((s) => setMachine(s, at, chosen(event)))}
            >
              ${machineOptions(shelf, stage.machine ?? "")}
            </select>`
          : nothing
      }
      <div class="stage-why">
        <p>${verdictOf(row)} ${stage.reason ?? nothing}</p>
        ${row ? html`<p class="figures">${figures(row)}</p>` : nothing}
      </div>
      <div class="stage-moves">
        ${at > 0 ? iconButton(`Move ${place} up`, ICONS.up, () => move(store, at, -1), { id: `up-${at}` }) : nothing}
        ${at < count - 1 ? iconButton(`Move ${place} down`, ICONS.down, () => move(store, at, 1), { id: `down-${at}` }) : nothing}
        ${iconButton(`Remove ${place}, ${stage.tool}`, ICONS.remove, () => remove(store, at), { id: `remove-${at}` })}
      </div>
    </li>
  `;
}

/** Verdicts in which nothing is amiss. */
const IN_ORDER = ["ok", "start"];

function verdictOf(row: StageEstimate | undefined) {
  if (!row?.verdict) return nothing;
  const amiss = !IN_ORDER.includes(row.verdict);
  return html`<span class="verdict ${amiss ? "amiss" : ""}">${amiss ? "Check: " : ""}${row.verdict}</span>`;
}

function figures({ passes, hours: time, cost, grit }: StageEstimate): string {
  const repeats = grit === null ? "coat" : "pass";
  const plural = passes === 1 ? "" : repeats === "pass" ? "es" : "s";
  return `${passes} ${repeats}${plural} · ${hours(time)} h · ${money(cost)}`;
}

function add(store: Store, select: HTMLSelectElement): void {
  const { value } = select;
  select.value = "";
  if (value) store.change((state) => say(addStage(state, value), `Added ${value} as the last stage.`));
}

/** The moved stage keeps the focus, on the same button where it still has it. */
function move(store: Store, at: number, by: 1 | -1): void {
  const to = at + by;
  store.change((state) => say(moveStage(state, at, by), `Moved to place ${to + 1}.`));
  const same = document.getElementById(`${by < 0 ? "up" : "down"}-${to}`);
  const other = document.getElementById(`${by < 0 ? "down" : "up"}-${to}`);
  (same ?? other)?.focus();
}

function remove(store: Store, at: number): void {
  store.change((state) => say(removeStage(state, at), `Removed stage ${at + 1}.`));
  const next = document.getElementById(`remove-${at}`) ?? document.getElementById(`remove-${at - 1}`);
  (next ?? document.getElementById("add-stage"))?.focus();
}

const say = (state: State, announcement: string): State => ({ ...state, announcement });

/** The button goes once there is a table; the focus moves on to the one that takes its place. */
async function addMachines(commands: Commands): Promise<void> {
  await commands.addMachines();
  document.getElementById("cheapest-machines")?.focus();
}
