import { afterAll, afterEach, describe, expect, it } from "vitest";
import { expectNoProblems, openPreview, type Preview } from "./browser";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);

const field = (key: string) => preview.pane().locator(`#field-${key}`);
const exposure = () => preview.pane().locator(".exposure");
const section = () => preview.pane().locator("details", { has: preview.pane().locator("#field-handHours") });
const lines = async () =>
  (await exposure().locator("dl > div").allTextContents()).map((text) => text.replace(/\s+/g, " "));

async function fillIn(values: Record<string, string>): Promise<void> {
  await preview.pane().locator("fluent-button", { hasText: "Fill in an example" }).click();
  await section().locator("summary").click();
  for (const [key, value] of Object.entries(values)) await field(key).fill(value);
}

describe.each([
  ["light", 350],
  ["dark", 320],
] as const)("the crew's exposure in the pane, %s and %i px wide", (theme, paneWidth) => {
  it("shows figures beside their values, in words, and says it is no permission", async () => {
    preview = await openPreview({ theme, paneWidth });
    expect(await exposure().count()).toBe(0);
    // By hand: 10² × 0.5 + 2² × 6 = 74, √(74/8) = 3.04; 100 dBA for 0.5 of 2 h and 90 dBA for 6 of 8 h are 100 %.
    await fillIn({
      handHours: "0.5",
      machineHours: "6",
      handVibration: "10",
      machineVibration: "2",
      handNoise: "100",
      machineNoise: "90",
      shroudDiameter: "7",
    });
    await exposure().waitFor();
    const told = (await lines()).join("\n");
    expect(told).toMatch(
      /A\(8\), EU values *3\.04 m\/s² *at or above the action value *action value 2\.5 m\/s², limit 5 m\/s²/,
    );
    expect(told).toMatch(
      /OSHA \(action: general industry\) *100% *at or above the action value *action value 50%, limit 100%/,
    );
    expect(told).toMatch(/Silica dust, 8-hour average *not given *needs a measurement and its hours/);
    expect(told).toMatch(/Minimum shroud airflow *175 cfm/);
    expect(await exposure().textContent()).toMatch(/not a permission/);
    expect(await preview.violations()).toEqual([]);
    const page = preview.pane().locator("html");
    expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth)).toBeLessThanOrEqual(0);
    await exposure().scrollIntoViewIfNeeded();
    await preview.shot(`exposure-${theme}`);
  });
});

it("the block is written beside the stage plan, with the pane's figures", async () => {
  preview = await openPreview();
  await fillIn({ handHours: "2", machineHours: "0", handVibration: "5" });
  await preview.pane().locator("#insert").click();
  await preview.pane().locator(".message").waitFor();
  const cells = await preview.cells("Stage plan", "A1:Y120");
  const row = cells.find((line) => line.includes("Hand-arm vibration A(8), EU values"))!;
  // By hand: 5 × √(2/8).
  expect(row).toEqual(expect.arrayContaining([2.5, "at or above the action value"]));
  await preview.select("Stage plan", `M${cells.indexOf(row) + 1}`);
  await preview.shot("exposure-sheet");
});
