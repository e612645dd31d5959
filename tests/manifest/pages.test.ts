/** The pages beside the pane: what they link to exists, and each is where a reader needs it. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { DOMParser } from "@xmldom/xmldom";
import { describe, expect, it } from "vitest";
import { headersOf } from "../../manifest/build/headers.mjs";
import { shipped } from "../../manifest/build/page.mjs";
import { FILES } from "../../manifest/facts.mjs";

const FOLDER = "manifest/pages";
const pages = readdirSync(FOLDER).filter((file) => file.endsWith(".html"));
const read = (file: string) => shipped(file, readFileSync(join(FOLDER, file), "utf8"));
const textOf = (file: string) => read(file).replace(/\s+/g, " ");
const documentOf = (file: string) => new DOMParser().parseFromString(read(file), "text/html");
const attributes = (file: string, tag: string, name: string) =>
  [...documentOf(file).getElementsByTagName(tag)].map((element) => element.getAttribute(name)!);

/** Whether the build has the file: it copies this folder, and makes the help itself. */
const exists = (file: string) => existsSync(join(FOLDER, file)) || file === FILES.help;

describe.each(pages)("%s", (file) => {
  it("links only to files and parts that are there", () => {
    for (const link of [...attributes(file, "a", "href"), ...attributes(file, "link", "href")]) {
      const [page, part] = link.split("#");
      expect(exists(page!), link).toBe(true);
      if (part) expect(read(page!), link).toContain(`id="${part}"`);
    }
  });

  it("loads and runs nothing from elsewhere; only the notice has a script, its own", () => {
    expect(read(file)).not.toMatch(/<img|<iframe|style=|https?:/);
    expect(attributes(file, "script", "src")).toEqual(file === "notice.html" ? ["notice.js"] : []);
  });

  it("has a title, one main heading and the language of its text", () => {
    const document = documentOf(file);
    expect(document.documentElement!.getAttribute("lang")).toBe("en-US");
    expect(document.getElementsByTagName("title")[0]!.textContent).toMatch(/^[A-Z].* - Gritledger$/);
    expect(document.getElementsByTagName("h1")).toHaveLength(1);
  });
});

// The other pages may stand on a host without headers too: they run nothing.
it("the notice carries the policy of its header, for hosts that send none", () => {
  const [, carried] = /http-equiv="Content-Security-Policy"\s+content="([^"]*)"/.exec(read("notice.html"))!;
  const sent = headersOf("notice.html")["Content-Security-Policy"].split("; ");
  for (const directive of carried!.split("; ")) expect(sent).toContain(directive);
  expect(carried).toContain("default-src 'none'");
});

describe("what a contractor must read", () => {
  it.each(["silica", "noise", "vibration", "electric", "slip", "local codes", "licensed practice"])(
    "support and terms name %s",
    (word) => {
      for (const file of ["support.html", "terms.html"]) expect(textOf(file).toLowerCase()).toContain(word);
    },
  );

  it("terms give no warranty; privacy says that nothing is sent", () => {
    expect(textOf("terms.html")).toContain("without warranty of any kind");
    expect(textOf("privacy.html")).toContain("sends nothing you enter anywhere");
  });
});
