/** The Functions view: what the library has, how each function is called, and where its formula comes from. */
import { html, nothing } from "lit";
import { repeat } from "lit/directives/repeat.js";
import type { Commands } from "../actions";
import { button } from "../parts/button";
import type { State } from "../state";
import type { Store } from "../store";
import { byRoom, type Entry, matching, type Room, readable, signature } from "./catalogue";
import { workingView } from "./parts/math";
import { repairView } from "./parts/repair";

export function functionsView(store: Store, commands: Commands) {
  const { catalogue, search } = store.state;
  if (typeof catalogue === "string") return html`<p class="note">Reading the list of functions…</p>`;
  if ("trouble" in catalogue) {
    return html`
      <p class="trouble">${catalogue.trouble}</p>
      ${button("Try again", commands.loadCatalogue)}
    `;
  }
  const found = matching(catalogue.entries, search);
  const type = (event: Event) => {
    const text = (event.target as HTMLInputElement).value;
    store.change((state) => ({ ...state, search: text }));
  };
  return html`
    ${workingView(store, commands)}
    <div class="search">
      <label for="search">Find a function</label>
      <input id="search" type="search" autocomplete="off" placeholder="name, trade word or argument" .value=${search} @input=${type}>
      <p class="note" role="status">${countText(found.length, catalogue.entries.length)}</p>
    </div>
    ${byRoom(found).map((room) => roomView(room, store.state, commands))}
    ${repairView(store, commands)}
  `;
}

function countText(found: number, all: number): string {
  if (found === all) return `${all} functions; in a cell, each begins with GRIT.`;
  return found === 0 ? `None of ${all} functions fits; try fewer words.` : `${found} of ${all} functions`;
}

const roomView = ({ title, entries }: Room, state: State, commands: Commands) => html`
  <section class="room">
    <h2>${title} <span class="count">${entries.length}</span></h2>
    ${repeat(
      entries,
      (entry) => entry.id,
      (entry) => entryView(entry, state, commands),
    )}
  </section>
`;

function entryView(entry: Entry, { host }: State, commands: Commands) {
  const { id, summary, remarks, params, returns, examples, fails, source } = entry;
  const [first] = examples;
  return html`
    <details class="card function" id="function-${id}">
      <summary><h3>${id}</h3><span class="digest">${summary}</span></summary>
      <p>${summary}</p>
      ${remarks ? html`<p>${remarks}</p>` : nothing}
      <p class="code">${signature(entry)}</p>
      <dl class="params">
        ${params.map(
          ({ name, text, optional }) => html`
            <dt>${name}${optional ? html` <span class="note">optional</span>` : nothing}</dt>
            <dd>${readable(text)}</dd>
          `,
        )}
        <dt>Gives</dt>
        <dd>${readable(returns)}</dd>
      </dl>
      <h4>${examples.length === 1 ? "Example" : "Examples"}</h4>
      ${examples.map(
        ({ call, value, source: from }) => html`
          <p class="code">${call}<br>→ ${value}</p>
          <p class="note">${from}</p>
        `,
      )}
      <h4>Errors</h4>
      ${fails.map(
        ({ call, code, message }) => html`
          <p class="code">${call}<br>→ ${code}</p>
          <p class="note">${message}</p>
        `,
      )}
      <h4>Source</h4>
      <p>${source}</p>
      ${
        first && host === "ready"
          ? button("Insert at the selected cell", () => commands.insertCall(first.call))
          : nothing
      }
    </details>
  `;
}
