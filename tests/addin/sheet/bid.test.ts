import { beforeAll, describe, expect, it } from "vitest";
import { insertBid, undo, updateBid } from "../../../addin/sheet";
import { type BidOnSheet, findBid } from "../../../addin/sheet/bids";
import { bidOf } from "../../../functions/bid/bid";
import { EXTRAS, FLOORS, ITEMS, JOB, THURSDAY } from "../../functions/bid/hand-worked";
import { close } from "./agreement";
import { addAnnex, handWorkedChoice, handWorkedPlans, insertHandWorked } from "./hand-worked-bid";
import { addLightPlans, addLightShelf, type LightPlan } from "./light-plans";
import {
  cellValue,
  named,
  openGritForEach,
  openGritOnce,
  putBackAfterEach,
  setAllNamed,
  setInTable,
  setNamed,
  snapshot,
  tableRows,
} from "./workbook";

const found = async (): Promise<BidOnSheet> => (await Excel.run(findBid))!;
const pricesOf = async (table = "BidFloors") => (await tableRows(table)).map(({ Price }) => Price);

/** Every figure of the sheet against the functions' own arithmetic. */
async function expectAgrees(...given: Parameters<typeof bidOf>): Promise<void> {
  const wanted = bidOf(...given);
  const { shown } = await found();
  const figures = Object.entries(wanted).filter(([, value]) => typeof value === "number");
  expect(figures.length).toBeGreaterThan(20);
  for (const [key, value] of figures) close(shown[key as keyof typeof shown], value as number);
  expect(shown.ends).toBe(wanted.ends ?? "");
  const floors = await tableRows("BidFloors");
  const math = await tableRows("BidMath");
  wanted.floors.forEach(({ price, startHour, endHour, starts, ends }, i) => {
    const [row, worked] = [floors[i]!, math[i]!];
    close(row.Price, price);
    expect([row.Starts, row.Ends]).toEqual([starts ?? "", ends ?? ""]);
    close(worked["From hour"], startHour);
    close(worked["To hour"], endHour);
  });
  const extras = await tableRows("BidExtras");
  wanted.extras.forEach(({ price, hours, directCost }, i) => {
    close(extras[i]!.Price, price);
    close(extras[i]!.Hours, hours);
    close(extras[i]!["Direct cost"], directCost);
  });
  const toBuy = await tableRows("BidToBuy");
  wanted.toBuy.forEach((bought, i) => {
    const row = toBuy[i]!;
    expect(row["Tool or liquid"]).toBe(bought.item.name);
    for (const [heading, figure] of [
      ["Used", bought.used],
      ["To buy", bought.toBuy],
      ["Cost", bought.cost],
      ["Left", bought.left],
      ["Worth of it", bought.leftWorth],
      ["Not used", bought.wholeCost],
    ] as const)
      close(row[heading], figure);
  });
}

