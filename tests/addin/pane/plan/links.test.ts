/** Inputs taken from cells of the workbook go on being that very cell, whatever happens around it. */
import { beforeEach, describe, expect, it, vi } from "vitest";
import { derive } from "../../../../addin/pane/plan/derived";
import { doubtAbout } from "../../../../addin/pane/plan/doubts";
import { restoreBeforeStrip, takeFromStrip } from "../../../../addin/pane/plan/from-strip";
import { unlink } from "../../../../addin/pane/plan/state";
import { startInputs } from "../../../../functions/plan/inputs";
import { named, openGritForEach, select, snapshot, valuesOf, write } from "../../sheet/workbook";
import { openPane } from "../open-pane";

vi.setConfig({ testTimeout: 30_000 });

openGritForEach();
beforeEach(async () => {
  // What else stands around is other numbers, as in a quote.
  await write(
    "Sheet1!A1:E20",
    Array.from({ length: 20 }, (_, row) => [1, 2, 3, 4, 5].map((n) => 1000 * (row + 1) + n)),
  );
  await write("Sheet1!C16", [[312.4]]);
});

/** A pane whose area is taken from Sheet1!C16. */
async function linked() {
  const opened = openPane({}, { inputs: { ...startInputs(), jobName: "Yard" } });
  await select("Sheet1!C16");
  await opened.commands.takeFromCell("area");
  expect(opened.store.state.plan.links.area).toBe("Sheet1!C16");
  return opened;
}

const onSheet = (change: (sheet: Excel.Worksheet) => void) =>
  Excel.run(async (context) => {
    change(context.workbook.worksheets.getItem("Sheet1"));
    await context.sync();
  });

const otherSheet = () =>
  Excel.run(async (context) => {
    context.workbook.worksheets.add("Other");
    await context.sync();
  });

const CHANGES: readonly [what: string, address: string, change: (sheet: Excel.Worksheet) => void][] = [
  ["a row above is deleted", "Sheet1!C15", (sheet) => sheet.getRange("3:3").delete("Up")],
  ["a row above is inserted", "Sheet1!C17", (sheet) => void sheet.getRange("3:3").insert("Down")],
  ["a column before is deleted", "Sheet1!B16", (sheet) => sheet.getRange("A:A").delete("Left")],
  ["a column before is inserted", "Sheet1!D16", (sheet) => void sheet.getRange("A:A").insert("Right")],
  ["its sheet is renamed", "'Quote 2'!C16", (sheet) => void Object.assign(sheet, { name: "Quote 2" })],
];

describe.each(CHANGES)("when %s", (_, address, change) => {
  it("the input is the same cell's, by its new address, with no doubt about it", async () => {
    const { store, commands } = await linked();
    await onSheet(change);
    await commands.readShelf();
    expect(store.state.plan.links.area).toBe(address);
    expect(store.state.plan.inputs.area).toBe(312.4);
    expect(doubtAbout(store.state.plan, "area")).toBe("");
  });

  it("what is written refers to that cell, and follows it", async () => {
    const { store, commands } = await linked();
    await onSheet(change);
    await commands.insertTable("new sheet");
    expect(store.state.message?.kind).toBe("done");
    await write(address, [[500]]);
    expect(await named("Floor_Area", "Stage plan")).toBe(500);
  });

  it("a new value in it is taken, and shown as changed", async () => {
    const { store, commands } = await linked();
    await onSheet(change);
    await write(address, [[400]]);
    await commands.readShelf();
    expect(store.state.plan.inputs.area).toBe(400);
    expect(doubtAbout(store.state.plan, "area")).toContain(`${address} changed from 312.4 to 400`);
  });
});

