import { beforeEach, describe, expect, it, vi } from "vitest";
import { foundIn, repairedDigest } from "../../../../addin/pane/functions/repair-words";
import { type FunctionsState, startFunctions } from "../../../../addin/pane/functions/state";
import * as sheet from "../../../../addin/sheet";
import * as repair from "../../../../addin/sheet/repair-cells";
import { CATALOGUE } from "../../../catalogue";
import { openPane } from "../open-pane";

vi.mock("../../../../addin/sheet/repair-cells", async (original) => ({
  ...(await original<typeof repair>()),
  checkWorkbook: vi.fn(),
  repairWorkbook: vi.fn(),
}));
const workbook = vi.mocked(repair);

const cell = (row: number, over: Partial<sheet.OurCell> = {}): sheet.OurCell => ({
  sheet: "Quote",
  row,
  column: 1,
  formula: "=GRIT.SIZE(30)",
  value: "#NAME?",
  ids: ["SIZE"],
  hindrance: "",
  ...over,
});

const checked = (over: Partial<sheet.CheckedWorkbook> = {}): sheet.CheckedWorkbook => ({
  sheets: 2,
  sheetsWithOurs: 0,
  cells: 0,
  fine: 0,
  unrecognized: [],
  unnamed: [],
  misnamed: [],
  waiting: [],
  errors: [],
  texts: [],
  stale: [],
  restless: 0,
  ...over,
});

/** Three cells that Excel does not recognize; one of them on a protected sheet, one formatted as text. */
const came = checked({
  sheetsWithOurs: 1,
  cells: 1203,
  fine: 1200,
  unrecognized: [cell(1), cell(2, { hindrance: "protected" }), cell(3, { hindrance: "text format" })],
});
const found = (over: Partial<sheet.CheckedWorkbook>) => foundIn(checked(over)).findings;
const titles = (over: Partial<sheet.CheckedWorkbook>) => found(over).map(({ title }) => title);

