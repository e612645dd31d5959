/**
 * Price-only copies: what was chosen is there, and nothing else is, searched for in every part as text and as numbers.
 */
import { read } from "@e965/xlsx";
import ExcelJS from "exceljs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { book, bookParts, MAIN, type Parts, STYLES, sheet, unzipped, zipped } from "./copy-files";

/** Figures and words that must not get out; no digit of them is anywhere in what is chosen. */
const SECRETS = [
  "41237.85",
  "41237",
  "0.3175",
  "31.75",
  "Secret margin",
  "Cost of crew",
  "Ruth Estimator",
  "supplier.example",
];

const FIGURES = [41237.85, 0.3175, 31.75];

function leaksIn(parts: Parts): string[] {
  return Object.entries(parts).flatMap(([name, text]) => {
    const words = SECRETS.filter((secret) => text.includes(secret) || name.includes(secret));
    // A figure may be written otherwise: 3.175E-1, or 0.31750000000000006 as a computer adds it up.
    const numbers = [...text.matchAll(/-?\d*\.?\d+(?:E[-+]?\d+)?/gi)].map(([number]) => Math.abs(Number(number)));
    const figures = FIGURES.filter((figure) => numbers.some((number) => Math.abs(number / figure - 1) < 1e-6));
    return [...words, ...figures].map((secret) => `${secret} in ${name}`);
  });
}

const LEAD = (type: string, target: string, external = false) =>
  `<Relationship Id="rId${type}" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/${type}" Target="${target}"${external ? ' TargetMode="External"' : ""}/>`;
const LEADS = (...list: string[]) =>
  `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${list.join("")}</Relationships>`;

