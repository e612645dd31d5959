/**
 * Proposes a sequence of stages from the shelf: a first tool at least as coarse as usual on such a floor, then what takes
 * off depth and scratches for the least money in steps that are all in order. Common practice, always editable.
 */
import { CellFailure } from "../answer";
import { GRINDING_PROFILES, grindingSuits } from "../tables/surface-profile";
import { DENSIFY_BELOW } from "../tables/usual-grits";
import { matrixFor } from "../tooling";
import { type Inputs, orStart, sizeOrFailure } from "./inputs";
import { type Candidate, depthOf, type Fault, type Found, firstVerdict, ownMachine, search, verdictOn } from "./search";
import { BONDS, type Shelf } from "./shelf";
import { type PlannedStage, scratchLeft, toolSize, workOf } from "./stage";
import { coatingOf, goesOnFromGrit, isThinFilm, lastSize } from "./usual";
import type { LiquidWork } from "./works";

/** One row of the stage table, and why it is there. */
export interface Stage extends PlannedStage {
  reason: string;
}

export interface Proposal {
  stages: Stage[];
  /** What the estimator should know about it. */
  notes: string[];
}

/** How far apart two sizes are, in ratio, whichever is the larger. */
const apart = (a: number, b: number) => Math.abs(Math.log(a / b));

export function propose(inputs: Inputs, shelf: Shelf): Proposal {
  const notes = notesOn(inputs);
  const candidates = candidatesOf(inputs, shelf, notes);
  const last = lastTool(candidates, inputs);
  if (typeof last === "string") return { stages: [], notes: [...notes, last] };
  const task = { machines: ownMachine(inputs, shelf), startsAsUsual: true, isLast: endsOn(last, inputs) };
  const found = search(candidates, task, onceStripped(inputs, shelf))!;
  notes.push(...troubles(found, inputs));
  return { stages: withOthers(found.path, inputs, shelf, notes), notes };
}

/** The tool that takes a coating or adhesive off before the floor is ground; without one, coarse metal does both. */
const stripper = ({ surface }: Inputs, { tools }: Shelf) =>
  surface === "coated" ? tools.find(({ stripRate }) => stripRate !== null) : undefined;

/** The floor as the first grinding tool finds it. */
export function onceStripped(inputs: Inputs, shelf: Shelf): Inputs {
  const tool = stripper(inputs, shelf);
  return tool ? { ...inputs, depth: Math.max(depthOf(inputs), scratchLeft(tool, inputs)) } : inputs;
}

/** The tools that may be used, with their sizes; one whose grit the scale does not know is told and left out. */
export function candidatesOf(inputs: Inputs, shelf: Shelf, notes: string[]): Candidate[] {
  const candidates: Candidate[] = [];
  for (const tool of shelf.tools) {
    if (tool.stripRate !== null) continue;
    if (needsMetalOnly(inputs) && tool.bond !== "metal") continue;
    const size = sizeOrFailure(() => toolSize(tool, inputs));
    if (size instanceof CellFailure) notes.push(`${tool.name} is left out: ${size.message}.`);
    else candidates.push({ tool, size });
  }
  return candidates;
}

/** A thick film holds on to what metal leaves. */
const needsMetalOnly = (inputs: Inputs) => inputs.finish === "coating" && !isThinFilm(inputs);

/** Under a thin film the last tool is a hone, unless the user has set the last grit. */
const mayBeLast = ({ bond }: Candidate["tool"], inputs: Inputs) =>
  bond !== "metal" || !isThinFilm(inputs) || inputs.lastGrit !== null;

/** Any tool of the last grit, whatever its bond or matrix. */
export const endsOn = (last: Candidate, inputs: Inputs) => (tool: Candidate["tool"]) =>
  tool.grit === last.tool.grit && mayBeLast(tool, inputs);

/** The tool to end with, or why there is none. */
export function lastTool(candidates: readonly Candidate[], inputs: Inputs): Candidate | string {
  const wanted = lastSize(inputs);
  if (wanted instanceof CellFailure) return `${wanted.message}.`;
  const able = candidates.filter(({ tool }) => mayBeLast(tool, inputs));
  const none = `The shelf has no ${needsMetalOnly(inputs) ? "metal tools" : "tools"}; fill in the tooling table.`;
  return nearestTo(wanted, able.length > 0 ? able : candidates, inputs) ?? none;
}

