/**
 * What only a browser can tell, in Chromium with the built add-in (`npm run build` first): how fast functions.js and the
 * pane start, how fast the preview's spreadsheet calculates 20,000 of our cells, how long the pane keeps its page busy in
 * one go, and what memory it takes.
 */
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, expect, it } from "vitest";
import { serve } from "../../manifest/build/serve.mjs";
import { closeBrowser, DIST, openPreview, type Preview, startBrowser, theBrowser } from "../preview/browser";
import { MANY_JOBS_HEADINGS, manyJobs } from "./many-jobs";
import { median, report, short, table } from "./measure";
import { type Traced, traced } from "./traced";

const STARTS = 5;
const STALL_MS = 100;

let served: Awaited<ReturnType<typeof serve>>;
beforeAll(async () => {
  if (!existsSync(join(DIST, "preview/index.html"))) throw new Error("there is no dist: run npm run build first");
  served = await serve({ port: 0, directory: DIST });
});
afterAll(async () => {
  await served.close();
  await closeBrowser();
});

/** Several cold starts: each in a browser that has opened nothing before. */
async function coldly<Found>(measure: (page: Page) => Promise<Found>): Promise<Found[]> {
  const found: Found[] = [];
  for (let turn = 0; turn < STARTS; turn++) {
    const browser = await startBrowser();
    try {
      const context = await browser.newContext({ viewport: { width: 1400, height: 900 }, bypassCSP: true });
      found.push(await measure(await context.newPage()));
    } finally {
      await browser.close();
    }
  }
  return found;
}

const medians = <Key extends string>(found: readonly Readonly<Record<Key, number>>[], key: Key) =>
  median(found.map((one) => one[key]));

/** MB of everything that a page's scripts keep. */
async function heap(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = await session.send("Runtime.getHeapUsage");
  await session.detach();
  return usedSize / 1e6;
}

/** ms that a page's process has had the processor: what else the machine does counts less. */
async function processorTime(page: Page): Promise<number> {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable");
  const { metrics } = await session.send("Performance.getMetrics");
  await session.detach();
  return 1000 * metrics.find(({ name }) => name === "ProcessTime")!.value;
}

/** Loads functions.js into a blank page, with as much of a host around it as it asks for. */
const loadFunctions = () =>
  new Promise<{ fetched: number; associated: number; count: number }>((resolve) => {
    const functions: Record<string, unknown> = {};
    let last = 0;
    const CustomFunctions = {
      associate(id: string, fn: unknown) {
        functions[id] = fn;
        last = performance.now();
      },
      Error: class extends Error {},
    };
    Object.assign(window, { CustomFunctions, functions });
    const script = document.createElement("script");
    script.src = "functions.js";
    const start = performance.now();
    script.onload = () => {
      const fetch = performance.getEntriesByType("resource").find(({ name }) => name.endsWith("/functions.js"));
      const { responseEnd } = fetch as PerformanceResourceTiming;
      resolve({ fetched: responseEnd - start, associated: last - start, count: Object.keys(functions).length });
    };
    document.head.append(script);
  });

/** Calls PASSTIME on so many rows, and keeps the answer. */
const callOnRows = (rows: number) => {
  const block = (of: (i: number) => number) => Array.from({ length: rows }, (_, i) => [of(i)]);
  const { functions } = window as unknown as { functions: { PASSTIME(...args: unknown[]): unknown[][] } };
  const answer = functions.PASSTIME(
    block((i) => 1000 + i),
    [[28]],
    [[15]],
    null,
    null,
    null,
    null,
  );
  Object.assign(window, { answer });
  return answer.length;
};

it("measures the cold start of functions.js and its memory", async () => {
  const described = JSON.parse(readFileSync(join(DIST, "functions.json"), "utf8")).functions.length;
  const found = await coldly(async (page) => {
    await page.goto(`${served.url}/about.html`);
    const before = await heap(page);
    const { fetched, associated, count } = await page.evaluate(loadFunctions);
    expect(count).toBe(described);
    const loaded = await heap(page);
    expect(await page.evaluate(callOnRows, 100_000)).toBe(100_000);
    const kept = await heap(page);
    await page.evaluate("answer = undefined");
    return { fetched, associated, loaded: loaded - before, kept: kept - loaded, after: (await heap(page)) - before };
  });
  const line = (what: string, key: keyof (typeof found)[number]) => [what, medians(found, key)] as const;
  report(
    "Cold start of functions.js in Chromium",
    table(
      [`median of ${STARTS} new browsers`, ""],
      [
        line("fetched from this machine, ms", "fetched"),
        line(`all ${described} functions associated, ms`, "associated"),
        line("memory of the functions, MB", "loaded"),
        line("memory of an answer of 100,000 rows while the host keeps it, MB", "kept"),
        line("memory after that, MB", "after"),
      ],
    ),
  );
});