/** A quote with cost and margin wherever a workbook can have them. */
const quote = (): Parts =>
  bookParts({
    sheets: {
      Quote: sheet(
        '<row r="1"><c r="A1" s="1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row>' +
          '<row r="2"><c r="A2" t="str"><f>"Floor "&amp;Costs!A1</f><v>Floor one</v></c><c r="B2" s="2"><f>Costs!B2/(1-Margin)</f><v>60421.0</v></c><c r="D2" s="3"><v>41237.85</v></c></row>' +
          '<row r="3" hidden="1"><c r="A3" t="s"><v>2</v></c><c r="B3"><v>0.31750000000000006</v></c></row>' +
          '<row r="4"><c r="A4" t="inlineStr"><is><t>Merged</t></is></c><c r="B4"><v>41237.85</v></c><c r="C4" t="b"><f>TRUE</f><v>1</v></c></row>',
        '<mergeCells count="1"><mergeCell ref="A4:B4"/></mergeCells>' +
          '<conditionalFormatting sqref="B2"><cfRule type="cellIs" dxfId="0" priority="1" operator="lessThan"><formula>41237.85</formula></cfRule></conditionalFormatting>' +
          '<dataValidations count="1"><dataValidation type="list" sqref="B1" prompt="Secret margin"><formula1>Costs!$A$1:$A$3</formula1></dataValidation></dataValidations>' +
          '<hyperlinks><hyperlink ref="A1" r:id="rIdhyperlink"/><hyperlink ref="A2" location="Costs!A1" tooltip="Cost of crew"/></hyperlinks>' +
          '<pageMargins left="0.7" right="0.7" top="0.75" bottom="0.75" header="0.3" footer="0.3"/><pageSetup paperSize="9" orientation="landscape" r:id="rIdprinterSettings"/>' +
          '<headerFooter><oddFooter>Secret margin 31.75</oddFooter></headerFooter><legacyDrawing r:id="rIdvmlDrawing"/><tableParts count="1"><tablePart r:id="rIdtable"/></tableParts>' +
          '<extLst><ext uri="{1}"><x>Secret margin</x></ext></extLst>',
        '<cols><col min="1" max="1" width="20" customWidth="1"/><col min="4" max="4" width="9" hidden="1" style="3"/></cols>',
      ),
      Costs: sheet('<row r="1"><c r="A1" t="s"><v>3</v></c><c r="B2"><v>41237.85</v></c></row>'),
      "Secret margin": sheet('<row r="1"><c r="A1"><v>0.3175</v></c></row>'),
    },
    hidden: ["Secret margin"],
    strings: [
      "<si><t>Quote for the hall</t></si>",
      '<si><r><rPr><b/></rPr><t xml:space="preserve">Price </t></r><r><t>&amp; terms</t></r><rPh sb="0" eb="1"><t>Secret margin</t></rPh></si>',
      "<si><t>Secret margin</t></si>",
      "<si><t>Cost of crew</t></si>",
    ],
    styles: STYLES(
      '<numFmts count="2"><numFmt numFmtId="164" formatCode="&quot;$&quot;#,##0"/><numFmt numFmtId="165" formatCode="&quot;Cost of crew 41237&quot;"/></numFmts>',
      '<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0" applyFont="1"><alignment horizontal="center"/></xf><xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="1" applyNumberFormat="1"/><xf numFmtId="165" fontId="0" fillId="0" borderId="0" xfId="0"/>',
      '<dxfs count="1"><dxf><numFmt numFmtId="166" formatCode="&quot;Secret margin&quot;"/></dxf></dxfs><extLst><ext><x>31.75</x></ext></extLst>',
    ).replace('<cellStyle name="Normal"', '<cellStyle name="Secret margin 31.75" xfId="0"/><cellStyle name="Normal"'),
    behind:
      '<definedNames><definedName name="Margin" comment="Secret margin">0.3175</definedName><definedName name="_xlnm.Print_Area" localSheetId="0">Quote!$A$1:$D$9</definedName></definedNames><calcPr calcId="1"/>',
    leads: [
      { type: "calcChain", target: "calcChain.xml" },
      { type: "theme", target: "theme/theme1.xml" },
      { type: "externalLink", target: "externalLinks/externalLink1.xml" },
      { type: "pivotCacheDefinition", target: "pivotCache/pivotCacheDefinition1.xml" },
      { type: "http://schemas.microsoft.com/office/2017/10/relationships/person", target: "persons/person.xml" },
      { type: "customXml", target: "../customXml/item1.xml" },
    ],
    rootLeads: [
      {
        type: "http://schemas.openxmlformats.org/package/2006/relationships/metadata/core-properties",
        target: "docProps/core.xml",
      },
      { type: "extended-properties", target: "docProps/app.xml" },
      { type: "custom-properties", target: "docProps/custom.xml" },
    ],
    parts: {
      "xl/worksheets/_rels/sheet1.xml.rels": LEADS(
        LEAD("hyperlink", "https://supplier.example/41237", true),
        LEAD("printerSettings", "../printerSettings/printerSettings1.bin"),
        LEAD("vmlDrawing", "../drawings/vmlDrawing1.vml"),
        LEAD("table", "../tables/table1.xml"),
        LEAD("comments", "../comments1.xml"),
        LEAD("drawing", "../drawings/drawing1.xml"),
      ),
      "xl/drawings/_rels/drawing1.xml.rels": LEADS(LEAD("chart", "../charts/chart1.xml")),
      "xl/drawings/drawing1.xml": "<d/>",
      "xl/charts/chart1.xml": "<c:v>41237.85</c:v>",
      "xl/drawings/vmlDrawing1.vml": "<v>Ruth Estimator</v>",
      "xl/tables/table1.xml":
        '<table displayName="T"><calculatedColumnFormula>41237.85*2</calculatedColumnFormula></table>',
      "xl/comments1.xml": "<author>Ruth Estimator</author><t>Secret margin 31.75</t>",
      "xl/printerSettings/printerSettings1.bin": "Ruth Estimator",
      "xl/calcChain.xml": "<calcChain/>",
      "xl/externalLinks/externalLink1.xml": "<cell>4.123785E4</cell>",
      "xl/pivotCache/pivotCacheDefinition1.xml": '<n v="0.3175"/>',
      "xl/persons/person.xml": "Ruth Estimator",
      "customXml/item1.xml": "<cost>41237.85</cost>",
      "docProps/core.xml": "<creator>Ruth Estimator</creator>",
      "docProps/app.xml": "<t>Secret margin</t>",
      "docProps/custom.xml": "<p>0.3175</p>",
      "docProps/thumbnail.jpeg": "41237",
      "xl/media/Secret margin.png": "png",
      "xl/theme/theme1.xml":
        '<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" name="Secret margin"><a:themeElements><a:clrScheme name="Office"/></a:themeElements><a:custClrLst><a:custClr name="Cost of crew"/></a:custClrLst></a:theme>',
      "unknown/part.xml": "41237.85",
    },
  });

