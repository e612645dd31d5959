/**
 * Formulas that fill several cells, in a calculating copy: as a formula for each cell where an array formula would not
 * do, or as values all over. Expected formulas and values are worked out by hand from the doc comments.
 */
import { describe, expect, it } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { CATALOGUE } from "../../catalogue";
import { type Book, book, sheet, unzipped } from "./copy-files";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

function copyOf(data: string, more: Partial<Book> = {}) {
  const { bytes, report } = calculatingCopy(book({ sheets: { Plan: sheet(data) }, ...more }), OPTIONS);
  const xml = unzipped(bytes)["xl/worksheets/sheet1.xml"]!;
  const formula = (address: string) =>
    new RegExp(`<c r="${address}"[^>]*><f>([^<]*)</f>`)
      .exec(xml)?.[1]
      ?.replace(/&quot;/g, '"')
      .replace(/&lt;/g, "<")
      .replace(/&gt;/g, ">");
  return { xml, report, formula };
}

/** Three grits in A2:A4 and what fills B2:B4. */
const spill = (formula: string, cells = ["<v>start</v>", "<v>ok</v>", "<v>ok</v>"]) =>
  cells
    .map((value, i) => {
      const f = i === 0 ? `<f t="array" ref="B2:B4">${formula}</f>` : "";
      return `<row r="${i + 2}"><c r="A${i + 2}"><v>${30 * 2 ** i}</v></c><c r="B${i + 2}" t="str" s="1"${i === 0 ? ' cm="1"' : ""}>${f}${value}</c></row>`;
    })
    .join("");

describe("a list of verdicts in a calculating copy", () => {
  const { xml, report, formula } = copyOf(spill('_xldudf_GRIT_SEQUENCECHECK(A2:A4,,,"um")'));

  it("is a formula for each of its cells, of which each looks back at those before it", () => {
    expect(formula("B2")).toContain('"start"');
    expect(formula("B2")).not.toMatch(/\bB/);
    expect(formula("B3")).toContain('IFERROR(B2="",TRUE),"start",');
    expect(formula("B3")).toContain("ROUND(A2/A3,9)");
    expect(formula("B4")).toContain('ISERROR(LOOKUP(2,1/(B$2:B3<>""),A$2:A3)),"start",');
    expect(formula("B4")).toContain('ROUND(LOOKUP(2,1/(B$2:B3<>""),A$2:A3)/A4,9)');
  });

  it("keeps the cells' looks and values, and counts as one formula", () => {
    expect(xml).not.toContain("array");
    expect(xml).toMatch(/<c r="B2" t="str" s="1"><f>[^<]*<\/f><v>start<\/v><\/c>/);
    expect(xml).toMatch(/<c r="B4" t="str" s="1"><f>[^<]*<\/f><v>ok<\/v><\/c>/);
    expect(report).toMatchObject({ formulas: 1, functions: { SEQUENCECHECK: 1 }, values: [] });
  });

  it("goes across as well as down", () => {
    const across = ["A", "B", "C"].map((column) => `<c r="${column}1"><v>30</v></c>`).join("");
    const out = `<c r="A2"><f t="array" ref="A2:C2">GRIT.SEQUENCECHECK(A1:C1)</f></c><c r="B2"/><c r="C2"></c>`;
    const { formula } = copyOf(`<row r="1">${across}</row><row r="2">${out}</row>`);
    expect(formula("B2")).toContain('IFERROR(A2="",TRUE)');
    expect(formula("C2")).toContain('LOOKUP(2,1/($A2:B2<>""),$A1:B1)');
  });

  it("finds the cells of a name, of another sheet and of a table's column", () => {
    const names = {
      behind: '<definedNames><definedName name="Grits">Plan!$A$2:$A$4</definedName></definedNames>',
    };
    expect(copyOf(spill("GRIT.SEQUENCECHECK(Grits)"), names).formula("B4")).toContain("Plan!$A$2:$A$3)");
    expect(copyOf(spill("GRIT.SEQUENCECHECK('My shelf'!A2:A4)")).formula("B4")).toContain("'My shelf'!A$2:A3)");
    const table =
      '<table name="Shelf" displayName="Shelf" ref="C1:D5" totalsRowCount="1"><tableColumns count="2"><tableColumn id="1" name="Tool"/><tableColumn id="2" name="Grit"/></tableColumns></table>';
    const lead =
      '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/table" Target="../tables/table1.xml"/></Relationships>';
    const parts = { "xl/tables/table1.xml": table, "xl/worksheets/_rels/sheet1.xml.rels": lead };
    // Headings in row 1 and totals in row 5 leave D2:D4.
    expect(copyOf(spill("GRIT.SEQUENCECHECK(Shelf[Grit])"), { parts }).formula("B4")).toContain("Plan!$D$2:$D$3)");
  });

  it("is worked out on opening where a cell has its text among the shared ones", () => {
    const { xml } = copyOf(spill("GRIT.SEQUENCECHECK(A2:A4)").replace('r="B3" t="str"', 'r="B3" t="s"'));
    expect(xml).toMatch(/<c r="B3" s="1"><f>[^<]*<\/f><\/c>/);
  });

  it("stays as values where it is not all of its formula, is of no plain range, or fills cells that are not there", () => {
    const whole = (formula: string, data = spill(formula)) => copyOf(data).report.values;
    const looksBack = "Each answer of GRIT.SEQUENCECHECK depends on those before it, so it must be the whole formula";
    expect(whole('IF(GRIT.SEQUENCECHECK(A2:A4)="ok",1,0)')[0]!.reason.text).toContain(looksBack);
    expect(whole("GRIT.SEQUENCECHECK(A2:A4*1)")[0]!.reason.text).toContain(looksBack);
    expect(whole("GRIT.SEQUENCECHECK({30;60;90})")[0]!.reason.text).toBe(
      "A formula with a typed array can't be split cell by cell.",
    );
    const { xml, report } = copyOf(spill("GRIT.SEQUENCECHECK(A2:A4)").replace(/<c r="B3".*?<\/c>/, ""));
    expect(report.values[0]!.reason.text).toContain("Some cells that it fills aren't in the workbook.");
    expect(xml).not.toContain("<f");
    expect(report.values[0]!.place).toBe("B2:B4");
  });
});