/** The tool nearest in size to the last grit; of equally near ones, the bond that suits the finish. */
function nearestTo(size: number, candidates: readonly Candidate[], { finish }: Inputs): Candidate | undefined {
  const metalLast = finish === "coating" || finish === "flat";
  const unsuited = ({ tool }: Candidate) => (metalLast ? 1 : -1) * BONDS.indexOf(tool.bond) * 1e-3;
  const rank = (candidate: Candidate) => apart(candidate.size, size) + unsuited(candidate);
  return candidates.reduce<Candidate | undefined>((best, c) => (!best || rank(c) < rank(best) ? c : best), undefined);
}

/** Why a tool comes where it does. */
function reasonFor(
  at: Candidate,
  before: Candidate | undefined,
  { isLast, isStripped }: { readonly isLast: boolean; readonly isStripped: boolean },
  inputs: Inputs,
): string {
  if (!before) {
    if (goesOnFromGrit(inputs)) return `Continues from the existing ${inputs.groundGrit} grit.`;
    if (isStripped) return "Coarse start: takes out what stripping leaves.";
    if (inputs.surface === "coated") return "Coarse start to remove the coating or adhesive.";
    if (inputs.finish === "coating") return profileReason(inputs);
    return `Usual start for exposure class ${inputs.exposure}.`;
  }
  if (isLast && isThinFilm(inputs) && at.tool.bond !== "metal")
    return "Hones metal scratches that this thin film would show; a thick one hides them.";
  const ratio = (before.size / at.size).toFixed(1);
  if (before.tool.bond === at.tool.bond) return isLast ? `Last grit, ${ratio}× finer.` : `${ratio}× finer.`;
  if (before.tool.bond === "metal" && at.tool.bond === "transitional") return "Takes out the metal scratches.";
  return `Moves from ${before.tool.bond} to ${at.tool.bond}.`;
}

function profileReason(inputs: Inputs): string {
  const coating = coatingOf(inputs);
  const { name, leastProfile, mostProfile } = coating;
  if (!grindingSuits(coating)) return `The roughest profile that grinding leaves, CSP ${GRINDING_PROFILES.most}.`;
  return `For the CSP ${leastProfile} to ${mostProfile} of a ${name}; check its data sheet first.`;
}

/** A profile that grinding cannot leave. */
export function notesOn(inputs: Inputs): string[] {
  if (inputs.finish !== "coating") return [];
  const coating = coatingOf(inputs);
  if (grindingSuits(coating)) return [];
  const { least, most } = GRINDING_PROFILES;
  return [
    `A ${coating.name} needs a profile of CSP ${coating.leastProfile} to ${coating.mostProfile}; grinding leaves CSP ${least} to ${most}. Use another method, such as shot blasting.`,
  ];
}

/** What a sequence breaks of the rules of the trade, since nothing on the shelf keeps to them. */
export function troubles({ path, faults }: Found, inputs: Inputs): string[] {
  const notes: string[] = [];
  const namesWith = (fault: Fault) =>
    path
      .filter((_, i) => faults[i]!.includes(fault))
      .map(({ tool }) => tool.name)
      .join(", ");
  const [first] = path;
  path.forEach((at, i) => {
    const before = path[i - 1];
    if (!before || !faults[i]!.includes("order")) return;
    notes.push(
      `The shelf has no good step from ${before.tool.name} to ${at.tool.name}: ${verdictOn(before, at, inputs)}.`,
    );
  });
  if (faults[0]!.includes("order")) {
    const verdict = firstVerdict(first!, inputs);
    notes.push(
      verdict === "ok"
        ? `${first!.tool.name} leaves a deeper scratch than the depth to remove.`
        : `The shelf has no good step from the existing ${inputs.groundGrit} grit to ${first!.tool.name}: ${verdict}.`,
    );
  }
  if (faults[0]!.includes("opening"))
    notes.push(`Starts with ${first!.tool.name}, but ${opener(inputs)} usually opens this floor.`);
  const unsuited = namesWith("matrix");
  if (unsuited) {
    const wanted = matrixFor(orStart(inputs, "hardness"));
    notes.push(
      `This slab needs a ${wanted} matrix. The shelf has none at this grit, so ${unsuited} may wear fast or glaze.`,
    );
  }
  const unmeasured = namesWith("unmeasured");
  if (unmeasured) notes.push(`No cut per pass on the shelf for ${unmeasured}: passes as listed, which may be too few.`);
  return notes;
}

