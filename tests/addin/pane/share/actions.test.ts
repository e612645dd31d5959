/** The Share view's commands: the copies are really made, only what reaches the workbook is replaced, and the worker. */
import { beforeEach, describe, expect, it, vi } from "vitest";
import { startFunctions } from "../../../../addin/pane/functions/state";
import { addRange, chooseKind, tick } from "../../../../addin/pane/share/choice";
import * as copier from "../../../../addin/pane/share/copier";
import { type ShareState, startShare } from "../../../../addin/pane/share/state";
import type { State } from "../../../../addin/pane/state";
import { copyOf } from "../../../../addin/share/copies";
import * as sheet from "../../../../addin/sheet";
import { CATALOGUE } from "../../../catalogue";
import { book, sheet as sheetXml, unzipped } from "../../share/copy-files";
import { openPane } from "../open-pane";
import { found } from "./fixtures";

vi.mock("../../../../addin/sheet", async (original) => ({
  ...(await original<typeof sheet>()),
  documentBytes: vi.fn(),
  listSheets: vi.fn(),
  selectedCells: vi.fn(),
  openAsNewWorkbook: vi.fn(),
}));
vi.mock("../../../../addin/pane/share/copier");
const workbook = vi.mocked(sheet);
const { makeCopy } = vi.mocked(copier);

const cell = (address: string, formula: string, value: number) =>
  `<c r="${address}"><f>${formula}</f><v>${value}</v></c>`;
const text = (address: string, words: string) => `<c r="${address}" t="inlineStr"><is><t>${words}</t></is></c>`;

/** A quote with two calls of ours, one of them a search; a secret on another sheet. */
const quoteBytes = (more = "") =>
  book({
    sheets: {
      Quote: sheetXml(
        `<row r="1">${text("A1", "Hours")}${cell("B1", "_xldudf_GRIT_PASSTIME(4200,28,15)", 3.5)}</row>` +
          `<row r="2">${cell("B2", "_xldudf_GRIT_LADDER(30,400)", 30)}</row>${more}`,
      ),
      Costs: sheetXml(`<row r="1">${text("A1", "Total cost")}<c r="B1"><v>41237</v></c></row>`),
    },
  });

const functions = { ...startFunctions(), catalogue: { entries: CATALOGUE } };
const paneWith = (state: Partial<State> = {}) => openPane({ functions, ...state });
function choosing(...ticked: string[]) {
  const none: ShareState = chooseKind(startShare(), "price");
  return paneWith({ share: ticked.reduce((share, name) => tick(share, name, true), none) });
}
const opened = () => unzipped(workbook.openAsNewWorkbook.mock.calls[0]![0]);

beforeEach(() => {
  vi.resetAllMocks();
  workbook.listSheets.mockResolvedValue([found("Quote"), found("Costs")]);
  workbook.documentBytes.mockImplementation(async () => quoteBytes());
  makeCopy.mockImplementation(async (order) => copyOf(order, () => undefined));
});

describe("a calculating copy", () => {
  it("is shown before anything is opened", async () => {
    const { store, commands } = paneWith();
    await commands.share.see();
    expect(store.state.message).toBeNull();
    expect(store.state.announcement).toBe("1 formula converted, 1 formula turned into a value. No copy is open yet.");
    expect(store.state.share.made).toMatchObject({
      kind: "calculating",
      report: { formulas: 1, functions: { PASSTIME: 1 }, values: [{ sheet: "Quote", place: "B2" }] },
    });
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();
  });

  it("is opened as it was shown, with version, units, today and the caution on its note sheet", async () => {
    vi.useFakeTimers({ now: new Date(2026, 2, 9), toFake: ["Date"] });
    const { store, commands } = paneWith();
    await commands.share.see();
    await commands.share.open();
    vi.useRealTimers();
    expect(store.state.message?.text).toMatch(/^Ready\. Anyone who has it can see your costs.*Save it under a name/);
    expect(store.state).toMatchObject({ message: { kind: "done" }, announcement: "" }); // no more "No copy is open yet."
    const parts = Object.values(opened()).join();
    expect(parts).not.toMatch(/<f>[^<]*GRIT[._]/);
    expect(parts).toContain("<v>3.5</v>");
    // package.json of this version.
    for (const told of ["Gritledger 0.1.0", "2026-03-09", "US (ft, in, gal)", "Silica dust"]) {
      expect(parts).toContain(told);
    }
  });

  it("of a workbook that has changed since is shown anew, and not opened before it was", async () => {
    const { store, commands } = paneWith();
    await commands.share.see();
    const third = `<row r="3">${cell("B3", "_xldudf_GRIT_PASSTIME(1,28,15)", 1)}</row>`;
    workbook.documentBytes.mockImplementation(async () => quoteBytes(third));
    await commands.share.open();
    expect(store.state.message).toMatchObject({ kind: "note" });
    expect(store.state.message?.text).toMatch(/^The workbook has changed.*2 formulas converted/);
    expect(store.state.share.made).toMatchObject({ report: { formulas: 2 } });
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();
    await commands.share.open();
    expect(opened()["xl/worksheets/sheet1.xml"]).toContain('r="B3"');
  });

  it("cannot be made without the list of functions, and that is told", async () => {
    const { store, commands } = paneWith({
      functions: { ...functions, catalogue: { trouble: "The list is damaged." } },
    });
    await commands.share.see();
    expect(store.state.message).toEqual({ kind: "error", text: "No copy was made. The list is damaged." });
  });
});

