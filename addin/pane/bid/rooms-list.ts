/** Changes of the card for a list of rooms: what was read, by which headings, and the plans that come of it. */
import { guessRoomHeadings, ROOM_FIELDS, type RoomKey, readRooms, summed } from "../../../functions/bid/rooms";
import { wrongHeadings } from "../../../functions/headings";
import type { Inputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import type { Plan, RoomList } from "../../sheet";
import type { PlannedRoom, RoomsState } from "./rooms-state";
import { ROOMS } from "./rooms-texts";

/** The list with the headings that it was recognized by. */
export const takeList = (rooms: RoomsState, list: RoomList, form: Plan): RoomsState =>
  planned({ ...rooms, list, mapping: guessRoomHeadings(list.headings) }, form);

export function chooseHeading(rooms: RoomsState, key: RoomKey, heading: string, form: Plan): RoomsState {
  const { [key]: _, ...others } = rooms.mapping;
  return planned({ ...rooms, mapping: heading === "" ? others : { ...others, [key]: heading } }, form);
}

/** The rooms planned by the form as it is now; undefined where it says the same as before. */
export function replanned(rooms: RoomsState, form: Plan): RoomsState | undefined {
  const { found } = rooms;
  if (!found || sayings(found.form) === sayings(form)) return undefined;
  return planned(rooms, form);
}

/** What of the form goes into every room. */
const sayings = ({ inputs, shelf, pastJobs }: Plan) => JSON.stringify([inputs, shelf, pastJobs]);

/** Columns of the list that nothing is read from. */
export function unusedHeadings({ list, mapping }: RoomsState): string[] {
  const used = new Set(Object.values(mapping));
  return (list?.headings ?? []).filter((heading) => heading !== "" && !used.has(heading));
}

export const setAsOne = (rooms: RoomsState, asOne: boolean): RoomsState => ({ ...rooms, asOne });

/** What is wrong with the chosen headings. */
export const headingProblems = ({ mapping, list }: RoomsState) =>
  wrongHeadings<RoomKey>(ROOM_FIELDS, mapping, list?.headings ?? []);

function planned(rooms: RoomsState, form: Plan): RoomsState {
  const { list, mapping } = rooms;
  if (!list || Object.keys(headingProblems(rooms)).length > 0) return { ...rooms, found: undefined };
  const { rooms: read, bad, totals } = readRooms(list.headings, mapping, list.rows, form.inputs);
  return { ...rooms, found: { form, bad, totals, planned: read.map(({ row, inputs }) => planOf(row, inputs, form)) } };
}

/** As the Plan view would plan it; a shelf that can't do it is a trouble. */
function planOf(row: number, inputs: Inputs, form: Plan): PlannedRoom {
  const { stages, notes } = propose(inputs, form.shelf);
  const plan = { ...form, inputs, links: {}, stages: stages.map(({ reason: _, ...stage }) => stage), notes };
  return { row, plan, trouble: stages.length > 0 ? "" : (notes.at(-1) ?? ROOMS.noStages) };
}

/** The plans to write; a text where there are none. */
export function plansIn({ found, asOne }: RoomsState, form: Plan): readonly Plan[] | string {
  const fit = found?.planned.filter(({ trouble }) => trouble === "") ?? [];
  if (fit.length === 0) return ROOMS.nothing;
  if (!asOne) return fit.map(({ plan }) => plan);
  const inputs = summed(
    fit.map(({ row, plan }) => ({ row, inputs: plan.inputs })),
    ROOMS.sumName(fit.length),
  );
  if (typeof inputs === "string") return `${inputs}.`;
  const { plan, trouble } = planOf(0, inputs, form);
  return trouble || [plan];
}
