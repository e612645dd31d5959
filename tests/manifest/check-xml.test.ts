import { describe, expect, it } from "vitest";
import { checkXml } from "../../manifest/build/check-xml.mjs";
import { buildManifests } from "../../manifest/build/manifests.mjs";

const built: Record<string, string> = buildManifests({ host: "https://floors.example" });
const sound = built["manifest.xml"]!;

describe("the built manifests", () => {
  it.each(["manifest.xml", "manifest.dev.xml"])("%s has no problems", (file) => {
    expect(checkXml(built[file]!)).toEqual([]);
  });
});

// A real action that Excel carries out itself; it ignores an add-in from the Marketplace that asks to be shown.
const SHOW_PANE = /<Action xsi:type="ShowTaskpane">[\s\S]*?(?=<\/Action>)/;

/** Each row breaks one thing in a sound manifest: what to find, what to put there, and the problem to report. */
const BROKEN: [what: string, find: string | RegExp, put: string, told: string][] = [
  ["a tag left open", "</Hosts>", "", "not well-formed"],
  [
    "two elements changed round",
    /(<Id>.*<\/Id>)\s*(<Version>.*<\/Version>)/,
    "$2$1",
    "OfficeApp must hold Id, Version",
  ],
  ["no support address", /<SupportUrl.*\/>/, "", "OfficeApp must hold"],
  ["no requirements", /<Requirements>[\s\S]*<\/Requirements>/, "", "OfficeApp must hold"],
  ["an element of no meaning", "<Id>", "<Color/><Id>", "it holds Color, Id"],
  ["no metadata for the functions", /<Metadata>[\s\S]*<\/Metadata>/, "", "ExtensionPoint:CustomFunctions must hold"],
  ["page before script", /(<Script>[\s\S]*<\/Script>)\s*(<Page>[\s\S]*<\/Page>)/, "$2$1", "Script, Page, Metadata"],
  [
    "two controls on the cell menu",
    /(<OfficeMenu.*>)\s*(<Control[\s\S]*<\/Control>)/,
    "$1$2$2",
    "OfficeMenu must hold",
  ],
  ["a button without a tip", /<Supertip>[\s\S]*?<\/Supertip>/, "", "Control:Button must hold Label, Supertip"],
  ["a menu without items", /<Items>[\s\S]*?<\/Items>/, "", "Control:Menu must hold Label, Supertip, Icon, Items"],
  ["a menu in the group", /"Button" id="recalculateButton"/, '"Menu" id="recalculateButton"', "Group must hold"],
  [
    "a pane without its page",
    /<SourceLocation resid="Page.Url"\/>(?=\s*<\/Action>)/,
    "",
    "Action:ShowTaskpane must hold",
  ],
  [
    "a pane's page before its id",
    /(<TaskpaneId>.*<\/TaskpaneId>)\s*(<SourceLocation.*>)/,
    "$2$1",
    "it holds SourceLocation, TaskpaneId",
  ],
  ["an action of an unknown type", '"ShowTaskpane"', '"ShowDialog"', "Action:ShowDialog is of a type"],
  ["the wrong vocabulary", "taskpaneappversionoverrides", "taskpaneapp", "must be in the vocabulary"],
  ["a resource that is not there", '"Welcome.Title"/>', '"Welcome.Tilte"/>', "names the resource Welcome.Tilte"],
  [
    "a resource of the wrong kind",
    'Description resid="openPane.Tip"',
    'Description resid="openPane.Label"',
    "LongStrings",
  ],
  [
    "a resource nobody uses",
    "</bt:Urls>",
    '<bt:Url id="Odd" DefaultValue="https://a.example"/></bt:Urls>',
    "never used",
  ],
  ["a resource given twice", /(<bt:Url id="Page.Url".*\/>)/, "$1$1", "Page.Url is given twice"],
  ["a resource id of 33 characters", /Welcome\.Title/g, "W".repeat(33), "longer than 32"],
  [
    "an http address",
    'Url" DefaultValue="https://floors.example/functions.js"',
    'Url" DefaultValue="http://a.example"',
    "https",
  ],
  ["an http icon", /IconUrl DefaultValue="https/, 'IconUrl DefaultValue="http', "is not an https address"],
  ["an http domain", "<AppDomain>https", "<AppDomain>http", "is not an https address"],
  ["another page for the commands", 'FunctionFile resid="Page.Url"', 'FunctionFile resid="Help.Url"', "one page"],
  ["another page for the runtime", 'Runtime resid="Page.Url"', 'Runtime resid="Help.Url"', "one page"],
  ["another page for the functions", /(<Page>\s*<SourceLocation resid=)"Page.Url"/, '$1"Help.Url"', "one page"],
  [
    "another page for the button",
    /(<Action[^>]*>\s*<TaskpaneId>.*\s*<SourceLocation resid=)"Page.Url"/,
    '$1"Help.Url"',
    "a shared runtime has one pane, Page.Url",
  ],
  ["a second pane", "<TaskpaneId>Pane<", "<TaskpaneId>Functions<", "name the panes Functions, Pane"],
  ["another page for the pane", /(<DefaultSettings>[\s\S]*?)pane\.html/, "$1other.html", "but the runtime's is"],
  ["a short lifetime", 'lifetime="long"', 'lifetime="short"', "lifetime must be long"],
  ["a version of five numbers", /<Version>.*</, "<Version>1.2.3.4.5<", "must be four numbers"],
  ["a version of three numbers", /<Version>.*</, "<Version>1.2.3<", "must be four numbers"],
  ["a version with a word", /<Version>.*</, "<Version>1.0-beta<", "must be four numbers"],
  ["an id that is no GUID", /<Id>.*</, "<Id>gritledger<", "is not a GUID"],
  ["too little permission", "ReadWriteDocument", "ReadDocument", "ReadWriteDocument"],
  ["another program", '<Host Name="Workbook"/>', '<Host Name="Document"/>', "must be Workbook"],
  ["no shared runtime required", /<Set Name="SharedRuntime".*\/>/, "", "SharedRuntime is missing"],
  ["another type of add-in", '"TaskPaneApp"', '"ContentApp"', "of type TaskPaneApp"],
  ["a label of 126 characters", 'DefaultValue="Stage plan"', `DefaultValue="${"n".repeat(126)}"`, "126 long"],
  ["a tip of 251 characters", /(openPane.Tip" DefaultValue=")[^"]*/, `$1${"n".repeat(251)}`, "251 long"],
  ["a description of 251 characters", /(<Description DefaultValue=")[^"]*/, `$1${"n".repeat(251)}`, "251 long"],
  ["a name of 126 characters", /(<DisplayName DefaultValue=")[^"]*/, `$1${"n".repeat(126)}`, "126 long"],
  ["an empty label", 'DefaultValue="Stage plan"', 'DefaultValue=""', "openPane.Label is empty"],
  ["a namespace with a space", 'DefaultValue="GRIT"', 'DefaultValue="GRIT LEDGER"', "not one Excel takes"],
  ["an icon that does not exist", /icons\/plan-16/, "icons/plane-16", "plane-16.png does not exist"],
  ["an icon of another size", /icons\/plan-16/, "icons/plan-32", "32 × 32, not 16 px"],
  ["a list icon of another size", /(<IconUrl DefaultValue=".*)-32/, "$1-64", "64 × 64, not 32 px"],
  ["no 80 px icon", /<bt:Image size="80" resid="Icon.plan.80"\/>/, "", "lacks its 80 px image"],
  ["an action the pane does not have", "<FunctionName>recalculate<", "<FunctionName>recalc<", "has no action recalc"],
  [
    "an action without a command",
    "<FunctionName>recalculate<",
    "<FunctionName>insertHere<",
    "recalculate has no command",
  ],
  ["an action of 65 characters", "<FunctionName>recalculate<", `<FunctionName>${"n".repeat(65)}<`, "longer than 64"],
  [
    "a ribbon that asks the page to open the pane",
    SHOW_PANE,
    '<Action xsi:type="ExecuteFunction"><FunctionName>openPane</FunctionName>',
    "Group has no command that opens the pane",
  ],
  [
    "a cell menu that asks the page to open the pane",
    new RegExp(`(<OfficeMenu[\\s\\S]*?)${SHOW_PANE.source}`),
    '$1<Action xsi:type="ExecuteFunction"><FunctionName>openPane</FunctionName>',
    "OfficeMenu has no command that opens the pane",
  ],
  [
    "a pane opened by what the page doesn't have",
    SHOW_PANE,
    '<Action xsi:type="ExecuteFunction"><FunctionName>openPane</FunctionName>',
    "has no action openPane",
  ],
  ["two commands with one id", 'id="recalculateButton"', 'id="openPaneButton"', "openPaneButton is given twice"],
  ["a command and an item with one id", 'id="openPaneItem"', 'id="openPaneButton"', "openPaneButton is given twice"],
  ["an id of 126 characters", 'id="openPaneItem"', `id="${"n".repeat(126)}"`, "longer than 125"],
  ["six commands in a group", /(<Group[\s\S]*?)(<Control[\s\S]*?<\/Control>)/, "$1$2$2$2$2$2", "holds 6 commands"],
  ["another document altogether", /^[\s\S]*$/, "<html/>", "must be an OfficeApp"],
];

describe("a manifest broken in one place", () => {
  it.each(BROKEN)("%s is reported", (_, find, put, told) => {
    const broken = sound.replace(find, put);
    expect(broken).not.toBe(sound);
    expect(checkXml(broken).join("\n")).toContain(told);
  });
});
