/** Every text of the card for a list of rooms. What is wrong with a row stands in `functions/bid/rooms.ts`. */
import { counted } from "../../common/count";
import { doing } from "../texts";

export const ROOMS_COMMANDS = {
  read: doing("reading the list of rooms", "read the list of rooms"),
  write: doing("writing the rooms' plans", "write the rooms' plans"),
};

export const ROOMS = {
  title: "Rooms from a list",
  digest: "A plan for each row of your own list",
  partNotLoaded: "Couldn't load this part. Check the connection, then open it again.",
  note: "Select a cell in your list. What a row doesn't say is taken from the Plan view's form.",
  read: "Read the list at the selected cell",
  found: (name: string, rooms: number) => `${name}: ${counted(rooms, "room")} to plan.`,
  totals: (rows: number) => `${counted(rows, "total row")} left out.`,
  columns: "Columns",
  none: "not in the list",
  readFrom: (fields: readonly string[]) => `Read: ${fields.join(", ")}.`,
  field: (label: string, heading: string) => (label === heading ? label : `${label} from “${heading}”`),
  unused: (headings: readonly string[]) => `Not used: ${headings.map((heading) => `“${heading}”`).join(", ")}.`,
  bad: (rows: number) => `${counted(rows, "row")} can't be planned:`,
  row: (row: number) => `row ${row}`,
  asOne: "One plan of their sum",
  each: "One plan a room",
  how: "Plans",
  write: (plans: number) => `Write ${counted(plans, "plan")}`,
  nothing: "No row of the list can be planned. Fix the rows listed, then read it again.",
  formChanged:
    "The Plan view's form or the shelf has changed, so the rooms are planned anew. Check them, then write again.",
  plannedAlready: (floors: readonly string[]) =>
    [
      floors.length === 1
        ? `“${floors[0]}” has a plan in this workbook already. The new one gets a sheet beside it, and the bid counts both.`
        : `${floors.length} of these rooms have plans in this workbook already: “${floors.slice(0, 3).join("”, “")}”${floors.length > 3 ? ` and ${floors.length - 3} more` : ""}. The new ones get sheets beside them, and the bid counts both.`,
      "Write them anyway?",
    ] as const,
  noStages: "no sequence on this shelf reaches the finish",
  sumName: (rooms: number) => `${rooms} rooms`,
} as const;
