/**
 * The shelf: the tools, liquids and machines a contractor owns, as rows of spreadsheet tables that the user keeps.
 */
import { shown } from "../cell";
import { ABOVE_0, ANY_NUMBER, BELOW_1, type Domain, FROM_0, isWithin, SHARE, WHOLE_FROM_1 } from "../domain";
import { type Grit, isGritLabel } from "../scale";
import { convert, type Quantity, type System, si } from "../units";
import { from0To, grouped, upTo } from "./field";
import { FIELDS } from "./fields";
import type { Strip } from "./strips";
import { isByLength, isLaborWork, LIQUID_WORKS, type LiquidWork } from "./works";

export const BONDS = ["metal", "transitional", "resin"] as const;
const MATRICES = ["soft", "medium", "hard"] as const;

export interface Tool {
  name: string;
  bond: (typeof BONDS)[number];
  /** Its number, or the maker's label, such as 00. */
  grit: Grit;
  /** Particle size, µm; null takes it from the grit scale. */
  size: number | null;
  /** Matrix of a metal tool; null fits any slab. */
  matrix: (typeof MATRICES)[number] | null;
  /** Floor that one set works in one pass, ft² | m². */
  life: number;
  /** Price of a set. */
  price: number;
  passes: number;
  /** Travel speed with this tool as a share of the machine's. */
  speedFactor: number;
  /** Sets on hand. */
  onHand: number;
  /** Depth that one pass takes off, µm; null where nobody has measured it. */
  cut: number | null;
  /** Wear of the segments, mm per 1000 ft² | mm per 100 m²; null where nobody has measured it. */
  wear: number | null;
  /** Edge that one tool of the hand grinder works at this step, ft | m; null leaves its wear unpriced, as a blank price does. */
  edgeLife: number | null;
  edgePrice: number | null;
  /** Travel speed and life of a set in wet work, as shares of those in dry work; null for the same. */
  wetSpeed: number | null;
  wetLife: number | null;
  /** Floor that it strips in an hour, ft²/h | m²/h: a tool for coatings and adhesive, which grinds nothing; else null. */
  stripRate: number | null;
  /** Depth of the scratch that it leaves, µm; null works it out from size and bond. */
  scratch: number | null;
  /** Segments of one tool, and the face of one of them, in² | mm²; null where they aren't counted or measured. */
  segments: number | null;
  segmentArea: number | null;
}

export interface Liquid {
  name: string;
  work: LiquidWork;
  /** ft²/gal | m²/L; null takes it from the dry film and the solids. */
  coverage: number | null;
  coats: number;
  /** Share lost, a fraction. */
  waste: number;
  /** Container size, gal | L; null for work that needs no liquid. */
  container: number | null;
  /** Price of a container. */
  price: number;
  /** Floor that the crew does in an hour, ft²/h | m²/h; null for what goes by length. */
  rate: number | null;
  /** Cure or recoat time after each coat, h; null for none. */
  wait: number | null;
  /** Dry film of one coat, mil | µm; null shares the plan's coating thickness among the coats. */
  film: number | null;
  /** Share that stays when dry, by volume; null for all of it. */
  solids: number | null;
  /** Length of joints or cracks that the crew fills in an hour, ft/h | m/h. */
  fillRate: number | null;
  /** What else a coat costs by area: pads, cover, rental; money per ft² | m². */
  areaCost: number | null;
}

/** A machine beside the one in the inputs. */
export interface Machine {
  name: string;
  /** Working width, in | mm. */
  width: number;
  /** Travel speed, ft/min | m/min. */
  speed: number;
  /** Load on all the tools together, lbf | kgf. */
  load: number;
  /** Tools that it carries at once. */
  toolsASet: number;
  /** Owning and running, money per hour. */
  cost: number;
  /** From the machine's axis to a head's axis, in | mm; blank or 0 on a rotary machine. */
  headRadius?: number;
  /** From a head's axis to its tools, in | mm. */
  toolRadius?: number;
  /** Of a head relative to its carrier, and of the carrier; the other way round below 0. */
  headRpm?: number;
  carrierRpm?: number;
  /** Mean sliding speed of the tools, ft/min | m/s; the sample table works it out from those above. */
  slideSpeed?: number;
  /** lb | kg. */
  weight?: number;
  /** What the motor gives, kW. */
  motor?: number;
  /** Of the supply. */
  volts?: number;
  amps?: number;
  phases?: number;
}

