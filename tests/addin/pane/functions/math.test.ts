/** What the pane says of a cell's math, and the command that asks for it. */
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { callsShown, doubt, headline, lead, remark, steps } from "../../../../addin/pane/functions/math";
import { type FunctionsState, startFunctions } from "../../../../addin/pane/functions/state";
import type { CallMath } from "../../../../addin/share/math/call-math";
import type { CellMath } from "../../../../addin/sheet";
import { FUNCTIONS } from "../../../../functions/topics";
import { CATALOGUE } from "../../../catalogue";
import { openGritForEach, select, write } from "../../sheet/workbook";
import { openPane } from "../open-pane";

const call = (id: string, used: CallMath["used"] = "yes"): CallMath => ({
  id,
  summary: "",
  used,
  args: [],
  notes: [],
  outcome: { kind: "value", text: "600 µm" },
  source: "",
});

const cell = (more: Partial<CellMath> = {}): CellMath => ({
  address: "Quote!C5",
  anchor: undefined,
  place: { row: 0, column: 0 },
  formula: "=GRIT.SIZE(30)",
  shown: "600",
  followed: [],
  refers: [],
  calls: [call("SIZE")],
  ...more,
});

describe("what the pane says of the cell", () => {
  it("names the cell and what it shows, and where its formula is", () => {
    expect(headline(cell())).toBe("Quote!C5 shows 600.");
    expect(headline(cell({ shown: "" }))).toBe("Quote!C5 is blank.");
    expect(headline(cell({ anchor: "Quote!B2", place: { row: 3, column: 1 } }))).toBe(
      "Quote!C5 shows 600, filled by the formula in Quote!B2: row 4, column 2 of its results.",
    );
  });

  it("says what to do where there is nothing to show", () => {
    expect(headline(cell({ formula: "", shown: "Floor", calls: [] }))).toBe(
      "Quote!C5 has no formula. It holds “Floor”, typed in. Select a cell whose formula has a GRIT function.",
    );
    expect(headline(cell({ formula: "", shown: "", calls: [] }))).toContain("It's empty.");
    expect(headline(cell({ formula: "=A1*2", calls: [] }))).toBe(
      "The formula in Quote!C5 has no GRIT function. Select a cell whose formula has one.",
    );
  });

  it("tells the cells that references led to, and what a formula without our functions refers to", () => {
    const at = { anchor: undefined, place: { row: 0, column: 0 }, formula: "=D7+D8", shown: "900" };
    const followed = [{ ...at, address: "Plan!D9" }];
    const area = { given: "D7", address: "Plan!D7", holds: "600", ours: undefined };
    const none = cell({ formula: "=Price", calls: [], followed, refers: [area] });
    expect(headline(none)).toBe("Quote!C5 shows 600.");
    expect(steps(none)).toEqual([{ text: "It's taken from Plan!D9. Plan!D9 shows 900.", formula: "=D7+D8" }]);
    expect(lead(none)).toMatch(/^Neither this formula nor the cells it refers to have a GRIT function/);
    expect(lead({ ...none, refers: [area, { ...area, ours: "Plan!D8" }] })).toMatch(/but cells it refers to do/);
    expect(lead({ ...none, refers: [] })).toMatch(/refers to no cells/);
    expect(lead(cell())).toBe("");
  });

  it("tells in full only what counts in the cell, and names the rest once", () => {
    const mixed = cell({
      calls: [call("SIZE"), call("LIQUID", "no"), call("FILM", "perhaps"), call("LIQUID", "no")],
    });
    expect(callsShown(mixed).map(({ id }) => id)).toEqual(["SIZE", "FILM"]);
    expect(remark(mixed)).toBe("Also in the formula, but not used in this cell: GRIT.LIQUID.");
    expect(remark(cell())).toBe("");
  });

  it("says where the cell is behind what the functions give", () => {
    expect(doubt(cell())).toBe("");
    expect(doubt(cell({ shown: "#NAME?" }))).toContain("the spreadsheet hasn't calculated it yet");
    const unheardOf = { ...call("SIZES"), outcome: { kind: "error", code: "#NAME?", message: "" } } as const;
    expect(doubt(cell({ shown: "#NAME?", calls: [unheardOf] }))).toBe("");
  });
});

describe("the command", () => {
  openGritForEach();
  beforeEach(async () => {
    // As the script of the functions leaves them in the page.
    vi.stubGlobal("gritledgerFunctions", FUNCTIONS);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getActiveWorksheet().name = "Quote";
      await context.sync();
    });
  });
  afterEach(() => {
    vi.unstubAllGlobals();
  });

  const pane = (catalogue: FunctionsState["catalogue"] = { entries: CATALOGUE }) =>
    openPane({ functions: { ...startFunctions(), catalogue } });

  it("shows the math of the selected cell and has it read out", async () => {
    await write("Quote!A1:B1", [[5000, "=GRIT.CONTAINERS(GRIT.LIQUID(A1,400,2,0.1),5)"]]);
    await select("Quote!B1");
    const { store, commands } = pane();
    await commands.showMath();
    // By hand: 5000 × 2 × 1.1 / 400 = 27.5, in fives 6.
    expect(store.state.functions.math?.calls.map(({ formula }) => formula)).toEqual([
      "ROUNDUP(27.5/5,0)",
      "5000*2*(1+0.1)/400",
    ]);
    expect(store.state).toMatchObject({ announcement: "Quote!B1 shows 6.", busy: null, message: null });
  });

  it("says so where the script of the functions is not there", async () => {
    vi.unstubAllGlobals();
    const { store, commands } = pane();
    await commands.showMath();
    expect(store.state.message?.text).toBe(
      "Couldn't load the add-in's functions. Close the pane, open it again and try again.",
    );
  });

  it("says so while the list of functions is not there", async () => {
    const { store, commands } = pane(null);
    await commands.showMath();
    expect(store.state.message).toEqual({
      kind: "error",
      text: "The list of functions isn't loaded yet. Wait a moment, then try again.",
    });
    expect(store.state.functions.math).toBeNull();
  });
});
