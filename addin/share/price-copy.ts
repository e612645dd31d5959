/**
 * A workbook with nothing but the price in it: the chosen sheets or ranges as values. It is written anew from what was
 * chosen, so that what this code does not know of cannot be left in it.
 */
import { Refusal } from "../common/refusal";
import type { Shown } from "./parts/number-format";
import { Package } from "./parts/package";
import { type Area, areaOf, type Counts, priceSheet } from "./parts/price-sheet";
import { priceStyles, priceTheme } from "./parts/price-styles";
import { printNames } from "./parts/print-names";
import { sharedTexts, Texts } from "./parts/shared-texts";
import { Unseen } from "./parts/unseen";
import { openWorkbook, type Sheet, sharePassed, type Workbook } from "./parts/workbook";
import { attribute, elements, first, written } from "./parts/xml";

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
  readonly without: readonly { readonly what: string; readonly count: number }[];
  readonly cautions: readonly string[];
}

const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const LEADS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const KIND = "application/vnd.openxmlformats-officedocument.spreadsheetml";
const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

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
  const leadTo = (kind: string) => partOf(workbook, kind);
  const texts = new Texts(sharedTexts(leadTo("/sharedStrings") ?? ""));
  const [styles, themeBefore] = [leadTo("/styles") ?? "", leadTo("/theme") ?? ""];
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
    cautions: sheets.flatMap(({ name, counts, unseen }) => [
      ...cautionsOf(name, counts),
      ...unseenCaution(name, unseen),
    ]),
  };
  return { bytes: packed(parts, workbookXml(workbook, names, printed)), report };
}

interface Part {
  readonly path: string;
  readonly lead: string;
  readonly type: string;
  readonly xml: string;
}

const part = (path: string, lead: string, type: string, xml: string): Part => ({ path, lead, type, xml: HEAD + xml });

/** Sheets in the workbook's order, each once, with its chosen areas; none where the whole sheet is chosen. */
function choicesOf({ sheets }: Workbook, keep: PriceOnlyOptions["keep"]) {
  if (keep.length === 0) throw new Refusal("Choose at least one sheet or range: an empty workbook is no quote.");
  const same = (a: string, b: string) => a.toLowerCase() === b.toLowerCase();
  for (const { sheet } of keep) {
    const found = sheets.find(({ name }) => same(name, sheet));
    const known = sheets.map(({ name }) => `"${name}"`).join(", ");
    if (!found) throw new Refusal(`The workbook has no sheet "${sheet}"; it has ${known}.`);
    if (!found.hasCells) throw new Refusal(`The sheet "${sheet}" is a chart or a dialog, and has no cells to copy.`);
  }
  return sheets
    .map((sheet) => ({ sheet, chosen: keep.filter((one) => same(one.sheet, sheet.name)) }))
    .filter(({ chosen }) => chosen.length > 0)
    .map(({ sheet, chosen }): { sheet: Sheet; areas: Area[] | undefined } => {
      const isWhole = chosen.some(({ range }) => range === undefined);
      return { sheet, areas: isWhole ? undefined : chosen.map(({ range }) => areaOf(range!)) };
    });
}

function partOf({ parts, part }: Workbook, kind: string): string | undefined {
  const target = parts.relationships(part).find(({ type }) => type.endsWith(kind))?.target;
  return target !== undefined && parts.has(target) ? parts.text(target) : undefined;
}

