/** Copies of workbooks that other programs wrote, with the plain formulas of all our functions; and of what is none. */
import { read as readBook, utils, write } from "@e965/xlsx";
import ExcelJS from "exceljs";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { calculatingCopy } from "../../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../../addin/share/price-copy";
import { CATALOGUE } from "../../catalogue";
import { calculated } from "./copy-calculated";
import { book, bookParts, sheet, unzipped, zipped } from "./copy-files";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };

const CALLS = CATALOGUE.flatMap(({ examples }) => examples.map(({ call }) => call.slice(1)));
/** What is left of ours in the formulas of a workbook. */
const oursIn = (bytes: Uint8Array) =>
  Object.values(unzipped(bytes)).flatMap((xml) =>
    [...xml.matchAll(/<f[ >][^<]*GRIT[._][^<]*</g)].map(([formula]) => formula),
  );

async function exceljsBook(): Promise<Uint8Array> {
  const made = new ExcelJS.Workbook();
  const calls = made.addWorksheet("Calls");
  for (const [i, formula] of CALLS.entries()) {
    calls.getCell(i + 1, 1).value = { formula, result: i } as ExcelJS.CellFormulaValue;
    const stored = formula.replaceAll("GRIT.", "_xldudf_GRIT_");
    calls.getCell(i + 1, 2).value = { formula: stored, result: i } as ExcelJS.CellFormulaValue;
  }
  const user = made.addWorksheet("User's own", { pageSetup: { orientation: "landscape" } });
  user.getCell("A1").value = 12;
  user.getCell("A1").note = "keep this";
  user.getCell("A2").value = { formula: "A1*2", result: 24 } as ExcelJS.CellFormulaValue;
  user.fillFormula("C1:C5", "A1+1", [1, 2, 3, 4, 5]);
  user.addTable({ name: "T", ref: "E1", columns: [{ name: "a" }, { name: "b" }], rows: [[1, 2]] });
  user.getCell("G1").dataValidation = { type: "list", allowBlank: true, formulae: ['"x,y"'] };
  user.addConditionalFormatting({
    ref: "A1:A9",
    rules: [{ type: "expression", priority: 1, formulae: ["A1>5"], style: {} }],
  });
  const png = "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==";
  user.addImage(made.addImage({ base64: png, extension: "png" }), "H1:I3");
  made.definedNames.add("'User''s own'!$A$1", "Own");
  return new Uint8Array(await made.xlsx.writeBuffer());
}

