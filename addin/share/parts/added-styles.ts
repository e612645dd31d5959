/** What the sheets that are added to a workbook need of its styles: its own font, and a format in which texts wrap. */
import { partOf, type Workbook } from "./workbook";
import { attribute, elements, first, Splices, written } from "./xml";

/** The number of a format in which texts go on in a next line, added behind the workbook's own or found there. */
export function wrapFormat(workbook: Workbook): string | undefined {
  const part = partOf(workbook, "/styles");
  const xml = part === undefined ? "" : workbook.parts.text(part);
  const list = first(xml, "cellXfs");
  if (part === undefined || !list || list.innerStart === list.innerEnd) return undefined;
  const { prefix, innerEnd } = list;
  const wrapping =
    `<${prefix}xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0" applyAlignment="1">` +
    `<${prefix}alignment vertical="top" wrapText="1"/></${prefix}xf>`;
  const formats = [...elements(xml, ["xf"], list.innerStart, innerEnd)];
  const known = formats.findIndex(({ start, end }) => xml.slice(start, end) === wrapping);
  if (known >= 0) return String(known);
  const splices = new Splices(xml);
  splices.attribute(list, "count", ` count="${formats.length + 1}"`);
  splices.replace(innerEnd, innerEnd, wrapping);
  workbook.parts.write(part, splices.result());
  return String(formats.length);
}

/** The size and name of the workbook's own font, as a run of text has them: without, readers take one of their own. */
export function fontOf(workbook: Workbook): string {
  const part = partOf(workbook, "/styles");
  const xml = part === undefined ? "" : workbook.parts.text(part);
  const fonts = first(xml, "fonts");
  const font = fonts && first(xml, "font", fonts);
  const given = (name: string) => {
    const found = font && first(xml, name, font);
    return found && attribute(found, "val");
  };
  const [size, name] = [given("sz"), given("name")];
  return [
    size === undefined ? "" : `<sz${written({ val: size })}/>`,
    name === undefined ? "" : `<rFont${written({ val: name })}/>`,
  ].join("");
}
