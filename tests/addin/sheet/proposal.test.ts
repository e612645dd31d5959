/** The page for the customer: what it says of real plans and a bid of them, that it follows them, and what it keeps to itself. */
import { beforeAll, describe, expect, it } from "vitest";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { insertBid, insertPlan, insertProposal, type NeedsAnswer, readBid, undo } from "../../../addin/sheet";
import { findPlans } from "../../../addin/sheet/plans";
import { startJob } from "../../../functions/bid/job";
import { unzipped } from "../share/copy-files";
import { floor, planFor } from "./agreement";
import {
  cellValue,
  named,
  openGritOnce,
  putBackAfterEach,
  setInTable,
  setNamed,
  snapshot,
  valuesOf,
  workbook,
  write,
} from "./workbook";

/** December 10, 2026, a Thursday, as a sheet counts days. */
const THURSDAY = 46366;

// A name that a criterion would take for a comparison, and a wildcard.
const JOINTS = {
  ...{ name: ">Joints* ~1", kind: "base", quantity: 240, unit: "ft", crewHours: 0.01, material: 0.9, waste: 0.1 },
  words: "Control joints filled and shaved flush",
} as const;
const STAIN = {
  ...{ name: "Stain", kind: "option", quantity: 900, unit: "ft²", crewHours: 0.0015, material: 0.2, waste: 0.1 },
  words: "",
} as const;

async function writeBid(): Promise<void> {
  const floors = [
    floor({ floor: "Sales floor", area: 4000, finish: "polished", exposure: "B", hardness: 5, surface: "bare" }),
    floor({ floor: "Back room", area: 900, finish: "coating", film: 8, surface: "coated", hardness: 6 }),
    floor({ floor: "Entry", area: 300, finish: "highly polished", exposure: "A", hardness: 4.5, surface: "bare" }),
  ];
  for (const inputs of floors) await insertPlan(planFor(inputs), "new sheet");
  const plans = await Excel.run((context) => findPlans(context));
  const job = {
    ...startJob("us"),
    ...{ client: "Example Grocers", site: "12 Sample Rd", date: THURSDAY, start: THURSDAY + 4, taxRate: 0.0625 },
    ...{ crew: 2, rate: 30, burden: 0.25, setup: 4, overhead: 0.1, margin: 0.3, minimum: 500, rounding: 10 },
  };
  await insertBid({
    job,
    floors: plans.map(({ sheetId }, i) => ({ sheetId, kind: i === 2 ? "option" : "base", order: i + 1 })),
    extras: [JOINTS, STAIN],
  });
}

const page = () => valuesOf("Proposal!A1:E70");
const words = async () => (await page()).map(([text]) => text);
const rowOf = async (text: string | RegExp) => {
  const rows = await page();
  const found = rows.findIndex(([cell]) => (typeof text === "string" ? cell === text : text.test(String(cell))));
  expect(found, String(text)).toBeGreaterThanOrEqual(0);
  return { row: found, cells: rows[found]! };
};
const warning = () => named("Proposal_Check", "Proposal");
const COMPANY = "Sample Floor Co., 5 Invented Ave, Lic. 000";

