/** Coverage: how much floor a machine covers in an hour, and how long a floor takes. */
import { ABOVE_0, answer, BELOW_1, each, FROM_0, number, roundUp, SHARE, WHOLE_FROM_0, yesNo } from "./cell";
import { systemOf, TOOL_SIZES_PER_LENGTH } from "./units";

/** Floor covered in one hour by one pass; width in tool sizes, speed per minute. */
export const areaPerHour = (width: number, speed: number, overlap: number, efficiency: number, perLength: number) =>
  (width / perLength) * speed * 60 * (1 - overlap) * efficiency;

/**
 * Floor area one pass of the machine covers in an hour.
 * @customfunction AREARATE
 * @param width Working width of the machine, in | mm; above 0.
 * @param speed Travel speed, ft/min | m/min; above 0.
 * @param [overlap] Share of each lane that overlaps the one before, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @param [efficiency] Share of the time spent grinding, a fraction above 0 and at most 1 (80 % is 0.8); 1 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Area rate, ft²/h | m²/h.
 * @example =GRIT.AREARATE(480,528,0,0.7) → 887040 | published: Iowa State University Extension PM 696 (2001), 40 ft at 6 mph and 70 % is 20.4 ac/h; 20.3636 ac × 43560 ft²
 * @example =GRIT.AREARATE(600,10,0.2,0.8,"metric") → 230.4 | hand: 0.6 m × 10 m/min × 60 × 0.8 × 0.8
 * @fails =GRIT.AREARATE(28,40,20) → #VALUE! overlap must be from 0 to below 1 (20 % is 0.2); got 20
 * @plain {width}/{units:12|1000}*{speed}*60*(1-{overlap})*{efficiency}
 * @source ASABE EP496 effective field capacity: width × speed × efficiency.
 */
export function areaRate(
  width: any[][],
  speed: any[][],
  overlap?: any[][],
  efficiency?: any[][],
  units?: string,
): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("width", width, ABOVE_0),
        number("speed", speed, ABOVE_0),
        number("overlap", overlap, BELOW_1, 0),
        number("efficiency", efficiency, SHARE, 1),
      ],
      (w, v, o, e) => areaPerHour(w, v, o, e, perLength),
    );
  });
}

/**
 * Machine hours to cover a floor.
 * @customfunction PASSTIME
 * @param area Floor area, ft² | m²; 0 or more.
 * @param width Working width of the machine, in | mm; above 0.
 * @param speed Travel speed, ft/min | m/min; above 0.
 * @param [passes] Passes over the whole floor; 0 or more, 1 when left out.
 * @param [overlap] Share of each lane that overlaps the one before, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @param [efficiency] Share of the time spent grinding, a fraction above 0 and at most 1 (80 % is 0.8); 1 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Machine time, h.
 * @example =GRIT.PASSTIME(887040,480,528,1,0,0.7) → 1 | published: Iowa State University Extension PM 696 (2001), 40 ft at 6 mph and 70 % covers 20.3636 ac (887040 ft²) in an hour
 * @example =GRIT.PASSTIME(500,600,10,2,0.2,0.8,"metric") → 4.340277777777778 | hand: 500 × 2 / (0.6 × 10 × 60 × 0.8 × 0.8) = 1000 / 230.4
 * @fails =GRIT.PASSTIME(2000,28,0) → #VALUE! speed must be above 0; got 0
 * @plain {area}*{passes}/({width}/{units:12|1000}*{speed}*60*(1-{overlap})*{efficiency})
 * @source ASABE EP496 effective field capacity, solved for time.
 */
export function passTime(
  area: any[][],
  width: any[][],
  speed: any[][],
  passes?: any[][],
  overlap?: any[][],
  efficiency?: any[][],
  units?: string,
): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("area", area, FROM_0),
        number("width", width, ABOVE_0),
        number("speed", speed, ABOVE_0),
        number("passes", passes, FROM_0, 1),
        number("overlap", overlap, BELOW_1, 0),
        number("efficiency", efficiency, SHARE, 1),
      ],
      (a, w, v, n, o, e) => (a * n) / areaPerHour(w, v, o, e, perLength),
    );
  });
}