const opener = (inputs: Inputs) =>
  inputs.exposure === "A" || goesOnFromGrit(inputs) ? "metal or a transitional" : "metal";

/** A path's stages with all that goes before, between and after them: stripping, fillers, grout, densifier, coats, guard. */
export function withOthers(
  path: readonly (Candidate & { readonly machine: { readonly name: string } })[],
  inputs: Inputs,
  shelf: Shelf,
  notes: string[],
): Stage[] {
  const strip = stripper(inputs, shelf);
  const ground = path.map((at, i): Stage => {
    const { tool, size, machine } = at;
    const place = { isLast: i === path.length - 1, isStripped: strip !== undefined };
    const reason = reasonFor(at, path[i - 1], place, inputs);
    return { work: workOf(tool, size), tool: tool.name, machine: machine.name, reason };
  });
  const liquid = (work: keyof typeof LIQUID_NAMES, reason: string, isWanted: boolean): Stage[] => {
    if (!isWanted) return [];
    const found = shelf.liquids.find((row) => row.work === work);
    if (found) return [{ work, tool: found.name, reason }];
    notes.push(`The shelf has no ${LIQUID_NAMES[work]}, so the sequence has none.`);
    return [];
  };
  const bonds = path.map(({ tool }) => tool.bond);
  const lastMetal = Math.max(0, bonds.lastIndexOf("metal"));
  const isCoating = inputs.finish === "coating";
  const isSeen = ["satin", "polished", "highly polished"].includes(inputs.finish);
  const places = isSeen ? densifyAfter(path, inputs) : [];
  const densifier = liquid("densify", "", isSeen);
  const densify = (i: number) =>
    places.includes(i) ? densifier.map((stage) => ({ ...stage, reason: densifyReason(places.indexOf(i)) })) : [];
  const fillers = [
    ...liquid("cracks", FILLED, (inputs.crackLength ?? 0) > 0),
    ...liquid("joints", FILLED, (inputs.jointLength ?? 0) > 0),
  ];
  const grout = liquid("grout", "Fills pinholes once the floor is open.", !isCoating && inputs.grout === "yes");
  const regrind = grout.map(() => ({ ...ground[lastMetal]!, reason: "The same grit again takes off surplus grout." }));
  return [
    ...(strip ? [{ work: "strip", tool: strip.name, reason: "Takes off the coating or adhesive." } as const] : []),
    ...ground.flatMap((stage, i) =>
      i === lastMetal ? [...fillers, stage, ...grout, ...regrind, ...densify(i)] : [stage, ...densify(i)],
    ),
    ...liquid("coat", "The coating that this profile is for.", isCoating && inputs.coats === "yes"),
    ...liquid("guard", "Protects the finished floor.", isSeen),
  ];
}

/** What a row of the liquids table is called that does this work. */
const LIQUID_NAMES = {
  densify: "densifier",
  guard: "guard",
  grout: "grout",
  coat: "coating",
  joints: "joint filler",
  cracks: "crack filler",
} as const satisfies Partial<Record<LiquidWork, string>>;

const FILLED = "Filled before the last metal tool, which grinds it flush.";

/** The stages after which densifier goes on: where the slab is open, and still takes it. */
function densifyAfter(path: readonly Candidate[], inputs: Inputs): number[] {
  const places = DENSIFY_BELOW[matrixFor(orStart(inputs, "hardness"))].map((below) => {
    const open = path.findIndex(({ size }) => size <= below);
    return open < 0 ? path.length - 1 : open;
  });
  return [...new Set(places)];
}

const densifyReason = (round: number) =>
  round === 0 ? "Hardens the surface before finer tools close it." : "A soft slab takes it once more.";