describe("a price-only copy", () => {
  it("has what was chosen and nothing of the rest", async () => {
    const { store, commands } = choosing("Quote");
    await commands.share.see();
    await commands.share.open();
    expect(store.state.message?.text).toMatch(
      /^Ready\. It has only what you chose.*Save it under a name.*\(price only\)/,
    );
    const parts = Object.values(opened()).join();
    expect(parts).toContain("<v>3.5</v>");
    expect(parts).not.toMatch(/41237|Total cost|<f[ >]/);
  });

  it("with words that sound like costs is opened only on a yes", async () => {
    const { store, commands } = choosing("Quote", "Costs");
    await commands.share.see();
    await commands.share.open();
    expect(store.state.question).toMatchObject({ what: expect.stringContaining("“Total cost”") });
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();
    commands.answer(false);
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();

    await commands.share.open();
    commands.answer(true);
    await commands.idle();
    expect(store.state.message).toMatchObject({ kind: "done" });
    expect(workbook.openAsNewWorkbook).toHaveBeenCalledTimes(1);
  });

  it("of a sheet that was renamed in the meantime is refused in words, and the sheet let go", async () => {
    const { store, commands } = choosing("Quote");
    await commands.share.see();
    workbook.listSheets.mockResolvedValue([found("Offer"), found("Costs")]);
    await commands.share.open();
    expect(store.state.message).toEqual({ kind: "error", text: "Choose a sheet or a range first." });
    expect(store.state.share).toMatchObject({ ticked: [], made: null });
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();
  });

  it("takes the selected range", async () => {
    workbook.selectedCells.mockResolvedValue({ sheet: "Quote", range: "A1:B1" });
    const { store, commands } = choosing();
    await commands.share.addSelected();
    expect(store.state.message).toEqual({ kind: "done", text: "Quote!A1:B1 will be in the copy." });
    await commands.share.see();
    // A1 and B1 have a value, B2 is not in the range.
    expect(store.state.share.made).toMatchObject({ report: { sheets: [{ name: "Quote", cells: 2, formulas: 1 }] } });
  });

  it("that the user has chosen otherwise meanwhile is not shown", async () => {
    const { store, commands } = choosing("Quote");
    workbook.documentBytes.mockImplementation(async () => {
      store.part("share").change((share) => addRange(share, { sheet: "Costs", range: "A1" }));
      return quoteBytes();
    });
    await commands.share.see();
    expect(store.state).toMatchObject({ message: null, busy: null, share: { made: null } });
  });
});

describe("a copy that takes long", () => {
  it("shows how far it is; canceled, it says so, shows nothing of a copy and opens none", async () => {
    const { store, commands } = paneWith();
    makeCopy.mockImplementation(async (_, { progress, signal }) => {
      await progress(37, 100, "Percent of the copy");
      expect(store.state.share.progress).toEqual({ done: 37, of: 100, doing: "Percent of the copy" });
      commands.share.cancel();
      expect(signal.aborted).toBe(true);
      throw new sheet.Refusal("Canceled; no copy was made.");
    });
    await commands.share.see();
    expect(store.state).toMatchObject({
      message: { kind: "note", text: "Canceled; no copy was made." },
      busy: null,
      share: { made: null, progress: null },
    });
    makeCopy.mockImplementation(async (order) => copyOf(order, () => undefined));
    await commands.share.see();
    expect(store.state.share.made).not.toBeNull();
  });

  it("that is canceled while it is opened leaves what was shown", async () => {
    const { store, commands } = paneWith();
    await commands.share.see();
    const { made } = store.state.share;
    makeCopy.mockImplementation(async () => {
      commands.share.cancel();
      throw new sheet.Refusal("Canceled; no copy was made.");
    });
    await commands.share.open();
    expect(store.state.message).toEqual({ kind: "note", text: "Canceled; no copy was made." });
    expect(store.state.share.made).toBe(made);
    expect(workbook.openAsNewWorkbook).not.toHaveBeenCalled();
  });
});

describe("a file that no copy can be made of", () => {
  it.each([
    ["is no workbook", new Uint8Array([1, 2, 3]), /^This isn't an Excel workbook/],
    ["is empty", new Uint8Array(), /^This file is empty/],
  ])("%s: the user is told in words", async (_, bytes, words) => {
    workbook.documentBytes.mockResolvedValue(bytes);
    const { store, commands } = paneWith();
    await commands.share.see();
    expect(store.state.message).toMatchObject({ kind: "error", text: expect.stringMatching(words) });
    expect(store.state.busy).toBeNull();
  });
});

describe("the list of sheets", () => {
  it("is read without a word, and leaves what was said before", async () => {
    const message = { kind: "done", text: "Written." } as const;
    const { store, commands } = paneWith({ message });
    await commands.share.look();
    expect(store.state.share).toMatchObject({ sheets: [found("Quote"), found("Costs")] });
    expect(store.state.message).toBe(message);
  });

  it("that cannot be read is not asked for again and again", async () => {
    workbook.listSheets.mockRejectedValue(new sheet.Refusal("Excel is busy."));
    const { store, commands } = paneWith();
    await commands.share.look();
    expect(store.state.reads.share).toEqual({ due: false, running: false });
    expect(store.state.message).toEqual({ kind: "error", text: "Excel is busy." });
  });
});
