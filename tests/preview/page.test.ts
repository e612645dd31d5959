import type axe from "axe-core";
import type { Locator } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import {
  eventually,
  expectNoProblems,
  GRID,
  openPreview,
  type Preview,
  type PreviewOptions,
  violationsIn,
} from "./browser";

let preview: Preview;
let sheets = 0;
/** The sheet of this test alone. */
let sheet = "";

afterAll(expectNoProblems);

/** One page for the tests of a group; closing it checks that nothing was logged as an error or asked of another origin. */
function onePage(options?: PreviewOptions): void {
  beforeAll(async () => {
    preview = await openPreview(options);
  });
  afterAll(() => preview.close());
  beforeEach(async () => {
    sheet = `Try ${++sheets}`;
    await preview.excel(async (context, name) => {
      context.workbook.worksheets.add(name).activate();
      await context.sync();
    }, sheet);
  });
}

describe("the page", () => {
  onePage();

  it("says what it is, and shows grid, tabs and pane", async () => {
    const { page } = preview;
    expect(await page.getByRole("banner").textContent()).toContain("An embedded spreadsheet, not Excel");
    expect(await page.getByRole("main").locator("canvas").first().isVisible()).toBe(true);
    expect(await page.getByRole("main").getByText(sheet, { exact: true }).isVisible()).toBe(true);
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
    expect(await activeSheet()).toBe(sheet);
    await page.getByRole("main").getByText("Quote", { exact: true }).click();
    await eventually(activeSheet).toBe("Quote");
  });

  it("switches grid and pane to dark and back", async () => {
    const { page } = preview;
    const dark = page.getByRole("switch", { name: "Dark" });
    const paneTheme = () => preview.pane().locator("html").getAttribute("data-theme");
    expect(await paneTheme()).toBe("light");
    expect(await gridBrightness()).toBeGreaterThan(224);
    await dark.click();
    expect(await dark.getAttribute("aria-checked")).toBe("true");
    await eventually(paneTheme).toBe("dark");
    await eventually(gridBrightness).toBeLessThan(64);
    await dark.click();
    await eventually(paneTheme).toBe("light");
  });

  it("has no accessibility violation in what is ours", async () => {
    // The grid's own elements are Univer's (unnamed buttons, positive tabindex); its charts are ours.
    expect(await violations({ exclude: [["#grid"], ["section[aria-label^='Notifications']"]] })).toEqual([]);
  });
});

describe("custom functions in the grid", () => {
  onePage();

  it("are offered with their description as one types", async () => {
    const { page } = preview;
    await preview.select(sheet, "B2");
    await page.locator(GRID).focus();
    await page.keyboard.type("=GRIT.AREAR");
    const offer = page.getByText("GRIT.AREARATE").first();
    await offer.waitFor();
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
  });

  it("calculate in a cell typed by keyboard", async () => {
    // By hand: 20 in = 20/12 ft; 20/12 ft × 30 ft/min × 60 min/h = 3000 ft²/h.
    await preview.type(sheet, "B2", "=GRIT.AREARATE(20,30)");
    await eventually(() => preview.cells(sheet, "B2")).toEqual([[3000]]);
  });

  it("spill over a range, and follow its cells", async () => {
    // By hand, ft²/h at 30 ft/min: 12 in = 1 ft, so 1800 an inch of twelve; 24 in 3600; 36 in 5400; then 48 in 7200.
    await preview.type(sheet, "A1", "12", "24", "36");
    await preview.type(sheet, "B1", "=GRIT.AREARATE(A1:A3,30)");
    await eventually(() => preview.cells(sheet, "B1:B3")).toEqual([[1800], [3600], [5400]]);
    await preview.type(sheet, "A2", "48");
    await eventually(() => preview.cells(sheet, "B1:B3")).toEqual([[1800], [7200], [5400]]);
  });

  it("say in the status bar why the selected cell is an error", async () => {
    const status = preview.page.getByRole("contentinfo").getByRole("status");
    await preview.type(sheet, "B2", "=GRIT.AREARATE(20,30,20)", "=GRIT.AREARATE(20,30)");
    await eventually(() => preview.cells(sheet, "B2:B3")).toEqual([["#VALUE!"], [3000]]);
    await preview.select(sheet, "B2");
    await eventually(() => status.textContent()).toContain("overlap must be from 0 to below 1");
    await preview.select(sheet, "B3");
    await eventually(() => status.textContent()).toBe("");
  });
});

