/** The card for a list of rooms in a real browser, narrow, by keyboard, in both themes. */
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 180_000 });

const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";
const pane = () => preview.pane();
const textOf = async (place: string) => ((await pane().locator(place).textContent()) ?? "").replace(/\s+/g, " ");

async function check(state: string): Promise<void> {
  expect(await preview.violations(), state).toEqual([]);
  const page = pane().locator("html");
  expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth), state).toBeLessThanOrEqual(0);
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/rooms-${state}.png` });
}

const LIST = [
  ["Room", "Sq. Ft.", "Finish", "Remarks by the owner's superintendent"],
  ["Receiving and staging area behind dock 4", "1,200 sf", "level 3", ""],
  ["Lobby", 400, "shiny", ""],
];

describe.each([
  ["light", 320],
  ["dark", 350],
] as const)("the card for a list of rooms, %s and %i px wide", (theme, paneWidth) => {
  it("reads the list, lists the bad row, and writes the plan, by keyboard alone", async () => {
    preview = await openPreview({ theme, paneWidth });
    await preview.excel(async (context, list) => {
      const sheet = context.workbook.worksheets.add("Survey");
      const range = sheet.getRange("A1:D3");
      range.values = list;
      sheet.activate();
      sheet.getRange("B2").select();
      await context.sync();
    }, LIST);
    await pane().locator("fluent-tab", { hasText: "Bid" }).click();
    await pane().locator("#rooms summary").focus();
    await preview.page.keyboard.press("Enter");
    await pane().locator("#rooms-read").focus();
    await preview.page.keyboard.press("Enter");
    await eventually(() => textOf("#rooms")).toContain("Survey!A1:D3: 1 room to plan.");
    expect(await textOf("#rooms-read-from")).toContain("Floor area from “Sq. Ft.”");
    expect(await textOf("#rooms-read-from")).toContain("Not used: “Remarks by the owner's superintendent”.");
    expect(await textOf("#rooms .to-fix-list")).toContain("C3 can't tell the finish");
    await pane().locator("#rooms details summary").click();
    await check(`read-${theme}`);
    await pane().locator("#rooms-write").focus();
    await preview.page.keyboard.press("Enter");
    await eventually(() => textOf(".message")).toContain(
      "1 stage plan written to the new sheet “Receiving and staging area behi”.",
    );
    expect(await preview.cells("Receiving and staging area behi", "A1:A1")).not.toEqual([[""]]);
    await eventually(() => textOf("section[aria-labelledby=bid-floors]")).toContain(
      "Receiving and staging area behind dock 4",
    );
    await check(`written-${theme}`);
  });
});