describe("the bid worked by hand, on its sheet", () => {
  openGritOnce();
  beforeAll(async () => {
    await handWorkedPlans();
    const inserted = await insertHandWorked();
    expect(inserted.what).toBe("Bid written to the new sheet “Bid”");
  });
  putBackAfterEach();

  it("shows the figures", async () => {
    expect([
      await named("Bid_Offered"),
      await named("Bid_Cost"),
      await named("Bid_Hours"),
      await named("Bid_Days"),
    ]).toEqual([6230, 4360.125, 22, 5]);
    close(await named("Bid_Price"), 6228.75);
    expect(await pricesOf()).toEqual([3367.57, 1972.43, 1820]);
    expect(await pricesOf("BidExtras")).toEqual([890]);
    const toBuy = await tableRows("BidToBuy");
    expect(toBuy.map((row) => [row["Tool or liquid"], row["To buy"], row.Cost])).toEqual([
      ["Metal 30", 1, 500],
      ["Densifier", 2, 400],
    ]);
    const { shown } = await found();
    expect([shown.tax, shown.total, shown.ends, shown.bags]).toEqual([311.5, 6541.5, THURSDAY + 6, 4]);
  });

  it("shows what the functions' own arithmetic gives", () => expectAgrees(JOB, FLOORS, EXTRAS, ITEMS));

  it("draws when each base floor is worked", async () => {
    // 4, 14 and 36 of 38 hours on a bar of 30.
    const bars = (await tableRows("BidFloors")).map(({ Schedule }) => Schedule);
    expect(bars).toEqual([`${"░".repeat(3)}${"█".repeat(8)}`, `${"░".repeat(11)}${"█".repeat(17)}`, ""]);
  });

  it("says what is in order, and what isn't", async () => {
    const { shown } = await found();
    expect([shown.upToDate, shown.plansFit, shown.sharesFit, shown.itemsFit]).toEqual([
      "up to date",
      "yes",
      "yes",
      "yes",
    ]);
    // 12 kW against a supply of 10.
    expect(shown.powerFit).toBe("no: use a smaller machine or a generator");
    await setNamed("Bid_Supply", "Bid", 12);
    expect((await found()).shown.powerFit).toBe("yes");
    await setNamed("Bid_Supply", "Bid", "");
    expect((await found()).shown.powerFit).toBe("not checked: enter the power supply");
  });

  it("follows the order, the kinds, the inputs and the plans", async () => {
    const [hall, shop, office] = FLOORS;
    await setInTable("BidFloors", 0, "Order", 5);
    await setInTable("BidFloors", 2, "Kind", "base");
    await setInTable("BidExtras", 0, "Kind", "option");
    await setAllNamed("Bid", { Bid_HoursAWeek: 40, Bid_Rounding: 0, Bid_DaysAWeek: 6, Bid_Start: THURSDAY + 3 });
    const job = { ...JOB, hoursAWeek: 40, rounding: 0, daysAWeek: 6, start: THURSDAY + 3 };
    const floors = [{ ...hall!, order: 5 }, shop!, { ...office!, kind: "base" as const }];
    await expectAgrees(job, floors, [{ ...EXTRAS[0]!, kind: "option" }], ITEMS);
    await setInTable("BidFloors", 1, "Kind", "left out");
    const without = [floors[0]!, { ...shop!, kind: "left out" as const }, floors[2]!];
    await expectAgrees(job, without, [{ ...EXTRAS[0]!, kind: "option" }], ITEMS);
  });

  it("names the plan that isn't in order, and the stage whose tool it doesn't buy", async () => {
    await setInTable("Light_2", 0, "Tool", "Metal 50");
    const { shown } = await found();
    expect(shown.itemsFit).toBe("no: update the bid in the pane for Shop");
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Hall").getRange("D9").values = [["out of date"]];
      await context.sync();
    });
    expect((await found()).shown.plansFit).toBe("no: look at Plan check of Hall");
  });

  it("has no price where nothing is in it, and no shares", async () => {
    for (const row of [0, 1, 2]) await setInTable("BidFloors", row, "Kind", "left out");
    await setInTable("BidExtras", 0, "Kind", "left out");
    expect(await pricesOf()).toEqual([0, 0, 0]);
    // Setup, trips and nights are still to be paid, and no floor carries them.
    expect((await found()).shown.sharesFit).toMatch(/^no: they differ by -/);
  });
});

const light = (floor: string, over: Partial<LightPlan> = {}): LightPlan => ({
  ...{
    floor,
    area: 700,
    hours: 3,
    waits: 0,
    stageCost: 500,
    crewCost: 200,
    uses: { "Metal 30": 0.1 },
    dust: 10,
    power: 0,
  },
  ...over,
});

describe("a bid", () => {
  openGritForEach();

  it("is found with its floors and extras, also on a sheet that was renamed and had rows inserted", async () => {
    await handWorkedPlans();
    await insertHandWorked();
    await Excel.run(async (context) => {
      const { worksheets } = context.workbook;
      worksheets.getItem("Bid").getRange("1:2").insert("Down");
      worksheets.getItem("Bid").name = "Our bid";
      worksheets.getItem("Shop").name = "Work shop";
      await context.sync();
    });
    const bid = await found();
    expect(bid.sheet).toBe("Our bid");
    expect(bid.floors.rows.map(({ floor, kind, sheet }) => [floor, kind, sheet])).toEqual([
      ["Hall", "base", "Hall"],
      ["Shop", "base", "Work shop"],
      ["Office", "option", "Office"],
    ]);
    expect(await cellValue(`Our bid!${bid.floors.rows[0]!.priceCell}`)).toBe(3367.57);
    expect(await cellValue(`Our bid!${bid.extras.rows[0]!.nameCell}`)).toBe("Joints");
    expect(await cellValue(`Our bid!${bid.cells.offered}`)).toBe(6230);
    expect(await cellValue(`Our bid!${bid.cells.client}`)).toBe("Invented Client");
  });

  it("is refused where there is no plan, or plans in two systems or currencies", async () => {
    await expect(insertHandWorked()).rejects.toThrow("There is no stage plan in this workbook yet.");
    await addLightShelf();
    await addLightPlans([light("A"), light("B", { sign: "€" })]);
    const before = await snapshot();
    await expect(insertHandWorked()).rejects.toThrow("“A” and “B” are in different currencies");
    expect(await snapshot()).toEqual(before);
  });

  it("takes names that are free, and is undone", async () => {
    await handWorkedPlans();
    await Excel.run(async (context) => {
      context.workbook.worksheets.add("Bid");
      context.workbook.names.add("Bid_Price", context.workbook.worksheets.getItem("Bid").getRange("A1"));
      await context.sync();
    });
    const before = await snapshot();
    const inserted = await insertBid(await handWorkedChoice());
    expect(inserted.what).toBe("Bid written to the new sheet “Bid 2”");
    expect(await named("Bid_Offered_2")).toBe(6230);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });
});

