/** What the package that writes the file leaves out, added part by part: names, tables, what spills. */
import type { Package } from "../../share/parts/package";
import { first } from "../../share/parts/xml";
import { notImplemented } from "./errors";
import type { Model } from "./model";
import { namesXml, tableXml } from "./xlsx-names";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument";
const WORKBOOK = "xl/workbook.xml";

const EMPTY_LIST = `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"></Relationships>`;

export const sheetPart = (index: number) => `xl/worksheets/sheet${index + 1}.xml`;

/** Makes a part lead to another by a relative path, as Excel does and some readers expect, and says by which id. */
export function relate(file: Package, part: string, kind: string, target: string): string {
  const slash = part.lastIndexOf("/") + 1;
  const list = `${part.slice(0, slash)}_rels/${part.slice(slash)}.rels`;
  const known = file.has(list) ? file.text(list) : EMPTY_LIST;
  const taken = file.relationships(part).map(({ id }) => Number(id.replace(/\D/g, "")));
  const id = `rId${Math.max(0, ...taken) + 1}`;
  const lead = `<Relationship Id="${id}" Type="${LEADS}/${kind}" Target="${relativePath(part, target)}"/>`;
  file.write(
    list,
    known.replace(/<\/Relationships>\s*$/, () => `${lead}</Relationships>`),
  );
  return id;
}

function relativePath(from: string, to: string): string {
  const folders = from.split("/").slice(0, -1);
  const path = to.split("/");
  let common = 0;
  while (common < folders.length && folders[common] === path[common]) common++;
  return [...folders.slice(common).map(() => ".."), ...path.slice(common)].join("/");
}

/** Adds to a sheet what stands last in it. */
export function appendToSheet(file: Package, part: string, xml: string) {
  const text = file.text(part);
  file.write(
    part,
    text.replace(/<\/worksheet>\s*$/, () => `${xml}</worksheet>`),
  );
}

export function addNames(file: Package, model: Model, namespace: string) {
  const text = file.text(WORKBOOK);
  const { end } = first(text, "sheets")!;
  file.write(WORKBOOK, text.slice(0, end) + namesXml(model, namespace) + text.slice(end));
}

export function addTables(file: Package, model: Model, namespace: string) {
  const { tables } = model.engine.book;
  model.engine.sheetIds().forEach((sheetId, index) => {
    const own = tables.filter((table) => table.sheetId === sheetId);
    if (own.length === 0) return;
    const links = own.map((table) => {
      const id = tables.indexOf(table) + 1;
      const part = `xl/tables/table${id}.xml`;
      file.add(part, `${KIND}.spreadsheetml.table+xml`, tableXml(model, table, id, namespace));
      return `<tablePart r:id="${relate(file, sheetPart(index), "table", part)}"/>`;
    });
    appendToSheet(file, sheetPart(index), `<tableParts count="${own.length}">${links.join("")}</tableParts>`);
  });
}

const SPILLS =
  `${HEAD}<metadata xmlns="${MAIN}" xmlns:xda="http://schemas.microsoft.com/office/spreadsheetml/2017/dynamicarray">` +
  '<metadataTypes count="1"><metadataType name="XLDAPR" minSupportedVersion="120000" copy="1" pasteAll="1" pasteValues="1" merge="1" splitFirst="1" rowColShift="1" clearFormats="1" clearComments="1" assign="1" coerce="1" cellMeta="1"/></metadataTypes>' +
  '<futureMetadata name="XLDAPR" count="1"><bk><extLst><ext uri="{bdbb8cdc-fa1e-496e-a857-3c3f30c029c3}"><xda:dynamicArrayProperties fDynamic="1" fCollapsed="0"/></ext></extLst></bk></futureMetadata>' +
  '<cellMetadata count="1"><bk><rc t="1" v="0"/></bk></cellMetadata></metadata>';

/** Says of every array formula that it spills: without this, Excel takes it for one that was entered over its cells. */
export function markSpills(file: Package, model: Model) {
  let any = false;
  model.engine.sheetIds().forEach((_, index) => {
    const before = file.text(sheetPart(index));
    const after = before.replace(/<c (?=[^>]*><f t="array")/g, '<c cm="1" ');
    if (after === before) return;
    any = true;
    file.write(sheetPart(index), after);
  });
  if (!any) return;
  file.add("xl/metadata.xml", `${KIND}.spreadsheetml.sheetMetadata+xml`, SPILLS);
  relate(file, WORKBOOK, "sheetMetadata", "xl/metadata.xml");
}

/** That no sheet may come or go; it stands right after the workbook's properties. */
export function addLock(file: Package, { structure }: Model) {
  if (!structure) return;
  if (structure.password !== undefined) throw notImplemented("a file with a password for the workbook's structure");
  const text = file.text(WORKBOOK);
  file.write(WORKBOOK, text.replace(/<workbookPr[^>]*\/>/, '$&<workbookProtection lockStructure="1"/>'));
}
