/** What a sequence takes and costs: the arithmetic of the stage table on plain numbers, for the pane to show at once. */
import { badValue } from "../answer";
import { areaPerHour } from "../coverage";
import { cutPerCoefficient, passesNeeded } from "../cutting";
import { stepVerdict } from "../grit";
import { coverageOf, fillerVolume, liquidVolume, wholeContainers } from "../liquids";
import { crewCostOf } from "../price";
import { roundUp } from "../round-up";
import type { Grit } from "../scale";
import { dustMass, slurryVolume } from "../site";
import { setsToBuy, setsUsed } from "../tooling";
import { TOOL_SIZES_PER_LENGTH } from "../units";
import { FIELDS, type Key } from "./fields";
import { floorOf, type Inputs, needed, orStart } from "./inputs";
import { cutBeside, deepestCut, pressureOf, slideSpeedOf } from "./machine";
import { costOf, priceOf } from "./price-chain";
import { afterWait, doneAt } from "./schedule";
import type { Liquid, Machine, Shelf, Tool } from "./shelf";
import { type PlannedStage, scratchLeft, scratchOf, toolSize } from "./stage";
import { usualDepth } from "./usual";
import { isByLength, isLiquidWork, type LiquidWork, type Work } from "./works";

export interface StageCost {
  tooling: number;
  crew: number;
  machine: number;
  liquids: number;
}

export interface StageEstimate {
  work: Work;
  tool: string;
  /** One of the machines table; empty for the machine of the inputs, and for a liquid. */
  machine: string;
  bond: string;
  grit: Grit | null;
  size: number | null;
  /** Verdict on the step from the stage before; "start" for the first, "" for a liquid. */
  verdict: string;
  passes: number;
  /** Passes that the depth or the scratches before need; undefined where nobody has measured the tool's cut. */
  needed: number | undefined;
  /** Depth of one pass, and what it would be with power enough, µm; undefined where nobody has measured it. */
  cut: number | undefined;
  fullCut: number | undefined;
  /** Of the segments on the floor, psi | kPa; undefined where the shelf doesn't say them, and for a liquid. */
  pressure: number | undefined;
  machineHours: number;
  edgeHours: number;
  hours: number;
  setsUsed: number;
  setsToBuy: number;
  /** Price of the whole sets to buy; the stage is charged with what it wears of them. */
  toBuyPrice: number;
  /** Of liquid, gal | L. */
  volume: number;
  /** Cure after each coat, h. */
  wait: number;
  parts: StageCost;
  cost: number;
}

export interface Estimate {
  rows: StageEstimate[];
  hours: number;
  /** Working hours in which the crew waits for a cure. */
  waits: number;
  crewHours: number;
  days: number;
  /** Stages, setup and cleanup. */
  directCost: number;
  /** With overhead and contingency. */
  cost: number;
  price: number;
  perArea: number;
  /** Concrete that is ground off, lb | kg. */
  dust: number;
  /** To collect in wet work, gal | L; 0 in dry work. */
  slurry: number;
}

/** The machine that the inputs describe. */
const machineOfInputs = (inputs: Inputs): Machine => ({
  name: "",
  width: needed(inputs, "machineWidth"),
  speed: needed(inputs, "speed"),
  load: needed(inputs, "load"),
  toolsASet: needed(inputs, "toolsASet"),
  cost: needed(inputs, "machineCost"),
});

/** The machine of the inputs and those of the machines table. */
export const machinesFor = (inputs: Inputs, shelf: Shelf): Machine[] => [machineOfInputs(inputs), ...shelf.machines];

function machineCalled(name: string, inputs: Inputs, shelf: Shelf): Machine {
  const machine = machinesFor(inputs, shelf).find((m) => m.name === name);
  if (!machine) throw badValue(`The machines table has no ${name}`);
  return machine;
}

type ToolSpeed = Pick<Tool, "speedFactor" | "wetSpeed">;
/** Travel speed with a tool as a share of the machine's. */
export const speedShare = ({ speedFactor, wetSpeed }: ToolSpeed, { grinding }: Pick<Inputs, "grinding">): number =>
  speedFactor * (grinding === "wet" ? (wetSpeed ?? 1) : 1);

