/**
 * What workbooks of other programs and of old versions taught: each case is one that a public workbook had, written anew.
 * Rules by ECMA-376 part 1 (numFmts and dxfs 18.8.15, number formats 18.8.31, workbook 18.2.27) and the zip specification.
 */
import { read } from "@e965/xlsx";
import { DOMParser } from "@xmldom/xmldom";
import ExcelJS from "exceljs";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { shownFormat } from "../../../addin/share/parts/number-format";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { CATALOGUE } from "../../catalogue";
import { book, bookParts, MAIN, type Parts, STYLES, sheet, unzipped, zipped } from "./copy-files";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
const calculating = (bytes: Uint8Array) => {
  const copy = calculatingCopy(bytes, OPTIONS);
  return { ...copy, parts: unzipped(copy.bytes) };
};
const priceOnly = (bytes: Uint8Array, name = "Plan") => {
  const copy = priceOnlyCopy(bytes, { keep: [{ sheet: name }] });
  return { ...copy, parts: unzipped(copy.bytes) };
};
const SHEET1 = "xl/worksheets/sheet1.xml";

function faultsIn(parts: Parts): string[] {
  const faults: string[] = [];
  for (const [name, xml] of Object.entries(parts)) {
    new DOMParser({ onError: (_, message) => faults.push(`${name}: ${message}`) }).parseFromString(xml, "text/xml");
  }
  return faults;
}

it("formats of conditional formats, which have numbers of their own, do not replace those of cells", async () => {
  const styles = STYLES(
    '<numFmts count="1"><numFmt numFmtId="164" formatCode="0.000"/></numFmts>',
    '<xf numFmtId="14" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/><xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0"/>',
    '<dxfs count="2"><dxf><numFmt numFmtId="14" formatCode="0.00%"/></dxf><dxf><numFmt numFmtId="164" formatCode="0%"/></dxf></dxfs>',
  );
  const { bytes, parts } = priceOnly(
    book({
      styles,
      sheets: { Plan: sheet('<row r="1"><c r="A1" s="1"><v>45000</v></c><c r="B1" s="2"><v>1.5</v></c></row>') },
    }),
  );
  expect(parts["xl/styles.xml"]).toContain('<numFmts count="1"><numFmt numFmtId="164" formatCode="0.000"/></numFmts>');
  const second = new ExcelJS.Workbook();
  await second.xlsx.load(bytes as unknown as ExcelJS.Buffer);
  // Serial day 45000 is 2023-03-15; built-in format 14 is a date.
  expect(second.worksheets[0]!.getCell("A1").value).toEqual(new Date(Date.UTC(2023, 2, 15)));
});

// What Excel shows by each: the first condition that is met, else the section without one.
it.each([
  ['[>=1000]"$"#,##0;"$"0.00', [5], '[>=10]General;"$"0.00'],
  ['[>=1000]"$"#,##0;"$"0.00', [5000], '[>=1000]"$"#,##0;General'],
  ['[=1]0" day";0" days"', [3], '[=0]General;0" days"'],
  ['[=1]0" day";0" days"', [0, 3], '[=1]General;0" days"'],
  ['[=1]0" day";0" days"', [1], '[=1]0" day";General'],
  ['[<41237]"below cost";0', [50000], "[<0]General;0"],
  ['[>=100]"dear";[<10]"cheap";0.0', [200, 50], '[>=100]"dear";[<0]General;0.0'],
] as const)("a format's condition is not lost: %s for %j", (code, shown, kept) => {
  expect(shownFormat(code, shown)).toBe(kept);
});