const copyOf = (parts: Parts, keep: Parameters<typeof priceOnlyCopy>[1]["keep"]) => {
  const { bytes, report } = priceOnlyCopy(zipped(parts), { keep });
  return { bytes, report, parts: unzipped(bytes) };
};

describe("a price-only copy of a sheet", () => {
  it("has no cost and no margin in any part, though the workbook has them everywhere", () => {
    const before = quote();
    expect(leaksIn(before).length).toBeGreaterThan(30);
    expect(leaksIn(copyOf(before, [{ sheet: "Quote" }]).parts)).toEqual([]);
  });

  it("has just the parts that a workbook of one sheet needs", () => {
    expect(Object.keys(copyOf(quote(), [{ sheet: "Quote" }]).parts)).toEqual([
      "[Content_Types].xml",
      "_rels/.rels",
      "xl/workbook.xml",
      "xl/_rels/workbook.xml.rels",
      "xl/worksheets/sheet1.xml",
      "xl/styles.xml",
      "xl/sharedStrings.xml",
      "xl/theme/theme1.xml",
    ]);
  });

  it("has the values with their formats and styles, in two readers", async () => {
    const { bytes } = copyOf(quote(), [{ sheet: "quote" }]);
    const first = read(bytes, { cellNF: true });
    expect(first.SheetNames).toEqual(["Quote"]);
    expect(first.Sheets.Quote!.A1!.v).toBe("Quote for the hall");
    expect(first.Sheets.Quote!.B1!.v).toBe("Price & terms");
    expect(first.Sheets.Quote!.A2!.v).toBe("Floor one");
    expect(first.Sheets.Quote!.B2).toMatchObject({ v: 60421, w: "$60,421", z: '"$"#,##0' });
    expect(first.Sheets.Quote!.B2!.f).toBeUndefined();
    expect(first.Sheets.Quote!.C4!.v).toBe(true);
    const second = new ExcelJS.Workbook();
    await second.xlsx.load(bytes as unknown as ExcelJS.Buffer);
    const cells = second.getWorksheet("Quote")!;
    expect(cells.getCell("A1").font.bold).toBe(true);
    expect(cells.getCell("A1").alignment.horizontal).toBe("center");
    expect(cells.getCell("B2").value).toBe(60421);
    expect(cells.getCell("B2").numFmt).toBe('"$"#,##0');
    expect(cells.getCell("A4").isMerged).toBe(true);
    expect(cells.getColumn(1).width).toBe(20);
    expect(cells.pageSetup.orientation).toBe("landscape");
  });

  it("says what it has and what it has not", () => {
    const { report } = copyOf(quote(), [{ sheet: "Quote" }]);
    // Chosen: A1, B1, A2, B2, A4, C4; hidden or covered: D2, A3, B3, B4. Formulas: A2, B2, C4.
    expect(report.sheets).toEqual([
      { name: "Quote", cells: 6, formulas: 3, unknown: 0, hiddenGone: 4, hiddenKept: 0, errors: 0, pictures: 0 },
    ]);
    expect(report.gone).toEqual(["Costs", "Secret margin"]);
    expect(Object.fromEntries(report.without.map(({ what, count }) => [what, count]))).toEqual({
      // Not the one that says what is printed.
      names: 1,
      comments: 1,
      charts: 1,
      tables: 1,
      "links to other files": 2,
      "custom parts": 1,
      "document properties": 3,
      "headers and footers": 1,
      "conditional formats": 1,
      "data validations": 1,
    });
    expect(report.cautions).toEqual([]);
  });
});

