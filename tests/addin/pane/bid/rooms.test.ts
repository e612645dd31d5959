/** A list of rooms in the user's quote becomes plans: read at the selected cell, mapped, listed where bad, written and undone. */
import { describe, expect, it, vi } from "vitest";
import { roomsCommands } from "../../../../addin/pane/bid/rooms-actions";
import { chooseHeading, setAsOne, unusedHeadings } from "../../../../addin/pane/bid/rooms-list";
import { paneOn } from "../../../../addin/pane/commands";
import { planOf } from "../../../../addin/pane/plan/derived";
import { type State, startState } from "../../../../addin/pane/state";
import { Store } from "../../../../addin/pane/store";
import { insertPlans } from "../../../../addin/sheet";
import { findPlans } from "../../../../addin/sheet/plans";
import { estimate } from "../../../../functions/plan/estimate";
import { startInputs } from "../../../../functions/plan/inputs";
import { propose } from "../../../../functions/plan/proposal";
import { starterShelf } from "../../../../functions/plan/starter-shelf";
import { close, floor, planFor } from "../../sheet/agreement";
import { typeList } from "../../sheet/job-lists";
import { named, openGritForEach, select, snapshot, workbook, write } from "../../sheet/workbook";

vi.setConfig({ testTimeout: 60_000 });

function openRooms() {
  const store = new Store<State>({ ...startState(), host: "ready" });
  const pane = paneOn(store);
  return { store, pane, rooms: store.part("rooms"), commands: roomsCommands(pane) };
}

const LIST = [
  ["Room", "Length", "Width", "Finish", "Remarks"],
  ["Hall: north/south", 60, 40, "Level 3", "check drains"],
  ["Store", 30, 20, "epoxy 12 mil", ""],
  ["", "", "", "", ""],
  ["Lobby", 20, "ten", "level 4", ""],
  ["Total", "", "", "", ""],
];

const sheets = async () => ((await snapshot()) as { sheets: { name: string }[] }).sheets.map(({ name }) => name);

