/** Cutting: how fast the tools slide, how hard they press, and how deep one pass cuts. */
import { OVERLAP, SPEED, WIDTH } from "./arguments";
import { amount, count, define, UNITS } from "./declare";
import { ABOVE_0, ANY_NUMBER, FROM_0, WHOLE_FROM_1 } from "./domain";
import { roundUp } from "./round-up";
import { forEachSystem, type System, si } from "./units";

/**
 * Rim speed of a turning disc.
 * @example =GRIT.TIPSPEED(7,8500) → 15577.06357404939 | hand: π × 7 / 12 ft × 8500, a 7 in cup wheel
 * @example =GRIT.TIPSPEED(12,100) → 314.1592653589793 | hand: the rim of a disc 1 ft across runs π ft in a turn, 100 turns a minute
 * @example =GRIT.TIPSPEED(230,6650,"metric") → 80.08443272775981 | hand: π × 0.230 m × 6650 / 60 s
 * @fails =GRIT.TIPSPEED(0,6000) → #VALUE! diameter is blank or 0; it must be above 0
 * @plain PI()*{diameter}/{units:12|1000}*{rpm}/{units:1|60}
 * @source Geometry of a circle: π × diameter × turns.
 * @words blade disc cup wheel saw peripheral
 */
export const TIPSPEED = define(
  { label: "Rim speed", unit: "slidingSpeed" },
  [
    amount("diameter", "Diameter of the disc or wheel", "toolSize", ABOVE_0),
    amount("rpm", "Turning speed", "turns", ABOVE_0),
    UNITS,
  ],
  (units) => (diameter, rpm) => rimSpeed(diameter, rpm, units),
);

/** Sliding speed at the rim of a wheel of one tool size that turns once a minute: π × diameter × turns. */
const RIM_SPEED_OF_ONE = forEachSystem(
  (system) => (Math.PI * si("toolSize", system)) / 60 / si("slidingSpeed", system),
);

const rimSpeed = (diameter: number, rpm: number, system: System) => diameter * rpm * RIM_SPEED_OF_ONE[system];

/**
 * Complete elliptic integral of the second kind E(m), for m from 0 to 1, by the arithmetic–geometric mean
 * (Abramowitz and Stegun, Handbook of Mathematical Functions, 17.6).
 */
export function ellipticE(m: number): number {
  if (m === 1) return 1;
  let mean = 1;
  let root = Math.sqrt(1 - m);
  let weight = 1 / 2;
  let sum = m / 2;
  // The gap between the two means falls quadratically: below 1e-9 its square no longer counts.
  while (mean - root > 1e-9) {
    const halfGap = (mean - root) / 2;
    const nextMean = (mean + root) / 2;
    root = Math.sqrt(mean * root);
    mean = nextMean;
    weight *= 2;
    sum += weight * halfGap ** 2;
  }
  return (Math.PI / (mean + root)) * (1 - sum);
}

/** Mean length of the sum of two velocities a and b whose directions turn against one another. */
export function meanOfTurningSum(a: number, b: number): number {
  const fastest = a + b;
  if (fastest === 0) return 0;
  const m = 4 * (a / fastest) * (b / fastest);
  // Rounding can lift 4ab/(a + b)² a hair above 1 where a and b are equal.
  return (2 / Math.PI) * fastest * ellipticE(Math.min(1, m));
}

/** Radii in | mm and turning speeds in revolutions per minute, as SLIDESPEED takes them. */
interface Heads {
  toHead: number;
  toTool: number;
  head: number;
  carrier: number;
}

/** Mean sliding speed, ft/min | m/s. */
export function meanSlideSpeed({ toHead, toTool, head, carrier }: Heads, system: System): number {
  const ofHead = rimSpeed(2 * toHead, Math.abs(carrier), system);
  const ofTool = rimSpeed(2 * toTool, Math.abs(head + carrier), system);
  return meanOfTurningSum(ofHead, ofTool);
}