describe("the page for the customer", () => {
  openGritOnce();
  beforeAll(async () => {
    await writeBid();
    const inserted = await insertProposal();
    expect(inserted.what).toBe("Proposal written to the new sheet “Proposal”");
  });
  putBackAfterEach();

  it("says who it is for, and until when it holds", async () => {
    const rows = await page();
    expect(rows[0]![0]).toBe("Proposal");
    expect([rows[3]![0], rows[4]![0]]).toEqual(["For: Example Grocers", "Site: 12 Sample Rd"]);
    // 30 days.
    expect([rows[3]![2], rows[4]![2], rows[5]![2]]).toEqual([THURSDAY, THURSDAY + 30, THURSDAY + 4]);
    expect(rows[6]![2]).toBe(await named("Bid_Ends", "Bid"));
  });

  it("says each floor's finish in the words of the published documents", async () => {
    const text = await words();
    // ACI 310.1: appearance levels and aggregate classes. ICRI 310.2R: profiles; CSP 1 to 3 under a thin film.
    expect(text).toContain(
      "Polished concrete, appearance level 3 (polished), aggregate class B (fine aggregate) of ACI 310.1. Priced for a slab of Mohs 5, as tested.",
    );
    expect(text).toContain(
      "Old coating or adhesive removed. Ground to surface profile CSP 1 to 3 of ICRI 310.2R, for a coating of 8 mil. Priced for a slab of Mohs 6, as tested.",
    );
    expect(text).toContain(
      "Polished concrete, appearance level 4 (highly polished), aggregate class A (cement fines) of ACI 310.1. Priced for a slab of Mohs 4.5, as tested.",
    );
  });

  it("says what is included by the stages of each floor", async () => {
    const text = (await words()).filter((cell) => String(cell).startsWith("Included: "));
    expect(text).toHaveLength(3);
    const [sales, back] = text as [string, string];
    const works = (await valuesOf("'Sales floor'!A1:B60")).map(([, work]) => work);
    const grinds = works.filter((work) => work === "grind").length;
    expect(grinds).toBeGreaterThan(1);
    expect(sales).toContain(`Included: ground in ${grinds} steps`);
    expect(sales).toContain(", densified");
    expect(sales).toMatch(/, edges by hand\.$/);
    expect(back).toMatch(/^Included: stripped, ground/);
    expect(back).not.toContain("polished");
  });

  it("has no price that isn't on the bid, and adds up to its price", async () => {
    const bid = await valuesOf("Bid!A1:AZ80");
    const onBid = new Set(bid.flat());
    const rows = await page();
    const amounts = rows.flatMap(([, , cell], row) => (row > 7 && typeof cell === "number" ? [cell] : []));
    expect(amounts.length).toBe(8);
    for (const amount of amounts) expect(onBid.has(amount), String(amount)).toBe(true);
    const [sales, back, joints, price, tax, total, entry, stain] = amounts as number[];
    expect(price).toBe(await named("Bid_Offered"));
    expect(sales! + back! + joints!).toBeCloseTo(price!, 6);
    expect(tax).toBe(Math.round(price! * 6.25) / 100);
    expect(total).toBeCloseTo(price! + tax!, 6);
    expect((await rowOf("Sales tax, 6.25%")).cells[2]).toBe(tax);
    expect((await rowOf("Entry")).cells[1]).toBeCloseTo(price! + entry!, 6);
    // No words of its own: its name.
    expect((await rowOf("Stain (900 ft²)")).cells[2]).toBe(stain);
    expect((await rowOf("Control joints filled and shaved flush (240 ft)")).cells[2]).toBe(joints);
  });

  it("follows a plan and the bid", async () => {
    await setNamed("Floor_Finish", "Sales floor", "satin");
    await setNamed("Floor_Exposure", "Sales floor", "C");
    await setNamed("Floor_Hardness", "Sales floor", 7);
    expect(await words()).toContain(
      "Honed concrete, appearance level 2 (satin), aggregate class C (coarse aggregate) of ACI 310.1. Priced for a slab of Mohs 7, as tested.",
    );
    await setNamed("Floor_Film", "Back room", 20);
    expect((await words()).find((cell) => String(cell).includes("CSP"))).toContain(
      "CSP 3 of ICRI 310.2R, for a coating of 20 mil.",
    );
    await setNamed("Floor_Finish", "Back room", "by grit");
    await setNamed("Floor_LastGrit", "Back room", 400);
    expect(await words()).toContain(
      "Old coating or adhesive removed. Ground and polished to 400 grit. Priced for a slab of Mohs 6, as tested.",
    );
    await setNamed("Bid_Client", "Bid", "Another Client");
    expect((await page())[3]![0]).toBe("For: Another Client");
    await setNamed("Bid_Margin", "Bid", 0.4);
    expect((await rowOf("Price")).cells[2]).toBe(await named("Bid_Offered"));
  });

  it("warns beside the page until it is fit to go out", async () => {
    expect(await warning()).toBe("Type your company's line in A2.");
    await write("Proposal!A2", [[COMPANY]]);
    expect(await warning()).toBe("");
    await setInTable("BidFloors", 1, "Kind", "option");
    expect(await warning()).toBe("This page no longer fits the bid. Write it again in the pane.");
    await setInTable("BidFloors", 1, "Kind", "base");
    expect(await warning()).toBe("");
    await setNamed("Floor_Finish", "Back room", "polished");
    // A plan for a coating has no cell for the class of aggregate.
    expect(await words()).toContain(
      "Old coating or adhesive removed. Polished concrete, appearance level 3 (polished) (Finish changed: write this page again.) of ACI 310.1. Priced for a slab of Mohs 6, as tested.",
    );
    expect(await warning()).toBe("This page no longer fits the bid. Write it again in the pane.");
    await setNamed("Floor_Finish", "Back room", "coating");
    expect(await warning()).toBe("");
    await setInTable("BidExtras", 1, "Kind", "left out");
    expect(await warning()).toBe("This page no longer fits the bid. Write it again in the pane.");
    expect((await readBid()).proposal).toEqual({
      sheet: "Proposal",
      warning: "This page no longer fits the bid. Write it again in the pane.",
    });
  });

  it("is written again with the contractor's own sentences, once that is agreed to", async () => {
    await write("Proposal!A2", [[COMPANY]]);
    await write("Proposal!C5", [[THURSDAY + 60]]);
    const { row } = await rowOf("Payment: as agreed on in writing.");
    await write(`Proposal!A${row + 1}:A${row + 2}`, [["Payment: half up front."], ["A sentence more."]]);
    const { row: care } = await rowOf(/^Clean with/);
    await write(`Proposal!A${care + 1}`, [[""]]);
    await setInTable("BidFloors", 1, "Kind", "option");
    const before = await snapshot();
    const question = await insertProposal().then(
      () => undefined,
      (error: NeedsAnswer) => error,
    );
    expect(question?.asked).toEqual({ kind: "anotherProposal", facts: { sheet: "Proposal" } });
    expect(await snapshot()).toEqual(before);
    const inserted = await insertProposal(question!.asked);
    expect(inserted.what).toBe("Proposal written to the new sheet “Proposal 2”, with your sentences from “Proposal”");
    const rows = await valuesOf("'Proposal 2'!A1:E70");
    const text = rows.map(([cell]) => cell);
    expect([text[1], rows[4]![2]]).toEqual([COMPANY, THURSDAY + 60]);
    expect(text).toEqual(expect.arrayContaining(["Payment: half up front.", "A sentence more."]));
    expect(text.some((cell) => String(cell).startsWith("Clean with"))).toBe(false);
    expect(text.filter((cell) => String(cell).startsWith("Power for "))).toHaveLength(1);
    expect(await named("Proposal_Check", "Proposal 2")).toBe("");
    expect((await readBid()).proposal?.sheet).toBe("Proposal 2");
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("prints on one upright page, whose rows show their sentences whole", async () => {
    const { orientation, zoom, area, heights } = await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Proposal");
      const layout = sheet.pageLayout.load("orientation,zoom");
      const printed = layout.getPrintArea().load("address");
      const rows = [8, 9].map((row) => sheet.getRangeByIndexes(row, 0, 1, 1).load("format/rowHeight"));
      await context.sync();
      const { orientation, zoom } = layout;
      return { orientation, zoom, area: printed.address, heights: rows.map(({ format }) => format.rowHeight) };
    });
    expect([orientation, zoom.horizontalFitToPages, zoom.verticalFitToPages]).toEqual(["Portrait", 1, 1]);
    expect(area).toMatch(/^Proposal!A1:C\d+$/);
    const [heading, name] = heights;
    expect([heading, name]).toEqual([15, 15]);
    const { row } = await rowOf(/^Old coating/);
    const tall = await Excel.run(async (context) => {
      const cell = context.workbook.worksheets.getItem("Proposal").getRangeByIndexes(row, 0, 1, 1);
      cell.load("format/rowHeight");
      await context.sync();
      return cell.format.rowHeight;
    });
    expect(tall).toBeGreaterThan(2 * 13);
  });

  it("has no cost, hour or margin in the copy that goes out, unzipped and searched", async () => {
    const wanted = [
      "cost",
      "hours",
      "marginShown",
      "directCost",
      "overheadCost",
      "price",
      "buyCost",
      "margin",
    ] as const;
    const { bid } = await readBid();
    const figures = [
      ...wanted.map((key) => bid!.shown[key] as number),
      ...(await tableColumn("BidFloors", ["Hours", "Direct cost"])),
      ...(await tableColumn("BidExtras", ["Crew h each", "Material each", "Direct cost", "Crew cost"])),
      ...[30 * 1.25, 37.5],
    ].filter((figure) => typeof figure === "number" && figure !== 0);
    expect(figures.length).toBeGreaterThan(15);
    const { bytes, report } = priceOnlyCopy(await workbook.xlsx(), { keep: [{ sheet: "Proposal" }] });
    expect(report.sheets.map(({ name }) => name)).toEqual(["Proposal"]);
    const parts = unzipped(bytes);
    // The numbers of cells: elsewhere they are sizes and counts.
    const cells = Object.entries(parts).filter(([name]) => name.includes("worksheets/"));
    const numbers = cells.flatMap(([, xml]) => [...xml.matchAll(/<v>([^<]*)<\/v>/g)].map(([, value]) => Number(value)));
    expect(numbers.length).toBeGreaterThan(20);
    // What is a price by intent may equal a cost only by chance.
    const leaks = figures.filter((figure) => numbers.some((number) => Math.abs(number / figure - 1) < 1e-6));
    expect(leaks).toEqual([]);
    const all = Object.values(parts).join("");
    // Pages have margins too.
    const words = all.toLowerCase().replaceAll("pagemargins", "");
    for (const word of ["cost", "margin", "overhead", "Bid_", "BidFloors", "Stages", "Metal"]) {
      expect(words.includes(word.toLowerCase()), word).toBe(false);
    }
    // Nor in its sentences, in whatever way a sheet shows it.
    const sentences = parts["xl/sharedStrings.xml"]!.replaceAll(",", "");
    for (const figure of figures.filter((one) => one > 10)) {
      for (const shown of [figure.toFixed(2), String(Number(figure.toFixed(2))), figure.toFixed(1)]) {
        expect(new RegExp(`(?<![\\d.])${shown.replace(".", "\\.")}(?!\\d)`).test(sentences), shown).toBe(false);
      }
    }
  });
});

async function tableColumn(table: string, headings: readonly string[]): Promise<number[]> {
  return Excel.run(async (context) => {
    const columns = headings.map((heading) =>
      context.workbook.tables.getItem(table).columns.getItem(heading).getDataBodyRange().load("values"),
    );
    await context.sync();
    return columns.flatMap(({ values }) => values.flat() as number[]);
  });
}

describe("without a bid", () => {
  openGritOnce();

  it("is refused", async () => {
    await insertPlan(planFor(floor()), "new sheet");
    const before = await snapshot();
    await expect(insertProposal()).rejects.toThrow("This workbook has no bid yet. Insert it first");
    expect(await snapshot()).toEqual(before);
    expect(await cellValue("Sheet1!A1")).toBe("");
  });
});
