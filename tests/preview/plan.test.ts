import { afterAll, afterEach, describe, expect, it } from "vitest";
import { estimate } from "../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../functions/plan/inputs";
import { propose } from "../../functions/plan/proposal";
import { starterShelf } from "../../functions/plan/starter-shelf";
import { expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);

const DEMO_SHEETS = ["Quote", "Past jobs", "Shelf", "Packing hall", "Cold store", "Shop", "Bid", "Proposal"];
// The demo's job and the pane's own example, written out: what the sheet shows is held to these.
const DEMO: Inputs = { ...startInputs("us"), length: 84, width: 50, area: 4200 };
const EXAMPLE: Inputs = { ...startInputs("us"), length: 80, width: 50 };

const shelf = starterShelf("us");
const estimateOf = (inputs: Inputs) => estimate(inputs, shelf, propose(inputs, shelf).stages);

const press = (name: string) => preview.pane().locator("fluent-button", { hasText: name }).click();
const field = (key: string) => preview.pane().locator(`#field-${key}`);
const message = () => preview.pane().locator(".message");
const close = (actual: unknown, expected: number) =>
  expect(Math.abs((actual as number) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));

const table = (name: string) => preview.table(name);
const named = (name: string) => preview.named(name);
const sheets = () =>
  preview.excel(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    return worksheets.items.map((sheet) => sheet.name);
  });

async function expectTable(name: string, price: string, inputs: Inputs): Promise<void> {
  const wanted = estimateOf(inputs);
  const rows = await table(name);
  expect(rows.map((row) => [row.Work, row.Tool, row.Check])).toEqual(
    wanted.rows.map((row) => [row.work, row.tool, row.verdict]),
  );
  wanted.rows.forEach((row, i) => {
    const cells = rows[i]!;
    const numbers: [string, number][] = [
      ["Machine h", row.machineHours],
      ["Edge h", row.edgeHours],
      ["Hours", row.hours],
      ["Sets used", row.setsUsed],
      ["Sets to buy", row.setsToBuy],
      ["Tooling cost", row.parts.tooling],
      ["Crew cost", row.parts.crew],
      ["Machine cost", row.parts.machine],
      ["Liquids cost", row.parts.liquids],
      ["Stage cost", row.cost],
    ];
    for (const [header, value] of numbers) close(cells[header], value);
  });
  close(await named(price), wanted.price);
}

const violations = () => preview.violations();

describe("the demo workbook", () => {
  it("opens on a stage table whose numbers are the functions' own, in a quote that takes the bid's price", async () => {
    preview = await openPreview({ fresh: true });
    await expectTable("Stages", "Stages_Price", DEMO);
    expect(await sheets()).toEqual(DEMO_SHEETS);
    const [[price]] = (await preview.cells("Quote", "C10")) as [[number]];
    expect(price).toBe(await named("Bid_Offered"));
    // Of two floors and two extras, at a price rounded up to whole tens.
    expect(price).toBeGreaterThan(estimateOf(DEMO).price);
    expect(price % 10).toBe(0);
  });

  it("changes the price when the floor area in the quote is changed by hand", async () => {
    preview = await openPreview();
    await preview.type("Quote", "C6", "6000");
    const { price } = estimateOf({ ...DEMO, area: 6000 });
    await expect.poll(async () => Math.abs(((await named("Stages_Price")) ?? 0) - price)).toBeLessThan(1e-6);
  });
});

