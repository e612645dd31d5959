/**
 * A workbook with nothing but the price in it: the chosen sheets or ranges as values. It is written anew from what was
 * chosen, so that what this code does not know of cannot be left in it.
 */
import { caution, LEFT_OUT, type LeftOut, type Worded } from "./copy-texts";
import type { Shown } from "./parts/number-format";
import { Package } from "./parts/package";
import { type Area, areaOf, type Counts, type Dropped, priceSheet } from "./parts/price-sheet";
import { priceStyles, priceTheme } from "./parts/price-styles";
import { printNames } from "./parts/print-names";
import { sharedTexts, Texts } from "./parts/shared-texts";
import { Unseen } from "./parts/unseen";
import { openWorkbook, partOf, type Sheet, sharePassed, type Workbook } from "./parts/workbook";
import { attribute, DECLARATION, elements, first, written } from "./parts/xml";
import { refuseChoice } from "./refusals";

export interface PriceOnlyOptions {
  /** What is kept: a whole sheet without its hidden rows and columns, or exactly the cells of a range. */
  readonly keep: readonly { readonly sheet: string; readonly range?: string }[];
}

export interface PriceOnlyReport {
  readonly sheets: readonly (Counts & { readonly name: string })[];
  /** The sheets that the copy does not have. */
  readonly gone: readonly string[];
  /**
   * What else it does not have: how many parts of each in the workbook (a sheet has its comments in one), and how many rules,
   * headers and footers on the sheets that it has.
   */
  readonly without: readonly { readonly kind: LeftOut; readonly what: string; readonly count: number }[];
  readonly cautions: readonly Worded[];
}

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/**
 * Throws `UnreadableWorkbook` where the bytes are no workbook, and `Refusal` where a choice is not in it. `follow` hears
 * what share of the work is done.
 */
export function priceOnlyCopy(
  bytes: Uint8Array,
  { keep }: PriceOnlyOptions,
  follow: (share: number) => void = () => {},
): { bytes: Uint8Array; report: PriceOnlyReport } {
  const workbook = openWorkbook(bytes);
  const choices = choicesOf(workbook, keep);
  const textOf = (kind: string) => {
    const found = partOf(workbook, kind);
    return found === undefined ? "" : workbook.parts.text(found);
  };
  const texts = new Texts(sharedTexts(textOf("/sharedStrings")));
  const [styles, themeBefore] = [textOf("/styles"), textOf("/theme")];
  const looks = new Unseen(styles, themeBefore);
  const chosen = choices.map(({ sheet }) => sheet);
  const passed = sharePassed(chosen, workbook.parts, follow);
  const sheets = choices.map(({ sheet, areas }, i) => ({
    name: sheet.name,
    ...priceSheet(workbook.parts.text(sheet.part), MAIN, areas, texts, looks, passed(i)),
  }));
  const theme = priceTheme(themeBefore);
  const used = new Map<number, Shown[]>();
  for (const [style, shown] of sheets.flatMap(({ styles }) => [...styles])) {
    used.set(style, [...(used.get(style) ?? []), ...shown]);
  }
  const printed = printNames(workbook, choices);
  const parts: Part[] = [
    ...sheets.map(({ xml }, i) => part(`worksheets/sheet${i + 1}.xml`, "worksheet", `${KIND}.worksheet+xml`, xml)),
    part("styles.xml", "styles", `${KIND}.styles+xml`, priceStyles(styles, MAIN, used)),
    part("sharedStrings.xml", "sharedStrings", `${KIND}.sharedStrings+xml`, texts.xml(MAIN)),
    ...(theme
      ? [part("theme/theme1.xml", "theme", "application/vnd.openxmlformats-officedocument.theme+xml", theme)]
      : []),
  ];
  const names = sheets.map(({ name }) => name);
  const report: PriceOnlyReport = {
    sheets: sheets.map(({ name, counts }) => ({ name, ...counts })),
    gone: workbook.sheets.map(({ name }) => name).filter((name) => !names.includes(name)),
    without: withoutOf(
      workbook,
      printed.length,
      sheets.flatMap(({ dropped }) => dropped),
    ),
    cautions: sheets.flatMap(({ name, counts, unseen }) => cautionsOf(name, counts, unseen)),
  };
  return { bytes: packed(parts, workbookXml(workbook, names, printed)), report };
}

interface Part {
  readonly path: string;
  readonly lead: string;
  readonly type: string;
  readonly xml: string;
}

const part = (path: string, lead: string, type: string, xml: string): Part => ({
  path,
  lead,
  type,
  xml: DECLARATION + xml,
});

