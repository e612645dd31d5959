/** The page for the customer on a sheet of the workbook, known by the names of its cells. */
import { withoutSheet } from "../common/a1";
import { isCell, type NamesAndTables } from "./plans";

/** Sheet names of its cells: its total, and what says what is wrong with it, outside what is printed. */
export const PROPOSAL_NAMES = { total: "Proposal_Total", check: "Proposal_Check" } as const;

/** The last one that was written, where there are several. */
export function proposalAmong({ worksheets }: NamesAndTables) {
  const found = worksheets.items.flatMap((sheet) => {
    const cellOf = (wanted: string) => {
      const item = sheet.names.items.find(({ name }) => name.toLowerCase() === wanted.toLowerCase());
      return item && isCell(item.formula) ? withoutSheet(String(item.formula)) : undefined;
    };
    const [total, check] = [cellOf(PROPOSAL_NAMES.total), cellOf(PROPOSAL_NAMES.check)];
    return total === undefined ? [] : [{ sheet, total, check }];
  });
  return found.at(-1);
}