describe("sliding speeds of several heads in a calculating copy", () => {
  it("are a formula for each cell, whose rows are each for their own head", () => {
    const numbers = spill("ROUND(GRIT.SLIDESPEED(A2:A4,3,90,30),1)").replaceAll(' t="str"', "");
    const { formula, report } = copyOf(numbers);
    for (const row of [2, 3, 4]) {
      const own = formula(`B${row}`)!;
      expect(own.startsWith("ROUND(IF(IFERROR((A")).toBe(true);
      expect(new Set(own.match(/\bA\d+/g))).toEqual(new Set([`A${row}`]));
    }
    expect(report.values).toEqual([]);
  });
});

describe("a ladder in a calculating copy", () => {
  const ladder = (cells: string[]) => copyOf(spill("GRIT.LADDER(30,120)", cells));

  it("is values in every cell that it filled, listed once with the reason", () => {
    const { xml, report } = ladder(["<v>30 &amp; on</v>", "<v>60</v>", "<v></v>"]);
    expect(xml).not.toContain("<f");
    expect(xml).not.toContain('t="str"');
    expect(xml).toContain('<c r="B2" t="inlineStr" s="1"><is><t xml:space="preserve">30 &amp; on</t></is></c>');
    expect(xml).toContain('<c r="B3" t="inlineStr" s="1"><is><t xml:space="preserve">60</t></is></c>');
    expect(report.values).toEqual([
      {
        sheet: "Plan",
        place: "B2:B4",
        formula: "=GRIT.LADDER(30,120)",
        reason: {
          kind: "noPlainFormula",
          facts: { id: "LADDER", why: "a search over the grits there are" },
          text: "GRIT.LADDER has no plain formula: a search over the grits there are.",
        },
      },
    ]);
    expect(report.errors).toBe(0);
  });

  it("tells how many of its cells show an error", () => {
    const data = spill("GRIT.LADDER(30,120)", ["<v>#NAME?</v>", "<v>#N/A</v>", "<v>60</v>"]);
    const { report } = copyOf(data.replace(/(r="B[23]") t="str"/g, '$1 t="e"'));
    expect(report.errors).toBe(2);
  });
});
