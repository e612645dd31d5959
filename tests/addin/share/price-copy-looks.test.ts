/** What makes a quote look right in a price-only copy, and what of its looks could tell a figure or a name. */
import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import { shownFormat } from "../../../addin/share/parts/number-format";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { type Book, book, STYLES, sheet, unzipped } from "./copy-files";

type Keep = Parameters<typeof priceOnlyCopy>[1]["keep"];
const WHOLE: Keep = [{ sheet: "Our quote" }];

const CELLS =
  '<row r="1"><c r="A1"><v>1</v></c><c r="B1" s="1"><v>0</v></c></row><row r="9"><c r="C9"><v>5</v></c></row>';
const FROZEN =
  '<sheetViews><sheetView showGridLines="0" tabSelected="1" topLeftCell="A2" workbookViewId="0"><pane xSplit="1" ySplit="3" topLeftCell="B5" activePane="bottomRight" state="frozen"/><selection pane="bottomRight" activeCell="Z99"/></sheetView></sheetViews>';

function copyOf(
  keep: Keep,
  {
    behind = "",
    before = "",
    ...more
  }: { behind?: string; before?: string } & Omit<Partial<Book>, "behind"> & { names?: string } = {},
) {
  const bytes = book({
    sheets: { Costs: sheet(""), "Our quote": sheet(CELLS, behind, before) },
    ...more,
    behind: more.names,
  });
  const { bytes: copy, report } = priceOnlyCopy(bytes, { keep });
  const parts = unzipped(copy);
  return { xml: parts["xl/worksheets/sheet1.xml"]!, workbook: parts["xl/workbook.xml"]!, parts, report, bytes: copy };
}

describe("the looks of a price-only copy", () => {
  it("are frozen headings and no grid lines as before, and not which cell was selected", () => {
    const { xml } = copyOf(WHOLE, { before: FROZEN });
    expect(xml).toContain(
      '<sheetView showGridLines="0" topLeftCell="A2" workbookViewId="0"><pane xSplit="1" ySplit="3" topLeftCell="B5" activePane="bottomRight" state="frozen"/></sheetView>',
    );
    expect(xml).not.toContain("Z99");
  });

  it("are no frozen headings where none of their cells was chosen", () => {
    // Scrolled to A2, three rows are frozen, 2 to 4, and one column, A.
    const frozen = (range: string) => copyOf([{ sheet: "Our quote", range }], { before: FROZEN }).xml.includes("<pane");
    expect([frozen("B5:C9"), frozen("B4:C9"), frozen("A5:C9")]).toEqual([false, true, true]);
  });

  it("are its page breaks and its page numbers", () => {
    const behind =
      '<pageMargins left="0.5" right="0.5" top="1" bottom="1" header="0.3" footer="0.3"/><pageSetup paperSize="9" orientation="landscape" fitToHeight="0" r:id="rId1"/>' +
      '<headerFooter differentFirst="1"><oddFooter>&amp;LPage &amp;P of &amp;N</oddFooter><firstHeader>&amp;Z&amp;F</firstHeader></headerFooter><rowBreaks count="1" manualBreakCount="1"><brk id="40" max="16383" man="1"/></rowBreaks>';
    const { xml, report } = copyOf(WHOLE, { behind });
    expect(xml.slice(xml.indexOf("<pageMargins"))).toBe(
      '<pageMargins left="0.5" right="0.5" top="1" bottom="1" header="0.3" footer="0.3"/><pageSetup paperSize="9" fitToHeight="0" orientation="landscape"/>' +
        '<headerFooter differentFirst="1"><oddFooter>&amp;LPage &amp;P of &amp;N</oddFooter></headerFooter><rowBreaks count="1" manualBreakCount="1"><brk id="40" max="16383" man="1"/></rowBreaks></worksheet>',
    );
    // &Z&F is the file's path and name.
    expect(report.without).toEqual([{ kind: "pageTexts", what: "headers and footers", count: 1 }]);
  });

  it.each(["&amp;F", "&amp;A", "&amp;G", "&amp;D", "Ruth", "&amp;P 31.75", "&amp;&quot;Arial&quot;&amp;P"])(
    "are no header or footer with more than page numbers: %s",
    (text) => {
      const { xml } = copyOf(WHOLE, { behind: `<headerFooter><oddHeader>${text}</oddHeader></headerFooter>` });
      expect(xml).not.toContain("oddHeader");
    },
  );

  const names =
    "<definedNames><definedName name=\"_xlnm.Print_Area\" localSheetId=\"1\">'Our quote'!$A$1:$C$4,'Our quote'!$A$6:$C$9</definedName>" +
    "<definedName name=\"_xlnm.Print_Titles\" localSheetId=\"1\">'Our quote'!$A:$A,'Our quote'!$1:$3</definedName>" +
    '<definedName name="_xlnm.Print_Area" localSheetId="0">Costs!$A$1</definedName><definedName name="Margin">0.3</definedName></definedNames>';

  it("are its print areas and the rows on top of each page, for the sheet's new place", async () => {
    const { workbook, report, bytes } = copyOf(WHOLE, { names });
    expect(workbook).toContain(
      "<definedName name=\"_xlnm.Print_Area\" localSheetId=\"0\">'Our quote'!$A$1:$C$4,'Our quote'!$A$6:$C$9</definedName>" +
        "<definedName name=\"_xlnm.Print_Titles\" localSheetId=\"0\">'Our quote'!$A:$A,'Our quote'!$1:$3</definedName></definedNames>",
    );
    expect(workbook).not.toMatch(/Costs|Margin/);
    expect(report.without).toEqual([{ kind: "names", what: "names", count: 2 }]);
    const reader = new ExcelJS.Workbook();
    await reader.xlsx.load(bytes as unknown as ExcelJS.Buffer);
    expect(reader.getWorksheet("Our quote")!.pageSetup.printArea).toContain("A1:C4");
  });

  it("are print areas of chosen ranges only where they are in these", () => {
    const printed = (range: string) => copyOf([{ sheet: "Our quote", range }], { names }).workbook.includes("_xlnm");
    expect([printed("A1:C9"), printed("A1:C8"), printed("A1:B9")]).toEqual([true, false, false]);
  });

  it("are no logo, and the report says so", () => {
    const relationship = (type: string, target: string) =>
      `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/${type}" Target="${target}"/></Relationships>`;
    const { parts, report } = copyOf(WHOLE, {
      behind: '<drawing r:id="rId1"/>',
      parts: {
        "xl/worksheets/_rels/sheet2.xml.rels": relationship("drawing", "../drawings/drawing1.xml"),
        "xl/drawings/drawing1.xml": "<d/>",
        "xl/drawings/_rels/drawing1.xml.rels": relationship("image", "../media/image1.png"),
        "xl/media/image1.png": "logo",
      },
    });
    expect(Object.keys(parts).filter((name) => /media|drawing/.test(name))).toEqual([]);
    expect(report.without).toEqual([{ kind: "pictures", what: "pictures", count: 1 }]);
  });
});

