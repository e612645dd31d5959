/**
 * The shelf: the tools, liquids and machines a contractor owns, as rows of spreadsheet tables that the user keeps.
 */
import * as z from "zod/mini";
import { ABOVE_0, BELOW_1, type Domain, FROM_0, shown } from "../cell";
import { convert, type System, symbol } from "../units";
import { FIELDS, upTo } from "./fields";

export const BONDS = ["metal", "transitional", "resin"] as const;
const MATRICES = ["soft", "medium", "hard"] as const;
const LIQUID_WORKS = ["densify", "guard"] as const;

export interface Tool {
  name: string;
  bond: (typeof BONDS)[number];
  grit: number;
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
}

export interface Liquid {
  name: string;
  work: (typeof LIQUID_WORKS)[number];
  /** ft²/gal | m²/L. */
  coverage: number;
  coats: number;
  /** Share lost, a fraction. */
  waste: number;
  /** Container size, gal | L. */
  container: number;
  /** Price of a container. */
  price: number;
  /** Floor that the crew spreads in an hour, ft²/h | m²/h. */
  rate: number;
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
}

export interface Shelf {
  readonly tools: readonly Tool[];
  readonly liquids: readonly Liquid[];
  readonly machines: readonly Machine[];
}

const amount = (domain: Domain) =>
  z.number({ error: (issue) => `must be ${domain.words}; got ${shown(issue.input)}` }).check(
    z.refine((x) => x >= domain.least && x <= domain.most && (!domain.whole || Number.isInteger(x)), {
      error: (issue) => `must be ${domain.words}; got ${issue.input}`,
    }),
  );
const oneOf = <const T extends readonly [string, ...string[]]>(values: T) =>
  z.enum(values, { error: (issue) => `must be one of ${values.join(", ")}; got ${shown(issue.input)}` });
const called = z
  .string({ error: (issue) => `must be a name; got ${shown(issue.input)}` })
  .check(z.minLength(1, "is missing"));

const TOOL = z.object({
  name: called,
  bond: oneOf(BONDS),
  grit: amount(ABOVE_0),
  size: z.nullable(amount(ABOVE_0)),
  matrix: z.nullable(oneOf(MATRICES)),
  life: amount(ABOVE_0),
  price: amount(FROM_0),
  passes: amount(ABOVE_0),
  speedFactor: amount(ABOVE_0),
  onHand: amount(FROM_0),
  cut: z.nullable(amount(upTo(10_000))),
  wear: z.nullable(amount(ABOVE_0)),
  edgeLife: z.nullable(amount(ABOVE_0)),
  edgePrice: z.nullable(amount(FROM_0)),
  wetSpeed: z.nullable(amount(ABOVE_0)),
  wetLife: z.nullable(amount(ABOVE_0)),
}) satisfies z.ZodMiniType<Tool>;

const LIQUID = z.object({
  name: called,
  work: oneOf(LIQUID_WORKS),
  coverage: amount(ABOVE_0),
  coats: amount(ABOVE_0),
  waste: amount(BELOW_1),
  container: amount(ABOVE_0),
  price: amount(FROM_0),
  rate: amount(ABOVE_0),
}) satisfies z.ZodMiniType<Liquid>;

const MACHINE = z.object({
  name: called,
  width: amount(FIELDS.machineWidth.domain),
  speed: amount(FIELDS.speed.domain),
  load: amount(FIELDS.load.domain),
  toolsASet: amount(FIELDS.toolsASet.domain),
  cost: amount(FROM_0),
}) satisfies z.ZodMiniType<Machine>;

export interface Column<Row> {
  readonly key: keyof Row & string;
  /** The header without its unit. No "/" in either: in a structured reference it would need a second pair of brackets. */
  readonly title: string;
  readonly unit?: Readonly<Record<System, string>>;
  readonly format?: "money" | "percent" | "number";
  /** A table without this column is still a shelf. */
  readonly optional?: true;
}

