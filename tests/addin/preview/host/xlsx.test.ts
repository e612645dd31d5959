/**
 * The emulated workbook as a file: written, then read by two packages, and every cell held against what the host says of
 * it. What the format asks for is from ECMA-376 part 1 (clauses 18 and 21.2) and [MS-XLSX].
 */
import { read as readBook, type WorkBook } from "@e965/xlsx";
import ExcelJS from "exceljs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { storedFormula } from "../../../../addin/preview/host/xlsx-formula";
import { calculatingCopy } from "../../../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../../../addin/share/price-copy";
import { insertPlan } from "../../../../addin/sheet";
import { CATALOGUE } from "../../../catalogue";
import { unzipped } from "../../share/copy-files";
import { floor, planFor } from "../../sheet/agreement";
import { type GritWorkbook, named, openGrit } from "../../sheet/workbook";
import { FIRST_SHEET, writeEverything } from "./everything";

const LONG_MS = 120_000;

interface HostCell {
  readonly formula: string | undefined;
  readonly value: unknown;
  readonly format: string;
}

/** Every cell that is not blank, as the real client reads it, by "sheet!address". */
async function hostCells(): Promise<Map<string, HostCell>> {
  return Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.load("items/name");
    await context.sync();
    const used = worksheets.items.map((sheet) =>
      sheet.getUsedRange().load("rowIndex,columnIndex,formulas,values,numberFormat"),
    );
    await context.sync();
    const cells = new Map<string, HostCell>();
    used.forEach(({ rowIndex, columnIndex, formulas, values, numberFormat }, i) => {
      values.forEach((line, r) => {
        line.forEach((value, c) => {
          const written = formulas[r]![c];
          // A text may begin like a formula, but it then is its own value.
          const formula = String(written).startsWith("=") && written !== value ? String(written).slice(1) : undefined;
          if (value === "" && !formula) return;
          const address = `${columnName(columnIndex + c)}${rowIndex + r + 1}`;
          cells.set(`${worksheets.items[i]!.name}!${address}`, { formula, value, format: numberFormat[r]![c] });
        });
      });
    });
    return cells;
  });
}

const columnName = (index: number): string =>
  (index < 26 ? "" : columnName(Math.floor(index / 26) - 1)) + String.fromCharCode(65 + (index % 26));

/** How Excel shows what the file has: [MS-XLSX] 2.2.2. */
const shown = (formula: string) => formula.replaceAll("_xldudf_GRIT_", "GRIT.").replaceAll("_xlfn.", "");

function exceljsCells(book: ExcelJS.Workbook): Map<string, HostCell> {
  const cells = new Map<string, HostCell>();
  for (const sheet of book.worksheets) {
    sheet.eachRow((row) =>
      row.eachCell((cell) => {
        const { formula } = cell;
        const held = cell.value as any;
        const value = formula ? (cell.result ?? "") : held;
        if (value === null) return;
        cells.set(`${sheet.name}!${cell.address}`, {
          formula: formula ? shown(formula) : undefined,
          value: (value as any)?.error ?? serial(value),
          format: cell.numFmt ?? "General",
        });
      }),
    );
  }
  return cells;
}

/** exceljs reads a number in a date's format as a date; days are counted from 1970-01-01, which is 25569. */
const serial = (value: unknown) => (value instanceof Date ? value.getTime() / 86_400_000 + 25_569 : value);

function sheetjsCells(book: WorkBook): Map<string, HostCell> {
  const cells = new Map<string, HostCell>();
  for (const name of book.SheetNames) {
    for (const [address, cell] of Object.entries(book.Sheets[name]!)) {
      if (address.startsWith("!") || cell.t === "z") continue;
      cells.set(`${name}!${address}`, {
        formula: cell.f === undefined ? undefined : shown(cell.f),
        value: cell.t === "e" ? cell.w : cell.v,
        format: cell.z ?? "General",
      });
    }
  }
  return cells;
}

async function readers(bytes: Uint8Array) {
  const book = new ExcelJS.Workbook();
  await book.xlsx.load(bytes.buffer.slice(0) as ArrayBuffer);
  const other = readBook(bytes, { cellFormula: true, cellNF: true, cellStyles: true });
  return { book, other, readings: [exceljsCells(book), sheetjsCells(other)] };
}

type Read = Awaited<ReturnType<typeof readers>>;

/** Every cell of the host's in both readings, and nothing that the host has not. Says how many there were. */
function expectSame(readings: readonly Map<string, HostCell>[], host: Map<string, HostCell>): number {
  for (const reading of readings) {
    expect([...reading.keys()].filter((place) => !host.has(place))).toEqual([]);
    for (const [place, cell] of host) expect({ place, ...reading.get(place) }).toEqual({ place, ...cell });
  }
  return host.size;
}

