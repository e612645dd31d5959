/** The math of a cell in the pane, on the demo workbook and on a sheet of its own. */
import { afterAll, afterEach, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

vi.setConfig({ testTimeout: 180_000 });

const DRAWN_MS = 1000;

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);

const pane = () => preview.pane();
const card = () => pane().locator(".math");
const textOf = async () => ((await card().textContent()) ?? "").replace(/\s+/g, " ");

async function openFunctions(): Promise<void> {
  await pane().locator("fluent-tab", { hasText: "Functions" }).click();
  await card().waitFor();
}

async function show(sheet: string, address: string): Promise<void> {
  await preview.select(sheet, address);
  await pane().locator("#show-math").click();
  await eventually(() =>
    pane()
      .locator(".math-cell")
      .textContent()
      .catch(() => ""),
  ).toContain(address);
}

/** An invented floor, with a name, a table and a spill. */
const writeJob = () =>
  preview.excel(async (context) => {
    const sheet = context.workbook.worksheets.add("Try");
    sheet.getRange("A1:B1").values = [["Floor", 5000]];
    context.workbook.names.add("Try_Floor", sheet.getRange("B1"));
    sheet.getRange("A3:B5").values = [
      ["Machine", "Width"],
      ["small", 20],
      ["large", 28],
    ];
    sheet.tables.add("A3:B5", true).name = "Try_Machines";
    sheet.getRange("D1").formulas = [["=GRIT.CONTAINERS(GRIT.LIQUID(Try_Floor,400,2,0.1),5)"]];
    sheet.getRange("D4").formulas = [["=GRIT.AREARATE(Try_Machines[Width],15)"]];
    sheet.getRange("D7").formulas = [["=GRIT.AREARATE(20,30,20)"]];
    sheet.activate();
    await context.sync();
  });

it("shows each call with its numbers, units and source, of a spilled cell too, and why a cell is an error", async () => {
  preview = await openPreview({ width: 1400, height: 1000 });
  await writeJob();
  await openFunctions();
  await show("Try", "D1");
  // By hand: 5000 × 2 × 1.1 / 400 = 27.5 gal, in fives 6.
  expect(await textOf()).toContain("Try!D1 shows 6.");
  expect(await pane().locator(".call h3").allTextContents()).toEqual(["GRIT.CONTAINERS", "GRIT.LIQUID"]);
  expect(await pane().locator(".call .code").allTextContents()).toEqual(["=ROUNDUP(27.5/5,0)", "=5000*2*(1+0.1)/400"]);
  expect(await textOf()).toContain("Try_Floor 5000 ft² or m²");
  expect(await textOf()).toContain("Source: Volume is area over coverage.");
  expect(await preview.violations()).toEqual([]);
  await preview.page.waitForTimeout(DRAWN_MS);
  await preview.shot("working");

  await show("Try", "D5");
  // By hand: 28 in at 15 ft/min is 28/12 × 15 × 60 = 2100 ft²/h.
  expect(await textOf()).toContain("filled by the formula in Try!D4");
  expect(await pane().locator(".call .code").allTextContents()).toEqual(["=28/12*15*60*(1-0)*1"]);
  expect(await pane().locator(".outcome").textContent()).toBe("Result: 2100 ft²/h");

  await show("Try", "D7");
  expect(await textOf()).toContain("#VALUE! overlap must be from 0 to below 1 (20% is 0.2); got 20");

  await show("Try", "A1");
  expect(await textOf()).toContain("Try!A1 has no formula. It holds “Floor”, typed in.");
});

it("fits a pane of 320 pixels in the dark, also for a cell of the stage table", async () => {
  preview = await openPreview({ theme: "dark", paneWidth: 320, width: 1400, height: 1000 });
  await openFunctions();
  // A cell of the demo's stage table whose formula looks its tool up on the shelf.
  const { sheet, address } = await preview.excel(async (context) => {
    const table = context.workbook.tables.getItem("Stages");
    const cell = table.columns.getItem("Machine h").getDataBodyRange().getCell(0, 0).load("address");
    await context.sync();
    const [name = "", place = ""] = cell.address.split("!");
    return { sheet: name.replace(/^'|'$/g, ""), address: place };
  });
  await show(sheet, address);
  expect(await pane().locator(".call h3").first().textContent()).toBe("GRIT.PASSTIME");
  expect(await pane().locator(".call .code").first().textContent()).toMatch(/^=[\d.*/()+-]+$/);
  const isWiderThanPane = () =>
    pane()
      .locator("html")
      .evaluate((page) => page.scrollWidth > page.clientWidth);
  expect(await isWiderThanPane()).toBe(false);
  expect(await preview.violations()).toEqual([]);
  await preview.page.waitForTimeout(DRAWN_MS);
  await preview.shot("working-dark");
  await pane().locator(".call").first().scrollIntoViewIfNeeded();
});