/**
 * Mean speed at which a tool slides over the floor, on a rotary or planetary machine.
 * @remarks The head's speed counts relative to its carrier. If both turn the same way, give both the same sign; a counter-rotating head has the opposite sign. If the head doesn't turn relative to the carrier, the result is the mean over tools spread evenly around the head.
 * @example =GRIT.SLIDESPEED(12,3,90,30) → 240 | published: Abramowitz and Stegun, Handbook of Mathematical Functions (1964), E(1) = 1; a = 2π × 1 ft × 30 and b = 2π × 0.25 ft × 120 are both 60π, and (2/π) × 120π × 1 = 240
 * @example =GRIT.SLIDESPEED(12,3,60,60) → 400.9467966166577 | library: mpmath 1.3.0 ellipe, (2/π) × 180π × E(8/9) with a = 120π and b = 60π ft/min
 * @example =GRIT.SLIDESPEED(0,6,600) → 1884.9555921538759 | hand: a rotary machine, 2π × 0.5 ft × 600 a minute
 * @example =GRIT.SLIDESPEED(200,110,-900,100,"metric") → 9.334727403291405 | library: mpmath 1.3.0 ellipe, a = 0.2 m × 100 and b = 0.11 m × 800, each times 2π / 60 s
 * @fails =GRIT.SLIDESPEED(12,-3,600) → #VALUE! toolRadius must be 0 or more; got -3
 * @plain 4/3/{units:12|1000}/{units:1|60}*(({headRadius}*ABS({carrierRpm})+{toolRadius}*ABS({headRpm}+{carrierRpm}))/2+SUMPRODUCT(SQRT(({headRadius}*ABS({carrierRpm})+{toolRadius}*ABS({headRpm}+{carrierRpm}))^2+(({headRadius}*ABS({carrierRpm})-{toolRadius}*ABS({headRpm}+{carrierRpm}))*SINH({1;2;3;4;5;6;7;8;9;10;11;12;13;14;15;16;17;18;19;20;21;22;23;24;25;26;27;28;29;30;31;32;33;34;35;36;37;38;39;40;41;42;43;44;45;46;47;48;49;50;51;52;53;54;55;56;57;58;59;60;61;62;63;64;65;66;67;68;69;70;71;72}/3))^2)/COSH({1;2;3;4;5;6;7;8;9;10;11;12;13;14;15;16;17;18;19;20;21;22;23;24;25;26;27;28;29;30;31;32;33;34;35;36;37;38;39;40;41;42;43;44;45;46;47;48;49;50;51;52;53;54;55;56;57;58;59;60;61;62;63;64;65;66;67;68;69;70;71;72}/3)^2))
 * @source Mean of |v₁ + v₂| on an epicycle: (2/π)(a + b)·E(4ab/(a + b)²). The plain formula is the same integral by the trapezoidal rule in steps of 1/3 after sin φ = tanh t, good to 1e-10.
 * @words planetary rotary head rpm
 */
export const SLIDESPEED = define(
  { label: "Mean sliding speed", unit: "slidingSpeed" },
  [
    amount("headRadius", "From the machine's axis to the head's axis", "toolSize", FROM_0),
    amount("toolRadius", "From the head's axis to the tool", "toolSize", FROM_0),
    amount("headRpm", "Turning speed of the head relative to its carrier, its sign the direction", "turns", ANY_NUMBER),
    amount("carrierRpm", "Turning speed of the carrier, its sign the direction", "turns", ANY_NUMBER, {
      omitted: 0,
      meaning: "a rotary machine",
    }),
    UNITS,
  ],
  (units) => (toHead, toTool, head, carrier) => meanSlideSpeed({ toHead, toTool, head, carrier }, units),
);

/** Pressure in psi | kPa of a load of one on an area of one. */
const PRESSURE_OF_ONE = forEachSystem(
  (system) => si("load", system) / si("segmentArea", system) / si("pressure", system),
);

