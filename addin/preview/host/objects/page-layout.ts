/** PageLayout: how a sheet is printed. */
import { formatAddress, isWholeColumns, isWholeRows, type Rect } from "../a1";
import { invalidArgument } from "../errors";
import type { Model, PageData } from "../model";
import { HostObject, NULL_OBJECT, type OrNull, present } from "./object";
import { Range, rangeAt } from "./range";
import { choice, flag, number, part, RecordObject, type Schema, type Setting } from "./record";

const LONGEST_HEADER = 255;

const headerText: Setting = {
  initial: "",
  take(value) {
    if (typeof value !== "string" || value.length > LONGEST_HEADER) throw invalidArgument();
    return value;
  },
};

/** Either a scale in percent, or how many pages to fit. */
const zoom: Setting = {
  initial: { scale: 100 },
  take(value) {
    if (typeof value !== "object" || value === null) throw invalidArgument();
    const { scale, horizontalFitToPages, verticalFitToPages, ...others } = value as Record<string, unknown>;
    if (Object.keys(others).length > 0) throw invalidArgument();
    const isScale = scale !== undefined && scale !== null;
    if (isScale && (typeof scale !== "number" || scale < 10 || scale > 400)) throw invalidArgument();
    // 0 pages means as many as it takes.
    const pages = [horizontalFitToPages, verticalFitToPages].filter((count) => count !== undefined && count !== null);
    if (!pages.every((count) => Number.isInteger(count) && (count as number) >= 0)) throw invalidArgument();
    if (isScale && pages.length > 0) throw invalidArgument();
    return value;
  },
};

const PAGE: Schema = {
  orientation: choice("Portrait", "Portrait", "Landscape"),
  paperSize: choice("Letter", "Letter", "Legal", "A3", "A4", "A5", "Tabloid", "Executive"),
  zoom,
  centerHorizontally: flag(false),
  centerVertically: flag(false),
  leftMargin: number(50.4, 0),
  rightMargin: number(50.4, 0),
  topMargin: number(54, 0),
  bottomMargin: number(54, 0),
  headerMargin: number(21.6, 0),
  footerMargin: number(21.6, 0),
};

const HEADER_FOOTER: Schema = {
  leftHeader: headerText,
  centerHeader: headerText,
  rightHeader: headerText,
  leftFooter: headerText,
  centerFooter: headerText,
  rightFooter: headerText,
};

/** Points in the units that margins may be given in. */
const UNITS: Readonly<Record<string, number>> = { Points: 1, Inches: 72, Centimeters: 72 / 2.54 };
const SIDES = ["left", "right", "top", "bottom", "header", "footer"];

export class PageLayout extends RecordObject {
  constructor(model: Model, sheetId: string) {
    const page = model.sheet(sheetId).page;
    const blockOf = (address: unknown) => {
      if (address instanceof Range) return address._rect();
      if (typeof address !== "string") throw invalidArgument();
      return rangeAt(model, address, sheetId)._rect();
    };
    const rangeOf = (rect: Rect | undefined): OrNull<Range> => (rect ? new Range(model, sheetId, rect) : NULL_OBJECT);
    const methods = {
      setPrintArea: (area: unknown) => {
        page.printArea = blockOf(area);
      },
      getPrintAreaOrNullObject: () => rangeOf(page.printArea),
      getPrintArea: () => present(rangeOf(page.printArea)),
      setPrintTitleRows: (rows: unknown) => {
        page.titleRows = wholeOnly(blockOf(rows), isWholeRows);
      },
      getPrintTitleRowsOrNullObject: () => rangeOf(page.titleRows),
      getPrintTitleRows: () => present(rangeOf(page.titleRows)),
      setPrintTitleColumns: (columns: unknown) => {
        page.titleColumns = wholeOnly(blockOf(columns), isWholeColumns);
      },
      getPrintTitleColumnsOrNullObject: () => rangeOf(page.titleColumns),
      getPrintTitleColumns: () => present(rangeOf(page.titleColumns)),
      setPrintMargins: (unit: unknown, margins: unknown) => setMargins(page, unit, margins),
    };
    const children = { headersFooters: () => headersFooters(model, page) };
    super(model, { typeName: "PageLayout", schema: PAGE, children, methods }, page.settings);
  }
}

/** Only for use within a batch: nothing of a break is read. */
class PageBreak extends HostObject {
  readonly typeName = "PageBreak";
}

export class HorizontalPageBreaks extends HostObject {
  readonly typeName = "PageBreakCollection";

  constructor(
    model: Model,
    readonly sheetId: string,
  ) {
    super(model);
  }

  /** A page begins at the first row of these cells. */
  add(place: unknown): PageBreak {
    const { row } = place instanceof Range ? place._rect() : rangeAt(this.model, String(place), this.sheetId)._rect();
    const { page } = this.model.sheet(this.sheetId);
    page.rowBreaks = [...(page.rowBreaks ?? []), row];
    return new PageBreak(this.model);
  }
}

function wholeOnly(rect: Rect, isWhole: (rect: Rect) => boolean): Rect {
  if (!isWhole(rect)) throw invalidArgument(`"${formatAddress(rect)}" is not whole rows or columns.`);
  return rect;
}

function setMargins(page: PageData, unit: unknown, margins: unknown) {
  const points = UNITS[String(unit)];
  if (!points || typeof margins !== "object" || margins === null) throw invalidArgument();
  for (const [side, value] of Object.entries(margins)) {
    if (!SIDES.includes(side) || typeof value !== "number" || value < 0) throw invalidArgument();
    page.settings[`${side}Margin`] = value * points;
  }
}

function headersFooters(model: Model, page: PageData): HostObject {
  const settings = part(page.settings, "headersFooters");
  const pages = part(settings, "defaultForAllPages");
  const children = {
    defaultForAllPages: () => new RecordObject(model, { typeName: "HeaderFooter", schema: HEADER_FOOTER }, pages),
  };
  return new RecordObject(model, { typeName: "HeadersFooters", schema: {}, children }, settings);
}