describe("a stage table from the pane", () => {
  it("is made by mouse, agrees with the functions, and is undone", async () => {
    preview = await openPreview();
    await press("Fill in an example");
    await preview.pane().locator("#insert").click();
    await message().waitFor();
    expect(await message().textContent()).toBe("Stage table written to the new sheet “Stage plan”.");
    await expectTable("Stages_4", "Stages_Price_4", EXAMPLE);
    await preview.shot("plan-inserted");
    await press("Undo");
    await expect.poll(() => message().textContent()).toMatch(/^Undid “/);
    expect(await sheets()).toEqual(DEMO_SHEETS);
  });

  it("is made by keyboard alone", async () => {
    preview = await openPreview();
    const { page } = preview;
    await field("length").focus();
    await page.keyboard.type("80");
    await page.keyboard.press("Tab");
    await page.keyboard.type("50");
    for (let i = 0; i < 120; i++) {
      await page.keyboard.press("Tab");
      const id = await preview
        .pane()
        .locator(":focus")
        .getAttribute("id", { timeout: 2000 })
        .catch(() => null);
      if (id === "insert") break;
    }
    await page.keyboard.press("Enter");
    await message().waitFor();
    await expectTable("Stages_4", "Stages_Price_4", EXAMPLE);
  });

  it("asks before it covers filled cells, and leaves them on a no", async () => {
    preview = await openPreview();
    await press("Fill in an example");
    await preview.select("Quote", "A3");
    const before = await preview.cells("Quote", "A1:C13");
    await preview.pane().getByLabel("with lines at the selected cell").check();
    await preview.pane().locator("#insert").click();
    const dialog = preview.pane().getByRole("alertdialog");
    await dialog.waitFor();
    expect(await dialog.textContent()).toMatch(/need Quote!A3:B3, which has 1 filled cell\./);
    await press("No");
    expect(await preview.cells("Quote", "A1:C13")).toEqual(before);
    await preview.pane().locator("#insert").click();
    await press("Yes");
    await message().waitFor();
    close(await named("Stages_Price_4"), estimateOf(EXAMPLE).price);
    await press("Undo");
    await expect.poll(() => message().textContent()).toMatch(/^Undid “/);
    expect(await preview.cells("Quote", "A1:C13")).toEqual(before);
  });

  it("takes an input from the selected cell of the quote", async () => {
    preview = await openPreview();
    await preview.select("Quote", "C6");
    await preview.pane().getByLabel("Take floor area from the selected cell").click();
    await expect.poll(() => field("area").inputValue()).toBe("4,200");
    await preview.pane().locator("#insert").click();
    await expect.poll(() => message().textContent()).toMatch(/Stage plan/);
    await preview.type("Quote", "C6", "5000");
    const { price } = estimateOf({ ...startInputs("us"), area: 5000 });
    await expect.poll(async () => Math.abs((await named("Stages_Price_4")) - price)).toBeLessThan(1e-6);
  });
});

describe("wrong input", () => {
  it("is told next to its field, and stops the writing", async () => {
    preview = await openPreview();
    await press("Fill in an example");
    await preview
      .pane()
      .locator("details", { has: preview.pane().getByRole("heading", { name: "Machine", exact: true }) })
      .locator("summary")
      .click();
    await field("overlap").fill("120");
    const problem = preview.pane().locator("#problem-overlap");
    expect(await problem.textContent()).toBe("Overlap must be from 0% to below 100%; got 120%");
    expect(await field("overlap").getAttribute("aria-invalid")).toBe("true");
    await preview.pane().locator("#insert").click({ force: true });
    expect(await message().textContent()).toContain("Overlap must be from 0% to below 100%");
    expect(await preview.pane().locator(":focus").getAttribute("id")).toBe("field-overlap");
    await field("overlap").fill("lots");
    expect(await problem.textContent()).toMatch(/Overlap/);
    expect(await sheets()).toEqual(DEMO_SHEETS);
    await preview.shot("plan-wrong-input");
  });

  it("of units is converted, not lost", async () => {
    preview = await openPreview();
    await press("Fill in an example");
    await field("units").selectOption("metric");
    expect(await field("length").inputValue()).toBe("24.384");
    await field("units").selectOption("us");
    expect(await field("length").inputValue()).toBe("80");
  });
});

describe("the Functions view", () => {
  it("finds a function by a trade word and puts it into the selected cell", async () => {
    preview = await openPreview();
    await preview.select("Quote", "E3");
    await preview.pane().locator("fluent-tab", { hasText: "Functions" }).click();
    await preview.pane().locator("#search").fill("edge");
    const entry = preview.pane().locator("#function-EDGETIME");
    await entry.locator("summary").click();
    await preview.shot("functions");
    await entry.locator("fluent-button", { hasText: "Insert at the selected cell" }).click();
    await expect.poll(() => message().textContent()).toContain("written to Quote!E3");
    // By hand: 160 ft × 3 passes / 40 ft/h.
    expect(await preview.cells("Quote", "E3")).toEqual([[12]]);
  });
});

describe.each([
  ["light", 350],
  ["dark", 320],
] as const)("the pane, %s and %i px wide", (theme, paneWidth) => {
  it("has no accessibility violation and no sideways scroll, empty, filled in and with a question", async () => {
    preview = await openPreview({ theme, paneWidth });
    const overflow = () =>
      preview
        .pane()
        .locator("html")
        .evaluate((page) => page.scrollWidth - page.clientWidth);
    const check = async (state: string) => {
      expect(await violations(), state).toEqual([]);
      expect(await overflow(), state).toBeLessThanOrEqual(0);
      await preview.page
        .locator("#pane")
        .screenshot({ path: `/tmp/gritledger-shots/pane-${theme}-${paneWidth}-${state}.png` });
    };
    await check("empty");
    await press("Fill in an example");
    await check("filled");
    await preview.select("Quote", "A3");
    await preview.pane().getByLabel("with lines at the selected cell").check();
    await preview.pane().locator("#insert").click();
    await preview.pane().getByRole("alertdialog").waitFor();
    await check("question");
    await press("No");
    await preview.pane().locator("fluent-tab", { hasText: "Functions" }).click();
    await preview.pane().locator("#function-AREARATE").waitFor();
    await check("functions");
  });
});
