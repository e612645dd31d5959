/**
 * Everything the two manifests say, once: names, texts, addresses and commands. The XML and the JSON are both made
 * from this file by `build/manifests.mjs`, so they cannot disagree.
 */
import { readFileSync } from "node:fs";

const packageFile = new URL("../package.json", import.meta.url);

export const VERSION = JSON.parse(readFileSync(packageFile, "utf8")).version;

/** Ids of the add-in; in a file of their own, which the pane reads too. */
const IDS = JSON.parse(readFileSync(new URL("ids.json", import.meta.url), "utf8"));

export const DEVELOPMENT_HOST = "https://localhost:3000";

/**
 * The released add-in and the copy a developer sideloads are two add-ins to Excel, so both may be installed at once.
 * The namespaces must differ too: a workbook stores `namespace.name`, and Excel cannot tell which of two add-ins
 * a shared namespace belongs to, so a developer's half-finished function would answer in a real quote. A page takes
 * its namespace from its own address (`pane.html?namespace=GRITDEV`), and writes formulas with that one.
 */
export const COPIES = {
  released: {
    id: IDS.released,
    name: "Gritledger",
    namespace: "GRIT",
    page: "pane.html",
  },
  development: {
    id: IDS.development,
    name: "Gritledger (dev)",
    namespace: "GRITDEV",
    page: "pane.html?namespace=GRITDEV",
  },
};

/** Files beside the page, relative to the host. */
export const FILES = {
  script: "functions.js",
  metadata: "functions.json",
  about: "about.html",
  support: "support.html",
  privacy: "privacy.html",
  terms: "terms.html",
  help: "help/functions.html",
};

export const PROVIDER = "Gritledger contributors";
export const LOCALE = "en-US";
export const ACCENT = "#2F6B5E";

export const SUMMARY = "Plan the stages, tooling, hours and price of a concrete floor in your own quote.";
export const DESCRIPTION =
  "For contractors who grind, hone and polish concrete floors. Functions for grit, coverage, tooling, liquids and " +
  "price, plus a stage table of live formulas in the workbook you already quote with.";

export const WELCOME = {
  title: "Gritledger is ready",
  text: (namespace) =>
    `Choose Home > Stage plan to plan and price a floor. Type =${namespace}. in a cell to see the functions.`,
};

/**
 * SharedRuntime 1.1: one page for pane, ribbon and functions.
 * CustomFunctionsRuntime 1.3: the functions; the first set that volume-licensed Excel has as well (LTSC 2021).
 * ExcelApi 1.9: page layout and `Range.copyFrom`; charts, names, tables and drop-down lists came earlier.
 */
export const REQUIREMENTS = [
  { name: "SharedRuntime", version: "1.1" },
  { name: "CustomFunctionsRuntime", version: "1.3" },
  { name: "ExcelApi", version: "1.9" },
];

/**
 * The one pane that a shared runtime has. Excel itself opens it: since February 2026 it ignores an add-in from the
 * Marketplace that asks to be shown (`Office.addin.showAsTaskpane`). Its other views are tabs inside.
 */
const OPEN_PANE = {
  action: "openPane",
  opensPane: true,
  label: "Stage plan",
  tip: "Open the pane: plan and price a floor, look up functions, check past jobs, share a copy.",
  icon: "plan",
};

/** Commands that work without the pane. Each calls the function that the page associates with its action. */
const RECALCULATE = {
  action: "recalculate",
  opensPane: false,
  label: "Recalculate",
  tip: "Recalculate every formula in this workbook, for example after opening an old quote.",
  icon: "recalculate",
};
const INSERT_HERE = {
  action: "insertHere",
  opensPane: false,
  label: "Insert plan, lines here",
  tip: "Insert a stage table on a new sheet, and its lines at the selected cell.",
  icon: "insert",
};

/** The group on Home, and the submenu on a cell's own menu. Each bears the add-in's name. */
export const GROUP = { id: "Floors", commands: [OPEN_PANE, RECALCULATE] };
export const CELL_MENU = {
  id: "cellMenu",
  tip: "Plan a floor, or insert a stage table at this cell.",
  commands: [OPEN_PANE, INSERT_HERE],
};

export const ADDIN_COMMANDS = [...new Set([...GROUP.commands, ...CELL_MENU.commands])];

/** Pixel sizes: of a command on the ribbon, and of the add-in itself in the host's lists. */
export const COMMAND_ICON_SIZES = [16, 32, 80];
export const APP_ICON_SIZES = [16, 32, 64, 80, 128];

export const iconFile = (name, size) => `icons/${name}-${size}.png`;
/** What the JSON manifest's package carries: 192 px in color, 32 px in white on nothing. */
export const PACKAGE_ICONS = { color: iconFile("icon", 192), outline: iconFile("outline", 32) };
