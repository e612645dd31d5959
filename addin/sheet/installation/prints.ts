/** What is printed and drawn: frozen panes with print titles, the printed page, charts. */
import { CHART_FILLS, FORMATS } from "../styles";
import type { Check } from "./check";

const FOOTER = "&A, page &P of &N";

export const PRINTS: readonly Check[] = [
  {
    id: "freeze-and-titles",
    words: "A sheet has frozen panes and print titles at once",
    expects: "frozen 2 rows and 1 column, titles 1 row from row 4",
    async run(scratch) {
      const { freezePanes, pageLayout } = scratch.sheet;
      freezePanes.freezeAt(scratch.range("A1:A2"));
      pageLayout.setPrintTitleRows("$4:$4");
      const frozen = freezePanes.getLocationOrNullObject().load("rowCount,columnCount");
      const titles = pageLayout.getPrintTitleRowsOrNullObject().load("rowIndex,rowCount");
      await scratch.sync();
      if (frozen.isNullObject || titles.isNullObject)
        return `frozen ${!frozen.isNullObject}, titles ${!titles.isNullObject}`;
      const [rows, columns] = [frozen.rowCount, frozen.columnCount];
      return `frozen ${rows} rows and ${columns} column, titles ${titles.rowCount} row from row ${titles.rowIndex + 1}`;
    },
  },
  {
    id: "pages-tall",
    words: "A sheet is printed one page wide and as many tall as it takes",
    expects: ["1 wide, 0 tall", "1 wide, undefined tall", "1 wide, null tall"],
    async run(scratch) {
      const { pageLayout } = scratch.sheet;
      pageLayout.zoom = { horizontalFitToPages: 1, verticalFitToPages: 0 };
      pageLayout.load("zoom");
      await scratch.sync();
      return `${pageLayout.zoom.horizontalFitToPages} wide, ${pageLayout.zoom.verticalFitToPages} tall`;
    },
  },
  {
    id: "printed-page",
    words: "Orientation, margin, footer, print area and page break are taken",
    expects: `Landscape, 18, ${FOOTER}, 9 rows`,
    async run(scratch) {
      const { pageLayout, horizontalPageBreaks } = scratch.sheet;
      pageLayout.orientation = "Landscape";
      pageLayout.leftMargin = 18;
      pageLayout.setPrintArea(scratch.range("A1:B9"));
      horizontalPageBreaks.add("A5");
      const footer = pageLayout.headersFooters.defaultForAllPages;
      footer.centerFooter = FOOTER;
      footer.load("centerFooter");
      pageLayout.load("orientation,leftMargin");
      const area = pageLayout.getPrintAreaOrNullObject().load("address");
      await scratch.sync();
      const rows = area.isNullObject ? "no" : area.address.split("$").join("").endsWith("A1:B9") ? "9" : area.address;
      return `${pageLayout.orientation}, ${pageLayout.leftMargin}, ${footer.centerFooter}, ${rows} rows`;
    },
  },
  {
    id: "chart",
    words: "A chart shows columns of another sheet, with its title, number format and a plain fill",
    expects: `1 series of Hours, titled Hours by stage, ${FORMATS.hours}`,
    async run(scratch) {
      const other = scratch.addSheet();
      other.getRange("A1:B2").values = [
        ["Metal 30", 4],
        ["Metal 60", 6],
      ];
      const chart = scratch.sheet.charts.add("ColumnStacked", other.getRange("B1:B2"), "Columns");
      chart.title.text = "Hours by stage";
      chart.axes.valueAxis.numberFormat = FORMATS.hours;
      chart.legend.position = "Bottom";
      const series = chart.series.getItemAt(0);
      series.name = "Hours";
      series.setValues(other.getRange("B1:B2"));
      series.setXAxisValues(other.getRange("A1:A2"));
      series.format.fill.setSolidColor(CHART_FILLS[0]);
      chart.setPosition("D2", "H12");
      chart.load("title/text,axes/valueAxis/numberFormat");
      series.load("name");
      const count = chart.series.getCount();
      await scratch.sync();
      const { title, axes } = chart;
      return `${count.value} series of ${series.name}, titled ${title.text}, ${axes.valueAxis.numberFormat}`;
    },
  },
];
