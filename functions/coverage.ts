/** Coverage: how much floor a machine covers in an hour, and how long a floor takes. */
import { AREA, EFFICIENCY, OVERLAP, PASSES, SPEED, WIDTH } from "./arguments";
import { amount, count, define, UNITS, yesNo } from "./declare";
import { ABOVE_0, FROM_0, WHOLE_FROM_1 } from "./domain";
import { roundUp } from "./round-up";
import { TOOL_SIZES_PER_LENGTH } from "./units";

/** Floor covered in one hour by one pass; width in tool sizes, speed per minute. */
export const areaPerHour = (width: number, speed: number, overlap: number, efficiency: number, perLength: number) =>
  (width / perLength) * speed * 60 * (1 - overlap) * efficiency;

/**
 * Floor area the machine covers in an hour with one pass.
 * @example =GRIT.AREARATE(28,15,0.2,0.75) → 1260 | hand: 28 / 12 ft × 15 ft/min × 60 × 0.8 × 0.75
 * @example =GRIT.AREARATE(480,528,0,0.7) → 887040 | published: Iowa State University Extension PM 696 (2001), 40 ft at 6 mph and 70% is 20.4 ac/h; 20.3636 ac × 43560 ft²
 * @example =GRIT.AREARATE(600,10,0.2,0.8,"metric") → 230.4 | hand: 0.6 m × 10 m/min × 60 × 0.8 × 0.8
 * @fails =GRIT.AREARATE(28,40,20) → #VALUE! overlap must be from 0 to below 1 (20% is 0.2); got 20
 * @plain {width}/{units:12|1000}*{speed}*60*(1-{overlap})*{efficiency}
 * @source ASABE EP496 effective field capacity: width × speed × efficiency.
 * @words production square feet foot sq ft sqft grinder
 */
export const AREARATE = define(
  { label: "Area rate", unit: "areaRate" },
  [WIDTH, SPEED, OVERLAP, EFFICIENCY, UNITS],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (width, speed, overlap, efficiency) => areaPerHour(width, speed, overlap, efficiency, perLength);
  },
);

/**
 * Machine hours to cover a floor.
 * @example =GRIT.PASSTIME(4200,28,15,3,0.2,0.75) → 10 | hand: 4200 × 3 / (28 / 12 × 15 × 60 × 0.8 × 0.75) = 12600 / 1260
 * @example =GRIT.PASSTIME(887040,480,528,1,0,0.7) → 1 | published: Iowa State University Extension PM 696 (2001), 40 ft at 6 mph and 70% covers 20.3636 ac (887040 ft²) in an hour
 * @example =GRIT.PASSTIME(500,600,10,2,0.2,0.8,"metric") → 4.340277777777778 | hand: 500 × 2 / (0.6 × 10 × 60 × 0.8 × 0.8) = 1000 / 230.4
 * @fails =GRIT.PASSTIME(2000,28,15,0) → #VALUE! passes is blank or 0; type a number above 0, or leave the argument out for 1
 * @fails =GRIT.PASSTIME(2000,28,0) → #VALUE! speed is blank or 0; it must be above 0
 * @plain {area}*{passes}/({width}/{units:12|1000}*{speed}*60*(1-{overlap})*{efficiency})
 * @source ASABE EP496 effective field capacity, solved for time.
 * @words production schedule duration square foot feet sq ft sqft grinder
 */
export const PASSTIME = define(
  { label: "Machine time", unit: "hours" },
  [AREA, WIDTH, SPEED, PASSES, OVERLAP, EFFICIENCY, UNITS],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (area, width, speed, passes, overlap, efficiency) =>
      (area * passes) / areaPerHour(width, speed, overlap, efficiency, perLength);
  },
);

