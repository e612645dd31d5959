/**
 * The checks that the host's own validator does only online, done here on the XML manifest's text.
 * `node manifest/build/check-xml.mjs dist/manifest.xml …` prints what is wrong and fails if anything is.
 *
 * The order of the elements and the limits are those of Microsoft's published schema of Office add-in manifests
 * ([MS-OWEMXML]) and of the reference pages of its elements.
 */
import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { DOMParser, onErrorStopParsing } from "@xmldom/xmldom";
import { ADDIN_COMMANDS, COMMAND_ICON_SIZES } from "../facts.mjs";

const ICONS = join(dirname(fileURLToPath(import.meta.url)), "../icons");
// What the page runs; the other commands open the pane.
const ACTIONS = ADDIN_COMMANDS.filter(({ opensPane }) => !opensPane).map(({ action }) => action);

const MAX_RESID = 32;
const MAX_NAMESPACE = 32;
const MAX_SHORT = 125;
const MAX_LONG = 250;
const MAX_COMMANDS = 5;
const MAX_ID = 125;
const MAX_FUNCTION_NAME = 64;

const XSI = "http://www.w3.org/2001/XMLSchema-instance";
const MAIN = "http://schemas.microsoft.com/office/appforoffice/1.1";
const OVERRIDES = "http://schemas.microsoft.com/office/taskpaneappversionoverrides";
const BASIC = "http://schemas.microsoft.com/office/officeappbasictypes/1.0";

/**
 * Parent → its children in the order the schema wants; `?` may be absent, `+` may come more than once.
 * Elements of which each type has children of its own are named with it.
 */
const CHILDREN = {
  OfficeApp:
    "Id Version ProviderName DefaultLocale DisplayName Description IconUrl HighResolutionIconUrl SupportUrl " +
    "AppDomains? Hosts Requirements DefaultSettings Permissions VersionOverrides",
  AppDomains: "AppDomain+",
  "OfficeApp/Hosts": "Host",
  Requirements: "Sets",
  Sets: "Set+",
  DefaultSettings: "SourceLocation",
  VersionOverrides: "Hosts Resources",
  "VersionOverrides/Hosts": "Host",
  "VersionOverrides/Hosts/Host": "Runtimes AllFormFactors DesktopFormFactor",
  Runtimes: "Runtime",
  AllFormFactors: "ExtensionPoint:CustomFunctions",
  "ExtensionPoint:CustomFunctions": "Script Page Metadata Namespace",
  Script: "SourceLocation",
  Page: "SourceLocation",
  Metadata: "SourceLocation",
  DesktopFormFactor: "GetStarted FunctionFile ExtensionPoint:PrimaryCommandSurface ExtensionPoint:ContextMenu",
  GetStarted: "Title Description LearnMoreUrl",
  "ExtensionPoint:PrimaryCommandSurface": "OfficeTab",
  OfficeTab: "Group",
  Group: "Label Icon Control:Button+",
  "ExtensionPoint:ContextMenu": "OfficeMenu",
  OfficeMenu: "Control:Menu",
  "Control:Button": "Label Supertip Icon Action",
  "Control:Menu": "Label Supertip Icon Items",
  Items: "Item+",
  Item: "Label Supertip Icon Action",
  Supertip: "Title Description",
  Icon: "Image+",
  "Action:ShowTaskpane": "TaskpaneId SourceLocation",
  "Action:ExecuteFunction": "FunctionName",
  Resources: "Images Urls ShortStrings LongStrings",
  Images: "Image+",
  Urls: "Url+",
  ShortStrings: "String+",
  LongStrings: "String+",
};

/** Which list of resources an element's resid must point into. */
const RESOURCE_OF = {
  Runtime: "Urls",
  SourceLocation: "Urls",
  FunctionFile: "Urls",
  LearnMoreUrl: "Urls",
  Image: "Images",
  Namespace: "ShortStrings",
  Label: "ShortStrings",
  Title: "ShortStrings",
  Description: "LongStrings",
};

const childrenOf = (element) => [...element.childNodes].filter((node) => node.nodeType === node.ELEMENT_NODE);
const all = (root, name) => [...root.getElementsByTagNameNS("*", name)];
const value = (element) => element.getAttribute("DefaultValue") ?? "";
const typeOf = (element) => element.getAttributeNS(XSI, "type");

