/** What of a sheet is printed: the names under which a workbook keeps its print areas and the rows on top of each page. */
import { parseA1Ref } from "@borgar/fx";
import { absoluteAddress, columnLetters } from "../../common/a1";
import { type Area, isKept } from "./price-sheet";
import type { Workbook } from "./workbook";
import { attributes, elements, escaped, textIn, written } from "./xml";

/** A sheet of the copy, and its chosen areas. */
interface Chosen {
  readonly sheet: { readonly name: string };
  readonly areas: readonly Area[] | undefined;
}

const AREAS = "_xlnm.Print_Area";
const TITLES = "_xlnm.Print_Titles";

/** The names as the copy has them: those that name nothing but cells which are in it. */
export function printNames({ parts, part, sheets }: Workbook, chosen: readonly Chosen[]): string[] {
  const xml = parts.text(part);
  return [...elements(xml, ["definedName"])].flatMap((element) => {
    const { name = "", localSheetId } = Object.fromEntries(attributes(element));
    const own = sheets[Number(localSheetId ?? -1)]?.name;
    const at = chosen.findIndex(({ sheet }) => sheet.name === own);
    if (at < 0 || (name !== AREAS && name !== TITLES)) return [];
    const found = referencesIn(textIn(xml, element), own!);
    // Rows on top of every page may be of no chosen range.
    const isIn = found?.every((area) => (name === AREAS ? isKept(area, chosen[at]!.areas) : !chosen[at]!.areas));
    if (!found || !isIn) return [];
    const formula = found.map((area) => `'${own!.replace(/'/g, "''")}'!${addressOf(area)}`).join(",");
    return [`<definedName${written({ name, localSheetId: String(at) })}>${escaped(formula)}</definedName>`];
  });
}

/** The areas of a sheet that a formula lists; nothing where it has anything else in it. */
function referencesIn(formula: string, sheet: string): Area[] | undefined {
  const areas = (formula.match(/(?:'(?:[^']|'')*'|[^,'])+/g) ?? []).map((text) => {
    const found = parseA1Ref(text.trim());
    if (!found || !("range" in found) || found.context?.join() !== sheet) return undefined;
    const { top, left, bottom, right } = found.range;
    return { top: top ?? 0, left: left ?? 0, bottom: bottom ?? Infinity, right: right ?? Infinity };
  });
  return areas.length > 0 && areas.every((area) => area !== undefined) ? areas : undefined;
}

function addressOf({ top, left, bottom, right }: Area): string {
  if (right === Infinity) return `$${top + 1}:$${bottom + 1}`;
  if (bottom === Infinity) return `$${columnLetters(left)}:$${columnLetters(right)}`;
  return `${absoluteAddress(top, left)}:${absoluteAddress(bottom, right)}`;
}
