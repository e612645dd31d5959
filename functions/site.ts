/** Site: what grinding leaves to carry off, and the power it takes. */
import { badValue } from "./answer";
import { AREA, OVERLAP, SPEED, WIDTH } from "./arguments";
import { amount, count, define, orNone, share, UNITS } from "./declare";
import { ABOVE_0, domain, SHARE } from "./domain";
import { forEachSystem, type System, si } from "./units";

const DEPTH = amount("depth", "Depth ground off", "micrometers", ABOVE_0);

/** Hardened concrete, lb/ft³ | kg/m³; common practice, no source. */
const CONCRETE: Record<System, number> = { us: 145, metric: 2320 };

/** Mass in lb | kg of one floor area, 1 µm deep, at a density of 1. */
const MASS_OF_ONE = forEachSystem(
  (system) => (1e-6 * si("floorArea", system) * si("density", system)) / si("mass", system),
);

/** Volume in gal | L of one floor area, 1 µm deep. */
const VOLUME_OF_ONE = forEachSystem((system) => (1e-6 * si("floorArea", system)) / si("volume", system));

interface Ground {
  readonly area: number;
  /** µm. */
  readonly depth: number;
}

/** Mass of concrete that is ground off. */
export const dustMass = ({ area, depth }: Ground, units: System, density = CONCRETE[units]) =>
  area * depth * density * MASS_OF_ONE[units];

/** Volume of water and of what is ground off. */
export const slurryVolume = (
  { area, depth, waterRate, hours }: Ground & { readonly waterRate: number; readonly hours: number },
  units: System,
) => waterRate * 60 * hours + area * depth * VOLUME_OF_ONE[units];

/**
 * Mass of the floor that is ground off: the dust or the solids in the slurry.
 * @example =GRIT.DUSTMASS(4200,1587.5) → 3171.875 | hand: 1/16 in is 1587.5 µm and 1/192 ft; 4200 / 192 = 21.875 ft³ × 145
 * @example =GRIT.DUSTMASS(100,1000,,"metric") → 232 | hand: 100 m² × 0.001 m × 2320
 * @fails =GRIT.DUSTMASS(4200,-500) → #VALUE! depth must be above 0; got -500
 * @plain {area}*{depth}/{units:304800|1000000}*{density:{units:145|2320}}
 * @source Mass is volume times density; 145 lb/ft³ and 2320 kg/m³ are common practice for concrete.
 * @words silica vacuum haul weight waste disposal bag hopper
 */
export const DUSTMASS = define(
  { label: "Mass", unit: "mass" },
  [
    AREA,
    DEPTH,
    orNone(
      amount("density", "Density of the floor", "density", ABOVE_0),
      `${CONCRETE.us} lb/ft³ or ${CONCRETE.metric} kg/m³`,
    ),
    UNITS,
  ],
  (units) => (area, depth, density) => dustMass({ area, depth }, units, density),
);

/**
 * Volume of slurry to collect when grinding wet.
 * @remarks Slurry of concrete is caustic: keep it out of drains and soil. A waste of pH 12.5 or more is corrosive under 40 CFR 261.22.
 * @example =GRIT.SLURRY(4200,1587.5,0.5,10) → 463.6363636363636 | hand: 0.5 × 600 min = 300 gal of water; 1/16 in over 4200 ft² is 21.875 ft³ × 1728 / 231 = 163.636 gal
 * @example =GRIT.SLURRY(100,1000,2,5,"metric") → 700 | hand: 2 L × 300 min of water and 100 m² × 1 mm = 100 L
 * @fails =GRIT.SLURRY(4200,1587.5,0,10) → #VALUE! waterRate is blank or 0; it must be above 0
 * @plain {waterRate}*60*{hours}+{area}*{depth}*{units:1728/231/304800|0.001}
 * @source Volume of water and of solids, added up; 1 US gal = 231 in³.
 * @words wet water vacuum tank haul waste disposal
 */
export const SLURRY = define(
  { label: "Volume", unit: "volume" },
  [
    AREA,
    DEPTH,
    amount("waterRate", "Water put on the floor", "waterRate", ABOVE_0),
    amount("hours", "Hours of grinding", "hours", ABOVE_0),
    UNITS,
  ],
  (units) => (area, depth, waterRate, hours) => slurryVolume({ area, depth, waterRate, hours }, units),
);

/** Power in kW of a pass of all ones at 1 J/mm³: µm × width × speed in m³/s, and 1 J/mm³ is 1e9 J/m³. */
const POWER_OF_ONE = forEachSystem((system) => 1e-6 * si("toolSize", system) * si("travelSpeed", system) * 1e9 * 1e-3);