describe("a workbook with the add-in's own plan", () => {
  let workbook: GritWorkbook;
  let host: Map<string, HostCell>;
  let bytes: Uint8Array;
  let file: Read;
  let price: number;

  beforeAll(async () => {
    workbook = await openGrit();
    await insertPlan(planFor(floor()), "new sheet");
    bytes = await workbook.xlsx();
    host = await hostCells();
    price = await named("Stages_Price");
    file = await readers(bytes);
  }, LONG_MS);
  afterAll(() => workbook.dispose());

  it("has every cell's formula, value and number format as the host says, by two readers", () => {
    const count = expectSame(file.readings, host);
    // The stage table alone has eight stages of some twenty columns, and most of them calculate.
    expect(count).toBeGreaterThan(300);
    expect([...host.values()].filter(({ formula }) => formula?.includes("GRIT.")).length).toBeGreaterThan(80);
  });

  it("stores the add-in's calls as Excel does, as formulas that may spill", () => {
    const { "xl/worksheets/sheet3.xml": plan = "", "xl/metadata.xml": metadata = "" } = unzipped(bytes);
    expect(plan).not.toContain("GRIT.");
    const calls = [...plan.matchAll(/<c ([^>]*)><f([^>]*)>([^<]*)<\/f>/g)].filter(([, , , f]) => f!.includes("GRIT_"));
    expect(calls.length).toBeGreaterThan(80);
    for (const [, cell, f] of calls) {
      expect(cell).toContain('cm="1"');
      expect(f).toContain('t="array"');
    }
    expect(metadata).toContain('fDynamic="1"');
  });

  it("has the names, each for its sheet or the workbook, and the tables with their headers", async () => {
    const names = await Excel.run(async (context) => {
      const { workbook } = context;
      workbook.names.load("items/name,items/formula");
      workbook.worksheets.load("items/name");
      workbook.tables.load("items/name,items/style");
      await context.sync();
      const own = workbook.worksheets.items.map((sheet) => sheet.names.load("items/name,items/formula"));
      const headers = workbook.tables.items.map((table) => ({
        range: table.getRange().load("address"),
        header: table.getHeaderRowRange().load("values"),
      }));
      await context.sync();
      return {
        names: [
          ...workbook.names.items.map(({ name, formula }) => [undefined, name, formula]),
          ...own.flatMap(({ items }, i) => items.map(({ name, formula }) => [i, name, formula])),
        ],
        tables: workbook.tables.items.map(({ name, style }, i) => ({
          name,
          style,
          range: headers[i]!.range.address.replace(/^.*!/, ""),
          header: headers[i]!.header.values[0],
        })),
      };
    });
    const written = file.other
      .Workbook!.Names!.filter(({ Name }) => !Name.startsWith("_xlnm"))
      .map(({ Sheet, Name, Ref }) => [Sheet ?? undefined, Name, `=${Ref}`]);
    const byName = (a: unknown[], b: unknown[]) => String(a[1]).localeCompare(String(b[1]));
    expect(written.sort(byName)).toEqual(names.names.sort(byName));
    expect(names.names.length).toBeGreaterThan(30);
    // Read here from the part itself: exceljs stops at the first column that calculates.
    const tables = Object.entries(unzipped(bytes)).filter(([part]) => part.startsWith("xl/tables/table"));
    const attribute = (xml: string, name: string) => new RegExp(` ${name}="([^"]*)"`).exec(xml)?.[1];
    expect(
      tables.map(([, xml]) => ({
        name: attribute(xml, "displayName"),
        style: attribute(/<tableStyleInfo[^>]*>/.exec(xml)![0], "name"),
        range: attribute(xml, "ref"),
        header: [...xml.matchAll(/<tableColumn [^>]*/g)].map(([column]) => attribute(column, "name")),
      })),
    ).toEqual(names.tables);
  });

  it("is copied for who has no add-in, with nothing left of ours and nothing that became a value", () => {
    const options = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
    const { bytes: copy, report } = calculatingCopy(bytes, options);
    expect(report.values).toEqual([]);
    expect(report.formulas).toBeGreaterThan(80);
    const [oursBefore, oursAfter] = [bytes, copy].map((one) =>
      JSON.stringify(unzipped(one)).match(/<(?:f|calculatedColumnFormula)[ >][^<]*GRIT/g),
    );
    // A table's formula is counted by its cells.
    expect(oursBefore?.filter((found) => found.startsWith("<f")).length).toBe(report.formulas);
    expect(oursAfter).toBeNull();
    expect(sheetjsCells(readBook(copy)).get("Stage plan!C5")?.value).toBe(host.get("Stage plan!C5")?.value);
  });

  it("is copied with the price and nothing else", () => {
    const { bytes: copy, report } = priceOnlyCopy(bytes, { keep: [{ sheet: "Stage plan", range: "A1:D5" }] });
    expect(report.gone).toEqual(["Sheet1", "Shelf"]);
    expect(report.cautions).toEqual([]);
    expect(sheetjsCells(readBook(copy)).get("Stage plan!C5")?.value).toBe(price);
    expect(Object.keys(unzipped(copy)).filter((part) => /table|drawing|chart|metadata/.test(part))).toEqual([]);
  });

  it("has the charts of the sheet, with the cells they show and their values", () => {
    const parts = unzipped(bytes);
    const charts = Object.entries(parts).filter(([name]) => /^xl\/charts\/chart\d+\.xml$/.test(name));
    const chartsOfHost = workbook.engine.sheetIds().flatMap((sheetId) => workbook.host.charts(sheetId));
    expect(charts.length).toBe(chartsOfHost.length);
    expect(charts.length).toBeGreaterThan(0);
    charts.forEach(([, xml], i) => {
      const series = xml.split("<c:ser>").slice(1);
      expect(series.length).toBe(chartsOfHost[i]!.series.length);
      series.forEach((text, j) => {
        const [, reference = ""] = /<c:val><c:numRef><c:f>([^<]*)/.exec(text) ?? [];
        const cached = [.../<c:val>.*<\/c:val>/s.exec(text)![0].matchAll(/<c:v>([^<]*)/g)].map(([, v]) => Number(v));
        expect(cached).toEqual(valuesIn(reference, host));
        expect(text).toContain(`<c:v>${chartsOfHost[i]!.series[j]!.name}</c:v>`);
      });
    });
  });
});

