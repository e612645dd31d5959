/** What a blank last grit and a blank depth stand for, and where such a floor usually starts. Common practice, no source. */
import { CellFailure } from "../answer";
import { scratchDepth } from "../grit";
import { MESH, NAMED_SCALES, type Scale, sizeOf } from "../scale";
import { exposureClass } from "../tables/aggregate-exposure";
import { coatingClass } from "../tables/surface-profile";
import { COMMON_GRITS } from "../tables/trade-grits";
import {
  FIRST_GRIT_BY_EXPOSURE,
  FIRST_GRIT_ON_COATING,
  gritForProfile,
  LAST_GRIT_BY_FINISH,
  LAST_GRIT_UNDER_THIN_FILM,
  THIN_FILM,
} from "../tables/usual-grits";
import { convert } from "../units";
import { type Inputs, orStart, sizeOrFailure } from "./inputs";

export const coatingOf = (inputs: Inputs) =>
  coatingClass(convert(inputs.film ?? 0, "filmThickness", inputs.units, "us"));

/** A coating under which a metal scratch would show. */
export const isThinFilm = (inputs: Inputs): boolean =>
  inputs.finish === "coating" && coatingOf(inputs).upToMil <= THIN_FILM;

/** Size of the grit that the floor was left at, µm; undefined where the scale does not know it. */
export function sizeLeft(inputs: Inputs): number | undefined {
  const size = sizeOrFailure(() => sizeOf(orStart(inputs, "groundGrit"), NAMED_SCALES[inputs.scale]));
  return size instanceof CellFailure ? undefined : size;
}

/** Whether the work goes on from the grit that is there; a coating that asks for a rougher floor starts anew. */
export function goesOnFromGrit(inputs: Inputs): boolean {
  if (inputs.surface !== "ground") return false;
  if (inputs.finish !== "coating") return true;
  const left = sizeLeft(inputs);
  const last = lastSize(inputs);
  return left === undefined || last instanceof CellFailure || last < left;
}

/** The last grit that a blank one stands for. */
export function usualLastGrit(inputs: Inputs): number {
  if (inputs.finish === "coating") {
    return isThinFilm(inputs) ? LAST_GRIT_UNDER_THIN_FILM : gritForProfile(coatingOf(inputs).leastProfile);
  }
  if (inputs.finish === "by grit") return inputs.lastGrit ?? LAST_GRIT_BY_FINISH.polished;
  const usual = LAST_GRIT_BY_FINISH[inputs.finish];
  const left = inputs.surface === "ground" ? sizeLeft(inputs) : undefined;
  if (left === undefined || sizeOf(usual, MESH) < left) return usual;
  // The floor is finer already: one step on gives it one pattern of scratches.
  return COMMON_GRITS.find((grit) => sizeOf(grit, MESH) < left) ?? usual;
}

/** Size of the last grit, µm: the user's on the chosen scale, or the usual one, which is a mesh number. */
export const lastSize = (inputs: Inputs): number | CellFailure =>
  sizeOrFailure(() =>
    inputs.lastGrit === null
      ? sizeOf(usualLastGrit(inputs), MESH)
      : sizeOf(inputs.lastGrit, NAMED_SCALES[inputs.scale]),
  );

/** The grit that usually starts a floor which is not ground yet. */
export function usualFirstGrit(inputs: Inputs): number {
  if (inputs.surface === "coated") return FIRST_GRIT_ON_COATING;
  if (inputs.finish === "coating") return gritForProfile(coatingOf(inputs).leastProfile);
  return FIRST_GRIT_BY_EXPOSURE[inputs.exposure];
}

/** Opening the aggregate, taking a coating off or leaving a profile is work for a metal bond; class A may start softer. */
export const needsMetalFirst = (inputs: Inputs): boolean =>
  !goesOnFromGrit(inputs) && (inputs.surface === "coated" || inputs.finish === "coating" || inputs.exposure !== "A");

/** Depth that has to come off before the first scratch is the last one, µm; what a blank depth stands for. */
export function usualDepth(inputs: Inputs): number {
  const left =
    inputs.surface === "ground" ? deepestScratch(orStart(inputs, "groundGrit"), NAMED_SCALES[inputs.scale]) : 0;
  if (goesOnFromGrit(inputs)) return left;
  const byClass = inputs.finish === "coating" ? 0 : exposureClass(inputs.exposure).usualCut;
  const last = lastSize(inputs);
  // The last tool may be the only one, and none may start that scratches deeper than there is to take off.
  const byLast = last instanceof CellFailure ? 0 : scratchDepth(last, "metal");
  return Math.max(left, byClass, deepestScratch(usualFirstGrit(inputs), MESH), byLast);
}

/** Whoever ground it, a metal tool leaves the deepest scratch. */
const deepestScratch = (grit: number, scale: Scale) => scratchDepth(sizeOf(grit, scale), "metal");