describe("a price-only copy has nothing of the workbook that nobody chose:", () => {
  it("a cell with an empty number of a shared text is empty, and not the first of the texts", () => {
    const { parts } = priceOnly(
      book({
        strings: ["<si><t>Secret margin</t></si>"],
        sheets: {
          Costs: sheet(""),
          Plan: sheet('<row r="1"><c r="A1" t="s"><v/></c><c r="B1" t="s"><v></v></c></row>'),
        },
      }),
    );
    expect(JSON.stringify(parts)).not.toContain("Secret margin");
    expect(parts[SHEET1]).toContain('<c r="A1"/><c r="B1"/>');
  });

  it("names of the theme's schemes, its extensions and its comments are gone, its colors stay", () => {
    const theme =
      '<a:theme xmlns:a="http://schemas.openxmlformats.org/drawingml/2006/main" xmlns:thm15="urn:thm15" name="Ruth"><a:themeElements><!-- Ruth --><a:clrScheme name="Ruth colors"><a:dk1><a:srgbClr val="102030"/></a:dk1><a:extLst><a:ext uri="{1}"><thm15:x id="Ruth"/></a:ext></a:extLst></a:clrScheme><a:fontScheme name="Ruth fonts"><a:majorFont><a:latin typeface="Carlito"/></a:majorFont></a:fontScheme><a:fmtScheme name="Ruth looks"/></a:themeElements></a:theme>';
    const { parts } = priceOnly(
      book({
        sheets: { Plan: sheet('<row r="1"><c r="A1"><v>1</v></c></row>') },
        leads: [{ type: "theme", target: "theme/theme1.xml" }],
        parts: { "xl/theme/theme1.xml": theme },
      }),
    );
    const after = parts["xl/theme/theme1.xml"]!;
    expect(after).not.toMatch(/Ruth|extLst|thm15/);
    expect(after).toContain('<dk1><srgbClr val="102030"/></dk1>');
    expect(after).toContain('<latin typeface="Carlito"/>');
    expect(faultsIn(parts)).toEqual([]);
  });

  it("alternate content and foreign attributes in fonts and texts leave sound XML, with the fallback", () => {
    const mc = 'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006"';
    const choice = (kept: string) =>
      `<mc:AlternateContent ${mc}><mc:Choice Requires="x99" xmlns:x99="urn:x99"><x99:secret val="Ruth"/></mc:Choice><mc:Fallback>${kept}</mc:Fallback></mc:AlternateContent>`;
    const { parts, bytes } = priceOnly(
      book({
        strings: [
          `<si><r><rPr><b/>${choice("<i/>")}</rPr><t xml:space="preserve" x14ac:knows="1">Price </t></r>${choice("<r><t>only</t></r>")}</si>`,
        ],
        styles: STYLES()
          .replace("<b/>", `<b x14ac:by="Ruth"/>${choice("<u/>")}`)
          .replace("</cellXfs>", '<xf numFmtId="0" fontId="1" fillId="0" borderId="0" xfId="0"/></cellXfs>'),
        sheets: { Plan: sheet('<row r="1"><c r="A1" t="s" s="1"><v>0</v></c></row>') },
      }),
    );
    expect(faultsIn(parts)).toEqual([]);
    expect(JSON.stringify(parts)).not.toMatch(/Ruth|x99|x14ac|mc:/);
    expect(parts["xl/styles.xml"]).toContain("<font><b/><u/>");
    expect(parts["xl/sharedStrings.xml"]).toContain(
      '<r><rPr><b/><i/></rPr><t xml:space="preserve">Price </t></r><r><t>only</t></r>',
    );
    expect(read(bytes).Sheets.Plan!.A1!.v).toBe("Price only");
  });

  it("a picture in a cell is called one, and not an error", () => {
    const { report, parts } = priceOnly(
      book({
        sheets: {
          Plan: sheet('<row r="1"><c r="A1" t="e" vm="1"><v>#VALUE!</v></c><c r="B1" t="e"><v>#N/A</v></c></row>'),
        },
      }),
    );
    expect(report.sheets[0]).toMatchObject({ cells: 1, errors: 1, pictures: 1, unknown: 0 });
    expect(report.cautions.map(({ text }) => text)).toEqual([
      '1 cell on "Plan" shows an error, such as #NAME?.',
      '1 picture in cells on "Plan" will not be in the copy.',
    ]);
    expect(parts[SHEET1]).not.toContain("#VALUE!");
  });
});

it("sheets of old code modules, which have no part, stop no copy", () => {
  const parts = bookParts({
    sheets: { Plan: sheet('<row r="1"><c r="A1"><f>GRIT.SIZE(30)</f><v>600</v></c></row>') },
  });
  parts["xl/workbook.xml"] = parts["xl/workbook.xml"]!.replace(
    "</sheets>",
    '<sheet name="Module1" sheetId="2" state="veryHidden" r:id=""/></sheets>',
  );
  const { report } = calculating(zipped(parts));
  expect(report.formulas).toBe(1);
  expect(priceOnly(zipped(parts)).report.gone).toEqual(["Module1"]);
  expect(() => priceOnly(zipped(parts), "Module1")).toThrow("no cells to copy");
});

