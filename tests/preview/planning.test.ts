import { afterAll, afterEach, describe, expect, it } from "vitest";
import { cheapest } from "../../functions/plan/cheapest";
import { estimate, onCheapestMachines } from "../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../functions/plan/inputs";
import { propose } from "../../functions/plan/proposal";
import { starterMachines, starterShelf } from "../../functions/plan/starter-shelf";
import { expectNoProblems, openPreview, type Preview } from "./browser";

const { SHOTS } = process.env;

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);

// The pane's own example, written out: what the sheet shows is held to it.
const EXAMPLE: Inputs = { ...startInputs("us"), length: 80, width: 50 };
const shelf = starterShelf("us");
const TOOL = "Metal 30 medium";
/** What the starter shelf has of it. */
const { life: LIFE } = shelf.tools.find(({ name }) => name === TOOL)!;

const press = (name: string) => preview.pane().locator("fluent-button", { hasText: name }).click();
const label = (text: string) => preview.pane().getByLabel(text, { exact: true });
const message = () => preview.pane().locator(".message");
const strip = (key: string) => preview.pane().locator(`#strip-${key}`);
const close = (actual: unknown, expected: number) =>
  expect(Math.abs((actual as number) - expected)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(expected)));

const table = (name: string) => preview.table(name);
const named = (name: string) => preview.named(name);

const violations = () => preview.violations();

const overflow = () =>
  preview
    .pane()
    .locator("html")
    .evaluate((page) => page.scrollWidth - page.clientWidth);

