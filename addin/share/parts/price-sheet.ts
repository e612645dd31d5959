/** One sheet of a price-only copy, written anew with nothing but the chosen cells' values and looks. */
import { parseA1Range } from "@borgar/fx";
import { cellAddress } from "../../common/a1";
import type { LeftOut } from "../copy-texts";
import { refuseChoice } from "../refusals";
import type { Shown } from "./number-format";
import { chosen, picked } from "./price-styles";
import type { Texts } from "./shared-texts";
import { cellsOf, type Placed, rowsOf } from "./sheet-cells";
import type { Unseen } from "./unseen";
import { attribute, attributes, type Element, elements, escaped, first, textIn, written } from "./xml";

/** Cells from a first to a last row and column, zero-based, both included. */
export interface Area {
  readonly top: number;
  readonly left: number;
  readonly bottom: number;
  readonly right: number;
}

interface PriceSheet {
  readonly xml: string;
  /** Numbers of the formats that its cells, rows and columns have, and what cells show by those that have words. */
  readonly styles: ReadonlyMap<number, readonly Shown[]>;
  readonly counts: Counts;
  /** Addresses of cells that show nothing of what is in them. */
  readonly unseen: readonly string[];
  /** What stood on the sheet beside its cells, and is not in the copy. */
  readonly dropped: readonly Dropped[];
}

export interface Dropped {
  readonly kind: LeftOut;
  readonly count: number;
}

export interface Counts {
  /** Cells with a value in the copy. */
  cells: number;
  /** Formulas that are values now. */
  formulas: number;
  /** Formulas whose value the workbook did not hold. */
  unknown: number;
  /** Hidden cells that were left out, and those that a chosen range still has. */
  hiddenGone: number;
  hiddenKept: number;
  /** Cells that show an error, such as #NAME?. */
  errors: number;
  /** Cells that show a picture, which the copy has not. */
  pictures: number;
}

export function areaOf(range: string): Area {
  const found = parseA1Range(range.trim().toUpperCase());
  if (!found) throw refuseChoice("noRange", { range });
  const { top, left, bottom, right } = found;
  return { top: top ?? 0, left: left ?? 0, bottom: bottom ?? Infinity, right: right ?? Infinity };
}

/** Whether an area is in the copy as a whole. */
export const isKept = ({ top, left, bottom, right }: Area, areas: readonly Area[] | undefined) =>
  areas?.some((area) => top >= area.top && bottom <= area.bottom && left >= area.left && right <= area.right) ?? true;

const within = ({ top, left, bottom, right }: Area, row: number, column: number) =>
  row >= top && row <= bottom && column >= left && column <= right;

/** Chosen areas, or nothing where the whole sheet is; `passed` hears up to where the text is done. */
export function priceSheet(
  xml: string,
  namespace: string,
  areas: readonly Area[] | undefined,
  texts: Texts,
  looks: Unseen,
  passed: (at: number) => void,
): PriceSheet {
  const around = withoutCells(xml);
  const sheet = new Chosen(xml, around, areas, texts, looks);
  const rows = sheet.rows(passed);
  const merged = sheet.merged.filter((area) => sheet.has(area.top, area.left) && sheet.has(area.bottom, area.right));
  const parts = [
    `<worksheet xmlns="${namespace}">`,
    first(around, "pageSetUpPr") ? `<sheetPr>${copied(around, "pageSetUpPr", ["fitToPage"])}</sheetPr>` : "",
    viewXml(around, areas),
    copied(around, "sheetFormatPr", ["baseColWidth", "defaultColWidth", "defaultRowHeight", "customHeight"]),
    sheet.columns(),
    `<sheetData>${rows}</sheetData>`,
    merged.length > 0 ? `<mergeCells count="${merged.length}">${merged.map(mergeXml).join("")}</mergeCells>` : "",
    copied(around, "printOptions", ["horizontalCentered", "verticalCentered", "gridLines", "headings"]),
    copied(around, "pageMargins", ["left", "right", "top", "bottom", "header", "footer"]),
    copied(around, "pageSetup", ["paperSize", "scale", "fitToWidth", "fitToHeight", "orientation", "pageOrder"]),
    pageNumbers(around),
    ...(areas ? [] : ["rowBreaks", "colBreaks"].map((name) => breaks(around, name))),
    "</worksheet>",
  ];
  const { styles, counts, unseen } = sheet;
  return { xml: parts.join(""), styles, counts, unseen, dropped: droppedFrom(around) };
}

