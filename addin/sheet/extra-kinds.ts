/** The owner's own list of extra work, wherever it stands in the workbook. */
import { EXTRA_KIND_COLUMNS, type ExtraKind, extraKindsOf } from "../../functions/bid/extras";
import { type FoundTable, foundIn, ordered, told } from "./shelf";

/** The table of kinds of extra work among the workbook's, if any. */
export const extraKindsIn = (tables: Excel.TableCollection): FoundTable | undefined =>
  foundIn(tables, EXTRA_KIND_COLUMNS);

/** Asks for the kinds of extra work in that table; once the answers have come, the function gives them and what is wrong. */
export function askExtraKinds(found: FoundTable): () => { kinds: ExtraKind[]; problems: string[] } {
  const rows = found.table.getDataBodyRange().load("values");
  return () => {
    const { good, bad } = extraKindsOf(ordered(found, EXTRA_KIND_COLUMNS, rows.values));
    return { kinds: good, problems: told(found, bad) };
  };
}
