/** Custom functions as Excel treats them: arguments, blanks, errors, results. */
import { afterAll, describe, expect, it } from "vitest";
import {
  CustomFunctionError,
  type FunctionsJson,
  type ParameterMetadata,
} from "../../../../addin/preview/host/functions";
import { openWorkbook } from "../../../../addin/preview/host/node";
import { cellsOf } from "./support";

const scalar = (type: string, optional = false): ParameterMetadata => ({
  name: type,
  type,
  dimensionality: "scalar",
  optional,
});
const matrix = (optional = false, repeating = false): ParameterMetadata => ({
  name: "cells",
  type: "any",
  dimensionality: "matrix",
  optional,
  repeating,
});

/** The arguments as they came, the invocation object left out. */
const shown = (...args: unknown[]) => JSON.stringify(args.slice(0, -1));

const FUNCTIONS = {
  ECHO: shown,
  CELLS: shown,
  TYPED: shown,
  MANY: shown,
  INVOKED: (...args: unknown[]) => (args.at(-1) as { functionName: string }).functionName,
  TABLE: (rows: number, columns: number) =>
    Array.from({ length: rows }, (_, i) =>
      Array.from({ length: columns }, (_, j) => (j === 0 ? `row ${i + 1}` : i * 10 + j)),
    ),
  EACH: (cells: unknown[][]) =>
    cells.map((row) =>
      row.map((cell) =>
        typeof cell === "number" ? cell * 2 : new CustomFunctionError("#VALUE!", `not a number: ${cell}`),
      ),
    ),
  MIXED: () => [
    ["12", "50%", true],
    ["", Number.NaN, Number.POSITIVE_INFINITY],
  ],
  GIVE: (code: string) => new CustomFunctionError(code, "because"),
  BLANK: (cells: unknown[][]) => (cells[0]![0] === 0 ? "zero" : "blank"),
  FAIL: (code: string) => {
    throw new CustomFunctionError(code, "because");
  },
  BUG: () => {
    throw new TypeError("unexpected");
  },
};

const JSON_TEXT: FunctionsJson = {
  allowErrorForDataTypeAny: true,
  functions: [
    { id: "ECHO", parameters: [matrix(), matrix(true), matrix(true)] },
    { id: "CELLS", parameters: [scalar("any"), scalar("any", true)] },
    { id: "TYPED", parameters: [scalar("number"), scalar("string", true), scalar("boolean", true)] },
    { id: "MANY", parameters: [matrix(), matrix(true, true)] },
    { id: "INVOKED", parameters: [matrix(true)] },
    { id: "TABLE", parameters: [scalar("number"), scalar("number")] },
    { id: "EACH", parameters: [matrix()] },
    { id: "MIXED", parameters: [] },
    { id: "FAIL", parameters: [scalar("string")] },
    { id: "GIVE", parameters: [scalar("string")] },
    { id: "BLANK", parameters: [matrix()] },
    { id: "BUG", parameters: [] },
  ],
};

const workbook = await openWorkbook({ functions: FUNCTIONS, functionsJson: JSON_TEXT });
const { write, values, value } = cellsOf(workbook);
afterAll(() => workbook.dispose());

const calculated = async (formula: string) => {
  await write("Z1", [[""]]);
  await write("Z1", [[formula]]);
  return value("Z1");
};

