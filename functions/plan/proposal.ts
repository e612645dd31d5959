/**
 * Proposes a sequence of stages from the shelf: a first tool that fits the surface, then the fewest tools whose steps
 * are all in order, up to the last grit of the finish. Common practice, always editable.
 */
import { CellFailure } from "../cell";
import { type Bond, scratchDepth, stepVerdict } from "../grit";
import { MESH, NAMED_SCALES, type Scale, sizeOf } from "../scale";
import { EXPOSURE_CLASSES } from "../tables/aggregate-exposure";
import { coatingClass, GRINDING_PROFILES, grindingSuits } from "../tables/surface-profile";
import {
  DENSIFY_BELOW,
  FIRST_GRIT_BY_EXPOSURE,
  FIRST_GRIT_ON_COATING,
  LAST_GRIT_BY_FINISH,
  lastGritForProfile,
  POLISH_BELOW,
} from "../tables/usual-grits";
import { matrixFor } from "../tooling";
import { convert } from "../units";
import { type Inputs, orStart, sizeOrFailure } from "./inputs";
import { BONDS, type Shelf, type Tool } from "./shelf";

export const WORKS = ["grind", "hone", "polish", "densify", "guard"] as const;
export type Work = (typeof WORKS)[number];

/** One row of the stage table: what is done, and with which tool or liquid of the shelf. */
export interface Stage {
  work: Work;
  tool: string;
  /** One of the machines table; left out, the machine of the inputs. */
  machine?: string;
  reason: string;
}

/** A stage as it is priced and written. */
export type PlannedStage = Pick<Stage, "work" | "tool" | "machine">;

export interface Proposal {
  stages: Stage[];
  /** What the estimator should know about it. */
  notes: string[];
}

const coatingOf = (inputs: Inputs) => coatingClass(convert(inputs.film ?? 0, "filmThickness", inputs.units, "us"));

/** The last grit that a blank one stands for. */
export function usualLastGrit(inputs: Inputs): number {
  if (inputs.finish === "coating") return lastGritForProfile(coatingOf(inputs).leastProfile);
  if (inputs.finish === "by grit") return inputs.lastGrit ?? LAST_GRIT_BY_FINISH.polished;
  return LAST_GRIT_BY_FINISH[inputs.finish];
}

/** Depth that has to come off before the first scratch is the last one, µm; what a blank depth stands for. */
export function usualDepth(inputs: Inputs): number {
  if (inputs.surface === "ground") return deepestScratch(orStart(inputs, "groundGrit"), NAMED_SCALES[inputs.scale]);
  const last = lastSize(inputs);
  // The last tool may be the only one, and none may start that scratches deeper than there is to take off.
  const byLast = last instanceof CellFailure ? 0 : scratchDepth(last, "metal");
  return Math.max(leastCut(inputs), deepestScratch(firstGrit(inputs), MESH), byLast);
}

/** What has to come off to show the aggregate, µm. */
function leastCut({ surface, finish, exposure }: Inputs): number {
  if (surface === "coated" || finish === "coating") return 0;
  return EXPOSURE_CLASSES.find(({ letter }) => letter === exposure)!.olderCut[0];
}

/** Whoever ground it, a metal tool leaves the deepest scratch. */
const deepestScratch = (grit: number, scale: Scale) => scratchDepth(sizeOf(grit, scale), "metal");

/** The grit to start from on a floor that is not ground yet. */
function firstGrit(inputs: Inputs): number {
  if (inputs.surface === "coated") return FIRST_GRIT_ON_COATING;
  if (inputs.finish === "coating") return usualLastGrit(inputs);
  return FIRST_GRIT_BY_EXPOSURE[inputs.exposure];
}

/** A tool's particle size, µm: the maker's own where the shelf has it, else from the scale. */
export const toolSize = (tool: Tool, inputs: Inputs): number =>
  tool.size ?? sizeOf(tool.grit, NAMED_SCALES[inputs.scale]);

/** A tool of the shelf with its size, µm. */
export interface Candidate {
  readonly tool: Tool;
  readonly size: number;
}

/** How far apart two sizes are, in ratio, whichever is the larger. */
const apart = (a: number, b: number) => Math.abs(Math.log(a / b));

// What makes one sequence better than another, in tools: every tool counts one, and a poor start, an unsuited matrix or
// a step out of order each outweigh the tools that they might save.
const POOR_START = 3;
const WRONG_MATRIX = 0.5;
const OUT_OF_ORDER = 100;
const UNEVEN = 0.1;

