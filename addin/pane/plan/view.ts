/** The Plan view: the inputs, the shelf, the sequence, and what it comes to. */
import { html, nothing } from "lit";
import { live } from "lit/directives/live.js";
import { GROUPS, type Group } from "../../../functions/plan/field";
import { signBefore, unitOf } from "../../../functions/plan/inputs";
import { cautionFor, QUOTE_LINES } from "../../sheet";
import { money } from "../numbers";
import { button } from "../parts/button";
import { unavailable } from "../state";
import { calibratedOf, confidenceIn, isCalibrated, usedCalibration } from "./calibration";
import type { PlanContext } from "./context";
import { type Derived, derive, digest } from "./derived";
import { dismissWelcome } from "./draft";
import { compareView } from "./parts/compare";
import { exposureLater } from "./parts/exposure-later";
import { fieldId, fieldView } from "./parts/field";
import { resultView } from "./parts/result";
import { scratchLater } from "./parts/scratch-later";
import { sequenceView } from "./parts/sequence";
import { stripLater } from "./parts/strip-later";
import { shortOfPower, shortStages } from "./sequences";
import { fieldsIn, isShown, PLACES, type PlanState, tickLine, toggleGroup } from "./state";
import { PLAN, troubleWords } from "./texts";

export function planView(context: PlanContext) {
  const { state } = context.plan;
  const derived = derive(state);
  const { estimate, comparison, noComparison } = derived;
  return html`
    ${state.welcome ? welcome(context) : nothing}
    ${state.known.length > 0 ? whichPlan(context) : nothing}
    ${(Object.keys(GROUPS) as Group[]).map((group) => section(group, context, derived))}
    ${stripLater(context)}
    ${
      comparison || noComparison
        ? html`
          <section class="card" aria-labelledby="compare-title">
            <h2 id="compare-title">${PLAN.compareTitle}</h2>
            ${compareView(context, derived)}
          </section>`
        : nothing
    }
    <section class="card" aria-labelledby="sequence-title">
      <h2 id="sequence-title">${PLAN.sequenceTitle}</h2>
      ${shelfView(context)} ${sequenceView(context, derived)}
    </section>
    ${
      estimate
        ? html`
          <section class="card" aria-labelledby="result-title">
            <h2 id="result-title">${PLAN.resultTitle}</h2>
            ${resultView(context, estimate, derived.leftOut)}
            ${[...shortStages(estimate), ...shortOfPower(estimate)].map((short) => html`<p class="remark">${short}</p>`)}
            ${exposureLater(context.pane, state.inputs, derived.problems)}
          </section>`
        : nothing
    }
    <p class="caution">${cautionFor(state.inputs)}</p>
  `;
}

/** A new plan, or one of those that stand in the workbook. */
function whichPlan({ plan, commands }: PlanContext) {
  const { known, opened } = plan.state;
  const choose = async (event: Event) => {
    const select = event.target as HTMLSelectElement;
    await commands.open(select.value === "" ? null : select.value);
    // Where it was refused, or the answer is still to come, the plan that is open stays chosen.
    select.value = plan.state.opened?.sheetId ?? "";
  };
  return html`
    <section class="card which">
      <label for="which-plan">${PLAN.which}</label>
      <select id="which-plan" @change=${choose}>
        <option value="" .selected=${live(opened === null)}>${PLAN.newPlan}</option>
        ${known.map(
          ({ sheetId, sheet, floor }) =>
            html`<option value=${sheetId} .selected=${live(sheetId === opened?.sheetId)}>${PLAN.onSheet(floor, sheet)}</option>`,
        )}
      </select>
    </section>
  `;
}

function welcome({ plan, commands }: PlanContext) {
  return html`
    <section class="card welcome" aria-labelledby="welcome-title">
      <h2 id="welcome-title">${PLAN.welcomeTitle}</h2>
      <ul>
        ${PLAN.welcome.map((line) => html`<li>${line}</li>`)}
      </ul>
      <div class="row">
        ${button(PLAN.fillInExample, commands.fillInExample)}
        ${button(PLAN.dontShowAgain, () => plan.change(dismissWelcome), { appearance: "subtle" })}
      </div>
    </section>
  `;
}