describe("arguments", () => {
  it("come as blocks where blocks are declared, one value as a block of one", async () => {
    await write("A1:B2", [
      [1, "x"],
      [true, ""],
    ]);
    expect(await calculated("=GRIT.ECHO(A1:B2)")).toBe('[[[1,"x"],[true,null]],null,null]');
    expect(await calculated('=GRIT.ECHO(5,"a",A1)')).toBe('[[[5]],[["a"]],[[1]]]');
    expect(await calculated('=GRIT.ECHO({1,2;"a",TRUE})')).toBe('[[[1,2],["a",true]],null,null]');
  });

  it("left out in the middle or at the end are null", async () => {
    expect(await calculated("=GRIT.ECHO(1,,3)")).toBe("[[[1]],null,[[3]]]");
    expect(await calculated("=GRIT.ECHO(1)")).toBe("[[[1]],null,null]");
  });

  it("that are required and left out, or too many, are #VALUE!", async () => {
    expect(await calculated("=GRIT.ECHO()")).toBe("#VALUE!");
    expect(await calculated("=GRIT.ECHO(1,2,3,4)")).toBe("#VALUE!");
  });

  it("keep their kind: text that looks like a number stays text", async () => {
    await write("C1:C2", [["'12"], [12]]);
    expect(await calculated("=GRIT.ECHO(C1:C2)")).toBe('[[["12"],[12]],null,null]');
  });

  it("are taken as declared where one value is declared, and a block is #VALUE!", async () => {
    expect(await calculated('=GRIT.TYPED("12",34,"true")')).toBe('[12,"34",true]');
    expect(await calculated("=GRIT.TYPED(TRUE,TRUE,0)")).toBe('[1,"TRUE",false]');
    expect(await calculated('=GRIT.TYPED("a dozen")')).toBe("#VALUE!");
    expect(await calculated("=GRIT.TYPED(C1:C2)")).toBe("#VALUE!");
    expect(await calculated('=GRIT.CELLS("12",C2)')).toBe('["12",12]');
  });

  it("that repeat come together", async () => {
    expect(await calculated("=GRIT.MANY(1,2,3)")).toBe("[[[1]],[[[2]],[[3]]]]");
  });

  it("are followed by the invocation object", async () => {
    expect(await calculated("=GRIT.INVOKED()")).toBe("INVOKED");
  });
});

describe("errors", () => {
  it("in cells reach a function that takes anything", async () => {
    await write("D1:D2", [["=1/0"], [2]]);
    expect(await calculated("=GRIT.ECHO(D1:D2)")).toBe('[[[{"code":"#DIV/0!","basicValue":"#DIV/0!"}],[2]],null,null]');
  });

  it("come back at once from a function that takes numbers", async () => {
    await write("D1", [["=1/0"]]);
    expect(await calculated("=GRIT.TYPED(D1)")).toBe("#DIV/0!");
  });

  it("do not reach any function unless the metadata allow it", async () => {
    const strict = await openWorkbook({
      functions: FUNCTIONS,
      functionsJson: { functions: JSON_TEXT.functions },
    });
    const cells = cellsOf(strict);
    await cells.write("A1:A3", [["=NA()"], [1], ["=GRIT.ECHO(A1:A2)"]]);
    expect(await cells.value("A3")).toBe("#N/A");
    await strict.dispose();
  });

  it("thrown as the host's own keep code and message; any other is a bare #VALUE!", async () => {
    expect(await calculated('=GRIT.FAIL("#N/A")')).toBe("#N/A");
    const sheetId = workbook.engine.active;
    expect(workbook.host.errorMessage(sheetId, 0, 25)).toBe("because");
    expect(await calculated("=GRIT.BUG()")).toBe("#VALUE!");
    expect(workbook.host.errorMessage(sheetId, 0, 25)).toBeUndefined();
  });

  it("inside a returned block keep their messages, each in its cell, until they are gone", async () => {
    await write("F1:F3", [[1], ["two"], [3]]);
    await write("G1", [["=GRIT.EACH(F1:F3)"]]);
    expect(await values("G1:G3")).toEqual([[2], ["#VALUE!"], [6]]);
    const sheetId = workbook.engine.active;
    expect(workbook.host.errorMessage(sheetId, 1, 6)).toBe("not a number: two");
    await write("F2", [[2]]);
    expect(await values("G1:G3")).toEqual([[2], [4], [6]]);
    expect(workbook.host.errorMessage(sheetId, 1, 6)).toBeUndefined();
  });

  // office-platform.md: a thrown error sends its message whatever the code, a returned one only with these two.
  it.each([
    ["#VALUE!", "because", "because"],
    ["#N/A", "because", "because"],
    ["#NUM!", "because", undefined],
    ["#DIV/0!", "because", undefined],
    ["#NULL!", "because", undefined],
  ])(
    "of %s tell why where they are thrown, and where they are returned as the client does",
    async (code, thrown, given) => {
      const sheetId = workbook.engine.active;
      expect(await calculated(`=GRIT.FAIL("${code}")`)).toBe(code);
      expect(workbook.host.errorMessage(sheetId, 0, 25)).toBe(thrown);
      expect(await calculated(`=GRIT.GIVE("${code}")`)).toBe(code);
      expect(workbook.host.errorMessage(sheetId, 0, 25)).toBe(given);
    },
  );

  it.each(["#REF!", "#NAME?", "#SPILL!"])("that the client does not show come out as #VALUE!: %s", async (code) => {
    expect(await calculated(`=GRIT.FAIL("${code}")`)).toBe("#VALUE!");
    expect(workbook.host.errorMessage(workbook.engine.active, 0, 25)).toBe("because");
    expect(await calculated(`=GRIT.GIVE("${code}")`)).toBe("#VALUE!");
    expect(workbook.host.errorMessage(workbook.engine.active, 0, 25)).toBeUndefined();
  });

  it("lose their message with their formula", async () => {
    await write("H1", [['=GRIT.FAIL("#N/A")']]);
    await write("H1", [["=NA()"]]);
    expect(await value("H1")).toBe("#N/A");
    expect(workbook.host.errorMessage(workbook.engine.active, 0, 7)).toBeUndefined();
  });
});

