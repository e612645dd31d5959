import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type axe from "axe-core";
import type { Locator } from "playwright-core";
import { afterAll, afterEach, beforeEach, describe, expect, it } from "vitest";
import { closeBrowser, openPreview, type Preview } from "./browser";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

let preview: Preview;

afterEach(() => preview.close());
afterAll(closeBrowser);

/** Also checks, at its end, that nothing was logged as an error and nothing asked of another origin. */
async function open(options?: Parameters<typeof openPreview>[0]): Promise<void> {
  preview = await openPreview(options);
  await preview.excel(async (context) => {
    context.workbook.worksheets.add("Try").activate();
    await context.sync();
  });
}

describe("the page", () => {
  beforeEach(() => open());

  it("says what it is, and shows grid, tabs and pane", async () => {
    const { page } = preview;
    expect(await page.getByRole("banner").textContent()).toContain("An embedded spreadsheet, not Excel");
    expect(await page.getByRole("main").locator("canvas").first().isVisible()).toBe(true);
    expect(await page.getByRole("main").getByText("Try", { exact: true }).isVisible()).toBe(true);
    expect(await preview.pane().locator("#pane").textContent()).toContain("Plan");
  });

  it("shows the pane at 350 or 320 pixels", async () => {
    const { page } = preview;
    const width = () => page.locator("#pane").evaluate((frame) => frame.getBoundingClientRect().width);
    expect(await width()).toBe(350);
    await page.getByRole("button", { name: "Pane 350 px" }).click();
    expect(await width()).toBe(320);
    await page.getByRole("button", { name: "Pane 320 px" }).click();
    expect(await width()).toBe(350);
  });

  it("opens the sheet whose tab is clicked", async () => {
    const { page, excel } = preview;
    const activeSheet = () =>
      excel(async (context) => {
        const sheet = context.workbook.worksheets.getActiveWorksheet().load("name");
        await context.sync();
        return sheet.name;
      });
    expect(await activeSheet()).toBe("Try");
    await page.getByRole("main").getByText("Quote", { exact: true }).click();
    await expect.poll(activeSheet).toBe("Quote");
  });

  it("switches grid and pane to dark and back", async () => {
    const { page } = preview;
    const dark = page.getByRole("switch", { name: "Dark" });
    const paneTheme = () => preview.pane().locator("html").getAttribute("data-theme");
    expect([await paneTheme(), await cellBrightness(page.getByRole("main"))]).toEqual(["light", 255]);
    await dark.click();
    expect(await dark.getAttribute("aria-checked")).toBe("true");
    await expect.poll(paneTheme).toBe("dark");
    await expect.poll(() => cellBrightness(page.getByRole("main"))).toBeLessThan(64);
    await dark.click();
    await expect.poll(paneTheme).toBe("light");
  });

  it("has no accessibility violation in what is ours", async () => {
    // The grid's own elements are Univer's (unnamed buttons, positive tabindex); its charts are ours.
    expect(await violations({ exclude: [["#grid"], ["section[aria-label^='Notifications']"]] })).toEqual([]);
  });
});

describe("custom functions in the grid", () => {
  beforeEach(() => open());

  it("are offered with their description as one types", async () => {
    const { page } = preview;
    await preview.select("Try", "B2");
    await page.locator("canvas[id^=univer-sheet-main-canvas]").focus();
    await page.keyboard.type("=GRIT.AREAR");
    const offer = page.getByText("GRIT.AREARATE").first();
    await offer.waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
  });

  it("calculate in a cell typed by keyboard", async () => {
    // By hand: 20 in = 20/12 ft; 20/12 ft × 30 ft/min × 60 min/h = 3000 ft²/h.
    await preview.type("Try", "B2", "=GRIT.AREARATE(20,30)");
    await expect.poll(() => preview.cells("Try", "B2")).toEqual([[3000]]);
  });

  it("spill over a range, and follow its cells", async () => {
    // By hand, ft²/h at 30 ft/min: 12 in = 1 ft, so 1800 an inch of twelve; 24 in 3600; 36 in 5400; then 48 in 7200.
    await preview.type("Try", "A1", "12", "24", "36");
    await preview.type("Try", "B1", "=GRIT.AREARATE(A1:A3,30)");
    await expect.poll(() => preview.cells("Try", "B1:B3")).toEqual([[1800], [3600], [5400]]);
    await preview.type("Try", "A2", "48");
    await expect.poll(() => preview.cells("Try", "B1:B3")).toEqual([[1800], [7200], [5400]]);
  });

  it("say in the status bar why the selected cell is an error", async () => {
    const status = preview.page.getByRole("contentinfo").getByRole("status");
    await preview.type("Try", "B2", "=GRIT.AREARATE(20,30,20)", "=GRIT.AREARATE(20,30)");
    await expect.poll(() => preview.cells("Try", "B2:B3")).toEqual([["#VALUE!"], [3000]]);
    await preview.select("Try", "B2");
    await expect.poll(() => status.textContent()).toContain("overlap must be from 0 to below 1");
    await preview.select("Try", "B3");
    await expect.poll(() => status.textContent()).toBe("");
  });
});