const TYPED = ["ExtensionPoint", "Control", "Action"];
const nameOf = (element) =>
  TYPED.includes(element.localName) ? `${element.localName}:${typeOf(element)}` : element.localName;

/** The longest known path that ends at this element: `Hosts` means different things in different parents. */
function ruleFor(path) {
  const ends = path.map((_, i) => path.slice(i).join("/"));
  return CHILDREN[ends.find((end) => CHILDREN[end])];
}

function* structureProblems(element, path) {
  const rule = ruleFor(path);
  if (!rule) {
    if (TYPED.includes(element.localName)) yield `${path.at(-1)} is of a type that is not known here`;
    return;
  }
  const found = childrenOf(element).map(nameOf);
  const slots = rule.split(" ");
  const pattern = slots.map((slot) => {
    // An action may be of any type that has children here.
    const name = slot.replace(/[?+]$/, "").replace(/^Action$/, "Action:\\w+");
    return slot.endsWith("?") ? `(${name} )?` : slot.endsWith("+") ? `(${name} )+` : `${name} `;
  });
  if (!new RegExp(`^${pattern.join("")}$`).test(found.map((name) => `${name} `).join(""))) {
    yield `${path.at(-1)} must hold ${slots.join(", ")} in this order; it holds ${found.join(", ") || "nothing"}`;
  }
  for (const child of childrenOf(element)) yield* structureProblems(child, [...path, nameOf(child)]);
}

function* vocabularyProblems(root) {
  for (const element of [root, ...all(root, "*")]) {
    const inOverrides = element.localName === "VersionOverrides" || isInside(element, "VersionOverrides");
    const inBasic = ["Image", "Images", "Url", "Urls", "String", "ShortStrings", "LongStrings"];
    const expected = inBasic.includes(element.localName) ? BASIC : inOverrides ? OVERRIDES : MAIN;
    if (element.namespaceURI !== expected) yield `${element.localName} must be in the vocabulary ${expected}`;
  }
}

const isInside = (element, name) => {
  for (let parent = element.parentNode; parent; parent = parent.parentNode) if (parent.localName === name) return true;
  return false;
};

/** List name → id → value. */
function resourcesOf(root) {
  const lists = ["Images", "Urls", "ShortStrings", "LongStrings"];
  const entries = (list) => all(root, list).flatMap(childrenOf);
  return new Map(lists.map((list) => [list, entries(list).map((entry) => [entry.getAttribute("id"), value(entry)])]));
}

function* resourceProblems(root) {
  const resources = resourcesOf(root);
  const ids = [...resources.values()].flat().map(([id]) => id);
  for (const id of ids.filter((id, i) => ids.indexOf(id) !== i)) yield `the resource ${id} is given twice`;
  for (const id of ids.filter((id) => id.length > MAX_RESID)) {
    yield `the resource id ${id} is longer than ${MAX_RESID} characters`;
  }
  const used = new Set();
  for (const element of all(root, "*").filter((element) => element.hasAttribute("resid"))) {
    const resid = element.getAttribute("resid");
    const list = RESOURCE_OF[element.localName];
    used.add(resid);
    if (!resources.get(list)?.some(([id]) => id === resid)) {
      yield `${element.localName} names the resource ${resid}, which is not among the ${list}`;
    }
  }
  for (const id of ids.filter((id) => !used.has(id))) yield `the resource ${id} is never used`;
}

