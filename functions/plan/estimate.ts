/** What a sequence takes and costs: the arithmetic of the stage table on plain numbers, for the pane to show at once. */
import { badValue, roundUp } from "../cell";
import { areaPerHour } from "../coverage";
import { DEFAULT_MAX_RATIO, stepVerdict } from "../grit";
import { liquidVolume, wholeContainers } from "../liquids";
import { crewCostOf, priceAtMargin } from "../price";
import { setsToBuy, setsUsed } from "../tooling";
import { TOOL_SIZES_PER_LENGTH } from "../units";
import { floorOf, type Inputs } from "./inputs";
import { type Stage, toolSize, type Work } from "./proposal";
import type { Liquid, Shelf, Tool } from "./shelf";

export interface StageCost {
  tooling: number;
  crew: number;
  machine: number;
  liquids: number;
}

export interface StageEstimate {
  work: Work;
  tool: string;
  bond: string;
  grit: number | null;
  size: number | null;
  /** Verdict on the step from the stage before; "start" for the first, "" for a liquid. */
  verdict: string;
  passes: number;
  machineHours: number;
  edgeHours: number;
  hours: number;
  setsUsed: number;
  setsToBuy: number;
  parts: StageCost;
  cost: number;
}

export interface Estimate {
  rows: StageEstimate[];
  hours: number;
  crewHours: number;
  days: number;
  /** Stages, set-up and clean-up. */
  directCost: number;
  /** With overhead and contingency. */
  cost: number;
  price: number;
  perArea: number;
}

/** An input that a plan cannot do without; `problemsOf` has told the user before it comes to this. */
function given(inputs: Inputs, key: keyof Inputs): number {
  const value = inputs[key];
  if (typeof value !== "number") throw badValue(`${key} is missing`);
  return value;
}

export function estimate(inputs: Inputs, shelf: Shelf, stages: readonly Pick<Stage, "work" | "tool">[]): Estimate {
  const need = (key: keyof Inputs) => given(inputs, key);
  const { area } = floorOf(inputs);
  let sizeBefore: number | undefined;
  let bondBefore: Tool["bond"] | undefined;
  const rows = stages.map(({ work, tool: name }) => {
    const liquid = shelf.liquids.find((l) => l.name === name);
    if (liquid && (work === "densify" || work === "guard")) return liquidStage(work, liquid, inputs, area);
    const tool = shelf.tools.find((t) => t.name === name);
    if (!tool) throw badValue(`The shelf has no ${name}`);
    const size = toolSize(tool, inputs);
    const verdict =
      sizeBefore === undefined
        ? "start"
        : stepVerdict(sizeBefore, size, bondBefore, tool.bond, inputs.maxRatio ?? DEFAULT_MAX_RATIO);
    sizeBefore = size;
    bondBefore = tool.bond;
    return toolStage(work, tool, size, verdict, inputs, area);
  });
  const hours = sum(rows, (row) => row.hours);
  const siteHours = hours + need("setup");
  const setup = crewCostOf(need("setup"), need("crew"), need("rate"), need("burden"));
  const directCost = sum(rows, (row) => row.cost) + setup;
  const cost = directCost * (1 + need("overhead")) * (1 + need("contingency"));
  const price = priceAtMargin(cost, need("margin"), need("minimum"));
  return {
    rows,
    hours,
    crewHours: siteHours * need("crew"),
    days: roundUp(siteHours / need("hoursADay")),
    directCost,
    cost,
    price,
    perArea: price / area,
  };
}

function toolStage(work: Work, tool: Tool, size: number, verdict: string, inputs: Inputs, area: number): StageEstimate {
  const need = (key: keyof Inputs) => given(inputs, key);
  const { passes } = tool;
  const perLength = TOOL_SIZES_PER_LENGTH[inputs.units];
  const speed = need("speed") * tool.speedFactor;
  const rate = areaPerHour(need("machineWidth"), speed, need("overlap"), need("efficiency"), perLength);
  const machineHours = (area * passes) / rate;
  const edgeHours = (floorOf(inputs).edge * passes) / need("edgeRate");
  const hours = inputs.edgeWork === "alongside" ? Math.max(machineHours, edgeHours) : machineHours + edgeHours;
  const used = setsUsed(area, tool.life, passes);
  const parts = {
    tooling: used * tool.price,
    crew: crewCostOf(hours, need("crew"), need("rate"), need("burden")),
    machine: machineHours * need("machineCost"),
    liquids: 0,
  };
  return {
    work,
    tool: tool.name,
    bond: tool.bond,
    grit: tool.grit,
    size,
    verdict,
    passes,
    machineHours,
    edgeHours,
    hours,
    setsUsed: used,
    setsToBuy: setsToBuy(used, tool.onHand),
    parts,
    cost: total(parts),
  };
}

function liquidStage(work: Work, liquid: Liquid, inputs: Inputs, area: number): StageEstimate {
  const need = (key: keyof Inputs) => given(inputs, key);
  const hours = (area * liquid.coats) / liquid.rate;
  const volume = liquidVolume(area, liquid.coverage, liquid.coats, liquid.waste);
  const parts = {
    tooling: 0,
    crew: crewCostOf(hours, need("crew"), need("rate"), need("burden")),
    machine: 0,
    liquids: wholeContainers(volume, liquid.container) * liquid.price,
  };
  return {
    work,
    tool: liquid.name,
    bond: "",
    grit: null,
    size: null,
    verdict: "",
    passes: liquid.coats,
    machineHours: 0,
    edgeHours: 0,
    hours,
    setsUsed: 0,
    setsToBuy: 0,
    parts,
    cost: total(parts),
  };
}

const total = (parts: StageCost) => parts.tooling + parts.crew + parts.machine + parts.liquids;
const sum = <T>(rows: readonly T[], of: (row: T) => number) => rows.reduce((all, row) => all + of(row), 0);