describe("a name that is a bare constant", () => {
  const names =
    '<definedNames><definedName name="Margin">0.2</definedName><definedName name="System">"metric"</definedName><definedName name="Odd">"x"</definedName></definedNames>';
  const formula = (text: string) =>
    /<f>(.*?)<\/f>/.exec(
      calculating(
        book({ sheets: { Plan: sheet(`<row r="1"><c r="A1"><f>${text}</f><v>1</v></c></row>`) }, behind: names }),
      ).parts[SHEET1]!,
    )![1]!;

  it("is checked as the literal that it is, and is still called by its name", () => {
    expect(formula("GRIT.PRICEAT(800,Margin)")).toContain("800/(1-Margin)");
    expect(formula("GRIT.PRICEAT(800,Margin)")).not.toContain("ISNUMBER(Margin)");
  });

  it("may be a word for the whole call, and is refused where the literal would be", () => {
    expect(formula("GRIT.AREARATE(600,10,0.2,0.8,System)")).toContain("1000");
    expect(formula("GRIT.PRICEAT(800,Odd)")).toBe("#VALUE!");
  });
});

it.each([
  "'C:\\Program Files\\Office\\Library\\FUNCRES.XLAM'!GRIT.SIZE(30)",
  "'C:\\Office\\FUNCRES.XLAM'!_xldudf_GRIT_SIZE (30)",
  "Name.xla!_xldudf_GRIT_SIZE(30)",
  "[2]!_xldudf_GRIT_SIZE(30)",
  "[2]!GRIT.SIZE (30)",
  "_xldudf_GRIT_SIZE(30)",
])("a prefix before a call of ours goes with the call: %s", (call) => {
  const one = (formula: string) =>
    calculating(book({ sheets: { Plan: sheet(`<row r="1"><c r="A1"><f>1+${formula}*2</f><v>601</v></c></row>`) } }));
  expect(one(call).parts[SHEET1]).toBe(one("GRIT.SIZE(30)").parts[SHEET1]);
  const kept = one(call.replace("SIZE", "LADDER")).report.values[0]!;
  expect(kept.formula).toMatch(/^=1\+GRIT\.LADDER ?\(30\)\*2$/);
});

it("a value that LET has named is said to be one", () => {
  const { report } = calculating(
    book({
      sheets: {
        Plan: sheet('<row r="1"><c r="A1"><f>_xlfn.LET(_xlpm.x,30,GRIT.SIZE(_xlpm.x))</f><v>600</v></c></row>'),
      },
    }),
  );
  expect(report.values[0]).toMatchObject({ formula: "=LET(x,30,GRIT.SIZE(x))", reason: { kind: "lambda" } });
});