export interface Shelf {
  readonly tools: readonly Tool[];
  readonly liquids: readonly Liquid[];
  readonly machines: readonly Machine[];
  /** Where the workbook remembers any. */
  readonly strips?: readonly Strip[];
}

/** What is wrong with a cell of a row, or undefined. Blank cells are null. */
type Check<Row> = (cell: unknown, row: Readonly<Record<keyof Row, unknown>>) => string | undefined;

export const amount =
  (domain: Domain): Check<any> =>
  (cell) =>
    typeof cell === "number" && isWithin(cell, domain)
      ? undefined
      : `must be ${domain.words}; got ${typeof cell === "number" ? grouped(cell) : shown(cell)}`;
const oneOf =
  (values: readonly string[]): Check<any> =>
  (cell) =>
    values.includes(cell as string) ? undefined : `must be one of ${values.join(", ")}; got ${shown(cell)}`;
export const called: Check<any> = (cell) => {
  if (typeof cell !== "string") return `must be a name; got ${shown(cell)}`;
  return cell === "" ? "is missing" : undefined;
};
export const orBlank =
  (check: Check<any>): Check<any> =>
  (cell, row) =>
    cell === null ? undefined : check(cell, row);

type LiquidRow = Readonly<Record<keyof Liquid, unknown>>;
/** Blank only in rows that can do without. */
const orBlankIf =
  (mayBeBlank: (work: string, row: LiquidRow) => boolean, check: Check<Liquid>): Check<Liquid> =>
  (cell, row) =>
    cell === null && mayBeBlank(String(row.work), row) ? undefined : check(cell, row);

/** A month: no coat takes longer to cure (common practice, no source). */
const HOURS_OF_WAIT = 720;

export interface Column<Row> {
  readonly key: keyof Row & string;
  /** The header without its unit. No "/" in either: in a structured reference it would need a second pair of brackets. */
  readonly title: string;
  readonly unit?: Readonly<Record<System, string>>;
  /** What the unit measures: a table in the other system is converted by it. */
  readonly quantity?: Quantity;
  /** Its number is for one of that unit, and not an amount of it. */
  readonly isRate?: true;
  readonly format?: "money" | "percent" | "number" | "text";
  /** A table without this column is still a shelf. */
  readonly optional?: true;
  readonly check: Check<Row>;
}

/** A label has no size but its own. */
const gritOf: Check<Tool> = (cell, row) => {
  if (typeof cell !== "string" || !isGritLabel(cell)) return amount(ABOVE_0)(cell, row);
  return row.size === null ? `is the label ${cell}, which needs its size in Size µm` : undefined;
};

