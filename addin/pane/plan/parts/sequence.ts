/** The stages in order: what is used, what the step is worth, and the means to change it. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import type { StageEstimate } from "../../../../functions/plan/estimate";
import { type Inputs, signBefore } from "../../../../functions/plan/inputs";
import type { PlannedStage } from "../../../../functions/plan/stage";
import type { Work } from "../../../../functions/plan/works";
import { symbol } from "../../../../functions/units";
import { toolbarKeys } from "../../keys";
import { figureText, hours, money, withUnit } from "../../numbers";
import { button, iconButton } from "../../parts/button";
import { ICONS } from "../../parts/icons";
import type { PlanContext } from "../context";
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
  workOutPasses,
  worksFor,
} from "../stages";
import type { PlanState } from "../state";
import { PLAN, troubleWords } from "../texts";
import { machineOptions, shelfOptions } from "./options";

export function sequenceView(context: PlanContext, derived: Derived) {
  const { stages, notes, estimate, trouble } = derived;
  const { state } = context.plan;
  return html`
    <ol class="stages">
      ${stages.map((stage, at) => stageView(context, stage, at, stages.length, estimate?.rows[at]))}
    </ol>
    ${stages.length > 0 ? html`<p class="note" id="stage-keys">${PLAN.stageKeys}</p>` : nothing}
    ${trouble ? html`<p class="trouble">${troubleWords(trouble)}</p>` : nothing}
    ${notes.map((note) => html`<p class="remark">${note}</p>`)}
    <div class="row">
      <label class="visually-hidden" for="add-stage">${PLAN.addStageWith}</label>
      <select id="add-stage" @change=${(event: Event) => add(context, event.target as HTMLSelectElement)}>
        <option value="" .selected=${live(true)}>${PLAN.addStage}</option>
        ${shelfOptions(state.shelf.shelf, "")}
      </select>
      ${
        state.ownStages && state.source === "mine"
          ? button(PLAN.proposeAgain, () => context.plan.change(proposeAgain), { size: "small" })
          : nothing
      }
    </div>
    <p class="note">${originOf(state)}</p>
    ${machinesView(context, derived)}
  `;
}

function originOf({ ownStages, source }: PlanState): string {
  if (source === "cheapest") return PLAN.origin.cheapest;
  return ownStages ? PLAN.origin.own : PLAN.origin.proposed;
}

/** With a machines table, the one button that compares them all; without, the way to get one. */
function machinesView({ pane, plan, commands }: PlanContext, { estimate }: Derived) {
  if (plan.state.shelf.shelf.machines.length > 0) {
    if (!estimate) return nothing;
    return html`
      <div class="row">
        ${button(PLAN.cheapestMachinesButton, () => commands.change(putOnCheapestMachines), {
          id: "cheapest-machines",
          size: "small",
        })}
      </div>
    `;
  }
  if (pane.store.state.host !== "ready") return nothing;
  return html`
    <div class="shelf">
      <p class="note">${PLAN.oneMachine}</p>
      ${button(PLAN.addMachines, () => addMachines(commands), { size: "small" })}
    </div>
  `;
}

