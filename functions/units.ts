/**
 * Units of the two systems. Factors are exact by definition (NIST SP 811, appendix B).
 */
import { oneWord, words } from "./cell";

export type System = "us" | "metric";

const FOOT = 0.3048; // m
const INCH = 0.0254; // m
const SQUARE_FOOT = 0.09290304; // m²
const SQUARE_INCH = 0.00064516; // m²
const GALLON = 0.003785411784; // m³
const POUND_FORCE = 4.4482216152605; // N
const KILOGRAM_FORCE = 9.80665; // N
const POUND = 0.45359237; // kg
const MINUTE = 60; // s

/** For each quantity and system: its symbol, and how many SI units one of it is. */
export const QUANTITIES = {
  floorArea: { us: ["ft²", SQUARE_FOOT], metric: ["m²", 1] },
  length: { us: ["ft", FOOT], metric: ["m", 1] },
  toolSize: { us: ["in", INCH], metric: ["mm", 1e-3] },
  travelSpeed: { us: ["ft/min", FOOT / MINUTE], metric: ["m/min", 1 / MINUTE] },
  areaRate: { us: ["ft²/h", SQUARE_FOOT], metric: ["m²/h", 1] },
  edgeRate: { us: ["ft/h", FOOT], metric: ["m/h", 1] },
  volume: { us: ["gal", GALLON], metric: ["L", 1e-3] },
  coverage: { us: ["ft²/gal", SQUARE_FOOT / GALLON], metric: ["m²/L", 1e3] },
  slidingSpeed: { us: ["ft/min", FOOT / MINUTE], metric: ["m/s", 1] },
  load: { us: ["lbf", POUND_FORCE], metric: ["kgf", KILOGRAM_FORCE] },
  segmentArea: { us: ["in²", SQUARE_INCH], metric: ["mm²", 1e-6] },
  pressure: { us: ["psi", POUND_FORCE / SQUARE_INCH], metric: ["kPa", 1e3] },
  filmThickness: { us: ["mil", INCH / 1e3], metric: ["µm", 1e-6] },
  wearRate: { us: ["mm per 1000 ft²", 1e-3 / (1000 * SQUARE_FOOT)], metric: ["mm per 100 m²", 1e-3 / 100] },
  waterRate: { us: ["gal/min", GALLON / MINUTE], metric: ["L/min", 1e-3 / MINUTE] },
  mass: { us: ["lb", POUND], metric: ["kg", 1] },
  density: { us: ["lb/ft³", POUND / FOOT ** 3], metric: ["kg/m³", 1] },
  airflow: { us: ["cfm", FOOT ** 3 / MINUTE], metric: ["m³/h", 1 / (60 * MINUTE)] },
} as const satisfies Record<string, Record<System, readonly [symbol: string, si: number]>>;

export type Quantity = keyof typeof QUANTITIES;

/** Units that both systems have. */
const COMMON_UNITS = {
  micrometers: "µm",
  millimeters: "mm",
  hours: "h",
  seconds: "s",
  turns: "rpm",
  acceleration: "m/s²",
  soundLevel: "dBA",
  soundRise: "dB",
  concentration: "µg/m³",
  percent: "%",
  cutting: "mm³ per kJ",
  specificEnergy: "J/mm³",
  power: "kW",
  volts: "V",
  amperes: "A",
  money: "money",
  moneyPerHour: "money per hour",
  moneyPerUnit: "money per unit of the quantity",
} as const;

export type Unit = Quantity | keyof typeof COMMON_UNITS;

const isQuantity = (unit: Unit): unit is Quantity => unit in QUANTITIES;

/** The symbols of a unit by system. */
export const symbolsOf = (unit: Unit): Record<System, string> =>
  isQuantity(unit)
    ? { us: QUANTITIES[unit].us[0], metric: QUANTITIES[unit].metric[0] }
    : { us: COMMON_UNITS[unit], metric: COMMON_UNITS[unit] };

export const SYSTEMS = words('"us" or "metric"', { us: "us", metric: "metric" });

/** The system a `units` argument names; blank is us. */
export const systemOf = (units: unknown): System => oneWord("units", units, SYSTEMS, "us");

/** SI units in one unit of this quantity. */
export const si = (quantity: Quantity, system: System): number => QUANTITIES[quantity][system][1];

/** What is worked out once for each system, and not again in every row. */
export const forEachSystem = <T>(of: (system: System) => T): Readonly<Record<System, T>> => ({
  us: of("us"),
  metric: of("metric"),
});

export const symbol = (quantity: Quantity, system: System): string => QUANTITIES[quantity][system][0];

/** The same physical amount in the other system's unit. */
export const convert = (amount: number, quantity: Quantity, from: System, to: System): number =>
  from === to ? amount : (amount * si(quantity, from)) / si(quantity, to);

/** Tool-size units in one length unit: inches in a foot, millimeters in a meter. */
export const TOOL_SIZES_PER_LENGTH: Record<System, number> = { us: 12, metric: 1000 };

/** 1 mil is a thousandth of an inch. */
export const MICROMETERS_IN_A_MIL = 25.4;
