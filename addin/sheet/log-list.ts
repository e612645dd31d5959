/** Lines of a log kept elsewhere in the workbook, such as a foreman's list that was pasted: found at the selected cell, read by their headings. */
import { guessLogHeadings, logField } from "../../functions/log/fields";
import { type ListedLines, missingHeadings, readList } from "../../functions/log/list";
import { Refusal } from "../common/refusal";
import { inWorkbook } from "./in-workbook";
import { locateOne, selectedPlace } from "./job-list";
import { lookForLog } from "./log";
import { refuseLog } from "./log-texts";

/** A list as it was read: what may be added, and what is wrong with its other rows. */
export interface ForemansList extends ListedLines {
  /** As the user knows it. */
  readonly name: string;
  /** Row, from 0, of the first line. */
  readonly top: number;
}

export function readForemansList(): Promise<ForemansList> {
  return inWorkbook(async (context) => {
    const list = await selectedPlace(context)
      .then((place) => locateOne(context, place))
      .catch(inOwnWords);
    const { sheet, top, left, headings, rows, name } = list;
    const mapping = guessLogHeadings(headings);
    const missing = missingHeadings(mapping).map((key) => logField(key).label);
    if (missing.length > 0) throw refuseLog("noHeading", { list: name, missing });
    const cells = sheet.getRangeByIndexes(top, left, rows, headings.length).load("values");
    const found = await lookForLog(context);
    if (!found?.log) throw refuseLog("noLog");
    if ("table" in list.place && list.place.table === found.log.table) throw refuseLog("ownLog");
    return { name, top, ...readList(headings, mapping, cells.values, found.log.lines) };
  });
}

/** What is refused of a list of past jobs, said of a list of lines. */
function inOwnWords(error: unknown): never {
  const kind = error instanceof Refusal ? error.reason?.kind : undefined;
  if (kind === "emptySheet" || kind === "noHeadings" || kind === "noRows") throw refuseLog(kind);
  throw error;
}