function section(group: Group, context: PlanContext, { problems }: Derived) {
  const { state, change } = context.plan;
  const keys = fieldsIn(group, state.inputs);
  if (keys.length === 0) return nothing;
  const shown = keys.filter((key) => problems[key] && isShown(key, state));
  const open = state.openGroups.includes(group);
  const toggle = (event: Event) => change((now) => toggleGroup(now, group, (event.target as HTMLDetailsElement).open));
  return html`
    <details class="card" .open=${open} @toggle=${toggle}>
      <summary>
        <h2>${GROUPS[group]}</h2>
        ${shown.length > 0 ? html`<span class="to-fix">${PLAN.toFix(shown.length)}</span>` : nothing}
        ${open ? nothing : html`<span class="digest">${digest(group, state.inputs)}</span>`}
      </summary>
      ${keys.map(
        (key) => html`
          ${fieldView(key, context, shown.includes(key) ? problems[key] : undefined)}
          ${key === "hardness" ? scratchLater(context) : nothing}
        `,
      )}
    </details>
  `;
}

function shelfView({ pane, plan, commands }: PlanContext) {
  const { shelf } = plan.state;
  return html`
    <div class="shelf">
      <p class="note">${PLAN.shelf(shelf.from)}</p>
      ${pane.store.state.host === "ready" ? button(PLAN.readAgain, commands.readShelf, { size: "small" }) : nothing}
    </div>
    ${
      shelf.problems.length > 0
        ? html`<ul class="trouble">${shelf.problems.map((problem) => html`<li>${problem}</li>`)}</ul>`
        : nothing
    }
  `;
}

/** Where to write, and the one button that does it; it stays in sight. */
export function planFooter(context: PlanContext) {
  const { pane, plan } = context;
  const derived = derive(plan.state);
  const stopped = unavailable(pane.store.state) || troubleWords(derived.trouble);
  return html`
    <fieldset class="place">
      <legend>${PLAN.insertAt}</legend>
      ${PLACES.map(
        (place) => html`
          <label>
            <input
              type="radio"
              name="place"
              .checked=${plan.state.place === place}
              @change=${() => plan.change((state) => ({ ...state, place }))}
            >
            ${PLAN.places[place]}
          </label>
        `,
      )}
      ${plan.state.place === "selected cell" ? linesChoice(context) : nothing}
    </fieldset>
    <div class="insert">
      ${totals(derived, plan.state)}
      ${plan.state.opened ? updateButtons(context, derived, stopped) : insertButton(context, derived, stopped)}
    </div>
    <p id="insert-why" class="why">${stopped}</p>
  `;
}

/** What the lines at the selected cell tell. */
function linesChoice({ plan, commands }: PlanContext) {
  const { lines, opened } = plan.state;
  return html`
    <div class="lines" role="group" aria-label=${PLAN.linesTitle}>
      ${QUOTE_LINES.map(
        (line) => html`
          <label>
            <input
              type="checkbox"
              .checked=${live(lines.includes(line))}
              @change=${(event: Event) =>
                plan.change((now) => tickLine(now, line, (event.target as HTMLInputElement).checked))}
            >
            ${PLAN.lines[line]}
          </label>
        `,
      )}
      ${opened ? button(PLAN.insertLines, () => void commands.insertLines(), { size: "small" }) : nothing}
    </div>
  `;
}

const insertButton = (context: PlanContext, derived: Derived, stopped: string) =>
  button(PLAN.insert, () => insert(context, derived), { id: "insert", main: true, stopped, describedBy: "insert-why" });

/** A plan that stands in the workbook is updated there, or becomes another one. */
const updateButtons = (context: PlanContext, derived: Derived, stopped: string) => html`
  ${button(PLAN.insertAsNew, () => insert(context, derived), { id: "insert", stopped, describedBy: "insert-why" })}
  ${button(PLAN.update, () => void context.commands.update(), {
    id: "update",
    main: true,
    stopped,
    describedBy: "insert-why",
  })}
`;

function totals({ estimate }: Derived, plan: PlanState) {
  if (!estimate) return nothing;
  const calibration = usedCalibration(plan);
  const found = calibration && calibratedOf(plan, calibration, estimate);
  const sign = signBefore(plan.inputs);
  return html`
    <p class="total">
      <strong>${money(estimate.price, sign)}</strong>
      <span>${PLAN.perArea(money(estimate.perArea, sign), unitOf("area", plan.inputs.units))}</span>
      ${
        found && isCalibrated(found)
          ? html`<span>${PLAN.atConfidence(confidenceIn(plan))} <strong>${money(found.price, sign)}</strong></span>`
          : nothing
      }
    </p>
  `;
}

/** With problems left, the first field that has one is where to go on. */
function insert({ plan, commands }: PlanContext, { firstProblem }: Derived): void {
  void commands.insertTable(plan.state.place);
  if (firstProblem) document.getElementById(fieldId(firstProblem))?.focus();
}