/** Notes in the pane's page when its form and the demo are there. */
const noteMarks = () => {
  if (!location.pathname.endsWith("/pane.html")) return;
  const marks: { form?: number; demo?: number } = {};
  Object.assign(window, { marks });
  const look = () => {
    const now = performance.timeOrigin + performance.now();
    if (document.querySelector("#tab-plan")) marks.form ??= now;
    if (document.documentElement?.dataset.demo === "ready") marks.demo ??= now;
  };
  new MutationObserver(look).observe(document, { subtree: true, childList: true, attributeFilter: ["data-demo"] });
};

/** A folder with what ships alone, whose pane loads the client library from its own server instead of Microsoft's. */
function shippedAlone(): string {
  const folder = mkdtempSync(join(tmpdir(), "gritledger-pane-"));
  cpSync(DIST, folder, { recursive: true, filter: (path) => !path.endsWith("/preview") });
  cpSync(join(DIST, "preview/office"), join(folder, "office"), { recursive: true });
  const pane = readFileSync(join(DIST, "pane.html"), "utf8");
  const own = pane.replace(/https:\/\/appsforoffice[^"\s>]*office\.js/, "office/office.js");
  expect(own).not.toBe(pane);
  writeFileSync(join(folder, "pane.html"), own);
  return folder;
}

it("measures the cold start of the pane", async () => {
  const preview = await coldly(async (page) => {
    await page.addInitScript(noteMarks);
    await page.goto(`${served.url}/preview/`);
    const start = await page.evaluate(() => performance.timeOrigin);
    await page.frameLocator("#pane").locator("html[data-demo=ready]").waitFor({ timeout: 120_000 });
    const processor = await processorTime(page);
    const frame = page.frames().find((one) => one.url().includes("pane.html"))!;
    const { form, demo } = await frame.evaluate<{ form: number; demo: number }>("marks");
    return { form: form - start, demo: demo - start, processor, heap: await heap(page) };
  });
  const folder = shippedAlone();
  const shipped = await serve({ port: 0, directory: folder });
  try {
    const alone = await coldly(async (page) => {
      // Outside a spreadsheet the client library looks for one elsewhere; nothing leaves this machine.
      await page.route(
        (url) => url.origin !== shipped.url,
        (route) => route.abort(),
      );
      await page.addInitScript(noteMarks);
      await page.goto(`${shipped.url}/pane.html`);
      await page.locator("#tab-plan").waitFor();
      const processor = await processorTime(page);
      const form = await page.evaluate<number>("marks.form - performance.timeOrigin");
      return { form, processor, heap: await heap(page) };
    });
    report(
      "Cold start of the pane in Chromium",
      table(
        [`from the navigation, median of ${STARTS} new browsers`, "ms", "the page's processor time, ms", "memory, MB"],
        [
          [
            "the pane alone, outside a spreadsheet: its form is there",
            medians(alone, "form"),
            medians(alone, "processor"),
            medians(alone, "heap"),
          ],
          [
            "in the preview, beside the spreadsheet that starts too: its form is there",
            medians(preview, "form"),
            "",
            "",
          ],
          [
            "in the preview: the demo workbook is written and calculated",
            medians(preview, "demo"),
            medians(preview, "processor"),
            medians(preview, "heap"),
          ],
        ],
      ),
    );
  } finally {
    await shipped.close();
    rmSync(folder, { recursive: true });
  }
});

/** Twenty columns of five functions that are all in proportion to A1: 20,000 calls, or one call a column that spills. */
const writeCells = async (context: Excel.RequestContext, name: string) => {
  const ROWS = 1000;
  const call = (k: number, by: string) =>
    [
      `=GRIT.PASSTIME($A$1,${by},15)`,
      `=GRIT.TOOLSUSED($A$1,${by})`,
      `=GRIT.TOOLCOST($A$1,${by},900)`,
      `=GRIT.LIQUID($A$1,${by},2,0.1)`,
      `=GRIT.CREWCOST($A$1,2,${by})`,
    ][k % 5]!;
  const sheet = context.workbook.worksheets.add(name);
  sheet.getRange("A1").values = [[1000]];
  sheet.getRange(`B1:B${ROWS}`).values = Array.from({ length: ROWS }, (_, r) => [20 + r]);
  await context.sync();
  const rows = name === "Spilled" ? 1 : ROWS;
  sheet.getRange("D1").getResizedRange(rows - 1, 19).formulas = Array.from({ length: rows }, (_, r) =>
    Array.from({ length: 20 }, (_, k) => call(k, rows === 1 ? `$B$1:$B$${ROWS}` : String(20 + r))),
  );
  const last = sheet.getRange("D1").getOffsetRange(ROWS - 1, 19);
  for (let value: unknown = ""; typeof value !== "number"; value = last.values[0]![0]) {
    last.load("values");
    await context.sync();
  }
};

/** Changes A1, and tells how long it takes until the last cell is another, and all cells then. */
const changeInput = async (context: Excel.RequestContext, [name, value]: readonly [string, number]) => {
  const sheet = context.workbook.worksheets.getItem(name);
  const last = sheet.getRange("W1000").load("values");
  await context.sync();
  const before = last.values[0]![0];
  const start = performance.now();
  sheet.getRange("A1").values = [[value]];
  for (let now = before; now === before; now = last.values[0]![0]) {
    last.load("values");
    await context.sync();
  }
  const took = performance.now() - start;
  const all = sheet.getRange("D1:W1000").load("values");
  await context.sync();
  return { took, values: all.values as number[][] };
};

/** ms of a recalculation after a change of the cell that all depend on; every cell must have followed it. */
async function recalculation(preview: Preview, name: string): Promise<number> {
  await preview.excel(writeCells, name);
  const times: number[] = [];
  const first = await preview.excel(changeInput, [name, 1500] as const);
  for (const value of [3000, 6000, 12_000]) {
    const { took, values } = await preview.excel(changeInput, [name, value] as const);
    for (const [r, row] of values.entries())
      for (const [c, cell] of row.entries()) expect(cell / first.values[r]![c]!).toBeCloseTo(value / 1500, 9);
    times.push(took);
  }
  return median(times);
}

type Steps = readonly (readonly [what: string, work: () => Promise<unknown>])[];
const measured: [string, Traced][] = [];

/** Each step traced by itself; none may end in an error. */
async function inSteps(browser: Browser, { page, pane }: Preview, steps: Steps): Promise<void> {
  for (const [what, work] of steps) {
    const found = await traced(browser, page, work);
    expect(await pane().locator("[role=alert] .message").allTextContents(), what).toEqual([]);
    measured.push([what, found]);
  }
}

const commandsOf = ({ pane }: Preview) => {
  const done = () => pane().locator(".busy").waitFor({ state: "detached", timeout: 300_000 });
  return {
    click: (place: string) => async () => {
      await pane().locator(place).click();
      await done();
    },
    press: (name: string) => async () => {
      await pane().locator("fluent-button", { hasText: name }).first().click();
      await done();
    },
    tab: (name: string) => pane().locator("fluent-tab", { hasText: name }).click(),
  };
};

const JOBS = 20_000;
const AUDITS = 3;

/** The list, from the second row of a sheet of its own on. */
const writeJobs = async (context: Excel.RequestContext, rows: readonly (readonly (string | number)[])[]) => {
  const sheet = context.workbook.worksheets.add("Many jobs");
  sheet.getRange("A1").getResizedRange(rows.length - 1, rows[0]!.length - 1).values = rows as (string | number)[][];
  sheet.activate();
  sheet.getRange("A1").select();
  await context.sync();
};

it("measures the audit of 20,000 past jobs by the clock", async () => {
  const turns: Record<"find" | "check" | "audit", number>[] = [];
  for (let turn = 0; turn < AUDITS; turn++) {
    const preview = await openPreview({ fresh: true });
    const { click, tab } = commandsOf(preview);
    const clocked = async (work: () => Promise<unknown>) => {
      const start = performance.now();
      await work();
      return performance.now() - start;
    };
    await preview.excel(writeJobs, [MANY_JOBS_HEADINGS, ...manyJobs(JOBS)]);
    await tab("Jobs");
    turns.push({
      find: await clocked(click("#take-selected")),
      check: await clocked(click("#check")),
      audit: await clocked(click("#audit")),
    });
    expect(await preview.pane().locator("[role=alert] .message").allTextContents()).toEqual([]);
    await preview.page.close();
  }
  report(
    "The audit of 20,000 past jobs in the preview",
    table(
      [`from the click until it is done, median of ${AUDITS} pages`, "ms"],
      [
        ["finding the list", medians(turns, "find")],
        ["checking it", medians(turns, "check")],
        ["reading it again and writing its audit", medians(turns, "audit")],
      ],
    ),
  );
});

const heaps: [string, number][] = [];

it("measures what the pane does with a plan and with 20,000 past jobs", async () => {
  const preview = await openPreview({ fresh: true });
  const { click, press, tab } = commandsOf(preview);
  const browser = await theBrowser();
  heaps.push(["the demo workbook", await heap(preview.page)]);
  await inSteps(browser, preview, [
    ["reading the shelf", press("Read again")],
    ["proposing for another floor", press("Fill in an example")],
    ["inserting the plan", click("#insert")],
    ["undoing it", press("Undo")],
  ]);
  await preview.excel(writeJobs, [MANY_JOBS_HEADINGS, ...manyJobs(JOBS)]);
  await tab("Jobs");
  await inSteps(browser, preview, [
    ["finding the list of 20,000 jobs", click("#take-selected")],
    ["checking 20,000 jobs", click("#check")],
    ["writing the audit of 20,000 jobs", click("#audit")],
  ]);
  heaps.push(["the demo, 20,000 jobs and their audit", await heap(preview.page)]);
  await preview.close();
});

it("measures 20,000 of our cells: their recalculation, and what the pane does with such a workbook", async () => {
  const preview = await openPreview({ fresh: true });
  const { click, tab } = commandsOf(preview);
  const browser = await theBrowser();
  const spilled = await recalculation(preview, "Spilled");
  const single = await recalculation(preview, "Single");
  report(
    "Recalculation in the preview's engine, 20,000 of our cells",
    table(
      ["from the change of one cell until all cells are new", "ms"],
      [
        ["20,000 calls of five functions", single],
        ["20 calls of the same that spill 1000 rows each", spilled],
      ],
    ),
  );
  heaps.push(["the demo and 40,000 of our cells", await heap(preview.page)]);
  await preview.select("Single", "D1");
  await tab("Functions");
  await inSteps(browser, preview, [
    ["showing a working", click("#show-working")],
    ["checking the workbook for repair", click("#check-workbook")],
  ]);
  await tab("Share");
  await preview.pane().locator("#see-copy").waitFor();
  await inSteps(browser, preview, [["a calculating copy of 40,000 cells", click("#see-copy")]]);
  await preview.pane().locator("#kind-price").check({ force: true });
  await preview
    .pane()
    .getByLabel(/Single/)
    .check();
  await inSteps(browser, preview, [["a price-only copy of 20,000 cells", click("#see-copy")]]);
  heaps.push(["the same after both copies", await heap(preview.page)]);
  await preview.close();
});

it("tells the pane's longest tasks, and memory", () => {
  const lines = measured.map(
    ([what, { wall, longest, ofPane, total }]) =>
      [what, wall, longest, ofPane.pane, ofPane.client, total.pane, total.client] as const,
  );
  const stalls = lines.filter(([, , , own]) => own > STALL_MS).map(([what, , , own]) => `${what} (${short(own)} ms)`);
  report(
    "What keeps the pane's page busy",
    `${table(
      [
        "ms of processor time (traced, one run)",
        "until done, by the clock",
        "longest task, the preview's with it",
        "the pane's own code in its longest",
        "the client library's in that",
        "the pane's own in all",
        "the client library's in all",
      ],
      lines,
    )}\n\nThe pane's own code for more than ${STALL_MS} ms in one go: ${stalls.join(", ") || "nowhere"}.`,
  );
  report("Memory of the preview's page, spreadsheet and pane together", table(["with", "MB"], heaps));
});
