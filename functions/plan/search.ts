/**
 * The search behind both sequences, the proposed and the cheapest: of all sequences over the shelf the one that breaks the
 * fewest rules of the trade, and of those the one of least cost. What a stage costs is what `estimate` prices it at.
 */
import { type Bond, stepVerdict, type Verdict } from "../grit";
import { leastPath } from "../planning";
import { MESH, sizeOf } from "../scale";
import { LEFT_BY_METAL } from "../tables/usual-grits";
import { matrixFor } from "../tooling";
import { cutOf, machinesFor, passesFor, toolStage } from "./estimate";
import { type Inputs, orStart } from "./inputs";
import type { Machine, Shelf, Tool } from "./shelf";
import { scratchOf } from "./stage";
import { goesOnFromGrit, needsMetalFirst, sizeLeft, usualDepth, usualFirstGrit } from "./usual";

/** A tool of the shelf with its size, µm. */
export interface Candidate {
  readonly tool: Tool;
  readonly size: number;
}

/** A tool on a machine. */
export interface Option extends Candidate {
  readonly bond: Bond;
  readonly scratch: number;
  readonly machine: Machine;
  /** Undefined where nobody has measured it. */
  readonly cut: number | undefined;
}

/** Which rule of the trade a stage breaks, the worst first. */
export type Fault = "opening" | "order" | "short" | "start" | "matrix" | "unmeasured";
/** None outweighs one of a worse kind, however often it comes. */
const WEIGHTS: Record<Fault, number> = {
  opening: 1e8,
  order: 1e6,
  short: 1e4,
  start: 1e2,
  matrix: 1,
  unmeasured: 1e-3,
};

export interface Task {
  /** Of the inputs alone, or those of the machines table too. */
  readonly machines: readonly Machine[];
  /** Whether to start at least as coarse as such a floor usually is. */
  readonly startsAsUsual: boolean;
  readonly isLast: (tool: Tool) => boolean;
}

export interface Found {
  readonly path: readonly Option[];
  /** By stage. */
  readonly faults: readonly (readonly Fault[])[];
}

export const ownMachine = (inputs: Inputs, shelf: Shelf): Machine[] => machinesFor(inputs, shelf).slice(0, 1);

export function optionsOf(found: readonly Candidate[], machines: readonly Machine[], inputs: Inputs): Option[] {
  return found.flatMap(({ tool, size }) =>
    machines.map((machine) => ({
      tool,
      size,
      bond: tool.bond,
      scratch: scratchOf(tool, size),
      machine,
      cut: cutOf(tool, size, machine, inputs),
    })),
  );
}

export const depthOf = (inputs: Inputs): number => inputs.depth ?? usualDepth(inputs);

/** Undefined where no tool of the shelf may be the last. */
export function search(found: readonly Candidate[], task: Task, inputs: Inputs): Found | undefined {
  const options = optionsOf(found, task.machines, inputs);
  const rules = rulesFor(options, task, inputs);
  const path = leastPath(options, {
    cost: costsOf(inputs),
    faults: (to, from) => rules(to, from).reduce((sum, fault) => sum + weightOf(fault, to, from), 0),
    isLast: ({ tool }) => task.isLast(tool),
  });
  return path && { path, faults: path.map((at, i) => rules(at, path[i - 1])) };
}

/** One leap over many grits is worse than a few steps that are somewhat too large. */
const weightOf = (fault: Fault, to: Option, from: Option | undefined) =>
  WEIGHTS[fault] * (fault === "order" && from ? 1 + Math.log(from.size / to.size) ** 2 : 1);

/** Cost of a stage by what was there before, as `estimate` has it; the same passes are priced once. */
function costsOf(inputs: Inputs) {
  const known = new Map<Option, Map<number, number>>();
  const depth = depthOf(inputs);
  return (to: Option, from: Option | undefined): number => {
    const { passes } = passesFor(to.tool, from?.scratch ?? depth, to.scratch, to.cut, inputs);
    const costs = known.get(to) ?? new Map<number, number>();
    const cost = costs.get(passes) ?? toolStage(to.tool, to.machine, { passes, cut: to.cut }, inputs).cost;
    known.set(to, costs.set(passes, cost));
    return cost;
  };
}

const isSuited = (tool: Tool, inputs: Inputs) =>
  tool.bond !== "metal" || tool.matrix === null || tool.matrix === matrixFor(orStart(inputs, "hardness"));

/** Sizes and depths this close count as equal. */
const CLOSE = 1e-9;

/** The rules that a stage breaks, by what was there before it. */
function rulesFor(options: readonly Option[], task: Task, inputs: Inputs) {
  const depth = depthOf(inputs);
  const goesOn = goesOnFromGrit(inputs);
  const isTooDeep = ({ scratch }: Option) => scratch > depth * (1 + CLOSE);
  const opens = ({ bond }: Option) =>
    goesOn
      ? bond !== "resin" || (sizeLeft(inputs) ?? 0) < LEFT_BY_METAL
      : bond === "metal" || (!needsMetal && bond !== "resin");
  const needsMetal = needsMetalFirst(inputs);
  const least = task.startsAsUsual || inputs.surface === "coated" || inputs.finish === "coating" ? leastStart() : 0;

  /** The usual size to start from, or the coarsest that this depth and this shelf allow. */
  function leastStart(): number {
    if (goesOn) return 0;
    const able = options.filter((option) => !isTooDeep(option) && opens(option));
    const suited = able.filter(({ tool }) => isSuited(tool, inputs));
    const sizes = (suited.length > 0 ? suited : able).map(({ size }) => size);
    return Math.min(sizeOf(usualFirstGrit(inputs), MESH), Math.max(0, ...sizes)) * (1 - CLOSE);
  }

  return (to: Option, from: Option | undefined): Fault[] => {
    const faults: Fault[] = [];
    if (from ? verdictOn(from, to, inputs) !== "ok" : isTooDeep(to) || firstVerdict(to, inputs) !== "ok") {
      faults.push("order");
    }
    if (!from && !opens(to)) faults.push("opening");
    if (!from && to.size < least) faults.push("start");
    const { passes, needed } = passesFor(to.tool, from?.scratch ?? depth, to.scratch, to.cut, inputs);
    if (needed !== undefined && passes < needed) faults.push("short");
    if (!isSuited(to.tool, inputs)) faults.push("matrix");
    if (to.cut === undefined) faults.push("unmeasured");
    return faults;
  };
}

export const verdictOn = (from: Candidate, to: Candidate, inputs: Inputs): Verdict =>
  stepVerdict(from.size, to.size, from.tool.bond, to.tool.bond, orStart(inputs, "maxRatio"));

/** From the grit that the floor was left at; its bond is not known. */
export function firstVerdict({ size }: Candidate, inputs: Inputs): Verdict {
  if (!goesOnFromGrit(inputs)) return "ok";
  const left = sizeLeft(inputs);
  return left === undefined ? "too far" : stepVerdict(left, size, undefined, undefined, orStart(inputs, "maxRatio"));
}