/** A metal tool lasts as long as listed at the cut that is listed with it; where it cuts deeper, it wears as much faster. */
function lifeOf({ bond, life, wetLife, cut: listed }: Tool, cut: number | undefined, { grinding }: Inputs): number {
  const deeper = bond === "metal" && listed !== null && cut !== undefined ? Math.max(1, cut / listed) : 1;
  return (life * (grinding === "wet" ? (wetLife ?? 1) : 1)) / deeper;
}

/** Depth that one pass takes off: by the test strip, else as the shelf has it; undefined where neither says. */
export const cutOf = (tool: Tool, size: number, machine: Machine, inputs: Inputs): number | undefined =>
  withinPower(fullCut(tool, size, machine, inputs), tool, machine, inputs);

/** A machine short of power takes more passes at less depth. */
function withinPower(full: number | undefined, tool: Tool, machine: Machine, inputs: Inputs): number | undefined {
  return full === undefined ? undefined : Math.min(full, deepestCut(machine, speedShare(tool, inputs), inputs));
}

/** Depth of one pass with power to spare. */
function fullCut(tool: Tool, size: number, machine: Machine, inputs: Inputs): number | undefined {
  const { cutCoefficient, overlap, units } = inputs;
  if (cutCoefficient === null) {
    return tool.cut === null ? undefined : tool.cut * cutBeside(machine, machineOfInputs(inputs), inputs);
  }
  const { load, width } = machine;
  const slideSpeed = slideSpeedOf(machine, inputs) ?? needed(inputs, "slideSpeed");
  const pass = { load, slideSpeed, width, speed: machine.speed * speedShare(tool, inputs), overlap: overlap ?? 0 };
  return (cutCoefficient * cutPerCoefficient(pass, units) * size) / needed(inputs, "stripSize");
}

/** Passes of a tool from one depth of scratches to its own: those that are planned, and those that it takes. */
export function passesFor(
  tool: Tool,
  from: number,
  scratch: number,
  cut: number | undefined,
  { passesFrom }: Pick<Inputs, "passesFrom">,
): { passes: number; needed: number | undefined } {
  const needed = cut === undefined ? undefined : passesNeeded(from, scratch, cut);
  if (needed === undefined || passesFrom === "shelf") return { passes: tool.passes, needed };
  return { passes: passesFrom === "scratch" ? needed : Math.max(tool.passes, needed), needed };
}

export function estimate(inputs: Inputs, shelf: Shelf, stages: readonly PlannedStage[]): Estimate {
  const need = (key: Key) => needed(inputs, key);
  const { area } = floorOf(inputs);
  const depth = inputs.depth ?? usualDepth(inputs);
  let sizeBefore: number | undefined;
  let bondBefore: Tool["bond"] | undefined;
  let scratchBefore: number | undefined;
  let isGrouted = false;
  /** Depth that all passes take off. */
  let cutOff = 0;
  const rows = stages.map(({ work, tool: name, machine: machineName = "", passes: counted }) => {
    const liquid = shelf.liquids.find((l) => l.name === name);
    if (liquid && isLiquidWork(work)) {
      isGrouted ||= work === "grout";
      return liquidStage(work, { ...liquid, coats: counted ?? liquid.coats }, inputs);
    }
    const tool = shelf.tools.find((t) => t.name === name);
    if (!tool) throw badValue(`The shelf has no ${name}`);
    const machine = machineCalled(machineName, inputs, shelf);
    if (work === "strip") {
      scratchBefore = scratchLeft(tool, inputs);
      const own = tool.stripRate === null ? {} : { ownRate: tool.stripRate };
      const row = toolStage(tool, machine, { passes: counted ?? tool.passes, cut: undefined, ...own }, inputs);
      return { ...row, work, size: null, verdict: "", needed: undefined, cut: undefined, fullCut: undefined };
    }
    const size = toolSize(tool, inputs);
    const verdict = verdictOf(sizeBefore, size, bondBefore, tool.bond, isGrouted, inputs);
    const scratch = scratchOf(tool, size);
    const full = fullCut(tool, size, machine, inputs);
    const cut = withinPower(full, tool, machine, inputs);
    // What stripping has left comes off with the depth.
    const from = sizeBefore === undefined ? Math.max(depth, scratchBefore ?? 0) : scratchBefore!;
    const { passes: worked, needed } = passesFor(tool, from, scratch, cut, inputs);
    const passes = counted ?? worked;
    sizeBefore = size;
    bondBefore = tool.bond;
    scratchBefore = scratch;
    isGrouted = false;
    cutOff += passes * (cut ?? 0);
    const ofTool = toolStage(tool, machine, { passes, cut }, inputs);
    return { ...ofTool, work, size, verdict, needed, cut, fullCut: full };
  });
  const hours = sum(rows, (row) => row.hours);
  const siteHours = hours + need("setup");
  const waits = waitsIn(rows, need("setup"), need("hoursADay"));
  const ground = { area: area - (inputs.obstacles ?? 0), depth: Math.max(depth, cutOff) };
  const machineHours = sum(rows, (row) => row.machineHours);
  const setup = crewCostOf(need("setup"), need("crew"), need("rate"), need("burden"));
  const directCost = sum(rows, (row) => row.cost) + setup;
  const cost = costOf(directCost, inputs);
  const price = priceOf(cost, inputs);
  return {
    rows,
    hours,
    waits,
    crewHours: siteHours * need("crew"),
    days: roundUp((siteHours + waits) / need("hoursADay")),
    directCost,
    cost,
    price,
    perArea: price / area,
    dust: dustMass(ground, inputs.units),
    slurry:
      inputs.grinding === "wet"
        ? slurryVolume({ ...ground, waterRate: need("waterRate"), hours: machineHours }, inputs.units)
        : 0,
  };
}