describe("results", () => {
  it("spill from the cell, and a block of one is a plain value", async () => {
    await write("J1", [["=GRIT.TABLE(2,3)"]]);
    expect(await values("J1:L2")).toEqual([
      ["row 1", 1, 2],
      ["row 2", 11, 12],
    ]);
    await write("J5:K5", [["=GRIT.TABLE(1,1)", 7]]);
    expect(await values("J5:K5")).toEqual([["row 1", 7]]);
  });

  it("keep their kind, and what is no number is #NUM!", async () => {
    await write("N1", [["=GRIT.MIXED()"]]);
    expect(await values("N1:P2")).toEqual([
      ["12", "50%", true],
      ["", "#NUM!", "#NUM!"],
    ]);
  });

  it("go on into other formulas", async () => {
    await write("R1:R2", [["=SUM(GRIT.TABLE(3,2))"], ["=INDEX(GRIT.TABLE(3,2),2,1)"]]);
    // hand: 1 + 11 + 21.
    expect(await values("R1:R2")).toEqual([[33], ["row 2"]]);
  });

  it("are calculated anew when a cell they depend on changes", async () => {
    await write("T1:T2", [[4], ["=GRIT.EACH(T1)"]]);
    expect(await value("T2")).toBe(8);
    await write("T1", [[5]]);
    expect(await value("T2")).toBe(10);
  });
});

describe.each([
  [null, '[[[null],["x"]],null,null]', "[null,null]"],
  ["", '[[[""],["x"]],null,null]', '["",null]'],
  [0, '[[[0],["x"]],null,null]', "[0,null]"],
] as const)("a host that passes blank cells as %j", (blankAs, inBlock, alone) => {
  it("does so in blocks and alone, but still leaves null for what is left out", async () => {
    const host = await openWorkbook({ functions: FUNCTIONS, functionsJson: JSON_TEXT, blankAs });
    const cells = cellsOf(host);
    await cells.write("A2:B3", [
      ["x", "=GRIT.ECHO(A1:A2)"],
      ["", "=GRIT.CELLS(A1)"],
    ]);
    expect(await cells.values("B2:B3")).toEqual([[inBlock], [alone]]);
    await host.dispose();
  });
});

describe("a host that passes blank cells in each way", () => {
  it("finds the function that answers otherwise by how they come", async () => {
    const host = await openWorkbook({ functions: FUNCTIONS, functionsJson: JSON_TEXT, blankAs: "each" });
    const cells = cellsOf(host);
    await cells.write("A2:B2", [["=GRIT.EACH(A1:B1)", ""]]);
    await cells.write("A3", [["=GRIT.BLANK(A1:B1)"]]);
    await expect(host.dispose()).rejects.toThrow("BLANK answers otherwise to blank cells as [0]");
  });
});

describe("the shipped script", () => {
  it("is run for what it associates, and only what the metadata list is known", async () => {
    const script = `
      CustomFunctions.associate("TWICE", (cells) => cells.map((row) => row.map((x) => x * 2)));
      CustomFunctions.associate("HIDDEN", () => 1);
      CustomFunctions.associate("BAD", () => { throw new CustomFunctions.Error(CustomFunctions.ErrorCode.notAvailable, "no"); });
    `;
    const metadata = {
      functions: [
        { id: "TWICE", parameters: [matrix()] },
        { id: "BAD", parameters: [] },
      ],
    };
    const host = await openWorkbook({ functionsJs: script, functionsJson: JSON.stringify(metadata) });
    const cells = cellsOf(host);
    await cells.write("A1:A3", [["=GRIT.TWICE(21)"], ["=GRIT.HIDDEN()"], ["=grit.bad()"]]);
    expect(await cells.values("A1:A3")).toEqual([[42], ["#NAME?"], ["#N/A"]]);
    await host.dispose();
  });
});
