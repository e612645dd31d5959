/** A list of rooms in the user's workbook, found at the selected cell. */
import { MOST_ROOMS } from "../../functions/bid/rooms";
import { Refusal } from "../common/refusal";
import { refuseRooms } from "./bid-refusals";
import { inWorkbook } from "./in-workbook";
import { locateOne, selectedPlace } from "./job-list";

export interface RoomList {
  /** As the user knows it. */
  readonly name: string;
  readonly sheet: string;
  readonly headings: readonly string[];
  /** Row and column, from 0, of the first cell below the headings. */
  readonly top: number;
  readonly left: number;
  readonly rows: readonly (readonly unknown[])[];
}

export function readRoomList(): Promise<RoomList> {
  return inWorkbook(async (context) => {
    const list = await selectedPlace(context)
      .then((place) => locateOne(context, place))
      .catch(inOwnWords);
    const { sheet, sheetName, top, left, headings, rows, name } = list;
    if (rows > MOST_ROOMS) throw refuseRooms("tooMany", { list: name, rows, most: MOST_ROOMS });
    const cells = sheet.getRangeByIndexes(top, left, rows, headings.length).load("values,rowHidden");
    await context.sync();
    if (cells.rowHidden !== false) throw refuseRooms("hidden", { list: name });
    return { name, sheet: sheetName, headings, top, left, rows: cells.values };
  });
}

/** What is refused of a list of past jobs, said of a list of rooms. */
function inOwnWords(error: unknown): never {
  const kind = error instanceof Refusal ? error.reason?.kind : undefined;
  if (kind === "emptySheet" || kind === "noHeadings" || kind === "noRows") throw refuseRooms(kind);
  throw error;
}
