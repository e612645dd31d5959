/**
 * The workbook as an .xlsx file, as saving it in Excel would give it. Big, and seldom needed: to be loaded when asked for.
 * guess(saved-call): what Excel itself would write is taken from its format's documentation and from files that it wrote.
 */
import ExcelJS from "exceljs";
import { Package } from "../../share/parts/package";
import { formatAddress } from "./a1";
import type { Model } from "./model";
import { writeCells } from "./xlsx-cells";
import { addCharts } from "./xlsx-charts";
import { writePage, writeProtection, writeView } from "./xlsx-page";
import { addLock, addNames, addTables, markSpills } from "./xlsx-parts";
import { writeRules } from "./xlsx-rules";

/** As Excel names the author of a workbook that nobody signed. */
const AUTHOR = "Preview";

/** To be called when all is calculated; `namespace` is that of the add-in's functions. */
export async function workbookXlsx(model: Model, namespace: string): Promise<Uint8Array> {
  const { engine } = model;
  const workbook = new ExcelJS.Workbook();
  workbook.creator = AUTHOR;
  workbook.lastModifiedBy = AUTHOR;
  const activeTab = engine.sheetIds().indexOf(engine.active);
  workbook.views = [{ x: 0, y: 0, width: 24_000, height: 14_000, firstSheet: 0, activeTab, visibility: "visible" }];
  for (const sheetId of engine.sheetIds()) {
    const data = model.sheet(sheetId);
    const sheet = workbook.addWorksheet(engine.sheetName(sheetId));
    if (engine.isHidden(sheetId)) sheet.state = data.veryHidden ? "veryHidden" : "hidden";
    writeView(engine, sheetId, sheet);
    writeCells(engine, sheetId, sheet, namespace);
    for (const rect of engine.merges(sheetId)) sheet.mergeCells(formatAddress(rect));
    writeRules(data, sheet, namespace);
    writePage(data.page, sheet);
    if (data.protection) await writeProtection(data.protection, sheet);
  }
  const file = Package.open(new Uint8Array(await workbook.xlsx.writeBuffer()));
  addLock(file, model);
  addNames(file, model, namespace);
  markSpills(file, model);
  // In the order in which a sheet has them.
  addCharts(file, model);
  addTables(file, model, namespace);
  return file.zip();
}