/** What stands before and behind the cells, so that nothing is looked for among millions of them. */
function withoutCells(xml: string): string {
  const data = first(xml, "sheetData");
  return data ? xml.slice(0, data.start) + xml.slice(data.end) : xml;
}

const mergeXml = ({ top, left, bottom, right }: Area) =>
  `<mergeCell ref="${cellAddress(top, left)}:${cellAddress(bottom, right)}"/>`;

/** An element with these of its attributes, where the sheet has it. */
function copied(xml: string, name: string, names: readonly string[]): string {
  const element = first(xml, name);
  return element ? `<${name}${written(chosen(element, names))}/>` : "";
}

function viewXml(xml: string, areas: readonly Area[] | undefined): string {
  const view = first(xml, "sheetView");
  const looks = view ? chosen(view, ["showGridLines", "showZeros", "rightToLeft", "zoomScale"]) : {};
  const pane = view && first(xml, "pane", view);
  const frozen = pane ? frozenXml(view, pane, areas) : "";
  const scrolled = frozen ? chosen(view!, ["topLeftCell"]) : {};
  const attributesOf = written({ ...looks, ...scrolled, workbookViewId: "0" });
  return `<sheetViews><sheetView${attributesOf}>${frozen}</sheetView></sheetViews>`;
}

/** Headings that stay in sight; where none of their cells is in the copy, they would only be in the way. */
function frozenXml(view: Element, pane: Element, areas: readonly Area[] | undefined): string {
  const looks = chosen(pane, ["xSplit", "ySplit", "topLeftCell", "activePane", "state"]);
  if (!looks.state?.startsWith("frozen")) return "";
  const { top, left } = areaOf(attribute(view, "topLeftCell") ?? "A1");
  const [bottom, right] = [top + Number(looks.ySplit ?? 0), left + Number(looks.xSplit ?? 0)];
  const holds = areas?.some((area) => area.top < bottom || area.left < right) ?? true;
  return holds ? `<pane${written(looks)}/>` : "";
}

/** A header or footer of page numbers alone; any other can hold a name, a path or a figure. */
const PAGE_NUMBERS = /^(?:&[LCRPN]|Page|of|[\s/.,:–-])*$/;
const PAGE_TEXTS = ["oddHeader", "oddFooter", "evenHeader", "evenFooter", "firstHeader", "firstFooter"];

function pageTexts(xml: string): Element[] {
  const list = first(xml, "headerFooter");
  return list ? [...elements(xml, PAGE_TEXTS, list.innerStart, list.innerEnd)] : [];
}

function pageNumbers(xml: string): string {
  const list = first(xml, "headerFooter");
  const kept = pageTexts(xml)
    .map((one) => ({ name: one.name, text: textIn(xml, one) }))
    .filter(({ text }) => text !== "" && PAGE_NUMBERS.test(text));
  if (!list || kept.length === 0) return "";
  const attributesOf = written(chosen(list, ["differentOddEven", "differentFirst", "alignWithMargins"]));
  return `<headerFooter${attributesOf}>${kept.map(({ name, text }) => `<${name}>${escaped(text)}</${name}>`).join("")}</headerFooter>`;
}

function breaks(xml: string, name: string): string {
  const list = first(xml, name);
  const brks = list ? [...elements(xml, ["brk"], list.innerStart, list.innerEnd)] : [];
  const lines = brks.map((brk) => `<brk${written(chosen(brk, ["id", "min", "max", "man"]))}/>`);
  const counts = written({
    count: String(lines.length),
    manualBreakCount: list && attribute(list, "manualBreakCount"),
  });
  return lines.length > 0 ? `<${name}${counts}>${lines.join("")}</${name}>` : "";
}

