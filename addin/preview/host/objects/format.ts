/** RangeFormat and what hangs on it: fonts, fills, borders, alignment, widths and heights. */
import type { IBorderData, IBorderStyleData, IStyleData, Nullable } from "@univerjs/core";
import { endColumn, endRow, isWholeColumns, isWholeRows, type Rect } from "../a1";
import { accessDenied, invalidArgument, notImplemented } from "../errors";
import { DEFAULT_FONT_SIZE, WRAP } from "../measure";
import { POINTS } from "./geometry";
import { HostCollection, HostObject, same } from "./object";
import type { Range } from "./range";
import { colorOf } from "./record";

const DEFAULT_FONT = { name: "Calibri", size: DEFAULT_FONT_SIZE, color: "#000000" };
const NO_FILL = "#FFFFFF";
const INDENT_PIXELS = 9;
const HORIZONTAL = ["General", "Left", "Center", "Right", "Justify"];
const VERTICAL = ["", "Top", "Center", "Bottom"];

/** The value all cells of a block share, or null. Rows and columns in full are read by their first cell and what is known. */
function uniform<T>(range: Range, read: (style: IStyleData) => T): T | null {
  const { engine } = range.model;
  const { row, column } = range._rect();
  const values = new Set<T>([read(engine.style(range._sheetId(), row, column))]);
  const visit = (r: number, c: number) => void values.add(read(engine.style(range._sheetId(), r, c)));
  if (isWholeRows(range._rect()) || isWholeColumns(range._rect()))
    engine.forEachKnown(range._sheetId(), range._rect(), visit);
  else range._each(visit);
  return same([...values]);
}

function apply(range: Range, style: IStyleData) {
  range._guardFormat();
  range.model.engine.setStyle(range._sheetId(), range._rect(), style);
}

const flagOf = (value: unknown): number => {
  if (typeof value !== "boolean") throw invalidArgument();
  return Number(value);
};

const positive = (value: unknown, most: number): number => {
  if (typeof value !== "number" || !(value >= 0) || value > most) throw invalidArgument();
  return value;
};

export class RangeFormat extends HostObject {
  readonly typeName = "RangeFormat";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  get font(): RangeFont {
    return new RangeFont(this.range);
  }

  get fill(): RangeFill {
    return new RangeFill(this.range);
  }

  get borders(): RangeBorderCollection {
    return new RangeBorderCollection(this.range);
  }

  get protection(): FormatProtection {
    return new FormatProtection(this.range);
  }

  get horizontalAlignment(): string | null {
    return uniform(this.range, ({ ht }) => HORIZONTAL[ht ?? 0] ?? "General");
  }

  set horizontalAlignment(value: unknown) {
    const ht = HORIZONTAL.indexOf(String(value));
    if (ht < 0) throw notImplemented(`the horizontal alignment "${value}"`);
    apply(this.range, { ht });
  }

  get verticalAlignment(): string | null {
    return uniform(this.range, ({ vt }) => VERTICAL[vt || 3]!);
  }

  set verticalAlignment(value: unknown) {
    const vt = VERTICAL.indexOf(String(value));
    if (vt < 1) throw notImplemented(`the vertical alignment "${value}"`);
    apply(this.range, { vt });
  }

  get wrapText(): boolean | null {
    return uniform(this.range, ({ tb }) => tb === WRAP);
  }

  set wrapText(value: unknown) {
    apply(this.range, { tb: flagOf(value) ? WRAP : null });
  }

  get indentLevel(): number | null {
    return uniform(this.range, ({ pd }) => Math.round((pd?.l ?? 0) / INDENT_PIXELS));
  }

  set indentLevel(value: unknown) {
    const level = positive(value, 250);
    apply(this.range, { pd: level > 0 ? { l: level * INDENT_PIXELS } : null });
  }

  /** Points; null where the columns differ. */
  get columnWidth(): number | null {
    const { engine } = this.model;
    const { column, columns } = this.range._rect();
    const widths = Array.from({ length: Math.min(columns, engine.sheetSize(this.range._sheetId()).columns) }, (_, i) =>
      engine.sizes.columnWidth(this.range._sheetId(), column + i),
    );
    const width = same(widths);
    return width === null ? null : width * POINTS;
  }

  set columnWidth(value: unknown) {
    this.range._guardFormat();
    const { column, columns } = this.range._rect();
    this.model.engine.sizes.setColumnWidth(this.range._sheetId(), column, columns, positive(value, 1790) / POINTS);
    this.model.changed();
  }

