/** The sheets of an .xlsx file. */
import { unreadable } from "../refusals";
import { CONTENT_TYPES, Package } from "./package";

import { attributes, elements, first, relationshipId } from "./xml";

/** A sheet as the workbook lists it. */
export interface Sheet {
  readonly name: string;
  /** Empty where it has none. */
  readonly part: string;
  readonly hidden: boolean;
  /** Chart sheets and dialogs have no cells. */
  readonly hasCells: boolean;
}

export interface Workbook {
  readonly parts: Package;
  /** The name of the part that lists the sheets. */
  readonly part: string;
  readonly sheets: readonly Sheet[];
}

/** For each of these sheets, what turns a place in its text into the share of them all that is behind it. */
export function sharePassed(
  sheets: readonly Sheet[],
  parts: Package,
  follow: (share: number) => void,
): (sheet: number) => (at: number) => void {
  const lengths = sheets.map(({ part }) => parts.text(part).length);
  const sum = (some: readonly number[]) => some.reduce((all, one) => all + one, 0);
  return (sheet) => {
    const [before, all] = [sum(lengths.slice(0, sheet)), sum(lengths)];
    return (at) => follow((before + at) / all);
  };
}

/** The part of a kind to which the workbook leads; it may have none. */
export function partOf({ parts, part }: Workbook, kind: string): string | undefined {
  const target = parts.relationships(part).find(({ type }) => type.endsWith(kind))?.target;
  return target !== undefined && parts.has(target) ? target : undefined;
}

export function openWorkbook(bytes: Uint8Array): Workbook {
  const parts = Package.open(bytes);
  parts.text(CONTENT_TYPES, "contents");
  const part = parts.relationships("").find(({ type }) => type.endsWith("/officeDocument"))?.target;
  if (part === undefined) throw unreadable("zipOfOthers");
  if (part.endsWith(".bin")) throw unreadable("binary");
  const xml = parts.text(part, "sheets");
  const list = first(xml, "sheets");
  if (!list) throw unreadable("noSheets", { part });
  const leads = new Map(parts.relationships(part).map((one) => [one.id, one]));
  const sheets = [...elements(xml, ["sheet"], list.innerStart, list.innerEnd)].map((element): Sheet => {
    const { name = "", state = "visible" } = Object.fromEntries(attributes(element));
    const hidden = state !== "visible";
    const id = relationshipId(element) ?? "";
    // Modules of code had sheets before Excel 97, and have no part.
    if (id === "" && attributes(element).has("sheetId")) return { name, part: "", hidden, hasCells: false };
    const lead = leads.get(id);
    if (!lead) throw unreadable("sheetNowhere", { sheet: name });
    parts.text(lead.target, { sheet: name });
    return { name, part: lead.target, hidden, hasCells: lead.type.endsWith("/worksheet") };
  });
  if (sheets.length === 0) throw unreadable("noSheets", { part });
  if (sheets.every((sheet) => sheet.part === "")) throw unreadable("sheetNowhere", { sheet: sheets[0]!.name });
  return { parts, part, sheets };
}
