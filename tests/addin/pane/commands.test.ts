import { beforeEach, describe, expect, it, vi } from "vitest";
import { type PlanState, setChoice, startPlan, typeNumber } from "../../../addin/pane/plan/state";
import * as sheet from "../../../addin/sheet";
import { openPane } from "./open-pane";

// Only what reaches the workbook is replaced; the refusals are the real ones.
vi.mock("../../../addin/sheet", async (original) => ({
  ...(await original<typeof sheet>()),
  insertPlan: vi.fn(),
  insertFunction: vi.fn(),
  hasDecimalComma: vi.fn(),
  readLinked: vi.fn(),
  readSelectedCell: vi.fn(),
  readShelf: vi.fn(),
  recalculate: vi.fn(),
  undo: vi.fn(),
}));
const workbook = vi.mocked(sheet);

const FILLED = { kind: "overCells", facts: { at: "Quote!B4:F9" } };
const inserted: sheet.Inserted = { what: "Stage table written to Quote!B4", sheets: [], names: [] };

const paneWith = (plan: Partial<PlanState> = {}) => openPane({}, plan);

beforeEach(() => {
  vi.resetAllMocks();
  const { shelf } = startPlan().shelf;
  workbook.readShelf.mockResolvedValue({ shelf, from: "the starter shelf", problems: [] });
});

describe("a command that is asked for while another runs", () => {
  /** A plan that is being inserted until it is let go on. */
  function inserting() {
    let goOn: (outcome: sheet.Inserted | Promise<never>) => void = () => undefined;
    workbook.insertPlan.mockReturnValue(new Promise((resolve) => (goOn = resolve)));
    const pane = paneWith();
    const command = pane.commands.insertTable("new sheet");
    return { ...pane, command, goOn: (outcome: sheet.Inserted | Promise<never>) => goOn(outcome) };
  }

  it("is not started, which is told with what runs, until that is done", async () => {
    const { store, commands, command, goOn } = inserting();
    await Promise.resolve();
    void commands.recalculate();
    expect(store.state.turnedAway).toBe("Still inserting the stage table. Try again when it's done.");
    expect(store.state).toMatchObject({ busy: { busy: "Inserting the stage table…" }, message: null });
    goOn(inserted);
    await command;
    expect(workbook.recalculate).not.toHaveBeenCalled();
    expect(store.state).toMatchObject({
      busy: null,
      turnedAway: "",
      message: { text: "Stage table written to Quote!B4." },
    });
  });

  it("is told no more where the running one fails or has a question", async () => {
    for (const error of [new sheet.Refusal("No."), new sheet.NeedsAnswer("It is filled.", "Write over it?", FILLED)]) {
      const { store, commands, command, goOn } = inserting();
      void commands.insertTable("selected cell");
      expect(store.state.turnedAway).toMatch(/^Still inserting the stage table\./);
      goOn(Promise.reject(error));
      await command;
      expect(store.state).toMatchObject({ busy: null, turnedAway: "" });
    }
  });

  it("is waited for by who waits until none runs, though the pane begins one as soon as another is done", async () => {
    let done: (outcome: sheet.Inserted) => void = () => undefined;
    workbook.insertPlan.mockReturnValue(new Promise((resolve) => (done = resolve)));
    let readOn: () => void = () => undefined;
    const read = { ...startPlan().shelf, problems: [] };
    // Before the plan is written; what it wrote itself needs no second look.
    workbook.readShelf.mockResolvedValueOnce(read);
    workbook.readShelf.mockReturnValueOnce(new Promise((resolve) => (readOn = () => resolve(read))));
    let isFollowed = false;
    const { store, commands } = openPane();
    // As the page does for what a view needs and does not have.
    store.subscribe(({ message, busy }) => {
      if (busy || !message || isFollowed) return;
      isFollowed = true;
      queueMicrotask(() => void commands.readShelf());
    });
    void commands.insertTable("new sheet");
    let isIdle = false;
    const idle = commands.idle().then(() => (isIdle = true));
    done(inserted);
    await vi.waitFor(() => expect(isFollowed && store.state.busy?.busy).toBe("Reading the shelf…"));
    await new Promise((resume) => setTimeout(resume, 5));
    expect(isIdle).toBe(false);
    readOn();
    await idle;
    expect(store.state.busy).toBeNull();
  });
});