/** The numbers of a column such as "'Stage plan'!$M$8:$M$15". */
function valuesIn(reference: string, host: Map<string, HostCell>): unknown[] {
  const [, sheet, column, first, last] = /^'?([^'!]*)'?!\$([A-Z]+)\$(\d+):\$[A-Z]+\$(\d+)$/.exec(reference)!;
  return Array.from({ length: Number(last) - Number(first) + 1 }, (_, i) => {
    return host.get(`${sheet}!${column}${Number(first) + i}`)?.value;
  });
}

describe("a workbook of everything that the host knows", () => {
  let workbook: GritWorkbook;
  let host: Map<string, HostCell>;
  let bytes: Uint8Array;
  let parts: Record<string, string>;
  let file: Read;

  beforeAll(async () => {
    workbook = await openGrit();
    await writeEverything();
    bytes = await workbook.xlsx();
    host = await hostCells();
    parts = unzipped(bytes);
    file = await readers(bytes);
  }, LONG_MS);
  afterAll(() => workbook.dispose());

  const sheet = (name: string) => file.book.getWorksheet(name)!;
  const first = FIRST_SHEET;

  it("has every cell as the host says but what the file has another name for", () => {
    // A file names the table in each of its references (18.17.6), and keeps newer errors as #VALUE! ([MS-XLSX] 2.2.4).
    const inFile = new Map(host);
    const stored = (place: string, formula: string) => inFile.set(place, { ...inFile.get(place)!, formula });
    for (const row of [3, 4]) stored(`List!D${row}`, "Costs[[#This Row],[Cost '[$']]]/SUM(Costs[Cost '[$']])");
    stored("List!C5", "SUBTOTAL(109,Costs[Cost '[$']])");
    stored("List!D5", "MAX(Costs[Share])*2");
    stored(`${first}!C1`, "SUM(ANCHORARRAY(B6))");
    expect(inFile.get(`${first}!D1`)?.value).toBe("#SPILL!");
    inFile.set(`${first}!D1`, { ...inFile.get(`${first}!D1`)!, value: "#VALUE!" });
    expect(expectSame(file.readings, inFile)).toBe(host.size);
  });

  it("keeps texts texts, and every digit of a number", () => {
    const value = (cell: string) => sheet(first).getCell(cell).value;
    expect(value("A1")).toBe("=SUM(A2)");
    expect(value("A2")).toBe(' a <b> & "c"\nnext line ');
    expect(value("A4")).toBe(0.30000000000000004);
    expect(value("A5")).toBe(123456789012345680);
    expect(value("A6")).toBe(9.094947017729282e-13);
    expect(value("A7")).toEqual(new Date(Date.UTC(2026, 10, 25)));
    expect(value("A8")).toBe("007");
    expect(value("A9")).toEqual({ error: "#N/A" });
  });

  it("says which formulas fill or work on more than a cell, and which do not", () => {
    const [xml] = [parts["xl/worksheets/sheet1.xml"]!];
    const cell = (address: string) => new RegExp(`<c [^>]*r="${address}"[^>]*>.*?</c>`, "s").exec(xml)![0];
    expect(cell("B6")).toContain('<f t="array" ref="B6:B8">A4:A6*2</f><v>0.6000000000000001</v>');
    // By hand: twice two to the power of minus forty.
    expect(cell("B8")).toBe(`<c r="B8"><v>${2 ** -39}</v></c>`);
    expect(cell("C1")).toContain("_xlfn.ANCHORARRAY(B6)");
    expect(cell("C2")).toContain('<f t="array" ref="C2">');
    expect(cell("C3")).toContain("<f>_xlfn.STDEV.S(A4:A6)</f>");
    expect(cell("C4")).toContain('<f t="array" ref="C4">_xldudf_GRIT_AREARATE(28,15,0.2,0.75)</f>');
    for (const address of ["B6", "C2", "C4"]) expect(cell(address)).toContain('cm="1"');
    expect(cell("C3")).not.toContain("cm=");
  });

  it("looks as it did", () => {
    const { font, fill, alignment, border, protection } = sheet(first).getCell("A4");
    expect(font).toMatchObject({ name: "Arial", size: 14, bold: true, color: { argb: "FF336699" } });
    expect(fill).toMatchObject({ pattern: "solid", fgColor: { argb: "FFFFEE00" } });
    expect(alignment).toMatchObject({ horizontal: "center", wrapText: true });
    expect(border).toMatchObject({ bottom: { style: "double" } });
    expect(protection).toMatchObject({ locked: false });
    // By 18.3.1.13: 105 points are 140 pixels, and a digit has 7.
    expect(sheet(first).getColumn(1).width).toBe(20);
    expect(sheet(first).getColumn(5).hidden).toBe(true);
    expect(sheet(first).getColumn(6).numFmt).toBe("0.00%");
    expect(sheet(first).getRow(3).height).toBe(30);
    expect(sheet(first).getRow(20).hidden).toBe(true);
    expect(sheet(first).views[0]).toMatchObject({ state: "frozen", ySplit: 2 });
  });

  it("has its sheets in order, and hides what was hidden", () => {
    expect(file.book.worksheets.map(({ name, state }) => [name, state])).toEqual([
      [first, "visible"],
      ["List", "visible"],
      ["Hidden", "hidden"],
      ["Gone", "veryHidden"],
    ]);
  });

  it("has names of the workbook and of a sheet, with comments, and hides what was hidden", () => {
    const xml = parts["xl/workbook.xml"]!;
    expect(xml).toContain('<definedName name="Rate">0.25</definedName>');
    expect(xml).toContain('<definedName name="Total" comment="What it costs">List!$C$5</definedName>');
    expect(xml).toContain(
      '<definedName name="Own" localSheetId="0" hidden="1">\'It\'\'s &lt;all&gt; &amp; more\'!$A$4</definedName>',
    );
    expect(xml).toContain('<definedName name="_xlnm.Print_Area" localSheetId="1">List!$A$1:$G$5</definedName>');
    expect(xml).toContain('<definedName name="_xlnm.Print_Titles" localSheetId="1">List!$2:$2</definedName>');
  });

  it("has the table with its totals, the column that calculates, and its style", () => {
    const xml = parts["xl/tables/table1.xml"]!;
    expect(xml).toContain('name="Costs" displayName="Costs" ref="B2:D5" totalsRowCount="1"');
    expect(xml).toContain('<autoFilter ref="B2:D4"/>');
    expect(xml).toContain('<tableColumn id="1" name="Item" totalsRowLabel="Total"/>');
    expect(xml).toContain('<tableColumn id="2" name="Cost [$]" totalsRowFunction="sum"/>');
    expect(xml).toContain(
      "<calculatedColumnFormula>Costs[[#This Row],[Cost '[$']]]/SUM(Costs[Cost '[$']])</calculatedColumnFormula>" +
        "<totalsRowFormula>MAX(Costs[Share])*2</totalsRowFormula>",
    );
    expect(xml).toContain('name="TableStyleMedium4"');
  });

  it("has the rules for what is typed and for how it looks", () => {
    const xml = parts["xl/worksheets/sheet2.xml"]!;
    const list = sheet("List");
    expect(list.getCell("F2").dataValidation).toMatchObject({ type: "list", formulae: ['"yes,no"'] });
    expect(list.getCell("G1").dataValidation).toMatchObject({
      type: "decimal",
      error: "0 to 10",
      errorTitle: "No",
      errorStyle: "stop",
    });
    // exceljs reads no reference here.
    expect(xml).toMatch(/sqref="G1"><formula1>0<\/formula1><formula2>C3<\/formula2>/);
    const formats = (list as unknown as { conditionalFormattings: any[] }).conditionalFormattings;
    const rules = formats.flatMap(({ ref, rules }) => rules.map((rule: object) => ({ ref, ...rule })));
    expect(rules).toContainEqual(
      expect.objectContaining({ ref: "C3:C4", type: "cellIs", operator: "greaterThan", formulae: ["20"] }),
    );
    expect(rules).toContainEqual(expect.objectContaining({ ref: "B3:B4", type: "expression", formulae: ["$C3>20"] }));
    expect(xml.indexOf("<conditionalFormatting")).toBeLessThan(xml.indexOf("<dataValidations"));
  });

  it("is printed and protected as it was", () => {
    const { pageSetup, headerFooter } = sheet("List");
    expect(pageSetup).toMatchObject({ orientation: "landscape", paperSize: 9, fitToPage: true, fitToWidth: 1 });
    expect(parts["xl/worksheets/sheet2.xml"]).toContain('fitToHeight="0"');
    expect(headerFooter.oddFooter).toBe("&CPage &P & more");
    const protection = /<sheetProtection[^>]*>/.exec(parts["xl/worksheets/sheet2.xml"]!)![0];
    expect(protection).toContain('sheet="1"');
    expect(protection).toContain('formatCells="0"');
    expect(protection).toContain('algorithmName="SHA-512"');
  });

  it("has every part that anything leads to", () => {
    for (const [name, xml] of Object.entries(parts).filter(([name]) => name.endsWith(".rels"))) {
      const folder = `/${name.replace(/_rels\/[^/]*$/, "")}`;
      for (const [, target] of xml.matchAll(/Target="([^"]*)"/g)) {
        expect(Object.keys(parts)).toContain(new URL(target!, `file://${folder}`).pathname.slice(1));
      }
    }
    const typed = [...parts["[Content_Types].xml"]!.matchAll(/PartName="\/([^"]*)"/g)].map(([, part]) => part!);
    expect(typed.filter((part) => parts[part] === undefined)).toEqual([]);
  });
});

