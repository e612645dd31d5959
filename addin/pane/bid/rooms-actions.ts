/** The commands of the card for a list of rooms; they run one at a time with the others. */
import { insertPlans, Refusal, readRoomList } from "../../sheet";
import type { Pane } from "../commands";
import { done } from "../messages";
import { planOf } from "../plan/derived";
import { outOfDate } from "../reads";
import { plansIn, replanned, takeList } from "./rooms-list";
import { startRooms } from "./rooms-state";
import { ROOMS, ROOMS_COMMANDS } from "./rooms-texts";

export interface RoomsCommands {
  read(): Promise<void>;
  write(): Promise<void>;
}

export function roomsCommands(pane: Pane): RoomsCommands {
  const { store, run } = pane;
  const rooms = store.part("rooms");
  const form = () => planOf(store.state.plan);
  return {
    read: () =>
      run(ROOMS_COMMANDS.read, async () => {
        const list = await readRoomList();
        rooms.change((now) => takeList(now, list, form()));
        return null;
      }),

    write: () =>
      run(ROOMS_COMMANDS.write, async () => {
        const anew = replanned(rooms.state, form());
        if (anew) {
          // What is written is what was looked at.
          rooms.change(() => anew);
          throw new Refusal(ROOMS.formChanged);
        }
        const plans = plansIn(rooms.state, form());
        if (typeof plans === "string") throw new Refusal(plans);
        const inserted = await insertPlans(plans);
        rooms.change(startRooms);
        store.change((state) => outOfDate(outOfDate(state, "bid"), "plan"));
        return done(`${inserted.what}.`, inserted);
      }),
  };
}
