/** Sheets and names: what is refused with which code, and what a deleted sheet leaves. */
import { withoutSheet } from "../../common/a1";
import { type Check, codeOf, shown } from "./check";

export const SHEETS: readonly Check[] = [
  {
    id: "sheet-name-taken",
    words: "A sheet name that's taken is refused",
    expects: "ItemAlreadyExists",
    async run(scratch) {
      scratch.sheet.load("name");
      await scratch.sync();
      scratch.context.workbook.worksheets.add(scratch.sheet.name.toUpperCase());
      await scratch.sync();
      return "added";
    },
  },
  {
    id: "name-taken",
    words: "A name that's taken in other letter case is refused",
    expects: "ItemAlreadyExists",
    async run(scratch) {
      const { names } = scratch.context.workbook;
      const name = scratch.freeName();
      names.add(name, scratch.range("A1"));
      await scratch.sync();
      names.add(name.toUpperCase(), scratch.range("A1"));
      await scratch.sync();
      return "added";
    },
  },
  {
    id: "name-in-formula",
    words: "A formula takes a sheet's own name before the workbook's",
    expects: "[[84]]",
    async run(scratch) {
      const name = scratch.freeName();
      await scratch.enter("A1:A2", [[42], [1]]);
      scratch.sheet.names.add(name, scratch.range("A1"));
      scratch.context.workbook.names.add(name, scratch.range("A2"));
      await scratch.enter("B1", [[`=${name}*2`]]);
      return shown(await scratch.values("B1"));
    },
  },
  {
    id: "copied-sheet",
    words: "A copied sheet has names and a table of its own",
    expects: "[[20]] beside [[84]], 1 table",
    isGuess: true,
    async run(scratch) {
      const name = scratch.freeName();
      await scratch.enter("A1:A2", [["a"], [42]]);
      const table = scratch.sheet.tables.add("A1:A2", true);
      table.name = scratch.freeName();
      scratch.context.workbook.names.add(name, scratch.range("A2"));
      await scratch.enter("B1", [[`=${name}*2`]]);
      const copy = scratch.copySheet();
      copy.getRange("A2").values = [[10]];
      copy.tables.load("items/name");
      const [own, before] = [await scratch.values(copy.getRange("B1")), await scratch.values("B1")];
      return `${shown(own)} beside ${shown(before)}, ${copy.tables.items.length} table`;
    },
  },
  {
    id: "name-after-sheet",
    words: "A name whose sheet is deleted refers to #REF!",
    expects: "#REF!",
    async run(scratch) {
      const name = scratch.freeName();
      const other = scratch.addSheet();
      scratch.context.workbook.names.add(name, other.getRange("A1"));
      await scratch.sync();
      other.delete();
      const item = scratch.context.workbook.names.getItemOrNullObject(name).load("formula");
      await scratch.sync();
      if (item.isNullObject) return "no name";
      return item.formula.includes("#REF!") ? "#REF!" : "the sheet";
    },
  },
  {
    id: "added-sheet",
    words: "An added sheet doesn't come to the front by itself",
    expects: "the sheet before",
    async run(scratch) {
      scratch.willShow();
      scratch.sheet.load("id");
      const active = scratch.context.workbook.worksheets.getActiveWorksheet().load("id");
      await scratch.sync();
      return active.id === scratch.sheet.id ? "the added sheet" : "the sheet before";
    },
  },
  {
    id: "activate-hidden",
    words: "A hidden sheet can't be activated",
    expects: "InvalidOperation",
    isGuess: true,
    async run(scratch) {
      const other = scratch.addSheet();
      other.visibility = "Hidden";
      await scratch.sync();
      scratch.willShow();
      other.activate();
      await scratch.sync();
      return "shown";
    },
  },
  {
    id: "delete-very-hidden",
    words: "A very hidden sheet can't be deleted",
    expects: "InvalidOperation",
    async run(scratch) {
      const other = scratch.addSheet();
      other.visibility = "VeryHidden";
      await scratch.sync();
      other.delete();
      await scratch.sync();
      return "deleted";
    },
  },
  {
    id: "tracked-cell",
    words: "A cell that is tracked is known by its new address when a row comes above it",
    expects: "A3, the same cell",
    isGuess: true,
    async run(scratch) {
      await scratch.enter("A1:A2", [[1], [2]]);
      const cell = scratch.range("A2");
      scratch.context.trackedObjects.add(cell);
      await scratch.sync();
      scratch.range("1:1").insert("Down");
      await scratch.sync();
      cell.load("address,values");
      await scratch.sync();
      return `${withoutSheet(cell.address)}, ${cell.values[0]![0] === 2 ? "the same cell" : "another cell"}`;
    },
  },
  {
    id: "tracked-cell-gone",
    words: "A cell that is tracked and then deleted is refused",
    expects: ["InvalidReference", "ItemNotFound"],
    isGuess: true,
    async run(scratch) {
      await scratch.enter("A1:A3", [[1], [2], [3]]);
      const cell = scratch.range("A2");
      scratch.context.trackedObjects.add(cell);
      await scratch.sync();
      scratch.range("2:2").delete("Up");
      await scratch.sync();
      cell.load("values");
      await scratch.sync();
      return `read as ${shown(cell.values[0]![0])}`;
    },
  },
  {
    id: "protected-sheet",
    words: "Writing on a protected sheet is refused",
    expects: "AccessDenied",
    async run(scratch) {
      scratch.sheet.protection.protect();
      await scratch.sync();
      await scratch.enter("A1", [[1]]);
      return "written";
    },
  },
  {
    id: "protect-twice",
    words: "Protecting a protected sheet is refused",
    expects: "InvalidOperation",
    isGuess: true,
    async run(scratch) {
      const { protection } = scratch.sheet;
      protection.protect();
      await scratch.sync();
      protection.protect();
      await scratch.sync();
      return "protected again";
    },
  },
  {
    id: "locked-structure",
    words: "Adding a sheet is refused while the workbook's structure is protected",
    expects: "AccessDenied",
    isGuess: true,
    async run(scratch) {
      await scratch.sync();
      scratch.lock();
      await scratch.sync();
      scratch.addSheet();
      return scratch.sync().then(() => "added", codeOf);
    },
  },
];