it("how the spreadsheet writes numbers is read, and done without where it is not told", async () => {
  const { store, commands } = paneWith();
  workbook.hasDecimalComma.mockResolvedValue(true);
  await commands.readNotation();
  expect(store.state.plan.decimalComma).toBe(true);
  workbook.hasDecimalComma.mockRejectedValue(new sheet.Refusal("No."));
  await commands.readNotation();
  expect(store.state).toMatchObject({ plan: { decimalComma: false }, message: null });
});

describe("inserting the stage table", () => {
  it("says what was written and can take it back", async () => {
    workbook.insertPlan.mockResolvedValue(inserted);
    const { store, commands } = paneWith();
    await commands.insertTable("new sheet");
    expect(store.state.message).toEqual({ kind: "done", text: "Stage table written to Quote!B4.", inserted });
    await commands.undo(inserted);
    expect(workbook.undo).toHaveBeenCalledWith(inserted, false);
    expect(store.state.message?.text).toContain("Undid “");
  });

  it("does not reach the workbook while a field has a problem, and tells the problem", async () => {
    const { store, commands } = paneWith();
    store.part("plan").change((plan) => typeNumber(plan, "speed", "0"));
    await commands.insertTable("new sheet");
    expect(workbook.insertPlan).not.toHaveBeenCalled();
    expect(store.state.message).toMatchObject({ kind: "error" });
    expect(store.state.message?.text).toContain("Travel speed must be above 0");
    expect(store.state.plan.openGroups).toContain("machine");
  });

  it("asks before it writes over cells, and goes on only after a yes, which counts for what was asked", async () => {
    workbook.insertPlan.mockRejectedValueOnce(
      new sheet.NeedsAnswer("Quote!B4:F9 is filled.", "Write over it?", FILLED),
    );
    workbook.insertPlan.mockResolvedValueOnce(inserted);
    const { store, commands } = paneWith();
    await commands.insertTable("selected cell");
    expect(store.state.question).toMatchObject({ what: "Quote!B4:F9 is filled.", question: "Write over it?" });
    commands.answer(true);
    await vi.waitFor(() => expect(store.state.message?.kind).toBe("done"));
    expect(workbook.insertPlan.mock.calls.map((call) => call[2])).toEqual([false, FILLED]);
    expect(store.state.question).toBeNull();
  });

  it("leaves the workbook alone after a no", async () => {
    workbook.insertPlan.mockRejectedValueOnce(new sheet.NeedsAnswer("Filled.", "Write over it?", FILLED));
    const { store, commands } = paneWith();
    await commands.insertTable("selected cell");
    commands.answer(false);
    expect(workbook.insertPlan).toHaveBeenCalledTimes(1);
    expect(store.state.message?.text).toBe("Nothing was changed.");
  });

  it("runs one command at a time", async () => {
    let finish!: (result: sheet.Inserted) => void;
    workbook.insertPlan.mockReturnValue(new Promise((resolve) => (finish = resolve)));
    const { store, commands } = paneWith();
    const first = commands.insertTable("new sheet");
    const others = [commands.insertCall("=GRIT.SIZE(30)"), commands.insertTable("new sheet"), commands.idle()];
    await vi.waitFor(() => expect(workbook.insertPlan).toHaveBeenCalled());
    finish(inserted);
    await Promise.all([first, ...others]);
    expect(workbook.insertPlan).toHaveBeenCalledTimes(1);
    expect(workbook.insertFunction).not.toHaveBeenCalled();
    expect(store.state).toMatchObject({ busy: null, message: { kind: "done" } });
  });
});

