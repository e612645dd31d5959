/** A workbook with some of everything that the emulated host knows, written through the real client. */

/** A name that XML and formulas both have to escape. */
export const FIRST_SHEET = "It's <all> & more";

export async function writeEverything(): Promise<void> {
  await Excel.run(async (context) => {
    const { worksheets, names } = context.workbook;
    const cells = worksheets.getItem("Sheet1");
    cells.name = FIRST_SHEET;
    cells.getRange("A1:A9").formulas = [
      ["'=SUM(A2)"],
      [' a <b> & "c"\nnext line '],
      [true],
      [0.1 + 0.2],
      [123456789012345680],
      [2 ** -40],
      [46_351],
      ["'007"],
      ["#N/A"],
    ];
    cells.getRange("A7").numberFormat = [["yyyy-mm-dd"]];
    cells.getRange("B1:B8").formulas = [["=A4*2"], ["=1/0"], ['=""'], ["=A3"], ['="x"&A8'], ["=A4:A6*2"], [""], [""]];
    cells.getRange("C1").formulas = [["=SUM(B6#)"]];
    cells.getRange("C2").formulas = [["=SUM(A4:A6*A4:A6)"]];
    cells.getRange("C3").formulas = [["=STDEV.S(A4:A6)"]];
    cells.getRange("C4").formulas = [["=GRIT.AREARATE(28,15,0.2,0.75)"]];
    cells.getRange("D1:D3").formulas = [["=A4:A5*2"], ["taken"], ["=Rate*Own"]];
    const look = cells.getRange("A4").format;
    look.font.bold = true;
    look.font.color = "#336699";
    look.font.name = "Arial";
    look.font.size = 14;
    look.fill.color = "#FFEE00";
    look.horizontalAlignment = "Center";
    look.wrapText = true;
    look.borders.getItem("EdgeBottom").style = "Double";
    look.protection.locked = false;
    cells.getRange("A:A").format.columnWidth = 105;
    cells.getRange("3:3").format.rowHeight = 30;
    cells.getRange("E:E").columnHidden = true;
    cells.getRange("20:20").rowHidden = true;
    cells.getRange("F:F").numberFormat = "0.00%" as any;
    cells.freezePanes.freezeRows(2);

    const list = worksheets.add("List");
    list.getRange("B2:D4").formulas = [
      ["Item", "Cost [$]", "Share"],
      ["a", 10, "=[@[Cost '[$']]]/SUM([Cost '[$']])"],
      ["b", 30, "=[@[Cost '[$']]]/SUM([Cost '[$']])"],
    ];
    const table = list.tables.add("B2:D4", true);
    table.name = "Costs";
    table.style = "TableStyleMedium4";
    table.showTotals = true;
    list.getRange("C5").formulas = [["=SUBTOTAL(109,[Cost '[$']])"]];
    list.getRange("D5").formulas = [["=MAX([Share])*2"]];
    list.getRange("F1:F2").dataValidation.rule = { list: { inCellDropDown: true, source: "yes,no" } };
    list.getRange("G1").dataValidation.rule = {
      decimal: { formula1: 0, formula2: "=C3", operator: "Between" },
    };
    list.getRange("G1").dataValidation.errorAlert = {
      title: "No",
      message: "0 to 10",
      style: "Stop",
      showAlert: true,
    };
    const format = list.getRange("C3:C4").conditionalFormats.add("CellValue");
    format.cellValue.rule = { formula1: "=20", operator: "GreaterThan" };
    format.cellValue.format.fill.color = "#00FF00";
    const custom = list.getRange("B3:B4").conditionalFormats.add("Custom");
    custom.custom.rule.formula = "=$C3>20";
    custom.custom.format.font.bold = true;
    list.pageLayout.orientation = "Landscape";
    list.pageLayout.paperSize = "A4";
    list.pageLayout.zoom = { horizontalFitToPages: 1, verticalFitToPages: 0 };
    list.pageLayout.setPrintArea("A1:G5");
    list.pageLayout.setPrintTitleRows("$2:$2");
    list.pageLayout.headersFooters.defaultForAllPages.centerFooter = "Page &P & more";
    list.protection.protect({ allowFormatCells: true }, "secret");
    names.add("Rate", "=0.25");
    names.add("Total", table.getRange().getCell(3, 1), "What it costs");
    const own = cells.names.add("Own", cells.getRange("A4"));
    own.visible = false;
    worksheets.add("Hidden").visibility = "Hidden";
    worksheets.add("Gone").visibility = "VeryHidden";
    await context.sync();
  });
}
