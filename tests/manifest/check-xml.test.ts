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

/** Each row breaks one thing in a sound manifest: what to find, what to put there, and the problem to be told. */
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
    "two commands on the cell menu",
    /(<OfficeMenu.*>)\s*(<Control[\s\S]*<\/Control>)/,
    "$1$2$2",
    "OfficeMenu must hold",
  ],
  ["a button without a tip", /<Supertip>[\s\S]*?<\/Supertip>/, "", "Control must hold Label, Supertip"],
  ["the wrong vocabulary", "taskpaneappversionoverrides", "taskpaneapp", "must be in the vocabulary"],
  ["a resource that is not there", '"Group.Label"/>', '"Group.Lable"/>', "names the resource Group.Lable"],
  [
    "a resource of the wrong kind",
    'Description resid="showPlan.Tip"',
    'Description resid="showPlan.Label"',
    "LongStrings",
  ],
  [
    "a resource nobody uses",
    "</bt:Urls>",
    '<bt:Url id="Odd" DefaultValue="https://a.example"/></bt:Urls>',
    "never used",
  ],
  ["a resource given twice", /(<bt:Url id="Page.Url".*\/>)/, "$1$1", "Page.Url is given twice"],
  ["a resource id of 33 characters", /Group\.Label/g, "G".repeat(33), "longer than 32"],
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
  ["another page for the pane", /(<DefaultSettings>[\s\S]*?)pane\.html/, "$1other.html", "but the runtime's is"],
  ["a short lifetime", 'lifetime="long"', 'lifetime="short"', "lifetime must be long"],
  ["a version of five numbers", /<Version>.*</, "<Version>1.2.3.4.5<", "one to four numbers"],
  ["a version with a word", /<Version>.*</, "<Version>1.0-beta<", "one to four numbers"],
  ["an id that is no GUID", /<Id>.*</, "<Id>gritledger<", "is not a GUID"],
  ["too little permission", "ReadWriteDocument", "ReadDocument", "ReadWriteDocument"],
  ["another program", '<Host Name="Workbook"/>', '<Host Name="Document"/>', "must be Workbook"],
  ["no shared runtime required", /<Set Name="SharedRuntime".*\/>/, "", "SharedRuntime is missing"],
  ["another type of add-in", '"TaskPaneApp"', '"ContentApp"', "of type TaskPaneApp"],
  ["a label of 126 characters", 'DefaultValue="Stage plan"', `DefaultValue="${"n".repeat(126)}"`, "126 long"],
  ["a tip of 251 characters", /(showPlan.Tip" DefaultValue=")[^"]*/, `$1${"n".repeat(251)}`, "251 long"],
  ["a description of 251 characters", /(<Description DefaultValue=")[^"]*/, `$1${"n".repeat(251)}`, "251 long"],
  ["a name of 126 characters", /(<DisplayName DefaultValue=")[^"]*/, `$1${"n".repeat(126)}`, "126 long"],
  ["an empty label", 'DefaultValue="Stage plan"', 'DefaultValue=""', "showPlan.Label is empty"],
  ["a namespace with a space", 'DefaultValue="GRIT"', 'DefaultValue="GRIT LEDGER"', "not one Excel takes"],
  ["an icon that does not exist", /icons\/plan-16/, "icons/plane-16", "plane-16.png does not exist"],
  ["an icon of another size", /icons\/plan-16/, "icons/plan-32", "32 × 32, not 16 px"],
  ["a list icon of another size", /(<IconUrl DefaultValue=".*)-32/, "$1-64", "64 × 64, not 32 px"],
  ["no 80 px icon", /<bt:Image size="80" resid="Icon.plan.80"\/>/, "", "lacks its 80 px image"],
  ["an action the pane does not have", "<FunctionName>recalculate<", "<FunctionName>recalc<", "has no action recalc"],
  [
    "an action without a command",
    "<FunctionName>recalculate<",
    "<FunctionName>showPlan<",
    "recalculate has no command",
  ],
  ["a command that opens a pane of its own", '"ExecuteFunction"', '"ShowTaskpane"', "must execute a function"],
  ["two commands with one id", 'id="recalculateButton"', 'id="showPlanButton"', "showPlanButton is given twice"],
  ["six commands in a group", /(<Group[\s\S]*?)(<Control[\s\S]*?<\/Control>)/, "$1$2$2$2$2", "holds 6 commands"],
  ["another document altogether", /^[\s\S]*$/, "<html/>", "must be an OfficeApp"],
];

describe("a manifest broken in one place", () => {
  it.each(BROKEN)("%s is told", (_, find, put, told) => {
    const broken = sound.replace(find, put);
    expect(broken).not.toBe(sound);
    expect(checkXml(broken).join("\n")).toContain(told);
  });
});