export const TOOL_COLUMNS: readonly Column<Tool>[] = [
  { key: "name", title: "Tool", check: called },
  { key: "bond", title: "Bond", check: oneOf(BONDS) },
  { key: "grit", title: "Grit", format: "text", check: gritOf },
  { key: "size", title: "Size µm", check: orBlank(amount(ABOVE_0)) },
  { key: "matrix", title: "Matrix", check: orBlank(oneOf(MATRICES)) },
  {
    key: "life",
    title: "Life of a set",
    unit: { us: "ft²", metric: "m²" },
    quantity: "floorArea",
    format: "number",
    check: amount(ABOVE_0),
  },
  { key: "price", title: "Price of a set", format: "money", check: amount(FROM_0) },
  { key: "passes", title: "Passes", check: amount(ABOVE_0) },
  { key: "speedFactor", title: "Speed factor", format: "percent", check: amount(ABOVE_0) },
  { key: "onHand", title: "On hand", check: amount(FROM_0) },
  { key: "cut", title: "Cut per pass µm", optional: true, check: orBlank(amount(upTo(10_000))) },
  {
    key: "wear",
    title: "Wear",
    unit: { us: "mm per 1000 ft²", metric: "mm per 100 m²" },
    quantity: "wearRate",
    optional: true,
    check: orBlank(amount(ABOVE_0)),
  },
  {
    key: "edgeLife",
    title: "Edge tool life",
    unit: { us: "ft", metric: "m" },
    quantity: "length",
    format: "number",
    optional: true,
    check: orBlank(amount(ABOVE_0)),
  },
  {
    key: "edgePrice",
    title: "Price of an edge tool",
    format: "money",
    optional: true,
    check: orBlank(amount(FROM_0)),
  },
  { key: "wetSpeed", title: "Wet speed factor", format: "percent", optional: true, check: orBlank(amount(ABOVE_0)) },
  { key: "wetLife", title: "Wet life factor", format: "percent", optional: true, check: orBlank(amount(ABOVE_0)) },
  {
    key: "stripRate",
    title: "Strip rate",
    unit: { us: "ft² per h", metric: "m² per h" },
    quantity: "areaRate",
    format: "number",
    optional: true,
    check: orBlank(amount(ABOVE_0)),
  },
  { key: "scratch", title: "Scratch left µm", optional: true, check: orBlank(amount(upTo(10_000))) },
  { key: "segments", title: "Segments of a tool", optional: true, check: orBlank(amount(WHOLE_FROM_1)) },
  {
    key: "segmentArea",
    title: "Segment face",
    unit: { us: "in²", metric: "mm²" },
    quantity: "segmentArea",
    optional: true,
    check: orBlank(amount(ABOVE_0)),
  },
];

export const LIQUID_COLUMNS: readonly Column<Liquid>[] = [
  { key: "name", title: "Liquid", check: called },
  { key: "work", title: "Work", check: oneOf(LIQUID_WORKS) },
  {
    key: "coverage",
    title: "Coverage",
    unit: { us: "ft² per gal", metric: "m² per L" },
    quantity: "coverage",
    format: "number",
    // A coating's follows from its film.
    check: orBlankIf(
      (work, { container }) => work === "coat" || isByLength(work) || (isLaborWork(work) && container === null),
      amount(ABOVE_0),
    ),
  },
  { key: "coats", title: "Coats", check: amount(ABOVE_0) },
  { key: "waste", title: "Waste", format: "percent", check: amount(BELOW_1) },
  {
    key: "container",
    title: "Container",
    unit: { us: "gal", metric: "L" },
    quantity: "volume",
    check: orBlankIf(isLaborWork, amount(ABOVE_0)),
  },
  { key: "price", title: "Price of a container", format: "money", check: amount(FROM_0) },
  {
    key: "rate",
    title: "Spread rate",
    unit: { us: "ft² per h", metric: "m² per h" },
    quantity: "areaRate",
    format: "number",
    check: orBlankIf(isByLength, amount(ABOVE_0)),
  },
  { key: "wait", title: "Wait after a coat h", optional: true, check: orBlank(amount(from0To(HOURS_OF_WAIT))) },
  {
    key: "film",
    title: "Dry film of a coat",
    unit: { us: "mil", metric: "µm" },
    quantity: "filmThickness",
    optional: true,
    check: orBlank(amount(ABOVE_0)),
  },
  { key: "solids", title: "Solids", format: "percent", optional: true, check: orBlank(amount(SHARE)) },
  {
    key: "fillRate",
    title: "Fill rate",
    unit: { us: "ft per h", metric: "m per h" },
    quantity: "edgeRate",
    format: "number",
    optional: true,
    check: orBlankIf((work) => !isByLength(work), amount(ABOVE_0)),
  },
  {
    key: "areaCost",
    title: "Other cost",
    unit: { us: "per ft²", metric: "per m²" },
    quantity: "floorArea",
    isRate: true,
    format: "money",
    optional: true,
    check: orBlank(amount(FROM_0)),
  },
];

