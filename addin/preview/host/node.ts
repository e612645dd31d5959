/** The real client library in bare Node, talking to the emulated host: for tests that need no browser. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { createContext, runInContext, Script } from "node:vm";
// Gives the facade its workbook, for the types.
import type {} from "@univerjs/sheets/facade";
import { Engine } from "./engine";
import {
  type BlankAs,
  type CustomFunction,
  CustomFunctionError,
  ErrorMessages,
  type FunctionsJson,
  gridFunctions,
  recordFunctions,
} from "./functions";
import { createHost, type Host } from "./host";
import { loadModules } from "./node-modules";

export interface WorkbookOptions {
  /** The text of the shipped functions.js and functions.json. */
  readonly functionsJs?: string;
  readonly functionsJson?: string | FunctionsJson;
  /** Functions given directly instead, by id; they throw the `CustomFunctions.Error` of `customFunctions`. */
  readonly functions?: Readonly<Record<string, CustomFunction>>;
  readonly blankAs?: BlankAs;
  readonly namespace?: string;
}

export { CustomFunctionError };

const OFFICE_JS = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));
const CLIENT_FILES = ["en-us/office_strings.js", "excel-win32-16.01.js"];

const clientScripts = CLIENT_FILES.map(
  (file) => new Script(readFileSync(join(OFFICE_JS, file), "utf8"), { filename: file }),
);

export async function openWorkbook(options: WorkbookOptions = {}) {
  const { blankAs = null, namespace = "GRIT" } = options;
  const modules = loadModules();
  const messages = new ErrorMessages();
  const json = parsedJson(options.functionsJson);
  const functions = options.functions
    ? new Map(Object.entries(options.functions))
    : runFunctions(options.functionsJs ?? "");
  const grid = gridFunctions(modules, functions, json, { namespace, blankAs, messages });
  const univer = new modules.Univer({ locale: modules.LocaleType.EN_US, locales: { [modules.LocaleType.EN_US]: {} } });
  univer.registerPlugin(modules.UniverFormulaEnginePlugin, { function: grid.function });
  univer.registerPlugin(modules.UniverSheetsPlugin);
  univer.registerPlugin(modules.UniverSheetsFormulaPlugin, { description: grid.description });
  univer.registerPlugin(modules.UniverSheetsNumfmtPlugin);
  const api = modules.FUniver.newAPI(univer);
  const engine = new Engine(modules, api, { messages });
  const host = createHost(engine, namespace);
  const opened: Uint8Array[] = [];
  host.onOpen((file) => opened.push(file));
  const { Excel, OfficeExtension } = connect(host);
  /** What the user types into the grid, and all that follows from it. */
  const type = async (sheet: string, address: string, value: string | number | boolean) => {
    api.getActiveWorkbook()?.getSheetByName(sheet)?.getRange(address).setValue(value);
    await new Promise((done) => setTimeout(done, 10));
    await engine.settle();
  };
  /** The workbook as a file, as `getFileAsync` would hand it over. */
  const xlsx = () => host.file();
  const dispose = async () => {
    await engine.settle();
    univer.dispose();
  };
  return { Excel, OfficeExtension, host, engine, api, type, xlsx, opened, dispose };
}

function parsedJson(json: string | FunctionsJson | undefined): FunctionsJson {
  if (json === undefined) return { functions: [] };
  return typeof json === "string" ? (JSON.parse(json) as FunctionsJson) : json;
}

/** What the shipped script associates, run as the page would run it. */
function runFunctions(text: string) {
  const { functions, global } = recordFunctions();
  runInContext(text, createContext({ CustomFunctions: global, console }), { filename: "functions.js" });
  return functions;
}

interface Client {
  Excel: typeof Excel;
  OfficeExtension: typeof OfficeExtension & Internals;
}

/** The client's own members without public types; its version is pinned. */
interface Internals {
  readonly SessionBase: { new (): object; _overrideSession: object };
  readonly GenericEventRegistration: { getGenericEventRegistration(controlId: string): object };
  _testSetRichApiMessageReadyImpl(ready: () => unknown): void;
  _testTriggerRichApiMessageEvent(message: { entries: unknown[] }): void;
  readonly CoreUtility: { _createPromiseFromResult(result: unknown): unknown };
}

/** A fresh copy of the client, its requests answered by this host. */
function connect(host: Host): Client {
  const client = loadClient();
  const { OfficeExtension: office } = client;
  const { SessionBase, CoreUtility } = office;
  const execute = async (_data: string, _flags: number, { Body }: { Body: unknown }) => ({
    HttpStatusCode: 200,
    ErrorCode: "",
    ErrorMessage: "",
    Headers: {},
    // Through JSON, as between processes.
    Body: JSON.parse(JSON.stringify(await host.process(JSON.parse(JSON.stringify(Body))))),
  });
  class HostSession extends SessionBase {
    _resolveRequestUrlAndHeaderInfo() {
      return CoreUtility._createPromiseFromResult(null);
    }
    _createRequestExecutorOrNull() {
      return { executeAsync: execute };
    }
    getEventRegistration() {
      return office.GenericEventRegistration.getGenericEventRegistration("");
    }
  }
  SessionBase._overrideSession = new HostSession();
  office._testSetRichApiMessageReadyImpl(() => CoreUtility._createPromiseFromResult(null));
  host.onMessages((entries) => office._testTriggerRichApiMessageEvent({ entries }));
  return client;
}

/** Runs the client's host file in a window just large enough for it. */
function loadClient(): Client {
  const nothing = () => undefined;
  const element = () => ({ style: {}, setAttribute: nothing, appendChild: nothing });
  const location = {
    href: "http://localhost/",
    search: "",
    hash: "",
    protocol: "http:",
    origin: "http://localhost",
    host: "localhost",
  };
  const window: Record<string, unknown> = {
    console,
    setTimeout,
    clearTimeout,
    setInterval,
    clearInterval,
    performance,
    Promise,
    location,
    name: "",
    history: {},
    navigator: { userAgent: "node" },
    addEventListener: nothing,
    removeEventListener: nothing,
    document: {
      readyState: "complete",
      addEventListener: nothing,
      getElementsByTagName: () => [],
      getElementById: () => null,
      createElement: element,
      documentElement: {},
      head: {},
      body: {},
      cookie: "",
      location: {},
    },
  };
  for (const name of ["window", "self", "top", "parent"]) window[name] = window;
  const context = createContext(window);
  // The client's strings ask for a namespace before the client itself brings the helper for it.
  runInContext("Type = Function; Type.registerNamespace = (name) => { globalThis[name] ??= {}; };", context);
  for (const script of clientScripts) script.runInContext(context);
  return window as unknown as Client;
}
