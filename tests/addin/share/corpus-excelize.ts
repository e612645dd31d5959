/** Workbooks that Excelize writes, with the parts that no other library here knows, and one that it encrypts. */
import { createRequire } from "node:module";
import { init, type NewFile } from "excelize-wasm";
import { numbersFrom, PNG, type Sample } from "./corpus";

type File = NewFile;
/** Puts its part on a sheet. */
type Feature = (file: File, sheet: string) => ({ error: string | null } | undefined)[];

const OLE = [0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1];
const CALL = "GRIT.AREARATE(B2,15)";

const FEATURES: Readonly<Record<string, Feature>> = {
  "a pivot table": (file, sheet) => [
    file.NewSheet("Pivot"),
    file.AddPivotTable({
      DataRange: `${sheet}!A1:C6`,
      PivotTableRange: "Pivot!A3:D12",
      Rows: [{ Data: "Tool" }],
      Columns: [{ Data: "Bond" }],
      Data: [{ Data: "Price", Subtotal: "Sum", Name: "Secret sum" }],
      RowGrandTotals: true,
    }),
  ],
  "a table and its slicer": (file, sheet) => [
    file.AddTable(sheet, { Range: "A1:C6", Name: "Tools" }),
    file.AddSlicer(sheet, { Name: "Tool", Cell: "E10", TableSheet: sheet, TableName: "Tools", Caption: "Secret" }),
  ],
  sparklines: (file, sheet) => [file.AddSparkline(sheet, { Location: ["D2"], Range: [`${sheet}!B2:B6`] })],
  "x14 formats": (file, sheet) => [
    file.SetConditionalFormat(sheet, "B2:B6", [
      { Type: "data_bar", Criteria: "=", MinType: "min", MaxType: "max", BarColor: "#638EC6", BarSolid: true },
    ]),
    file.SetConditionalFormat(sheet, "B2:B6", [{ Type: "icon_set", IconStyle: "3Stars" }]),
  ],
  macros: (file) => [file.AddVBAProject(new Uint8Array([...OLE, ...new Uint8Array(600)]))],
  "a form control": (file, sheet) => [file.AddFormControl(sheet, { Cell: "E1", Type: 4, Text: "Secret" })],
  "a comment and a picture": (file, sheet) => [
    file.AddComment(sheet, { Cell: "A2", Author: "Rita", Text: "Secret" }),
    file.AddPictureFromBytes(sheet, "G1", {
      Extension: ".png",
      File: new Uint8Array(Buffer.from(PNG, "base64")),
      Format: {},
      InsertType: 0,
    }),
  ],
  "dates from 1904": (file) => [file.SetWorkbookProps({ Date1904: true })],
  "names and a hidden sheet": (file, sheet) => [
    file.NewSheet("Costs"),
    file.SetCellValue("Costs", "A1", "Secret cost"),
    file.SetSheetVisible("Costs", false),
    file.SetDefinedName({ Name: "Margin", RefersTo: "0.2" }),
    file.SetDefinedName({ Name: "Own", RefersTo: `${sheet}!$A$1`, Scope: sheet }),
  ],
  "rich text and merged cells": (file, sheet) => [
    file.SetCellRichText(sheet, "D1", [{ Text: "Bold ", Font: { Bold: true } }, { Text: "& <plain>" }]),
    file.MergeCell(sheet, "D1", "D2"),
    file.SetCellHyperLink(sheet, "A3", "https://supplier.example/", "External"),
  ],
  // The last: afterwards the library looks for cells on the chart sheet.
  "a chart and a chart sheet": (file, sheet) => {
    const chart = {
      Type: 1,
      Series: [{ Name: `${sheet}!$B$1`, Categories: `${sheet}!$A$2:$A$6`, Values: `${sheet}!$B$2:$B$6` }],
    };
    return [file.AddChart(sheet, "F1", chart), file.AddChartSheet("Chart1", chart)];
  },
};

const ROWS = [
  ["Tool", "Price", "Bond"],
  ["metal 30", 510, "hard"],
  ["metal 70", 495.5, "hard"],
  ["resin 100", 265, "soft"],
  ["resin 200", 1e12, "soft"],
  ["resin 400", -0.5, "medium"],
] as const;

/** What went in must have gone in: the library gives its errors back. */
function mustWork(done: readonly ({ error: string | null } | undefined)[]): void {
  for (const one of done) if (one?.error) throw new Error(one.error);
}

function written(file: File, password?: string): Uint8Array {
  const { buffer, error } = password === undefined ? file.WriteToBuffer() : file.WriteToBuffer({ Password: password });
  if (error) throw new Error(error);
  return new Uint8Array(buffer as unknown as ArrayBuffer);
}

/** Those that are workbooks, and one that only a password opens. */
export async function excelizeCorpus(): Promise<{ workbooks: Sample[]; encrypted: Sample }> {
  const { NewFile } = await init(createRequire(import.meta.url).resolve("excelize-wasm/excelize.wasm.gz"));
  const fileWith = (features: readonly Feature[]) => {
    const file = NewFile();
    mustWork([file.SetSheetName("Sheet1", "Plan")]);
    for (const [r, row] of ROWS.entries()) {
      for (const [c, value] of row.entries()) mustWork([file.SetCellValue("Plan", `${"ABC"[c]}${r + 1}`, value)]);
    }
    mustWork([file.SetCellFormula("Plan", "D5", CALL)]);
    for (const add of features) mustWork(add(file, "Plan"));
    return file;
  };
  const all = Object.entries(FEATURES);
  const alone = all.map(([what, add]) => ({ name: `Excelize with ${what}`, bytes: written(fileWith([add])) }));
  const mixed = Array.from({ length: 5 }, (_, seed): Sample => {
    const next = numbersFrom(seed + 1);
    const some = all.filter(() => next() < 0.4).map(([, add]) => add);
    return { name: `Excelize ${seed + 1}`, bytes: written(fileWith(some)) };
  });
  return {
    workbooks: [...alone, ...mixed],
    encrypted: { name: "Excelize, encrypted", bytes: written(fileWith([]), "secret") },
  };
}
