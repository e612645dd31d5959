import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 180_000 });

/** For the grid to be drawn before its picture is taken. */
const DRAWN_MS = 1500;
const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";
const pane = () => preview.pane();
const tab = (name: string) => pane().locator("fluent-tab", { hasText: name }).click();
const says = (text: string | RegExp) =>
  eventually(() =>
    pane()
      .locator(".message")
      .textContent()
      .catch(() => ""),
  ).toMatch(text);
const focused = () => pane().locator(":focus").getAttribute("id");
const textOf = async (place: string) => ((await pane().locator(place).textContent()) ?? "").replace(/\s+/g, " ");
const logged = () =>
  preview.excel(async (context) => {
    const body = context.workbook.tables.getItem("Log").getDataBodyRange().load("values");
    await context.sync();
    return body.values as (string | number)[][];
  });

async function check(state: string): Promise<void> {
  expect(await preview.violations(), state).toEqual([]);
  const page = pane().locator("html");
  expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth), state).toBeLessThanOrEqual(0);
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/log-${state}.png` });
}

/** Presses keys one by one, as a hand does. */
async function keys(pressed: readonly string[]): Promise<void> {
  for (const key of pressed) await preview.page.keyboard.press(key);
}

describe.each([
  ["light", 320],
  ["dark", 350],
] as const)("the log's card, %s and %i px wide", (theme, paneWidth) => {
  it("takes a day's line by keyboard alone, shows where the job comes out, and closes it out", async () => {
    preview = await openPreview({ theme, paneWidth });
    await tab("Bid");
    await pane().locator("#log summary").click();
    await pane().locator("#log-start").click();
    await says("Log with a forecast of 10 stages written to the new sheet “Log”.");
    await pane().locator("#log-area").waitFor();
    expect(await pane().locator("#log-stage").inputValue()).toBe("1 Metal 30 medium");
    await check(`empty-${theme}`);

    // Area, machine and crew hours of the first day.
    await pane().locator("#log-area").focus();
    const first = ["1", "2", "0", "0", "Tab", "3", "Tab", "4", "Enter"];
    await keys(first);
    await says(/^Logged \d{4}-\d\d-\d\d, Packing hall, 1 Metal 30 medium\.$/);
    expect((await logged())[0]!.slice(3, 6)).toEqual([1200, 3, 4]);
    // The next line has the hours of this one: its area and Enter are enough. 0.28 s a key is an average typist's
    // (Card, Moran and Newell, 1980); ten seconds are 35 keys.
    expect(await focused()).toBe("log-area");
    const second = ["9", "0", "0", "Enter"];
    await keys(second);
    await eventually(async () => (await logged()).length).toBe(2);
    expect((await logged())[1]!.slice(3, 6)).toEqual([900, 3, 4]);
    expect(0.28 * Math.max(first.length, second.length)).toBeLessThan(10);
    await eventually(() => textOf("#log")).toMatch(/done: 8\.0 h worked for \d\.\d h quoted\./);
    expect(await textOf("#log")).toMatch(/1 Metal 30 medium: \d+% more hours than quoted/);

    await preview.page.waitForTimeout(DRAWN_MS);
    await preview.shot(`log-sheet-${theme}`);

    // A mark beside what is wrong, and a question about what is unlikely.
    await keys(["x", "Enter"]);
    await says("Fix the highlighted fields.");
    expect(await pane().locator("#log-area").getAttribute("aria-invalid")).toBe("true");
    await check(`marked-${theme}`);
    await pane().locator("#log-area").fill("99999");
    await keys(["Enter"]);
    await pane().locator("#question").waitFor();
    await pane().locator("#answer-no").click();
    await says("Nothing was changed.");
    expect(await logged()).toHaveLength(2);

    // At the price it was sold at, into the list of the demo.
    await pane().locator("#log-close").click();
    await pane().locator("#question").waitFor();
    await check(`close-${theme}`);
    await pane().locator("#answer-no").click();
    await says("Nothing was changed.");
  });
});
