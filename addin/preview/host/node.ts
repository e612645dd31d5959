/** The real client library in bare Node, talking to the emulated host: for tests that need no browser. */
import { createContext, runInContext } from "node:vm";
// Gives the facade its workbook, for the types.
import type {} from "@univerjs/sheets/facade";
import { Engine } from "./engine";
import {
  type BlankAs,
  type CustomFunction,
  type EACH_BLANK,
  ErrorMessages,
  type FunctionsJson,
  gridFunctions,
  recordFunctions,
} from "./functions";
import { createHost } from "./host";
import { connect } from "./node-client";
import { loadModules } from "./node-modules";
import { restore, type SavedWorkbook } from "./saved";

export interface WorkbookOptions {
  /** The text of the shipped functions.js and functions.json. */
  readonly functionsJs?: string;
  readonly functionsJson?: string | FunctionsJson;
  /** Functions given directly instead, by id; they throw the `CustomFunctions.Error` of `customFunctions`. */
  readonly functions?: Readonly<Record<string, CustomFunction>>;
  readonly blankAs?: BlankAs | typeof EACH_BLANK;
  readonly namespace?: string;
  /** The workbook to open; without it a new one. */
  readonly saved?: SavedWorkbook;
}

export async function openWorkbook(options: WorkbookOptions = {}) {
  const { blankAs = null, namespace = "GRIT" } = options;
  const modules = loadModules();
  const messages = new ErrorMessages();
  const json = parsedJson(options.functionsJson);
  const given = options.functions;
  // Looked up at every call, as the shipped script does it.
  const functions = given
    ? new Map(Object.keys(given).map((id): [string, CustomFunction] => [id, (...args) => given[id]!(...args)]))
    : runFunctions(options.functionsJs ?? "");
  const disagreements: string[] = [];
  const onDisagreement = (what: string) => disagreements.push(what);
  const grid = gridFunctions(modules, functions, json, { namespace, blankAs, messages, onDisagreement });
  const univer = new modules.Univer({ locale: modules.LocaleType.EN_US, locales: { [modules.LocaleType.EN_US]: {} } });
  univer.registerPlugin(modules.UniverFormulaEnginePlugin, { function: grid.function });
  univer.registerPlugin(modules.UniverSheetsPlugin);
  univer.registerPlugin(modules.UniverSheetsFormulaPlugin, { description: grid.description });
  univer.registerPlugin(modules.UniverSheetsNumfmtPlugin);
  const api = modules.FUniver.newAPI(univer);
  const engine = new Engine(modules, api, { messages, saved: options.saved?.cells });
  const host = createHost(engine, namespace);
  if (options.saved) restore(host, options.saved);
  const opened: Uint8Array[] = [];
  host.onOpen((file) => opened.push(file));
  const { Excel, OfficeExtension, Office } = connect(host);
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
    if (disagreements.length > 0) throw new Error(disagreements.join("\n"));
  };
  return { Excel, OfficeExtension, Office, host, engine, api, type, xlsx, opened, dispose };
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
