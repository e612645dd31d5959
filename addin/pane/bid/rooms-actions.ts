/** The commands of the card for a list of rooms; they run one at a time with the others. */
import { needYes, questionsOf } from "../../common/refusal";
import { insertPlans, listPlans, type Plan, Refusal, readRoomList } from "../../sheet";
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

const ask = questionsOf({
  plannedAlready: ({ floors }: { floors: readonly string[] }) => ROOMS.plannedAlready(floors),
});

/** Rooms that have a plan in the workbook already: a second one would be paid for twice. */
async function plannedAlready(plans: readonly Plan[]): Promise<string[]> {
  const there = new Set((await listPlans()).map(({ floor }) => floor.toLowerCase()));
  return plans.map(({ inputs }) => inputs.floor).filter((floor) => there.has(floor.toLowerCase()));
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
      run(ROOMS_COMMANDS.write, async (agreed) => {
        const anew = replanned(rooms.state, form());
        if (anew) {
          // What is written is what was looked at.
          rooms.change(() => anew);
          throw new Refusal(ROOMS.formChanged);
        }
        const plans = plansIn(rooms.state, form());
        if (typeof plans === "string") throw new Refusal(plans);
        const floors = await plannedAlready(plans);
        if (floors.length > 0) needYes(agreed, ask("plannedAlready", { floors }));
        const inserted = await insertPlans(plans);
        rooms.change(startRooms);
        store.change((state) => outOfDate(outOfDate(state, "bid"), "plan"));
        return done(`${inserted.what}.`, inserted);
      }),
  };
}
