/** Defined names and tables in the file: the package that writes it knows neither a sheet's own names nor all of a table. */
import { escaped, written } from "../../share/parts/xml";
import { endRow, formatAddress, isOneCell, quoteSheet, type Rect } from "./a1";
import type { Model } from "./model";
import type { TableModel } from "./names";
import { Table } from "./objects/table";
import { calculatedColumns } from "./objects/table-rows";
import { mayBeArray, storedFormula } from "./xlsx-formula";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";

/** What SUBTOTAL's numbers are called in a row of totals. */
const TOTALS: Readonly<Record<string, string>> = {
  101: "average",
  102: "countNums",
  103: "count",
  104: "max",
  105: "min",
  107: "stdDev",
  109: "sum",
  110: "var",
};

interface FileName {
  readonly name: string;
  readonly sheetId: string | undefined;
  readonly text: string;
  readonly comment?: string;
  readonly hidden?: boolean;
}

/** Print areas and print titles are names too. */
export function namesXml(model: Model, namespace: string): string {
  const { engine } = model;
  const own = engine.book.names.map(
    ({ name, formula, sheetId, comment, visible }): FileName => ({
      name,
      sheetId,
      text: storedFormula(formula, { namespace, table: undefined }),
      comment,
      hidden: !visible,
    }),
  );
  const sheetIds = engine.sheetIds();
  const names = [...own, ...sheetIds.flatMap((sheetId) => printNames(model, sheetId))];
  if (names.length === 0) return "";
  const elements = names.map(({ name, sheetId, text, comment, hidden }) => {
    const values = {
      name,
      comment: comment || undefined,
      localSheetId: sheetId === undefined ? undefined : String(sheetIds.indexOf(sheetId)),
      hidden: hidden ? "1" : undefined,
    };
    return `<definedName${written(values)}>${escaped(text)}</definedName>`;
  });
  return `<definedNames>${elements.join("")}</definedNames>`;
}

function printNames(model: Model, sheetId: string): FileName[] {
  const { printArea, titleColumns, titleRows } = model.sheet(sheetId).page;
  const sheet = quoteSheet(model.engine.sheetName(sheetId));
  const textOf = (rects: readonly (Rect | undefined)[]) =>
    rects.flatMap((rect) => (rect ? `${sheet}!${cornersOf(rect)}` : [])).join(",");
  return [
    { name: "_xlnm.Print_Area", sheetId, text: textOf([printArea]) },
    { name: "_xlnm.Print_Titles", sheetId, text: textOf([titleColumns, titleRows]) },
  ].filter(({ text }) => text !== "");
}

/** One cell too is written as an area here: Excel does so. */
function cornersOf(rect: Rect): string {
  const address = formatAddress(rect, true);
  return isOneCell(rect) ? `${address}:${address}` : address;
}

/** The part that describes a table. */
export function tableXml(model: Model, table: TableModel, id: number, namespace: string): string {
  const { rect, showTotals, columns } = table;
  const filtered = showTotals ? { ...rect, rows: rect.rows - 1 } : rect;
  const values = {
    xmlns: MAIN,
    id: String(id),
    name: table.name,
    displayName: table.name,
    ref: formatAddress(rect),
    totalsRowCount: showTotals ? "1" : undefined,
    totalsRowShown: showTotals ? undefined : "0",
  };
  const filter = table.showFilterButton ? `<autoFilter ref="${formatAddress(filtered)}"/>` : "";
  const calculated = calculatedColumns(new Table(model, table));
  const columnsXml = columns.map((column, i) => columnXml(model, table, column, i, calculated[i]?.formula, namespace));
  const style = {
    name: table.style || undefined,
    showFirstColumn: "0",
    showLastColumn: "0",
    showRowStripes: flag(table.showBandedRows),
    showColumnStripes: "0",
  };
  return (
    `${HEAD}<table${written(values)}>${filter}` +
    `<tableColumns count="${columns.length}">${columnsXml.join("")}</tableColumns>` +
    `<tableStyleInfo${written(style)}/></table>`
  );
}

const flag = (on: boolean) => (on ? "1" : "0");

function columnXml(
  model: Model,
  table: TableModel,
  { id, name }: TableModel["columns"][number],
  index: number,
  calculated: string | undefined,
  namespace: string,
): string {
  const stored = (formula: string) => storedFormula(formula, { namespace, table: table.name });
  const array = (formula: string) => (mayBeArray(formula, namespace, () => false) ? ' array="1"' : "");
  const totals: Totals = table.showTotals ? totalsOf(model, table, index) : {};
  const values = {
    id: String(id),
    name: name.replace(/\r?\n/g, "_x000a_"),
    totalsRowFunction: totals.formula === undefined ? undefined : (functionOf(totals.formula, name) ?? "custom"),
    totalsRowLabel: totals.label,
  };
  const inside = [
    calculated === undefined
      ? ""
      : `<calculatedColumnFormula${array(calculated)}>${escaped(stored(calculated))}</calculatedColumnFormula>`,
    values.totalsRowFunction === "custom"
      ? `<totalsRowFormula${array(totals.formula!)}>${escaped(stored(totals.formula!))}</totalsRowFormula>`
      : "",
  ].join("");
  return inside === "" ? `<tableColumn${written(values)}/>` : `<tableColumn${written(values)}>${inside}</tableColumn>`;
}

interface Totals {
  readonly formula?: string | undefined;
  readonly label?: string | undefined;
}

/** What the cell in the row of totals holds. */
function totalsOf({ engine }: Model, { sheetId, rect }: TableModel, index: number): Totals {
  const formula = engine.formula(sheetId, endRow(rect), rect.column + index);
  const value = engine.value(sheetId, endRow(rect), rect.column + index);
  return { formula, label: !formula && typeof value === "string" ? value : undefined };
}

/** SUBTOTAL over the column itself has a name; whatever else is a formula of the user's. */
function functionOf(formula: string, column: string): string | undefined {
  const [, number = "", name = ""] =
    /^=\s*SUBTOTAL\(\s*(\d+)\s*,[^[\]]*\[((?:'.|[^[\]'])+)\]\s*\)\s*$/i.exec(formula) ?? [];
  return name.replace(/'(.)/g, "$1").toLowerCase() === column.toLowerCase() ? TOTALS[number] : undefined;
}