export function propose(inputs: Inputs, shelf: Shelf): Proposal {
  const notes = notesOn(inputs);
  const candidates = candidatesOf(inputs, shelf, notes);
  const last = lastTool(candidates, inputs);
  if (typeof last === "string") return { stages: [], notes: [...notes, last] };
  const path = cheapestPath(candidates, last, inputs);
  const stages = path.map((at, i) => stageOf(at, path[i - 1], i === path.length - 1, inputs));
  notes.push(...troubles(path, inputs));
  return { stages: withLiquids(stages, path, inputs, shelf, notes), notes };
}

/** The tools that may be used, with their sizes; one whose grit the scale does not know is told and left out. */
export function candidatesOf(inputs: Inputs, shelf: Shelf, notes: string[]): Candidate[] {
  const candidates: Candidate[] = [];
  for (const tool of shelf.tools) {
    if (inputs.finish === "coating" && tool.bond !== "metal") continue;
    const size = sizeOrFailure(() => toolSize(tool, inputs));
    if (size instanceof CellFailure) notes.push(`${tool.name} is left out: ${size.message}.`);
    else candidates.push({ tool, size });
  }
  return candidates;
}

/** The tool to end with, or why there is none. */
export function lastTool(candidates: Candidate[], inputs: Inputs): Candidate | string {
  const wanted = lastSize(inputs);
  if (wanted instanceof CellFailure) return `${wanted.message}.`;
  const none = `The shelf has no ${inputs.finish === "coating" ? "metal tools" : "tools"}; fill in the tooling table.`;
  return nearestTo(wanted, candidates, inputs) ?? none;
}

/** Size of the last grit: the user's on the chosen scale, or the usual one, which is a mesh number. */
const lastSize = (inputs: Inputs) =>
  sizeOrFailure(() =>
    inputs.lastGrit === null
      ? sizeOf(usualLastGrit(inputs), MESH)
      : sizeOf(inputs.lastGrit, NAMED_SCALES[inputs.scale]),
  );

/** The tool nearest in size to the last grit; of equally near ones, the bond that suits the finish. */
function nearestTo(size: number, candidates: Candidate[], inputs: Inputs): Candidate | undefined {
  const metalLast = inputs.finish === "coating" || inputs.finish === "flat";
  const unsuited = ({ tool }: Candidate) =>
    (metalLast ? BONDS.indexOf(tool.bond) : -BONDS.indexOf(tool.bond)) * 1e-3 + matrixCost(tool, inputs) * 1e-4;
  const rank = (candidate: Candidate) => apart(candidate.size, size) + unsuited(candidate);
  return candidates.reduce<Candidate | undefined>((best, c) => (!best || rank(c) < rank(best) ? c : best), undefined);
}

/** A hard slab wants a soft matrix and a soft slab a hard one; a tool without a matrix fits less well than the right one. */
function matrixCost(tool: Tool, inputs: Inputs): number {
  if (tool.bond !== "metal" || tool.matrix === matrixFor(orStart(inputs, "hardness"))) return 0;
  return tool.matrix === null ? WRONG_MATRIX / 2 : WRONG_MATRIX;
}

/** Tools in the order they could be used: metal before transitional before resin, coarse before fine. */
const inOrder = (a: Candidate, b: Candidate) =>
  BONDS.indexOf(a.tool.bond) - BONDS.indexOf(b.tool.bond) || b.size - a.size;

/** Cheapest path over the shelf in order, from a fitting first tool to the last one. */
function cheapestPath(candidates: Candidate[], last: Candidate, inputs: Inputs): Candidate[] {
  const ordered = [...candidates].sort(inOrder);
  const reach = ordered.map((c) => ({ cost: startCost(c, inputs) + 1 + matrixCost(c.tool, inputs), from: -1 }));
  for (let j = 0; j < ordered.length; j++) {
    for (let i = 0; i < j; i++) {
      const cost =
        reach[i]!.cost + stepCost(ordered[i]!, ordered[j]!, inputs) + 1 + matrixCost(ordered[j]!.tool, inputs);
      if (cost < reach[j]!.cost) reach[j] = { cost, from: i };
    }
  }
  const path: Candidate[] = [];
  for (let at = ordered.indexOf(last); at >= 0; at = reach[at]!.from) path.unshift(ordered[at]!);
  return path;
}

function startCost({ tool, size }: Candidate, inputs: Inputs): number {
  if (inputs.surface !== "ground") {
    const tooSoft = tool.bond !== "metal" && needsMetalFirst(inputs);
    return POOR_START * apart(size, sizeOf(firstGrit(inputs), MESH)) + (tooSoft ? 2 * OUT_OF_ORDER : 0);
  }
  const left = sizeOrFailure(() => sizeOf(orStart(inputs, "groundGrit"), NAMED_SCALES[inputs.scale]));
  if (left instanceof CellFailure) return OUT_OF_ORDER;
  return stepVerdict(left, size, undefined, undefined, orStart(inputs, "maxRatio")) === "ok" ? 0 : OUT_OF_ORDER;
}

