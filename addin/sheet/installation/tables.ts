/** Tables: how they grow and shrink, what they take along, and their names. */
import { withoutSheet } from "../../common/a1";
import { type Check, codeOf, shown } from "./check";
import type { Scratch } from "./scratch";

const THREE_ROWS = [
  ["a", "b"],
  [1, 0.5],
  [2, 0.25],
];

function addTable(scratch: Scratch, address = "A1:B3", rows: any[][] = THREE_ROWS): Excel.Table {
  scratch.range(address).values = rows;
  const table = scratch.sheet.tables.add(address, true);
  table.name = scratch.freeName();
  return table;
}

export const TABLES: readonly Check[] = [
  {
    id: "table-grows",
    words: "A table grows by a row, and formulas over its column take it in",
    expects: "A1:B4, sum [[7]]",
    async run(scratch) {
      const table = addTable(scratch).load("name");
      await scratch.sync();
      await scratch.enter("D1", [[`=SUM(${table.name}[a])`]]);
      table.rows.add(undefined, [[4, 1]]);
      const range = table.getRange().load("address");
      const sum = await scratch.values("D1");
      return `${withoutSheet(range.address)}, sum ${shown(sum)}`;
    },
  },
  {
    id: "last-table-row",
    words: "Deleting a table's last row only empties it",
    expects: 'A1:B2 with ["",""]',
    isGuess: true,
    async run(scratch) {
      const table = addTable(scratch, "A1:B2", THREE_ROWS.slice(0, 2));
      await scratch.sync();
      table.rows.getItemAt(0).delete();
      const range = table.getRange().load("address,values");
      await scratch.sync();
      return `${withoutSheet(range.address)} with ${shown(range.values[1])}`;
    },
  },
  {
    id: "deleted-table",
    words: "A deleted table leaves its cells blank, and nothing below moves up",
    expects: '[[""],[""],[""],[""],["below"]]',
    isGuess: true,
    async run(scratch) {
      const table = addTable(scratch);
      await scratch.enter("A5", [["below"]]);
      table.delete();
      return shown(await scratch.values("A1:A5"));
    },
  },
  {
    id: "new-column-format",
    words: "A new column of a table takes the number formats of the one at its left",
    expects: '[["0.00%"]]',
    isGuess: true,
    async run(scratch) {
      const table = addTable(scratch);
      scratch.range("B2:B3").numberFormat = [["0.00%"], ["0.00%"]];
      await scratch.sync();
      table.columns.add(-1, [["c"], [1], [2]]);
      const cell = scratch.range("C2").load("numberFormat");
      await scratch.sync();
      return shown(cell.numberFormat);
    },
  },
  {
    id: "table-over-filter",
    words: "A table made over a sheet's filter ends that filter",
    expects: "no filter",
    isGuess: true,
    async run(scratch) {
      scratch.range("A1:B3").values = THREE_ROWS;
      scratch.sheet.autoFilter.apply(scratch.range("A1:B3"));
      await scratch.sync();
      scratch.sheet.tables.add("A1:B3", true);
      const filtered = scratch.sheet.autoFilter.getRangeOrNullObject().load("address");
      await scratch.sync();
      return filtered.isNullObject ? "no filter" : `a filter of ${withoutSheet(filtered.address)}`;
    },
  },
  {
    id: "table-overlap",
    words: "A table over another one is refused",
    expects: "InvalidArgument",
    async run(scratch) {
      addTable(scratch);
      await scratch.sync();
      scratch.sheet.tables.add("B3:C5", true);
      await scratch.sync();
      return "added";
    },
  },
  {
    id: "name-of-table",
    words: "A table's name can't be a workbook name too, but can be a sheet's own name",
    expects: "workbook ItemAlreadyExists, sheet added",
    isGuess: true,
    async run(scratch) {
      const table = addTable(scratch).load("name");
      await scratch.sync();
      const added = async (names: Excel.NamedItemCollection) => {
        names.add(table.name, scratch.range("D1"));
        return scratch.sync().then(() => "added", codeOf);
      };
      const { workbook } = scratch.context;
      return `workbook ${await added(workbook.names)}, sheet ${await added(scratch.sheet.names)}`;
    },
  },
];
