import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DOMParser } from "@xmldom/xmldom";
import { validateManifest } from "office-addin-manifest";
import { afterAll, describe, expect, it } from "vitest";
import { buildManifests, checkedHost, checkedVersion } from "../../manifest/build/manifests.mjs";
import { ADDIN_COMMANDS } from "../../manifest/facts.mjs";

const HOST = "https://floors.example/grit";
const built: Record<string, string> = buildManifests({ host: HOST });
const json = (file: string) => JSON.parse(built[file]!);
const xml = (file: string) => new DOMParser().parseFromString(built[file]!, "text/xml");
const textOf = (file: string, name: string) => xml(file).getElementsByTagName(name)[0]!.textContent;

/** The text of the resource that the first element of this name points to. */
function resource(file: string, name: string, within = "*") {
  const document = xml(file);
  const parent = document.getElementsByTagName(within)[0]!;
  const resid = parent.getElementsByTagName(name)[0]!.getAttribute("resid");
  const entries = ["bt:Url", "bt:String"].flatMap((tag) => [...document.getElementsByTagName(tag)]);
  return entries.find((entry) => entry.getAttribute("id") === resid)!.getAttribute("DefaultValue");
}

const folder = mkdtempSync(join(tmpdir(), "gritledger-manifest-"));
afterAll(() => rmSync(folder, { recursive: true }));

function validated(manifest: unknown) {
  const file = join(folder, "manifest.json");
  writeFileSync(file, JSON.stringify(manifest));
  return validateManifest(file);
}

const ribbonGroup = (manifest: any) => manifest.extensions[0].ribbons[0].tabs[0].groups[0];
const menuItem = (manifest: any) => manifest.extensions[0].contextMenus[0].menus[0].controls[0].items[1];

/** How long a text may be in the JSON manifest, and where it stands. */
const LIMITS = new Map<string, { most: number; put: (manifest: any, text: string) => void }>([
  ["name", { most: 30, put: (manifest, text) => (manifest.name.short = text) }],
  ["summary", { most: 80, put: (manifest, text) => (manifest.description.short = text) }],
  ["description", { most: 4000, put: (manifest, text) => (manifest.description.full = text) }],
  ["provider", { most: 32, put: (manifest, text) => (manifest.developer.name = text) }],
  ["group", { most: 64, put: (manifest, text) => (ribbonGroup(manifest).label = text) }],
  ["button", { most: 64, put: (manifest, text) => (ribbonGroup(manifest).controls[0].label = text) }],
  ["tip", { most: 250, put: (manifest, text) => (ribbonGroup(manifest).controls[0].supertip.description = text) }],
  ["menu item", { most: 64, put: (manifest, text) => (menuItem(manifest).label = text) }],
  ["action", { most: 64, put: (manifest, text) => (manifest.extensions[0].runtimes[0].actions[0].displayName = text) }],
  ["welcome", { most: 250, put: ({ extensions }, text) => (extensions[0].getStartedMessages[0].description = text) }],
]);