const likeInput = (key: "machineWidth" | "speed" | "load" | "toolsASet") => amount(FIELDS[key].domain);

const madeUp = (domain: Domain) => ({ optional: true, check: orBlank(amount(domain)) }) as const;
const phases: Check<Machine> = (cell) => (cell === 1 || cell === 3 ? undefined : `must be 1 or 3; got ${shown(cell)}`);
/** Nothing presses harder than it weighs; what hangs on its handle, its tank or its weights is part of that. */
const carriesLoad: Check<Machine> = (cell, row) =>
  amount(ABOVE_0)(cell, row) ??
  ((cell as number) < (row.load as number) ? `must be no less than the load, ${row.load}; got ${cell}` : undefined);

export const MACHINE_COLUMNS: readonly Column<Machine>[] = [
  { key: "name", title: "Machine", check: called },
  {
    key: "width",
    title: "Working width",
    unit: { us: "in", metric: "mm" },
    quantity: "toolSize",
    check: likeInput("machineWidth"),
  },
  {
    key: "speed",
    title: "Travel speed",
    unit: { us: "ft per min", metric: "m per min" },
    quantity: "travelSpeed",
    check: likeInput("speed"),
  },
  { key: "load", title: "Load", unit: { us: "lbf", metric: "kgf" }, quantity: "load", check: likeInput("load") },
  { key: "toolsASet", title: "Tools in a set", check: likeInput("toolsASet") },
  { key: "cost", title: "Cost per h", format: "money", check: amount(FROM_0) },
  {
    key: "headRadius",
    title: "Head radius",
    unit: { us: "in", metric: "mm" },
    quantity: "toolSize",
    ...madeUp(FROM_0),
  },
  {
    key: "toolRadius",
    title: "Tool radius",
    unit: { us: "in", metric: "mm" },
    quantity: "toolSize",
    ...madeUp(ABOVE_0),
  },
  { key: "headRpm", title: "Head rpm", ...madeUp(ANY_NUMBER) },
  { key: "carrierRpm", title: "Carrier rpm", ...madeUp(ANY_NUMBER) },
  {
    key: "slideSpeed",
    title: "Sliding speed",
    unit: { us: "ft per min", metric: "m per s" },
    quantity: "slidingSpeed",
    ...madeUp(ABOVE_0),
  },
  {
    key: "weight",
    title: "Weight",
    unit: { us: "lb", metric: "kg" },
    quantity: "mass",
    optional: true,
    check: orBlank(carriesLoad),
  },
  { key: "motor", title: "Motor kW", ...madeUp(ABOVE_0) },
  { key: "volts", title: "Volts", ...madeUp(ABOVE_0) },
  { key: "amps", title: "Amps", ...madeUp(ABOVE_0) },
  { key: "phases", title: "Phases", optional: true, check: orBlank(phases) },
];

/** The header of a column as the sheet shows it: "Life of a set ft²". */
export const header = (column: Column<any>, units: System) =>
  column.unit ? `${column.title} ${column.unit[units]}` : column.title;

/** What a number of a column in one system is multiplied by in the other. */
export function factorOf({ quantity, isRate }: Column<any>, from: System, to: System): number {
  if (!quantity || from === to) return 1;
  return isRate ? si(quantity, to) / si(quantity, from) : si(quantity, from) / si(quantity, to);
}

/** The same rows in the units of a plan. */
export function inPlanUnits<Row extends object>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  from: System,
  to: System,
): Row[] {
  if (from === to) return [...rows];
  const converted = (row: Row) =>
    columns.flatMap(({ key, quantity, isRate }) => {
      const value = row[key];
      if (!quantity || typeof value !== "number") return [];
      // Money for one foot is more for a meter.
      return [[key, isRate ? convert(value, quantity, to, from) : convert(value, quantity, from, to)]];
    });
  return rows.map((row) => ({ ...row, ...Object.fromEntries(converted(row)) }));
}

/** Rows that lack nothing but their price, which is 0 here. */
export type Unpriced = Pick<Shelf, "tools" | "liquids">;