/** Pressure of so many segments under the load on all of them, psi | kPa. */
export const contactPressure = (load: number, segments: number, segmentArea: number, system: System): number =>
  (load / (segments * segmentArea)) * PRESSURE_OF_ONE[system];

/**
 * Pressure of the segments on the floor.
 * @example =GRIT.PRESSURE(450,18,0.5) → 50 | hand: 450 lbf / (18 × 0.5 in²)
 * @example =GRIT.PRESSURE(90,9,600,"metric") → 163.44416666666666 | hand: 90 × 9.80665 N / 5400 mm² = 0.16344 MPa
 * @fails =GRIT.PRESSURE(450,4.5,0.5) → #VALUE! segments must be a whole number, 1 or more; got 4.5
 * @plain {load}*{units:1|9806.65}/({segments}*{segmentArea})
 * @source Pressure is force over area; NIST SP 811, 1 kgf = 9.80665 N.
 * @words weight psi head segment
 */
export const PRESSURE = define(
  { label: "Contact pressure", unit: "pressure" },
  [
    amount("load", "Load on all the tools together", "load", ABOVE_0),
    count("segments", "Segments touching the floor", WHOLE_FROM_1),
    amount("segmentArea", "Face area of one segment", "segmentArea", ABOVE_0),
    UNITS,
  ],
  (units) => (load, segments, segmentArea) => contactPressure(load, segments, segmentArea, units),
);

/** One pass of the machine, as typed in a system of units. */
interface Pass {
  load: number;
  slideSpeed: number;
  width: number;
  speed: number;
  overlap: number;
}

/**
 * Depth in µm that a pass of all ones cuts with a coefficient of 1: F·v / (w·u), all in SI.
 * A coefficient of 1 mm³/kJ is 1e-12 m³/J, and a meter of depth is 1e6 µm.
 */
const CUT_OF_ONE = forEachSystem(
  (system) =>
    (1e-6 * si("load", system) * si("slidingSpeed", system)) / (si("toolSize", system) * si("travelSpeed", system)),
);

/** Depth in µm that one pass cuts per unit of coefficient: F·v / (w·(1 − overlap)·u). */
export const cutPerCoefficient = ({ load, slideSpeed, width, speed, overlap }: Pass, system: System): number =>
  ((load * slideSpeed) / (width * (1 - overlap) * speed)) * CUT_OF_ONE[system];

/**
 * Depth that one pass of the machine takes off the floor.
 * @remarks Preston's law over one pass: a larger contact area keeps the tools on each point longer but lowers the pressure by as much, so the area cancels out.
 * @example =GRIT.CUTPERPASS(200,200,10,700,6,0,"metric") → 56.038 | hand: 200e-12 × 200 × 9.80665 N × 10 m/s / (0.7 m × 0.1 m/s) = 56.038e-6 m
 * @example =GRIT.CUTPERPASS(200,440,2000,28,10) → 110.07972501207087 | hand: 200e-12 × 440 × 4.4482216152605 N × 10.16 m/s / (0.7112 m × 0.0508 m/s) in m
 * @fails =GRIT.CUTPERPASS(200,440,2000,28,0) → #VALUE! speed is blank or 0; it must be above 0
 * @plain {coefficient}*{load}*{units:4.4482216152605|9.80665}*{slideSpeed}*{units:1|60}/({width}*{units:0.0254|0.001}*(1-{overlap})*{speed})/10^6
 * @source Preston's law, removal rate = k × pressure × speed, integrated over one pass.
 * @words removal stock depth diamond
 */
export const CUTPERPASS = define(
  { label: "Depth of cut", unit: "micrometers" },
  [
    amount("coefficient", "Cutting coefficient of tool and slab", "cutting", ABOVE_0, {
      note: "volume of floor per load × sliding distance, from CUTCOEFFICIENT on a test strip",
    }),
    amount("load", "Load on all the tools together", "load", ABOVE_0),
    amount("slideSpeed", "Mean sliding speed of the tools", "slidingSpeed", ABOVE_0),
    WIDTH,
    SPEED,
    OVERLAP,
    UNITS,
  ],
  (units) => (coefficient, load, slideSpeed, width, speed, overlap) =>
    coefficient * cutPerCoefficient({ load, slideSpeed, width, speed, overlap }, units),
);