describe("a formula in the file", () => {
  const at = (table?: string) => ({ namespace: "GRIT", table });

  it.each([
    // [MS-XLSX] 2.2.2, "future-function-list", and 18.17.6 for references into tables.
    ["=GRIT.SIZE(A1)+grit.size(2)", undefined, "_xldudf_GRIT_SIZE(A1)+_xldudf_GRIT_size(2)"],
    ['="GRIT.SIZE(1) @A1 [x]"&A1', undefined, '"GRIT.SIZE(1) @A1 [x]"&A1'],
    ["=SORT(FILTER(A1:A3,A1:A3>1))", undefined, "_xlfn._xlws.SORT(_xlfn._xlws.FILTER(A1:A3,A1:A3>1))"],
    ["=_xlfn.CONCAT(A1:A2)", undefined, "_xlfn.CONCAT(A1:A2)"],
    ["=SUM(Other!B2#)", undefined, "SUM(_xlfn.ANCHORARRAY(Other!B2))"],
    ["=[@Cost]*2", "Costs", "Costs[[#This Row],[Cost]]*2"],
    ["=Costs[@Cost]*2", undefined, "Costs[[#This Row],[Cost]]*2"],
    ["=SUM(Costs[#Totals])", undefined, "SUM(Costs[#Totals])"],
    ["=@A1:A3", undefined, "_xlfn.SINGLE(A1:A3)"],
    ["=LET(x,A1, y ,x+1,x*y)", undefined, "_xlfn.LET(_xlpm.x,A1, _xlpm.y ,_xlpm.x+1,_xlpm.x*_xlpm.y)"],
    ["=LAMBDA(a,a+x)(1)", undefined, "_xlfn.LAMBDA(_xlpm.a,_xlpm.a+x)(1)"],
  ])("%s is stored as Excel stores it", (formula, table, stored) => {
    expect(storedFormula(formula, at(table))).toBe(stored);
  });
});
