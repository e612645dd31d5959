/** The lint rule against HTML and code from strings, run on samples under the project's own biome.json. */
import { spawnSync } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const ROOT = join(import.meta.dirname, "..");
const BIOME = createRequire(import.meta.url).resolve("@biomejs/biome/bin/biome");

/** Each is a way of making elements, or code, out of a text. */
const FORBIDDEN = [
  'import { unsafeHTML } from "lit/directives/unsafe-html.js";',
  'import { unsafeHTML as harmless } from "lit/directives/unsafe-html.js";',
  'import { unsafeSVG } from "lit/directives/unsafe-svg.js";',
  'import { html, unsafeStatic } from "lit/static-html.js";',
  "element.innerHTML = text;",
  "element.innerHTML += text;",
  "element!.outerHTML = text;",
  'element["innerHTML"] = text;',
  'element.querySelector("p")!.innerHTML = text;',
  'element.insertAdjacentHTML("beforeend", text);',
  'element?.insertAdjacentHTML("beforeend", text);',
  "element.setHTMLUnsafe(text);",
  "frame.srcdoc = text;",
  "document.write(text);",
  "window.document.writeln(text);",
  'new DOMParser().parseFromString(text, "text/html");',
  'new window.DOMParser().parseFromString(text, "text/html");',
  "Document.parseHTMLUnsafe(text);",
  "document.createRange().createContextualFragment(text);",
  "Object.assign(element, { innerHTML: text });",
  "html`<div .innerHTML=$" + "{text}></div>`;",
  "html`<iframe srcdoc=$" + "{text}></iframe>`;",
  "eval(text);",
  "new Function(text)();",
];

const ALLOWED = [
  "element.textContent = text;",
  "element.append(text);",
  "html`<p title=$" + "{text}>$" + "{text}</p>`;",
  "stream.write(text);",
  'const words = "the innerHTML of an element";',
  "const put = (element: HTMLElement): void => element.replaceChildren(text);",
];

const folder = mkdtempSync(join(tmpdir(), "gritledger-lint-"));
/** What Biome's reporter for GitHub says, "file:line" by "file:line". */
let found: Set<string>;

beforeAll(() => {
  const config = JSON.parse(readFileSync(join(ROOT, "biome.json"), "utf8"));
  writeFileSync(join(folder, "biome.json"), JSON.stringify({ ...config, vcs: { enabled: false } }));
  for (const { plugins = [] } of config.overrides) {
    for (const plugin of plugins) cpSync(join(ROOT, plugin), join(folder, plugin));
  }
  for (const place of ["addin/pane/sample.ts", "functions/sample.ts"]) {
    mkdirSync(dirname(join(folder, place)), { recursive: true });
    writeFileSync(join(folder, place), [...FORBIDDEN, ...ALLOWED].join("\n"));
  }
  const { stdout } = spawnSync(
    process.execPath,
    [BIOME, "lint", "--reporter=github", "--diagnostic-level=error", "--max-diagnostics=none", "."],
    { cwd: folder, encoding: "utf8" },
  );
  const told = stdout.matchAll(/^::error title=(?:plugin|lint\/security\/noGlobalEval),file=(.*?),line=(\d+)/gm);
  found = new Set(
    [...told].map(
      ([, file, line]) => `${file!.replaceAll("\\", "/").replace(/^.*?(?=addin\/|functions\/)/, "")}:${line}`,
    ),
  );
});

afterAll(() => rmSync(folder, { recursive: true }));

describe.each(["addin/pane/sample.ts", "functions/sample.ts"])("in %s the lint rule", (file) => {
  it.each(FORBIDDEN.map((line, i) => [line, i + 1] as const))("forbids %s", (_, number) => {
    expect(found).toContain(`${file}:${number}`);
  });

  it.each(ALLOWED.map((line, i) => [line, FORBIDDEN.length + i + 1] as const))("allows %s", (_, number) => {
    expect(found).not.toContain(`${file}:${number}`);
  });
});