describe("the styles of a price-only copy", () => {
  it("have no font, fill, format or style that no kept cell has", () => {
    const styles = STYLES(
      '<numFmts count="2"><numFmt numFmtId="164" formatCode="0.0;&quot;below cost&quot;"/><numFmt numFmtId="165" formatCode="&quot;margin 31&quot;"/></numFmts>',
      '<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0"/><xf numFmtId="165" fontId="1" fillId="0" borderId="0" xfId="1"/>',
      '<dxfs count="1"><dxf><numFmt numFmtId="166" formatCode="&quot;too low&quot;"/></dxf></dxfs>',
    ).replace('<b/><sz val="11"/><name val="Calibri"/>', '<b/><sz val="11"/><name val="Ruth Hand"/>');
    const xml = copyOf(WHOLE, { styles }).parts["xl/styles.xml"]!;
    expect(xml).not.toMatch(/below cost|margin 31|too low|Ruth Hand/);
    expect(xml).toContain('<numFmts count="1"><numFmt numFmtId="164" formatCode="0.0;General"/></numFmts>');
  });

  // Which section shows what: ECMA-376 part 1, 18.8.31 (positive; negative; zero; text), worked out by hand.
  it.each([
    ['0.0" h"', [3], '0.0" h"'],
    ['0.0" h"', [], "General"],
    ['#,##0;"loss "#,##0', [4, 0], "#,##0;General"],
    ['#,##0;"loss "#,##0', [-4], '#,##0;"loss "#,##0'],
    ['0;-0;"free; no cost"', [1], "0;-0;General"],
    ['0;-0;"free; no cost"', [0], '0;-0;"free; no cost"'],
    ['0;-0;0;"Cost of "@', [1, -1, 0], "0;-0;0;General"],
    ['0;-0;0;"Cost of "@', ["text"], '0;-0;0;"Cost of "@'],
    ['"Nr "0;@', [2, "text"], '"Nr "0;@'],
    ['[>=100]"dear";[<10]"cheap";0.0', [50], "[>=100]General;[<0]General;0.0"],
    ['[>=100]"dear";[<10]"cheap";0.0', [100, 9], '[>=100]"dear";[<10]"cheap";0.0'],
    ["0;\\41237", [1], "0;General"],
    ["0;41237", [1], "0;General"],
    ['_($* #,##0.00_);_($* (#,##0.00);_($* "-"??_);_(@_)', [1], "_($* #,##0.00_);_($* (#,##0.00);General;_(@_)"],
    ["d/m/yyyy\\ h:mm;@", [45000], "d/m/yyyy\\ h:mm;@"],
    ["[Red]0.0;[h]:mm", [], "[Red]0.0;[h]:mm"],
  ] as const)("of the format %s keep for %j: %s", (code, shown, kept) => {
    expect(shownFormat(code, shown)).toBe(kept);
  });
});

describe("cells with an error in a price-only copy", () => {
  it("are counted, and the user is told before the quote is sent", () => {
    const bytes = book({
      sheets: {
        Quote: sheet(
          '<row r="1"><c r="A1" t="e"><f>GRIT.SIZE(30)</f><v>#NAME?</v></c><c r="B1" t="e"><v>#N/A</v></c></row>',
        ),
      },
    });
    const { report } = priceOnlyCopy(bytes, { keep: [{ sheet: "Quote" }] });
    expect(report.sheets[0]).toMatchObject({ cells: 2, errors: 2 });
    expect(report.cautions.map(({ text }) => text)).toEqual(['2 cells on "Quote" show an error, such as #NAME?.']);
    const [cell] = priceOnlyCopy(bytes, { keep: [{ sheet: "Quote", range: "A1" }] }).report.cautions;
    expect(cell!.text).toBe('1 cell on "Quote" shows an error, such as #NAME?.');
  });
});
