/**
 * The Bid sheet: key figures, the price and its checks, what was typed about the job, and below them the tables side by
 * side, so that each can grow without moving another.
 */
import { BID_FIELDS, BID_GROUPS, BID_KEYS, type BidJob, type BidKey, bidField, bidUnit } from "../../functions/bid/job";
import { symbol } from "../../functions/units";
import { absoluteAddress } from "../common/a1";
import { BUY_COLUMNS, EXTRA_COLUMNS, FLOOR_COLUMNS, keysOf, MATH_COLUMNS } from "./bid-columns";
import { type BidPlace, type BidTableNames, input, lineFormulas } from "./bid-formulas";
import {
  BID_LINE_KEYS,
  BID_LINES,
  type BidLine,
  type BidSection,
  cellName,
  lineLabel,
  type NamedBidLine,
} from "./bid-lines";
import { type BidTables, type Corners, mathWidth, placeBidTables, tableWidths } from "./bid-tables";
import { BID_HEADINGS, BID_KEY_LABELS, BID_LABELS, BID_NOTES, BID_TITLE } from "./bid-texts";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { HAZARDS } from "./cautions";
import { CellWriter } from "./cell-writer";
import { RULES } from "./plan-texts";
import type { NumberFormat } from "./styles";

export type BidNames = BidTableNames & Readonly<Record<NamedBidLine, string>>;

export interface BidTask extends BidTables {
  readonly job: BidJob;
  readonly sign: string;
}

const floorKeys = keysOf(FLOOR_COLUMNS);
const at = (key: keyof typeof FLOOR_COLUMNS) => floorKeys.indexOf(key);

const KEY_ROW = 3;
const STATUS_ROW = 5;
const TOP = 7;
/** Where labels and figures of each part stand, over the columns of the floors table. */
const SPOTS: Readonly<Record<BidSection, { readonly label: number; readonly value: number }>> = {
  price: { label: at("floor"), value: at("area") },
  time: { label: at("hours"), value: at("price") },
  checks: { label: at("floor"), value: at("area") },
};
const JOB = { label: at("bar"), value: at("check"), unit: at("sheet") };

const FORMATS: Partial<Record<BidLine, NumberFormat>> = {
  ...{ marginShown: "percentFine", overtimeShare: "percentFine", perArea: "money" },
  ...{ hours: "hours", waits: "hours", days: "count", ends: "date", firstDay: "date", daysIn: "count" },
  ...{ power: "hours", dust: "whole", bags: "whole", slurry: "whole", centsLeft: "count" },
};
const STRONG: readonly BidLine[] = ["directCost", "cost", "offered", "total"];

const checksTop = TOP + BID_LINES.price.length + 2;
const rowOf = (section: BidSection, key: BidLine) =>
  (section === "checks" ? checksTop : TOP) + 1 + (BID_LINES[section] as readonly BidLine[]).indexOf(key);
const sectionOf = (key: BidLine) =>
  (Object.keys(BID_LINES) as BidSection[]).find((section) => (BID_LINES[section] as readonly BidLine[]).includes(key))!;

const groups = (Object.keys(BID_GROUPS) as (keyof typeof BID_GROUPS)[]).map((group) => ({
  title: BID_GROUPS[group],
  keys: BID_KEYS.filter((key) => BID_FIELDS[key].group === group),
}));
const JOB_ROWS = 1 + groups.reduce((sum, { keys }) => sum + keys.length + 1, 0);
/** Titles and notes of the tables are above it. */
const HEADER_ROW = TOP + Math.max(JOB_ROWS, checksTop + BID_LINES.checks.length + 1 - TOP) + 4;

const beside = (column: number, columns: object) => column + Object.keys(columns).length + 1;
const CORNERS: Corners = (() => {
  const extras = beside(0, FLOOR_COLUMNS);
  const toBuy = beside(extras, EXTRA_COLUMNS);
  const math = beside(toBuy, BUY_COLUMNS);
  const corner = (column: number) => ({ row: HEADER_ROW, column });
  return { floors: corner(0), extras: corner(extras), toBuy: corner(toBuy), math: corner(math) };
})();