  get rowHeight(): number | null {
    const { engine } = this.model;
    const { row, rows } = this.range._rect();
    const heights = Array.from({ length: Math.min(rows, engine.sheetSize(this.range._sheetId()).rows) }, (_, i) =>
      engine.sizes.rowHeight(this.range._sheetId(), row + i),
    );
    const height = same(heights);
    return height === null ? null : height * POINTS;
  }

  set rowHeight(value: unknown) {
    this.range._guardFormat();
    const { row, rows } = this.range._rect();
    this.model.engine.sizes.setRowHeight(this.range._sheetId(), row, rows, positive(value, 409.5) / POINTS);
    this.model.changed();
  }

  /** Rows get the height that their content needs in columns as wide as they are now. */
  autofitRows(): void {
    this.range._guardFormat();
    const { row, rows } = this.range._rect();
    this.model.engine.sizes.fit(this.range._sheetId(), row, rows);
    this.model.changed();
  }
}

export class RangeFont extends HostObject {
  readonly typeName = "RangeFont";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  get name(): string | null {
    return uniform(this.range, ({ ff }) => ff ?? DEFAULT_FONT.name);
  }

  set name(value: unknown) {
    if (typeof value !== "string" || value === "") throw invalidArgument();
    apply(this.range, { ff: value });
  }

  get size(): number | null {
    return uniform(this.range, ({ fs }) => fs ?? DEFAULT_FONT.size);
  }

  set size(value: unknown) {
    if (positive(value, 409) < 1) throw invalidArgument();
    apply(this.range, { fs: value as number });
  }

  get color(): string | null {
    return uniform(this.range, ({ cl }) => cl?.rgb ?? DEFAULT_FONT.color);
  }

  set color(value: unknown) {
    apply(this.range, { cl: { rgb: colorOf(value) } });
  }

  get bold(): boolean | null {
    return uniform(this.range, ({ bl }) => bl === 1);
  }

  set bold(value: unknown) {
    apply(this.range, { bl: flagOf(value) });
  }

  get italic(): boolean | null {
    return uniform(this.range, ({ it }) => it === 1);
  }

  set italic(value: unknown) {
    apply(this.range, { it: flagOf(value) });
  }

  get underline(): string | null {
    return uniform(this.range, ({ ul }) => (ul?.s === 1 ? "Single" : "None"));
  }

  set underline(value: unknown) {
    if (value !== "None" && value !== "Single") throw notImplemented(`the underline "${value}"`);
    apply(this.range, { ul: { s: Number(value === "Single") } });
  }

  get strikethrough(): boolean | null {
    return uniform(this.range, ({ st }) => st?.s === 1);
  }

  set strikethrough(value: unknown) {
    apply(this.range, { st: { s: flagOf(value) } });
  }
}

export class RangeFill extends HostObject {
  readonly typeName = "RangeFill";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  get color(): string | null {
    return uniform(this.range, ({ bg }) => bg?.rgb ?? NO_FILL);
  }

  set color(value: unknown) {
    apply(this.range, { bg: value === "" ? null : { rgb: colorOf(value) } });
  }

  clear() {
    apply(this.range, { bg: null });
  }
}

export class FormatProtection extends HostObject {
  readonly typeName = "FormatProtection";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  get locked(): boolean | null {
    const flags: boolean[] = [];
    this.range._each((row, column) => {
      flags.push(this.model.engine.custom(this.range._sheetId(), row, column).locked !== false);
    });
    return same(flags);
  }

  set locked(value: unknown) {
    if (this.model.sheet(this.range._sheetId()).protection) throw accessDenied();
    const locked = flagOf(value) === 1;
    this.range._each((row, column) => {
      this.model.engine.setCustom(this.range._sheetId(), row, column, { locked });
    });
  }
}

type Side = "t" | "b" | "l" | "r";

/** Which cells of a block carry an edge, and on which side of each. */
const EDGES: Readonly<Record<string, { side: Side; cells: (rect: Rect) => Rect }>> = {
  EdgeTop: { side: "t", cells: (rect) => ({ ...rect, rows: 1 }) },
  EdgeBottom: { side: "b", cells: (rect) => ({ ...rect, row: endRow(rect), rows: 1 }) },
  EdgeLeft: { side: "l", cells: (rect) => ({ ...rect, columns: 1 }) },
  EdgeRight: { side: "r", cells: (rect) => ({ ...rect, column: endColumn(rect), columns: 1 }) },
  InsideHorizontal: { side: "b", cells: (rect) => ({ ...rect, rows: rect.rows - 1 }) },
  InsideVertical: { side: "r", cells: (rect) => ({ ...rect, columns: rect.columns - 1 }) },
};

