import { afterAll, afterEach, describe, expect, it, vi } from "vitest";
import { eventually, expectNoProblems, openPreview, type Preview } from "./browser";

/** For the grid to be drawn before its picture is taken. */
const DRAWN_MS = 1500;
const SHOTS = process.env.SHOTS ?? "/tmp/gritledger-shots";

let preview: Preview;
afterEach(() => preview.close());
afterAll(expectNoProblems);
vi.setConfig({ testTimeout: 180_000 });

/*
 * An invented list. By hand, of the five jobs that count (C4 and the blank row are left out):
 * quoted 6300 − 4200 = 2100, 33.3%; actual 6300 − 4330 = 1970, 31.3%; fade 130.
 * Hours at 40: C1 lost 2.5 × 40 = 100, C3 gained 2 × 40 = 80, the second C2 lost 40: lost 60; so other lost 70.
 * Metal took 12.5/10, 20/20 and 8/10 of the quoted hours: a factor of 1 and a spread of ln 1.25.
 */
const LIST: (string | number)[][] = [
  [
    "Job",
    "Bid price",
    "Billed",
    "Bid cost",
    "Final cost",
    "Bid hours",
    "Hours worked",
    "Wage bid",
    "Wage paid",
    "Stone",
  ],
  ["C1", 1000, 1000, 700, 780, 10, 12.5, 40, 40, "metal"],
  ["C2", 2000, 2000, 1400, 1400, 20, 20, 40, 40, "metal"],
  ["C3", 1500, 1500, 1000, 1000, 10, 8, 40, 40, "metal"],
  ["C4", 1200, "", 800, 800, 9, 9, 40, 40, "metal"],
  ["", "", "", "", "", "", "", "", "", ""],
  ["C5", 800, 800, 500, 500, 5, 0, 40, 40, "resin"],
  ["C2", 1000, 1000, 600, 650, 10, 11, 40, 40, "resin"],
];

const pane = () => preview.pane();
const press = (name: string) => pane().locator("fluent-button", { hasText: name }).first().click();
const tab = (name: string) => pane().locator("fluent-tab", { hasText: name }).click();
const heading = (key: string) => pane().locator(`#heading-${key}`);
const message = () => pane().locator(".message");
const says = (text: string | RegExp) =>
  eventually(() =>
    message()
      .textContent()
      .catch(() => ""),
  ).toMatch(text);
/** What is read at a place, without the white space of the page's source. */
const textOf = async (place: string) => ((await pane().locator(place).textContent()) ?? "").replace(/\s+/g, " ");
const sheets = () =>
  preview.excel(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    return worksheets.items.map((sheet) => sheet.name);
  });
/** The number that stands in the same row as a label. */
const beside = (sheetName: string, label: string) =>
  preview.excel(
    async (context, [name, wanted]) => {
      const used = context.workbook.worksheets.getItem(name).getUsedRange().load("values");
      await context.sync();
      const row = used.values.find((cells) => cells.includes(wanted))!;
      return row.slice(row.indexOf(wanted) + 1).find((cell) => typeof cell === "number") as number;
    },
    [sheetName, label] as const,
  );
const money = (x: number) => x.toLocaleString("en-US", { minimumFractionDigits: 2, maximumFractionDigits: 2 });

/** Closes and opens the pane; the workbook stays. */
async function reopenPane(): Promise<void> {
  const frame = preview.page.frames().find((one) => one.url().includes("/preview/pane.html"))!;
  await frame.evaluate("location.reload()");
  await pane().locator("#tab-jobs").waitFor();
}

/** Puts the list on a sheet of its own; the cell that is no number is typed by hand. */
async function writeList(): Promise<void> {
  await preview.excel(async (context, rows) => {
    const sheet = context.workbook.worksheets.add("Old jobs");
    sheet.getRangeByIndexes(2, 1, rows.length, rows[0]!.length).values = rows;
    sheet.activate();
    await context.sync();
  }, LIST);
  await preview.type("Old jobs", "D7", "1200 or so");
  await preview.select("Old jobs", "C4");
}

async function openList(): Promise<void> {
  await writeList();
  await tab("Jobs");
  await press("Use the list at the selected cell");
  await heading("bond").waitFor();
}

const violations = () => preview.violations();

async function check(state: string): Promise<void> {
  expect(await violations(), state).toEqual([]);
  const page = pane().locator("html");
  expect(await page.evaluate((html) => html.scrollWidth - html.clientWidth), state).toBeLessThanOrEqual(0);
  await preview.page.locator("#pane").screenshot({ path: `${SHOTS}/jobs-${state}.png` });
}

const SHEETS = [
  ...["Quote", "Past jobs", "Shelf", "Packing hall", "Cold store", "Shop", "Bid", "Proposal", "Old jobs"],
];