/**
 * Travel speed that covers a floor in the hours you have.
 * @example =GRIT.SPEEDFOR(4200,28,10,3,0.2,0.75) → 15 | hand: 12600 / (10 × 28 / 12 × 60 × 0.8 × 0.75) = 12600 / 840
 * @example =GRIT.SPEEDFOR(887040,480,1,1,0,0.7) → 528 | published: Iowa State University Extension PM 696 (2001), 20.3636 ac/h at 40 ft and 70% is 6 mph; 6 × 88 ft/min
 * @example =GRIT.SPEEDFOR(230.4,600,1,1,0.2,0.8,"metric") → 10 | hand: 230.4 / (0.6 × 60 × 0.8 × 0.8)
 * @fails =GRIT.SPEEDFOR(2000,28,-1) → #VALUE! hours must be above 0; got -1
 * @plain {area}*{passes}/({hours}*{width}/{units:12|1000}*60*(1-{overlap})*{efficiency})
 * @source ASABE EP496 effective field capacity, solved for speed.
 * @words pace walk production
 */
export const SPEEDFOR = define(
  { label: "Travel speed", unit: "travelSpeed" },
  [AREA, WIDTH, amount("hours", "Machine hours available", "hours", ABOVE_0), PASSES, OVERLAP, EFFICIENCY, UNITS],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (area, width, hours, passes, overlap, efficiency) =>
      (area * passes) / (hours * areaPerHour(width, 1, overlap, efficiency, perLength));
  },
);

/** Lanes beside one another that cover a room; both widths in the same unit. */
const lanesAcross = (roomWidth: number, width: number, overlap: number) =>
  roomWidth <= width ? 1 : 1 + roundUp((roomWidth - width) / (width * (1 - overlap)));

/**
 * Side-by-side lanes needed to cover a room's width.
 * @example =GRIT.LANES(20,24) → 10 | hand: 20 ft / 2 ft = 10 lanes side by side
 * @example =GRIT.LANES(5,1000,0.2,"metric") → 6 | hand: after the first meter, 4 m / 0.8 m = 5 more lanes
 * @fails =GRIT.LANES(20,24,1) → #VALUE! overlap must be from 0 to below 1 (20% is 0.2); got 1
 * @plain IF({roomWidth}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomWidth}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))
 * @source Geometry of parallel strips.
 * @words rows strips layout
 */
export const LANES = define(
  { label: "Whole number of lanes" },
  [amount("roomWidth", "Width of the room, across the lanes", "length", ABOVE_0), WIDTH, OVERLAP, UNITS],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (roomWidth, width, overlap) => lanesAcross(roomWidth * perLength, width, overlap);
  },
);

/** Hours of one pass in lanes of this length, with a turn of so many seconds between them. */
const inLanes = (lanes: number, length: number, speed: number, turnSeconds: number) =>
  (lanes * length) / speed / 60 + ((lanes - 1) * turnSeconds) / 3600;

/**
 * Machine hours for a rectangular room worked in lanes, turns included.
 * @example =GRIT.ROOMTIME(60,20,24,30,1,0,12) → 0.36333333333333334 | hand: 10 lanes × 60 ft / 30 ft/min = 20 min, 9 turns × 12 s = 1.8 min, 21.8 min / 60
 * @example =GRIT.ROOMTIME(60,20,24,30,2,0,12,TRUE) → 0.79333333333333333 | hand: 21.8 min along; across 30 lanes × 20 ft / 30 ft/min = 20 min and 29 turns × 12 s = 5.8 min; 47.6 min / 60
 * @fails =GRIT.ROOMTIME(60,20,24,30,1.5) → #VALUE! passes must be a whole number, 1 or more; got 1.5
 * @plain ({passes}-IF({crosshatch},INT({passes}/2),0))*(IF({roomWidth}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomWidth}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))*({roomLength}/{speed}/60+{turnSeconds}/3600)-{turnSeconds}/3600)+IF({crosshatch},INT({passes}/2),0)*(IF({roomLength}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomLength}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))*({roomWidth}/{speed}/60+{turnSeconds}/3600)-{turnSeconds}/3600)
 * @source Geometry of parallel strips; NAVEDTRA 14081, time is the sum of distance over speed.
 * @words production schedule duration square foot feet sq ft sqft grinder
 */
