/** The Bid view over the demo's bid: a kind changed and updated, the proposal written again, an own list of extras. */
import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 120_000 });

const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";
const pane = () => preview.pane();
const says = (text: string | RegExp) =>
  eventually(() =>
    pane()
      .locator(".message")
      .textContent()
      .catch(() => ""),
  ).toMatch(text);
const cell = async (sheet: string, address: string) => (await preview.cells(sheet, address))[0]![0];

async function check(state: string): Promise<void> {
  expect(await preview.violations(), state).toEqual([]);
  const page = pane().locator("html");
  expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth), state).toBeLessThanOrEqual(0);
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/bid-${state}.png` });
}

describe.each([
  ["light", 320],
  ["dark", 350],
] as const)("the Bid view, %s and %i px wide", (theme, paneWidth) => {
  it("updates the bid, says that the proposal no longer fits, and writes it again", async () => {
    preview = await openPreview({ theme, paneWidth });
    await pane().locator("fluent-tab", { hasText: "Bid" }).click();
    await pane().locator("#write-proposal").waitFor();
    await check(`read-${theme}`);
    for (const group of ["crew", "once", "price", "site"]) await pane().locator(`#bid-${group} summary`).click();
    await check(`open-${theme}`);

    const price = (await cell("Quote", "C10")) as number;
    await pane().locator("[aria-labelledby=bid-floors] select").nth(2).selectOption("base");
    await pane().locator("#write-bid").click();
    await says("Bid updated on “Bid”.");
    // The shop was an option, and adds to the price that the quote takes.
    await eventually(async () => ((await cell("Quote", "C10")) as number) > price).toBe(true);
    await eventually(() => pane().locator("[aria-labelledby=bid-proposal] .problem").textContent()).toMatch(
      /^This page no longer fits the bid\./,
    );
    await pane().locator("#write-proposal").click();
    await pane().locator("#question").waitFor();
    await check(`question-${theme}`);
    await pane().locator("fluent-button", { hasText: "Yes" }).click();
    await says("Proposal written to the new sheet “Proposal 2”, with your sentences from “Proposal”.");
    await eventually(() => pane().locator("[aria-labelledby=bid-proposal] .problem").textContent()).toBe(
      "Type your company's line in A2.",
    );

    await pane().locator("#keep-extras").click();
    await says("Your list of extras written to the new sheet “Extras”.");
    await eventually(() => pane().locator("[aria-labelledby=bid-extras]").textContent()).toMatch(
      /From your list: the table Extras on “Extras”\./,
    );
    await check(`kept-${theme}`);
  });
});