describe("the JSON manifest, by the host's own schema (office-addin-manifest, offline)", () => {
  it.each(["manifest.json", "manifest.dev.json"])("%s is valid", async (file) => {
    expect(await validated(json(file))).toMatchObject({ isValid: true });
  });

  it("is refused with a name of 31 characters, so the check is a real one", async () => {
    const broken = json("manifest.json");
    broken.name.short = "n".repeat(31);
    expect(await validated(broken)).toMatchObject({ isValid: false });
  });

  it("cannot even be read with an action of an unknown kind", async () => {
    const broken = json("manifest.json");
    broken.extensions[0].runtimes[0].actions[0].type = "run";
    await expect(validated(broken)).rejects.toThrow('Invalid value for key "extensions"');
  });

  it("defines every action that a command calls", () => {
    const [extension] = json("manifest.json").extensions;
    const actions = extension.runtimes[0].actions.map((action: { id: string }) => action.id);
    const called = [...JSON.stringify(extension).matchAll(/"actionId":"(\w+)"/g)].map((match) => match[1]);
    expect(new Set(called)).toEqual(new Set(actions));
    expect(actions).toEqual(ADDIN_COMMANDS.map((command) => command.action));
  });

  const pieces = () => {
    const [extension] = json("manifest.json").extensions;
    const { actions } = extension.runtimes[0];
    const opens = actions.filter((action: { type: string }) => action.type === "openPage");
    const [group] = extension.ribbons[0].tabs[0].groups;
    const [menu] = extension.contextMenus[0].menus[0].controls;
    return { opens, group, menu };
  };

  // office-platform.md: showAsTaskpane is ignored in an install from the Marketplace.
  it("opens the pane by an openPage action, on the ribbon and on the cell's menu", () => {
    const { opens, group, menu } = pieces();
    expect(opens).toEqual([expect.objectContaining({ id: "openPane", view: "pane" })]);
    const called = (controls: { actionId: string }[]) => controls.map(({ actionId }) => actionId);
    expect(called(group.controls)).toEqual(["openPane", "recalculate"]);
    expect(called(menu.items)).toEqual(["openPane", "insertHere"]);
  });

  it.each([null, ...LIMITS.keys()])("takes texts as long as they may be, and no longer %s", async (longer) => {
    const manifest = json("manifest.json");
    for (const [what, { most, put }] of LIMITS) put(manifest, "n".repeat(what === longer ? most + 1 : most));
    expect(await validated(manifest)).toMatchObject({ isValid: longer === null });
  });

  // Microsoft's page on commands in the unified manifest recommends it, so that the group fits on the ribbon.
  it.each(["manifest.json", "manifest.dev.json"])("%s has a group label of at most 16 characters", (file) => {
    expect(json(file).extensions[0].ribbons[0].tabs[0].groups[0].label.length).toBeLessThanOrEqual(16);
  });

  it("names package icons that exist", () => {
    for (const file of Object.values<string>(json("manifest.json").icons)) {
      expect(existsSync(join("manifest", file)), file).toBe(true);
    }
  });
});

describe.each(["", ".dev"])("manifest%s: XML and JSON say the same", (suffix) => {
  const [extension] = json(`manifest${suffix}.json`).extensions;
  const runtime = extension.runtimes[0];
  const xmlFile = `manifest${suffix}.xml`;

  it("id and version", () => {
    expect(textOf(xmlFile, "Id")).toBe(json(`manifest${suffix}.json`).id);
    // The JSON form takes three numbers only (semver.org), and Excel on the web once refused XML with three.
    expect(textOf(xmlFile, "Version")).toBe(`${json(`manifest${suffix}.json`).version}.0`);
  });

  it("namespace of the functions", () => {
    expect(resource(xmlFile, "Namespace")).toBe(runtime.customFunctions.namespace.id);
  });

  it("page, script and metadata", () => {
    expect(resource(xmlFile, "Runtime")).toBe(runtime.code.page);
    expect(resource(xmlFile, "SourceLocation", "Script")).toBe(runtime.code.script);
    expect(resource(xmlFile, "SourceLocation", "Metadata")).toBe(runtime.customFunctions.metadataUrl);
  });

  it("requirement sets", () => {
    const sets = [...xml(xmlFile).getElementsByTagName("Set")].map((set) => ({
      name: set.getAttribute("Name"),
      minVersion: set.getAttribute("MinVersion"),
    }));
    expect(sets).toEqual(extension.requirements.capabilities);
  });
});