function* sharedRuntimeProblems(root) {
  const [runtime] = all(root, "Runtime");
  const [functionFile] = all(root, "FunctionFile");
  const page = all(root, "Page").flatMap(childrenOf)[0];
  const resids = [runtime, page, functionFile].map((element) => element?.getAttribute("resid"));
  if (new Set(resids).size !== 1) {
    yield `Runtime, Page and FunctionFile must name one page; they name ${resids.join(", ")}`;
  }
  if (runtime?.getAttribute("lifetime") !== "long") yield "the shared runtime's lifetime must be long";
  const pane = all(root, "DefaultSettings").flatMap(childrenOf).map(value)[0];
  const url = new Map(resourcesOf(root).get("Urls")).get(resids[0]);
  if (pane !== url) yield `the pane's page is ${pane}, but the runtime's is ${url}`;
  const panes = all(root, "Action").filter((action) => typeOf(action) === "ShowTaskpane");
  const shown = panes.flatMap((action) => all(action, "SourceLocation")).map((place) => place.getAttribute("resid"));
  for (const resid of shown.filter((resid) => resid !== resids[0])) {
    yield `a command opens ${resid}; a shared runtime has one pane, ${resids[0]}`;
  }
  const paneIds = panes.flatMap((action) => all(action, "TaskpaneId")).map((id) => id.textContent);
  if (new Set(paneIds).size > 1) yield `the commands name the panes ${paneIds.join(", ")}; a shared runtime has one`;
}

function* addressProblems(root) {
  const elements = ["IconUrl", "HighResolutionIconUrl", "SupportUrl", "Url"].flatMap((name) => all(root, name));
  const images = all(root, "Images").flatMap(childrenOf);
  const settings = all(root, "DefaultSettings").flatMap(childrenOf);
  const addresses = [...elements, ...images, ...settings].map(value);
  const domains = all(root, "AppDomain").map((element) => element.textContent);
  for (const address of [...addresses, ...domains]) {
    if (!URL.canParse(address) || new URL(address).protocol !== "https:") yield `"${address}" is not an https address`;
  }
}

function* headProblems(root) {
  const text = (name) => all(root, name)[0]?.textContent ?? "";
  if (typeOf(root) !== "TaskPaneApp") yield "the manifest must be of type TaskPaneApp";
  if (!/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i.test(text("Id"))) yield `the id "${text("Id")}" is not a GUID`;
  // Excel on the web once refused three.
  if (!/^\d{1,5}(\.\d{1,5}){3}$/.test(text("Version"))) {
    yield `the version must be four numbers; it is "${text("Version")}"`;
  }
  if (text("Permissions") !== "ReadWriteDocument") yield "Excel.run needs the permission ReadWriteDocument";
  const [host] = all(root, "Hosts").flatMap(childrenOf);
  if (host?.getAttribute("Name") !== "Workbook") yield "the host must be Workbook";
  const required = all(root, "Set").map((set) => set.getAttribute("Name"));
  for (const name of ["SharedRuntime", "CustomFunctionsRuntime"]) {
    if (!required.includes(name)) yield `the requirement set ${name} is missing`;
  }
}

function* textProblems(root) {
  const tooLong = (what, text, most) => (text.length > most ? [`${what} is ${text.length} long; at most ${most}`] : []);
  const resources = resourcesOf(root);
  for (const [id, text] of resources.get("ShortStrings")) yield* tooLong(`the short string ${id}`, text, MAX_SHORT);
  for (const [id, text] of resources.get("LongStrings")) yield* tooLong(`the long string ${id}`, text, MAX_LONG);
  const head = childrenOf(root);
  const named = (name) => head.find((element) => element.localName === name);
  yield* tooLong("ProviderName", named("ProviderName")?.textContent ?? "", MAX_SHORT);
  for (const [name, most] of [
    ["DisplayName", MAX_SHORT],
    ["Description", MAX_LONG],
  ]) {
    const element = named(name);
    if (element) yield* tooLong(name, value(element), most);
  }
  const texts = [...resources.get("ShortStrings"), ...resources.get("LongStrings")];
  for (const [id] of texts.filter(([, text]) => text.trim() === "")) yield `the string ${id} is empty`;
  const resid = all(root, "Namespace")[0]?.getAttribute("resid");
  const namespace = new Map(resources.get("ShortStrings")).get(resid) ?? "";
  if (!/^[A-Za-z][A-Za-z0-9._]*$/.test(namespace) || namespace.length > MAX_NAMESPACE) {
    yield `the namespace "${namespace}" is not one Excel takes`;
  }
}