export function bidSheet(task: BidTask, names: BidNames): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(task.sign);
  const sheet = new CellWriter(block);
  const spot = (key: BidLine) => ({ row: rowOf(sectionOf(key), key), column: SPOTS[sectionOf(key)].value });
  const place: BidPlace = {
    units: task.units,
    tables: names,
    line: (key) => absoluteAddress(spot(key).row, spot(key).column),
  };
  const { client, site } = task.job;
  const called = [client, site].filter((text) => text !== "");
  sheet.text(0, 0, called.length > 0 ? `${BID_TITLE}: ${called.join(", ")}` : BID_TITLE, "title");
  sheet.text(1, 0, HAZARDS, "caution");
  placeKeyFigures(sheet, task, place);
  const lines = lineFormulas(place);
  (["price", "time", "checks"] as const).forEach((section) => {
    const { label, value } = SPOTS[section];
    const across =
      section === "checks" ? at("ends") + 1 : section === "price" ? at("hours") - 1 : at("ends") + 1 - label;
    sheet.heading(section === "checks" ? checksTop : TOP, label, BID_HEADINGS[section], across);
    for (const key of BID_LINES[section]) {
      const { row } = spot(key);
      const strong = STRONG.includes(key);
      for (let column = label; column < value; column++) {
        sheet.text(row, column, column === label ? lineLabel(key) : "", strong ? "labelStrong" : "label");
      }
      const style = section === "checks" ? "answer" : strong ? "figureStrong" : "figure";
      sheet.formula(
        row,
        value,
        lines[key].formula,
        style,
        section === "checks" ? undefined : (FORMATS[key] ?? "money"),
      );
      const { unit } = lines[key];
      if (unit?.startsWith("=")) sheet.formula(row, value + 1, unit.slice(1), "unit");
      else if (unit) sheet.text(row, value + 1, unit, "unit");
    }
  });
  for (const key of BID_LINE_KEYS) {
    const name = cellName(key);
    const where = spot(key);
    block.names.push(
      name ? { name, ...where, scope: "sheet" } : { name: names[key as NamedBidLine], ...where, scope: "workbook" },
    );
  }
  placeJob(sheet, task);
  placeTitles(sheet);
  placeBidTables(block, task, place, CORNERS);
  return { block, setup: setupOf(task) };
}

const KEY_FIGURES = [
  ["offered", "floor"],
  ["perArea", "area"],
  ["total", "finish"],
  ["cost", "direct"],
  ["marginShown", "price"],
  ["hours", "starts"],
  ["days", "ends"],
  ["ends", "bar"],
] as const satisfies [BidLine, keyof typeof FLOOR_COLUMNS][];

function placeKeyFigures(sheet: CellWriter, { units }: BidTask, { line }: BidPlace): void {
  for (const [key, over] of KEY_FIGURES) {
    const label = key === "perArea" ? `Per ${symbol("floorArea", units)}` : (BID_KEY_LABELS[key] ?? lineLabel(key));
    sheet.text(KEY_ROW, at(over), label, "keyLabel");
    sheet.formula(KEY_ROW + 1, at(over), line(key), "keyFigure", FORMATS[key] ?? "money");
  }
  sheet.text(STATUS_ROW, 0, BID_LABELS.upToDate, "caution");
  const checks = (["plansFit", "sharesFit", "itemsFit"] as const).map((key) => `LEFT(${line(key)},2)="no"`);
  const wrong = (["plansFit", "sharesFit", "itemsFit"] as const).reduceRight(
    (otherwise, key, i) => `IF(${checks[i]},"${lineLabel(key)} "&${line(key)},${otherwise})`,
    line("upToDate"),
  );
  sheet.formula(STATUS_ROW, at("area"), wrong, "answer");
}

