/** The sequence of least cost from the shelf, each stage on the machine that does it for least. */
import { CellFailure } from "../cell";
import { type Bond, scratchDepth } from "../grit";
import { cheapestPath, type Grinding } from "../planning";
import { MESH, sizeOf } from "../scale";
import { FIRST_GRIT_ON_COATING } from "../tables/usual-grits";
import { matrixFor } from "../tooling";
import { changeCostOf, cutOf, machinesFor, toolStage } from "./estimate";
import { type Inputs, orStart } from "./inputs";
import {
  type Candidate,
  candidatesOf,
  lastTool,
  needsMetalFirst,
  notesOn,
  type Proposal,
  stageOf,
  usualDepth,
  withLiquids,
} from "./proposal";
import type { Shelf } from "./shelf";

/** A tool on a machine. */
interface Option extends Candidate, Grinding {
  readonly machine: string;
  readonly costOfPass: number;
}

export function cheapest(inputs: Inputs, shelf: Shelf): Proposal {
  const notes = notesOn(inputs);
  const found = candidatesOf(inputs, shelf, notes);
  const last = lastTool(found, inputs);
  if (typeof last === "string") return { stages: [], notes: [...notes, last] };

  const uncut = new Set<string>();
  const options = found.flatMap((candidate) => optionsFor(candidate, inputs, shelf, uncut));
  if (uncut.size > 0) {
    notes.push(`Left out (no measured cut per pass): ${[...uncut].join(", ")}.`);
  }
  const task = {
    startScratch: inputs.depth ?? usualDepth(inputs),
    finishGrit: last.tool.grit,
    maxRatio: orStart(inputs, "maxRatio"),
    changeCost: changeCostOf(inputs),
  };
  const path = cheapestOf(options, (among) => cheapestPath(among, task, ({ costOfPass }) => costOfPass), inputs, notes);
  if (!path) return { stages: [], notes };
  const stages = path.map((at, i) => {
    const stage = { ...stageOf(at, path[i - 1], i === path.length - 1, inputs), machine: at.machine };
    return i > 0 ? stage : { ...stage, reason: `Cheapest start for removing ${Math.round(task.startScratch)} µm.` };
  });
  return { stages: withLiquids(stages, path, inputs, shelf, notes), notes };
}

function optionsFor({ tool, size }: Candidate, inputs: Inputs, shelf: Shelf, uncut: Set<string>): Option[] {
  const scratch = scratchDepth(size, tool.bond as Bond);
  const changeCost = changeCostOf(inputs);
  const options = machinesFor(inputs, shelf).flatMap((machine) => {
    const cut = cutOf(tool, size, machine, inputs);
    if (cut === undefined) {
      uncut.add(tool.name);
      return [];
    }
    const costOfPass = toolStage(tool, machine, 1, inputs).cost - changeCost;
    const { grit, bond } = tool;
    return [{ tool, size, grit, bond, scratch, cut, machine: machine.name, costOfPass }];
  });
  return options.filter((option, i) => !options.some((other, j) => isNeverDearer(other, option, j < i)));
}

/** Cuts as deep for as little, and is better in one of the two or listed first: the search need not look at the other. */
const isNeverDearer = (a: Option, than: Option, isFirst: boolean) =>
  a.cut >= than.cut &&
  a.costOfPass <= than.costOfPass &&
  (isFirst || a.cut > than.cut || a.costOfPass < than.costOfPass);

/** What usually comes first on such a floor, where the cheapest start is something else. */
function doubtsAbout({ tool, bond, size }: Option, inputs: Inputs): string[] {
  const cheap = `Starting with ${tool.name} is cheapest by cut per pass`;
  if (needsMetalFirst(inputs) && bond !== "metal") return [`${cheap}, but metal usually opens this floor.`];
  if (inputs.surface !== "coated" || size >= sizeOf(FIRST_GRIT_ON_COATING, MESH)) return [];
  return [`${cheap}, but ${FIRST_GRIT_ON_COATING} grit or coarser usually comes first on a coating or adhesive.`];
}

/**
 * Among the tools whose matrix suits the slab; where they lead nowhere, among all of them, and that is told.
 * The price knows nothing of a matrix that glazes or wears away, nor of a resin that meets a rough slab.
 */
function cheapestOf(
  options: Option[],
  search: (among: Option[]) => Option[],
  inputs: Inputs,
  notes: string[],
): Option[] | undefined {
  const wanted = matrixFor(orStart(inputs, "hardness"));
  const suited = options.filter(({ bond, tool }) => bond !== "metal" || tool.matrix === null || tool.matrix === wanted);
  const unsuited = `No sequence works with a ${wanted} matrix alone, so some tools may wear fast or glaze on this slab.`;
  const attempts = [
    { among: suited, note: undefined },
    { among: options, note: unsuited },
  ];
  let why = "";
  for (const { among, note } of attempts) {
    try {
      const path = search(among);
      if (note) notes.push(note);
      notes.push(...doubtsAbout(path[0]!, inputs));
      return path;
    } catch (failure) {
      if (!(failure instanceof CellFailure)) throw failure;
      why = failure.message;
    }
  }
  notes.push(`The shelf has no workable sequence: ${why}.`);
  return undefined;
}