/** J/mm³; 0.62 to 1.3 by arithmetic from FRTR technology profiles 97 and 98 (US DOE, Hanford, 1997). */
export const CONCRETE_ENERGY = 1;

/** Power that a pass takes, kW; energy in J/mm³. */
export const grindPower = (
  { cut, width, speed, overlap, energy }: Record<"cut" | "width" | "speed" | "overlap" | "energy", number>,
  system: System,
) => cut * width * (1 - overlap) * speed * energy * POWER_OF_ONE[system];

/**
 * Power that one pass takes while it cuts.
 * @remarks Compare it with the motor's rating and with SUPPLYPOWER: where it is more, the machine can't cut that deep at that speed. The energy differs by slab and tool; 0.6 to 1.3 J/mm³ were seen.
 * @example =GRIT.GRINDPOWER(300,28,15) → 16.258032 | hand: 0.3 mm × 711.2 mm × 76.2 mm/s = 16258.032 mm³/s, at 1 J/mm³
 * @example =GRIT.GRINDPOWER(300,28,15,0.2) → 13.0064256 | hand: 0.8 × 16.258032
 * @example =GRIT.GRINDPOWER(300,700,4.5,0,1,"metric") → 15.75 | hand: 0.3 mm × 700 mm × 75 mm/s
 * @fails =GRIT.GRINDPOWER(300,28,15,20) → #VALUE! overlap must be from 0 to below 1 (20% is 0.2); got 20
 * @plain {cut}*{width}*{units:25.4|1}*(1-{overlap})*{speed}*{units:304.8|1000}/60*{energy}/10^6
 * @source Power is energy per volume times volume per time. Energy of 0.62 to 1.3 J/mm³ by arithmetic from FRTR technology profiles 97 and 98 (US DOE, Hanford, 1997).
 * @words motor kilowatt kW horsepower stall generator
 */
export const GRINDPOWER = define(
  { label: "Power", unit: "power" },
  [
    amount("cut", "Depth one pass takes off", "micrometers", ABOVE_0),
    WIDTH,
    SPEED,
    OVERLAP,
    amount("energy", "Energy that grinding off a volume takes", "specificEnergy", ABOVE_0, {
      omitted: CONCRETE_ENERGY,
      meaning: "concrete",
    }),
    UNITS,
  ],
  (units) => (cut, width, speed, overlap, energy) => grindPower({ cut, width, speed, overlap, energy }, units),
);

const PHASES = domain(
  "1 or 3",
  [
    [">=", 1],
    ["<=", 3],
  ],
  true,
);

/** Power that a supply gives, kW. */
export const supplyPower = (volts: number, amps: number, phases = 1, powerFactor = 1) =>
  (volts * amps * (phases === 3 ? Math.sqrt(3) : 1) * powerFactor) / 1000;

/**
 * Power that an electrical supply gives.
 * @example =GRIT.SUPPLYPOWER(480,16,3) → 13.302150202128978 | hand: 480 × 16 = 7680, × √3 = 13302.15 W
 * @example =GRIT.SUPPLYPOWER(110,11) → 1.21 | hand: 110 × 11 = 1210 W
 * @example =GRIT.SUPPLYPOWER(230,30,1,0.8) → 5.52 | hand: 230 × 30 × 0.8 = 5520 W
 * @fails =GRIT.SUPPLYPOWER(480,16,2) → #VALUE! phases must be 1 or 3; got 2
 * @plain IF({phases}=2,#VALUE!,{volts}*{amps}*IF({phases}=3,SQRT(3),1)*{powerFactor}/1000)
 * @source Definition of electrical power: V × A × power factor, × √3 between the lines of three phases.
 * @words generator outlet breaker kilowatt kW electric three-phase
 */
export const SUPPLYPOWER = define(
  { label: "Power", unit: "power" },
  [
    amount("volts", "Voltage, between lines for three phases", "volts", ABOVE_0),
    amount("amps", "Current of one line", "amperes", ABOVE_0),
    count("phases", "Number of phases", PHASES, { omitted: 1 }),
    share("powerFactor", "Share of the current that does work", SHARE, { omitted: 1 }),
  ],
  () => (volts, amps, phases, powerFactor) => {
    if (phases === 2) throw badValue("phases must be 1 or 3; got 2");
    return supplyPower(volts, amps, phases, powerFactor);
  },
);
