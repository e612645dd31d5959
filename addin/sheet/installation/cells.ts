/** Cells: how what is entered reads back, and filters, merged cells, looks and lists. */
import { withoutSheet } from "../../common/a1";
import { askLooks, settable } from "../looks";
import { FORMATS } from "../styles";
import { inNamespace } from "../write";
import { type Check, shown } from "./check";

const LAST_ROW = 1_048_576;
const LONG_TEXT = "A text that needs more than one line in a column as narrow as this one is";

export const CELLS: readonly Check[] = [
  {
    id: "text-stays-text",
    words: "Text after an apostrophe stays text, and reads back without it",
    expects: 'value "=1+1", formula "=1+1"',
    async run(scratch) {
      await scratch.enter("A1", [["'=1+1"]]);
      const cell = scratch.range("A1").load("values,formulas");
      await scratch.sync();
      return `value ${shown(cell.values[0]![0])}, formula ${shown(cell.formulas[0]![0])}`;
    },
  },
  {
    id: "null-leaves-cell",
    words: "Writing null leaves a cell as it is",
    expects: "[[1,3]]",
    async run(scratch) {
      await scratch.enter("A1:B1", [[1, 2]]);
      await scratch.enter("A1:B1", [[null, 3]]);
      return shown(await scratch.values("A1:B1"));
    },
  },
  {
    id: "text-format",
    words: "With the number format Text a number stays a number, and a formula entered afterwards is text",
    expects: '[[5,"=1+1"]]',
    async run(scratch) {
      await scratch.enter("A1", [[5]]);
      scratch.range("A1:B1").numberFormat = [["@", "@"]];
      await scratch.enter("B1", [["=1+1"]]);
      return shown(await scratch.values("A1:B1"));
    },
  },
  {
    id: "number-formats",
    words: "Number formats read back as they were written",
    expects: "all the same",
    async run(scratch) {
      const formats = Object.values(FORMATS);
      const cells = scratch.sheet.getRangeByIndexes(0, 0, formats.length, 1);
      cells.numberFormat = formats.map((format) => [format]);
      cells.load("numberFormat");
      await scratch.sync();
      const others = cells.numberFormat.flat().filter((format, i) => format !== formats[i]);
      return others.length === 0 ? "all the same" : `others: ${shown(others)}`;
    },
  },
  {
    id: "unknown-function",
    words: "A function that doesn't exist shows #NAME?",
    expects: '[["#NAME?"]]',
    async run(scratch) {
      await scratch.enter("A1", [[inNamespace("=GRIT.NOSUCHFUNCTION(1)")]]);
      return shown(await scratch.values("A1"));
    },
  },
  {
    id: "spill",
    words: "A formula fills the cells below it",
    expects: "A1:A3 with [[1],[2],[3]]",
    async run(scratch) {
      await scratch.enter("A1", [["=ROW(A1:A3)"]]);
      const filled = scratch.range("A1").getSpillingToRangeOrNullObject().load("address");
      const values = await scratch.values("A1:A3");
      const address = filled.isNullObject ? "nothing" : withoutSheet(filled.address);
      return `${address} with ${shown(values)}`;
    },
  },
  {
    id: "spill-blocked",
    words: "A formula that has no room to fill cells shows #SPILL!",
    expects: '[["#SPILL!"],["mine"]]',
    async run(scratch) {
      await scratch.enter("A2", [["mine"]]);
      await scratch.enter("A1", [["=ROW(A1:A3)"]]);
      return shown(await scratch.values("A1:A2"));
    },
  },
  {
    id: "write-under-merge",
    words: "A value written to a cell hidden by a merge is lost",
    expects: '[[1,""]]',
    isGuess: true,
    async run(scratch) {
      scratch.range("A1:B1").merge();
      await scratch.enter("A1:B1", [[1, 2]]);
      scratch.range("A1:B1").unmerge();
      return shown(await scratch.values("A1:B1"));
    },
  },
  {
    id: "merged-areas",
    words: "Merged cells are found",
    expects: ["A1:B2"],
    async run(scratch) {
      scratch.range("A1:B2").merge();
      const areas = scratch.range("B2:C3").getMergedAreasOrNullObject().load("address");
      await scratch.sync();
      return areas.isNullObject ? "none" : withoutSheet(areas.address);
    },
  },
  {
    id: "clear-part-of-merge",
    words: "Clearing part of a merged cell is refused",
    expects: "InvalidOperation",
    async run(scratch) {
      scratch.range("A1:B2").merge();
      scratch.range("B2").clear();
      await scratch.sync();
      return "cleared";
    },
  },
  {
    id: "push-off-sheet",
    words: "Cells with content can't be pushed off the sheet",
    expects: "NonBlankCellOffSheet",
    isGuess: true,
    async run(scratch) {
      await scratch.enter(`A${LAST_ROW}`, [["last"]]);
      scratch.range("A1").insert("Down");
      await scratch.sync();
      return "pushed";
    },
  },
  {
    id: "filtered-write",
    words: "Writing several values over filtered rows puts the first one in every visible row",
    expects: "[[7],[2],[7]]",
    async run(scratch) {
      await scratch.enter("A1:A4", [["Head"], [1], [2], [1]]);
      scratch.sheet.autoFilter.apply(scratch.range("A1:A4"), 0, { filterOn: "Values", values: ["1"] });
      await scratch.enter("A2:A4", [[7], [8], [9]]);
      scratch.sheet.autoFilter.remove();
      return shown(await scratch.values("A2:A4"));
    },
  },
  {
    id: "filter-hides-rows",
    words: "Rows hidden by a filter read back as hidden",
    expects: "hidden",
    async run(scratch) {
      await scratch.enter("A1:A3", [["Head"], [1], [2]]);
      scratch.sheet.autoFilter.apply(scratch.range("A1:A3"), 0, { filterOn: "Values", values: ["1"] });
      const row = scratch.range("A3").load("rowHidden");
      await scratch.sync();
      return row.rowHidden ? "hidden" : "shown";
    },
  },
  {
    id: "list-on-other-sheet",
    words: "A drop-down list takes its words from another sheet",
    expects: "a list of $A$1:$A$2",
    async run(scratch) {
      const other = scratch.addSheet();
      other.getRange("A1:A2").values = [["soft"], ["hard"]];
      const { dataValidation } = scratch.range("A1");
      dataValidation.rule = { list: { inCellDropDown: true, source: `=${scratch.quotedName(1)}!$A$1:$A$2` } };
      dataValidation.load("rule,type");
      await scratch.sync();
      const { type, rule } = dataValidation;
      const source = String(rule.list?.source);
      return type === "List" ? `a list of ${withoutSheet(source)}` : `${type}`;
    },
  },
  {
    id: "looks",
    words: "Fonts, fills and borders can be put back after a clear",
    expects: "the same",
    async run(scratch) {
      const cell = scratch.range("A1");
      cell.format.fill.color = "#FFF9E8";
      cell.format.font.bold = true;
      const edge = cell.format.borders.getItem("EdgeBottom");
      edge.style = "Continuous";
      edge.color = "#2F6B5E";
      const before = askLooks(cell);
      await scratch.sync();
      cell.clear();
      cell.setCellProperties(settable(before.value));
      const after = askLooks(cell);
      await scratch.sync();
      const [was, is] = [before, after].map(({ value }) => shown(settable(value)));
      return was === is ? "the same" : `${was} became ${is}`;
    },
  },
  {
    id: "wrapped-row-height",
    words: "A row grows with a text that wraps",
    expects: "grows",
    isGuess: true,
    async run(scratch) {
      const { format } = scratch.range("A1");
      format.columnWidth = 60;
      format.wrapText = true;
      format.load("rowHeight");
      await scratch.sync();
      const before = format.rowHeight;
      await scratch.enter("A1", [[LONG_TEXT]]);
      format.load("rowHeight");
      await scratch.sync();
      return format.rowHeight > before ? "grows" : `stays ${format.rowHeight} points high`;
    },
  },
];