export const TOOL_COLUMNS: readonly Column<Tool>[] = [
  { key: "name", title: "Tool" },
  { key: "bond", title: "Bond" },
  { key: "grit", title: "Grit" },
  { key: "size", title: "Size µm" },
  { key: "matrix", title: "Matrix" },
  { key: "life", title: "Life of a set", unit: { us: "ft²", metric: "m²" }, format: "number" },
  { key: "price", title: "Price of a set", format: "money" },
  { key: "passes", title: "Passes" },
  { key: "speedFactor", title: "Speed factor", format: "percent" },
  { key: "onHand", title: "On hand" },
  { key: "cut", title: "Cut per pass µm", optional: true },
  { key: "wear", title: "Wear", unit: { us: "mm per 1000 ft²", metric: "mm per 100 m²" }, optional: true },
  { key: "edgeLife", title: "Edge tool life", unit: { us: "ft", metric: "m" }, format: "number", optional: true },
  { key: "edgePrice", title: "Price of an edge tool", format: "money", optional: true },
  { key: "wetSpeed", title: "Wet speed factor", format: "percent", optional: true },
  { key: "wetLife", title: "Wet life factor", format: "percent", optional: true },
];

export const LIQUID_COLUMNS: readonly Column<Liquid>[] = [
  { key: "name", title: "Liquid" },
  { key: "work", title: "Work" },
  { key: "coverage", title: "Coverage", unit: { us: "ft² per gal", metric: "m² per L" }, format: "number" },
  { key: "coats", title: "Coats" },
  { key: "waste", title: "Waste", format: "percent" },
  { key: "container", title: "Container", unit: { us: "gal", metric: "L" } },
  { key: "price", title: "Price of a container", format: "money" },
  { key: "rate", title: "Spread rate", unit: { us: "ft² per h", metric: "m² per h" }, format: "number" },
];

export const MACHINE_COLUMNS: readonly Column<Machine>[] = [
  { key: "name", title: "Machine" },
  { key: "width", title: "Working width", unit: { us: "in", metric: "mm" } },
  { key: "speed", title: "Travel speed", unit: { us: "ft per min", metric: "m per min" } },
  { key: "load", title: "Load", unit: { us: "lbf", metric: "kgf" } },
  { key: "toolsASet", title: "Tools in a set" },
  { key: "cost", title: "Cost per h", format: "money" },
];

/** The header of a column as the sheet shows it: "Life of a set ft²". */
export const header = (column: Column<any>, units: System) =>
  column.unit ? `${column.title} ${column.unit[units]}` : column.title;

/** Rows that lack nothing but their price, which is 0 here. */
export type Unpriced = Pick<Shelf, "tools" | "liquids">;

/** A row of the table that cannot be used, with the column and the reason. */
export interface BadRow {
  row: number;
  reason: string;
}

/** A name that more than one row of a table has. */
export interface Duplicates {
  readonly name: string;
  /** Counted from 0. */
  readonly rows: readonly number[];
}

/** What a lookup takes for the same name: letter case does not count, nor, with us, do spaces around it. */
const nameKey = (name: unknown) =>
  String(name ?? "")
    .trim()
    .toLowerCase();

/** Names that a lookup could not tell apart, of rows that can be used and of those that cannot. */
export function duplicatesAmong(names: readonly unknown[]): Duplicates[] {
  const found = new Map<string, { name: string; rows: number[] }>();
  names.forEach((name, row) => {
    const key = nameKey(name);
    if (key === "") return;
    const duplicates = found.get(key) ?? { name: String(name).trim(), rows: [] };
    duplicates.rows.push(row);
    found.set(key, duplicates);
  });
  return [...found.values()].filter(({ rows }) => rows.length > 1);
}

/** The rows whose names are theirs alone. */
export function withoutDuplicates<Row extends { readonly name: string }>(
  rows: readonly Row[],
  duplicates: readonly Duplicates[],
) {
  const names = duplicates.map(({ name }) => nameKey(name));
  return rows.filter(({ name }) => !names.includes(nameKey(name)));
}