describe("what other programs and faults leave in a file", () => {
  const chartBook = (): Parts => {
    const parts = bookParts({ sheets: { Chart1: `<chartsheet xmlns="${MAIN}"/>` } });
    parts["xl/_rels/workbook.xml.rels"] = parts["xl/_rels/workbook.xml.rels"]!.replace(
      "relationships/worksheet",
      "relationships/chartsheet",
    );
    return parts;
  };

  it("a workbook of chart sheets alone is copied, and has no price-only copy", () => {
    const { bytes } = calculating(zipped(chartBook()));
    expect(read(bytes).SheetNames).toEqual(["Chart1", "About this copy"]);
    expect(() => priceOnly(zipped(chartBook()), "Chart1")).toThrow("with no cells to copy");
  });

  it("an empty list of sheets is refused in words", () => {
    const parts = bookParts({ sheets: { Plan: sheet("") } });
    parts["xl/workbook.xml"] = parts["xl/workbook.xml"]!.replace(/<sheets>.*<\/sheets>/, "<sheets/>");
    expect(() => calculating(zipped(parts))).toThrow("lists no sheets");
    expect(() => priceOnly(zipped(parts))).toThrow("lists no sheets");
  });

  it("a workbook none of whose sheets has a part is refused in words", () => {
    const parts = bookParts({ sheets: { Plan: sheet("") } });
    parts["xl/workbook.xml"] = parts["xl/workbook.xml"]!.replace(' r:id="rId1"', "");
    expect(() => calculating(zipped(parts))).toThrow('doesn\'t say where the sheet "Plan" is');
  });

  it("a sheet of a kind that nobody knows stops no copy", () => {
    const parts = bookParts({ sheets: { Plan: sheet("") } });
    const list = "xl/_rels/workbook.xml.rels";
    parts[list] = parts[list]!.replace("relationships/worksheet", "relationships/workshop");
    expect(unzipped(calculating(zipped(parts)).bytes)[list]).toContain('relationships/worksheet"');
  });

  it("a character that there is not stays as it is written", () => {
    const bytes = book({
      sheets: {
        Plan: sheet(
          '<row r="1"><c r="A1" t="str"><f>"&amp;#99999999;"&amp;GRIT.SIZE(30)</f><v>x &#99999999; &#xFFFFFFFF;</v></c></row>',
        ),
      },
    });
    expect(calculating(bytes).report.formulas).toBe(1);
    expect(priceOnly(bytes).report.sheets[0]!.cells).toBe(1);
  });

  it("a damaged file is found by its checksum", () => {
    const bytes = zipSync(
      Object.fromEntries(
        Object.entries(bookParts({ sheets: { Plan: sheet('<row r="1"><c r="A1"><v>12345</v></c></row>') } })).map(
          ([name, text]) => [name, strToU8(text)],
        ),
      ),
      { level: 0 },
    );
    const at = Buffer.from(bytes).indexOf("<v>12345</v>");
    bytes[at + 4] = "9".charCodeAt(0);
    expect(() => calculating(bytes)).toThrow(`${SHEET1} doesn't match its checksum`);
    expect(() => priceOnly(bytes)).toThrow(`${SHEET1} doesn't match its checksum`);
  });

  it("the settings of the calculation go behind the views, though these have extensions of their own", () => {
    const parts = bookParts({ sheets: { Plan: sheet("") }, behind: "<extLst/>" });
    parts["xl/workbook.xml"] = parts["xl/workbook.xml"]!.replace(
      "<workbookView/>",
      '<workbookView><extLst><ext uri="{1}"/></extLst></workbookView>',
    );
    expect(calculating(zipped(parts)).parts["xl/workbook.xml"]).toContain(
      '</sheets><calcPr fullCalcOnLoad="1"/><extLst/>',
    );
  });

  const utf16 = (text: string, bigEndian: boolean) => {
    const bytes = Buffer.from(`\uFEFF${text.replace('encoding="UTF-8"', 'encoding="UTF-16"')}`, "utf16le");
    return new Uint8Array(bigEndian ? bytes.swap16() : bytes);
  };

  it.each([false, true])(
    "parts in UTF-16 are read (big endian: %s), and say what they are when written",
    (bigEndian) => {
      const parts = bookParts({
        sheets: { Plan: sheet('<row r="1"><c r="A1"><f>GRIT.SIZE(30)</f><v>600</v></c></row>') },
      });
      const bytes = zipSync(
        Object.fromEntries(
          Object.entries(parts).map(([name, text]) => [name, name === SHEET1 ? utf16(text, bigEndian) : strToU8(text)]),
        ),
      );
      const { report, parts: after } = calculating(bytes);
      expect(report.formulas).toBe(1);
      expect(after[SHEET1]).toMatch(/^<\?xml version="1\.0" encoding="UTF-8"/);
      expect(read(priceOnly(bytes).bytes).Sheets.Plan!.A1!.v).toBe(600);
    },
  );

  it("folders parted by backslashes are read", () => {
    const parts = bookParts({ sheets: { Plan: sheet('<row r="1"><c r="A1"><v>7</v></c></row>') } });
    const bytes = zipped(
      Object.fromEntries(Object.entries(parts).map(([name, text]) => [name.replaceAll("/", "\\"), text])),
    );
    expect(read(priceOnly(bytes).bytes).Sheets.Plan!.A1!.v).toBe(7);
    expect(read(calculating(bytes).bytes).Sheets.Plan!.A1!.v).toBe(7);
  });
});

it("merged cells in great number hardly cost more than cells, and hide what they cover", () => {
  const rows = 10_000;
  const columns = ["A", "C", "E", "G"];
  const data = Array.from(
    { length: rows },
    (_, i) => `<row r="${i + 1}"><c r="A${i + 1}"><v>1</v></c><c r="B${i + 1}"><v>2</v></c></row>`,
  );
  const merges = Array.from({ length: rows }, (_, i) =>
    columns.map(
      (column) => `<mergeCell ref="${column}${i + 1}:${String.fromCharCode(column.charCodeAt(0) + 1)}${i + 1}"/>`,
    ),
  );
  const of = (list: readonly string[]) => {
    const bytes = book({ sheets: { Plan: sheet(data.join(""), `<mergeCells>${list.join("")}</mergeCells>`) } });
    const before = process.cpuUsage();
    const { report } = priceOnly(bytes);
    const { user } = process.cpuUsage(before);
    return { cells: report.sheets[0]!.cells, user };
  };
  const without = of([]);
  // From the last row up: a list of merged cells need not be in order.
  const merged = of(merges.flat().reverse());
  expect([without.cells, merged.cells]).toEqual([2 * rows, rows]);
  // Forty thousand, looked through for each row, took ten times as long.
  expect(merged.user).toBeLessThan(5 * without.user);
});
