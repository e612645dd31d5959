/** The formats and styles that chosen cells have, and no others: an unused number format can tell a figure too. */
import { type Shown, shownFormat } from "./number-format";
import { attribute, attributes, type Element, elements, first, ownMarkup, Splices, written } from "./xml";

/** What a cell's format is made of. `xfId` is left out: the named style behind it is gone. */
const XF = ["numFmtId", "fontId", "fillId", "borderId"];
const PLAIN = '<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>';

export function priceStyles(xml: string, namespace: string, used: ReadonlyMap<number, readonly Shown[]>): string {
  const list = first(xml, "cellXfs");
  const xfs = list ? [...elements(xml, ["xf"], list.innerStart, list.innerEnd)] : [];
  const own = xfs.filter((_, i) => used.has(i));
  const shown = new Map<string, Shown[]>();
  for (const [i, values] of used) {
    const format = xfs[i] && attribute(xfs[i], "numFmtId");
    if (format !== undefined) shown.set(format, [...(shown.get(format) ?? []), ...values]);
  }
  // Those of the conditional formats have numbers of their own, which may be the same.
  const ownFormats = first(xml, "numFmts");
  const formats = new Map(
    (ownFormats ? [...elements(xml, ["numFmt"], ownFormats.innerStart, ownFormats.innerEnd)] : []).map((format) => [
      attribute(format, "numFmtId") ?? "",
      format,
    ]),
  );
  // Formats are known by their number in the list, so those that are not used keep their place.
  const cells = xfs.map((xf, i) => (used.has(i) ? xfXml(xml, xf) : PLAIN));
  return [
    `<styleSheet xmlns="${namespace}">`,
    listXml(
      "numFmts",
      [...shown].flatMap(([numFmtId, values]) => {
        const format = formats.get(numFmtId);
        const formatCode = shownFormat((format && attribute(format, "formatCode")) ?? "General", values);
        return format ? [`<numFmt${written({ numFmtId, formatCode })}/>`] : [];
      }),
    ),
    ...Object.keys(LISTS).map((name) => listOf(xml, name, own)),
    listXml("cellStyleXfs", [PLAIN.replace(' xfId="0"', "")]),
    listXml("cellXfs", cells.length > 0 ? cells : [PLAIN]),
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>',
    palette(xml),
    "</styleSheet>",
  ].join("");
}

const listXml = (name: string, items: readonly string[]) =>
  items.length > 0 ? `<${name} count="${items.length}">${items.join("")}</${name}>` : "";

/** What the lists hold, by which number, and what stands in them where nothing is kept. */
const LISTS: Readonly<Record<string, readonly [one: string, number: string, bare: string]>> = {
  fonts: ["font", "fontId", '<font><sz val="11"/><name val="Calibri"/></font>'],
  fills: ["fill", "fillId", '<fill><patternFill patternType="none"/></fill>'],
  borders: ["border", "borderId", "<border/>"],
};

/** The spreadsheet has the first of each, and the first two fills, as its own. */
const FIRST: Readonly<Record<string, string>> = {
  fills: '<fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill>',
};

function listOf(xml: string, name: string, own: readonly Element[]): string {
  const [one, number, bare] = LISTS[name]!;
  const list = first(xml, name);
  const items = list ? [...elements(xml, [one], list.innerStart, list.innerEnd)] : [];
  if (items.length === 0) return `<${name}>${FIRST[name] ?? bare}</${name}>`;
  const kept = new Set(own.map((xf) => Number(attribute(xf, number) ?? 0)));
  const isOwn = (i: number) => kept.has(i) || i === 0 || (name === "fills" && i === 1);
  // Known by their number in the list, so those that are not used keep their place.
  return listXml(
    name,
    items.map((item, i) => (isOwn(i) ? whole(xml, item) : bare)),
  );
}

const whole = (xml: string, { start, end, prefix }: Element) => ownMarkup(xml.slice(start, end), prefix);

type Picked = Record<string, string | undefined>;

export const picked = (looks: ReadonlyMap<string, string>, names: readonly string[]): Picked =>
  Object.fromEntries(names.map((name) => [name, looks.get(name)]));

export const chosen = (element: Element, names: readonly string[]): Picked => picked(attributes(element), names);

function xfXml(xml: string, xf: Element): string {
  const inside = [...elements(xml, ["alignment", "protection"], xf.innerStart, xf.innerEnd)];
  const applies = ["NumberFormat", "Font", "Fill", "Border", "Alignment", "Protection"].map((what) => `apply${what}`);
  const values = { ...chosen(xf, [...XF, ...applies, "quotePrefix"]), xfId: "0" };
  return `<xf${written(values)}>${inside.map((one) => whole(xml, one)).join("")}</xf>`;
}

/** Colors are known by their number in this list, where a workbook has its own. */
function palette(xml: string): string {
  const colors = first(xml, "indexedColors");
  return colors ? `<colors>${whole(xml, colors)}</colors>` : "";
}

/** The theme's colors and fonts, without its names and what else it may carry. */
export function priceTheme(xml: string): string | undefined {
  const theme = first(xml, "theme");
  const looks = first(xml, "themeElements");
  // A picture in it would be in a part of its own.
  if (!theme || !looks || xml.includes(":embed=")) return undefined;
  const own = ownMarkup(xml.slice(looks.start, looks.end), theme.prefix);
  const bare = new Splices(own);
  for (const scheme of elements(own, ["clrScheme", "fontScheme", "fmtScheme"])) {
    bare.attribute(scheme, "name", ' name="Theme"');
  }
  const namespace = attributes(theme).get(theme.prefix ? `xmlns:${theme.prefix.slice(0, -1)}` : "xmlns");
  return `<theme${written({ xmlns: namespace, name: "Theme" })}>${bare.result()}</theme>`;
}
