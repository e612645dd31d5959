/** The Functions view: what the library has, how each function is called, and where its formula comes from. */
import { html, nothing } from "lit";
import { repeat } from "lit/directives/repeat.js";
import { button } from "../parts/button";
import { byTopic, type Entry, matching, readable, signature, type Topic } from "./catalogue";
import type { FunctionsContext } from "./context";
import { installationView } from "./parts/installation";
import { mathView } from "./parts/math";
import { repairView } from "./parts/repair";
import { FUNCTIONS } from "./texts";

export function functionsView(context: FunctionsContext) {
  const { functions, commands } = context;
  const { catalogue, search } = functions.state;
  if (!catalogue) return html`<p class="note">${FUNCTIONS.reading}</p>`;
  if ("trouble" in catalogue) {
    return html`
      <p class="trouble">${catalogue.trouble}</p>
      <div class="row">${button(FUNCTIONS.tryAgain, commands.loadCatalogue)}</div>
    `;
  }
  const found = matching(catalogue.entries, search);
  const type = (event: Event) => {
    const { value } = event.target as HTMLInputElement;
    functions.change((now) => ({ ...now, search: value }));
  };
  return html`
    ${mathView(context)}
    <div class="search">
      <label for="search">${FUNCTIONS.search}</label>
      <input id="search" type="search" autocomplete="off" placeholder=${FUNCTIONS.searchHint} .value=${search} @input=${type}>
      <p class="note" role="status">${FUNCTIONS.found(found.length, catalogue.entries.length)}</p>
    </div>
    ${byTopic(found).map((topic) => topicView(topic, context))}
    ${repairView(context)} ${installationView(context)}
  `;
}

const topicView = ({ title, entries }: Topic, context: FunctionsContext) => html`
  <section class="block">
    <h2>${title} <span class="count">${entries.length}</span></h2>
    ${repeat(
      entries,
      (entry) => entry.id,
      (entry) => entryView(entry, context),
    )}
  </section>
`;

function entryView(entry: Entry, { pane, commands }: FunctionsContext) {
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
            <dt>${name}${optional ? html` <span class="note">${FUNCTIONS.optional}</span>` : nothing}</dt>
            <dd>${readable(text)}</dd>
          `,
        )}
        <dt>${FUNCTIONS.gives}</dt>
        <dd>${readable(returns)}</dd>
      </dl>
      <h4>${FUNCTIONS.examples(examples.length)}</h4>
      ${examples.map(
        ({ call, value, source: from }) => html`
          <p class="code">${call}<br>→ ${value}</p>
          <p class="note">${from}</p>
        `,
      )}
      <h4>${FUNCTIONS.errors}</h4>
      ${fails.map(
        ({ call, code, message }) => html`
          <p class="code">${call}<br>→ ${code}</p>
          <p class="note">${message}</p>
        `,
      )}
      <h4>${FUNCTIONS.source}</h4>
      <p>${source}</p>
      ${
        first && pane.store.state.host === "ready"
          ? button(FUNCTIONS.insert, () => commands.insertCall(first.call))
          : nothing
      }
    </details>
  `;
}
