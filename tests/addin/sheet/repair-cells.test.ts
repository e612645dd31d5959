import { afterEach, describe, expect, it, vi } from "vitest";
import { cellAddress } from "../../../addin/common/a1";
import { insertPlan, type Means, Refusal } from "../../../addin/sheet";
import { asEntered } from "../../../addin/sheet/entered-formula";
import { blocksOf, type OurCell, rowsOf } from "../../../addin/sheet/our-cells";
import { checkWorkbook, repairWorkbook } from "../../../addin/sheet/repair-cells";
import { CATALOGUE } from "../../catalogue";
import { floor, planFor } from "./agreement";
import { cellValue, failRequest, named, openGritForEach, protect, snapshot, workbook, write } from "./workbook";

const KNOWN = CATALOGUE.map(({ id }) => id);
const means = (): Means => ({ signal: new AbortController().signal, progress: () => undefined });
const check = () => checkWorkbook(KNOWN, means());
const repair = () => repairWorkbook(KNOWN, means());
const at = ({ sheet, row, column }: OurCell) => `${sheet} ${row} ${column}`;

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

const OLD = { entered: "enter", calculated: "calculateAll" } as const;

/**
 * The workbook shows these instead of what its cells would give, until they are entered again, or everything is
 * calculated, or for ever: as Excel does with functions that came later than the workbook.
 */
async function keep(shown: Readonly<Record<string, string | number>>, until: keyof typeof OLD | "ever"): Promise<void> {
  const { engine } = workbook;
  const old = new Map<string, string | number>();
  await Excel.run(async (context) => {
    for (const [address, value] of Object.entries(shown)) {
      const [sheetName, cell] = address.split("!");
      const range = context.workbook.worksheets.getItem(sheetName!).getRange(cell!);
      range.load("rowIndex,columnIndex");
      range.worksheet.load("id");
      await context.sync();
      old.set(`${range.worksheet.id},${range.rowIndex},${range.columnIndex}`, value);
    }
  });
  const reader = engine.valueReader.bind(engine);
  vi.spyOn(engine, "valueReader").mockImplementation((sheetId) => {
    const read = reader(sheetId);
    return (row, column) => old.get(`${sheetId},${row},${column}`) ?? read(row, column);
  });
  if (until === "entered") {
    const enter = engine.enter.bind(engine);
    vi.spyOn(engine, "enter").mockImplementation((sheetId, row, column, value) => {
      old.delete(`${sheetId},${row},${column}`);
      return enter(sheetId, row, column, value);
    });
  } else if (until === "calculated") {
    const calculateAll = engine.calculation.calculateAll.bind(engine.calculation);
    vi.spyOn(engine.calculation, "calculateAll").mockImplementation(() => {
      old.clear();
      return calculateAll();
    });
  }
}

async function addSheet(name: string, visibility: "Visible" | "Hidden" | "VeryHidden", rows: any[][]): Promise<void> {
  await Excel.run(async (context) => {
    const sheet = context.workbook.worksheets.add(name);
    sheet.getRange("A1").getResizedRange(rows.length - 1, rows[0]!.length - 1).formulas = rows;
    sheet.visibility = visibility;
    await context.sync();
  });
}

describe("blocks of cells", () => {
  const cell = (row: number, column: number): OurCell => ({
    sheet: "S",
    row,
    column,
    formula: "=GRIT.SIZE(1)",
    value: "#NAME?",
    ids: ["SIZE"],
    hindrance: "",
  });
  const shape = (cells: readonly OurCell[], most = 100) =>
    blocksOf(cells, most).map(({ row, column, columns, cells: inside }) => [
      row,
      column,
      inside.length / columns,
      columns,
    ]);

  // By hand: drawn on squared paper.
  it("take rows of the same columns together, whatever order they come in", () => {
    expect(shape([cell(2, 1), cell(1, 2), cell(1, 1), cell(2, 2)])).toEqual([[1, 1, 2, 2]]);
  });

  it("never take in a cell between, beside or above", () => {
    expect(shape([cell(0, 0), cell(0, 2), cell(2, 0)])).toEqual([
      [0, 0, 1, 1],
      [0, 2, 1, 1],
      [2, 0, 1, 1],
    ]);
    expect(shape([cell(0, 0), cell(0, 1), cell(1, 0)])).toEqual([
      [0, 0, 1, 2],
      [1, 0, 1, 1],
    ]);
  });

  it("hold no more cells than one request takes, along a row and down a column", () => {
    expect(shape([cell(0, 0), cell(0, 1), cell(0, 2)], 2)).toEqual([
      [0, 0, 1, 2],
      [0, 2, 1, 1],
    ]);
    expect(shape([cell(0, 0), cell(1, 0), cell(2, 0)], 2)).toEqual([
      [0, 0, 2, 1],
      [2, 0, 1, 1],
    ]);
  });

  it("are written row after row", () => {
    const [block] = blocksOf([cell(2, 2), cell(1, 1), cell(1, 2), cell(2, 1)], 100);
    expect(rowsOf(block!, ({ row, column }) => `${row},${column}`)).toEqual([
      ["1,1", "1,2"],
      ["2,1", "2,2"],
    ]);
  });
});