/**
 * Travel speed that covers a floor in the hours you have.
 * @customfunction SPEEDFOR
 * @param area Floor area, ft² | m²; 0 or more.
 * @param width Working width of the machine, in | mm; above 0.
 * @param hours Machine hours there are, h; above 0.
 * @param [passes] Passes over the whole floor; 0 or more, 1 when left out.
 * @param [overlap] Share of each lane that overlaps the one before, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @param [efficiency] Share of the time spent grinding, a fraction above 0 and at most 1 (80 % is 0.8); 1 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Travel speed, ft/min | m/min.
 * @example =GRIT.SPEEDFOR(887040,480,1,1,0,0.7) → 528 | published: Iowa State University Extension PM 696 (2001), 20.3636 ac/h at 40 ft and 70 % is 6 mph; 6 × 88 ft/min
 * @example =GRIT.SPEEDFOR(230.4,600,1,1,0.2,0.8,"metric") → 10 | hand: 230.4 / (0.6 × 60 × 0.8 × 0.8)
 * @fails =GRIT.SPEEDFOR(2000,28,-1) → #VALUE! hours must be above 0; got -1
 * @plain {area}*{passes}/({hours}*{width}/{units:12|1000}*60*(1-{overlap})*{efficiency})
 * @source ASABE EP496 effective field capacity, solved for speed.
 */
export function speedFor(
  area: any[][],
  width: any[][],
  hours: any[][],
  passes?: any[][],
  overlap?: any[][],
  efficiency?: any[][],
  units?: string,
): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("area", area, FROM_0),
        number("width", width, ABOVE_0),
        number("hours", hours, ABOVE_0),
        number("passes", passes, FROM_0, 1),
        number("overlap", overlap, BELOW_1, 0),
        number("efficiency", efficiency, SHARE, 1),
      ],
      (a, w, h, n, o, e) => (a * n) / (h * areaPerHour(w, 1, o, e, perLength)),
    );
  });
}

/** Lanes beside one another that cover a room; both widths in the same unit. */
const lanesAcross = (roomWidth: number, width: number, overlap: number) =>
  roomWidth <= width ? 1 : 1 + roundUp((roomWidth - width) / (width * (1 - overlap)));

/**
 * Lanes beside one another that it takes to cover a room's width.
 * @customfunction LANES
 * @param roomWidth Width of the room across the lanes, ft | m; above 0.
 * @param width Working width of the machine, in | mm; above 0.
 * @param [overlap] Share of each lane that overlaps the one before, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Whole number of lanes.
 * @example =GRIT.LANES(20,24) → 10 | hand: 20 ft / 2 ft = 10 lanes side by side
 * @example =GRIT.LANES(5,1000,0.2,"metric") → 6 | hand: after the first metre, 4 m / 0.8 m = 5 more lanes
 * @fails =GRIT.LANES(20,24,1) → #VALUE! overlap must be from 0 to below 1 (20 % is 0.2); got 1
 * @plain IF({roomWidth}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomWidth}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))
 * @source Geometry of parallel strips.
 */
export function lanes(roomWidth: any[][], width: any[][], overlap?: any[][], units?: string): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("roomWidth", roomWidth, ABOVE_0),
        number("width", width, ABOVE_0),
        number("overlap", overlap, BELOW_1, 0),
      ],
      (room, w, o) => lanesAcross(room * perLength, w, o),
    );
  });
}

/** Hours of one pass in lanes of this length, with a turn of so many seconds between them. */
const inLanes = (lanes: number, length: number, speed: number, turnSeconds: number) =>
  (lanes * length) / speed / 60 + ((lanes - 1) * turnSeconds) / 3600;

/**
 * Machine hours for a rectangular room walked in lanes, with the time the turns take.
 * @customfunction ROOMTIME
 * @param roomLength Length of the room, along the lanes, ft | m; above 0.
 * @param roomWidth Width of the room, across the lanes, ft | m; above 0.
 * @param width Working width of the machine, in | mm; above 0.
 * @param speed Travel speed, ft/min | m/min; above 0.
 * @param [passes] Passes over the whole room; a whole number, 0 or more, 1 when left out.
 * @param [overlap] Share of each lane that overlaps the one before, a fraction from 0 to below 1 (20 % is 0.2); 0 when left out.
 * @param [turnSeconds] Time of one turn between lanes, s; 0 or more, 0 when left out.
 * @param [crosshatch] TRUE or FALSE: every second pass runs across the room; FALSE when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Machine time, h.
 * @example =GRIT.ROOMTIME(60,20,24,30,1,0,12) → 0.36333333333333334 | hand: 10 lanes × 60 ft / 30 ft/min = 20 min, 9 turns × 12 s = 1.8 min, 21.8 min / 60
 * @example =GRIT.ROOMTIME(60,20,24,30,2,0,12,TRUE) → 0.79333333333333333 | hand: 21.8 min along; across 30 lanes × 20 ft / 30 ft/min = 20 min and 29 turns × 12 s = 5.8 min; 47.6 min / 60
 * @fails =GRIT.ROOMTIME(60,20,24,30,1.5) → #VALUE! passes must be a whole number, 0 or more; got 1.5
 * @plain ({passes}-IF({crosshatch},INT({passes}/2),0))*(IF({roomWidth}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomWidth}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))*({roomLength}/{speed}/60+{turnSeconds}/3600)-{turnSeconds}/3600)+IF({crosshatch},INT({passes}/2),0)*(IF({roomLength}*{units:12|1000}<={width},1,1+ROUNDUP(ROUND(({roomLength}*{units:12|1000}-{width})/({width}*(1-{overlap}))*(1-1E-9),9),0))*({roomWidth}/{speed}/60+{turnSeconds}/3600)-{turnSeconds}/3600)
 * @source Geometry of parallel strips; NAVEDTRA 14081, time is the sum of distance over speed.
 */
