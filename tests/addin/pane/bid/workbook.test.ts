import { beforeEach, describe, expect, it, vi } from "vitest";
import { bidCommands } from "../../../../addin/pane/bid/actions";
import {
  addExtra,
  changeExtra,
  fieldText,
  moveUp,
  problemsIn,
  removeExtra,
  setKind,
  typeField,
} from "../../../../addin/pane/bid/choice";
import type { BidState } from "../../../../addin/pane/bid/state";
import { paneOn } from "../../../../addin/pane/commands";
import { type State, startState } from "../../../../addin/pane/state";
import { Store } from "../../../../addin/pane/store";
import { moistureTests, starterExtras } from "../../../../functions/bid/extras";
import { addAnnex, handWorkedPlans, insertHandWorked } from "../../sheet/hand-worked-bid";
import { cellValue, named, openGritForEach, setInTable, tableRows } from "../../sheet/workbook";

vi.setConfig({ testTimeout: 30_000 });

function openBid() {
  const store = new Store<State>({ ...startState(), host: "ready" });
  const pane = paneOn(store);
  const bid = store.part("bid");
  return { store, pane, bid, commands: bidCommands(pane) };
}

const extra = (name: string) => starterExtras("us").find((one) => one.name === name)!;
const change = ({ bid }: ReturnType<typeof openBid>, ...steps: ((now: BidState) => BidState)[]) => {
  for (const step of steps) bid.change(step);
};

describe("moisture tests", () => {
  // ASTM F2170: 3 for the first 1,000 ft², 1 for each further 1,000 ft².
  it.each([
    [400, 3],
    [1000, 3],
    [1001, 4],
    [2000, 4],
    [4200, 7],
  ])("of %d ft² are %d", (area, tests) => {
    expect(moistureTests(area)).toBe(tests);
  });
});

