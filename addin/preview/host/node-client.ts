/** The client library's file for Excel in bare Node, and the loader's part played for it. All of this is undocumented. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { createContext, runInContext, Script } from "node:vm";
import { External } from "./external";
import type { Host } from "./host";

const OFFICE_JS = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));
const CLIENT_FILES = ["en-us/office_strings.js", "excel-win32-16.01.js"];

const clientScripts = CLIENT_FILES.map(
  (file) => new Script(readFileSync(join(OFFICE_JS, file), "utf8"), { filename: file }),
);

interface Client {
  readonly Excel: typeof Excel;
  readonly OfficeExtension: typeof OfficeExtension & Internals;
  /** With the context, but without what only a page that loads office.js itself has, such as `onReady`. */
  readonly Office: typeof Office;
}

interface ClientWindow extends Omit<Client, "Office"> {
  readonly OSF: Osf;
  readonly OfficeExt: HostNames;
  readonly Microsoft: { readonly Office: { readonly WebExtension: typeof Office } };
  external: External;
}

/** The client's own members without public types; its version is pinned. */
interface Internals {
  readonly SessionBase: { new (): object; _overrideSession: object };
  readonly GenericEventRegistration: { getGenericEventRegistration(controlId: string): object };
  _testSetRichApiMessageReadyImpl(ready: () => unknown): void;
  _testTriggerRichApiMessageEvent(message: { entries: unknown[] }): void;
  readonly CoreUtility: { _createPromiseFromResult(result: unknown): unknown };
}

/** What the client's loader keeps between its parts: the loader itself needs a page, and its part is played here. */
interface Osf {
  _OfficeAppFactory: object;
  AppTelemetry: object | undefined;
  readonly InitializationHelper: { new (hostInfo: object, ...others: unknown[]): InitializationHelper };
}

/** Where the client asks what it runs in. */
interface HostNames {
  HostName: { Host: { getInstance(): Record<"getHost" | "getPlatform" | "getDiagnostics", () => unknown> } };
}

interface InitializationHelper {
  getAppContext(window: object, got: (context: object) => void): void;
  loadAppSpecificScriptAndCreateOM(context: object, ready: () => void, path: string): void;
  prepareApiSurface(context: object): void;
}

/** A fresh copy of the client, its requests answered by this host. */
export function connect(host: Host): Client {
  const client = loadClient();
  openDocument(client, host);
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
  const { Excel } = client;
  return { Excel, OfficeExtension: office, Office: client.Microsoft.Office.WebExtension };
}

const HOST_INFO = { hostType: "excel", hostPlatform: "win32", isDialog: false, disableLogging: true, flags: 0 };

/** Makes `Office.context` as the loader does once it has found its host. */
function openDocument(client: ClientWindow, host: Host) {
  client.external = new External(host, (task) => void setTimeout(task, 0));
  const names = { getHost: () => "Excel", getPlatform: () => "PC", getDiagnostics: () => ({}) };
  client.OfficeExt.HostName = { Host: { getInstance: () => names } };
  // It would look for more of the loader.
  client.OSF.AppTelemetry = undefined;
  let context: object = {};
  let facade: object = {};
  client.OSF._OfficeAppFactory = {
    getContext: () => context,
    setContext: (given: object) => {
      context = given;
    },
    getHostFacade: () => facade,
    setHostFacade: (given: object) => {
      facade = given;
    },
    getHostInfo: () => HOST_INFO,
    getCachedSessionSettingsKey: () => "settings",
  };
  const helper = new client.OSF.InitializationHelper(HOST_INFO);
  helper.getAppContext(client, (found) => {
    helper.loadAppSpecificScriptAndCreateOM(found, () => helper.prepareApiSurface(found), "");
  });
}

/** Runs the client's host file in a window just large enough for it. */
function loadClient(): ClientWindow {
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
  return window as unknown as ClientWindow;
}
