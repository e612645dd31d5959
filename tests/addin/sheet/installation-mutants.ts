/** Hosts that do otherwise than the add-in relies on: one for each check of an installation, so that none is blind. */
import { vi } from "vitest";
import { DocumentCopies } from "../../../addin/preview/host/document-copy";
import { HostError, invalidArgument, invalidOperation } from "../../../addin/preview/host/errors";
import { HostObject, NULL_OBJECT } from "../../../addin/preview/host/objects/object";
import { RecordObject } from "../../../addin/preview/host/objects/record";
import { FUNCTIONS } from "../../../functions/topics";
import type { GritWorkbook } from "./workbook";

type Way = "_read" | "_call" | "_assign";
type Instead = (original: (...args: unknown[]) => unknown, object: any, args: any[]) => unknown;

/** A member that does something else; "Range.values". */
function member(way: Way, path: string, instead: Instead): void {
  for (const prototype of [HostObject.prototype, RecordObject.prototype]) {
    const own = prototype[way] as (name: string, given?: unknown) => unknown;
    vi.spyOn(prototype as any, way).mockImplementation(function (this: any, ...given: any[]) {
      const [name, value] = given;
      if (`${this.typeName}.${name}` !== path) return own.call(this, name, value);
      const args = way === "_call" ? value : [value];
      return instead((...other) => own.call(this, name, way === "_call" ? other : other[0]), this, args);
    });
  }
}

const read = (path: string, instead: (value: any, object: any) => unknown) => () =>
  member("_read", path, (original, object) => instead(original(), object));
const call = (path: string, instead: Instead) => () => member("_call", path, instead);
const assign = (path: string, instead: Instead) => () => member("_assign", path, instead);

/** It is not done, and nothing is said. */
const nothing: Instead = () => undefined;
const refused: Instead = () => {
  throw invalidOperation();
};
/** Refuses with another code than it should. */
const otherCode: Instead = (original, _, args) => {
  try {
    return original(...args);
  } catch (error) {
    if (!(error instanceof HostError)) throw error;
    throw error.code === "InvalidArgument" ? invalidOperation() : invalidArgument();
  }
};

const each = (change: (cell: any) => unknown) => (cells: any[][]) => cells.map((line) => line.map(change));
const cellsRead = (change: (cell: any) => unknown) => read("Range.values", each(change));
/** As on old builds, where one error in a list makes an error of all (office-js#2174). */
const allErrors = cellsRead(() => "#VALUE!");

/** In each of the ways that hosts have of passing one. */
const isBlank = (cell: unknown) => cell === null || cell === "" || cell === 0;

/** What the functions are given is something else. */
const given = (change: (args: any[]) => any[]) => (): Readonly<Record<string, unknown>> =>
  new Proxy(FUNCTIONS as Record<string, any>, {
    set: (functions, id, fn) => {
      functions[String(id)] = "gives" in fn ? fn : (...args: any[]) => fn(...change(args));
      return true;
    },
  });

/** What is tracked stays where it was. */
const leavesBehind: Instead = (original, { model }, args) => {
  const places = [...model.tracked.values()];
  const rects = places.map(({ rect }) => rect);
  const answer = original(...args);
  places.forEach((place, i) => {
    place.rect = rects[i];
  });
  return answer;
};

/** Sets the host up; may give the functions as it calls them. */
export type Mutant = (workbook: GritWorkbook) => unknown;