function placeJob(sheet: CellWriter, { job, units }: BidTask): void {
  const { block } = sheet;
  const { label, value, unit } = JOB;
  sheet.heading(TOP, label, BID_HEADINGS.job, 3);
  let row = TOP + 1;
  for (const { title, keys } of groups) {
    sheet.text(row, label, title, "group");
    if (title === BID_GROUPS.customer) {
      sheet.text(row, value, units, "inputText");
      sheet.text(row, unit, BID_LABELS.units, "unit");
      block.names.push({ name: cellName("units")!, row, column: value, scope: "sheet" });
      block.rules.push({ row, column: value, rows: 1, rule: { list: units }, message: RULES.oneOf("Units", [units]) });
    }
    row++;
    for (const key of keys) {
      const field = bidField(key);
      sheet.text(row, label, field.label, "label");
      const style = field.kind === "number" ? "input" : "inputText";
      block.cells.push({ row, column: value, content: jobContent(key, job), style, format: jobFormat(key) });
      const symbolOf = bidUnit(key, units);
      sheet.text(row, unit, symbolOf === "%" ? "" : symbolOf, "unit");
      sheet.text(row, unit + 1, field.note, "note");
      block.names.push({ name: field.name, row, column: value, scope: "sheet" });
      if (field.kind === "number") {
        const { least, most, whole = false, words } = field.domain;
        const message = RULES.within(field.label, words);
        block.rules.push({ row, column: value, rows: 1, rule: { least, most, whole }, message });
      }
      row++;
    }
  }
}

/** What stands in the cell of an input: a blank minimum is a day of the crew. */
export function jobContent(key: BidKey, job: BidJob) {
  const value = job[key];
  if (value !== null) return value;
  if (key !== "minimum") return "";
  const day = (["hoursADay", "crew", "rate"] as const).map(input).join("*");
  return { formula: `=${day}*(1+${input("burden")})` };
}

function jobFormat(key: BidKey): NumberFormat | undefined {
  const field = bidField(key);
  if (field.kind === "date") return "date";
  if (field.kind === "text") return undefined;
  return field.percent ? "percentFine" : field.money ? "moneyInput" : "asTyped";
}

function placeTitles(sheet: CellWriter): void {
  const title = (key: "floors" | "extras" | "toBuy" | "math", columns: object, note?: string) => {
    const { row, column } = CORNERS[key];
    sheet.heading(row - 2, column, BID_HEADINGS[key], Object.keys(columns).length);
    if (note) sheet.text(row - 1, column, note, "note");
  };
  title("floors", FLOOR_COLUMNS, BID_NOTES.floors);
  title("extras", EXTRA_COLUMNS, BID_NOTES.extras);
  title("toBuy", BUY_COLUMNS, BID_NOTES.toBuy);
  title("math", MATH_COLUMNS);
  sheet.text(CORNERS.floors.row - 3, 0, BID_NOTES.cured, "note");
}

/** Between two tables. */
const GAP = 18;

function setupOf({ items }: BidTask): SheetSetup {
  const { toBuy } = CORNERS;
  const uses = mathWidth(items) - Object.keys(MATH_COLUMNS).length;
  return {
    widths: [
      ...tableWidths(FLOOR_COLUMNS),
      GAP,
      ...tableWidths(EXTRA_COLUMNS),
      GAP,
      ...tableWidths(BUY_COLUMNS),
      GAP,
      ...tableWidths(MATH_COLUMNS),
      ...Array.from({ length: uses }, () => 64),
    ],
    rowHeights: [
      [0, 24],
      [HEADER_ROW, 30],
    ],
    frozenRows: STATUS_ROW + 1,
    frozenColumns: 0,
    printTitleRow: 0,
    page: { scale: PRINT_SCALE, columns: toBuy.column + Object.keys(BUY_COLUMNS).length, breaksAbove: [] },
  };
}

/** The floors table is as wide as a Letter page. */
const PRINT_SCALE = 58;