/** What a reader would miss of what stands behind the cells. */
function droppedFrom(xml: string): Dropped[] {
  const rules = [...elements(xml, ["conditionalFormatting"])].flatMap(({ innerStart, innerEnd }) => [
    ...elements(xml, ["cfRule"], innerStart, innerEnd),
  ]);
  const validations = first(xml, "dataValidations");
  const texts = pageTexts(xml).map((one) => textIn(xml, one));
  return [
    { kind: "pageTexts", count: texts.filter((text) => text !== "" && !PAGE_NUMBERS.test(text)).length },
    { kind: "conditionalFormats", count: rules.length },
    {
      kind: "validations",
      count: validations
        ? [...elements(xml, ["dataValidation"], validations.innerStart, validations.innerEnd)].length
        : 0,
    },
  ];
}

/** What is in a cell: a formula, a value, a text of its own. */
interface Content {
  f?: Element;
  v?: Element;
  is?: Element;
}

class Chosen {
  readonly styles = new Map<number, Shown[]>();
  readonly counts: Counts = { cells: 0, formulas: 0, unknown: 0, hiddenGone: 0, hiddenKept: 0, errors: 0, pictures: 0 };
  readonly unseen: string[] = [];
  readonly merged: readonly Area[];
  /** How far down the merged cells have been looked through, and which of them reach there. */
  private mergedAt: { row: number; next: number; open: Area[] } = { row: 0, next: 0, open: [] };
  private readonly hiddenColumns: readonly Area[];

  constructor(
    private readonly xml: string,
    private readonly around: string,
    private readonly areas: readonly Area[] | undefined,
    private readonly texts: Texts,
    private readonly looks: Unseen,
  ) {
    this.merged = [...elements(around, ["mergeCell"])]
      .map((one) => areaOf(attribute(one, "ref") ?? ""))
      .sort((a, b) => a.top - b.top);
    this.hiddenColumns = this.columnElements()
      .filter((one) => isHidden(attributes(one)))
      .map(columnsOf);
  }

  has(row: number, column: number): boolean {
    return this.areas?.some((area) => within(area, row, column)) ?? true;
  }

  private columnElements(): Element[] {
    const list = first(this.around, "cols");
    return list ? [...elements(this.around, ["col"], list.innerStart, list.innerEnd)] : [];
  }

  columns(): string {
    const shown = this.columnElements().filter((column) => {
      const { left, right } = columnsOf(column);
      return this.areas?.some((area) => area.left <= right && area.right >= left) ?? true;
    });
    const cols = shown.map((column) => {
      const style = isHidden(attributes(column)) ? undefined : attribute(column, "style");
      this.use(style);
      return `<col${written({ ...chosen(column, ["min", "max", "width", "hidden", "customWidth"]), style })}/>`;
    });
    return cols.length > 0 ? `<cols>${cols.join("")}</cols>` : "";
  }

  rows(passed: (at: number) => void): string {
    const rows: string[] = [];
    for (const row of rowsOf(this.xml)) {
      if (this.areas?.some(({ top, bottom }) => row.at >= top && row.at <= bottom) ?? true) rows.push(this.row(row));
      passed(row.element.end);
    }
    return rows.join("");
  }

  /** Those that reach into a row; rows come from the top down, or it begins again. */
  private mergedIn(row: number): readonly Area[] {
    if (row < this.mergedAt.row) this.mergedAt = { row, next: 0, open: [] };
    const { open } = this.mergedAt;
    let { next } = this.mergedAt;
    for (; next < this.merged.length && this.merged[next]!.top <= row; next++) open.push(this.merged[next]!);
    this.mergedAt = { row, next, open: open.filter(({ bottom }) => bottom >= row) };
    return this.mergedAt.open;
  }

  private row({ element: row, at, looks: all }: Placed): string {
    const inHiddenRow = isHidden(all);
    const looks = picked(all, ["ht", "customHeight", "hidden", ...(inHiddenRow ? [] : ["s", "customFormat"])]);
    this.use(looks.s);
    const merged = this.mergedIn(at);
    // Joined row by row: a text that is added to a million times is kept in as many pieces.
    const cells: string[] = [];
    for (const cell of cellsOf(this.xml, row)) {
      const column = cell.at;
      if (!this.has(at, column)) continue;
      // Nobody sees what a merged cell covers.
      const isCovered = merged.some((area) => within(area, at, column) && (at > area.top || column > area.left));
      const isHiddenCell = inHiddenRow || this.hiddenColumns.some((area) => within(area, at, column));
      cells.push(this.cell(cell, cellAddress(at, column), isCovered, isHiddenCell));
    }
    return [`<row r="${at + 1}"${written(looks)}>`, ...cells, "</row>"].join("");
  }