// Expected words: written down from what the issue asks the user to be told.
describe("what was found", () => {
  it("is nothing before a check, and nothing where all is well", () => {
    expect(startFunctions().repair.found).toBeNull();
    expect(found({ cells: 5, fine: 5 })).toEqual([]);
  });

  it("says which cells show #NAME?, which of them cannot be entered again, and what to do", () => {
    const { findings, repairable } = foundIn(came);
    expect(findings.map(({ title, places }) => [title, places])).toEqual([
      ["#NAME? in 1 cell", ["Quote!B2"]],
      ["#NAME? in 1 cell of protected sheets", ["Quote!B3"]],
      ["#NAME? in 1 cell with the number format Text", ["Quote!B4"]],
    ]);
    expect(findings.map(({ advice }) => advice).join(" ")).toMatch(
      /Repair enters.*Unprotect the sheet.*another number format/,
    );
    expect(repairable).toBe(1);
  });

  it("does not offer to repair again what a repair has left, and says why it may be left", () => {
    const left = foundIn(came, true);
    expect(left.repairable).toBe(0);
    const [first] = left.findings;
    expect(first!.title).toBe("Still #NAME? in 1 cell");
    expect(first!.advice).toMatch(/^Entering them again didn't help\..*refer to that shows #NAME\?/);
  });

  it("tells a name that there is not as such, and offers no repair for it", () => {
    const unnamed = [cell(1, { unknownNames: ["Misspelt"] }), cell(2, { unknownNames: ["Misspelt", "Gone"] })];
    const { findings, repairable } = foundIn(checked({ cells: 2, unnamed }));
    expect(findings.map(({ title, places }) => [title, places])).toEqual([
      ["There is no name Misspelt in this workbook", ["Quote!B2", "Quote!B3"]],
      ["There is no name Gone in this workbook", ["Quote!B3"]],
    ]);
    expect(findings[0]!.advice).toMatch(/Correct the name in the formula, or define it/);
    expect(repairable).toBe(0);
  });

  it("names each function that there is not once, with all its cells", () => {
    const misnamed = [
      { cell: cell(1), ids: ["SISE"] },
      { cell: cell(2), ids: ["SISE", "GRITT"] },
    ];
    expect(found({ misnamed }).map(({ title, places }) => [title, places])).toEqual([
      ["There is no function GRIT.SISE", ["Quote!B2", "Quote!B3"]],
      ["There is no function GRIT.GRITT", ["Quote!B3"]],
    ]);
  });

  it("tells other errors with their code, waiting cells, texts and cells that never rest", () => {
    expect(found({ errors: [cell(4, { value: "#VALUE!" })] })[0]!.places).toEqual(["Quote!B5 #VALUE!"]);
    expect(titles({ errors: [cell(4)], waiting: [cell(1), cell(2)], texts: [cell(3)], restless: 2 })).toEqual([
      "2 cells waiting for an answer",
      "Another error in 1 cell",
      "A formula kept as text in 1 cell",
      "2 cells change with every calculation",
    ]);
  });

  it("tells what was out of date, before and after", () => {
    const stale = [
      { cell: cell(1), before: 1234.56789, after: 0.25 },
      { cell: cell(2), before: "#NAME?", after: "" },
    ];
    expect(found({ stale })[0]).toMatchObject({
      title: "2 cells were out of date",
      places: ["Quote!B2 1,234.57 → 0.25", "Quote!B3 #NAME? → blank"],
    });
  });

  it("comes down to a sentence", () => {
    expect(foundIn(checked()).digest).toBe("No cell on 2 sheets calls Gritledger's functions");
    expect(foundIn(checked({ sheets: 4, sheetsWithOurs: 1, cells: 1, fine: 1 })).digest).toBe(
      "1 cell on 1 sheet calls Gritledger's functions (4 sheets read): all work",
    );
    expect(foundIn(came).digest).toBe(
      "1,203 cells on 1 sheet call Gritledger's functions (2 sheets read): 1,200 work, 3 to look at",
    );
    expect(foundIn({ ...came, stale: [{ cell: cell(1), before: 1, after: 2 }] }).digest).toMatch(
      /; 1 was out of date$/,
    );
    expect(repairedDigest({ entered: 5, fixed: 5, checked: came })).toBe("5 cells fixed");
    expect(repairedDigest({ entered: 5, fixed: 4, checked: came })).toBe("4 cells fixed; 1 cell still shows #NAME?");
    expect(repairedDigest({ entered: 0, fixed: 0, checked: came })).toBe("Nothing left to repair");
  });
});

describe("the commands", () => {
  beforeEach(() => vi.resetAllMocks());

  const pane = (catalogue: FunctionsState["catalogue"] = { entries: CATALOGUE }) =>
    openPane({ functions: { ...startFunctions(), catalogue } });

  it("check with the names of all functions, and keep what was found", async () => {
    const { store, commands } = pane();
    workbook.checkWorkbook.mockResolvedValue(came);
    await commands.repair.check();
    expect(workbook.checkWorkbook.mock.calls[0]![0]).toEqual(CATALOGUE.map(({ id }) => id));
    expect(store.state.functions.repair).toEqual({ found: foundIn(came), progress: null });
    expect(store.state.message).toEqual({ kind: "note", text: `${foundIn(came).digest}.` });
  });

  it("tell as done only what leaves nothing to look at", async () => {
    const { store, commands } = pane();
    workbook.checkWorkbook.mockResolvedValue(checked({ cells: 3, fine: 3, sheetsWithOurs: 1 }));
    await commands.repair.check();
    expect(store.state.message?.kind).toBe("done");
    workbook.repairWorkbook.mockResolvedValue({ entered: 2, fixed: 2, checked: checked({ cells: 3, fine: 3 }) });
    await commands.repair.repair();
    expect(store.state.message?.kind).toBe("done");
  });

  it("repair, and show what is left", async () => {
    const { store, commands } = pane();
    workbook.repairWorkbook.mockResolvedValue({ entered: 2, fixed: 1, checked: came });
    await commands.repair.repair();
    expect(store.state.functions.repair).toEqual({ found: foundIn(came, true), progress: null });
    expect(store.state.message).toEqual({ kind: "note", text: "1 cell fixed; 1 cell still shows #NAME?." });
  });

  it("show how far they are, and stop when canceled, which is no error", async () => {
    const { store, commands } = pane();
    workbook.checkWorkbook.mockImplementation(async (_known, { signal, progress }) => {
      await progress(1, 4, "Reading cells");
      expect(store.state.functions.repair.progress).toEqual({ doing: "Reading cells", done: 1, of: 4 });
      commands.repair.cancel();
      if (signal.aborted) throw new sheet.Refusal("Canceled; nothing was written.");
      return came;
    });
    await commands.repair.check();
    expect(store.state.functions.repair).toMatchObject({ found: null, progress: null });
    expect(store.state.message).toEqual({ kind: "note", text: "Canceled; nothing was written." });
  });

  it("say why nothing was checked where the list of functions cannot be read", async () => {
    const { store, commands } = pane({ trouble: "Couldn't load the list of functions. Check the connection." });
    await commands.repair.check();
    expect(workbook.checkWorkbook).not.toHaveBeenCalled();
    expect(store.state.message).toEqual({
      kind: "error",
      text: "Nothing was checked. Couldn't load the list of functions. Check the connection.",
    });
  });
});