/** The whole pane, however long; only where pictures are asked for, because it lays out the page anew. */
async function paneShot(name: string): Promise<void> {
  if (!SHOTS) return;
  const frame = preview.page.frames().find((one) => one.url().includes("/preview/pane.html"))!;
  const height = await frame.evaluate(() => document.documentElement.scrollHeight);
  const size = preview.page.viewportSize()!;
  await preview.page.setViewportSize({ ...size, height: Math.min(6000, height + 100) });
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/${name}.png` });
  await preview.page.setViewportSize(size);
}

describe("the two sequences", () => {
  it("stand side by side, and the chosen one is what is written", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await press("Fill in an example");
    const { stages } = cheapest(EXAMPLE, shelf);
    const wanted = estimate(EXAMPLE, shelf, stages);
    const compared = preview.pane().locator(".compared");
    await expect.poll(() => compared.locator("tbody tr").count()).toBe(7);
    await paneShot("planning-320-mine");
    await label("Cheapest from my shelf").check();
    await expect.poll(() => preview.pane().locator(".stage select.tool").first().inputValue()).toBe(stages[0]!.tool);
    await paneShot("planning-320-cheapest");
    await preview.shot("planning-1400-cheapest");
    await preview.pane().locator("#insert").click();
    await expect.poll(() => message().textContent()).toMatch(/Stage plan/);
    const rows = await table("Stages_4");
    expect(rows.map((row) => [row.Work, row.Tool])).toEqual(stages.map(({ work, tool }) => [work, tool]));
    wanted.rows.forEach((row, i) => {
      close(rows[i]!.Passes, row.passes);
      close(rows[i]!["Stage cost"], row.cost);
    });
    close(await named("Stages_Price_4"), wanted.price);
    await preview.shot("planning-1400-inserted");
  });

  it("are left at mine, as own stages, once a stage is changed by hand", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await press("Fill in an example");
    await label("Cheapest from my shelf").check();
    await preview.pane().locator("#remove-0").click();
    expect(await label("My sequence").isChecked()).toBe(true);
    const own = cheapest(EXAMPLE, shelf).stages.slice(1);
    const shown = await preview
      .pane()
      .locator(".stage select.tool")
      .evaluateAll((selects) => selects.map((select) => (select as HTMLSelectElement).value));
    expect(shown).toEqual(own.map(({ tool }) => tool));
  });
});

describe("machines", () => {
  it("come as a table, are chosen stage by stage and written with the plan, whose undoing leaves the table", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await press("Fill in an example");
    await press("Add a machines table");
    await expect.poll(() => message().textContent()).toContain("Machines table written to the new sheet “Machines”");
    await expect.poll(() => preview.pane().locator(":focus").getAttribute("id")).toBe("cheapest-machines");
    await preview.shot("planning-1400-machines");
    const machines = starterMachines("us");
    expect((await table("Machines")).map((row) => row.Machine)).toEqual(machines.map(({ name }) => name));
    const withMachines = { ...shelf, machines };
    // Without edges to keep up with, the wider machine saves the crew's time.
    await preview.pane().locator("#field-edgeLength").fill("0");
    const inputs = { ...EXAMPLE, edgeLength: 0 };
    const { stages } = propose(inputs, shelf);
    await label("Machine of stage 1").selectOption(machines[0]!.name);
    // By hand: 330 lbf / (9 tools × 2 segments × 0.6 in²) is 30.56 psi.
    const figures = preview.pane().locator(".stage .figures").first();
    await expect.poll(() => figures.textContent()).toContain("30.6 psi on the floor");
    await press("Cheapest machine for each stage");
    await expect
      .poll(() => message().textContent())
      .toMatch(/^Each stage is now on its cheapest machine: .* less for the stages/);
    await paneShot("planning-320-machines");
    await preview.pane().locator("#insert").click();
    await expect.poll(() => message().textContent()).toMatch(/Stage plan/);
    const best = onCheapestMachines(inputs, withMachines, stages);
    expect(best.map(({ machine }) => machine)).toContain(machines[1]!.name);
    expect((await table("Stages_4")).map((row) => row["Run on"])).toEqual(best.map(({ machine }) => machine));
    close(await named("Stages_Price_4"), estimate(inputs, withMachines, best).price);
    await preview.shot("planning-1400-machines-inserted");
    await press("Undo");
    await expect.poll(() => message().textContent()).toMatch(/^Undid “/);
    expect((await table("Machines")).map((row) => row.Machine)).toEqual(machines.map(({ name }) => name));
  });
});

describe("a test strip", () => {
  it("gives the plan its cuts and the tooling table its wear, asked first, and undone", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await press("Fill in an example");
    await preview.pane().locator("#strip summary").click();
    await strip("tool").selectOption(TOOL);
    await strip("cut").fill("120");
    await strip("toolRadius").fill("4.5");
    await strip("headSpeed").fill("900");
    const speed = preview.pane().locator("#strip dd", { hasText: "ft/min" });
    expect(await speed.textContent()).toBe("2,121 ft/min"); // by hand: 2π × 4.5 in / 12 × 900 = 2120.6
    await press("Use in this plan");
    await expect.poll(() => message().textContent()).toContain(`the cut measured with ${TOOL}`);
    expect(await preview.pane().locator("#field-stripSize").inputValue()).toBe("600"); // ASTM E11 No. 30

    // By hand: 1.5 mm over 6 × 1000 ft² is 0.25 mm; 6 mm of a new segment last for 24 × 1000 ft².
    const worn = { heightBefore: 8.5, heightAfter: 7, wornArea: 3000, wornPasses: 2, newHeight: 8.5, wornOut: 2.5 };
    for (const [key, value] of Object.entries(worn)) await strip(key).fill(String(value));
    await paneShot("planning-320-strip");
    await press("Write wear and life to the tooling table");
    const dialog = preview.pane().getByRole("alertdialog");
    await dialog.waitFor();
    expect(await dialog.textContent()).toContain(
      `Life of a set ft² ${LIFE.toLocaleString("en-US")} → 24,000, Wear mm per 1000 ft² 0.25`,
    );
    await preview.shot("planning-1400-question");
    const rowNow = async () => (await table("Tooling")).find((row) => row.Tool === TOOL)!;
    expect((await rowNow())["Life of a set ft²"]).toBe(LIFE);
    await press("Yes");
    await message().waitFor();
    expect(await rowNow()).toMatchObject({ "Life of a set ft²": 24000, "Wear mm per 1000 ft²": 0.25 });
    await press("Undo");
    await expect.poll(() => message().textContent()).toMatch(/^Undid “/);
    expect(await rowNow()).toMatchObject({ "Life of a set ft²": LIFE, "Wear mm per 1000 ft²": "" });
  });
});

describe.each([
  ["light", 350],
  ["dark", 320],
] as const)("the planning cards, %s and %i px wide", (theme, paneWidth) => {
  it("have no accessibility violation and no sideways scroll, closed, open and with machines", async () => {
    preview = await openPreview({ theme, paneWidth });
    const check = async (state: string) => {
      expect(await violations(), state).toEqual([]);
      expect(await overflow(), state).toBeLessThanOrEqual(0);
      await paneShot(`planning-${theme}-${paneWidth}-${state}`);
    };
    await press("Fill in an example");
    for (const group of ["Passes and depth", "Test strip"]) {
      await preview.pane().getByRole("heading", { name: group, exact: true }).click();
    }
    await strip("cut").fill("deep");
    await check("open");
    await press("Add a machines table");
    await label("Machine of stage 1").waitFor();
    await label("Cheapest from my shelf").check();
    await check("machines");
  });
});
