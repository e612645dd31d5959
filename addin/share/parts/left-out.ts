/**
 * What a copy that calculates leaves out: the task pane of an add-in that the partner does not have, a signature that no
 * longer holds, and lists that the spreadsheet makes again by itself.
 */
import { removed, type Worded } from "../copy-texts";
import type { Package, Relationship } from "./package";
import type { Workbook } from "./workbook";
import { attribute, elements, relationshipId, Splices } from "./xml";

/** Takes them out, and says what a user would miss. */
export function leaveOut({ parts }: Workbook, addInIds: readonly string[]): Worded[] {
  const gone: Worded[] = [];
  if (removePanes(parts, addInIds)) gone.push(removed("panes"));
  if (removeSignatures(parts)) gone.push(removed("signature"));
  forgetTitles(parts);
  return gone;
}

const leadsTo = (parts: Package, from: string, kind: string): Relationship[] =>
  parts.relationships(from).filter(({ type, target }) => type.endsWith(kind) && parts.has(target));

/** The panes that open by themselves, of ours only: other add-ins are the user's own matter. */
function removePanes(parts: Package, addInIds: readonly string[]): boolean {
  let any = false;
  for (const list of leadsTo(parts, "", "/webextensiontaskpanes")) {
    const ours = leadsTo(parts, list.target, "/webextension").filter(({ target }) =>
      isOurs(parts.text(target), addInIds),
    );
    if (ours.length === 0) continue;
    any = true;
    const xml = parts.text(list.target);
    const panes = [...elements(xml, ["taskpane"])];
    const isOfOurs = (start: number, end: number) =>
      [...elements(xml, ["webextensionref"], start, end)].some((one) =>
        ours.some(({ id }) => id === relationshipId(one)),
      );
    const gone = panes.filter(({ innerStart, innerEnd }) => isOfOurs(innerStart, innerEnd));
    for (const { id, target } of ours) {
      parts.removeWithAll(target);
      parts.unrelate(list.target, id);
    }
    if (gone.length < panes.length) {
      const splices = new Splices(xml);
      for (const pane of gone) splices.remove(pane);
      parts.write(list.target, splices.result());
    } else {
      parts.removeWithAll(list.target);
      parts.unrelate("", list.id);
    }
  }
  return any;
}

/** The functions that an add-in brings, by the names that Excel keeps in its files. */
const OUR_FUNCTIONS = /(?:^|[\s,;])_xldudf_GRIT_[A-Z0-9_.]/i;

/** Known by the add-in's id, by our functions, or by a setting of ours in it: a store install has an id of its own. */
function isOurs(xml: string, addInIds: readonly string[]): boolean {
  const idOf = (text: string | undefined) => (text ?? "").replace(/[{}]/g, "").toLowerCase();
  const ids = addInIds.map(idOf);
  const references = [...elements(xml, ["reference"])].map((one) => idOf(attribute(one, "id")));
  const settings = [...elements(xml, ["property"])].map((one) => attribute(one, "name") ?? "");
  const functions = [...elements(xml, ["customFunctionIds"])].map((one) => xml.slice(one.innerStart, one.innerEnd));
  return (
    references.some((id) => ids.includes(id)) ||
    functions.some((list) => OUR_FUNCTIONS.test(list)) ||
    settings.some((name) => name.startsWith("Gritledger."))
  );
}

function removeSignatures(parts: Package): boolean {
  const origins = leadsTo(parts, "", "/digital-signature/origin");
  for (const { id, target } of origins) {
    for (const signature of parts.relationships(target)) parts.removeWithAll(signature.target);
    parts.removeWithAll(target);
    parts.unrelate("", id);
  }
  return origins.length > 0;
}

/** The document's properties list its sheets, and the copy has more; a list that is not there is made on saving. */
function forgetTitles(parts: Package): void {
  for (const { target } of leadsTo(parts, "", "/extended-properties")) {
    const xml = parts.text(target);
    const splices = new Splices(xml);
    for (const list of elements(xml, ["HeadingPairs", "TitlesOfParts"])) splices.remove(list);
    if (splices.any) parts.write(target, splices.result());
  }
}