describe("the Bid view", () => {
  openGritForEach();
  beforeEach(handWorkedPlans);

  it("takes the plans as floors, and writes the bid as it was chosen", async () => {
    const opened = openBid();
    const { store, bid, commands } = opened;
    await commands.look();
    const [hall, shop, office] = bid.state.read!.plans;
    expect([hall!.floor, shop!.floor, office!.floor]).toEqual(["Hall", "Shop", "Office"]);
    expect([hall!.area, hall!.hours]).toEqual([1000, 10]);
    change(
      opened,
      (now) => setKind(now, office!.sheetId, "option"),
      (now) => moveUp(now, 1),
      (now) => addExtra(now, extra("Moisture test")),
      (now) => typeField(now, "client", "Invented Client"),
      (now) => typeField(now, "start", "2026-12-10"),
      (now) => typeField(now, "rounding", "10"),
    );
    // 1,500 ft² of base floors: 3 + 1.
    expect(bid.state.extras.map(({ quantity }) => quantity)).toEqual(["4"]);
    await commands.write();
    expect(store.state.message?.text).toBe("Bid written to the new sheet “Bid”.");
    expect((await tableRows("BidFloors")).map(({ Floor, Kind, Order }) => [Floor, Kind, Order])).toEqual([
      ["Shop", "base", 1],
      ["Hall", "base", 2],
      ["Office", "option", 3],
    ]);
    expect((await tableRows("BidExtras")).map(({ Extra, Quantity }) => [Extra, Quantity])).toEqual([
      ["Moisture test", 4],
    ]);
    expect((await named("Bid_Offered")) % 10).toBe(0);
    expect(await named("Bid_Start", "Bid")).toBe(46366);
    const shown = bid.state.read!.bid!;
    expect(shown.shown.offered).toBe(await named("Bid_Offered"));
    expect(fieldText(bid.state, "start")).toBe("2026-12-10");
  });

  it("reads a bid that stands, and updates it with what was changed on the sheet meanwhile", async () => {
    await insertHandWorked();
    const opened = openBid();
    const { store, bid, commands } = opened;
    await setInTable("BidFloors", 1, "Kind", "option");
    await commands.look();
    expect(bid.state.floors.map(({ kind }) => kind)).toEqual(["base", "option", "option"]);
    expect(bid.state.extras.map(({ name, waste }) => [name, waste])).toEqual([["Joints", "10"]]);
    expect([fieldText(bid.state, "client"), fieldText(bid.state, "margin")]).toEqual(["Invented Client", "30"]);
    await addAnnex();
    await commands.look();
    change(
      opened,
      (now) => changeExtra(now, 0, { quantity: "50" }),
      (now) => typeField(now, "margin", "25"),
    );
    await commands.write();
    expect(store.state.message?.text).toBe("Bid updated on “Bid”.");
    expect((await tableRows("BidFloors")).map(({ Floor, Kind }) => [Floor, Kind])).toEqual([
      ["Hall", "base"],
      ["Shop", "option"],
      ["Office", "option"],
      ["Annex", "base"],
    ]);
    expect(await named("Bid_Margin", "Bid")).toBe(0.25);
    expect((await tableRows("BidExtras"))[0]!.Quantity).toBe(50);
    await opened.pane.undo(store.state.message!.inserted!);
    expect(await named("Bid_Margin", "Bid")).toBe(0.3);
    expect(await cellValue("Bid!A1")).toBe("Bid: Invented Client, 1 Example St");
  });

  it("says what is missing or wrong, and writes nothing", async () => {
    const opened = openBid();
    const { store, bid, commands } = opened;
    await commands.look();
    change(
      opened,
      (now) => typeField(now, "crew", ""),
      (now) => typeField(now, "daysAWeek", "8"),
      (now) => typeField(now, "rate", "30"),
      (now) => typeField(now, "burden", "25"),
      (now) => addExtra(now, extra("Permits")),
      (now) => changeExtra(now, 0, { quantity: "two" }),
    );
    expect(problemsIn(bid.state)).toEqual([
      "Working days a week must be a whole number from 1 to 7",
      "Crew size is missing",
      'Permits: Quantity must be a number, typed like 5000, 5,000 or 12.5; got the text "two"',
    ]);
    await commands.write();
    expect(store.state.message?.text).toMatch(/^Fix these first: Working days a week must be/);
    change(opened, (now) => removeExtra(now, 0));
    expect(bid.state.extras).toEqual([]);
  });

  it("picks extras from the owner's list, once there is one, and says what is wrong in it", async () => {
    const opened = openBid();
    const { store, pane, bid, commands } = opened;
    await commands.look();
    expect(bid.state.read!.list).toBeUndefined();
    await commands.keepList();
    const { inserted, text } = store.state.message!;
    expect(text).toBe("Your list of extras written to the new sheet “Extras”.");
    expect(bid.state.read!.kinds).toEqual(starterExtras("us"));
    await setInTable("Extras", 0, "Material a unit", 1.75);
    await setInTable("Extras", 1, "Crew h a unit", "slow");
    await commands.look();
    const { kinds, list } = bid.state.read!;
    expect(list).toEqual({
      table: "Extras",
      sheet: "Extras",
      problems: ['Extras, row 2: Crew h a unit must be 0 or more; got the text "slow"; the row is left out'],
    });
    expect(kinds.map(({ name }) => name)).toEqual(
      starterExtras("us").flatMap(({ name }, i) => (i === 1 ? [] : [name])),
    );
    change(opened, (now) => addExtra(now, kinds[0]!));
    expect(bid.state.extras.map(({ name, material }) => [name, material])).toEqual([["Joint filling", "1.75"]]);
    await commands.keepList();
    expect(store.state.message).toMatchObject({
      kind: "error",
      text: "There is a list of extras already: the table Extras on “Extras”. Change it there.",
    });
    await setInTable("Extras", 0, "Material a unit", 0.9);
    await setInTable("Extras", 1, "Crew h a unit", 0.03);
    await pane.undo(inserted!);
    await commands.look();
    expect(bid.state.read!.list).toBeUndefined();
  });

  it("writes the proposal, says where it is, and asks before another", async () => {
    await insertHandWorked();
    const { store, bid, commands } = openBid();
    await commands.look();
    expect(bid.state.read!.proposal).toBeUndefined();
    await commands.writeProposal();
    expect(store.state.message?.text).toBe("Proposal written to the new sheet “Proposal”.");
    expect(bid.state.read!.proposal).toEqual({ sheet: "Proposal", warning: "Type your company's line in A2." });
    await commands.writeProposal();
    expect(store.state.question).toMatchObject({ question: "Write another one?" });
    expect(bid.state.read!.proposal!.sheet).toBe("Proposal");
  });

  it("says that plans are to come first", async () => {
    const { commands, store, bid } = openBid();
    await Excel.run(async (context) => {
      for (const name of ["Hall", "Shop", "Office"]) context.workbook.worksheets.getItem(name).delete();
      await context.sync();
    });
    await commands.look();
    expect(bid.state.read!.plans).toEqual([]);
    await commands.write();
    expect(store.state.message?.kind).not.toBe("done");
  });
});