export function roomTime(
  roomLength: any[][],
  roomWidth: any[][],
  width: any[][],
  speed: any[][],
  passes?: any[][],
  overlap?: any[][],
  turnSeconds?: any[][],
  crosshatch?: any[][],
  units?: string,
): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("roomLength", roomLength, ABOVE_0),
        number("roomWidth", roomWidth, ABOVE_0),
        number("width", width, ABOVE_0),
        number("speed", speed, ABOVE_0),
        number("passes", passes, WHOLE_FROM_0, 1),
        number("overlap", overlap, BELOW_1, 0),
        number("turnSeconds", turnSeconds, FROM_0, 0),
        yesNo("crosshatch", crosshatch),
      ],
      (length, roomW, w, v, n, o, turn, cross) => {
        const along = inLanes(lanesAcross(roomW * perLength, w, o), length, v, turn);
        const crossing = cross ? Math.floor(n / 2) : 0;
        if (crossing === 0) return n * along;
        return (n - crossing) * along + crossing * inLanes(lanesAcross(length * perLength, w, o), roomW, v, turn);
      },
    );
  });
}

/**
 * Share of a rectangular floor that the large machine can reach.
 * @customfunction OPENSHARE
 * @param roomLength Length of the room, ft | m; above 0.
 * @param roomWidth Width of the room, ft | m; above 0.
 * @param edgeStrip Strip along the walls that is left to the edge tool, in | mm; 0 or more.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns A fraction from 0 to 1.
 * @example =GRIT.OPENSHARE(60,20,6) → 0.9341666666666667 | hand: 59 × 19 / (60 × 20) = 1121 / 1200
 * @example =GRIT.OPENSHARE(10,1,600,"metric") → 0 | hand: two strips of 0.6 m leave nothing of a room 1 m wide
 * @fails =GRIT.OPENSHARE(60,0,6) → #VALUE! roomWidth must be above 0; got 0
 * @plain ({roomLength}>2*{edgeStrip}/{units:12|1000})*({roomLength}-2*{edgeStrip}/{units:12|1000})/{roomLength}*({roomWidth}>2*{edgeStrip}/{units:12|1000})*({roomWidth}-2*{edgeStrip}/{units:12|1000})/{roomWidth}
 * @source Geometry of a rectangle within a rectangle.
 */
export function openShare(roomLength: any[][], roomWidth: any[][], edgeStrip: any[][], units?: string): any[][] {
  return answer(() => {
    const perLength = TOOL_SIZES_PER_LENGTH[systemOf(units)];
    return each(
      [
        number("roomLength", roomLength, ABOVE_0),
        number("roomWidth", roomWidth, ABOVE_0),
        number("edgeStrip", edgeStrip, FROM_0),
      ],
      (length, w, strip) => {
        const both = (2 * strip) / perLength;
        return (Math.max(0, length - both) / length) * (Math.max(0, w - both) / w);
      },
    );
  });
}

/**
 * Hours of edge work along walls and columns.
 * @customfunction EDGETIME
 * @param edgeLength Length of edge to work, ft | m; 0 or more.
 * @param edgeRate Edge worked in an hour by one pass, ft/h | m/h; above 0.
 * @param [passes] Passes along the edge; 0 or more, 1 when left out.
 * @param [units] System of units, "us" or "metric"; us when left out.
 * @returns Edge time, h.
 * @example =GRIT.EDGETIME(160,40,3) → 12 | hand: 160 ft × 3 / 40 ft/h
 * @example =GRIT.EDGETIME(50,12.5,1,"metric") → 4 | hand: 50 m / 12.5 m/h
 * @fails =GRIT.EDGETIME(160,"quick") → #VALUE! edgeRate must be above 0; got the text "quick"
 * @plain {edgeLength}*{passes}/{edgeRate}
 * @source Time is length over rate.
 */
export function edgeTime(edgeLength: any[][], edgeRate: any[][], passes?: any[][], units?: string): any[][] {
  return answer(() => {
    systemOf(units);
    return each(
      [
        number("edgeLength", edgeLength, FROM_0),
        number("edgeRate", edgeRate, ABOVE_0),
        number("passes", passes, FROM_0, 1),
      ],
      (length, rate, n) => (length * n) / rate,
    );
  });
}
