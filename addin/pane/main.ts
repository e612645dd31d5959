/** Starts the pane: the state it begins with, the frame around the views, the ribbon's commands and the theme. */
import "@fluentui/web-components/tab/define.js";
import "@fluentui/web-components/tablist/define.js";
import type { Tablist } from "@fluentui/web-components/tablist/class.js";
import { html, noChange, nothing, render } from "lit";
import { watchWorkbook } from "../sheet";
import { noticeOf, showNotice } from "./command-notice";
import { paneOn } from "./commands";
import { keepUp } from "./keep-up";
import { followKeys } from "./keys";
import { note } from "./messages";
import { button } from "./parts/button";
import { messages } from "./parts/message";
import { storeDraft, storedDraft, wasWelcomed, withDraft } from "./plan/draft";
import { startPlan } from "./plan/state";
import { outOfDate } from "./reads";
import { goToView, type State, startState, VIEW_KEYS, VIEWS, type View } from "./state";
import { Store } from "./store";
import { FRAME } from "./texts";
import { followTheme } from "./theme";
import { viewsOn } from "./views";

const root = document.getElementById("pane")!;
const store = new Store(firstState());
const pane = paneOn(store);
const views = viewsOn(pane);

function firstState(): State {
  const plan = { ...startPlan(), welcome: !wasWelcomed() };
  const draft = storedDraft();
  const kept = draft === null ? { plan } : withDraft(plan, draft);
  const message = kept.note === undefined ? null : note(kept.note);
  return { ...startState(kept.plan), view: viewInHash() ?? "plan", message };
}

function isView(word: string): word is View {
  return word in VIEWS;
}

function viewInHash(): View | undefined {
  const word = location.hash.slice(1);
  return isView(word) ? word : undefined;
}

const goTo = (view: View) => store.change((state) => goToView(state, view));

function page(state: State) {
  const onTab = (event: Event) => {
    const word = (event.target as Tablist).activeid.replace("tab-", "");
    if (isView(word)) goTo(word);
  };
  return html`
    <header>
      <h1 class="visually-hidden">Gritledger</h1>
      <fluent-tablist activeid="tab-${state.view}" aria-label=${FRAME.views} @change=${onTab}>
        ${VIEW_KEYS.map(
          (view) => html`<fluent-tab id="tab-${view}" aria-controls="panel-${view}">${VIEWS[view]}</fluent-tab>`,
        )}
      </fluent-tablist>
    </header>
    <main>
      ${state.host === "absent" ? html`<p class="remark">${FRAME.notInHost}</p>` : nothing}
      ${VIEW_KEYS.map(
        (view) => html`
          <div id="panel-${view}" role="tabpanel" aria-labelledby="tab-${view}" ?hidden=${state.view !== view}>
            ${state.view === view ? viewOf(state) : noChange}
          </div>
        `,
      )}
    </main>
    <footer>${messages(pane)} ${views.opened[state.view]?.footer?.() ?? nothing}</footer>
  `;
}

function viewOf({ view, code }: State) {
  const opened = views.opened[view];
  if (opened) return opened.page();
  if (code[view] !== "failed") return html`<p class="note" role="status">${FRAME.loading}</p>`;
  return html`
    <p class="trouble" role="alert">${FRAME.loadFailed}</p>
    <div class="row">${button(FRAME.tryAgain, () => views.load(view))}</div>
  `;
}

let questionBefore: State["question"] = null;
let focusBefore: Element | null = null;

function show(state: State): void {
  if (state.question && !questionBefore) focusBefore = document.activeElement;
  render(page(state), root);
  if (state.question && !questionBefore) document.getElementById("answer-no")?.focus();
  if (!state.question && questionBefore) (focusBefore as HTMLElement | null)?.focus();
  questionBefore = state.question;
}

/** Ribbon and context-menu commands. The host waits for `completed`, whatever happens. */
function associate(id: string, work: () => Promise<unknown>): void {
  Office.actions.associate(id, async (event: Office.AddinCommands.Event) => {
    try {
      await work();
    } finally {
      event.completed();
    }
  });
}

/** The pane may be closed, and in an install from Excel's store it can't open itself. */
async function sayWithoutPane(view: View): Promise<void> {
  const notice = noticeOf(store.state);
  if (notice === "") return;
  goTo(view);
  await showNotice(notice);
}

async function insertHere(): Promise<void> {
  // The command may have started the pane, which is then still reading the shelf.
  await pane.idle();
  await views.plan.insertTable("selected cell");
  await sayWithoutPane("plan");
}

async function recalculate(): Promise<void> {
  await pane.idle();
  await pane.recalculate();
  await sayWithoutPane(store.state.view);
}

// Outside the spreadsheet the client library may never answer; if it still does after this, the pane goes on as usual.
const HOST_PATIENCE = 5000;

async function start(): Promise<void> {
  root.replaceChildren();
  followTheme();
  followKeys(root);
  store.subscribe(show);
  store.subscribe(({ plan }) => storeDraft(plan));
  keepUp(store, views);
  show(store.state);
  void views.load(store.state.view);
  addEventListener("hashchange", () => goTo(viewInHash() ?? "plan"));
  if (typeof Office === "undefined") return setHost("absent");
  const giveUp = setTimeout(() => setHost("absent"), HOST_PATIENCE);
  const { host } = await Office.onReady();
  clearTimeout(giveUp);
  if (host !== Office.HostType.Excel) return setHost("absent");
  associate("insertHere", insertHere);
  associate("recalculate", recalculate);
  setHost("ready");
  await views.plan.readShelf();
  await views.plan.readNotation();
  addEventListener("focus", () => store.change((state) => outOfDate(state, "plan")));
  // A host that does not report changes is asked when the plan is shown, and before it is written.
  await watchWorkbook(views.plan.workbookChanged).catch(() => undefined);
}

const setHost = (host: State["host"]) => store.change((state) => ({ ...state, host }));

void start();