describe.each([
  ["its row", async () => onSheet((sheet) => sheet.getRange("16:16").delete("Up"))],
  ["its column", async () => onSheet((sheet) => sheet.getRange("C:C").delete("Left"))],
  [
    "its sheet",
    async () => {
      await otherSheet();
      await onSheet((sheet) => sheet.delete());
    },
  ],
])("when %s is deleted", (_, remove) => {
  const GONE = "Floor area is taken from Sheet1!C16, which is gone; it needs a number";

  it("that is said, no price is shown and nothing is inserted, though another number stands there now", async () => {
    const { store, commands } = await linked();
    await remove();
    const before = await snapshot();
    await commands.insertTable("new sheet");
    expect(store.state.message).toMatchObject({ kind: "error", text: `${GONE}.` });
    expect(await snapshot()).toEqual(before);
    expect(derive(store.state.plan)).toMatchObject({ estimate: null, problems: { area: GONE } });
    // Looked at again, it says the same.
    await commands.readShelf();
    expect(derive(store.state.plan).problems.area).toBe(GONE);
  });

  it("the input can be typed or taken from another cell then", async () => {
    const { store, commands } = await linked();
    await remove();
    await commands.readShelf();
    store.part("plan").change((plan) => unlink(plan, "area"));
    expect(derive(store.state.plan).problems.area).not.toBe(GONE);
    const sheet = _ === "its sheet" ? "Other" : "Sheet1";
    await write(`${sheet}!A1`, [[77]]);
    await select(`${sheet}!A1`);
    await commands.takeFromCell("area");
    expect(store.state.plan.inputs.area).toBe(77);
  });
});

it("each of several inputs keeps to its own cell, also where one moves to another's old place", async () => {
  const { store, commands } = await linked();
  await select("Sheet1!C17");
  await commands.takeFromCell("edgeLength");
  await onSheet((sheet) => sheet.getRange("16:16").delete("Up"));
  await commands.readShelf();
  const { plan } = store.state;
  expect([plan.links.edgeLength, plan.inputs.edgeLength]).toEqual(["Sheet1!C16", 17_003]);
  expect(derive(plan).problems.area).toContain("which is gone");
  await commands.readShelf();
  expect(store.state.plan.inputs.area).toBeNull();
});

it("a cell that a strip set aside is known when the strip is undone", async () => {
  const { store, commands } = openPane();
  await select("Sheet1!C16");
  await commands.takeFromCell("cutCoefficient");
  const tool = store.state.plan.shelf.shelf.tools[0]!;
  const measured = { kind: "cut", tool, coefficient: 40, size: 250, slideSpeed: 1000 } as any;
  store.part("plan").change((plan) => takeFromStrip(plan, measured).plan);
  await onSheet((sheet) => sheet.getRange("3:3").delete("Up"));
  await commands.readShelf();
  store.part("plan").change((plan) => restoreBeforeStrip(plan).plan);
  await commands.readShelf();
  const { plan } = store.state;
  expect([plan.links.cutCoefficient, plan.inputs.cutCoefficient]).toEqual(["Sheet1!C15", 312.4]);
});

it("a link leaves nothing in the workbook: no name, no format, no cell", async () => {
  const before = await snapshot();
  const { commands, store } = await linked();
  await commands.readShelf();
  expect(await snapshot()).toEqual(before);
  store.part("plan").change((plan) => unlink(plan, "area"));
  await commands.readShelf();
  expect(await snapshot()).toEqual(before);
  expect((await valuesOf("Sheet1!C16"))[0]![0]).toBe(312.4);
});

it("after a reload of the pane the cell is found where it was last seen, and followed again", async () => {
  const { store, commands } = await linked();
  await onSheet((sheet) => sheet.getRange("3:3").delete("Up"));
  await commands.readShelf();
  const { links, inputs } = store.state.plan;
  const again = openPane({}, { links, inputs });
  await again.commands.readShelf();
  await onSheet((sheet) => sheet.getRange("3:3").delete("Up"));
  await again.commands.readShelf();
  expect(again.store.state.plan.links.area).toBe("Sheet1!C14");
  expect(again.store.state.plan.inputs.area).toBe(312.4);
});
