/** Workbooks to copy, part by part as Excel writes them, and what is in a copy. */
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";

export type Parts = Record<string, string>;

export const zipped = (parts: Parts): Uint8Array =>
  zipSync(Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, strToU8(text)])));

export const unzipped = (bytes: Uint8Array): Parts =>
  Object.fromEntries(Object.entries(unzipSync(bytes)).map(([name, part]) => [name, strFromU8(part)]));

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\r\n';
export const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/** A sheet as Excel writes it, with the namespaces that it always declares. */
export const sheet = (data: string, behind = "", before = "") =>
  `${HEAD}<worksheet xmlns="${MAIN}" xmlns:r="${LEADS}" xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" ` +
  'mc:Ignorable="x14ac xr" xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac" ' +
  'xmlns:xr="http://schemas.microsoft.com/office/spreadsheetml/2014/revision" xr:uid="{00000000-0001-0000-0000-000000000000}">' +
  `<dimension ref="A1:F20"/>${before}<sheetData>${data}</sheetData>${behind}</worksheet>`;

export interface Lead {
  readonly type: string;
  readonly target: string;
  readonly external?: boolean;
}

export const leads = (list: readonly Lead[]) =>
  `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${list
    .map(
      ({ type, target, external }, i) =>
        `<Relationship Id="rId${i + 1}" Type="${type.includes(":") ? type : `${LEADS}/${type}`}" Target="${target}"${external ? ' TargetMode="External"' : ""}/>`,
    )
    .join("")}</Relationships>`;

export interface Book {
  readonly sheets: Readonly<Record<string, string>>;
  /** Sheets that are not shown. */
  readonly hidden?: readonly string[];
  /** What stands behind the sheets in the workbook part: names, settings of the calculation. */
  readonly behind?: string;
  readonly strings?: readonly string[];
  readonly styles?: string;
  /** Other parts, and their content types by name. */
  readonly parts?: Parts;
  readonly types?: Readonly<Record<string, string>>;
  /** What the workbook part leads to besides its sheets. */
  readonly leads?: readonly Lead[];
  readonly rootLeads?: readonly Lead[];
}

export const STYLES = (numFmts = "", xfs = "", more = "") =>
  `${HEAD}<styleSheet xmlns="${MAIN}">${numFmts}<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>` +
  '<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>' +
  '<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>' +
  '<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>' +
  `<cellXfs><xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>${xfs}</cellXfs>` +
  `<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>${more}</styleSheet>`;

export function bookParts(book: Book): Parts {
  const names = Object.keys(book.sheets);
  const paths = names.map((_, i) => `xl/worksheets/sheet${i + 1}.xml`);
  const list: Lead[] = [
    ...paths.map((path) => ({ type: "worksheet", target: path.slice("xl/".length) })),
    { type: "styles", target: "styles.xml" },
    { type: "sharedStrings", target: "sharedStrings.xml" },
    ...(book.leads ?? []),
  ];
  const types: Record<string, string> = {
    "xl/workbook.xml": `${KIND}.sheet.main+xml`,
    ...Object.fromEntries(paths.map((path) => [path, `${KIND}.worksheet+xml`])),
    "xl/styles.xml": `${KIND}.styles+xml`,
    "xl/sharedStrings.xml": `${KIND}.sharedStrings+xml`,
    ...book.types,
  };
  const strings = book.strings ?? [];
  return {
    "[Content_Types].xml": `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>${Object.entries(
      types,
    )
      .map(([path, type]) => `<Override PartName="/${path}" ContentType="${type}"/>`)
      .join("")}</Types>`,
    "_rels/.rels": leads([{ type: "officeDocument", target: "xl/workbook.xml" }, ...(book.rootLeads ?? [])]),
    "xl/workbook.xml": `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${LEADS}"><workbookPr/><bookViews><workbookView/></bookViews><sheets>${names
      .map(
        (name, i) =>
          `<sheet name="${name}" sheetId="${i + 1}"${book.hidden?.includes(name) ? ' state="hidden"' : ""} r:id="rId${i + 1}"/>`,
      )
      .join("")}</sheets>${book.behind ?? ""}</workbook>`,
    "xl/_rels/workbook.xml.rels": leads(list),
    ...Object.fromEntries(paths.map((path, i) => [path, book.sheets[names[i]!]!])),
    "xl/styles.xml": book.styles ?? STYLES(),
    "xl/sharedStrings.xml": `${HEAD}<sst xmlns="${MAIN}" count="${strings.length}" uniqueCount="${strings.length}">${strings.join("")}</sst>`,
    ...book.parts,
  };
}

export const book = (described: Book): Uint8Array => zipped(bookParts(described));
