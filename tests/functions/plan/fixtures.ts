/** Invented tools, machines and a floor whose arithmetic is easy by hand. */
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import type { Liquid, Machine, Shelf, Tool } from "../../../functions/plan/shelf";

export const tool = (name: string, over: Partial<Tool> = {}): Tool => ({
  name,
  bond: "metal",
  grit: 30,
  size: null,
  matrix: null,
  life: 10_000,
  price: 500,
  passes: 2,
  speedFactor: 1,
  onHand: 0,
  cut: null,
  wear: null,
  edgeLife: null,
  wetSpeed: null,
  wetLife: null,
  edgePrice: null,
  stripRate: null,
  scratch: null,
  segments: null,
  segmentArea: null,
  ...over,
});

export const densifier: Liquid = {
  name: "Densifier",
  work: "densify",
  coverage: 200,
  coats: 1,
  waste: 0.1,
  container: 5,
  price: 165,
  rate: 1600,
  wait: null,
  film: null,
  solids: null,
  fillRate: null,
  areaCost: null,
};

export const machine = (name: string, over: Partial<Machine> = {}): Machine => ({
  name,
  width: 24,
  speed: 20,
  load: 500,
  toolsASet: 9,
  cost: 25,
  ...over,
});

export const shelf: Shelf = {
  tools: [tool("M30"), tool("T60", { bond: "transitional", grit: 60, passes: 1 })],
  liquids: [densifier],
  machines: [],
};
export const inputs: Inputs = {
  ...startInputs("us"),
  area: 3200,
  edgeLength: 240,
  stripWidth: 0,
  machineWidth: 24,
  speed: 20,
  overlap: 0,
  efficiency: 0.8,
  machineCost: 25,
  edgeRate: 60,
  crew: 2,
  rate: 30,
  burden: 0.25,
  setup: 3,
  changeHours: 0,
  hoursADay: 8,
  overhead: 0.1,
  contingency: 0.05,
  margin: 0.3,
  minimum: 0,
};
export const stages = [
  { work: "grind", tool: "M30" },
  { work: "densify", tool: "Densifier" },
  { work: "hone", tool: "T60" },
] as const;

/** Every way to give each stage one of the choices. */
export const assignments = <T>(choices: readonly T[], stages: number): T[][] =>
  stages === 0 ? [[]] : assignments(choices, stages - 1).flatMap((rest) => choices.map((c) => [...rest, c]));

/** One pass takes an hour: 2 ft × 20 ft/min × 60 is 2400 ft²/h. That hour costs 2 × 30 × 1.25 of crew and 25 of machine, 100. */
export const hourAPass: Inputs = {
  ...startInputs("us"),
  area: 2400,
  edgeLength: 0,
  stripWidth: 0,
  finish: "by grit",
  lastGrit: 60,
  machineWidth: 24,
  speed: 20,
  overlap: 0,
  efficiency: 1,
  machineCost: 25,
  toolsASet: 9,
  crew: 2,
  rate: 30,
  burden: 0.25,
  changeHours: 0.2,
  passesFrom: "scratch",
};