/** Opening the aggregate or taking a coating off is work for a metal bond; a cement-fines floor may start softer. */
export const needsMetalFirst = ({ surface, exposure }: Inputs) =>
  surface === "coated" || (surface === "bare" && exposure !== "A");

const verdict = (from: Candidate, to: Candidate, inputs: Inputs) =>
  stepVerdict(from.size, to.size, from.tool.bond as Bond, to.tool.bond as Bond, orStart(inputs, "maxRatio"));

const stepCost = (from: Candidate, to: Candidate, inputs: Inputs) =>
  (verdict(from, to, inputs) === "ok" ? 0 : OUT_OF_ORDER) + UNEVEN * Math.log(from.size / to.size) ** 2;

/** What a tool's stage does: metal grinds, then honing, and fine resin polishes. */
export function workOf(tool: Tool, size: number): Work {
  if (tool.bond === "metal") return "grind";
  return tool.bond === "resin" && size < POLISH_BELOW ? "polish" : "hone";
}

export function stageOf(at: Candidate, before: Candidate | undefined, isLast: boolean, inputs: Inputs): Stage {
  const { tool, size } = at;
  return { work: workOf(tool, size), tool: tool.name, reason: reasonFor(at, before, isLast, inputs) };
}

function reasonFor(at: Candidate, before: Candidate | undefined, isLast: boolean, inputs: Inputs): string {
  if (!before) {
    if (inputs.surface === "ground") return `Continues from the existing ${inputs.groundGrit} grit.`;
    if (inputs.surface === "coated") return "Coarse start to remove the coating or adhesive.";
    if (inputs.finish === "coating") return "Leaves the profile the coating needs.";
    return `Usual start for exposure class ${inputs.exposure}.`;
  }
  const ratio = (before.size / at.size).toFixed(1);
  if (before.tool.bond === at.tool.bond) return isLast ? `Last grit, ${ratio}× finer.` : `${ratio}× finer.`;
  if (before.tool.bond === "metal" && at.tool.bond === "transitional") return "Removes metal scratches before resin.";
  return `Moves from ${before.tool.bond} to ${at.tool.bond}.`;
}

export function notesOn(inputs: Inputs): string[] {
  if (inputs.finish !== "coating") return [];
  const coating = coatingOf(inputs);
  const wanted = `A ${coating.name} needs a profile of CSP ${coating.leastProfile} to ${coating.mostProfile}`;
  const { least, most } = GRINDING_PROFILES;
  if (grindingSuits(coating)) return [`${wanted}. Check the manufacturer's data sheet first.`];
  return [`${wanted}; grinding leaves CSP ${least} to ${most}. Use another method, such as shot blasting.`];
}

/** Steps that the shelf cannot make in order, and unsuited matrices. */
function troubles(path: Candidate[], inputs: Inputs): string[] {
  const notes: string[] = [];
  path.forEach((at, i) => {
    const before = path[i - 1];
    const found = before ? verdict(before, at, inputs) : "ok";
    if (before && found !== "ok") {
      notes.push(`The shelf has no good step from ${before.tool.name} to ${at.tool.name}: ${found}.`);
    }
  });
  const wanted = matrixFor(orStart(inputs, "hardness"));
  const unsuited = path.filter(({ tool }) => tool.bond === "metal" && tool.matrix !== null && tool.matrix !== wanted);
  if (unsuited.length > 0) {
    const names = unsuited.map(({ tool }) => tool.name).join(", ");
    notes.push(
      `This slab needs a ${wanted} matrix. The shelf has none at this grit, so ${names} may wear fast or glaze.`,
    );
  }
  return notes;
}

/** Densifier into the honing and a guard at the end, for floors that stay visible. */
export function withLiquids(
  stages: Stage[],
  path: readonly Candidate[],
  inputs: Inputs,
  shelf: Shelf,
  notes: string[],
): Stage[] {
  if (!["satin", "polished", "highly polished"].includes(inputs.finish)) return stages;
  const densifier = shelf.liquids.find((liquid) => liquid.work === "densify");
  const guard = shelf.liquids.find((liquid) => liquid.work === "guard");
  if (!densifier) notes.push("The shelf has no densifier, so the sequence has none.");
  const open = path.findIndex(({ size }) => size <= DENSIFY_BELOW);
  const after = open < 0 ? path.length : open + 1;
  const densify: Stage[] = densifier
    ? [
        {
          work: "densify",
          tool: densifier.name,
          reason: "Hardens the surface before finer tools close it.",
        },
      ]
    : [];
  const protect: Stage[] = guard ? [{ work: "guard", tool: guard.name, reason: "Protects the finished floor." }] : [];
  return [...stages.slice(0, after), ...densify, ...stages.slice(after), ...protect];
}