describe("a failure", () => {
  it("shows a refusal in its own words", async () => {
    workbook.insertFunction.mockRejectedValue(new sheet.Refusal("Quote!C5 is not empty."));
    const { store, commands } = paneWith();
    await commands.insertCall("=GRIT.SIZE(30)");
    expect(store.state.message).toEqual({ kind: "error", text: "Quote!C5 is not empty." });
    expect(store.state.busy).toBeNull();
  });

  it("says what happened, why, and what next, whatever else it is", async () => {
    workbook.recalculate.mockRejectedValue(new Error("The request failed"));
    const { store, commands } = paneWith();
    await commands.recalculate();
    expect(store.state.message?.text).toBe(
      "Couldn't recalculate: the spreadsheet said “The request failed”. Check the workbook, then try again.",
    );
  });
});

describe("taking a field from the selected cell", () => {
  it("takes a number with its address", async () => {
    workbook.readSelectedCell.mockResolvedValue({ address: "Quote!C5", value: 4200 });
    const { store, commands } = paneWith();
    await commands.takeFromCell("area");
    expect([store.state.plan.inputs.area, store.state.plan.links.area]).toEqual([4200, "Quote!C5"]);
  });

  it.each([
    ["text", "4200 ft", 'Quote!C5 holds the text "4200 ft"'],
    ["a blank", "", "Quote!C5 holds a blank"],
  ])("refuses %s", async (_, value, told) => {
    workbook.readSelectedCell.mockResolvedValue({ address: "Quote!C5", value });
    const { store, commands } = paneWith();
    await commands.takeFromCell("area");
    expect(store.state.plan.links).toEqual({});
    expect(store.state.message?.text).toContain(told);
  });
});

describe("reading the shelf", () => {
  it("keeps what was said before", async () => {
    const { shelf } = startPlan("metric").shelf;
    workbook.readShelf.mockResolvedValue({ shelf, from: "the starter shelf", problems: [] });
    const { store, commands } = paneWith();
    commands.change((plan) => ({ ...setChoice(plan, "units", "metric"), note: "Converted." }));
    await commands.readShelf();
    expect(workbook.readShelf).toHaveBeenCalledWith("metric");
    expect(store.state.plan.shelf.units).toBe("metric");
    expect(store.state.message?.text).toBe("Converted.");
  });

  it("falls back to the starter shelf in the right units when it fails", async () => {
    workbook.readShelf.mockRejectedValue(new Error("No answer"));
    const { store, commands } = paneWith();
    commands.change((plan) => setChoice(plan, "units", "metric"));
    await commands.readShelf();
    expect(store.state.plan.shelf).toEqual(startPlan("metric").shelf);
    expect(store.state.message?.kind).toBe("error");
  });
});

describe("an input that is taken from a cell", () => {
  const linked = { links: { area: "Quote!C5" } };

  it("is read again before the plan is written, so that the pane is not behind the workbook", async () => {
    workbook.readLinked.mockResolvedValue([{ address: "Quote!C5", value: 5200 }]);
    workbook.insertPlan.mockResolvedValue(inserted);
    const { store, commands } = paneWith(linked);
    await commands.insertTable("new sheet");
    expect(store.state.plan.inputs.area).toBe(5200);
    expect(workbook.insertPlan.mock.calls[0]![0]).toMatchObject({ inputs: { area: 5200 }, links: linked.links });
  });

  it.each([
    [undefined, "Floor area is taken from Quote!C5, which is gone; it needs a number."],
    ["wide", 'Floor area is taken from Quote!C5, which holds the text "wide"; it needs a number.'],
  ])("stops the writing when its cell has no number: %s", async (value, text) => {
    workbook.readLinked.mockResolvedValue([{ address: "Quote!C5", value }]);
    const { store, commands } = paneWith(linked);
    await commands.insertTable("new sheet");
    expect(workbook.insertPlan).not.toHaveBeenCalled();
    expect(store.state.message).toEqual({ kind: "error", text });
  });
});

it("nothing is priced from a shelf that is unfit for it", async () => {
  const { shelf } = startPlan().shelf;
  const problem = "“Metal 30” stands 2 times in the table Tooling";
  workbook.readShelf.mockResolvedValue({ shelf, from: "table Tooling", problems: [problem], unfit: problem });
  const { store, commands } = paneWith();
  await commands.readShelf();
  await commands.insertTable("new sheet");
  expect(workbook.insertPlan).not.toHaveBeenCalled();
  expect(store.state.message?.text).toContain(problem);
});
