/**
 * The preview page: the embedded spreadsheet with the shipped functions in it and, beside it in a frame, the shipped
 * pane, which talks to the spreadsheet through the real office.js.
 */
import type { FUniver } from "@univerjs/core/facade";
import { followSelectedCell } from "./cell-message";
import { ChartLayer } from "./chart-layer";
import { placedCharts } from "./chart-models";
import { GridHost } from "./grid-host";
import * as modules from "./host/browser-modules";
import { Engine } from "./host/engine";
import { ErrorMessages, type FunctionsJson, gridFunctions, recordFunctions } from "./host/functions";
import type { Host } from "./host/host";
import { element, sayThatItFailed, startTheme, switchPaneWidth, switchTheme, type Theme } from "./page";
import { createSheets } from "./univer-sheet";

/** What the pane's frame and the browser tests find in this window. */
export interface GritPreview {
  host?: Host;
  theme: Theme;
  /** Settles when the grid is drawn and the pane has its host. */
  ready: Promise<void>;
}

declare global {
  interface Window {
    gritPreview?: GritPreview;
  }
}

const NAMESPACE = "GRIT";

const asked = new URLSearchParams(location.search);
const preview: GritPreview = { theme: startTheme(asked), ready: start() };
window.gritPreview = preview;
preview.ready.catch((error) => sayThatItFailed(element("starting"), error));

async function start(): Promise<void> {
  const messages = new ErrorMessages();
  const formula = await loadFunctions(messages);
  const sheets = createSheets({ container: element("grid"), darkMode: preview.theme === "dark", formula });
  const engine = new Engine(modules, sheets.api, { messages });
  const host = new GridHost(engine, sheets);
  preview.host = host;
  const pane = element<HTMLIFrameElement>("pane");
  switchTheme(element("theme"), preview.theme, (theme) => {
    preview.theme = theme;
    sheets.api.toggleDarkMode(theme === "dark");
    // Excel tells a pane of no change of theme either: the pane looks when it gets the focus.
    pane.contentWindow?.dispatchEvent(new Event("focus"));
  });
  switchPaneWidth(element("pane-width"), asked);
  followSelectedCell(host, element("cell-message"));
  const opened = openPane(pane);
  await drawn(sheets.api);
  element("starting").hidden = true;
  const charts = new ChartLayer(sheets, () => placedCharts(host, engine.active));
  host.onModelChange(() => charts.redraw());
  await opened;
}

/** The grid is drawn a moment after the workbook is there. */
function drawn(api: FUniver): Promise<void> {
  return new Promise((resolve) => {
    api.addEvent(api.Event.LifeCycleChanged, ({ stage }) => {
      if (stage >= api.Enum.LifecycleStages.Rendered) resolve();
    });
  });
}

async function openPane(frame: HTMLIFrameElement): Promise<void> {
  await new Promise((resolve) => {
    frame.addEventListener("load", resolve, { once: true });
    frame.src = "pane.html";
  });
}

async function loadFunctions(messages: ErrorMessages) {
  const json = fetch("../functions.json").then((response) => response.json() as Promise<FunctionsJson>);
  const { functions, global } = recordFunctions();
  Object.assign(window, { CustomFunctions: global });
  await loadScript("../functions.js");
  return gridFunctions(modules, functions, await json, { namespace: NAMESPACE, blankAs: null, messages });
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