describe("charts", () => {
  onePage();

  beforeEach(() =>
    preview.excel(async (context, name) => {
      const sheet = context.workbook.worksheets.getItem(name);
      sheet.getRange("A1:C3").values = [
        ["Stage", "Crew", "Tooling"],
        ["Grind", 200, 100],
        ["Polish", 100, 50],
      ];
      const chart = sheet.charts.add("ColumnStacked", sheet.getRange("A1:C3"), "Columns");
      chart.title.text = "Cost by stage";
      chart.setPosition("E2", "L16");
      await context.sync();
    }, sheet),
  );

  const chart = () => preview.page.getByRole("img", { name: "Cost by stage" });
  // What is filled and stands where it is drawn: a legend's keys are moved to their places, axes have no fill.
  const barsOf = (of: Locator) => of.locator('path[fill^="#"]:not([transform])');
  const boxOf = (bar: Locator) =>
    bar.evaluate((path) => {
      const { x, y, width, height } = (path as unknown as SVGPathElement).getBBox();
      return { x, y, width, height };
    });

  it("are drawn to scale, with their values in words", async () => {
    await chart().waitFor();
    const bars = barsOf(chart());
    await eventually(() => bars.count()).toBe(4);
    // The tallest is Grind's crew, 200: twice Grind's tooling and Polish's crew, four times Polish's tooling.
    const heights = (await Promise.all([0, 1, 2, 3].map((i) => boxOf(bars.nth(i))))).map(({ height }) => height);
    const tallest = heights[0] ?? 0;
    expect(tallest).toBeGreaterThan(20);
    expect(heights.map((height) => Math.round((height / tallest) * 100))).toEqual([100, 50, 50, 25]);
    expect(await chart().locator(".chart-values").textContent()).toBe(
      "Crew: Grind 200, Polish 100. Tooling: Grind 100, Polish 50.",
    );
    await preview.shot("page-chart");
  });

  it("lie as bars, the first category lowest, or join in a line", async () => {
    await preview.excel(async (context, name) => {
      const on = context.workbook.worksheets.getItem(name);
      for (const [type, corner] of [
        ["BarClustered", "E18"],
        ["LineMarkers", "E32"],
      ] as const) {
        const chart = on.charts.add(type, on.getRange("A1:B3"), "Columns");
        chart.title.text = type;
        chart.setPosition(corner);
      }
      await context.sync();
    }, sheet);
    const bars = barsOf(preview.page.getByRole("img", { name: "BarClustered" }));
    await bars.first().waitFor();
    const [grind, polish] = [await boxOf(bars.nth(0)), await boxOf(bars.nth(1))];
    // Crew: Grind 200, Polish 100.
    expect(Math.abs(grind.width / polish.width - 2)).toBeLessThan(0.03);
    expect(grind.y).toBeGreaterThan(polish.y);
    const line = preview.page.getByRole("img", { name: "LineMarkers" });
    const path = (await line.locator('path[fill="none"][stroke="#1a453b"]').first().getAttribute("d")) ?? "";
    const [grindY = 0, polishY = 0] = [...path.matchAll(/ ([\d.]+)/g)].map(([, y]) => Number(y));
    const zeroY = (await boxOf(line.locator('path[stroke="#6b7280"]').first())).y;
    // Zero lies on a whole pixel, up to one away from where the points count from.
    expect(Math.abs((zeroY - grindY) / (zeroY - polishY) - 2)).toBeLessThan(0.03);
  });

  it("follow the cells they show", async () => {
    await preview.type(sheet, "B3", "400");
    await eventually(() => chart().locator(".chart-values").textContent()).toContain("Polish 400");
  });

  it("stay with their cells when the grid scrolls", async () => {
    await chart().waitFor();
    const top = async () => (await chart().boundingBox())?.y ?? 0;
    const before = await top();
    await preview.page.getByRole("main").hover();
    await preview.page.mouse.wheel(0, 60);
    await eventually(top).toBeLessThan(before);
    expect((before - (await top())) % 20).toBe(0);
  });

  it("come into view with the cell that the add-in selects", async () => {
    await preview.excel(async (context, name) => {
      context.workbook.worksheets.getItem(name).charts.getItemAt(0).setPosition("Z200", "AC204");
      await context.sync();
    }, sheet);
    await preview.select(sheet, "Z200");
    const grid = await preview.page.locator(GRID).boundingBox();
    const isInside = async () => {
      const box = await chart().boundingBox();
      if (!box || !grid) return false;
      return box.x >= grid.x && box.y >= grid.y && box.x < grid.x + grid.width && box.y < grid.y + grid.height;
    };
    await eventually(isInside).toBe(true);
  });

  it("are gone when another sheet is in view", async () => {
    await chart().waitFor();
    await preview.page.getByRole("main").getByText("Quote", { exact: true }).click();
    await eventually(() => chart().count()).toBe(0);
  });

  it("have no accessibility violation", async () => {
    await chart().waitFor();
    expect(await violations({ include: [[".chart-pane"]] })).toEqual([]);
  });
});

describe("a page asked to be dark", () => {
  onePage({ theme: "dark", paneWidth: 320, fresh: true });

  it("starts dark, pane and all", async () => {
    const { page } = preview;
    expect(await page.locator("html").getAttribute("data-theme")).toBe("dark");
    await eventually(() => preview.pane().locator("html").getAttribute("data-theme")).toBe("dark");
    expect(await gridBrightness()).toBeLessThan(64);
    expect(await page.locator("#pane").evaluate((frame) => frame.getBoundingClientRect().width)).toBe(320);
    expect(await violations({ exclude: [["#grid"], ["section[aria-label^='Notifications']"]] })).toEqual([]);
  });
});

/** From 0, black, to 255, white: the ground of the row numbers, beside a number. */
async function gridBrightness(): Promise<number> {
  return preview.page.locator(GRID).evaluate((canvas: HTMLCanvasElement) => {
    const [red = 0, green = 0, blue = 0] = canvas.getContext("2d")?.getImageData(3, 203, 1, 1).data ?? [];
    return Math.round((red + green + blue) / 3);
  });
}

const violations = (context: axe.ElementContext) => violationsIn(preview.page.mainFrame(), context);
