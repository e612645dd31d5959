/** The help on the functions: each has its place, all that its comment says stands there, and Excel links to it. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DOMParser, type Element } from "@xmldom/xmldom";
import { describe, expect, it } from "vitest";
import { readCatalogue, readMetadata } from "../../manifest/build/catalogue.mjs";
import { helpPage, plainFormula, withHelp } from "../../manifest/build/help-pages.mjs";

const catalogue = readCatalogue();
const page = new DOMParser().parseFromString(helpPage(catalogue), "text/html");
const elements = (tag: string, within: { getElementsByTagName(tag: string): Iterable<Element> } = page) => [
  ...within.getElementsByTagName(tag),
];
const textOf = (element: Element) => element.textContent!.replace(/\s+/g, " ");
const ids = elements("*")
  .map((element) => element.getAttribute("id"))
  .filter((id) => id !== null);
const sectionOf = (id: string) => elements("section").find((section) => section.getAttribute("id") === id)!;

describe("the page", () => {
  it("has one section for each function, and no id twice", () => {
    expect(elements("section").map((section) => section.getAttribute("id"))).toEqual(catalogue.map(({ id }) => id));
    expect(new Set(ids).size).toBe(ids.length);
  });

  it.each(catalogue.map((entry) => [entry.id, entry] as const))(
    "says of %s all that is known about it",
    (id, entry) => {
      const text = textOf(sectionOf(id));
      const { summary, remarks, returns, params, examples, fails, source } = entry;
      const parts = [
        summary,
        remarks,
        returns,
        source,
        ...params.flatMap(({ name, text }) => [name, text]),
        ...examples.flatMap(({ call, value, source }) => [call, value, source.replace(/^(common practice|\w+):?/, "")]),
        ...fails.flatMap(({ call, code, message }) => [call, code, message]),
      ];
      for (const part of parts) expect(text).toContain(part.replace(/\s+/g, " ").trim());
      expect(elements("th", sectionOf(id)).map(textOf)).toEqual(
        params.map(({ name, optional }) => (optional ? `${name} (optional)` : name)),
      );
      expect(elements("h4", sectionOf(id)).map(textOf)).toContain("Plain formula");
    },
  );

  it("links to nothing that is not there, and loads and runs nothing from elsewhere", () => {
    const links = [...elements("a"), ...elements("link")].map((element) => element.getAttribute("href")!);
    const inside = links.filter((link) => link.startsWith("#"));
    expect(inside.filter((link) => !ids.includes(link.slice(1)))).toEqual([]);
    expect(inside.filter((link) => !catalogue.some(({ id }) => link === `#${id}`))).toHaveLength(
      new Set(catalogue.map(({ topic }) => topic)).size,
    );
    const outside = links.filter((link) => link.startsWith("../")).map((link) => link.slice(3));
    expect(outside).toHaveLength(5);
    for (const file of outside) {
      expect(existsSync(join("manifest/pages", file)), file).toBe(true);
    }
    expect(links.filter((link) => !link.startsWith("#") && !link.startsWith("../"))).toEqual(["functions.html"]);
    expect(elements("script")).toEqual([]);
    expect(elements("style")).toEqual([]);
  });

  it.each([
    [
      "above all functions",
      undefined,
      ["silica", "noise", "vibration", "electricity", "slip", "local codes", "licensed"],
    ],
    ["before exposure", "exposure", ["not a permission", "local law", "licensed professional"]],
    ["before coverage", "coverage", ["silica dust", "noise", "vibration"]],
    ["before cutting", "cutting", ["silica dust", "noise", "vibration"]],
    ["before tooling", "tooling", ["unplug"]],
    ["before liquids", "liquids", ["slippery", "slip resistance"]],
    ["before price", "price", ["estimate"]],
  ])("carries its caution %s", (_, topic, words) => {
    const heading = elements(topic ? "h2" : "h1").find((element) => !topic || element.getAttribute("id") === topic)!;
    let next = heading.nextSibling;
    while (next && (next as Element).getAttribute?.("class") !== "caution") next = next.nextSibling;
    for (const word of words) expect(textOf(next as Element).toLowerCase()).toContain(word);
  });

  it("shows what a comment says as text, never as HTML", () => {
    const [entry] = catalogue;
    const html = helpPage([{ ...entry!, summary: '<img src="x" onerror=alert(1)> & more' }]);
    expect(html).toContain("&lt;img src=&quot;x&quot; onerror=alert(1)&gt; &amp; more");
    expect(html).not.toContain("<img");
  });
});

describe("a plain formula", () => {
  it.each([
    ["{area}*{passes}/{life}", "<code>area*passes/life</code>"],
    ["{load}*{units:1|9806.65}/{area}", "US: <code>load*1/area</code><br>Metric: <code>load*9806.65/area</code>"],
    ["IF({a}<4,1,2)", "<code>IF(a&lt;4,1,2)</code>"],
    ["{from:size}/{to:size}", "<code>size(from)/size(to)</code> Sizes are those of the published grit tables."],
  ])("%s is shown by its arguments' names", (plain, shown) => {
    expect(plainFormula({ plain })).toBe(shown);
  });

  it("that there is not is a reason", () => {
    expect(plainFormula({ plain: "", noPlain: "a search over the grits there are" })).toBe(
      "No plain formula: a search over the grits there are.",
    );
  });

  it.each([
    ["marks of other kinds", "{toBond:0|1|2}"],
    ["great length", `{a}${"+{a}".repeat(200)}`],
  ])("with %s is left to the pane", (_, plain) => {
    expect(plainFormula({ plain })).toContain("Show the math");
  });
});

describe("functions.json", () => {
  const metadata = JSON.parse(readMetadata(catalogue));

  it("leads from each function to its section on the host that serves the page, and changes nothing else", () => {
    const { functions, ...rest } = JSON.parse(withHelp(JSON.stringify(metadata), "https://floors.example/grit"));
    for (const { id, helpUrl } of functions) {
      expect(helpUrl).toBe(`https://floors.example/grit/help/functions.html#${id}`);
      expect(ids).toContain(helpUrl.split("#")[1]);
    }
    const without = functions.map(({ helpUrl: _, ...fn }: Record<string, unknown>) => fn);
    expect({ functions: without, ...rest }).toEqual(metadata);
  });

  it("gets it in the build, which writes the page too", () => {
    const build = readFileSync("webpack.config.js", "utf8");
    expect(build).toContain('"functions.json": withHelp(');
    expect(build).toContain('"help/functions.html": helpPage(');
  });
});
