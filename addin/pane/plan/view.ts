/** The Plan view: the inputs, the shelf, the sequence, and what it comes to. */
import { html, nothing } from "lit";
import { GROUPS, type Group } from "../../../functions/plan/fields";
import { unitOf } from "../../../functions/plan/inputs";
import { CAUTION } from "../../sheet";
import type { Commands } from "../actions";
import { carried } from "../jobs/state";
import { money } from "../numbers";
import { button } from "../parts/button";
import { digest, fieldsIn, fillInExample, PLACES, type Place, type State, toggleGroup } from "../state";
import type { Store } from "../store";
import { confidenceIn, learnedOf } from "./calibration";
import { type Derived, hindrance } from "./derived";
import { rememberWelcome } from "./draft";
import { compareView } from "./parts/compare";
import { exposureView } from "./parts/exposure";
import { fieldId, fieldView } from "./parts/field";
import { resultView } from "./parts/result";
import { sequenceView } from "./parts/sequence";
import { stripView } from "./parts/strip";
import { shortfall } from "./sequences";

export function planView(store: Store, commands: Commands, derived: Derived) {
  const { state } = store;
  const { estimate, comparison } = derived;
  const short =
    estimate && comparison && state.source === "mine" ? shortfall(estimate.price, comparison, state.inputs) : "";
  return html`
    ${state.welcome ? welcome(store) : nothing}
    ${(Object.keys(GROUPS) as Group[]).map((group) => section(group, store, commands, derived))}
    ${stripView(store, commands)}
    ${
      derived.comparison || derived.noComparison
        ? html`
          <section class="card" aria-labelledby="compare-title">
            <h2 id="compare-title">Two sequences</h2>
            ${compareView(store, derived)}
          </section>`
        : nothing
    }
    <section class="card" aria-labelledby="sequence-title">
      <h2 id="sequence-title">Sequence</h2>
      ${shelfView(state, commands)} ${sequenceView(store, commands, derived)}
    </section>
    ${
      estimate
        ? html`
          <section class="card" aria-labelledby="result-title">
            <h2 id="result-title">Result</h2>
            ${resultView(estimate, store)}
            ${short ? html`<p class="remark">${short}</p>` : nothing}
            ${exposureView(state.inputs, derived.problems)}
          </section>`
        : nothing
    }
    <p class="caution">${CAUTION}</p>
  `;
}

function welcome(store: Store) {
  const dismiss = (state: State): State => {
    rememberWelcome();
    return { ...state, welcome: false };
  };
  return html`
    <section class="card welcome" aria-labelledby="welcome-title">
      <h2 id="welcome-title">What this does</h2>
      <ul>
        <li>You describe the floor, the finish and the crew.</li>
        <li>You get a grinding and polishing sequence from your own shelf, priced stage by stage.</li>
        <li>One button writes it into your quote as live cells that you can change.</li>
      </ul>
      <div class="row">
        ${button("Fill in an example", () => store.change((state) => dismiss(fillInExample(state))))}
        ${button("Don't show again", () => store.change(dismiss), { appearance: "subtle" })}
      </div>
    </section>
  `;
}

function section(group: Group, store: Store, commands: Commands, { problems }: Derived) {
  const { state } = store;
  const keys = fieldsIn(group, state.inputs);
  if (keys.length === 0) return nothing;
  const told = keys.filter((key) => problems[key] && state.touched.includes(key));
  const open = state.openGroups.includes(group);
  const toggle = (event: Event) =>
    store.change((s) => toggleGroup(s, group, (event.target as HTMLDetailsElement).open));
  return html`
    <details class="card" .open=${open} @toggle=${toggle}>
      <summary>
        <h2>${GROUPS[group]}</h2>
        ${told.length > 0 ? html`<span class="to-mend">${told.length} to mend</span>` : nothing}
        ${open ? nothing : html`<span class="digest">${digest(group, state.inputs)}</span>`}
      </summary>
      ${keys.map((key) => fieldView(key, { store, commands, problem: told.includes(key) ? problems[key] : undefined }))}
    </details>
  `;
}

function shelfView({ shelf, host }: State, commands: Commands) {
  return html`
    <div class="shelf">
      <p class="note">Tools and prices: ${shelf.from}</p>
      ${host === "ready" ? button("Read again", commands.readShelf, { size: "small" }) : nothing}
    </div>
    ${
      shelf.problems.length > 0
        ? html`<ul class="trouble">${shelf.problems.map((problem) => html`<li>${problem}</li>`)}</ul>`
        : nothing
    }
  `;
}

const PLACE_LABELS: Record<Place, string> = { "new sheet": "a new sheet", "selected cell": "the selected cell" };

/** Where to write, and the one button that does it; it stays in sight. */
export function planFooter(store: Store, commands: Commands, derived: Derived) {
  const { state } = store;
  const stopped = hindrance(state, derived);
  return html`
    <fieldset class="place">
      <legend>Insert at</legend>
      ${PLACES.map(
        (place) => html`
          <label>
            <input
              type="radio"
              name="place"
              .checked=${state.place === place}
              @change=${() => store.change((s) => ({ ...s, place }))}
            >
            ${PLACE_LABELS[place]}
          </label>
        `,
      )}
    </fieldset>
    <div class="insert">
      ${totals(derived, state)}
      ${button("Insert stage table", () => insert(store, commands, derived), {
        id: "insert",
        appearance: "primary",
        stopped,
        describedBy: "insert-why",
      })}
    </div>
    <p id="insert-why" class="why">${stopped}</p>
  `;
}

function totals({ estimate }: Derived, state: State) {
  if (!estimate) return nothing;
  const { inputs } = state;
  const found = carried(state) && learnedOf(state, estimate);
  return html`
    <p class="total">
      <strong>${money(estimate.price)}</strong>
      <span>${money(estimate.perArea)} per ${unitOf("area", inputs.units)}</span>
      ${typeof found === "object" ? html`<span>At ${confidenceIn(state)}: <strong>${money(found.price)}</strong></span>` : nothing}
    </p>
  `;
}

/** With problems left, the first field that has one is where to go on. */
function insert(store: Store, commands: Commands, { firstProblem }: Derived): void {
  void commands.insertTable(store.state.place);
  if (firstProblem) document.getElementById(fieldId(firstProblem))?.focus();
}