/** Sheets in the workbook's order, each once, with its chosen areas; none where the whole sheet is chosen. */
function choicesOf({ sheets }: Workbook, keep: PriceOnlyOptions["keep"]) {
  if (keep.length === 0) throw refuseChoice("nothing");
  const same = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();
  for (const { sheet } of keep) {
    const found = sheets.find(({ name }) => same(name, sheet));
    if (!found) throw refuseChoice("noSheet", { sheet, sheets: sheets.map(({ name }) => name) });
    if (!found.hasCells) throw refuseChoice("noCells", { sheet });
  }
  return sheets
    .map((sheet) => ({ sheet, chosen: keep.filter((one) => same(one.sheet, sheet.name)) }))
    .filter(({ chosen }) => chosen.length > 0)
    .map(({ sheet, chosen }): { sheet: Sheet; areas: Area[] | undefined } => {
      const isWhole = chosen.some(({ range }) => range === undefined);
      return { sheet, areas: isWhole ? undefined : chosen.map(({ range }) => areaOf(range!)) };
    });
}

function workbookXml({ parts, part }: Workbook, names: readonly string[], printed: readonly string[]): string {
  const settings = first(parts.text(part), "workbookPr");
  // Dates are counted from another year where this is set.
  const date1904 = settings && attribute(settings, "date1904");
  const sheets = names.map((name, i) => `<sheet${written({ name, sheetId: String(i + 1), "r:id": `rId${i + 1}` })}/>`);
  return (
    `${DECLARATION}<workbook xmlns="${MAIN}" xmlns:r="${LEADS}"><workbookPr${written({ date1904 })}/>` +
    `<bookViews><workbookView/></bookViews><sheets>${sheets.join("")}</sheets>` +
    `${printed.length > 0 ? `<definedNames>${printed.join("")}</definedNames>` : ""}</workbook>`
  );
}

/** The sheets come first, so their relationships have their numbers. */
function packed(parts: readonly Part[], workbook: string): Uint8Array {
  const file = new Package();
  const kinds = [{ path: "workbook.xml", type: `${KIND}.sheet.main+xml` }, ...parts].map(
    ({ path, type }) => `<Override PartName="/xl/${path}" ContentType="${type}"/>`,
  );
  const relationships = (leads: readonly string[]) =>
    `${DECLARATION}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${leads.join("")}</Relationships>`;
  const lead = (n: number, kind: string, target: string) =>
    `<Relationship Id="rId${n}" Type="${LEADS}/${kind}" Target="${target}"/>`;
  file.write(
    "[Content_Types].xml",
    `${DECLARATION}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
      `<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>${kinds.join("")}</Types>`,
  );
  file.write("_rels/.rels", relationships([lead(1, "officeDocument", "xl/workbook.xml")]));
  file.write("xl/workbook.xml", workbook);
  file.write("xl/_rels/workbook.xml.rels", relationships(parts.map((one, i) => lead(i + 1, one.lead, one.path))));
  for (const { path, xml } of parts) file.write(`xl/${path}`, xml);
  return file.zip();
}

/** What a reader of the report would look for, by the relationships that lead to it. */
const LEADS_TO: readonly [kind: LeftOut, types: readonly string[]][] = [
  ["comments", ["/comments", "/threadedComment"]],
  ["charts", ["/chart", "/chartEx"]],
  ["pictures", ["/image"]],
  ["tables", ["/table"]],
  ["pivotTables", ["/pivotTable"]],
  ["links", ["/externalLink", "/hyperlink"]],
  ["customParts", ["/customXml"]],
  ["properties", ["/core-properties", "/metadata/core-properties", "/extended-properties", "/custom-properties"]],
];

function withoutOf(
  { parts, part }: Workbook,
  namesKept: number,
  dropped: readonly Dropped[],
): PriceOnlyReport["without"] {
  const types = ["", ...parts.names()].flatMap((name) => leadsOf(parts, name));
  const names = [...elements(parts.text(part), ["definedName"])].length - namesKept;
  const ofSheets = new Map<LeftOut, number>();
  for (const { kind, count } of dropped) ofSheets.set(kind, (ofSheets.get(kind) ?? 0) + count);
  const ofWorkbook = LEADS_TO.map(([kind, ends]): [LeftOut, number] => [
    kind,
    types.filter((type) => ends.some((end) => type.endsWith(end))).length,
  ]);
  return [["names", names] as const, ...ofWorkbook, ...ofSheets]
    .map(([kind, count]) => ({ kind, what: LEFT_OUT[kind], count }))
    .filter(({ count }) => count > 0);
}

/** The kinds of what a part leads to. A part that nobody knows may be damaged: it is not copied, so it stops nothing. */
function leadsOf(parts: Package, name: string): string[] {
  try {
    return parts.relationships(name).map(({ type }) => type);
  } catch {
    return [];
  }
}

function cautionsOf(
  sheet: string,
  { hiddenKept, unknown, errors, pictures }: Counts,
  unseen: readonly string[],
): Worded[] {
  return [
    ...(hiddenKept > 0 ? [caution("hiddenKept", { sheet, count: hiddenKept })] : []),
    ...(unknown > 0 ? [caution("noValue", { sheet, count: unknown })] : []),
    ...(errors > 0 ? [caution("errors", { sheet, count: errors })] : []),
    ...(pictures > 0 ? [caution("pictures", { sheet, count: pictures })] : []),
    ...(unseen.length > 0 ? [caution("unseen", { sheet, addresses: unseen })] : []),
  ];
}
