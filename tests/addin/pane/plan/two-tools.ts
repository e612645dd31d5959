/** A floor and a shelf of two tools whose sequences can be worked out by hand. */
import { startPlan } from "../../../../addin/pane/plan/state";
import { type Inputs, startInputs } from "../../../../functions/plan/inputs";
import type { Machine, Shelf, Tool } from "../../../../functions/plan/shelf";
import type { NotedPlan } from "./noted";

const metal = (name: string, grit: number, life: number, price: number, cut: number): Tool => ({
  name,
  bond: "metal",
  grit,
  size: null,
  matrix: null,
  life,
  price,
  passes: 1,
  speedFactor: 1,
  onHand: 0,
  cut,
  wear: null,
  edgeLife: null,
  wetSpeed: null,
  wetLife: null,
  edgePrice: null,
  stripRate: null,
  scratch: null,
  segments: null,
  segmentArea: null,
});

// Metal leaves half its size: 600 µm (ASTM E11 No. 30) scratches 300 µm deep, 250 µm (No. 60) 125 µm.
const M30 = metal("M30", 30, 1200, 120, 100);
const M60 = metal("M60", 60, 600, 80, 25);
/** Twice as wide as the machine of the inputs, and twice as dear an hour. */
export const WIDE: Machine = { name: "Wide", width: 48, speed: 10, load: 500, toolsASet: 9, cost: 44 };

/**
 * 600 ft² at 2 ft × 10 ft/min × 60 × 50 % = 600 ft²/h: an hour a pass. Two people at 30 × 1.3 are 78 an hour, the machine 22:
 * 100 an hour. A pass of M30 takes half a set of 120, so 160; one of M60 a set of 80, so 180. A change is 0.25 × 78 = 19.50.
 */
const INPUTS: Inputs = {
  ...startInputs("us"),
  area: 600,
  edgeLength: 0,
  stripWidth: 0,
  finish: "by grit",
  lastGrit: 60,
  depth: 500,
  machineWidth: 24,
  speed: 10,
  overlap: 0,
  efficiency: 0.5,
  machineCost: 22,
  setup: 0,
  minimum: 0,
  overhead: 0,
  contingency: 0,
  margin: 0.5,
};

export function twoTools(over: { machines?: Machine[]; tools?: Tool[]; inputs?: Partial<Inputs> } = {}): NotedPlan {
  const shelf: Shelf = { tools: over.tools ?? [M30, M60], liquids: [], machines: over.machines ?? [] };
  return {
    ...startPlan("us"),
    inputs: { ...INPUTS, ...over.inputs },
    shelf: { shelf, units: "us", from: "a test", problems: [] },
  };
}

/** The user's own sequence: the fine tool alone. */
export const fineAlone = (state: NotedPlan): NotedPlan => ({ ...state, ownStages: [{ work: "grind", tool: "M60" }] });