describe("past jobs from a list of the user's", () => {
  it("are mapped, checked, audited, undone and carried into a quote", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await openList();
    const before = await preview.cells("Old jobs", "B3:K10");

    // "Stone" says nothing to anyone else; the other headings explain themselves.
    expect(await heading("actualHours").inputValue()).toBe("Hours worked");
    expect(await heading("bond").inputValue()).toBe("");
    await heading("actualCost").selectOption("");
    await pane().locator("#check").click({ force: true });
    await says("Fix the headings first: Actual cost.");
    expect(await pane().locator(":focus").getAttribute("id")).toBe("heading-actualCost");
    await check("to-fix");
    await heading("actualCost").selectOption("Final cost");
    await heading("bond").selectOption("Stone");

    await pane().locator("#check").click();
    await says("7 rows: 5 jobs counted, 2 not counted, 4 problems.");
    const text = () => textOf("#panel-jobs");
    expect(await text()).toContain("Quoted margin 33.3% Actual margin 31.3%");
    expect(await text()).toContain("The jobs earned 130.00 less than quoted.");
    expect(await text()).toContain("Labor hours 60.00 lost");
    expect(await text()).toContain("Other 70.00 lost");
    expect(await text()).toContain("Old jobs!D7 Actual price must be above 0; got the text");
    expect(await text()).toContain("Old jobs, row 8 This row is blank.");
    expect(await text()).toContain("Old jobs!H9 Actual hours must be above 0; got 0.");
    expect(await text()).toContain("resin bond 1 job Needs 3 jobs with quoted and actual hours; has 1.");
    expect(
      await pane()
        .getByLabel(/^Use for the next quote/)
        .count(),
    ).toBe(0);
    await check("checked");

    await pane().locator("#audit").click();
    await says("Audit written to the new sheets “Audit” and “Audit jobs”.");
    expect(await sheets()).toEqual([...SHEETS, "Audit", "Audit jobs"]);
    await preview.page.waitForTimeout(DRAWN_MS);
    await preview.shot("jobs-audit");
    await press("Undo");
    await says(/^Undid “/);
    expect(await sheets()).toEqual(SHEETS);
    expect(await preview.cells("Old jobs", "B3:K10")).toEqual(before);

    await pane().locator("#audit").click();
    await says("Audit written to the new sheets “Audit” and “Audit jobs”.");
    await check("audited");
    await tab("Plan");
    await press("Fill in an example");
    await tab("Jobs");
    await pane().getByLabel("Use for the next quote: metal bond").click();
    const calibration = pane().locator("#calibration");
    await calibration.waitFor();
    expect(await pane().locator(":focus").getAttribute("id")).toBe("calibration");
    expect(await textOf("#calibration")).toContain("Past jobs: metal bond, 3 jobs");
    await check("calibrated");

    // By hand, as in HOURSAT's own example: t(0.8, 2) = 0.6 / √0.32, times ln 1.25 × √(4/3), is 1.31428648 times the hours.
    await pane().locator("#insert").click();
    await says(/^Stage table written/);
    const stageHours = await beside("Stage plan", "Hours of all stages");
    const within = await beside("Stage plan", "Hours at 80%");
    expect(within / stageHours).toBeCloseTo(1.31428648, 8);
    expect(await textOf("#calibration")).toContain(`${within.toFixed(1)} h`);
    const price = await beside("Stage plan", "Price at 80%");
    expect(await textOf("#calibration")).toContain(money(price));
    await preview.page.waitForTimeout(DRAWN_MS);
    await preview.shot("jobs-quote");

    await press("Remove past jobs");
    expect(await calibration.count()).toBe(0);
    expect(await pane().locator(":focus").getAttribute("id")).toBe("insert");
  });

  it("come back with the headings of last time, and the calibration with them, when the pane opens again", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await openList();
    await heading("bond").selectOption("Stone");
    await pane().locator("#audit").click();
    await says("Audit written");
    await pane().getByLabel("Use for the next quote: metal bond").click();
    await reopenPane();
    await eventually(() => pane().locator("#field-pastJobs").inputValue()).toBe("metal bond, 3 jobs");
    await tab("Jobs");
    await pane().locator("#headings").waitFor();
    expect(await textOf("#headings")).toContain("the headings you chose last time: 10 of 21");
    expect(await heading("bond").inputValue()).toBe("Stone");
  });

  it("of many rows show how far the audit is, and a cancel by keyboard leaves nothing behind", async () => {
    preview = await openPreview({ paneWidth: 320 });
    await openList();
    await preview.excel(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Old jobs");
      const row = (i: number) => [`D${i}`, 1000, 1000, 700, 750, 10, 11, 40, 40, "metal"];
      sheet.getRangeByIndexes(10, 1, 12_000, 10).values = Array.from({ length: 12_000 }, (_, i) => row(i));
      await context.sync();
    });
    await press("Use the list at the selected cell");
    await says("12,007 rows");
    await pane().locator("#audit").focus();
    await preview.page.keyboard.press("Enter");
    await pane().locator("#cancel").waitFor();
    await pane().locator("#cancel").focus();
    await preview.page.keyboard.press("Enter");
    await says("Canceled; nothing was written.");
    expect(await sheets()).toEqual(SHEETS);
    expect(await pane().locator("#progress").count()).toBe(0);
    expect(await pane().locator(":focus").getAttribute("id")).toBe("audit");
  });

  it("that nobody has kept yet begin with an empty table", async () => {
    preview = await openPreview({ paneWidth: 320, theme: "dark" });
    await tab("Jobs");
    await check("empty");
    await press("Insert an empty jobs table");
    await says("An empty jobs table was written to the new sheet “Jobs”.");
    expect(await sheets()).toContain("Jobs");
    await press("Undo");
    await says(/^Undid “/);
    expect(await sheets()).not.toContain("Jobs");
  });
});