describe("a bid that is updated", () => {
  openGritForEach();

  it("takes floors in and out where it stands, keeps what was typed, and is undone at one go", async () => {
    await handWorkedPlans();
    await insertHandWorked();
    // The user's own: a linked client, what is on hand, a note beside a table, a color.
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Bid");
      sheet.names.getItem("Bid_Client").getRange().formulas = [['="Invented "&"Client"']];
      await context.sync();
    });
    await setInTable("BidToBuy", 1, "On hand", 1);
    await setInTable("BidFloors", 1, "Order", "=1+1");
    await addAnnex();
    const before = await snapshot();
    const { job, floors, extras } = await handWorkedChoice();
    const [, shop, office, annex] = floors;
    const inserted = await updateBid({
      job: { ...job, margin: 0.35 },
      // The first floor goes, one comes.
      floors: [shop!, { ...office!, kind: "base" }, annex!],
      extras: [...extras, { ...extras[0]!, name: "Cracks", quantity: 10 }],
    });
    expect(inserted.what).toBe("Bid updated on “Bid”");
    const rows = await tableRows("BidFloors");
    expect(rows.map(({ Floor, Kind }) => [Floor, Kind])).toEqual([
      ["Shop", "base"],
      ["Office", "base"],
      ["Annex", "base"],
    ]);
    const items = await tableRows("BidToBuy");
    expect(items.map((row) => [row["Tool or liquid"], row["On hand"], row.Used])).toEqual([
      ["Metal 30", 0.2, 0.5 + 0.3 + 0.5],
      ["Densifier", 1, 7],
      ["Guard", 0, 1],
    ]);
    expect((await tableRows("BidExtras")).map(({ Extra, Price }) => [Extra, Price > 0])).toEqual([
      ["Joints", true],
      ["Cracks", true],
    ]);
    const { shown, cells } = await found();
    expect([shown.client, shown.margin, shown.sharesFit, shown.itemsFit]).toEqual([
      "Invented Client",
      0.35,
      "yes",
      "yes",
    ]);
    expect(await formulaAt("Bid", cells.client!)).toBe('="Invented "&"Client"');
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
    expect(await pricesOf()).toEqual([3367.57, 1972.43, 1820]);
  });

  it("is shorter where floors and extras go, and agrees in every cell", async () => {
    await handWorkedPlans();
    await insertHandWorked();
    const before = await snapshot();
    const { job, floors } = await handWorkedChoice();
    const inserted = await updateBid({ job, floors: [floors[0]!], extras: [] });
    await expectAgrees(JOB, [FLOORS[0]!], [], ITEMS);
    expect(await tableRows("BidFloors")).toHaveLength(1);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("writes nothing over what the user has below its tables", async () => {
    await handWorkedPlans();
    await insertHandWorked();
    await addAnnex();
    const { tables } = await found();
    const { row, column, rows } = tables.floors;
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Bid").getCell(row + rows + 1, column + 2).values = [["my note"]];
      await context.sync();
    });
    const before = await snapshot();
    await expect(updateBid(await handWorkedChoice())).rejects.toThrow(/need Bid!A\d+:N\d+, which isn't empty/);
    expect(await snapshot()).toEqual(before);
  });
});

const formulaAt = (sheet: string, address: string) =>
  Excel.run(async (context) => {
    const range = context.workbook.worksheets.getItem(sheet).getRange(address).load("formulas");
    await context.sync();
    return range.formulas[0]![0];
  });
