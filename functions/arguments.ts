/** Arguments that several topics have. */
import { amount, count, share } from "./declare";
import { ABOVE_0, BELOW_1, SHARE } from "./domain";

export const AREA = amount("area", "Floor area", "floorArea", ABOVE_0);
export const PASSES = count("passes", "Passes over the whole floor", ABOVE_0, { omitted: 1, refusesBlank: true });

export const WIDTH = amount("width", "Working width of the machine", "toolSize", ABOVE_0);
export const SPEED = amount("speed", "Travel speed", "travelSpeed", ABOVE_0);
export const OVERLAP = share("overlap", "Share of each lane that overlaps the one before", BELOW_1, { omitted: 0 });
export const EFFICIENCY = share("efficiency", "Share of working time spent grinding", SHARE, { omitted: 1 });