describe("a price-only copy of a range", () => {
  it("has its cells and no others", () => {
    const { bytes, parts } = copyOf(quote(), [{ sheet: "Quote", range: "$B$1:B2" }]);
    expect(leaksIn(parts)).toEqual([]);
    const cells = read(bytes).Sheets.Quote!;
    expect(Object.keys(cells).filter((key) => !key.startsWith("!"))).toEqual(["B1", "B2"]);
    expect(parts["xl/sharedStrings.xml"]).not.toContain("hall");
  });

  it("has the hidden cells that are in it, and says so", () => {
    const { bytes, report } = copyOf(quote(), [{ sheet: "Quote", range: "A1:B3" }]);
    expect(read(bytes).Sheets.Quote!.B3!.v).toBeCloseTo(0.3175, 12);
    expect(report.cautions.map(({ text }) => text)).toEqual([
      '2 cells in hidden rows or columns on "Quote" will be in the copy: the chosen range includes them.',
    ]);
  });

  it("has no value beneath a merged cell that reaches into it", () => {
    const { parts } = copyOf(quote(), [{ sheet: "Quote", range: "B4:C4" }]);
    expect(leaksIn(parts)).toEqual([]);
  });

  it("can be several ranges of several sheets, which come in the workbook's order", () => {
    const { bytes } = copyOf(quote(), [
      { sheet: "Costs", range: "A1" },
      { sheet: "Quote", range: "A1" },
      { sheet: "Quote", range: "C:C" },
    ]);
    const { SheetNames, Sheets } = read(bytes);
    expect(SheetNames).toEqual(["Quote", "Costs"]);
    expect(Object.keys(Sheets.Quote!).filter((key) => !key.startsWith("!"))).toEqual(["A1", "C4"]);
  });
});

describe("a price-only copy of any range of any sheet", () => {
  /** A cell of each kind; what it holds is found nowhere else. */
  const KINDS = ["shared", "inline", "formula", "number"] as const;
  const mark = (row: number, column: number) => `mark-${row}-${column}-`;
  const figure = (row: number, column: number) => 7_000_000 + 1000 * row + column;

  it("has exactly the marks and figures of its cells", () => {
    const side = 6;
    const grid = fc.array(fc.constantFrom(...KINDS), { minLength: side * side, maxLength: side * side });
    const corner = fc.integer({ min: 0, max: side - 1 });
    fc.assert(
      fc.property(grid, corner, corner, corner, corner, (kinds, r1, r2, c1, c2) => {
        const [top, bottom, left, right] = [Math.min(r1, r2), Math.max(r1, r2), Math.min(c1, c2), Math.max(c1, c2)];
        const strings: string[] = [];
        const places = kinds.map((kind, i) => ({ kind, row: Math.floor(i / side), column: i % side }));
        const cell = ({ kind, row, column }: (typeof places)[number]) => {
          const r = `${"ABCDEF"[column]}${row + 1}`;
          if (kind === "number") return `<c r="${r}"><v>${figure(row, column)}</v></c>`;
          if (kind === "inline") return `<c r="${r}" t="inlineStr"><is><t>${mark(row, column)}</t></is></c>`;
          if (kind === "formula")
            return `<c r="${r}" t="str"><f>"${mark(row, column)}"&amp;""</f><v>${mark(row, column)}</v></c>`;
          strings.push(`<si><t>${mark(row, column)}</t></si>`);
          return `<c r="${r}" t="s"><v>${strings.length - 1}</v></c>`;
        };
        const rows = Array.from({ length: side }, (_, row) => {
          const cells = places.filter((place) => place.row === row).map(cell);
          return `<row r="${row + 1}">${cells.join("")}</row>`;
        });
        const before = book({ sheets: { Quote: sheet(rows.join("")) }, strings });
        const range = `${"ABCDEF"[left]}${top + 1}:${"ABCDEF"[right]}${bottom + 1}`;
        const text = JSON.stringify(unzipped(priceOnlyCopy(before, { keep: [{ sheet: "Quote", range }] }).bytes));
        for (const { kind, row, column } of places) {
          const isChosen = row >= top && row <= bottom && column >= left && column <= right;
          const sought = kind === "number" ? String(figure(row, column)) : mark(row, column);
          if (text.includes(sought) !== isChosen) throw new Error(`${kind} ${sought}: chosen ${isChosen}, in ${range}`);
        }
      }),
      { numRuns: 150 },
    );
  });
});