/**
 * Cutting coefficient of a tool on a slab, from the depth measured on a test strip.
 * @example =GRIT.CUTCOEFFICIENT(56.038,200,10,700,6,0,"metric") → 200 | hand: 56.038e-6 m × 0.7 m × 0.1 m/s / (200 × 9.80665 N × 10 m/s) = 200e-12
 * @example =GRIT.CUTCOEFFICIENT(110.07972501207087,440,2000,28,10) → 200 | identity: the inverse of CUTPERPASS(200,440,2000,28,10)
 * @fails =GRIT.CUTCOEFFICIENT(50,0,2000,28,10) → #VALUE! load is blank or 0; it must be above 0
 * @plain {cut}*10^6*{width}*{units:0.0254|0.001}*(1-{overlap})*{speed}/({load}*{units:4.4482216152605|9.80665}*{slideSpeed}*{units:1|60})
 * @source Preston's law integrated over one pass, solved for k.
 * @words test strip removal calibration diamond
 */
export const CUTCOEFFICIENT = define(
  {
    label: "Cutting coefficient",
    unit: "cutting",
    note: "volume of floor per load × sliding distance, the same number in both unit systems",
  },
  [
    amount("cut", "Depth one pass took off the test strip", "micrometers", ABOVE_0),
    amount("load", "Load on all the tools together", "load", ABOVE_0),
    amount("slideSpeed", "Mean sliding speed of the tools", "slidingSpeed", ABOVE_0),
    WIDTH,
    SPEED,
    OVERLAP,
    UNITS,
  ],
  (units) => (cut, load, slideSpeed, width, speed, overlap) =>
    cut / cutPerCoefficient({ load, slideSpeed, width, speed, overlap }, units),
);

/** Passes to cut from one scratch depth down to another, never fewer than the minimum. */
export const passesNeeded = (fromScratch: number, toScratch: number, cutPerPass: number, minimum = 1) =>
  Math.max(minimum, roundUp((fromScratch - toScratch) / cutPerPass));

/**
 * Passes needed to remove the previous stage's scratches.
 * @example =GRIT.PASSESTOCLEAR(150,40,30) → 4 | hand: 110 µm / 30 µm = 3.67
 * @example =GRIT.PASSESTOCLEAR(40,150,30) → 1 | hand: nothing to clear, so the fewest passes
 * @example =GRIT.PASSESTOCLEAR(4.2,0,0.7) → 6 | hand: 4.2 / 0.7 = 6, which binary arithmetic puts a hair above
 * @fails =GRIT.PASSESTOCLEAR(150,40,0) → #VALUE! cutPerPass is blank or 0; it must be above 0
 * @plain IF(ROUNDUP(ROUND(({fromScratch}-{toScratch})/{cutPerPass}*(1-1E-9),9),0)>{minimum},ROUNDUP(ROUND(({fromScratch}-{toScratch})/{cutPerPass}*(1-1E-9),9),0),{minimum})
 * @source common practice, no source: a stage has done its work when the scratches before it are gone.
 * @words removal scratches diamond
 */
export const PASSESTOCLEAR = define(
  { label: "Whole number of passes" },
  [
    amount("fromScratch", "Depth of the scratches already in the floor", "micrometers", FROM_0),
    amount("toScratch", "Depth of the scratches this stage leaves", "micrometers", FROM_0),
    amount("cutPerPass", "Depth one pass takes off", "micrometers", ABOVE_0),
    count("minimum", "Fewest passes in any case", WHOLE_FROM_1, { omitted: 1, refusesBlank: true }),
  ],
  () => passesNeeded,
);
