/** The pane follows the workbook: the shelf's prices and the cells that inputs are taken from, without being asked. */
import { afterEach, describe, expect, it, vi } from "vitest";
import { derive } from "../../../../addin/pane/plan/derived";
import { unlink } from "../../../../addin/pane/plan/state";
import { goToView, type State } from "../../../../addin/pane/state";
import type { Store } from "../../../../addin/pane/store";
import { watchWorkbook } from "../../../../addin/sheet";
import { expectClose } from "../../../helpers";
import { named, openGritForEach, select, write } from "../../sheet/workbook";
import { followPlan, openPane } from "../open-pane";

vi.setConfig({ testTimeout: 30_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

function pane() {
  let shows = 0;
  const opened = openPane();
  followPlan(opened);
  // What a page shows: what is being read is not shown.
  let shown = opened.store.state;
  opened.store.subscribe((state) => {
    if (JSON.stringify({ ...state, reads: null }) !== JSON.stringify({ ...shown, reads: null })) shows++;
    shown = state;
  });
  return { ...opened, shows: () => shows };
}

const priceIn = ({ state }: Store<State>) => derive(state.plan).estimate?.price;
const pricesAgree = async (store: Store<State>) => expectClose(priceIn(store)!, await named("Stages_Price"), 1e-9);

/** The prices of all sets on the shelf, times a factor. */
async function changePrices(factor: number): Promise<void> {
  await Excel.run(async (context) => {
    const table = context.workbook.tables.getItem("Tooling");
    const header = table.getHeaderRowRange().load("values");
    await context.sync();
    const title = header.values[0]!.map(String).find((words) => /price/i.test(words))!;
    const cells = table.columns.getItem(title).getDataBodyRange().load("values");
    await context.sync();
    cells.values = cells.values.map(([price]) => [Number(price) * factor]);
    await context.sync();
  });
}

/** A plan whose area is taken from Sheet1!B2, written to a sheet of its own. */
async function planned() {
  await write("Sheet1!B2", [[312.4]]);
  await select("Sheet1!B2");
  const { store, commands, shows } = pane();
  await commands.takeFromCell("area");
  await commands.insertTable("new sheet");
  await pricesAgree(store);
  await watchWorkbook(commands.workbookChanged);
  return { store, commands, shows };
}

describe("a change of the workbook, while the plan is looked at", () => {
  it("of the shelf's prices changes the pane's price to the sheet's, and is announced", async () => {
    const { store } = await planned();
    const before = priceIn(store)!;
    await changePrices(3);
    await vi.waitFor(() => expect(priceIn(store)).toBeGreaterThan(before), { timeout: 5000 });
    await pricesAgree(store);
    expect(store.state.announcement).toMatch(/^The workbook has changed: the price is now \$[\d,]+\.\d\d\.$/);
  });

  it("of a cell that an input is taken from does, too", async () => {
    const { store } = await planned();
    await write("Sheet1!B2", [[400]]);
    await vi.waitFor(() => expect(store.state.plan.inputs.area).toBe(400), { timeout: 5000 });
    await pricesAgree(store);
  });

  it.each([
    ["", "Floor area is taken from Sheet1!B2, which holds a blank; it needs a number"],
    ["wide", 'Floor area is taken from Sheet1!B2, which holds the text "wide"; it needs a number'],
    ["=NA()", "Floor area is taken from Sheet1!B2, which holds"],
  ])("to a cell without a number (%s) leaves no price, and says why, until there is a number", async (value, told) => {
    const { store, commands } = await planned();
    await write("Sheet1!B2", [[value]]);
    await vi.waitFor(() => expect(derive(store.state.plan).problems.area).toContain(told), { timeout: 5000 });
    expect(derive(store.state.plan)).toMatchObject({ estimate: null, firstProblem: "area" });
    expect(store.state.announcement).toBe("The workbook has changed: there is no price now.");
    await commands.insertTable("new sheet");
    expect(store.state.message).toMatchObject({ kind: "error", text: expect.stringContaining(told) });
    await write("Sheet1!B2", [[500]]);
    await vi.waitFor(() => expect(priceIn(store)).toBeDefined(), { timeout: 5000 });
    await pricesAgree(store);
  });

  it("that comes from the pane's own writing is read once, and nothing is shown anew where nothing differs", async () => {
    const { store, commands, shows } = await planned();
    await commands.insertTable("new sheet");
    const { shelf } = store.state.plan;
    await new Promise((resume) => setTimeout(resume, 1500));
    const settled = shows();
    await write("Sheet1!D9", [["a remark of the user's"]]);
    await new Promise((resume) => setTimeout(resume, 1500));
    expect(shows()).toBe(settled);
    expect(store.state.plan.shelf).toBe(shelf);
  });
});

it("the plan is read again when it comes into view, and other views ask nothing of the workbook", async () => {
  const { store } = await planned();
  store.change((state) => goToView(state, "functions"));
  await write("Sheet1!B2", [[400]]);
  await new Promise((resume) => setTimeout(resume, 1000));
  expect(store.state.plan.inputs.area).toBe(312.4);
  store.change((state) => goToView(state, "plan"));
  expect(store.state.reads.plan.due).toBe(true);
  await vi.waitFor(() => expect(store.state.reads.plan).toEqual({ due: false, running: false }), { timeout: 5000 });
  expect(store.state.plan.inputs.area).toBe(400);
  await pricesAgree(store);
});

it("a price that turns out another just before the plan is written is told with it", async () => {
  await write("Sheet1!B2", [[312.4]]);
  await select("Sheet1!B2");
  const { store, commands } = pane();
  await commands.takeFromCell("area");
  await write("Sheet1!B2", [[400]]);
  await commands.insertTable("new sheet");
  expect(store.state.message?.text).toMatch(/The workbook had changed: the price is \$[\d,.]+, not \$[\d,.]+\.$/);
  await pricesAgree(store);
});

it("an input that is no longer taken from its cell has no more trouble with it", async () => {
  const { store } = await planned();
  await write("Sheet1!B2", [[""]]);
  await vi.waitFor(() => expect(derive(store.state.plan).problems.area).toBeDefined(), { timeout: 5000 });
  store.part("plan").change((plan) => unlink(plan, "area"));
  // The example's length and width are there.
  expect(derive(store.state.plan).problems.area).toBeUndefined();
});
