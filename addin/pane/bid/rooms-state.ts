/** What the card for a list of rooms knows. Its changes are in `rooms-list.ts`, which comes with the card. */
import type { ReadRooms, RoomKey } from "../../../functions/bid/rooms";
import type { Headings } from "../../../functions/headings";
import type { Plan, RoomList } from "../../sheet";

/** A plan that can be written, or why it can't. */
export interface PlannedRoom {
  readonly row: number;
  readonly plan: Plan;
  readonly trouble: string;
}

export interface FoundRooms extends Pick<ReadRooms, "bad" | "totals"> {
  /** What the Plan view's form said when they were planned. */
  readonly form: Plan;
  readonly planned: readonly PlannedRoom[];
}

export interface RoomsState {
  readonly list: RoomList | undefined;
  readonly mapping: Headings<RoomKey>;
  readonly found: FoundRooms | undefined;
  readonly asOne: boolean;
}

export const startRooms = (): RoomsState => ({ list: undefined, mapping: {}, found: undefined, asOne: false });
