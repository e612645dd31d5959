/** The sheets of an .xlsx file. */
import { CONTENT_TYPES, Package } from "./package";
import { UnreadableWorkbook } from "./unreadable";
import { attributes, elements, first, relationshipId } from "./xml";

/** A sheet as the workbook lists it. */
export interface Sheet {
  readonly name: string;
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

export function openWorkbook(bytes: Uint8Array): Workbook {
  const parts = Package.open(bytes);
  parts.text(CONTENT_TYPES, "its list of contents");
  const part = parts.relationships("").find(({ type }) => type.endsWith("/officeDocument"))?.target;
  if (part === undefined) throw new UnreadableWorkbook("The file is a zip, but there is no Excel workbook in it.");
  if (part.endsWith(".bin")) {
    throw new UnreadableWorkbook(
      "The file is a binary workbook (.xlsb). Save it as an Excel Workbook (.xlsx) and try again.",
    );
  }
  const xml = parts.text(part, "its list of sheets");
  const list = first(xml, "sheets");
  if (!list) throw new UnreadableWorkbook(`The file is no Excel workbook: ${part} lists no sheets.`);
  const leads = new Map(parts.relationships(part).map((one) => [one.id, one]));
  const sheets = [...elements(xml, ["sheet"], list.innerStart, list.innerEnd)].map((element): Sheet => {
    const { name = "", state = "visible" } = Object.fromEntries(attributes(element));
    const lead = leads.get(relationshipId(element) ?? "");
    if (!lead) throw new UnreadableWorkbook(`The workbook is damaged: nothing says where the sheet "${name}" is.`);
    parts.text(lead.target, `the sheet "${name}"`);
    return { name, part: lead.target, hidden: state !== "visible", hasCells: lead.type.endsWith("/worksheet") };
  });
  return { parts, part, sheets };
}