describe("a list of rooms", () => {
  openGritForEach();

  it("is read with its bad rows listed, written as a plan a room, and undone", async () => {
    await typeList("Survey", "B3", LIST);
    const { store, pane, rooms, commands } = openRooms();
    await select("Survey!C5");
    await commands.read();
    const { list, mapping, found } = rooms.state;
    expect(list!.name).toBe("Survey!B3:F8");
    expect(mapping).toEqual({ floor: "Room", length: "Length", width: "Width", finish: "Finish" });
    expect(unusedHeadings(rooms.state)).toEqual(["Remarks"]);
    expect(found!.bad).toEqual([{ row: 3, key: "width", words: 'Width must be a number; got the text "ten"' }]);
    expect([found!.planned.map(({ trouble }) => trouble), found!.totals]).toEqual([["", ""], 1]);
    const before = await snapshot();
    await commands.write();
    expect(store.state.message?.text).toBe("2 stage plans written to new sheets, “Hall north south” to “Store”.");
    expect(await sheets()).toEqual([
      ...((before as any).sheets as any[]).map(({ name }) => name),
      "Shelf",
      "Hall north south",
      "Store",
    ]);
    const shelf = starterShelf("us");
    const hall = { ...startInputs("us"), floor: "Hall: north/south", length: 60, width: 40 };
    close(await named("Stages_Price"), estimate(hall, shelf, propose(hall, shelf).stages).price);
    const store2 = {
      ...startInputs("us"),
      floor: "Store",
      length: 30,
      width: 20,
      finish: "coating" as const,
      film: 12,
    };
    close(await named("Stages_Price_2"), estimate(store2, shelf, propose(store2, shelf).stages).price);
    const plans = await Excel.run((context) => findPlans(context));
    expect(plans.map((plan) => plan.floor)).toEqual(["Hall: north/south", "Store"]);
    await pane.undo(store.state.message!.inserted!);
    expect(await snapshot()).toEqual(before);
  });

  it("takes what it doesn't say from the Plan view's form", async () => {
    await typeList("Survey", "A1", [
      ["Room", "Area"],
      ["A", 900],
    ]);
    const { store, rooms, commands } = openRooms();
    store.part("plan").change((now) => ({ ...now, inputs: { ...now.inputs, finish: "satin", margin: 0.4, crew: 3 } }));
    await select("Survey!A2");
    await commands.read();
    expect(rooms.state.found!.planned[0]!.plan.inputs).toMatchObject({
      finish: "satin",
      margin: 0.4,
      crew: 3,
      area: 900,
    });
  });

  it("is planned anew, and shown, when the form has changed since", async () => {
    await typeList("Survey", "A1", [
      ["Room", "Area"],
      ["A", 900],
    ]);
    const { store, rooms, commands } = openRooms();
    await select("Survey!A2");
    await commands.read();
    store.part("plan").change((now) => ({ ...now, inputs: { ...now.inputs, finish: "satin" } }));
    const before = await sheets();
    await commands.write();
    expect(store.state.message?.text).toMatch(/^The Plan view's form or the shelf has changed/);
    expect(await sheets()).toEqual(before);
    expect(rooms.state.found!.planned[0]!.plan.inputs.finish).toBe("satin");
    await commands.write();
    expect(store.state.message?.text).toBe("1 stage plan written to the new sheet “A”.");
  });

  it("asks before a room gets a second plan", async () => {
    await typeList("Survey", "A1", [
      ["Room", "Area"],
      ["Hall", 900],
    ]);
    const { store, rooms, commands, pane } = openRooms();
    await select("Survey!A2");
    await commands.read();
    await commands.write();
    await select("Survey!A2");
    await commands.read();
    const before = await sheets();
    await commands.write();
    expect(store.state.question!.what).toMatch(/^“Hall” has a plan in this workbook already\./);
    expect(await sheets()).toEqual(before);
    expect(rooms.state.found!.planned).toHaveLength(1);
    pane.answer(true);
    await pane.idle();
    expect(await sheets()).toEqual([...before, "Hall 2"]);
  });

  it("becomes one plan of their sum, where they are alike", async () => {
    await typeList("Survey", "A1", [
      ["Room", "Area", "Finish"],
      ["A", 900, ""],
      ["B", 600, ""],
    ]);
    const { store, rooms, commands } = openRooms();
    await select("Survey!A2");
    await commands.read();
    rooms.change((now) => setAsOne(now, true));
    await commands.write();
    expect(store.state.message?.text).toBe("1 stage plan written to the new sheet “2 rooms”.");
    expect(await named("Floor_Area", "2 rooms")).toBe(1500);
    // Two squares: 4 × 30 and 4 × √600.
    close(await named("Floor_Edge", "2 rooms"), 120 + 4 * Math.sqrt(600));
    await write("Survey!C3", [["level 2"]]);
    await select("Survey!A2");
    await commands.read();
    rooms.change((now) => setAsOne(now, true));
    await commands.write();
    expect(store.state.message?.text).toBe("Finish isn't the same in all of them, so they can't be one plan.");
  });

  it("waits for the user where the headings say nothing", async () => {
    await typeList("Survey", "A1", [
      ["Where", "Big", "Wide"],
      ["A", 30, 20],
    ]);
    const { store, rooms, commands } = openRooms();
    await select("Survey!A2");
    await commands.read();
    expect(rooms.state.found).toBeUndefined();
    const form = planOf(store.state.plan);
    for (const [key, heading] of [
      ["floor", "Where"],
      ["length", "Big"],
      ["width", "Wide"],
    ] as const) {
      rooms.change((now) => chooseHeading(now, key, heading, form));
    }
    expect(rooms.state.found!.planned.map(({ plan }) => plan.inputs.length)).toEqual([30]);
    rooms.change((now) => chooseHeading(now, "width", "", form));
    expect(rooms.state.found!.planned).toEqual([]);
    await commands.write();
    expect(store.state.message?.text).toMatch(/^No row of the list can be planned\./);
  });

  it("is refused in words where there is none, or too long, or with hidden rows", async () => {
    const { store, commands } = openRooms();
    await commands.read();
    expect(store.state.message?.text).toBe("This sheet is empty. Select a cell in the list of rooms.");
    const many = Array.from({ length: 201 }, (_, i) => [`Room ${i}`, 100]);
    await typeList("Many", "A1", [["Room", "Area"], ...many]);
    await select("Many!A2");
    await commands.read();
    expect(store.state.message?.text).toBe(
      "Many!A1:B202 has 201 rows; 200 rooms can be planned at once. Split the list.",
    );
    await typeList("Few", "A1", [
      ["Room", "Area"],
      ["A", 900],
      ["B", 600],
    ]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Few").getRange("A3").getEntireRow().rowHidden = true;
      await context.sync();
    });
    await select("Few!A2");
    await commands.read();
    expect(store.state.message?.text).toMatch(/^Rows of Few!A1:B3 are hidden/);
  });

  it("is refused while a filter hides rows, and lists what merged cells leave without a name", async () => {
    await typeList("Survey", "A1", [
      ["Room", "Area"],
      ["Hall", 900],
      ["", 600],
    ]);
    const { store, rooms, commands } = openRooms();
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Survey").getRange("A2:A3").merge();
      await context.sync();
    });
    await select("Survey!B2");
    await commands.read();
    expect(rooms.state.found!.bad).toEqual([{ row: 1, key: "floor", words: "has no name" }]);
    await typeList("Filtered", "A1", [
      ["Room", "Area"],
      ["A", 900],
      ["B", 600],
    ]);
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Filtered");
      sheet.autoFilter.apply(sheet.getRange("A1:B3"), 0, { filterOn: Excel.FilterOn.values, values: ["A"] });
      await context.sync();
    });
    await select("Filtered!A2");
    await commands.read();
    expect(store.state.message?.text).toMatch(/^Rows of Filtered!A1:B3 are hidden, by a filter/);
  });
});

describe("many plans at once", () => {
  openGritForEach();

  it("take as many trips for five as for two, in requests that ten of them fit in", async () => {
    const plansOf = (rooms: number) =>
      Array.from({ length: rooms }, (_, i) => planFor(floor({ floor: `Room ${i + 1}`, area: 400 + i })));
    const syncs = async (rooms: number) => {
      const process = vi.spyOn(workbook.host, "process");
      await insertPlans(plansOf(rooms));
      const { length } = process.mock.calls;
      // Excel on the web refuses a request above 5 MB; a third of it is left for longer plans.
      const largest = Math.max(...process.mock.calls.map(([request]) => JSON.stringify(request).length));
      expect(largest / rooms).toBeLessThan(5e6 / 10 / 1.5);
      process.mockRestore();
      return length;
    };
    expect(await syncs(5)).toBeLessThanOrEqual(await syncs(2));
    // Two sheets can't have one name.
    expect((await sheets()).filter((name) => /^Room 1( \d)?$/.test(name))).toEqual(["Room 1", "Room 1 2"]);
  });
});
