/** What the pane warns of is on the sheet, and no entry of the user's or missing price is passed over in silence. */
import { describe, expect, it, vi } from "vitest";
import { derive } from "../../../../addin/pane/plan/derived";
import { allDoubts, doubtAbout } from "../../../../addin/pane/plan/doubts";
import { fillInExample, link, linkedCells, startPlan, takeLinked, typeNumber } from "../../../../addin/pane/plan/state";
import { starterShelf } from "../../../../functions/plan/starter-shelf";
import { putShelf } from "../../sheet/agreement";
import { openGritForEach, setInTable, tableRows, valuesOf } from "../../sheet/workbook";
import { openPane } from "../open-pane";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();

const bold = (address: string) =>
  Excel.run(async (context) => {
    const [sheet, cell] = address.split("!");
    const font = context.workbook.worksheets.getItem(sheet!).getRange(cell!).format.font.load("bold,italic");
    await context.sync();
    return [font.bold, font.italic];
  });

/** Where the sheet says this at its top, among the key figures. */
async function warning(words: string): Promise<string | undefined> {
  const top = await valuesOf("Stage plan!A1:Z8");
  for (const [r, row] of top.entries()) {
    const c = row.findIndex((value) => String(value).includes(words));
    if (c >= 0) return `Stage plan!${String.fromCharCode(65 + c)}${r + 1}`;
  }
  return undefined;
}

it("a coating that grinding can't prepare for is said on the sheet, among the key figures and not in gray", async () => {
  const { store, commands } = openPane();
  store.part("plan").change((plan) => ({ ...plan, inputs: { ...plan.inputs, finish: "coating", film: 60 } }));
  await commands.insertTable("new sheet");
  expect(store.state.message?.kind).toBe("done");
  const at = await warning("Use another method, such as shot blasting");
  expect(at).toBeDefined();
  expect(await bold(at!)).toEqual([true, false]);
});

describe("a blank price on the shelf", () => {
  const start = async () => {
    await putShelf(starterShelf("us"), "us");
    await setInTable("My_liquids", 0, "Price of a container", "");
    const pane = openPane();
    await pane.commands.readShelf();
    return pane;
  };

  it("stands beside the price where the proposal wanted the row", async () => {
    const { store } = await start();
    expect(derive(store.state.plan).leftOut).toEqual(["Densifier"]);
    // No finish without densifier: a coating misses nothing.
    const coating = { ...store.state.plan, inputs: { ...store.state.plan.inputs, finish: "coating" as const } };
    expect(derive(coating).leftOut).toEqual([]);
  });

  it("is asked about before a plan is written, which then says it", async () => {
    const { store, commands } = await start();
    await commands.insertTable("new sheet");
    expect(store.state.question).toMatchObject({
      what: "The plan leaves out what has no price on the shelf: Densifier.",
      question: "Insert it all the same?",
    });
    commands.answer(true);
    await vi.waitFor(() => expect(store.state).toMatchObject({ busy: null, question: null }), { timeout: 60_000 });
    expect((await tableRows("Stages")).map((row) => row.Work)).not.toContain("densify");
    expect(await warning("Densifier has no price on the shelf")).toBeDefined();
  });
});

describe("the example", () => {
  it("fills an empty form at once, and asks before it takes the place of entries", async () => {
    const { store, commands } = openPane({}, startPlan());
    await commands.fillInExample();
    expect(store.state.question).toBeNull();
    expect(store.state.plan.inputs.length).toBe(80);
    store.part("plan").change((plan) => typeNumber(plan, "area", "1234"));
    await commands.fillInExample();
    expect(store.state.question).toMatchObject({ question: "Fill it in?" });
    expect(store.state.plan.inputs.area).toBe(1234);
    commands.answer(false);
    expect(store.state.plan.inputs.area).toBe(1234);
    await commands.fillInExample();
    commands.answer(true);
    await vi.waitFor(() => expect(store.state.plan.inputs.area).toBeNull());
  });
});

it("a value that changed behind a link is shown with both numbers, until the link is made anew", () => {
  const linked = link(fillInExample(startPlan()), "area", "Quote!C16", 4200);
  expect(doubtAbout(linked, "area")).not.toContain("Quote!C16");
  const changed = takeLinked(linked, linkedCells(linked), [{ address: "Quote!C16", value: 18_000 }]);
  const words = "The cell Quote!C16 changed from 4,200 to 18,000; check that it is still the right one";
  expect(doubtAbout(changed, "area")).toBe(words);
  expect(allDoubts(changed).join()).toContain("Quote!C16 changed from 4,200 to 18,000");
  expect(doubtAbout(link(changed, "area", "Quote!C16", 18_000), "area")).not.toContain("changed from");
});

it("an area that changes after the edge length was typed puts the edge length in doubt", () => {
  const typed = typeNumber(typeNumber(fillInExample(startPlan()), "area", "4000"), "edgeLength", "260");
  expect(doubtAbout(typed, "edgeLength")).toBe("");
  const larger = typeNumber(typed, "area", "6000");
  expect(doubtAbout(larger, "edgeLength")).toBe("Typed for a floor of 4,000 ft²; check it for this one");
  expect(doubtAbout(typeNumber(larger, "edgeLength", "320"), "edgeLength")).toBe("");
  expect(doubtAbout(typeNumber(larger, "edgeLength", ""), "edgeLength")).toBe("");
});