function parse<Row>(
  rows: readonly (readonly unknown[])[],
  columns: readonly Column<Row>[],
  schema: z.ZodMiniType<Row>,
): { good: Row[]; bad: BadRow[]; unpriced: Row[] } {
  const good: Row[] = [];
  const bad: BadRow[] = [];
  const unpriced: Row[] = [];
  rows.forEach((cells, i) => {
    if (cells.every((cell) => cell === "" || cell === null)) return;
    const read = (cell: unknown) => (cell === "" ? null : typeof cell === "string" ? cell.trim() : (cell ?? null));
    const row = Object.fromEntries(columns.map((column, k) => [column.key, lowered(column.key, read(cells[k]))]));
    const parsed = schema.safeParse(row);
    if (parsed.success) good.push(parsed.data);
    else {
      const issue = parsed.error.issues[0];
      const title = columns.find((column) => column.key === issue?.path[0])?.title ?? "The row";
      bad.push({ row: i + 1, reason: `${title} ${issue?.message}` });
      const priced = row.price === null ? schema.safeParse({ ...row, price: 0 }) : undefined;
      if (priced?.success) unpriced.push(priced.data);
    }
  });
  return { good, bad, unpriced };
}

/** Words may be typed in any letter case; "hybrid" is another word for transitional. */
function lowered(key: string, cell: unknown): unknown {
  if (typeof cell !== "string" || key === "name") return cell;
  const word = cell.toLowerCase();
  return key === "bond" && word === "hybrid" ? "transitional" : word;
}

/** The shelf in the tables' rows (without headers); rows that cannot be used are listed, not dropped in silence. */
export function shelfOf(
  toolRows: readonly (readonly unknown[])[],
  liquidRows: readonly (readonly unknown[])[],
  machineRows: readonly (readonly unknown[])[] = [],
): { shelf: Shelf; unpriced: Unpriced; badTools: BadRow[]; badLiquids: BadRow[]; badMachines: BadRow[] } {
  const tools = parse<Tool>(toolRows, TOOL_COLUMNS, TOOL);
  const liquids = parse<Liquid>(liquidRows, LIQUID_COLUMNS, LIQUID);
  const machines = parse<Machine>(machineRows, MACHINE_COLUMNS, MACHINE);
  return {
    shelf: { tools: tools.good, liquids: liquids.good, machines: machines.good },
    unpriced: { tools: tools.unpriced, liquids: liquids.unpriced },
    badTools: tools.bad,
    badLiquids: liquids.bad,
    badMachines: machines.bad,
  };
}

/** Of the hand grinder, by bond: ft of edge that a tool lasts, and its price. */
const EDGE_TOOLS = {
  metal: { edgeLife: 1200, edgePrice: 75 },
  transitional: { edgeLife: 400, edgePrice: 28 },
  resin: { edgeLife: 400, edgePrice: 18 },
} as const;

const tool = (
  name: string,
  bond: Tool["bond"],
  grit: number,
  matrix: Tool["matrix"],
  life: number,
  price: number,
  speedFactor: number,
  onHand: number,
  cut: number,
): Tool => ({
  ...{ name, bond, grit, size: null, matrix, life, price, passes: 2, speedFactor, onHand, cut, wear: null },
  ...EDGE_TOOLS[bond],
  wetSpeed: null,
  wetLife: null,
});

/**
 * Sample tools and prices to start from, in us units; the user replaces them with what is on the shelf. Invented and
 * plausible (common practice, no source); a metal tool's cut is that on the slab which its matrix suits.
 */
