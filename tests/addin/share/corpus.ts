/**
 * Workbooks that other libraries write: exceljs and SheetJS, each with a mixture of what they can, and these again with parts
 * that no library here writes, as Excel has them. Always the same ones: what is in each comes from its number.
 */
import { utils, type WorkBook, write } from "@e965/xlsx";
import ExcelJS from "exceljs";
import { type Parts, unzipped, zipped } from "./copy-files";

/** Numbers from 0 to below 1, the same for the same seed. */
export function numbersFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1_664_525 + 1_013_904_223) % 4_294_967_296;
    return state / 4_294_967_296;
  };
}

export interface Sample {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export const PNG = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
const CALL = "GRIT.AREARATE(A2,15)";

type Feature = (sheet: ExcelJS.Worksheet, book: ExcelJS.Workbook) => void;

const FEATURES: readonly Feature[] = [
  (sheet) => sheet.mergeCells("C1:D2"),
  (sheet) => {
    sheet.getCell("A3").note = "Ask about the joints";
    sheet.getCell("B3").note = { texts: [{ font: { bold: true }, text: "Rita: " }, { text: "check" }] };
  },
  (sheet) => {
    sheet.getCell("B1").value = { richText: [{ text: "Bold ", font: { bold: true } }, { text: "& <plain>" }] };
  },
  (sheet) => {
    sheet.getCell("B4").value = { text: "Supplier", hyperlink: "https://supplier.example/tools?a=1&b=2" };
  },
  (sheet) => {
    sheet.addTable({
      name: `T${sheet.id}`,
      ref: "F1",
      totalsRow: true,
      columns: [{ name: "Tool" }, { name: "Price & more", totalsRowFunction: "sum" }],
      rows: [
        ["metal", 20],
        ["resin", 30],
      ],
    });
  },
  (sheet) => {
    sheet.getCell("I1").dataValidation = { type: "list", allowBlank: true, formulae: ['"x,y"'] };
    sheet.getCell("I2").dataValidation = { type: "whole", operator: "between", formulae: [1, 10] };
  },
  (sheet) => {
    sheet.addConditionalFormatting({
      ref: "A1:A9",
      rules: [
        { type: "expression", priority: 1, formulae: ["A1>5"], style: { numFmt: "0.00%" } as object },
        { type: "dataBar", priority: 2, cfvo: [{ type: "min" }, { type: "max" }], gradient: false } as never,
        {
          type: "iconSet",
          priority: 3,
          iconSet: "3Triangles",
          cfvo: [
            { type: "percent", value: 0 },
            { type: "percent", value: 33 },
            { type: "percent", value: 67 },
          ],
        } as never,
        {
          type: "colorScale",
          priority: 4,
          cfvo: [{ type: "min" }, { type: "max" }],
          color: [{ argb: "FFFF0000" }, { argb: "FF00FF00" }],
        } as never,
      ],
    });
  },
  (sheet, book) => {
    sheet.addImage(book.addImage({ base64: PNG, extension: "png" }), "H5:I8");
  },
  (sheet, book) => book.definedNames.add(`'${sheet.name.replace(/'/g, "''")}'!$A$1`, `Own_${sheet.id}`),
  (sheet) => {
    sheet.getCell("A5").numFmt = '[>=1000]"$"#,##0;"$"0.00';
    sheet.getCell("A6").numFmt = "d mmm yyyy";
    sheet.getCell("A6").value = new Date(Date.UTC(2024, 3, 5));
  },
  (sheet) => {
    sheet.getColumn(5).hidden = true;
    sheet.getRow(7).hidden = true;
    sheet.getRow(8).outlineLevel = 1;
  },
  (sheet) => sheet.fillFormula("J1:J5", "A1+1", [1, 2, 3, 4, 5]),
  (sheet) => {
    sheet.getCell("K1").value = { formula: "SUM(A1:A3*1)", result: 6, shareType: "array", ref: "K1" } as never;
    sheet.getCell("K2").value = { error: "#N/A" } as never;
    sheet.getCell("K3").value = true;
  },
  (sheet) => {
    sheet.pageSetup = { orientation: "landscape", fitToPage: true, printArea: "A1:D9", printTitlesRow: "1:2" };
    sheet.headerFooter.oddFooter = "&LPage &P of &N&R&F";
  },
  (sheet) => {
    sheet.views = [{ state: "frozen", xSplit: 1, ySplit: 2, showGridLines: false }];
    sheet.autoFilter = "A1:B1";
  },
  (sheet) => {
    sheet.getCell("A1").style = {
      font: { name: "Arial", size: 14, color: { theme: 4 } },
      fill: {
        type: "gradient",
        gradient: "angle",
        degree: 0,
        stops: [
          { position: 0, color: { argb: "FF0000FF" } },
          { position: 1, color: { argb: "FFFFFFFF" } },
        ],
      },
      border: { top: { style: "thin" }, diagonal: { up: true, style: "dashed" } },
      alignment: { wrapText: true, textRotation: 45 },
    };
  },
];

async function exceljsSample(seed: number): Promise<Sample> {
  const next = numbersFrom(seed);
  const book = new ExcelJS.Workbook();
  book.creator = "Rita Example";
  book.properties.date1904 = next() < 0.2;
  const sheets = 1 + Math.floor(next() * 3);
  for (let n = 0; n < sheets; n++) {
    const sheet = book.addWorksheet(["Plan", "Rita's & own", "Übersicht €"][n]!, {
      state: n === 1 && next() < 0.4 ? "hidden" : "visible",
    });
    for (let row = 1; row <= 9; row++) {
      sheet.getCell(row, 1).value = row * 10;
      sheet.getCell(row, 2).value = row % 3 === 0 ? `text ${row} <&>` : { formula: CALL, result: row };
    }
    for (const feature of FEATURES) if (next() < 0.35) feature(sheet, book);
    if (next() < 0.2) await sheet.protect("secret", { selectLockedCells: true });
  }
  const bytes = new Uint8Array(
    await book.xlsx.writeBuffer({ useSharedStrings: next() < 0.6, useStyles: true } as never),
  );
  return { name: `exceljs ${seed}`, bytes };
}

type Kind =
  | "xlsx"
  | "xlsm"
  | "xlsb"
  | "biff8"
  | "biff5"
  | "ods"
  | "fods"
  | "xlml"
  | "csv"
  | "html"
  | "sylk"
  | "dif"
  | "rtf";
/** Kinds that are no workbooks of the format, and must be refused. */
const OTHERS: readonly Kind[] = ["xlsb", "biff8", "biff5", "ods", "fods", "xlml", "csv", "html", "sylk", "dif", "rtf"];

function sheetjsSample(seed: number, kind: Kind): Sample {
  const next = numbersFrom(seed);
  const book: WorkBook = utils.book_new();
  const sheets = 1 + Math.floor(next() * 3);
  for (let n = 0; n < sheets; n++) {
    const sheet = utils.aoa_to_sheet([
      ["Tool", 10, true, new Date(Date.UTC(2024, 1, 2))],
      ["A & <b>", 20, null, 1e-7],
      ["", 1e12, "  spaces  ", -0.5],
    ]);
    sheet.B4 = { t: "n", v: 7, f: CALL.replace("A2", "B2") };
    sheet.C4 = { t: "e", v: 42 };
    sheet["!ref"] = "A1:D4";
    if (next() < 0.4) sheet["!merges"] = [utils.decode_range("C2:D2")];
    if (next() < 0.4) sheet["!cols"] = [{ wch: 20 }, { hidden: true }];
    if (next() < 0.4) sheet["!autofilter"] = { ref: "A1:D1" };
    if (next() < 0.4) utils.cell_set_hyperlink(sheet.A1, "https://supplier.example/", "Supplier");
    if (next() < 0.4) utils.cell_add_comment(sheet.B1, "check", "Rita");
    if (next() < 0.4) utils.sheet_set_array_formula(sheet, "D4:D4", "SUM(B1:B3*1)");
    if (next() < 0.4) sheet.B2.z = '0.0" h"';
    utils.book_append_sheet(book, sheet, ["Plan", "Rita's", "Übersicht"][n]!);
  }
  book.Workbook = {
    WBProps: { date1904: next() < 0.2 },
    Names:
      next() < 0.5
        ? [
            { Name: "Margin", Ref: "0.2" },
            { Name: "Own", Ref: "Plan!$A$1" },
          ]
        : [],
    Sheets: book.SheetNames.map((_, i) => ({ Hidden: i === 1 ? 2 : 0 })),
  } as WorkBook["Workbook"];
  if (kind === "xlsm") book.vbaraw = new Uint8Array([1, 2, 3]) as never;
  const made = write(book, { type: "array", bookType: kind, bookSST: next() < 0.5, compression: next() < 0.7 });
  return { name: `SheetJS ${kind} ${seed}`, bytes: new Uint8Array(made as ArrayBuffer) };
}

const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

function lead(parts: Parts, part: string, type: string, target: string): void {
  const list = part.replace(/([^/]+)$/, "_rels/$1.rels");
  const empty = '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"></Relationships>';
  const one = `<Relationship Id="rIdMore${type.length}" Type="${type.includes(":") ? type : `${LEADS}/${type}`}" Target="${target}"/>`;
  parts[list] = (parts[list] ?? empty)
    .replace(/<Relationships([^>]*)\/>/, "<Relationships$1></Relationships>")
    .replace("</Relationships>", `${one}</Relationships>`);
}

/** Parts as Excel writes them that none of the libraries knows. */
const PARTS: readonly (readonly [what: string, add: (parts: Parts) => void])[] = [
  [
    "threaded comments",
    (parts) => {
      parts["xl/threadedComments/threadedComment1.xml"] =
        '<ThreadedComments xmlns="http://schemas.microsoft.com/office/spreadsheetml/2018/threadedcomments"><threadedComment ref="A1" personId="{1}" id="{2}"><text>how much?</text></threadedComment></ThreadedComments>';
      lead(
        parts,
        "xl/worksheets/sheet1.xml",
        "http://schemas.microsoft.com/office/2017/10/relationships/threadedComment",
        "../threadedComments/threadedComment1.xml",
      );
    },
  ],
  [
    "slicers and x14 formats",
    (parts) => {
      parts["xl/slicers/slicer1.xml"] =
        '<slicers xmlns="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"/>';
      lead(
        parts,
        "xl/worksheets/sheet1.xml",
        "http://schemas.microsoft.com/office/2007/relationships/slicer",
        "../slicers/slicer1.xml",
      );
      parts["xl/worksheets/sheet1.xml"] = parts["xl/worksheets/sheet1.xml"]!.replace(
        "</worksheet>",
        '<extLst><ext uri="{78C0D931-6437-407d-A8EE-F0AAD7539E65}" xmlns:x14="http://schemas.microsoft.com/office/spreadsheetml/2009/9/main"><x14:conditionalFormattings><x14:conditionalFormatting xmlns:xm="http://schemas.microsoft.com/office/excel/2006/main"><x14:cfRule type="expression" priority="9" id="{3}"><xm:f>GRIT.SIZE(A1)&gt;5</xm:f></x14:cfRule><xm:sqref>A1:A9</xm:sqref></x14:conditionalFormatting></x14:conditionalFormattings></ext></extLst></worksheet>',
      );
    },
  ],
  [
    "a pivot table",
    (parts) => {
      parts["xl/pivotTables/pivotTable1.xml"] =
        '<pivotTableDefinition xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" name="P" cacheId="1"/>';
      lead(parts, "xl/worksheets/sheet1.xml", "pivotTable", "../pivotTables/pivotTable1.xml");
    },
  ],
  [
    "links to other workbooks",
    (parts) => {
      parts["xl/externalLinks/externalLink1.xml"] =
        '<externalLink xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><externalBook><sheetNames><sheetName val="Costs"/></sheetNames></externalBook></externalLink>';
      lead(parts, "xl/workbook.xml", "externalLink", "externalLinks/externalLink1.xml");
    },
  ],
  [
    "strict namespaces",
    (parts) => {
      for (const [name, xml] of Object.entries(parts)) {
        parts[name] = xml
          .replaceAll(
            "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
            "http://purl.oclc.org/ooxml/spreadsheetml/main",
          )
          .replaceAll(`${LEADS}`, "http://purl.oclc.org/ooxml/officeDocument/relationships");
      }
    },
  ],
  [
    "custom parts and a chart",
    (parts) => {
      parts["customXml/item1.xml"] = "<theirs/>";
      lead(parts, "xl/workbook.xml", "customXml", "../customXml/item1.xml");
      parts["xl/drawings/drawing9.xml"] =
        '<xdr:wsDr xmlns:xdr="http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"/>';
      parts["xl/charts/chart1.xml"] =
        '<c:chartSpace xmlns:c="http://schemas.openxmlformats.org/drawingml/2006/chart"/>';
      lead(parts, "xl/drawings/drawing9.xml", "chart", "../charts/chart1.xml");
    },
  ],
];

const EXCELJS = 110;
const SHEETJS = 90;
/** More than its zip may be read as text: pictures would not survive it. */
const isOfText = ({ bytes }: Sample) => !/\.png/.test(Buffer.from(bytes).toString("latin1"));

/** Those that are workbooks, and those that are none. */
export async function corpus(): Promise<{ workbooks: Sample[]; others: Sample[] }> {
  const byExceljs = await Promise.all(Array.from({ length: EXCELJS }, (_, seed) => exceljsSample(seed + 1)));
  const bySheetjs = Array.from({ length: SHEETJS }, (_, seed) =>
    sheetjsSample(seed + 1, seed % 3 === 0 ? "xlsm" : "xlsx"),
  );
  const base = byExceljs.filter(isOfText).slice(0, 4);
  const more = base.flatMap(({ name, bytes }) =>
    PARTS.map(([what, add]) => {
      const parts = unzipped(bytes);
      add(parts);
      return { name: `${name} with ${what}`, bytes: zipped(parts) };
    }),
  );
  return {
    workbooks: [...byExceljs, ...bySheetjs, ...more],
    others: OTHERS.map((kind, i) => sheetjsSample(i + 1, kind)),
  };
}

/** A text with a piece lost, doubled or overwritten. */
function mutated(text: string, next: () => number): string {
  const at = Math.floor(next() * text.length);
  const length = 1 + Math.floor(next() ** 3 * 200);
  const kind = next();
  if (kind < 0.3) return text.slice(0, at) + text.slice(at + length);
  if (kind < 0.5) return text.slice(0, at) + text.slice(at, at + length) + text.slice(at);
  if (kind < 0.6) return text.slice(0, at);
  const odd = ["<", ">", '"', "&", "&#xFFFFFFF;", "</", "<!--", "-1", "1E999", "\u0000", " ", "GRIT.", "$", "!"];
  return text.slice(0, at) + odd[Math.floor(next() * odd.length)] + text.slice(at + (next() < 0.5 ? 1 : 0));
}

/** A workbook with one to three of its parts damaged, or the file itself. */
export function damaged({ name, bytes }: Sample, seed: number): Sample {
  const next = numbersFrom(seed * 7_919);
  if (next() < 0.2) {
    const torn = bytes.slice(0, next() < 0.5 ? Math.floor(next() * bytes.length) : bytes.length);
    for (let n = 0; n < 3 && torn.length > 0; n++) torn[Math.floor(next() * torn.length)] = Math.floor(next() * 256);
    return { name: `${name}, torn ${seed}`, bytes: torn };
  }
  const parts = unzipped(bytes);
  const names = Object.keys(parts).filter((part) => /\.(xml|rels)$/.test(part));
  for (let n = 0; n <= Math.floor(next() * 3); n++) {
    const part = names[Math.floor(next() * names.length)]!;
    if (next() < 0.08) delete parts[part];
    else if (parts[part] !== undefined) parts[part] = mutated(parts[part], next);
  }
  return { name: `${name}, damaged ${seed}`, bytes: zipped(parts) };
}