describe("a price-only copy of what other programs write", () => {
  it("keeps dates that are counted from 1904", async () => {
    const before = book({ sheets: { Quote: sheet('<row r="1"><c r="A1"><v>0</v></c></row>') } });
    const parts = unzipped(before);
    parts["xl/workbook.xml"] = parts["xl/workbook.xml"]!.replace("<workbookPr/>", '<workbookPr date1904="1"/>');
    expect(copyOf(parts, [{ sheet: "Quote" }]).parts["xl/workbook.xml"]).toContain('date1904="1"');
  });

  it("reads cells and rows that do not say where they are, under a writer's prefix", () => {
    const xml = `<x:worksheet xmlns:x="${MAIN}"><x:sheetData><x:row><x:c><x:v>1</x:v></x:c><x:c t="inlineStr"><x:is><x:t>two</x:t></x:is></x:c></x:row><x:row><x:c><x:v>3</x:v></x:c></x:row></x:sheetData></x:worksheet>`;
    const { bytes } = copyOf(unzipped(book({ sheets: { Quote: xml } })), [{ sheet: "Quote", range: "A1:B2" }]);
    const cells = read(bytes).Sheets.Quote!;
    expect([cells.A1!.v, cells.B1!.v, cells.A2!.v]).toEqual([1, "two", 3]);
  });

  it("of exceljs has its styles, and not its hidden sheet", async () => {
    const made = new ExcelJS.Workbook();
    made.creator = "Ruth Estimator";
    const cells = made.addWorksheet("Quote");
    cells.getCell("B2").value = { formula: "Costs!A1*2", result: 82.5 } as ExcelJS.CellFormulaValue;
    cells.getCell("B2").style = {
      numFmt: "0.000",
      font: { bold: true, color: { argb: "FFC00000" } },
      fill: { type: "pattern", pattern: "solid", fgColor: { argb: "FFFFFF00" } },
    };
    cells.getCell("B2").note = "Secret margin";
    made.addWorksheet("Costs", { state: "veryHidden" }).getCell("A1").value = 41237.85;
    const { bytes } = priceOnlyCopy(new Uint8Array(await made.xlsx.writeBuffer()), { keep: [{ sheet: "Quote" }] });
    expect(leaksIn(unzipped(bytes))).toEqual([]);
    const copy = new ExcelJS.Workbook();
    await copy.xlsx.load(bytes as unknown as ExcelJS.Buffer);
    const b2 = copy.getWorksheet("Quote")!.getCell("B2");
    expect(b2.value).toBe(82.5);
    expect(b2).toMatchObject({ numFmt: "0.000", font: { bold: true, color: { argb: "FFC00000" } } });
    expect(b2.fill).toMatchObject({ pattern: "solid", fgColor: { argb: "FFFFFF00" } });
  });
});

describe("a choice that is not in the workbook", () => {
  it.each([
    [[], "Choose at least one sheet or range"],
    [[{ sheet: "Qoute" }], 'This workbook has no sheet "Qoute". It has "Quote", "Costs", "Secret margin".'],
    [[{ sheet: "Quote", range: "the top" }], '"the top" isn\'t a range of cells. Write it like A1:F30.'],
  ])("is refused in words: %j", (keep, words) => {
    expect(() => copyOf(quote(), keep)).toThrow(words);
  });
});