export const MUTANTS: Readonly<Record<string, Mutant>> = {
  "formula-reads-back": read(
    "Range.formulas",
    each((entry) => String(entry).replace("GRIT.", "_xldudf_GRIT_")),
  ),
  "call-follows": cellsRead((cell) => (cell === 300 ? 600 : cell)),
  "blank-cell": given(([first, cell, ...rest]) => [
    first,
    cell && each((c) => (isBlank(c) ? undefined : c))(cell),
    ...rest,
  ]),
  "blank-in-range": given(([first, cells, ...rest]) => [
    first,
    cells && each((c) => (isBlank(c) ? " " : c))(cells),
    ...rest,
  ]),
  "omitted-argument": given((args) => args.slice(0, -1)),
  "kinds-of-values": given(([first, cells, ...rest]) => [first, cells && each(String)(cells), ...rest]),
  "array-constant": given(([first, cells, ...rest]) => [first, cells && [cells.flat()], ...rest]),
  "error-argument": given(([first, cells, ...rest]) => [first, cells && each((c) => c?.code ?? c)(cells), ...rest]),
  "error-in-range": given(([first, cells, ...rest]) => [first, cells && each((c) => c?.code ?? c)(cells), ...rest]),
  "error-in-answer": allErrors,
  "empty-text-in-answer": cellsRead((cell) => (cell === "" ? 0 : cell)),
  "thrown-errors": allErrors,
  "text-stays-text": read(
    "Range.formulas",
    each((entry) => `'${entry}`),
  ),
  "null-leaves-cell": assign("Range.formulas", (original, _, [lines]) => original(each((cell) => cell ?? "")(lines))),
  "text-format": cellsRead((cell) => String(cell)),
  "number-formats": read(
    "Range.numberFormat",
    each(() => "General"),
  ),
  "unknown-function": assign("Range.formulas", () => {
    throw invalidArgument();
  }),
  spill: call("Range.getSpillingToRangeOrNullObject", () => NULL_OBJECT),
  "spill-blocked": cellsRead((cell) => (cell === "#SPILL!" ? "#VALUE!" : cell)),
  "write-under-merge": call("Range.unmerge", (original, { model, place }) => {
    original();
    model.engine.enter(place.sheetId, 0, 1, 2);
  }),
  "merged-areas": call("Range.getMergedAreasOrNullObject", () => NULL_OBJECT),
  "clear-part-of-merge": call("Range.clear", nothing),
  "push-off-sheet": call("Range.insert", (_, range) => range),
  "filtered-write": call("AutoFilter.apply", nothing),
  "filter-hides-rows": call("AutoFilter.apply", nothing),
  "list-on-other-sheet": assign("DataValidation.rule", refused),
  looks: call("Range.setCellProperties", nothing),
  "wrapped-row-height": read("RangeFormat.rowHeight", () => 15),
  "table-grows": call("TableRowCollection.add", refused),
  "last-table-row": call("TableRow.delete", refused),
  "deleted-table": call("Table.delete", (_, table) => void table.convertToRange()),
  "new-column-format": read(
    "Range.numberFormat",
    each(() => "General"),
  ),
  "table-over-filter": call("TableCollection.add", refused),
  "table-overlap": call("TableCollection.add", otherCode),
  "name-of-table": call("NamedItemCollection.add", otherCode),
  "sheet-name-taken": call("WorksheetCollection.add", otherCode),
  "name-taken": call("NamedItemCollection.add", otherCode),
  "name-in-formula": cellsRead((cell) => (cell === 84 ? 2 : cell)),
  "copied-sheet": call("Worksheet.copy", refused),
  "name-after-sheet": read("NamedItem.formula", () => "='Gone'!$A$1"),
  "added-sheet": call("WorksheetCollection.add", (original, _, args) => {
    const sheet = original(...args) as any;
    sheet.activate();
    return sheet;
  }),
  "activate-hidden": call("Worksheet.activate", nothing),
  "delete-very-hidden": call("Worksheet.delete", (original, sheet) => {
    sheet.model.sheet(sheet._id()).veryHidden = false;
    original();
  }),
  "tracked-cell": call("Range.insert", leavesBehind),
  "tracked-cell-gone": call("Range.delete", leavesBehind),
  "protected-sheet": assign("Range.formulas", otherCode),
  "protect-twice": call("WorksheetProtection.protect", (original, protection) =>
    protection.protected ? undefined : original(),
  ),
  "locked-structure": call("WorksheetCollection.add", otherCode),
  "freeze-and-titles": call("PageLayout.setPrintTitleRows", refused),
  "pages-tall": assign("PageLayout.zoom", refused),
  "printed-page": read("HeaderFooter.centerFooter", () => ""),
  chart: call("ChartSeriesCollection.getCount", () => 2),
  "file-slices": ({ host }) => {
    host.model.conditions.withoutFile = true;
  },
  "saved-call": ({ host }) => {
    (host as any).namespace = "OTHER";
  },
  "file-released": () => {
    vi.spyOn(DocumentCopies.prototype, "release").mockImplementation(() => undefined);
  },
  events: ({ host }) => {
    vi.spyOn(host as any, "post").mockImplementation(() => undefined);
  },
  settings: read("Setting.value", () => null),
};
