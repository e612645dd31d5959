/** The sheets that a calculating copy has besides the user's: the published tables, and what was done. */
import { absoluteAddress, cellAddress } from "../../common/a1";
import { REFERENCE_SHEET, SCALE_HEADINGS, SCALE_SOURCES } from "../copy-texts";
import { type OwnScale, SCALE_TABLES, type ScaleCells, type ScalePart, type ScaleTable, scaleRows } from "../scales";
import { fontOf, wrapFormat } from "./added-styles";
import { OWN_COLUMNS, ownScaleTable } from "./own-scale";
import type { Workbook } from "./workbook";
import { attribute, attributes, DECLARATION, elements, escaped, first, root, written } from "./xml";

export type Value =
  | string
  | number
  | { readonly heading: string; readonly wraps?: boolean }
  | { readonly formula: string }
  /** A text over all columns, in as many lines as it takes. */
  | { readonly sentence: string };

/** How a sheet's texts look: the format in which they go on in a next line, if the workbook can have one, and the font of headings. */
interface Looks {
  readonly wrap: string | undefined;
  readonly font: string;
}

const WORKSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";

/** The name, or the name with the first number that is free: "Reference (2)". Excel tells names apart without regard to case. */
export function freeName({ sheets }: Workbook, wanted: string): string {
  const taken = new Set(sheets.map(({ name }) => name.toLowerCase()));
  let name = wanted;
  for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${wanted} (${n})`;
  return name;
}

const idNameIn = (looks: ReadonlyMap<string, string>) => [...looks.keys()].find((key) => key.endsWith(":id"));

/** Puts a sheet of plain values behind the others, where no other sheet's number changes. */
export function addSheet(workbook: Workbook, name: string, rows: readonly Value[][], widths: number[]): void {
  const { parts, part, sheets } = workbook;
  const taken = new Set(parts.names().map((known) => known.toLowerCase()));
  const folder = part.slice(0, part.lastIndexOf("/") + 1);
  let n = sheets.length + 1;
  while (taken.has(`${folder}worksheets/sheet${n}.xml`.toLowerCase())) n++;
  const added = `${folder}worksheets/sheet${n}.xml`;

  const before = parts.text(part);
  const leads = parts.relationships(part);
  // Strict workbooks have namespaces of their own: those of a sheet that is there are right, be it one of a chart.
  const sheetLead =
    leads.find(({ type }) => type.endsWith("/worksheet")) ??
    leads.find(({ target }) => sheets.some((sheet) => sheet.part === target))!;
  const like = sheetLead.type.replace(/[^/]+$/, "worksheet");
  const namespaces = attributes(root(before));
  const main = namespaces.get(`xmlns${root(before).prefix && `:${root(before).prefix.slice(0, -1)}`}`)!;
  parts.add(added, WORKSHEET, sheetXml(main, rows, widths, { wrap: wrapFormat(workbook), font: fontOf(workbook) }));
  const id = parts.relate(part, like, added);

  const xml = parts.text(part);
  const list = first(xml, "sheets")!;
  const others = [...elements(xml, ["sheet"], list.innerStart, list.innerEnd)];
  const sheetId = 1 + Math.max(0, ...others.map((one) => Number(attribute(one, "sheetId"))));
  // Modules of code may have none.
  const other = others.map(attributes).find((looks) => idNameIn(looks) !== undefined)!;
  const idName = idNameIn(other)!;
  // Some writers declare the prefix of the relationships on each sheet.
  const xmlns = `xmlns:${idName.split(":")[0]}`;
  const one = `<${list.prefix}sheet${written({ [xmlns]: other.get(xmlns), name, sheetId: String(sheetId), [idName]: id })}/>`;
  parts.write(part, xml.slice(0, list.innerEnd) + one + xml.slice(list.innerEnd));
}

const LINE_HEIGHT = 15;

function sheetXml(namespace: string, rows: readonly Value[][], widths: readonly number[], looks: Looks): string {
  const cols = widths
    .map((width, i) => `<col min="${i + 1}" max="${i + 1}" width="${width}" customWidth="1"/>`)
    .join("");
  // A row of merged cells does not grow with its text by itself; letters are narrower than the digits that widths count.
  const width = widths.reduce((sum, one) => sum + one, 0);
  const height = (row: readonly Value[]) => {
    const lines = Math.max(...row.filter(isSentence).map(({ sentence }) => Math.ceil(sentence.length / width)), 0);
    return lines > 1 ? written({ ht: String(lines * LINE_HEIGHT), customHeight: "1" }) : "";
  };
  const lines = rows.map(
    (row, r) => `<row r="${r + 1}"${height(row)}>${row.map((value, c) => cellXml(value, r, c, looks)).join("")}</row>`,
  );
  const merged = rows.flatMap((row, r) =>
    row.some(isSentence) ? [`<mergeCell ref="${cellAddress(r, 0)}:${cellAddress(r, widths.length - 1)}"/>`] : [],
  );
  return (
    `${DECLARATION}<worksheet xmlns="${namespace}">` +
    `<sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><cols>${cols}</cols><sheetData>${lines.join("")}</sheetData>` +
    `${merged.length > 0 ? `<mergeCells count="${merged.length}">${merged.join("")}</mergeCells>` : ""}` +
    '<pageSetup orientation="landscape" fitToWidth="1" fitToHeight="0"/></worksheet>'
  );
}

const isSentence = (value: Value): value is { readonly sentence: string } =>
  typeof value === "object" && "sentence" in value;

/** Text stands in the cell itself, bold within it, so that the strings of the workbook do not change, nor the styles it has. */
function cellXml(value: Value, row: number, column: number, { wrap, font }: Looks): string {
  const r = cellAddress(row, column);
  if (typeof value === "number") return `<c r="${r}"><v>${value}</v></c>`;
  if (value === "") return "";
  // No value yet: the workbook is calculated on opening.
  if (typeof value === "object" && "formula" in value) return `<c r="${r}"><f>${escaped(value.formula)}</f></c>`;
  const text = (words: string) => `<t xml:space="preserve">${escaped(words)}</t>`;
  const isHeading = typeof value === "object" && "heading" in value;
  const s = isHeading && !value.wraps ? undefined : wrap;
  const inside = isHeading
    ? `<r><rPr><b/>${font}</rPr>${text(value.heading)}</r>`
    : text(typeof value === "string" ? value : value.sentence);
  return `<c${written({ r, s, t: "inlineStr" })}><is>${inside}</is></c>`;
}

const HEADING_ROWS = 3;

/** A table, and the column where it begins. */
interface Placed {
  readonly key: string;
  readonly column: number;
  readonly heading: string;
  readonly headings: readonly string[];
  readonly rows: readonly Value[][];
  /** What stands in the line between, in the table's last column. */
  readonly corner?: Value;
}

/** The tables that formulas look up; only those that one asked for are written. */
export class Reference {
  private readonly used: Placed[] = [];
  /** The first free column; one stays free between two tables. */
  private next = 0;

  constructor(readonly sheet: string) {}

  private place(key: string, make: (column: number) => Omit<Placed, "key" | "column">): Placed {
    const known = this.used.find((one) => one.key === key);
    if (known) return known;
    const placed = { key, column: this.next, ...make(this.next) };
    this.used.push(placed);
    this.next += placed.headings.length + 1;
    return placed;
  }

  private at(row: number, column: number, last?: number): string {
    const sheet = /^\w+$/.test(this.sheet) ? this.sheet : `'${this.sheet}'`;
    const cells = `${sheet}!${absoluteAddress(row, column)}`;
    return last === undefined ? cells : `${cells}:${absoluteAddress(last, column)}`;
  }

  /** The cells of a column of a scale. */
  readonly cells: ScaleCells = (scale, part) => {
    const table: ScaleTable = part === "from" || part === "nearest" ? "nearest" : "sizes";
    const parts: readonly ScalePart[] = SCALE_TABLES[table];
    const { column, rows } = this.place(`${scale} ${table}`, () => ({
      heading: SCALE_SOURCES[scale],
      headings: parts.map((one) => SCALE_HEADINGS[one]),
      rows: scaleRows(scale).map((row) => parts.map((one) => row[one])),
    }));
    return this.at(HEADING_ROWS, column + parts.indexOf(part), HEADING_ROWS + rows.length - 1);
  };

  /** A scale of the user's own, whose rows follow the cells of the range. */
  ownScale(range: string, rows: number): OwnScale {
    const { column, rows: lines } = this.place(range, (first) => ownScaleTable(range, rows, first, HEADING_ROWS));
    const last = HEADING_ROWS + lines.length - 1;
    return {
      column: (part) => this.at(HEADING_ROWS, column + OWN_COLUMNS.indexOf(part), last),
      finest: this.at(last, column + OWN_COLUMNS.indexOf("grit")),
      labels: this.at(HEADING_ROWS, column + OWN_COLUMNS.indexOf("label"), last),
      labelSizes: this.at(HEADING_ROWS, column + OWN_COLUMNS.indexOf("given size"), last),
      check: this.at(HEADING_ROWS - 2, column + OWN_COLUMNS.length - 1),
    };
  }

  /** The sheet's cells; nothing where no formula looks anything up. */
  rows(): Value[][] {
    if (this.used.length === 0) return [];
    const line = (cells: (placed: Placed) => readonly Value[]): Value[] =>
      this.used.flatMap((placed) => [...cells(placed), ""]);
    const longest = Math.max(...this.used.map(({ rows }) => rows.length));
    return [
      [{ heading: REFERENCE_SHEET.title }],
      line(({ heading, headings, corner = "" }) =>
        headings.map((_, i) => (i === 0 ? { heading, wraps: true } : i === headings.length - 1 ? corner : "")),
      ),
      line(({ headings }) => headings.map((heading) => ({ heading, wraps: true }))),
      ...Array.from({ length: longest }, (_, i) => line(({ headings, rows }) => rows[i] ?? headings.map(() => ""))),
    ];
  }
}
