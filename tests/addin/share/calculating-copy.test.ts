/**
 * The calculating copy, part by part. What a call of ours becomes is another file's matter: here AREARATE(a,b) is simply
 * (a*b), SIZE looks its grit up, and LADDER cannot be made plain. Expected formulas are those with that put in by hand.
 */
import { read } from "@e965/xlsx";
import { DOMParser } from "@xmldom/xmldom";
import ExcelJS from "exceljs";
import { describe, expect, it, vi } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { book, bookParts, type Parts, sheet, unzipped, zipped } from "./copy-files";

vi.mock("../../../addin/share/translate", async (importOriginal) => {
  const { untranslatable } = await import("../../../addin/share/refusals");
  return {
    ...(await importOriginal<typeof import("../../../addin/share/translate")>()),
    translation(formula: string, around: import("../../../addin/share/translate").Surroundings) {
      if (formula.includes("LADDER")) throw untranslatable("noPlainFormula", { id: "LADDER", why: "a search" });
      let isArray = false;
      const plain = formula.replace(
        /(?:_xldudf_GRIT_|GRIT\.)(SIZE|AREARATE)\(([^()]*)\)/g,
        (_call, name: string, given: string) => {
          // A comma before a bracket is a table's.
          const args = given.split(/,(?!\[)/);
          isArray ||= args.some((one) => one.includes(":") || (/^[A-Za-z_]+$/.test(one) && around.isRange(one)));
          return name === "SIZE" ? `LOOKUP(${given},${around.scales("mesh", "grit")})` : `(${args.join("*")})`;
        },
      );
      return { plain, isArray };
    },
  };
});

const OPTIONS = { functions: [], version: "9.8.7", date: "2 May 2031", units: "US units", cautions: ["Grind dust."] };
const copyOf = (bytes: Uint8Array) => {
  const { bytes: copy, report } = calculatingCopy(bytes, OPTIONS);
  return { parts: unzipped(copy), report, bytes: copy };
};
const SHEET1 = "xl/worksheets/sheet1.xml";
/** The first sheet's XML, of a copy of a workbook that has these cells and this behind them. */
const cellsOf = (data: string, behind = "", more: Partial<Parameters<typeof book>[0]> = {}) => {
  const { parts, report } = copyOf(book({ sheets: { Plan: sheet(data, behind) }, ...more }));
  return { xml: parts[SHEET1]!, parts, report };
};

describe("a formula of the calculating copy", () => {
  it("is plain, and keeps the cell's style, value and kind of value", () => {
    const { xml, report } = cellsOf(
      '<row r="2" spans="1:3" x14ac:dyDescent="0.25"><c r="B2" s="3"><f>ROUND(_xldudf_GRIT_AREARATE($A2,Sheet2!B$1)&amp;"&lt;",2)</f><v>120</v></c></row>',
    );
    expect(xml).toContain('<c r="B2" s="3"><f>ROUND(($A2*Sheet2!B$1)&amp;&quot;&lt;&quot;,2)</f><v>120</v></c>');
    expect(report).toMatchObject({ formulas: 1, functions: { AREARATE: 1 }, values: [] });
  });

  it("that Excel marked as a dynamic array of one cell is an ordinary one where no range is in it", () => {
    const { xml } = cellsOf(
      '<row r="2"><c r="B2" cm="1"><f t="array" ref="B2">_xldudf_GRIT_AREARATE(A2,A3)</f><v>6</v></c></row>',
    );
    expect(xml).toContain('<c r="B2"><f>(A2*A3)</f><v>6</v></c>');
  });

  it("that spills is an array formula over the same cells, without Excel's mark", () => {
    const { xml } = cellsOf(
      '<row r="2"><c r="B2" cm="1"><f t="array" ref="B2:B3">_xldudf_GRIT_AREARATE(A2:A3,4)</f><v>8</v></c></row><row r="3"><c r="B3"><v>12</v></c></row>',
    );
    expect(xml).toContain('<c r="B2"><f t="array" ref="B2:B3">(A2:A3*4)</f><v>8</v></c>');
    expect(xml).toContain('<c r="B3"><v>12</v></c>');
  });

  it("that takes ranges or wide names in an ordinary cell is an array formula of that cell", () => {
    const names = {
      behind:
        '<definedNames><definedName name="Widths">Plan!$A$2:$A$9</definedName><definedName name="Rate">Plan!$A$1</definedName></definedNames>',
    };
    const { xml } = cellsOf(
      '<row r="2"><c r="B2"><f>SUM(GRIT.AREARATE(A2:A3,4))</f></c><c r="C2"><f>GRIT.AREARATE(Widths,4)</f></c><c r="D2"><f>GRIT.AREARATE(Rate,4)</f></c></row>',
      "",
      names,
    );
    expect(xml).toContain('<c r="B2"><f t="array" ref="B2">SUM((A2:A3*4))</f></c>');
    expect(xml).toContain('<c r="C2"><f t="array" ref="C2">(Widths*4)</f></c>');
    expect(xml).toContain('<c r="D2"><f>(Rate*4)</f></c>');
  });

  it("that cells share stays shared, and counts once for each of them", () => {
    const { xml, report } = cellsOf(
      '<row r="2"><c r="B2"><f t="shared" ref="B2:B4" si="0">GRIT.AREARATE(A2,$A$1)</f><v>1</v></c></row>' +
        '<row r="3"><c r="B3"><f t="shared" si="0"/><v>2</v></c></row><row r="4"><c r="B4"><f t="shared" si="0"/><v>3</v></c></row>',
    );
    expect(xml).toContain('<f t="shared" ref="B2:B4" si="0">(A2*$A$1)</f>');
    expect(xml).toContain('<c r="B4"><f t="shared" si="0"/><v>3</v></c>');
    expect(report.functions).toEqual({ AREARATE: 3 });
  });

  it("that cells share is an array formula of its own in each, where it takes ranges", () => {
    const { xml } = cellsOf(
      '<row r="2"><c r="B2"><f t="shared" ref="B2:B3" si="4">SUM(GRIT.AREARATE(A2:A3,$A$1))</f></c></row><row r="3"><c r="B3"><f t="shared" si="4"/></c></row>',
    );
    expect(xml).toContain('<c r="B2"><f t="array" ref="B2">SUM((A2:A3*$A$1))</f></c>');
    expect(xml).toContain('<c r="B3"><f t="array" ref="B3">SUM((A3:A4*$A$1))</f></c>');
  });

  it("is a value where it cannot be plain, and is listed as the user knows it", () => {
    const { xml, report } = cellsOf(
      '<row r="2"><c r="B2" t="str" s="1"><f>GRIT.SIZE(4)&amp;_xldudf_GRIT_LADDER(30,400)</f><v>30 &amp; 60</v></c><c r="C2"><f>GRIT.LADDER(1,2)</f></c></row>' +
        '<row r="3"><c r="B3"><f t="shared" ref="B3:B4" si="0">GRIT.LADDER(A3,9)</f><v>7</v></c></row><row r="4"><c r="B4"><f t="shared" si="0"/><v>8</v></c></row>',
    );
    expect(xml).toContain('<c r="B2" t="inlineStr" s="1"><is><t xml:space="preserve">30 &amp; 60</t></is></c>');
    expect(xml).toContain('<c r="B4"><v>8</v></c>');
    const search = "GRIT.LADDER has no plain formula: a search.";
    const lacks = `${search} The workbook holds no value for it, so the cell is empty.`;
    expect(report.values.map(({ reason, ...one }) => ({ ...one, reason: reason.text }))).toEqual([
      { sheet: "Plan", place: "B2", formula: "=GRIT.SIZE(4)&GRIT.LADDER(30,400)", reason: search },
      { sheet: "Plan", place: "C2", formula: "=GRIT.LADDER(1,2)", reason: lacks },
      { sheet: "Plan", place: "B3", formula: "=GRIT.LADDER(A3,9)", reason: search },
      { sheet: "Plan", place: "B4", formula: "=GRIT.LADDER(A4,9)", reason: search },
    ]);
  });

  it("of the user's own that refers to a spill of ours refers to its cells; other spills stay", () => {
    const { xml } = cellsOf(
      '<row r="2"><c r="B2" cm="1"><f t="array" ref="B2:B9">_xldudf_GRIT_AREARATE(A2:A9,4)</f></c><c r="D2"><f>SUM(_xlfn.ANCHORARRAY($B$2))+SUM(_xlfn.ANCHORARRAY(Plan!B2))+SUM(_xlfn.ANCHORARRAY(F2))</f></c></row>',
    );
    expect(xml).toContain("<f>SUM($B$2:$B$9)+SUM(Plan!B2:B9)+SUM(_xlfn.ANCHORARRAY(F2))</f>");
  });

  it("stays byte for byte where only a text or a sheet's name looks like a call", () => {
    const data = `<row r="2"><c r="B2"><f>'Grit.notes'!A1&amp;"GRIT.SIZE(4)"</f></c><c r="C2"><f>GRIT.SIZE(4)</f></c></row>`;
    const { xml } = cellsOf(data);
    expect(xml).toContain(`<c r="B2"><f>'Grit.notes'!A1&amp;"GRIT.SIZE(4)"</f></c>`);
  });

  it("is found under a writer's own prefix, between comments and CDATA", () => {
    const xml =
      '<?xml version="1.0"?><!-- <c><f>GRIT.SIZE(1)</f></c> --><x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData><x:row r="1"><x:c r="A1"><x:f><![CDATA[GRIT.AREARATE(B1,C1)>2]]></x:f><x:v>1</x:v></x:c></x:row></x:sheetData></x:worksheet>';
    const { parts } = copyOf(book({ sheets: { Plan: xml } }));
    expect(parts[SHEET1]).toBe(xml.replace("<![CDATA[GRIT.AREARATE(B1,C1)>2]]>", "(B1*C1)&gt;2"));
  });

  it("is in a cell that does not say where it is, as some writers have it", () => {
    const { xml, report } = cellsOf(
      "<row><c><v>1</v></c></row><row><c><v>2</v></c><c><f>SUM(GRIT.AREARATE(A1:A2,4))</f></c><c><f>GRIT.LADDER(1,2)</f><v>3</v></c></row>",
    );
    expect(xml).toContain('<f t="array" ref="B2">SUM((A1:A2*4))</f>');
    expect(report.values[0]!.place).toBe("C2");
  });

  it("is a value where a name in it is unknown, and names that go round in a circle do not hang", () => {
    const { report } = cellsOf('<row r="1"><c r="B1"><f>GRIT.AREARATE(Nowhere,4)</f><v>3</v></c></row>');
    expect(report.values[0]).toMatchObject({
      place: "B1",
      reason: { kind: "noName", text: "This workbook has no name Nowhere." },
    });
    const circle =
      '<definedNames><definedName name="One">Two+1</definedName><definedName name="Two">One+1</definedName></definedNames>';
    const { xml } = cellsOf('<row r="1"><c r="B1"><f>GRIT.AREARATE(One,4)</f></c></row>', "", { behind: circle });
    expect(xml).toContain("<f>(One*4)</f>");
  });
});

describe("names, tables and rules of the calculating copy", () => {
  it("are plain too", () => {
    const table =
      '<table xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" id="1" name="Stages" displayName="Stages" ref="A1:B3"><tableColumns count="2"><tableColumn id="1" name="Width"/><tableColumn id="2" name="Rate"><calculatedColumnFormula>GRIT.AREARATE(Stages[[#This Row],[Width]],2)</calculatedColumnFormula></tableColumn></tableColumns></table>';
    const { xml, parts } = cellsOf(
      "",
      '<conditionalFormatting sqref="A1:A9"><cfRule type="expression" priority="1"><formula>GRIT.AREARATE(A1,2)&gt;5</formula></cfRule></conditionalFormatting>' +
        '<dataValidations count="2"><dataValidation type="whole" sqref="C1"><formula1>1</formula1><formula2>GRIT.AREARATE(2,3)</formula2></dataValidation><dataValidation type="list" sqref="C2"><formula1>"a,b"</formula1></dataValidation></dataValidations>',
      {
        behind:
          '<definedNames><definedName name="Rate">_xldudf_GRIT_AREARATE(Plan!$A$1,60)</definedName><definedName name="_xldudf_GRIT_AREARATE" hidden="1">#NAME?</definedName></definedNames>',
        parts: {
          "xl/tables/table1.xml": table,
          "xl/worksheets/_rels/sheet1.xml.rels":
            '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/table" Target="../tables/table1.xml"/></Relationships>',
        },
      },
    );
    expect(xml).toContain("<formula>(A1*2)&gt;5</formula>");
    expect(xml).toContain("<formula1>1</formula1><formula2>(2*3)</formula2></dataValidation>");
    expect(xml).toContain('<formula1>"a,b"</formula1>');
    expect(parts["xl/tables/table1.xml"]).toBe(
      table.replace("GRIT.AREARATE(Stages[[#This Row],[Width]],2)", "(Stages[[#This Row],[Width]]*2)"),
    );
    expect(parts["xl/workbook.xml"]).toContain('<definedName name="Rate">(Plan!$A$1*60)</definedName></definedNames>');
  });

  it("count a table's formula by its cells and not once more for the table, as the check of the workbook does", () => {
    const table =
      '<table xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" id="1" name="Stages" displayName="Stages" ref="A1:B3"><tableColumns count="2"><tableColumn id="1" name="Width"/><tableColumn id="2" name="Rate"><calculatedColumnFormula>GRIT.AREARATE(2,3)</calculatedColumnFormula></tableColumn></tableColumns></table>';
    const cells = [2, 3].map((row) => `<row r="${row}"><c r="B${row}"><f>GRIT.AREARATE(2,3)</f><v>6</v></c></row>`);
    const { report } = cellsOf(cells.join(""), "", {
      parts: {
        "xl/tables/table1.xml": table,
        "xl/worksheets/_rels/sheet1.xml.rels":
          '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/table" Target="../tables/table1.xml"/></Relationships>',
      },
    });
    // Two cells, by hand.
    expect(report).toMatchObject({ formulas: 2, functions: { AREARATE: 2 } });
  });

  it("go or are #N/A where they cannot be, and a cell that uses such a name keeps its value", () => {
    const { xml, parts, report } = cellsOf(
      '<row r="1"><c r="A1"><f>Steps*2</f><v>14</v></c><c r="B1"><f>Twice</f><v>28</v></c><c r="C1"><f>Fine</f><v>3</v></c></row>',
      '<conditionalFormatting sqref="A1:A9"><cfRule type="expression" priority="1"><formula>GRIT.LADDER(1,2)=5</formula></cfRule></conditionalFormatting>' +
        '<dataValidations count="2"><dataValidation type="whole" sqref="C1"><formula1>GRIT.LADDER(1,2)</formula1></dataValidation><dataValidation type="list" sqref="C2"><formula1>"a,b"</formula1></dataValidation></dataValidations>',
      {
        behind:
          '<definedNames><definedName name="Fine">3</definedName><definedName name="Twice" localSheetId="0">Steps*2</definedName><definedName name="Steps">GRIT.LADDER(1,2)</definedName></definedNames>',
      },
    );
    expect(xml).toContain('<c r="A1"><v>14</v></c><c r="B1"><v>28</v></c><c r="C1"><f>Fine</f><v>3</v></c>');
    expect(xml).not.toContain("conditionalFormatting");
    expect(xml).toContain('<dataValidations count="1"><dataValidation type="list"');
    expect(parts["xl/workbook.xml"]).toContain('<definedName name="Steps">#N/A</definedName>');
    expect(report.values.map(({ place }) => place)).toEqual([
      "the name Twice",
      "the name Steps",
      "A1",
      "B1",
      "the conditional format of A1:A9",
      "the data validation of C1",
    ]);
  });
});

describe("the calculating copy as a file", () => {
  /** Parts of every kind that nothing of ours is in. */
  const OTHERS: Parts = {
    "xl/calcChain.xml": "<calcChain/>",
    "xl/charts/chart1.xml": "<c:chartSpace>\r\n<c:f>Plan!$A$1:$A$9</c:f></c:chartSpace>",
    "xl/drawings/vmlDrawing1.vml": "<xml><v:shape>not even </v:shape>",
    "xl/comments1.xml": "<comments><text>GRIT.SIZE is ours</text></comments>",
    "xl/printerSettings/printerSettings1.bin": "\u0001\u0002",
    "customXml/item1.xml": "<theirs xmlns='urn:theirs'>1 > 0</theirs>",
    "docProps/app.xml": "<Properties/>",
    "xl/metadata.xml": "<metadata/>",
    "unknown/thing.dat": "??<<",
  };
  const workbook = () =>
    bookParts({
      sheets: {
        Plan: sheet('<row r="1"><c r="A1"><f>GRIT.SIZE(30)</f><v>600</v></c></row>'),
        reference: sheet('<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1"><f>Plan!A1*2</f><v>1200</v></c></row>'),
      },
      strings: ["<si><t>mine</t></si>"],
      behind:
        '<definedNames><definedName name="Own">Plan!$A$1</definedName></definedNames><calcPr calcId="191029" fullCalcOnLoad="0"/>',
      leads: [
        { type: "calcChain", target: "calcChain.xml" },
        { type: "sheetMetadata", target: "metadata.xml" },
      ],
      types: { "xl/calcChain.xml": "application/vnd.openxmlformats-officedocument.spreadsheetml.calcChain+xml" },
      parts: OTHERS,
    });

  it("has every part that ours is not in, byte for byte", () => {
    const before = workbook();
    const { parts } = copyOf(zipped(before));
    const changed = Object.keys(before).filter((name) => parts[name] !== before[name]);
    expect(changed).toEqual([
      "[Content_Types].xml",
      "xl/workbook.xml",
      "xl/_rels/workbook.xml.rels",
      SHEET1,
      // One format more, for the sheets that are added.
      "xl/styles.xml",
      "xl/calcChain.xml",
    ]);
    const added = Object.keys(parts).filter((name) => before[name] === undefined);
    expect(added).toEqual(["xl/worksheets/sheet3.xml", "xl/worksheets/sheet4.xml"]);
  });

  it("forgets the order of calculation and asks for a full one", () => {
    const { parts } = copyOf(zipped(workbook()));
    expect(JSON.stringify(parts)).not.toMatch(/calcChain/);
    expect(parts["xl/workbook.xml"]).toContain('<calcPr calcId="191029" fullCalcOnLoad="1"/>');
    const without = copyOf(book({ sheets: { Plan: sheet("") }, behind: "<definedNames/><extLst/>" })).parts;
    expect(without["xl/workbook.xml"]).toContain('<definedNames/><calcPr fullCalcOnLoad="1"/><extLst/>');
  });

  it("has the published table behind the user's sheets, under a name that is free", () => {
    const { parts, report } = copyOf(zipped(workbook()));
    expect(report.sheets).toEqual(["Reference (2)", "About this copy"]);
    const [, from, to] = /<f>LOOKUP\(30,'Reference \(2\)'!\$A\$(\d+):\$A\$(\d+)\)<\/f>/.exec(parts[SHEET1]!)!;
    const xml = parts["xl/worksheets/sheet3.xml"]!;
    // ASTM E11-17, Table 1: No. 4 is 4750 µm. The trade's finest listed grit is 3000, 15000 / 3000 = 5 µm.
    expect(xml).toContain(`<c r="A${from}"><v>4</v></c><c r="B${from}"><v>4750</v></c>`);
    expect(xml).toContain(`<c r="A${to}"><v>3000</v></c><c r="B${to}"><v>5</v></c>`);
  });

  it("has a note of what was done, and no table where nothing is looked up", () => {
    const { parts, report } = copyOf(
      book({ sheets: { Plan: sheet('<row r="1"><c r="A1"><f>GRIT.LADDER(1,2)</f><v>3</v></c></row>') } }),
    );
    expect(report.sheets).toEqual(["About this copy"]);
    const note = read(zipped(parts)).Sheets["About this copy"]!;
    const texts = Object.values(note).map((cell) => (cell as { v?: unknown }).v);
    const told = [
      "9.8.7",
      "2 May 2031",
      "US units",
      "Grind dust.",
      "Plan",
      "A1",
      "=GRIT.LADDER(1,2)",
      "GRIT.LADDER has no plain formula: a search.",
    ];
    for (const one of told)
      expect(
        texts.some((text) => String(text).includes(one)),
        one,
      ).toBe(true);
  });

  it("opens in two readers that know nothing of our code, with formulas, values and the user's own sheet", async () => {
    const { bytes } = copyOf(zipped({ ...workbook(), "xl/charts/chart1.xml": "<x/>" }));
    const first = read(bytes);
    expect(first.SheetNames).toEqual(["Plan", "reference", "Reference (2)", "About this copy"]);
    expect(first.Sheets.Plan!.A1).toMatchObject({ v: 600, f: expect.stringMatching(/^LOOKUP\(30,/) });
    const second = new ExcelJS.Workbook();
    await second.xlsx.load(bytes as unknown as ExcelJS.Buffer);
    expect(second.getWorksheet("reference")!.getCell("A1").value).toBe("mine");
    expect(second.getWorksheet("Plan")!.getCell("A1").result).toBe(600);
  });

  it("is sound where a writer has a prefix for everything, and declares that of the relationships on each sheet", async () => {
    const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const parts = bookParts({
      sheets: { Plan: sheet('<row r="1"><c r="A1"><f>GRIT.SIZE(30)</f><v>600</v></c></row>') },
    });
    parts["xl/workbook.xml"] =
      `<x:workbook xmlns:x="${MAIN}"><x:sheets><x:sheet name="Plan" sheetId="7" d:id="rId1" xmlns:d="http://schemas.openxmlformats.org/officeDocument/2006/relationships"/></x:sheets></x:workbook>`;
    const { bytes, parts: after } = copyOf(zipped(parts));
    const wrong: string[] = [];
    for (const name of [
      "xl/workbook.xml",
      "xl/worksheets/sheet2.xml",
      "xl/worksheets/sheet3.xml",
      "[Content_Types].xml",
    ]) {
      new DOMParser({ onError: (_level, message) => wrong.push(message) }).parseFromString(after[name]!, "text/xml");
    }
    expect(wrong).toEqual([]);
    expect(read(bytes).SheetNames).toEqual(["Plan", "Reference", "About this copy"]);
  });
});