/** The same grit again is in order where grout has gone on in between. */
function verdictOf(
  sizeBefore: number | undefined,
  size: number,
  bondBefore: Tool["bond"] | undefined,
  bond: Tool["bond"],
  isGrouted: boolean,
  inputs: Inputs,
): string {
  if (sizeBefore === undefined) return "start";
  const verdict = stepVerdict(sizeBefore, size, bondBefore, bond, orStart(inputs, "maxRatio"));
  return verdict === "repeat" && isGrouted ? "ok" : verdict;
}

/** Working hours that pass in waits before the last stage is done; the crew goes home during the last cure. */
function waitsIn(rows: readonly StageEstimate[], setup: number, hoursADay: number): number {
  let worked = setup;
  let wait = 0;
  for (const row of rows) {
    worked = doneAt(afterWait(worked, wait, hoursADay), { ...row, coats: row.passes }, hoursADay);
    wait = row.wait;
  }
  // Hours that a sum is off by are no wait.
  return Math.max(0, Number((worked - setup - sum(rows, ({ hours }) => hours)).toFixed(9)));
}

/**
 * A stage with a tool, as far as the tool, the machine, the passes and their depth decide it; a rate of its own goes before
 * the machine's.
 */
export function toolStage(
  tool: Tool,
  machine: Machine,
  { passes, cut, ownRate }: { readonly passes: number; readonly cut: number | undefined; readonly ownRate?: number },
  inputs: Inputs,
) {
  const need = (key: Key) => needed(inputs, key);
  const { machineArea: area, edge } = floorOf(inputs);
  const perLength = TOOL_SIZES_PER_LENGTH[inputs.units];
  const speed = machine.speed * speedShare(tool, inputs);
  const life = lifeOf(tool, cut, inputs);
  const rate = ownRate ?? areaPerHour(machine.width, speed, need("overlap"), need("efficiency"), perLength);
  const machineHours = (area * passes) / rate;
  // However often the machine passes, the edges are worked so many times at each step.
  const alongEdges = edge * need("edgePasses");
  const edgeHours = alongEdges / need("edgeRate");
  const floorHours = inputs.edgeWork === "alongside" ? Math.max(machineHours, edgeHours) : machineHours + edgeHours;
  const hours = floorHours + need("changeHours");
  // The shelf's sets are those of the inputs' machine; another machine carries more tools, or fewer.
  const setSize = machine.toolsASet / need("toolsASet");
  const used = setsUsed(area, life * setSize, passes);
  const toBuy = setsToBuy(used, tool.onHand / setSize);
  const parts = {
    tooling: setsUsed(area, life, passes) * tool.price + edgeToolCost(tool, alongEdges),
    crew: crewCostOf(hours, need("crew"), need("rate"), need("burden")),
    machine: machineHours * machine.cost,
    liquids: 0,
  };
  return {
    tool: tool.name,
    machine: machine.name,
    bond: tool.bond,
    grit: tool.grit,
    passes,
    pressure: pressureOf(tool, machine, inputs),
    machineHours,
    edgeHours,
    hours,
    setsUsed: used,
    setsToBuy: toBuy,
    toBuyPrice: toBuy * tool.price * setSize,
    volume: 0,
    wait: 0,
    parts,
    cost: total(parts),
  };
}