/** A toolbar a stage: one tab stop, and arrow keys among its controls. */
function stageView(
  context: PlanContext,
  stage: PlannedStage & { readonly reason?: string },
  at: number,
  count: number,
  row: StageEstimate | undefined,
) {
  const { state, change } = context.plan;
  const { shelf } = state.shelf;
  const n = at + 1;
  const chosen = (event: Event) => (event.target as HTMLSelectElement).value;
  const works = worksFor(stage.tool, shelf);
  return html`
    <li>
      <div
        class="stage"
        role="toolbar"
        aria-label=${PLAN.stage(n)}
        aria-describedby="stage-keys"
        @keydown=${toolbarKeys.move}
        @focusin=${toolbarKeys.enter}
        @focusout=${toolbarKeys.leave}
      >
        <div class="stage-what">
          <select
            class="work"
            aria-label=${PLAN.workOf(n)}
            @change=${(event: Event) => change((plan) => setWork(plan, at, chosen(event) as Work))}
          >
            ${works.map((work) => html`<option value=${work} .selected=${live(work === stage.work)}>${work}</option>`)}
          </select>
          <select
            class="tool"
            tabindex="-1"
            aria-label=${PLAN.toolOf(n)}
            @change=${(event: Event) => change((plan) => setTool(plan, at, chosen(event)))}
          >
            ${shelfOptions(shelf, stage.tool)}
          </select>
        </div>
        ${
          shelf.machines.length > 0 && isTool(stage.tool, shelf)
            ? html`
              <select
                class="machine"
                tabindex="-1"
                aria-label=${PLAN.machineOf(n)}
                @change=${(event: Event) => change((plan) => setMachine(plan, at, chosen(event)))}
              >
                ${machineOptions(shelf, stage.machine ?? "")}
              </select>`
            : nothing
        }
        <div class="stage-why">
          <p>${verdictOf(row)} ${stage.reason ?? nothing}</p>
          ${row ? html`<p class="figures">${figures(row, state.inputs)}</p>` : nothing}
          ${
            stage.passes === undefined
              ? nothing
              : button(
                  PLAN.workOutPasses,
                  () => changeAloud(context, (plan) => workOutPasses(plan, at), PLAN.passesWorkedOut(n)),
                  {
                    size: "small",
                    label: PLAN.workOutPassesOf(n),
                  },
                )
          }
        </div>
        <div class="stage-moves">
          ${at > 0 ? moveButton(context, at, -1) : nothing} ${at < count - 1 ? moveButton(context, at, 1) : nothing}
          ${iconButton(PLAN.remove(n, stage.tool), ICONS.remove, () => remove(context, at), {
            id: `remove-${at}`,
            tabindex: -1,
          })}
        </div>
      </div>
    </li>
  `;
}

function moveButton(context: PlanContext, at: number, by: 1 | -1) {
  const isUp = by < 0;
  const words = isUp ? PLAN.moveUp(at + 1) : PLAN.moveDown(at + 1);
  const look = { id: `${isUp ? "up" : "down"}-${at}`, tabindex: -1 };
  return iconButton(words, isUp ? ICONS.up : ICONS.down, () => move(context, at, by), look);
}

/** Verdicts in which nothing is amiss. */
const IN_ORDER = ["ok", "start"];

function verdictOf(row: StageEstimate | undefined) {
  if (!row?.verdict) return nothing;
  const amiss = !IN_ORDER.includes(row.verdict);
  return html`<span class="verdict ${amiss ? "amiss" : ""}">${amiss ? PLAN.check : ""}${row.verdict}</span>`;
}

function figures({ passes, hours: time, cost, grit, volume, wait, pressure }: StageEstimate, inputs: Inputs): string {
  const liquid = [PLAN.coats(passes), withUnit(figureText(volume), symbol("volume", inputs.units))];
  return [
    ...(grit !== null ? [PLAN.passes(passes)] : volume > 0 ? liquid : []),
    `${hours(time)} h`,
    money(cost, signBefore(inputs)),
    ...(wait > 0 ? [PLAN.wait(figureText(wait))] : []),
    ...(pressure ? [PLAN.pressure(withUnit(figureText(pressure), symbol("pressure", inputs.units)))] : []),
  ].join(" · ");
}

function add(context: PlanContext, select: HTMLSelectElement): void {
  const { value } = select;
  select.value = "";
  if (value) changeAloud(context, (plan) => addStage(plan, value), PLAN.added(value));
}

/** The moved stage keeps the focus, on the same button where it still has it. */
function move(context: PlanContext, at: number, by: 1 | -1): void {
  const to = at + by;
  changeAloud(context, (plan) => moveStage(plan, at, by), PLAN.moved(to + 1));
  const same = document.getElementById(`${by < 0 ? "up" : "down"}-${to}`);
  const other = document.getElementById(`${by < 0 ? "down" : "up"}-${to}`);
  (same ?? other)?.focus();
}

function remove(context: PlanContext, at: number): void {
  changeAloud(context, (plan) => removeStage(plan, at), PLAN.removed(at + 1));
  const next = document.getElementById(`remove-${at}`) ?? document.getElementById(`remove-${at - 1}`);
  (next ?? document.getElementById("add-stage"))?.focus();
}

/** A change that is seen at once, and that a listener is told. */
const changeAloud = ({ pane }: PlanContext, next: (plan: PlanState) => PlanState, announcement: string) =>
  pane.store.change((state) => ({ ...state, plan: next(state.plan), announcement }));

/** The button goes once there is a table; the focus moves on to the one that takes its place. */
async function addMachines(commands: PlanContext["commands"]): Promise<void> {
  await commands.addMachines();
  document.getElementById("cheapest-machines")?.focus();
}
