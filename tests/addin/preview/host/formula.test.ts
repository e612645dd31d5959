/** Formulas as text: rewriting without a spreadsheet around them. Expected texts are worked by hand. */
import { describe, expect, it } from "vitest";
import type { Shift } from "../../../../addin/preview/host/a1";
import {
  isBalanced,
  moveFormula,
  renameInFormula,
  shiftFormula,
  withoutSheet,
} from "../../../../addin/preview/host/formula";

const rows = (row: number, count: number, direction: Shift["direction"]): Shift => ({
  area: { row, rows: count, column: 0, columns: 16_384 },
  direction,
});

describe("a formula whose references move", () => {
  it.each([
    // formula, two rows inserted above row 3
    ["=A1+A3", "=A1+A5"],
    ["=SUM(A1:A3)", "=SUM(A1:A5)"],
    ["=SUM(A:A)+SUM(3:4)", "=SUM(A:A)+SUM(5:6)"],
    ["=$A$3&A$3&$A3", "=$A$5&A$5&$A5"],
    ['="A3"&LOG10(A3)', '="A3"&LOG10(A5)'],
    ["=Tooling[A3]+Other!A3", "=Tooling[A3]+Other!A3"],
    ["='My data'!A3", "='My data'!A3"],
    ["=A3_x+x.A3", "=A3_x+x.A3"],
    ["=1e3+A3", "=1e3+A5"],
  ])("%s becomes %s", (formula, expected) => {
    expect(shiftFormula(formula, "Data", "data", rows(2, 2, "down"))).toBe(expected);
  });

  it.each([
    ["=A1+A3+A9", "=A1+#REF!+A7"],
    ["=SUM(A1:A9)", "=SUM(A1:A7)"],
    ["=SUM(A3:A4)", "=SUM(#REF!)"],
    ["=SUM(A4:A9)", "=SUM(A3:A7)"],
  ])("%s becomes %s when rows 3 and 4 go", (formula, expected) => {
    expect(shiftFormula(formula, "Data", "Data", rows(2, 2, "up"))).toBe(expected);
  });

  it("on another sheet follows only that sheet's references", () => {
    expect(shiftFormula("=A3+Data!A3+'Data'!B3", "Plan", "Data", rows(0, 1, "down"))).toBe("=A3+Data!A4+'Data'!B4");
  });

  it("leaves alone what is not wholly beside the cells that move", () => {
    const shift: Shift = { area: { row: 0, rows: 1, column: 1, columns: 1 }, direction: "down" };
    expect(shiftFormula("=A1+B1+SUM(A1:B3)", "Data", "Data", shift)).toBe("=A1+B2+SUM(A1:B3)");
  });
});

describe("a formula that is copied", () => {
  it.each([
    ["=A1", "=C4"],
    ["=$A1+A$1+$A$1", "=$A4+C$1+$A$1"],
    ["=Other!A1:B2", "=Other!C4:D5"],
    ["=SUM(Tooling[A1])", "=SUM(Tooling[A1])"],
  ])("%s becomes %s three rows down and two columns right", (formula, expected) => {
    expect(moveFormula(formula, 3, 2)).toBe(expected);
  });

  it("loses references that fall off the sheet", () => {
    expect(moveFormula("=A1+B2", -1, 0)).toBe("=#REF!+B1");
  });
});

describe("a formula whose names change", () => {
  it("follows a table, whatever it holds in brackets", () => {
    const formula = '=SUM(tooling[Life])+ROWS(Tooling)+Tooling2[x]&"Tooling[y]"';
    expect(renameInFormula(formula, "table", "Tooling", "Shelf")).toBe(
      '=SUM(Shelf[Life])+ROWS(Shelf)+Tooling2[x]&"Tooling[y]"',
    );
  });

  it("follows a sheet, quoted where it must be", () => {
    expect(renameInFormula("=Data!A1+'Data'!Rate+DataX!A1", "sheet", "data", "Data 2")).toBe(
      "='Data 2'!A1+'Data 2'!Rate+DataX!A1",
    );
    expect(renameInFormula("='My data'!A1", "sheet", "My data", "R1")).toBe("='R1'!A1");
  });

  it("keeps #REF! in place of a sheet that is gone", () => {
    expect(withoutSheet("=Data!A1+Other!A1+SUM(Data!A:A)", "DATA")).toBe("=#REF!+Other!A1+SUM(#REF!)");
  });
});

describe("what is no formula", () => {
  it.each(["=SUM(A1", "=A1)", '="open', "={1,2", "=(]", "=T[x"])("%s", (text) => {
    expect(isBalanced(text)).toBe(false);
  });

  it.each(['=IF(A1="(",1,2)', "={1,2;3,4}", "=Table[[#This Row],[a (b]]", "=Table['[odd']]", "='It''s'!A1"])(
    "but %s is",
    (text) => {
      expect(isBalanced(text)).toBe(true);
    },
  );
});
