/** How the sheets look that a calculating copy has besides the user's. What the elements mean: ECMA-376 part 1, 18.3 and 18.8. */
import { read } from "@e965/xlsx";
import ExcelJS from "exceljs";
import { expect, it } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { CATALOGUE } from "../../catalogue";
import { book, STYLES, sheet, unzipped, zipped } from "./copy-files";

const LONG = "Grind dust. ".repeat(40).trim();
const styles = STYLES().replaceAll("Calibri", "Carlito").replace("<cellXfs>", '<cellXfs count="1">');
const bytes = book({
  sheets: { Plan: sheet('<row r="1"><c r="A1"><f>GRIT.SIZE(30)</f><v>600</v></c></row>') },
  styles,
});
const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [LONG] };
const copy = calculatingCopy(bytes, OPTIONS).bytes;
const parts = unzipped(copy);
const added = [parts["xl/worksheets/sheet2.xml"]!, parts["xl/worksheets/sheet3.xml"]!];

it("are printed across, one page wide", () => {
  for (const xml of added) {
    expect(xml).toContain('<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><cols>');
    expect(xml).toContain('<pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/></worksheet>');
  }
});

it("have bold headings in the workbook's own font", () => {
  for (const xml of added) {
    expect(xml).toContain('<rPr><b/><sz val="11"/><rFont val="Carlito"/></rPr>');
    expect(xml).not.toContain("<rPr><b/></rPr>");
  }
});

it("have texts that go on in a next line, by one format behind the workbook's own", async () => {
  // One format before, number 0; so the new one is number 1, and the list has two.
  expect(parts["xl/styles.xml"]).toBe(
    styles.replace(
      /<cellXfs count="1">(.*)<\/cellXfs>/,
      '<cellXfs count="2">$1<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf></cellXfs>',
    ),
  );
  const reader = new ExcelJS.Workbook();
  await reader.xlsx.load(copy as unknown as ExcelJS.Buffer);
  const note = reader.getWorksheet("About this copy")!;
  const row = note.getColumn(1).values.indexOf(LONG);
  const cell = note.getCell(row, 1);
  expect(cell.alignment.wrapText).toBe(true);
  expect(note.getCell(row, 4).master.address).toBe(cell.address);
  // 40 times "Grind dust. ", 479 letters in lines of 34 + 18 + 44 + 44 = 140: four lines of 15 points.
  expect(note.getRow(row).height).toBe(60);
});

it("tell the partner what to change, and the sender that costs are inside", () => {
  const texts = Object.values(read(copy).Sheets["About this copy"]!).map((cell) => String((cell as { v?: unknown }).v));
  expect(texts.some((text) => text.startsWith("Change the inputs as before"))).toBe(true);
  expect(texts.some((text) => text.startsWith("If your workbook shows costs and margin, so does this copy."))).toBe(
    true,
  );
});

it("are sound in a workbook without formats", () => {
  const bare = unzipped(bytes);
  bare["xl/styles.xml"] = '<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"/>';
  const after = calculatingCopy(zipped(bare), OPTIONS).bytes;
  expect(unzipped(after)["xl/worksheets/sheet3.xml"]).not.toMatch(/ s="/);
  expect(read(after).SheetNames).toEqual(["Plan", "Reference", "About this copy"]);
});
