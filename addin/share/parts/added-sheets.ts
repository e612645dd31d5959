/** The sheets that a calculating copy has besides the user's: the published tables, and what was done. */
import { absoluteAddress, cellAddress } from "../../sheet/a1";
import { type ListedScale, SCALE_TABLES, type ScaleCells, type ScalePart, type ScaleTable, scaleRows } from "../scales";
import type { Workbook } from "./workbook";
import { attribute, attributes, elements, escaped, first, relationshipId, root, written } from "./xml";

export type Value = string | number | { readonly heading: string };

const WORKSHEET = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml";

/** The name, or the name with the first number that is free: "Reference (2)". Excel tells names apart without regard to case. */
export function freeName({ sheets }: Workbook, wanted: string): string {
  const taken = new Set(sheets.map(({ name }) => name.toLowerCase()));
  let name = wanted;
  for (let n = 2; taken.has(name.toLowerCase()); n++) name = `${wanted} (${n})`;
  return name;
}

/** Puts a sheet of plain values behind the others, where no other sheet's number changes. */
export function addSheet(
  { parts, part, sheets }: Workbook,
  name: string,
  rows: readonly Value[][],
  widths: number[],
): void {
  const taken = new Set(parts.names().map((known) => known.toLowerCase()));
  const folder = part.slice(0, part.lastIndexOf("/") + 1);
  let n = sheets.length + 1;
  while (taken.has(`${folder}worksheets/sheet${n}.xml`.toLowerCase())) n++;
  const added = `${folder}worksheets/sheet${n}.xml`;

  const before = parts.text(part);
  const leads = parts.relationships(part);
  // Strict workbooks have namespaces of their own: those of a sheet that is there are right.
  const like = leads.find(({ type }) => type.endsWith("/worksheet"))!.type;
  const namespaces = attributes(root(before));
  const main = namespaces.get(`xmlns${root(before).prefix && `:${root(before).prefix.slice(0, -1)}`}`)!;
  parts.add(added, WORKSHEET, sheetXml(main, rows, widths));
  const id = parts.relate(part, like, added);

  const xml = parts.text(part);
  const list = first(xml, "sheets")!;
  const others = [...elements(xml, ["sheet"], list.innerStart, list.innerEnd)];
  const sheetId = 1 + Math.max(0, ...others.map((one) => Number(attribute(one, "sheetId"))));
  const other = attributes(others[0]!);
  const idName = [...other.keys()].find((key) => other.get(key) === relationshipId(others[0]!))!;
  // Some writers declare the prefix of the relationships on each sheet.
  const xmlns = `xmlns:${idName.split(":")[0]}`;
  const one = `<${list.prefix}sheet${written({ [xmlns]: other.get(xmlns), name, sheetId: String(sheetId), [idName]: id })}/>`;
  parts.write(part, xml.slice(0, list.innerEnd) + one + xml.slice(list.innerEnd));
}

function sheetXml(namespace: string, rows: readonly Value[][], widths: readonly number[]): string {
  const cols = widths
    .map((width, i) => `<col min="${i + 1}" max="${i + 1}" width="${width}" customWidth="1"/>`)
    .join("");
  const lines = rows.map((row, r) => `<row r="${r + 1}">${row.map((value, c) => cellXml(value, r, c)).join("")}</row>`);
  return (
    `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<worksheet xmlns="${namespace}">` +
    `${cols && `<cols>${cols}</cols>`}<sheetData>${lines.join("")}</sheetData></worksheet>`
  );
}

/** Text stands in the cell itself, bold within it, so that neither the strings nor the styles of the workbook change. */
function cellXml(value: Value, row: number, column: number): string {
  const r = cellAddress(row, column);
  if (typeof value === "number") return `<c r="${r}"><v>${value}</v></c>`;
  if (value === "") return "";
  const text = (words: string) => `<t xml:space="preserve">${escaped(words)}</t>`;
  const inside = typeof value === "string" ? text(value) : `<r><rPr><b/></rPr>${text(value.heading)}</r>`;
  return `<c r="${r}" t="inlineStr"><is>${inside}</is></c>`;
}

const SOURCES: Readonly<Record<ListedScale, string>> = {
  mesh: "mesh: ASTM E11, then the trade's resin grits (15000 / grit)",
  f: "f: FEPA F, ISO 8486",
  p: "p: FEPA P, ISO 6344",
  jis: "jis: JIS R 6001",
};

const HEADINGS: Readonly<Record<ScalePart, string>> = {
  grit: "grit",
  size: "size, µm",
  exponent: "exponent to the next",
  from: "from size², µm²",
  nearest: "nearest grit",
};

const HEADING_ROWS = 3;

/** A table of a scale, and the column where it begins. */
interface Placed {
  readonly scale: ListedScale;
  readonly table: ScaleTable;
  readonly column: number;
}

/** The published tables that formulas look up; only those that one asked for are written. */
export class Reference {
  private readonly used: Placed[] = [];
  /** The first free column; one stays free between two tables. */
  private next = 0;

  constructor(readonly sheet: string) {}

  /** The cells of a column of a scale. */
  readonly cells: ScaleCells = (scale, part) => {
    const table: ScaleTable = part === "from" || part === "nearest" ? "nearest" : "sizes";
    const parts: readonly ScalePart[] = SCALE_TABLES[table];
    let placed = this.used.find((one) => one.scale === scale && one.table === table);
    if (!placed) {
      placed = { scale, table, column: this.next };
      this.used.push(placed);
      this.next += parts.length + 1;
    }
    const column = placed.column + parts.indexOf(part);
    const last = HEADING_ROWS + scaleRows(scale).length - 1;
    const sheet = /^\w+$/.test(this.sheet) ? this.sheet : `'${this.sheet}'`;
    return `${sheet}!${absoluteAddress(HEADING_ROWS, column)}:${absoluteAddress(last, column)}`;
  };

  /** The sheet's cells; nothing where no formula looks anything up. */
  rows(): Value[][] {
    if (this.used.length === 0) return [];
    const line = (cells: (scale: ListedScale, parts: readonly ScalePart[]) => Value[]): Value[] =>
      this.used.flatMap(({ scale, table }) => [...cells(scale, SCALE_TABLES[table]), ""]);
    const longest = Math.max(...this.used.map(({ scale }) => scaleRows(scale).length));
    return [
      [{ heading: "Grits and their sizes. The formulas of this workbook look them up." }],
      line((scale, parts) => parts.map((_, i) => (i === 0 ? { heading: SOURCES[scale] } : ""))),
      line((_, parts) => parts.map((part) => ({ heading: HEADINGS[part] }))),
      ...Array.from({ length: longest }, (_, i) =>
        line((scale, parts) => parts.map((part) => scaleRows(scale)[i]?.[part] ?? "")),
      ),
    ];
  }
}