describe("a workbook that exceljs wrote", async () => {
  const before = await exceljsBook();
  const { bytes, report } = calculatingCopy(before, OPTIONS);

  it("has no call of ours in any formula, and every call is a plain formula or a listed value", () => {
    expect(oursIn(before).length).toBe(2 * CALLS.length);
    expect(oursIn(bytes)).toEqual([]);
    expect(report.formulas + report.values.length).toBe(2 * CALLS.length);
    const known = new Set(CATALOGUE.filter(({ noPlain }) => !noPlain).map(({ id }) => id));
    // A maker's own scale, or a list of grits, typed as an array has no plain formula.
    const needless = report.values.filter(
      ({ formula }) => !formula.includes("{") && known.has(/^=GRIT\.([A-Z]+)\(/.exec(formula)![1]!),
    );
    expect(needless).toEqual([]);
  });

  it("has the user's own parts byte for byte", () => {
    const was = unzipped(before);
    const is = unzipped(bytes);
    const changed = Object.keys(was).filter((name) => is[name] !== was[name]);
    expect(changed.sort()).toEqual([
      "[Content_Types].xml",
      "docProps/app.xml",
      "xl/_rels/workbook.xml.rels",
      "xl/styles.xml",
      "xl/workbook.xml",
      "xl/worksheets/sheet1.xml",
    ]);
    // Only one format more, for the sheets that are added.
    const one = /<xf [^>]*><alignment vertical="top" wrapText="1"\/><\/xf>(?=<\/cellXfs>)/;
    const uncounted = (xml: string) => xml.replace(/<cellXfs count="\d+"/, "<cellXfs");
    expect(uncounted(is["xl/styles.xml"]!).replace(one, "")).toBe(uncounted(was["xl/styles.xml"]!));
    // Only its list of sheets, of which the copy has more.
    expect(is["docProps/app.xml"]).toBe(was["docProps/app.xml"]!.replace(/<HeadingPairs>.*<\/TitlesOfParts>/s, ""));
  });

  it("opens again with the user's note, picture, table, rules and name", async () => {
    const copy = new ExcelJS.Workbook();
    await copy.xlsx.load(bytes as unknown as ExcelJS.Buffer);
    expect(copy.worksheets.map(({ name }) => name)).toEqual(["Calls", "User's own", "Reference", "About this copy"]);
    const user = copy.getWorksheet("User's own")!;
    expect(user.getCell("A1").note).toBe("keep this");
    expect(user.getCell("C5").formula).toBe("A5+1");
    expect(user.getImages()).toHaveLength(1);
    expect(user.getTable("T")).toBeDefined();
    expect(user.getCell("G1").dataValidation.formulae).toEqual(['"x,y"']);
    expect(copy.definedNames.getRanges("Own").ranges).toEqual(["'User''s own'!$A$1"]);
    expect(copy.getWorksheet("Calls")!.getCell("B1").result).toBe(0);
  });
});

describe("the copy calculates by itself, its tables included", async () => {
  // The examples of the doc comments that give one number or word; their sources stand beside them there.
  const examples = CATALOGUE.flatMap((entry) => entry.examples).filter(
    ({ call, value }) => !call.includes("{") && /^(?:-?[\d.]+(?:E[-+]?\d+)?|"[^"]*")$/i.test(value),
  );
  const made = new ExcelJS.Workbook();
  const cells = made.addWorksheet("Examples");
  for (const [i, { call }] of examples.entries()) {
    cells.getCell(i + 1, 1).value = { formula: call.slice(1), result: -1 } as ExcelJS.CellFormulaValue;
  }
  const { bytes, report } = calculatingCopy(new Uint8Array(await made.xlsx.writeBuffer()), OPTIONS);
  const listed = new Set(report.values.map(({ place }) => place));
  const valueAt = calculated(bytes);
  const checked = examples
    .map((example, i) => ({ ...example, place: `A${i + 1}` }))
    .filter((e) => !listed.has(e.place));

  it("holds for most of the examples", () => {
    expect(checked.length).toBeGreaterThan(60);
  });

  it.each(checked)("$call → $value ($source)", ({ value, place }) => {
    if (value.startsWith('"')) expect(valueAt(place)).toBe(value.slice(1, -1));
    else expect(Number(valueAt(place)) / (Number(value) || 1)).toBeCloseTo(Number(value) ? 1 : 0, 9);
  });
});

describe("a workbook that SheetJS wrote", () => {
  it("is copied either way", () => {
    const cells = utils.aoa_to_sheet([
      [24, 30],
      [{ t: "n", v: 3600, f: "GRIT.AREARATE(A1,B1)" }, "text"],
    ]);
    const made = utils.book_new(cells, "Plan");
    const bytes = new Uint8Array(write(made, { type: "array", bookType: "xlsx" }) as ArrayBuffer);
    const { Plan } = readBook(calculatingCopy(bytes, OPTIONS).bytes).Sheets;
    expect(Plan!.A2).toMatchObject({ v: 3600, f: expect.not.stringContaining("GRIT") });
    expect(Plan!.B2!.v).toBe("text");
    const price = readBook(priceOnlyCopy(bytes, { keep: [{ sheet: "Plan", range: "A2:B2" }] }).bytes).Sheets.Plan!;
    expect([price.A1, price.A2!.v, price.A2!.f, price.B2!.v]).toEqual([undefined, 3600, undefined, "text"]);
  });
});

describe("what is no workbook is refused in words", () => {
  const ole = (stream: string) => {
    const bytes = new Uint8Array(4096);
    bytes.set([0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1]);
    for (const [i, letter] of [...stream].entries()) bytes[1024 + 2 * i] = letter.charCodeAt(0);
    return bytes;
  };
  const without = (part: string, instead: (xml: string) => string = (xml) => xml) => {
    const parts = bookParts({ sheets: { Plan: sheet(""), Costs: sheet("") } });
    const kept = Object.entries(parts).filter(([name]) => name !== part);
    return zipped(Object.fromEntries(kept.map(([name, xml]) => [name, instead(xml)])));
  };
  const whole = book({ sheets: { Plan: sheet("") } });
  it.each([
    ["nothing", new Uint8Array(), "This file is empty"],
    ["a text", strToU8("area,hours\n1,2"), "This isn't an Excel workbook (.xlsx). Save it as an Excel Workbook"],
    ["half a file", whole.slice(0, whole.length / 2), "This file is damaged and can't be unpacked"],
    ["an old workbook", ole("Workbook"), "This is an old workbook (.xls). Save it as"],
    ["an encrypted one", ole("EncryptedPackage"), "This workbook is encrypted with a password."],
    ["another zip", zipSync({ "a.txt": strToU8("a") }), "its list of contents ([Content_Types].xml) is missing"],
    ["no sheet list", without("xl/workbook.xml"), "its list of sheets (xl/workbook.xml) is missing."],
    ["no sheet", without("xl/worksheets/sheet2.xml"), 'the sheet "Costs" (xl/worksheets/sheet2.xml) is missing'],
    [
      "a torn sheet",
      book({ sheets: { Plan: "<worksheet><sheetData><row><c><f>GRIT.SIZE(4)" } }),
      "<sheetData> isn't closed",
    ],
    ["no way to it", without("xl/_rels/workbook.xml.rels"), 'it doesn\'t say where the sheet "Plan" is.'],
    [
      "a binary one",
      without("", (xml) => xml.replace("xl/workbook.xml", "xl/workbook.bin")),
      "binary workbook (.xlsb)",
    ],
  ])("%s", (_what, bytes, words) => {
    expect(() => calculatingCopy(bytes, OPTIONS)).toThrow(words);
    expect(() => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] })).toThrow(words);
  });

  it("but parts that nobody knows are no reason to refuse", () => {
    const odd = {
      ...bookParts({ sheets: { Plan: sheet("") } }),
      "x/_rels/y.rels": "<<<not xml",
      "z.xml": "<a><b></a>",
    };
    expect(unzipped(calculatingCopy(zipped(odd), OPTIONS).bytes)["z.xml"]).toBe("<a><b></a>");
    expect(priceOnlyCopy(zipped(odd), { keep: [{ sheet: "Plan" }] }).report.gone).toEqual([]);
  });
});
