/** What a translation leaves as it is, what it takes for a call, and what it refuses. */
import { describe, expect, it } from "vitest";
import { type Surroundings, translate, translation } from "../../../addin/share/translate";
import { SURROUNDINGS } from "./engine";

/** A workbook in which names with "Many" and whole columns of tables are more than one cell. */
const AROUND: Surroundings = {
  ...SURROUNDINGS,
  isRange: (reference) => /Many|\w\[(?!\[#This Row)/.test(reference),
};

const plain = (formula: string) => translate(formula, AROUND);

/** Not TRUE or FALSE either, which LibreOffice takes for numbers. */
const number = (cell: string) => `(ISNUMBER(${cell})>ISLOGICAL(${cell}))`;

/** MARKUP as its definition says, (price − cost) / cost, behind its two checks. */
const markup = (price: string, cost: string) =>
  `IF(${number(price)}*(${price}>0),IF(${number(cost)}*(${cost}>0),(${price}-${cost})/${cost},#VALUE!),#VALUE!)`;

describe("a call of ours", () => {
  it.each([
    ["as it is typed", "=GRIT.MARKUP(A1,B1)"],
    ["in lower case", "=grit.markup(A1,B1)"],
    ["as Excel stores it", "=_xldudf_GRIT_MARKUP(A1,B1)"],
    ["with a prefix before it", "=_xlfn._xldudf_GRIT_MARKUP(A1,B1)"],
    ["with spaces and a line break", "=GRIT.MARKUP( A1 ,\n B1 )"],
    ["with a space before the bracket", "=GRIT.MARKUP (A1,B1)"],
  ])("is found %s", (_, formula) => {
    expect(plain(formula)).toBe(`=${markup("A1", "B1")}`);
  });

  it("is found without an equals sign, as the file has it", () => {
    expect(plain("_xldudf_GRIT_MARKUP(A1,B1)")).toBe(markup("A1", "B1"));
  });

  it("keeps its references as they are: absolute, on quoted sheets, names, and of this row of a table", () => {
    for (const reference of [
      "$A$1",
      "A$1",
      "'It''s, a (sheet)'!$B2",
      "Floor_Area",
      "[1]Rates!B2",
      "Tbl[[#This Row],[Cost '[net'] (GRIT.SIZE)]]",
    ]) {
      expect(plain(`=GRIT.MARKUP(${reference},B1)`), reference).toBe(`=${markup(reference, "B1")}`);
    }
  });

  it("puts an expression in brackets wherever it stands", () => {
    const price = `IF(((A1+1)>0),IF(${number("B1")}*(B1>0),((A1+1)-B1)/B1,#VALUE!),#VALUE!)`;
    expect(plain("=GRIT.MARKUP(A1+1,B1)")).toBe(`=${price}`);
  });

  it("keeps the space that means where two references meet", () => {
    expect(plain("=GRIT.MARKUP(A1:A9 B1:B9,1)")).toContain("((A1:A9 B1:B9)-1)");
  });

  it("is a bare formula where literals leave nothing to check", () => {
    expect(plain("=2^GRIT.MARKUP(125,1E2)+GRIT.CREWCOST(10,2,30,)")).toBe("=2^((125-1E2)/1E2)+(10*2*30*(1+0))");
  });

  it("takes what is left out in the middle for what its text says of it", () => {
    expect(plain("=GRIT.LIQUID(5000,400,,10%)")).toBe("=(5000*1*(1+(10%))/400)");
  });

  it("is checked once where it is an argument of another", () => {
    const used = "A1*1/B1";
    const inner = `IF(${number("A1")}*(A1>0),IF(${number("B1")}*(B1>0),${used},#VALUE!),#VALUE!)`;
    expect(plain("=GRIT.CONTAINERS(GRIT.TOOLSUSED(A1,B1),5)")).toBe(
      `=IF((${inner}>0),ROUNDUP(ROUND((${used})/5*(1-1E-9),9),0),#VALUE!)`,
    );
  });

  it("keeps its checks within a function that makes something of errors", () => {
    const inner = `IF(${number("A1")}*(A1>0),IF(${number("B1")}*(B1>0),A1*1/B1,#VALUE!),#VALUE!)`;
    expect(plain("=GRIT.CONTAINERS(IFERROR(GRIT.TOOLSUSED(A1,B1),0),5)").split(inner).length - 1).toBe(3);
  });
});

describe("text outside our calls", () => {
  it.each([
    '="GRIT.SIZE(30)"&" ""GRIT.MARKUP(1,2)"""',
    "=SUM(A1:A5)*'GRIT.SIZE(1)'!B2",
    "=Tbl[GRIT.SIZE(3)]+MY.GRIT.SIZE(3)+GRIT.SIZE",
    "=GRITS(3)+GRIT_SIZE(3)",
  ])("is no call: %s", (formula) => {
    expect(plain(formula)).toBe(formula);
  });

  it("stays byte for byte as it was", () => {
    const before = `=IF( a1 > 0 ,ROUND(  `;
    const after = `, 1)\n,"GRIT.SIZE("&{1,2;"x",TRUE}&B1#&@C1:C9&Tbl[[#Headers],[a]])`;
    expect(plain(`${before}GRIT.MARKUP(A1,B1)${after}`)).toBe(`${before}${markup("A1", "B1")}${after}`);
  });
});

describe("ranges", () => {
  it.each([
    "A1:A9",
    "$A:$A",
    "3:5",
    "A1#",
    "Many_Jobs",
    "Tbl[Price]",
    "{1;2}",
    "Sheet1!A1:B2",
    "(A1:A9*2)",
    "INDEX(A1:C9,0,2)",
    "Jan:Dec!A1",
  ])("%s is taken cell by cell, by an array formula in which a row that is blank or 0 stays blank", (range) => {
    const { plain, isArray } = translation(`=GRIT.MARKUP(${range},B1)`, AROUND);
    expect(isArray).toBe(true);
    expect(plain.startsWith(`=IF(IFERROR((${range}="")+(${range}=0),0),"",IF(`)).toBe(true);
  });

  it.each([
    "A1",
    "A1:A1",
    "@A1:A9",
    "SUM(A1:A9)",
    "LOOKUP(9E9,A1:A9)",
    "INDEX(A1:A9,3)",
    "Tbl[[#This Row],[Price]]",
    "COUNTIF(A1:A9,B1)",
  ])("%s is one cell", (cell) => {
    const { plain, isArray } = translation(`=GRIT.MARKUP(${cell},B1)`, AROUND);
    expect(isArray).toBe(false);
    expect(plain).not.toContain("IFERROR");
  });
});

describe("ranges that do not fit together", () => {
  it.each(["A1:A9,B1:B8", "A1:C1,A2:B2", "A1:B9,C1:C8", "A:A,B1:B9"])(
    "are refused as the function does: %s",
    (ranges) => {
      expect(plain(`=GRIT.MARKUP(${ranges})`)).toBe("=#VALUE!");
    },
  );

  it.each(["A1:A9,B1:B9", "A1:A9,B1:E1", "A1:B9,C1:C9", "A1:B9,C1"])("are not those that stretch: %s", (ranges) => {
    expect(plain(`=GRIT.MARKUP(${ranges})`)).toContain("IFERROR");
  });
});

describe("what it refuses", () => {
  it.each([
    ["=GRIT.LADDER(30,100)", "GRIT.LADDER has no plain formula: a search over the grits there are."],
    ["=GRIT.NOPE(1)", "There's no function GRIT.NOPE."],
    ["=GRIT.MARKUP(1,2,3)", "GRIT.MARKUP takes at most 2 arguments, not 3."],
    [
      "=GRIT.SIZE(30,{10,1000;1000,10})",
      "scale of GRIT.SIZE is a range. A plain formula needs one of its words, or cells in two columns.",
    ],
    [
      "=GRIT.SLIDESPEED(A1:A9,1,2,3)",
      "The plain formula of GRIT.SLIDESPEED gives one answer, and headRadius is a range.",
    ],
    ["=GRIT.CALIBRATE(A1,B1)", "estimated of GRIT.CALIBRATE isn't a range."],
    ["=GRIT.MARKUP(OFFSET(A1,1,0),B1)", "How many cells OFFSET gives isn't known in advance."],
    ["=GRIT.MARKUP((A1,B1),B1)", "One of its arguments combines several references."],
    ["=GRIT.MARKUP(A1,B1", "A bracket in the formula isn't closed."],
  ])("%s", (formula, reason) => {
    expect(() => plain(formula)).toThrow(expect.objectContaining({ message: reason, reason: expect.anything() }));
  });

  it("a formula that no cell could hold", () => {
    const deep = `GRIT.STEPCHECK(${"IF(A1,A2,A3)+".repeat(60)}1,B1,C1,D1,E1,F1)`;
    expect(() => plain(`=${deep}`)).toThrow(/^The plain formula has \d+ characters; a cell holds 8192\.$/);
  });
});