function workbookXml({ parts, part }: Workbook, names: readonly string[], printed: readonly string[]): string {
  const settings = first(parts.text(part), "workbookPr");
  // Dates are counted from another year where this is set.
  const date1904 = settings && attribute(settings, "date1904");
  const sheets = names.map((name, i) => `<sheet${written({ name, sheetId: String(i + 1), "r:id": `rId${i + 1}` })}/>`);
  return (
    `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${LEADS}"><workbookPr${written({ date1904 })}/>` +
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
    `${HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${leads.join("")}</Relationships>`;
  const lead = (n: number, kind: string, target: string) =>
    `<Relationship Id="rId${n}" Type="${LEADS}/${kind}" Target="${target}"/>`;
  file.write(
    "[Content_Types].xml",
    `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">` +
      `<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>${kinds.join("")}</Types>`,
  );
  file.write("_rels/.rels", relationships([lead(1, "officeDocument", "xl/workbook.xml")]));
  file.write("xl/workbook.xml", workbook);
  file.write("xl/_rels/workbook.xml.rels", relationships(parts.map((one, i) => lead(i + 1, one.lead, one.path))));
  for (const { path, xml } of parts) file.write(`xl/${path}`, xml);
  return file.zip();
}

/** What a reader of the report would look for, by the relationships that lead to it. */
const KINDS: readonly [what: string, kinds: readonly string[]][] = [
  ["comments", ["/comments", "/threadedComment"]],
  ["charts", ["/chart", "/chartEx"]],
  ["pictures", ["/image"]],
  ["tables", ["/table"]],
  ["pivot tables", ["/pivotTable"]],
  ["links to other files", ["/externalLink", "/hyperlink"]],
  ["custom parts", ["/customXml"]],
  [
    "document properties",
    ["/core-properties", "/metadata/core-properties", "/extended-properties", "/custom-properties"],
  ],
];

function withoutOf(
  { parts, part }: Workbook,
  namesKept: number,
  dropped: PriceOnlyReport["without"],
): PriceOnlyReport["without"] {
  const types = ["", ...parts.names()].flatMap((name) => leadsOf(parts, name));
  const names = [...elements(parts.text(part), ["definedName"])].length - namesKept;
  const ofSheets = new Map<string, number>();
  for (const { what, count } of dropped) ofSheets.set(what, (ofSheets.get(what) ?? 0) + count);
  return [
    { what: "names", count: names },
    ...KINDS.map(([what, kinds]) => ({
      what,
      count: types.filter((type) => kinds.some((kind) => type.endsWith(kind))).length,
    })),
    ...[...ofSheets].map(([what, count]) => ({ what, count })),
  ].filter(({ count }) => count > 0);
}

/** The kinds of what a part leads to. A part that nobody knows may be damaged: it is not copied, so it stops nothing. */
function leadsOf(parts: Package, name: string): string[] {
  try {
    return parts.relationships(name).map(({ type }) => type);
  } catch {
    return [];
  }
}

function cautionsOf(name: string, { hiddenKept, unknown, errors }: Counts): string[] {
  const cautions: string[] = [];
  if (hiddenKept > 0) {
    cautions.push(
      `${cells(hiddenKept)} of the range chosen on "${name}" are in hidden rows or columns, and are in the copy.`,
    );
  }
  if (unknown > 0) {
    cautions.push(`${cells(unknown)} on "${name}" have formulas without a saved value, and are empty in the copy.`);
  }
  if (errors > 0)
    cautions.push(
      `${cells(errors)} of the copy on "${name}" ${errors === 1 ? "shows" : "show"} an error, such as #NAME?.`,
    );
  return cautions;
}

/** As many addresses as a question can hold. */
const ADDRESSES_TOLD = 12;

function unseenCaution(name: string, unseen: readonly string[]): string[] {
  if (unseen.length === 0) return [];
  const more = unseen.length - ADDRESSES_TOLD;
  const list = unseen.slice(0, ADDRESSES_TOLD).join(", ") + (more > 0 ? ` and ${more} more` : "");
  const [holds, it] = unseen.length === 1 ? ["holds", "it"] : ["hold", "one"];
  return [
    `${cells(unseen.length)} of the copy on "${name}" ${holds} what nobody sees, by a number format that shows nothing or by letters in the colour of the cell: ${list}. Whoever selects ${it} can read it.`,
  ];
}

const cells = (count: number) => `${count} ${count === 1 ? "cell" : "cells"}`;
