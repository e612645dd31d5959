/** The Share view: a copy of the workbook for partners who have no add-in, first shown and then opened. */
import { html, nothing } from "lit";
import type { Commands } from "../actions";
import { button } from "../parts/button";
import { keepFocus, progressView } from "../parts/progress";
import { unavailable } from "../plan/derived";
import type { Store } from "../store";
import { choiceView } from "./parts/choice";
import { reportView } from "./parts/report";
import { chooseKind, KINDS, type Kind, openTrouble, shareTrouble } from "./state";

export function shareView(store: Store, commands: Commands) {
  const { share } = store.state;
  return html`
    <section class="card" aria-labelledby="share-title">
      <h2 id="share-title">A copy for a partner</h2>
      <p>For partners who have only a spreadsheet. This workbook stays as it is.</p>
      ${kindsView(store)}
    </section>
    ${share.kind === "price" ? choiceView(store, commands) : nothing} ${makingView(store, commands)}
  `;
}

function kindsView(store: Store) {
  const { share } = store.state;
  const choose = (kind: Kind) => store.change((state) => ({ ...state, share: chooseKind(state.share, kind) }));
  return html`
    <fieldset class="kinds">
      <legend class="visually-hidden">Kind of copy</legend>
      ${(Object.keys(KINDS) as Kind[]).map(
        (kind) => html`
          <div class="kind">
            <input
              type="radio"
              name="kind"
              id="kind-${kind}"
              aria-describedby="kind-text-${kind}"
              .checked=${share.kind === kind}
              @change=${() => choose(kind)}
            >
            <label for="kind-${kind}">${KINDS[kind].title}</label>
            <p class="note" id="kind-text-${kind}">${KINDS[kind].text}</p>
          </div>
        `,
      )}
    </fieldset>
  `;
}

/** The two steps; the second waits for the first. */
function makingView(store: Store, commands: Commands) {
  const { state } = store;
  const { made, progress } = state.share;
  const absent = unavailable(state);
  const cannotSee = absent || shareTrouble(state.share);
  const cannotOpen = absent || openTrouble(state.share);
  const start = (id: string, stopped: string, command: () => Promise<void>) => {
    // While another command runs, this one is turned away in words.
    if (stopped && !state.busy) store.change((s) => ({ ...s, message: { kind: "error", text: stopped } }));
    else void command().then(() => keepFocus(id));
  };
  return html`
    <section class="card" aria-labelledby="making-title">
      <h2 id="making-title">What will happen</h2>
      <div class="row">
        ${button("See what will happen", () => start("see-copy", cannotSee, commands.share.see), {
          id: "see-copy",
          stopped: cannotSee,
          describedBy: "share-why",
          ...(made ? {} : { appearance: "primary" as const }),
        })}
      </div>
      ${progress ? progressView(progress, commands.share.cancel) : nothing}
      ${made ? reportView(made) : nothing}
      <div class="row">
        ${button("Open the copy", () => start("open-copy", cannotOpen, commands.share.open), {
          id: "open-copy",
          stopped: cannotOpen,
          describedBy: "share-why open-note",
          ...(made ? { appearance: "primary" as const } : {}),
        })}
      </div>
      <p id="share-why" class="why">${cannotOpen}</p>
      <p id="open-note" class="note">
        It opens as a new workbook that is not saved yet: look it through, save it and send it. In the preview it is
        downloaded.
      </p>
    </section>
  `;
}