describe("the check", () => {
  it("finds our calls on every sheet, hidden ones too, and counts neither strings nor names", async () => {
    await write("Sheet1!A1:C2", [
      ["=GRIT.MARKUPFOR(0.2)", '="GRIT.MARKUPFOR(0.2)"', "=1+round(grit.markupfor(0.2),1)"],
      ["GRIT.MARKUPFOR(0.2)", "=SUM(1,2)", ""],
    ]);
    await addSheet("Away", "Hidden", [["=GRIT.MARKUPFOR(0.5)"]]);
    await addSheet("Far away", "VeryHidden", [[1, "=IF(TRUE,GRIT.MARKUPFOR(0.5),0)"]]);
    const found = await check();
    expect(found).toMatchObject({ sheets: 3, sheetsWithOurs: 3, cells: 4, fine: 4, restless: 0 });
    expect([found.unrecognized, found.misnamed, found.waiting, found.errors, found.texts, found.stale].flat()).toEqual(
      [],
    );
  });

  it("says what is not recognized, what waits, what shows an error and what is only text", async () => {
    await write("Sheet1!A1:A6", [
      ["=GRIT.MARKUPFOR(0.2)"],
      ["=GRIT.MARKUPFOR(0.3)"],
      ["=GRIT.MARKUPFOR(0.4)"],
      ["=GRIT.MARKUPFOR(2)"],
      ["'=GRIT.MARKUPFOR(0.2)"],
      ["=GRIT.MARKUPFOR(0.5)"],
    ]);
    await keep({ "Sheet1!A1": "#NAME?", "Sheet1!A2": "#BUSY!", "Sheet1!A3": "#CONNECT!" }, "ever");
    const found = await check();
    expect(found.unrecognized.map(at)).toEqual(["Sheet1 0 0"]);
    expect(found.waiting.map(at)).toEqual(["Sheet1 1 0", "Sheet1 2 0"]);
    // The margin must be below 1: the function's own #VALUE!.
    expect(found.errors.map((cell) => [at(cell), cell.value])).toEqual([["Sheet1 3 0", "#VALUE!"]]);
    expect(found.texts.map(at)).toEqual(["Sheet1 4 0"]);
    expect(found).toMatchObject({ cells: 6, fine: 1 });
  });

  it("names the functions that there are not, one of two in a cell too", async () => {
    await write("Sheet1!A1:A2", [["=GRIT.MARKUPFOUR(0.2)"], ["=GRIT.MARKUPFOR(0.2)+GRIT.OFTOMORROW(1)"]]);
    const { misnamed, unrecognized } = await check();
    expect(misnamed.map(({ cell, ids }) => [at(cell), ids])).toEqual([
      ["Sheet1 0 0", ["MARKUPFOUR"]],
      ["Sheet1 1 0", ["OFTOMORROW"]],
    ]);
    expect(unrecognized).toEqual([]);
  });

  it("knows a call by an @ before it, and by the name that Excel keeps in its file", async () => {
    await write("Sheet1!A1:A2", [["=@GRIT.MARKUPFOR(0.2)"], ["=_xlfn._xldudf_GRIT_MARKUPFOR(0.2)"]]);
    expect((await check()).unrecognized.concat((await check()).errors).map(({ ids }) => ids)).toEqual([
      ["MARKUPFOR"],
      ["MARKUPFOR"],
    ]);
  });

  it("lists values that were out of date, before and after, and changes no formula", async () => {
    await write("Sheet1!A1:A3", [["=GRIT.MARKUPFOR(0.2)"], ["=GRIT.MARKUPFOR(0.5)"], ["=A1"]]);
    await keep({ "Sheet1!A1": 0.11, "Sheet1!A3": 0.11 }, "calculated");
    const found = await check();
    // 0.2 / 0.8; the cell that only refers to ours is not ours to list.
    expect(found.stale.map(({ cell, before, after }) => [at(cell), before, after])).toEqual([
      ["Sheet1 0 0", 0.11, 0.25],
    ]);
    expect(found).toMatchObject({ cells: 2, fine: 2 });
    const formulas = await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Sheet1").getRange("A1:A3").load("formulas");
      await context.sync();
      return range.formulas;
    });
    expect(formulas).toEqual([["=GRIT.MARKUPFOR(0.2)"], ["=GRIT.MARKUPFOR(0.5)"], ["=A1"]]);
    expect((await check()).stale).toEqual([]);
  });

  it("does not call out of date what changes at every calculation", async () => {
    await write("Sheet1!A1:A2", [["=GRIT.MARKUPFOR(RAND()/2)"], ["=GRIT.MARKUPFOR(0.5)"]]);
    await keep({ "Sheet1!A2": 7 }, "calculated");
    const found = await check();
    expect(found.restless).toBe(1);
    expect(found.stale.map(({ cell }) => at(cell))).toEqual(["Sheet1 1 0"]);
  });

  it("takes an empty workbook as it is", async () => {
    expect(await check()).toMatchObject({ sheets: 1, sheetsWithOurs: 0, cells: 0, fine: 0 });
  });

  it("reads a large sheet in parts, reports how far it is, and stops when asked to", async () => {
    await write("Sheet1!A1:B1", [["=GRIT.MARKUPFOR(0.2)", 1]]);
    await write("Sheet1!A30001", [["=GRIT.MARKUPFOR(0.5)"]]);
    const reached: number[] = [];
    const found = await checkWorkbook(KNOWN, {
      signal: new AbortController().signal,
      progress: (done, of, doing) => {
        if (doing === "Reading cells") reached.push(done / of);
      },
    });
    expect(found).toMatchObject({ cells: 2, fine: 2 });
    // 30,001 rows of 2 cells, 20,000 cells at once.
    expect(new Set(reached).size).toBe(4);
    expect(reached).toEqual([...reached].sort((a, b) => a - b));
    const stopping = new AbortController();
    const stopped = checkWorkbook(KNOWN, { signal: stopping.signal, progress: () => stopping.abort() });
    await expect(stopped).rejects.toThrow(/Canceled; nothing was written/);
  });

  it("lets the page have its turn, and hear a word to stop, in the middle of many formulas", async () => {
    const rows = 40;
    await write(
      `Sheet1!A1:A${rows}`,
      Array.from({ length: rows }, () => ["=GRIT.MARKUPFOR(0.2)"]),
    );
    // A clock by which every look at it takes long.
    let now = 0;
    vi.spyOn(performance, "now").mockImplementation(() => (now += 50));
    const turns = (stopAt: number) => {
      const stopping = new AbortController();
      let reading = 0;
      const progress = (_: number, __: number, doing: string) => {
        if (doing === "Reading cells" && ++reading === stopAt) stopping.abort();
      };
      const checked = checkWorkbook(KNOWN, { signal: stopping.signal, progress });
      return { checked, count: () => reading };
    };
    const whole = turns(Number.POSITIVE_INFINITY);
    expect(await whole.checked).toMatchObject({ cells: rows, fine: rows });
    // One before the request, and one after every row.
    expect(whole.count()).toBe(1 + rows);
    await expect(turns(3).checked).rejects.toThrow(/Canceled; nothing was written/);
  });

  it("asks for less at once where the formulas are too long for one answer", async () => {
    await write(
      "Sheet1!A1:A9",
      Array.from({ length: 9 }, () => ["=GRIT.MARKUPFOR(0.2)"]),
    );
    const process = workbook.host.process.bind(workbook.host);
    const tooLong = {
      Code: "ResponsePayloadSizeLimitExceeded",
      Message: "Too much.",
      Location: "",
      HttpStatusCode: 413,
    };
    let refused = 0;
    vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
      const answer = await process(body);
      const isLong = JSON.stringify(answer).split("MARKUPFOR").length > 5;
      if (isLong) refused++;
      return isLong ? ({ Error: { ...tooLong, ActionIndex: 0 }, Results: [] } as any) : answer;
    });
    expect(await check()).toMatchObject({ cells: 9, fine: 9 });
    expect(refused).toBeGreaterThan(0);
  });
});