describe("files that the manifests name", () => {
  it("are the ones that the build writes", () => {
    const build = readFileSync("webpack.config.js", "utf8");
    const runtime = json("manifest.json").extensions[0].runtimes[0];
    const addresses = [runtime.code.page, runtime.customFunctions.metadataUrl];
    for (const address of addresses) expect(build).toContain(`"${address.slice(HOST.length + 1)}"`);
    expect(runtime.code.script).toBe(`${HOST}/functions.js`);
    expect(build).toMatch(/entry: \{ functions: /);
  });

  it("include pages of our own for support, privacy and terms, which the build copies", () => {
    const build = readFileSync("webpack.config.js", "utf8");
    const { developer, extensions } = json("manifest.json");
    const addresses = [
      developer.websiteUrl,
      developer.privacyUrl,
      developer.termsOfUseUrl,
      extensions[0].getStartedMessages[0].learnMoreUrl,
    ];
    const files = addresses.map((address: string) => address.slice(HOST.length + 1));
    expect(files).toEqual(["about.html", "privacy.html", "terms.html", "support.html"]);
    for (const file of files) expect(existsSync(join("manifest/pages", file)), file).toBe(true);
    expect(build).toContain('at("manifest/pages/*")');
    expect(xml("manifest.xml").getElementsByTagName("SupportUrl")[0]!.getAttribute("DefaultValue")).toBe(addresses[3]);
    expect(resource("manifest.xml", "LearnMoreUrl")).toBe(addresses[3]);
  });
});

// office-platform.md, "Store and installing": office.js in the head.
it("the pane's page loads office.js in its head, before everything else", () => {
  const [head, body] = readFileSync("addin/pane/pane.html", "utf8").split("</head>");
  expect(head).toMatch(/of headScripts\) \{ %> -->\s*<script src="<%= script %>"><\/script>/s);
  expect(head!.match(/<script/g)).toHaveLength(1);
  expect(body).toMatch(/of scripts\) \{/);
  expect(readFileSync("webpack.config.js", "utf8")).toContain("headScripts: [officeUrl], scripts: [");
});

describe("the development copy", () => {
  it("is another add-in than the released one: id, name and namespace differ", () => {
    const facts = (file: string) => [
      json(file).id,
      json(file).name.short,
      json(file).extensions[0].runtimes[0].customFunctions.namespace.id,
    ];
    const released = facts("manifest.json");
    facts("manifest.dev.json").forEach((fact, i) => {
      expect(fact).not.toBe(released[i]);
    });
  });

  it("passes its page the namespace that Excel gives the functions", () => {
    const runtime = json("manifest.dev.json").extensions[0].runtimes[0];
    const passed = new URL(runtime.code.page).searchParams.get("namespace");
    expect(passed).toBe(runtime.customFunctions.namespace.id);
  });

  it("always comes from this machine, wherever the released one is served", () => {
    expect(built["manifest.dev.xml"]).not.toContain(HOST);
    expect(built["manifest.dev.json"]).not.toContain(HOST);
    expect(built["manifest.xml"]).not.toContain("localhost");
    expect(built["manifest.json"]).not.toContain("localhost");
  });
});

describe("the host", () => {
  it("is this machine unless given", () => {
    expect(buildManifests()["manifest.xml"]).toContain("https://localhost:3000/pane.html");
  });

  it.each(["https://floors.example", "https://floors.example:8443", "https://floors.example/add-ins/grit"])(
    "may be %s",
    (host) => {
      expect(checkedHost(host)).toBe(host);
      expect(buildManifests({ host })["manifest.json"]).toContain(`"${host}/functions.json"`);
    },
  );

  it.each([
    ["http://floors.example", "https"],
    ["https://floors.example/", "slash"],
    ["floors.example", "not an address"],
    ["https://floors.example?a=1", "after the path"],
    ["https://me@floors.example", "user name"],
    [true, "not an address"],
  ])("may not be %s: the message says why (%s)", (host, why) => {
    expect(() => buildManifests({ host })).toThrow(why);
  });
});

describe("the version", () => {
  it.each(["0.1.0", "12.0.31"])("may be %s", (version) => expect(checkedVersion(version)).toBe(version));

  it.each(["1.2", "1.2.3.4", "1.2.3-beta", "v1.2.3"])("may not be %s", (version) => {
    expect(() => checkedVersion(version)).toThrow("three numbers");
  });

  it("is the one in package.json", () => {
    expect(json("manifest.json").version).toBe(JSON.parse(readFileSync("package.json", "utf8")).version);
  });
});
