/** Sample tools, liquids and machines to start from; the user replaces them with what is on the shelf. */
import { meanSlideSpeed } from "../cutting";
import { convert, type Quantity, type System, symbol } from "../units";
import type { Liquid, Machine, Shelf, Tool } from "./shelf";
import type { LiquidWork } from "./works";

/** Of the hand grinder, by bond: ft of edge that a tool lasts, and its price. */
const EDGE_TOOLS = {
  metal: { edgeLife: 1200, edgePrice: 75 },
  transitional: { edgeLife: 400, edgePrice: 28 },
  resin: { edgeLife: 400, edgePrice: 18 },
} as const;

/** The segments of a tool, in²: a soft matrix, for hard slabs, has less face and more pressure. Others press on a 3 in puck. */
const METAL_FACES = { soft: 0.5, medium: 0.6, hard: 0.8 } as const;
const segmentsOf = (bond: Tool["bond"], matrix: Tool["matrix"]) =>
  bond === "metal" ? { segments: 2, segmentArea: METAL_FACES[matrix ?? "medium"] } : { segments: 1, segmentArea: 7 };

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
  stripRate: null,
  scratch: null,
  ...segmentsOf(bond, matrix),
});

const liquid = (name: string, work: LiquidWork, over: Partial<Liquid>): Liquid => ({
  ...{ name, work, coverage: null, coats: 1, waste: 0.1, container: null, price: 0, rate: null },
  ...{ wait: null, film: null, solids: null, fillRate: null, areaCost: null },
  ...over,
});

/**
 * Sample tools and prices to start from, in us units; the user replaces them with what is on the shelf. Invented and
 * plausible (common practice, no source); a metal tool's cut is that on the slab which its matrix suits: on a hard slab even
 * its soft bond cuts about a third less a pass, on a soft slab its hard bond about a third more.
 */
const STARTER: Shelf = {
  tools: [
    tool("Metal 16 soft", "metal", 16, "soft", 6000, 540, 0.8, 0, 230),
    tool("Metal 16 medium", "metal", 16, "medium", 8000, 540, 0.8, 1, 350),
    tool("Metal 16 hard", "metal", 16, "hard", 9500, 540, 0.8, 0, 450),
    tool("Metal 30 soft", "metal", 30, "soft", 7500, 520, 0.9, 1, 180),
    tool("Metal 30 medium", "metal", 30, "medium", 10000, 520, 0.9, 1, 275),
    tool("Metal 30 hard", "metal", 30, "hard", 12000, 520, 0.9, 0, 350),
    tool("Metal 60 soft", "metal", 60, "soft", 9000, 500, 1, 0, 85),
    tool("Metal 60 medium", "metal", 60, "medium", 12000, 500, 1, 1, 130),
    tool("Metal 60 hard", "metal", 60, "hard", 14000, 500, 1, 0, 170),
    tool("Metal 120 soft", "metal", 120, "soft", 10500, 490, 1, 0, 42),
    tool("Metal 120 medium", "metal", 120, "medium", 14000, 490, 1, 0, 65),
    tool("Metal 120 hard", "metal", 120, "hard", 16000, 490, 1, 0, 85),
    tool("Transitional 50", "transitional", 50, null, 6000, 330, 1, 1, 110),
    tool("Transitional 100", "transitional", 100, null, 6500, 330, 1, 1, 55),
    tool("Resin 100", "resin", 100, null, 5500, 260, 1, 0, 35),
    tool("Resin 200", "resin", 200, null, 6500, 260, 1, 1, 20),
    tool("Resin 400", "resin", 400, null, 7500, 260, 1, 1, 5),
    tool("Resin 800", "resin", 800, null, 9000, 260, 1, 1, 2.5),
    tool("Resin 1500", "resin", 1500, null, 10000, 260, 1.1, 0, 1.5),
    tool("Resin 3000", "resin", 3000, null, 11000, 260, 1.1, 0, 0.8),
    // Of a few segments of polycrystalline diamond, which lift a coating off; its grit is only a label.
    {
      ...tool("PCD", "metal", 6, null, 15_000, 600, 1, 0, 0),
      passes: 1,
      cut: null,
      stripRate: 500,
      scratch: 400,
      segments: null,
      segmentArea: null,
    },
  ],
  liquids: [
    liquid("Densifier", "densify", { coverage: 200, container: 5, price: 165, rate: 1500 }),
    // Thin guards spread 800 to 1500 (common practice, no source).
    liquid("Guard", "guard", { coverage: 1000, coats: 2, container: 5, price: 310, rate: 1800, wait: 1 }),
    liquid("Pinhole grout", "grout", { coverage: 400, container: 5, price: 230, rate: 500, wait: 2 }),
    liquid("Dye", "stain", { coverage: 300, container: 5, price: 260, rate: 1000, wait: 1 }),
    // Its film is the plan's coating thickness, shared among the coats.
    liquid("Epoxy", "coat", { coats: 2, container: 3, price: 190, rate: 400, wait: 12, solids: 1 }),
    liquid("Joint filler", "joints", { container: 10, price: 620, fillRate: 80, wait: 1 }),
    liquid("Crack filler", "cracks", { container: 2, price: 150, fillRate: 40, wait: 1 }),
    liquid("Burnish", "burnish", { waste: 0, rate: 5000, areaCost: 0.01 }),
    liquid("Scrub and vacuum", "clean", { waste: 0, rate: 6000, areaCost: 0.01 }),
    liquid("Drying", "dry", { waste: 0, rate: 20_000, wait: 12 }),
    liquid("Floor cover", "protect", { waste: 0, rate: 2000, areaCost: 0.14 }),
  ],
  machines: [],
};

