/** Starts the pane: the state it begins with, the views, the ribbon's commands and the theme. */
import "@fluentui/web-components/tab/define.js";
import "@fluentui/web-components/tablist/define.js";
import type { Tablist } from "@fluentui/web-components/tablist/class.js";
import { html, nothing, render } from "lit";
import { watchWorkbook } from "../sheet";
import { type Commands, commandsOn } from "./actions";
import { noticeOf, showNotice } from "./command-notice";
import { functionsView } from "./functions/view";
import { jobsView } from "./jobs/view";
import { goToView } from "./messages";
import { messages } from "./parts/message";
import { isLessonDue } from "./plan/calibration";
import { derive } from "./plan/derived";
import { storeDraft, storedDraft, wasWelcomed, withDraft } from "./plan/draft";
import { planFooter, planView } from "./plan/view";
import { shareView } from "./share/view";
import { type State, startState, VIEWS, type View } from "./state";
import { Store } from "./store";
import { followTheme } from "./theme";

const root = document.getElementById("pane")!;
const store = new Store(firstState(), show);
const commands: Commands = commandsOn(store);

function firstState(): State {
  const state = { ...startState(), welcome: !wasWelcomed(), view: viewInHash() ?? "plan" };
  const draft = storedDraft();
  return draft === null ? state : withDraft(state, draft);
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
  const derived = derive(state);
  const onTab = (event: Event) => {
    const word = (event.target as Tablist).activeid.replace("tab-", "");
    if (isView(word)) goTo(word);
  };
  return html`
    <header>
      <h1 class="visually-hidden">Gritledger</h1>
      <fluent-tablist activeid="tab-${state.view}" aria-label="Views" @change=${onTab}>
        ${(Object.keys(VIEWS) as View[]).map(
          (view) => html`<fluent-tab id="tab-${view}" aria-controls="panel-${view}">${VIEWS[view]}</fluent-tab>`,
        )}
      </fluent-tablist>
    </header>
    <main>
      ${state.host === "absent" ? notInHost() : nothing}
      <div id="panel-plan" role="tabpanel" aria-labelledby="tab-plan" ?hidden=${state.view !== "plan"}>
        ${planView(store, commands, derived)}
      </div>
      <div id="panel-functions" role="tabpanel" aria-labelledby="tab-functions" ?hidden=${state.view !== "functions"}>
        ${functionsView(store, commands)}
      </div>
      <div id="panel-jobs" role="tabpanel" aria-labelledby="tab-jobs" ?hidden=${state.view !== "jobs"}>
        ${jobsView(store, commands)}
      </div>
      <div id="panel-share" role="tabpanel" aria-labelledby="tab-share" ?hidden=${state.view !== "share"}>
        ${shareView(store, commands)}
      </div>
    </main>
    <footer>
      ${messages(state, commands)} ${state.view === "plan" ? planFooter(store, commands, derived) : nothing}
    </footer>
  `;
}

const notInHost = () => html`
  <p class="remark">
    This page is not inside the spreadsheet. You can plan and look functions up here; to write into a workbook, open the
    pane from the Gritledger buttons of the spreadsheet.
  </p>
`;

let questionBefore: State["question"] = null;
let focusBefore: Element | null = null;

function show(state: State): void {
  if (state.question && !questionBefore) focusBefore = document.activeElement;
  render(page(state), root);
  storeDraft(state);
  if (state.question && !questionBefore) document.getElementById("answer-no")?.focus();
  if (!state.question && questionBefore) (focusBefore as HTMLElement | null)?.focus();
  questionBefore = state.question;
  keepUp(state);
}

/** What a view needs and does not have yet. */
function keepUp(state: State): void {
  const { view, catalogue, host, busy, shelf, inputs, jobs, share } = state;
  if (view === "functions" && catalogue === "unread") queueMicrotask(commands.loadCatalogue);
  if (host !== "ready" || busy || state.question) return;
  if (shelf.units !== inputs.units) soon(commands.readShelf);
  if (view === "plan" && !state.followed) soon(commands.lookAgain);
  if (isLessonDue(state)) soon(commands.readLesson);
  if (view === "jobs" && !jobs.looked) soon(commands.jobs.look);
  if (view === "share" && !share.looked) soon(commands.share.look);
}

/** Nobody asked for it, so nobody is told where another command has begun by then; the next change asks again. */
const soon = (command: () => unknown) =>
  queueMicrotask(() => {
    if (!store.state.busy && !store.state.question) command();
  });

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
  await commands.idle();
  await commands.insertTable("selected cell");
  await sayWithoutPane("plan");
}

async function recalculate(): Promise<void> {
  await commands.idle();
  await commands.recalculate();
  await sayWithoutPane(store.state.view);
}

// Outside the spreadsheet the client library may never answer; if it still does after this, the pane goes on as usual.
const HOST_PATIENCE = 5000;

async function start(): Promise<void> {
  root.replaceChildren();
  show(store.state);
  followTheme();
  addEventListener("hashchange", () => goTo(viewInHash() ?? "plan"));
  if (typeof Office === "undefined") return setHost("absent");
  const giveUp = setTimeout(() => setHost("absent"), HOST_PATIENCE);
  const { host } = await Office.onReady();
  clearTimeout(giveUp);
  if (host !== Office.HostType.Excel) return setHost("absent");
  associate("insertHere", insertHere);
  associate("recalculate", recalculate);
  setHost("ready");
  await commands.readShelf();
  await commands.readNotation();
  addEventListener("focus", () => void commands.lookAgain());
  // A host that does not tell of changes is asked when the plan is shown, and before it is written.
  await watchWorkbook(commands.workbookChanged).catch(() => undefined);
}

const setHost = (host: State["host"]) => store.change((state) => ({ ...state, host }));

void start();