describe("the repair", () => {
  it("fixes a whole plan that came before the add-in, and touches nothing else", async () => {
    await insertPlan(planFor(floor()), "new sheet");
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Stage plan").getRange("A60").values = [["a note of mine"]];
      await context.sync();
    });
    const before = await snapshot();
    const price = await named("Stages_Price");
    expect(price).toBeTypeOf("number");
    const sound = await check();
    expect(sound.cells).toBeGreaterThan(50);
    expect(sound.fine).toBe(sound.cells);
    const used = await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Stage plan").getUsedRange().load("formulas,address");
      await context.sync();
      return range.formulas.flatMap((line, i) =>
        line.flatMap((formula, j) => (String(formula).includes("GRIT.") ? [cellAddress(i, j)] : [])),
      );
    });
    await keep(Object.fromEntries(used.map((cell) => [`Stage plan!${cell}`, "#NAME?"])), "entered");
    const entered = vi.mocked(workbook.engine.enter);
    const repaired = await repair();
    expect(repaired).toMatchObject({ entered: used.length, fixed: used.length });
    expect(repaired.checked).toMatchObject({ cells: sound.cells, fine: sound.cells });
    const formulas = entered.mock.calls.map(([, , , formula]) => String(formula));
    expect(formulas).toHaveLength(used.length);
    expect(formulas.filter((formula) => !formula.includes("GRIT."))).toEqual([]);
    expect(await snapshot()).toEqual(before);
    expect(await named("Stages_Price")).toBe(price);
  }, 90_000);

  it("keeps the user's number formats", async () => {
    await write("Sheet1!A1:A2", [["=GRIT.MARKUPFOR(0.2)"], ["=GRIT.MARKUPFOR(0.5)"]]);
    const formats = [["0.0%"], ['"×" 0.000']];
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Sheet1").getRange("A1:A2").numberFormat = formats;
      await context.sync();
    });
    await keep({ "Sheet1!A1": "#NAME?", "Sheet1!A2": "#NAME?" }, "entered");
    expect(await repair()).toMatchObject({ entered: 2, fixed: 2 });
    const now = await Excel.run(async (context) => {
      const range = context.workbook.worksheets.getItem("Sheet1").getRange("A1:A2").load("numberFormat,values");
      await context.sync();
      return range;
    });
    expect(now.numberFormat).toEqual(formats);
    expect(now.values).toEqual([[0.25], [1]]); // 0.2 / 0.8 and 0.5 / 0.5
  });

  it("enters by our name what shows the name that Excel keeps in its file", async () => {
    await write("Sheet1!A1", [['=_xldudf_GRIT_MARKUPFOR(0.2)&"_xldudf_GRIT_SIZE("']]);
    expect(await repair()).toMatchObject({ entered: 1, fixed: 1 });
    expect(await cellValue("Sheet1!A1")).toBe("0.25_xldudf_GRIT_SIZE(");
  });

  // office-platform.md: what Excel may write before a call.
  it.each(["'C:\\Program Files\\FUNCRES.XLAM'!GRIT.", "Grit.xla!GRIT."])(
    "enters a call alone that has something before it: %s",
    async (before) => {
      await write("Sheet1!A1:B1", [[`=1+${before}MARKUPFOR(0.2)&"[2]!GRIT."`, '="FUNCRES.XLAM!GRIT.SIZE(1)"']]);
      await keep({ "Sheet1!A1": "#NAME?" }, "entered");
      expect(await repair()).toMatchObject({ entered: 1, fixed: 1 });
      expect(await cellValue("Sheet1!A1")).toBe("1.25[2]!GRIT.");
    },
  );

  // The emulated host takes no formula that refers to another workbook.
  it.each([
    ["=1+[2]!GRIT.SIZE(30)", "=1+GRIT.SIZE(30)"],
    ["=[2]!_xldudf_GRIT_SIZE([2]!GRIT.NEAREST(600))", "=GRIT.SIZE(GRIT.NEAREST(600))"],
    ["='[My tools.xla]'!_xlfn._xldudf_GRIT_SIZE(30)", "=GRIT.SIZE(30)"],
    ["=2*'C:\\Prog Files\\[It''s a.xlam]Sh 1'!GRIT.SIZE(30)", "=2*GRIT.SIZE(30)"],
    ["='Jan'!A1-[My tools.xla]!GRIT.SIZE(30)", "='Jan'!A1-GRIT.SIZE(30)"],
    ['=[2]!Prices!A1&"[2]!GRIT."&GRIT.SIZE(30)', '=[2]!Prices!A1&"[2]!GRIT."&GRIT.SIZE(30)'],
  ])("would enter %s as %s", (formula, entered) => {
    expect(asEntered(formula)).toBe(entered);
  });

  it("lists what remains: a cell that they refer to may show #NAME? itself", async () => {
    await write("Sheet1!A1:B2", [
      ["=GRIT.MARKUPFOR(0.2)+B1", "=No_such_name"],
      ["=GRIT.MARKUPFOR(0.5)", ""],
    ]);
    await keep({ "Sheet1!A2": "#NAME?" }, "entered");
    const { entered, fixed, checked } = await repair();
    expect([entered, fixed]).toEqual([2, 1]);
    expect(checked.unrecognized.map(at)).toEqual(["Sheet1 0 0"]);
  });

  it("does not enter again what shows #NAME? by a name that there is not, and lists the name", async () => {
    await write("Sheet1!A1:A2", [["=GRIT.MARKUPFOR(Misspelt)"], ["=GRIT.MARKUPFOR(Margin)+GRIT.MARKUPFOR(MINE)"]]);
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.getItem("Sheet1");
      context.workbook.names.add("Margin", "=0.5");
      sheet.names.add("Mine", sheet.getRange("C1"));
      await context.sync();
    });
    // The second is a cell that came before the add-in did: its names are there, the workbook's and the sheet's own.
    await keep({ "Sheet1!A2": "#NAME?" }, "entered");
    const before = await check();
    expect(before.unnamed.map((cell) => [at(cell), cell.unknownNames])).toEqual([["Sheet1 0 0", ["Misspelt"]]]);
    expect(before.unrecognized.map(at)).toEqual(["Sheet1 1 0"]);
    const { entered, checked } = await repair();
    expect(entered).toBe(1);
    expect(checked.unnamed.map(at)).toEqual(["Sheet1 0 0"]);
    expect(await cellValue("Sheet1!A1")).toBe("#VALUE!");
  });

  it("leaves protected sheets, and cells formatted as text, and says so", async () => {
    await write("Sheet1!A1:A2", [["=GRIT.MARKUPFOR(0.2)"], ["=GRIT.MARKUPFOR(0.3)"]]);
    await addSheet("Locked", "Visible", [["=GRIT.MARKUPFOR(0.5)"]]);
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Sheet1").getRange("A2").numberFormat = [["@"]];
      await context.sync();
    });
    await protect("Locked");
    const shown = { "Sheet1!A1": "#NAME?", "Sheet1!A2": "#NAME?", "Locked!A1": "#NAME?" };
    await keep(shown, "entered");
    const hindrances = (cells: readonly OurCell[]) => cells.map((cell) => [at(cell), cell.hindrance]);
    expect(hindrances((await check()).unrecognized)).toEqual([
      ["Sheet1 0 0", ""],
      ["Sheet1 1 0", "text format"],
      ["Locked 0 0", "protected"],
    ]);
    const { entered, fixed, checked } = await repair();
    expect([entered, fixed]).toEqual([1, 1]);
    expect(hindrances(checked.unrecognized)).toEqual([
      ["Sheet1 1 0", "text format"],
      ["Locked 0 0", "protected"],
    ]);
  });

  describe.each(["before", "after"] as const)("when a request fails, the failure %s it was done", (when) => {
    it("leaves every formula as it was, whichever request it is", async () => {
      // Two sheets, so that there are two requests that write.
      await write("Sheet1!A1", [["=_xldudf_GRIT_MARKUPFOR(0.2)"]]);
      await addSheet("Other", "Visible", [["=_xldudf_GRIT_MARKUPFOR(0.5)"]]);
      const before = await snapshot();
      let n = 1;
      for (; ; n++) {
        const failing = failRequest(workbook, n, when);
        const outcome = await repair().then(
          () => "done",
          (error: unknown) => error,
        );
        vi.restoreAllMocks();
        if (outcome === "done") break; // it fails from here on only in what the client clears up after itself
        expect(failing.reached()).toBe(true);
        expect(outcome, `request ${n}`).toBeInstanceOf(Refusal);
        expect(await snapshot(), `request ${n}`).toEqual(before);
      }
      expect(n).toBeGreaterThan(8);
      expect(await cellValue("Other!A1")).toBe(1);
    });
  });

  it("puts everything back when it is canceled on the way", async () => {
    await write("Sheet1!A1", [["=_xldudf_GRIT_MARKUPFOR(0.2)"]]);
    await addSheet("Other", "Visible", [["=_xldudf_GRIT_MARKUPFOR(0.5)"]]);
    const before = await snapshot();
    const stopping = new AbortController();
    const canceled = repairWorkbook(KNOWN, {
      signal: stopping.signal,
      progress: (done, _of, doing) => {
        if (doing === "Entering formulas again" && done === 1) stopping.abort();
      },
    });
    await expect(canceled).rejects.toThrow(/Canceled; nothing was written/);
    expect(await snapshot()).toEqual(before);
  });
});
