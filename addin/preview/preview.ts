/**
 * The embedded spreadsheet with the shipped functions in it. The pane beside it talks to it through the real office.js.
 */
import type { FUniver } from "@univerjs/core/facade";
import { followSelectedCell } from "./cell-message";
import { ChartLayer } from "./chart-layer";
import { placedCharts } from "./chart-models";
import { GridHost } from "./grid-host";
import * as modules from "./host/browser-modules";
import { Engine } from "./host/engine";
import { EACH_BLANK, ErrorMessages, type FunctionsJson, gridFunctions, recordFunctions } from "./host/functions";
import { restore, type SavedWorkbook } from "./host/saved";
import { createSheets } from "./univer-sheet";
import { element, previewOf } from "./window";

const NAMESPACE = "GRIT";
const XLSX_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
const LINK_MS = 60_000;

const preview = previewOf(window);
preview.ready = start();
preview.ready.catch(sayThatItFailed);

async function start(): Promise<void> {
  const messages = new ErrorMessages();
  const demo = fetch("demo.json").then((response) => response.json() as Promise<SavedWorkbook>);
  const formula = await loadFunctions(messages);
  const saved = await demo;
  const sheets = createSheets({ container: element("grid"), darkMode: preview.theme === "dark", formula });
  const engine = new Engine(modules, sheets.api, { messages, saved: saved.cells });
  const host = new GridHost(engine, sheets);
  restore(host, saved);
  host.onOpen(download);
  preview.provideHost(host);
  preview.followTheme((theme) => sheets.api.toggleDarkMode(theme === "dark"));
  followSelectedCell(host, element("cell-message"));
  await drawn(sheets.api);
  element("starting").hidden = true;
  const charts = new ChartLayer(sheets, () => placedCharts(host, engine.active));
  host.onModelChange(() => charts.redraw());
  charts.redraw();
}

/** There is no other window here for a workbook that the add-in opens: it becomes a file. */
function download(file: Uint8Array): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([file as BlobPart], { type: XLSX_TYPE }));
  link.download = "Book1 copy.xlsx";
  link.click();
  // The browser has taken hold of it by then.
  setTimeout(() => URL.revokeObjectURL(link.href), LINK_MS);
}

/** Functions have to be registered before there is a workbook. */
async function loadFunctions(messages: ErrorMessages) {
  const json = fetch("../functions.json").then((response) => response.json() as Promise<FunctionsJson>);
  const { functions, global } = recordFunctions();
  Object.assign(window, { CustomFunctions: global });
  await loadScript("../functions.js");
  // The tests' mode, in which a function that takes blank cells differently by host is an error of the page.
  const blankAs = new URLSearchParams(location.search).get("blanks") === EACH_BLANK ? EACH_BLANK : null;
  const onDisagreement = (what: string) => console.error(what);
  return gridFunctions(modules, functions, await json, { namespace: NAMESPACE, blankAs, messages, onDisagreement });
}

function loadScript(src: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = src;
    script.onload = () => resolve();
    script.onerror = () => reject(new Error(`${src} did not load`));
    document.head.append(script);
  });
}

/** The grid is drawn a moment after the workbook is there. */
function drawn(api: FUniver): Promise<void> {
  return new Promise((resolve) => {
    api.addEvent(api.Event.LifeCycleChanged, ({ stage }) => {
      if (stage >= api.Enum.LifecycleStages.Rendered) resolve();
    });
  });
}

function sayThatItFailed(error: unknown): void {
  const notice = element("starting");
  notice.setAttribute("role", "alert");
  notice.textContent = `Couldn't start the spreadsheet: ${error instanceof Error ? error.message : error}. Reload the page.`;
}