/** Width and height of a PNG, from its header (ISO/IEC 15948, the IHDR chunk). */
export function pngSize(file) {
  const bytes = readFileSync(file);
  const isPng = bytes.subarray(0, 8).toString("hex") === "89504e470d0a1a0a";
  if (!isPng || bytes.toString("latin1", 12, 16) !== "IHDR") throw new Error(`${file} is not a PNG`);
  return { width: bytes.readUInt32BE(16), height: bytes.readUInt32BE(20) };
}

function* iconFileProblems(address, size) {
  const file = join(ICONS, basename(URL.canParse(address) ? new URL(address).pathname : address));
  if (!existsSync(file)) {
    yield `the icon ${basename(file)} does not exist`;
    return;
  }
  const { width, height } = pngSize(file);
  if (width !== size || height !== size) yield `the icon ${basename(file)} is ${width} × ${height}, not ${size} px`;
}

function* iconProblems(root) {
  const [small, large] = ["IconUrl", "HighResolutionIconUrl"].map((name) => all(root, name)[0]);
  if (small) yield* iconFileProblems(value(small), 32);
  if (large) yield* iconFileProblems(value(large), 64);
  const addresses = new Map(resourcesOf(root).get("Images"));
  for (const icon of all(root, "Icon")) {
    const images = childrenOf(icon);
    const sizes = images.map((image) => Number(image.getAttribute("size")));
    const missing = COMMAND_ICON_SIZES.filter((size) => !sizes.includes(size));
    if (missing.length > 0) yield `an icon lacks its ${missing.join(" and ")} px image`;
    for (const [i, image] of images.entries()) {
      yield* iconFileProblems(addresses.get(image.getAttribute("resid")) ?? "", sizes[i]);
    }
  }
}

function* commandProblems(root) {
  const controls = all(root, "Control");
  const items = all(root, "Item");
  const ids = [...controls, ...items, ...all(root, "Group")].map((element) => element.getAttribute("id"));
  for (const id of ids.filter((id, i) => ids.indexOf(id) !== i)) yield `the id ${id} is given twice`;
  for (const id of ids.filter((id) => id.length > MAX_ID)) yield `the id ${id} is longer than ${MAX_ID} characters`;
  for (const group of all(root, "Group")) {
    const count = childrenOf(group).filter((child) => child.localName === "Control").length;
    if (count > MAX_COMMANDS) yield `the group holds ${count} commands; at most ${MAX_COMMANDS}`;
  }
  for (const place of ["Group", "OfficeMenu"]) {
    const opens = all(root, place).flatMap((element) => all(element, "Action").map(typeOf));
    if (!opens.includes("ShowTaskpane")) yield `${place} has no command that opens the pane (ShowTaskpane)`;
  }
  const called = all(root, "FunctionName").map((element) => element.textContent);
  for (const name of called.filter((name) => name.length > MAX_FUNCTION_NAME)) {
    yield `the action ${name} is longer than ${MAX_FUNCTION_NAME} characters`;
  }
  for (const name of called.filter((name) => !ACTIONS.includes(name))) yield `the pane has no action ${name}`;
  for (const name of ACTIONS.filter((name) => !called.includes(name))) yield `the action ${name} has no command`;
}

const CHECKS = [
  (root) => structureProblems(root, [root.localName]),
  vocabularyProblems,
  resourceProblems,
  sharedRuntimeProblems,
  addressProblems,
  headProblems,
  textProblems,
  iconProblems,
  commandProblems,
];

/** Everything wrong with an XML manifest, in words; nothing when it is sound. */
export function checkXml(text) {
  let document;
  try {
    document = new DOMParser({ onError: onErrorStopParsing }).parseFromString(text, "text/xml");
  } catch (error) {
    return [`not well-formed XML: ${error.message}`];
  }
  const root = document.documentElement;
  if (root.localName !== "OfficeApp") return [`the manifest must be an OfficeApp, not ${root.localName}`];
  return CHECKS.flatMap((check) => [...check(root)]);
}

function main(files) {
  const problems = files.flatMap((file) =>
    checkXml(readFileSync(file, "utf8")).map((problem) => `${file}: ${problem}`),
  );
  for (const problem of problems) console.error(problem);
  if (problems.length > 0) process.exitCode = 1;
  else console.log(`${files.join(", ")}: no problems found`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) main(process.argv.slice(2));