/** Sample machines to start a machines table from, in us units. */
const STARTER_MACHINES = [
  {
    ...{ width: 20, speed: 15, load: 330, toolsASet: 9, cost: 19 },
    ...{ headRadius: 5.5, toolRadius: 3.5, headRpm: 900, carrierRpm: 60, weight: 450 },
    ...{ motor: 7.5, volts: 230, amps: 40, phases: 1 },
  },
  {
    ...{ width: 32, speed: 15, load: 750, toolsASet: 12, cost: 36 },
    ...{ headRadius: 10, toolRadius: 4.5, headRpm: 700, carrierRpm: 40, weight: 1000 },
    ...{ motor: 15, volts: 480, amps: 25, phases: 3 },
  },
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
      stripRate: t.stripRate && rounded(convert(t.stripRate, "areaRate", "us", "metric")),
      edgeLife: t.edgeLife && rounded(convert(t.edgeLife, "length", "us", "metric")),
      segmentArea: t.segmentArea && rounded(convert(t.segmentArea, "segmentArea", "us", "metric")),
    })),
    liquids: STARTER.liquids.map((l) => ({
      ...l,
      coverage: l.coverage && rounded(convert(l.coverage, "coverage", "us", "metric")),
      container: l.container && rounded(convert(l.container, "volume", "us", "metric")),
      rate: l.rate && rounded(convert(l.rate, "areaRate", "us", "metric")),
      fillRate: l.fillRate && rounded(convert(l.fillRate, "edgeRate", "us", "metric")),
      // Money for an area: more for the larger unit.
      areaCost: l.areaCost && Number((l.areaCost / convert(1, "floorArea", "us", "metric")).toFixed(2)),
    })),
    machines: [],
  };
}

export function starterMachines(units: System): readonly Machine[] {
  const inUnits = (size: number, quantity: Quantity) =>
    units === "us" ? size : rounded(convert(size, quantity, "us", units));
  return STARTER_MACHINES.map((machine, i) => {
    const sized = {
      ...machine,
      width: inUnits(machine.width, "toolSize"),
      speed: inUnits(machine.speed, "travelSpeed"),
      load: inUnits(machine.load, "load"),
      headRadius: inUnits(machine.headRadius, "toolSize"),
      toolRadius: inUnits(machine.toolRadius, "toolSize"),
      weight: inUnits(machine.weight, "mass"),
    };
    const { headRadius: toHead, toolRadius: toTool, headRpm: head, carrierRpm: carrier } = sized;
    const slideSpeed = meanSlideSpeed({ toHead, toTool, head, carrier }, units);
    return { name: sampleName(i, sized.width, units), ...sized, slideSpeed };
  });
}