/** What the hand grinder wears along the edges; nothing where the shelf has no life or no price for it. */
const edgeToolCost = ({ edgeLife, edgePrice }: Tool, length: number) =>
  edgeLife === null || edgePrice === null ? 0 : (length / edgeLife) * edgePrice;

/** Area or length that a stage works. */
function amountOf(work: LiquidWork, inputs: Inputs): number {
  if (!isByLength(work)) return floorOf(inputs).area;
  const { length } = grooveOf(work, inputs);
  if (!length)
    throw badValue(`${FIELDS[work === "joints" ? "jointLength" : "crackLength"].label} is missing; a stage needs it`);
  return length;
}

const grooveOf = (work: "joints" | "cracks", inputs: Inputs) =>
  work === "joints"
    ? { length: inputs.jointLength, width: orStart(inputs, "jointWidth"), depth: orStart(inputs, "jointDepth") }
    : { length: inputs.crackLength, width: orStart(inputs, "crackWidth"), depth: orStart(inputs, "crackDepth") };

function volumeOf(work: LiquidWork, liquid: Liquid, inputs: Inputs): number {
  const { coats, waste, container, coverage, film, solids } = liquid;
  if (container === null) return 0;
  const amount = amountOf(work, inputs);
  if (isByLength(work)) {
    const { width, depth } = grooveOf(work, inputs);
    return coats * fillerVolume(amount, width, depth, waste, inputs.units);
  }
  const ofPlan = inputs.finish === "coating" ? (inputs.film ?? 0) / coats : 0;
  const dry = film ?? ofPlan;
  if (coverage === null && !(dry > 0)) throw badValue(`${liquid.name} has no coverage and no dry film on the shelf`);
  return liquidVolume(amount, coverage ?? coverageOf(dry, solids ?? 1, inputs.units), coats, waste);
}

function liquidStage(work: LiquidWork, liquid: Liquid, inputs: Inputs): StageEstimate {
  const need = (key: Key) => needed(inputs, key);
  const rate = isByLength(work) ? liquid.fillRate : liquid.rate;
  if (rate === null) throw badValue(`${liquid.name} has no rate for this work on the shelf`);
  const done = amountOf(work, inputs) * liquid.coats;
  const hours = done / rate;
  const volume = volumeOf(work, liquid, inputs);
  const bought = liquid.container === null ? 0 : wholeContainers(volume, liquid.container) * liquid.price;
  const parts = {
    tooling: 0,
    crew: crewCostOf(hours, need("crew"), need("rate"), need("burden")),
    machine: 0,
    liquids: bought + done * (liquid.areaCost ?? 0),
  };
  return {
    work,
    tool: liquid.name,
    machine: "",
    bond: "",
    grit: null,
    size: null,
    verdict: "",
    passes: liquid.coats,
    needed: undefined,
    cut: undefined,
    fullCut: undefined,
    pressure: undefined,
    machineHours: 0,
    edgeHours: 0,
    hours,
    setsUsed: 0,
    setsToBuy: 0,
    toBuyPrice: 0,
    volume,
    wait: liquid.wait ?? 0,
    parts,
    cost: total(parts),
  };
}

/** The same stages, each on the machine that does it for the least money; the machine of the inputs where they tie. */
export function onCheapestMachines<S extends PlannedStage>(inputs: Inputs, shelf: Shelf, stages: readonly S[]): S[] {
  const machines = machinesFor(inputs, shelf);
  const costs = machines.map(
    ({ name }) =>
      estimate(
        inputs,
        shelf,
        stages.map((stage) => ({ ...stage, machine: name })),
      ).rows,
  );
  return stages.map((stage, i) => {
    const cheapest = costs.reduce((best, rows, m) => (rows[i]!.cost < costs[best]![i]!.cost ? m : best), 0);
    return { ...stage, machine: machines[cheapest]!.name };
  });
}

const total = (parts: StageCost) => parts.tooling + parts.crew + parts.machine + parts.liquids;
const sum = <T>(rows: readonly T[], of: (row: T) => number) => rows.reduce((all, row) => all + of(row), 0);