describe("charts", () => {
  beforeEach(async () => {
    await open();
    await preview.excel(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Try");
      sheet.getRange("A1:C3").values = [
        ["Stage", "Crew", "Tooling"],
        ["Grind", 200, 100],
        ["Polish", 100, 50],
      ];
      const chart = sheet.charts.add("ColumnStacked", sheet.getRange("A1:C3"), "Columns");
      chart.title.text = "Cost by stage";
      chart.setPosition("E2", "L16");
      await context.sync();
    });
  });

  const chart = () => preview.page.getByRole("img", { name: "Cost by stage" });
  const heightOf = async (bar: Locator) => Number(await bar.getAttribute("height"));

  it("are drawn to scale, with their values in words", async () => {
    await chart().waitFor();
    const bars = chart().locator(".chart-bar");
    expect(await bars.count()).toBe(4);
    // The tallest is Grind's crew, 200: twice Grind's tooling and Polish's crew, four times Polish's tooling.
    const heights = await Promise.all([0, 1, 2, 3].map((i) => heightOf(bars.nth(i))));
    const tallest = heights[0] ?? 0;
    expect(tallest).toBeGreaterThan(20);
    expect(heights.map((height) => Math.round((height / tallest) * 100))).toEqual([100, 50, 50, 25]);
    expect(await chart().locator("desc").textContent()).toBe(
      "Crew: Grind 200, Polish 100. Tooling: Grind 100, Polish 50.",
    );
    await preview.shot("page-chart");
  });

  it("follow the cells they show", async () => {
    await preview.type("Try", "B3", "400");
    await expect.poll(() => chart().locator("desc").textContent()).toContain("Polish 400");
  });

  it("stay with their cells when the grid scrolls", async () => {
    await chart().waitFor();
    const top = async () => (await chart().boundingBox())?.y ?? 0;
    const before = await top();
    await preview.page.getByRole("main").hover();
    await preview.page.mouse.wheel(0, 60);
    await expect.poll(top).toBeLessThan(before);
    expect((before - (await top())) % 20).toBe(0);
  });

  it("are gone when another sheet is in view", async () => {
    await chart().waitFor();
    await preview.page.getByRole("main").getByText("Quote", { exact: true }).click();
    await expect.poll(() => chart().count()).toBe(0);
  });

  it("have no accessibility violation", async () => {
    await chart().waitFor();
    expect(await violations({ include: [[".chart-pane"]] })).toEqual([]);
  });
});

describe("a page asked to be dark", () => {
  beforeEach(() => open({ theme: "dark", paneWidth: 320 }));

  it("starts dark, pane and all", async () => {
    const { page } = preview;
    expect(await page.locator("html").getAttribute("data-theme")).toBe("dark");
    await expect.poll(() => preview.pane().locator("html").getAttribute("data-theme")).toBe("dark");
    expect(await cellBrightness(page.getByRole("main"))).toBeLessThan(64);
    expect(await page.locator("#pane").evaluate((frame) => frame.getBoundingClientRect().width)).toBe(320);
    expect(await violations({ exclude: [["#grid"], ["section[aria-label^='Notifications']"]] })).toEqual([]);
  });
});

/** From 0, black, to 255, white: the ground of an empty cell well inside the grid. */
async function cellBrightness(main: Locator): Promise<number> {
  return main.locator("canvas[id^=univer-sheet-main-canvas]").evaluate((canvas: HTMLCanvasElement) => {
    const [red = 0, green = 0, blue = 0] = canvas.getContext("2d")?.getImageData(500, 509, 1, 1).data ?? [];
    return Math.round((red + green + blue) / 3);
  });
}

async function violations(context: axe.ElementContext): Promise<string[]> {
  const { page } = preview;
  await page.evaluate(AXE);
  const found: axe.Result[] = await page.evaluate(
    `axe.run(${JSON.stringify(context)}, { iframes: false }).then((results) => results.violations)`,
  );
  return found.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`);
}