const STARTER: Shelf = {
  tools: [
    tool("Metal 16 soft", "metal", 16, "soft", 6000, 540, 0.8, 0, 350),
    tool("Metal 16 medium", "metal", 16, "medium", 8000, 540, 0.8, 1, 350),
    tool("Metal 16 hard", "metal", 16, "hard", 9500, 540, 0.8, 0, 350),
    tool("Metal 30 soft", "metal", 30, "soft", 7500, 520, 0.9, 1, 275),
    tool("Metal 30 medium", "metal", 30, "medium", 10000, 520, 0.9, 1, 275),
    tool("Metal 30 hard", "metal", 30, "hard", 12000, 520, 0.9, 0, 275),
    tool("Metal 60 soft", "metal", 60, "soft", 9000, 500, 1, 0, 130),
    tool("Metal 60 medium", "metal", 60, "medium", 12000, 500, 1, 1, 130),
    tool("Metal 60 hard", "metal", 60, "hard", 14000, 500, 1, 0, 130),
    tool("Metal 120 soft", "metal", 120, "soft", 10500, 490, 1, 0, 65),
    tool("Metal 120 medium", "metal", 120, "medium", 14000, 490, 1, 0, 65),
    tool("Metal 120 hard", "metal", 120, "hard", 16000, 490, 1, 0, 65),
    tool("Transitional 50", "transitional", 50, null, 6000, 330, 1, 1, 110),
    tool("Transitional 100", "transitional", 100, null, 6500, 330, 1, 1, 55),
    tool("Resin 100", "resin", 100, null, 5500, 260, 1, 0, 35),
    tool("Resin 200", "resin", 200, null, 6500, 260, 1, 1, 20),
    tool("Resin 400", "resin", 400, null, 7500, 260, 1, 1, 5),
    tool("Resin 800", "resin", 800, null, 9000, 260, 1, 1, 2.5),
    tool("Resin 1500", "resin", 1500, null, 10000, 260, 1.1, 0, 1.5),
    tool("Resin 3000", "resin", 3000, null, 11000, 260, 1.1, 0, 0.8),
  ],
  liquids: [
    { name: "Densifier", work: "densify", coverage: 200, coats: 1, waste: 0.1, container: 5, price: 165, rate: 1500 },
    // Thin guards spread 800 to 1500 (common practice, no source).
    { name: "Guard", work: "guard", coverage: 1000, coats: 2, waste: 0.1, container: 5, price: 310, rate: 1800 },
  ],
  machines: [],
};

/** Sample machines to start a machines table from, in us units. */
const STARTER_MACHINES: readonly Omit<Machine, "name">[] = [
  { width: 20, speed: 15, load: 330, toolsASet: 9, cost: 19 },
  { width: 32, speed: 15, load: 750, toolsASet: 12, cost: 36 },
];

/** "Machine A, 20 in". */
const sampleName = (i: number, width: number, units: System) =>
  `Machine ${String.fromCharCode(65 + i)}, ${width} ${symbol("toolSize", units)}`;

/** A measured amount in the other system, to three digits: a shelf is stocked in round numbers. */
const rounded = (x: number) => Number(x.toPrecision(3));

export function starterShelf(units: System): Shelf {
  if (units === "us") return STARTER;
  return {
    tools: STARTER.tools.map((t) => ({
      ...t,
      life: rounded(convert(t.life, "floorArea", "us", "metric")),
      edgeLife: t.edgeLife && rounded(convert(t.edgeLife, "length", "us", "metric")),
    })),
    liquids: STARTER.liquids.map((l) => ({
      ...l,
      coverage: rounded(convert(l.coverage, "coverage", "us", "metric")),
      container: rounded(convert(l.container, "volume", "us", "metric")),
      rate: rounded(convert(l.rate, "areaRate", "us", "metric")),
    })),
    machines: [],
  };
}

export function starterMachines(units: System): readonly Machine[] {
  return STARTER_MACHINES.map((machine, i) => {
    const sized =
      units === "us"
        ? machine
        : {
            ...machine,
            width: rounded(convert(machine.width, "toolSize", "us", "metric")),
            speed: rounded(convert(machine.speed, "travelSpeed", "us", "metric")),
            load: rounded(convert(machine.load, "load", "us", "metric")),
          };
    return { name: sampleName(i, sized.width, units), ...sized };
  });
}
