/** The lint rule against HTML and code from strings, run on samples under the project's own biome.json. */
import { beforeAll, describe, expect, it } from "vitest";
import { refusedLines } from "./lint-samples";

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

const SHIPPED = ["addin/pane/sample.ts", "functions/sample.ts"];
let found: Set<string>;

beforeAll(() => {
  const lines = [...FORBIDDEN, ...ALLOWED];
  found = refusedLines(
    Object.fromEntries(SHIPPED.map((file) => [file, lines])),
    /^(?:plugin|lint\/security\/noGlobalEval)$/,
  );
});

describe.each(SHIPPED)("in %s the lint rule", (file) => {
  it.each(FORBIDDEN.map((line, i) => [line, i + 1] as const))("forbids %s", (_, number) => {
    expect(found).toContain(`${file}:${number}`);
  });

  it.each(ALLOWED.map((line, i) => [line, FORBIDDEN.length + i + 1] as const))("allows %s", (_, number) => {
    expect(found).not.toContain(`${file}:${number}`);
  });
});