export const ROOMTIME = define(
  { label: "Machine time", unit: "hours" },
  [
    amount("roomLength", "Length of the room, along the lanes", "length", ABOVE_0),
    amount("roomWidth", "Width of the room, across the lanes", "length", ABOVE_0),
    WIDTH,
    SPEED,
    count("passes", "Passes over the whole room", WHOLE_FROM_1, { omitted: 1, refusesBlank: true }),
    OVERLAP,
    amount("turnSeconds", "Time of one turn between lanes", "seconds", FROM_0, { omitted: 0 }),
    yesNo("crosshatch", "Whether every second pass runs across the room"),
    UNITS,
  ],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (roomLength, roomWidth, width, speed, passes, overlap, turnSeconds, crosshatch) => {
      const along = inLanes(lanesAcross(roomWidth * perLength, width, overlap), roomLength, speed, turnSeconds);
      const crossing = crosshatch ? Math.floor(passes / 2) : 0;
      if (crossing === 0) return passes * along;
      const across = inLanes(lanesAcross(roomLength * perLength, width, overlap), roomWidth, speed, turnSeconds);
      return (passes - crossing) * along + crossing * across;
    };
  },
);

/**
 * Share of a rectangular floor that the large machine can reach.
 * @example =GRIT.OPENSHARE(60,20,6) → 0.9341666666666667 | hand: 59 × 19 / (60 × 20) = 1121 / 1200
 * @example =GRIT.OPENSHARE(10,1,600,"metric") → 0 | hand: two strips of 0.6 m leave nothing of a room 1 m wide
 * @fails =GRIT.OPENSHARE(60,0,6) → #VALUE! roomWidth is blank or 0; it must be above 0
 * @plain ({roomLength}>2*{edgeStrip}/{units:12|1000})*({roomLength}-2*{edgeStrip}/{units:12|1000})/{roomLength}*({roomWidth}>2*{edgeStrip}/{units:12|1000})*({roomWidth}-2*{edgeStrip}/{units:12|1000})/{roomWidth}
 * @source Geometry of a rectangle within a rectangle.
 * @words perimeter edge open floor square foot sq ft
 */
export const OPENSHARE = define(
  { label: "Share of the floor, from 0 to 1", isShare: true },
  [
    amount("roomLength", "Length of the room", "length", ABOVE_0),
    amount("roomWidth", "Width of the room", "length", ABOVE_0),
    amount("edgeStrip", "Strip along the walls left to the edge tool", "toolSize", FROM_0),
    UNITS,
  ],
  (units) => {
    const perLength = TOOL_SIZES_PER_LENGTH[units];
    return (roomLength, roomWidth, edgeStrip) => {
      const both = (2 * edgeStrip) / perLength;
      return (Math.max(0, roomLength - both) / roomLength) * (Math.max(0, roomWidth - both) / roomWidth);
    };
  },
);

/**
 * Hours of edge work along walls and columns.
 * @example =GRIT.EDGETIME(160,40,3) → 12 | hand: 160 ft × 3 / 40 ft/h
 * @example =GRIT.EDGETIME(50,12.5,1,"metric") → 4 | hand: 50 m / 12.5 m/h
 * @fails =GRIT.EDGETIME(160,"quick") → #VALUE! edgeRate must be above 0; got the text "quick"
 * @plain {edgeLength}*{passes}/{edgeRate}
 * @source Time is length over rate.
 * @words edging perimeter wall hand grinder
 */
export const EDGETIME = define(
  { label: "Edge time", unit: "hours" },
  [
    amount("edgeLength", "Length of edge to work", "length", FROM_0),
    amount("edgeRate", "Edge worked per hour in one pass", "edgeRate", ABOVE_0),
    count("passes", "Passes along the edge", ABOVE_0, { omitted: 1, refusesBlank: true }),
    UNITS,
  ],
  () => (edgeLength, edgeRate, passes) => (edgeLength * passes) / edgeRate,
);