  private cell({ element, looks }: Placed, address: string, isCovered: boolean, isHiddenCell: boolean): string {
    const content: Content = {};
    for (const part of elements(this.xml, ["f", "v", "is"], element.innerStart, element.innerEnd)) {
      content[part.name as keyof Content] = part;
    }
    const isGone = isCovered || (isHiddenCell && this.areas === undefined);
    // A text that is not kept must not be asked for: what is asked for is in the copy.
    // A picture in a cell stands behind an error that nobody sees.
    const isPicture = looks.get("t") === "e" && looks.has("vm");
    if (isPicture && !isGone) this.counts.pictures++;
    const value = isGone || isPicture ? undefined : this.value(content, looks.get("t"));
    this.count(content, value !== undefined, isGone, isHiddenCell);
    // What nobody sees needs no format either, and a format can tell a figure.
    if (isGone && isHiddenCell) return "";
    // Every cell has a format, if only the first.
    const style = looks.get("s");
    const shown = value && shownAs(value);
    this.use(style ?? "0", shown);
    const text = value?.t === "s" ? this.texts.at(Number(value.v)) : undefined;
    if (shown !== undefined && this.looks.hides(Number(style ?? 0), shown, text)) this.unseen.push(address);
    if (value?.t === "e") this.counts.errors++;
    const look = style === undefined ? "" : ` s="${escaped(style)}"`;
    if (!value) return `<c r="${address}"${look}/>`;
    const kind = value.t === undefined ? "" : ` t="${escaped(value.t)}"`;
    return `<c r="${address}"${look}${kind}><v>${value.v}</v></c>`;
  }

  /** A value as the copy writes it. */
  private value({ v, is }: Content, t: string | undefined): { t?: string; v: string } | undefined {
    if (is) return { t: "s", v: String(this.texts.ofInline(this.xml, is)) };
    if (!v) return undefined;
    const text = textIn(this.xml, v);
    if (t !== "s" && t !== "str") return { t, v: escaped(text) };
    const number = this.texts.ofValue(text, t === "s");
    return number === undefined ? undefined : { t: "s", v: String(number) };
  }

  private count({ f, v, is }: Content, hasValue: boolean, isGone: boolean, isHiddenCell: boolean): void {
    if (isGone) {
      if (v || is) this.counts.hiddenGone++;
    } else if (!hasValue) {
      if (f && !v) this.counts.unknown++;
    } else {
      this.counts.cells++;
      if (f) this.counts.formulas++;
      if (isHiddenCell) this.counts.hiddenKept++;
    }
  }

  private use(style: string | undefined, shown?: Shown): void {
    if (style === undefined) return;
    const number = Number(style);
    const known = this.styles.get(number);
    const told = shown !== undefined && this.looks.tells(number) ? [shown] : [];
    if (!known) this.styles.set(number, told);
    else if (told.length > 0) known.push(shown!);
  }
}

/** What a cell's number format is for: neither TRUE nor an error is shown by it. */
function shownAs({ t = "n", v }: { t?: string; v: string }): Shown | undefined {
  if (t === "s") return "text";
  return t === "n" && v !== "" ? Number(v) : undefined;
}

/** A row or column of no height or width is as good as hidden. */
function isHidden(looks: ReadonlyMap<string, string>): boolean {
  const hidden = looks.get("hidden");
  return (
    hidden === "1" || hidden === "true" || [looks.get("width"), looks.get("ht")].some((size) => Number(size) === 0)
  );
}

function columnsOf(column: Element): Area {
  const { min, max } = Object.fromEntries(attributes(column));
  return { top: 0, bottom: Infinity, left: Number(min) - 1, right: Number(max) - 1 };
}