/** The engine's numbers for a line, by Excel's style and weight. */
const LINES: readonly { style: string; weight: string; line: number }[] = [
  { style: "Continuous", weight: "Thin", line: 1 },
  { style: "Continuous", weight: "Hairline", line: 2 },
  { style: "Dot", weight: "Thin", line: 3 },
  { style: "Dash", weight: "Thin", line: 4 },
  { style: "DashDot", weight: "Thin", line: 5 },
  { style: "DashDotDot", weight: "Thin", line: 6 },
  { style: "Double", weight: "Thick", line: 7 },
  { style: "Continuous", weight: "Medium", line: 8 },
  { style: "Dash", weight: "Medium", line: 9 },
  { style: "DashDot", weight: "Medium", line: 10 },
  { style: "DashDotDot", weight: "Medium", line: 11 },
  { style: "SlantDashDot", weight: "Medium", line: 12 },
  { style: "Continuous", weight: "Thick", line: 13 },
];

export class RangeBorderCollection extends HostCollection<RangeBorder> {
  readonly typeName = "RangeBorderCollection";

  constructor(private readonly range: Range) {
    super(range.model);
  }

  _items(): RangeBorder[] {
    return Object.keys(EDGES).map((edge) => new RangeBorder(this.range, edge));
  }

  override getItem(edge: unknown): RangeBorder {
    if (edge === "DiagonalDown" || edge === "DiagonalUp") throw notImplemented(`the border "${edge}"`);
    if (!EDGES[String(edge)]) throw invalidArgument();
    return new RangeBorder(this.range, String(edge));
  }
}

export class RangeBorder extends HostObject {
  readonly typeName = "RangeBorder";

  constructor(
    private readonly range: Range,
    private readonly edge: string,
  ) {
    super(range.model);
    this.key = edge;
  }

  get style(): string | null {
    return this._uniform((border) => LINES.find(({ line }) => line === border?.s)?.style ?? "None");
  }

  set style(value: unknown) {
    if (value === "None") {
      this._write(null);
      return;
    }
    const { weight } = this._known();
    const line =
      LINES.find((known) => known.style === value && known.weight === weight) ??
      LINES.find((known) => known.style === value);
    if (!line) throw invalidArgument();
    this._write({ s: line.line, cl: { rgb: this._known().color } });
  }

  get weight(): string | null {
    return this._uniform((border) => LINES.find(({ line }) => line === border?.s)?.weight ?? "Thin");
  }

  set weight(value: unknown) {
    const { style, color } = this._known();
    const line = LINES.find((known) => known.style === style && known.weight === value);
    if (!line)
      throw LINES.some(({ weight }) => weight === value)
        ? notImplemented(`the line "${style}" ${value}`)
        : invalidArgument();
    this._write({ s: line.line, cl: { rgb: color } });
  }

  get color(): string | null {
    return this._uniform((border) => border?.cl?.rgb ?? DEFAULT_FONT.color);
  }

  set color(value: unknown) {
    const { style, weight } = this._known();
    const line = LINES.find((known) => known.style === style && known.weight === weight)!;
    this._write({ s: line.line, cl: { rgb: colorOf(value) } });
  }

  /** A whole line at once, whatever was there before. */
  _draw(style: unknown, color: unknown, weight: unknown = "Thin") {
    const line = LINES.find((known) => known.style === style && known.weight === weight);
    if (!line) throw notImplemented(`the line "${style}" ${weight}`);
    this._write({ s: line.line, cl: { rgb: colorOf(color) } });
  }

  private _cells(): Rect | undefined {
    const cells = EDGES[this.edge]!.cells(this.range._rect());
    return cells.rows > 0 && cells.columns > 0 ? cells : undefined;
  }

  private _uniform<T>(read: (border: Nullable<IBorderStyleData>) => T): T | null {
    const cells = this._cells();
    if (!cells) return read(null);
    const { side } = EDGES[this.edge]!;
    return uniform(this.range._at(cells), ({ bd }) => read(bd?.[side]));
  }

  /** What the line is now, or what a new one starts as. */
  private _known(): { style: string; weight: string; color: string } {
    const style = this.style;
    if (style === null || style === "None") return { style: "Continuous", weight: "Thin", color: DEFAULT_FONT.color };
    return { style, weight: this.weight ?? "Thin", color: this.color ?? DEFAULT_FONT.color };
  }

  private _write(border: IBorderStyleData | null) {
    const cells = this._cells();
    if (!cells) return;
    const bd: IBorderData = { [EDGES[this.edge]!.side]: border };
    apply(this.range._at(cells), { bd });
  }
}
