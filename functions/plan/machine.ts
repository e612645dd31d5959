/** What a machine's make-up decides: how its tools press, what they cut beside another machine, and what its power allows. */
import { contactPressure, cutPerCoefficient } from "../cutting";
import { CONCRETE_ENERGY, grindPower, supplyPower } from "../site";
import type { Inputs } from "./inputs";
import type { Machine, Tool } from "./shelf";

/** Sliding speed of a machine's tools; what the inputs say where its row doesn't. */
export const slideSpeedOf = (machine: Machine, { slideSpeed }: Inputs): number | null =>
  machine.slideSpeed ?? slideSpeed;

/**
 * What a machine cuts over what the inputs' machine cuts with the same tool, by Preston's law. 1 where a sliding speed is
 * not known: the shelf's cut then counts for every machine.
 */
export function cutBeside(machine: Machine, own: Machine, { slideSpeed, units }: Inputs): number {
  if (machine.slideSpeed === undefined || slideSpeed === null) return 1;
  const of = ({ load, width, speed }: Machine, at: number) =>
    cutPerCoefficient({ load, slideSpeed: at, width, speed, overlap: 0 }, units);
  return of(machine, machine.slideSpeed) / of(own, slideSpeed);
}

/**
 * Pressure of a machine's tools on the floor, psi | kPa; undefined where the shelf doesn't say their segments. No cut
 * depends on it: by Preston's law a smaller face presses harder, but is over each point for as much less time.
 */
export function pressureOf(
  { segments, segmentArea }: Tool,
  { load, toolsASet }: Machine,
  { units }: Inputs,
): number | undefined {
  if (!segments || !segmentArea) return undefined;
  return contactPressure(load, toolsASet * segments, segmentArea, units);
}

/** Power that the motor or the supply gives, whichever is less, kW; null where the table says neither. */
function powerThere({ motor, volts, amps, phases }: Machine): number | null {
  const supply = volts && amps ? supplyPower(volts, amps, phases ?? 1) : null;
  if (!motor) return supply;
  return supply === null ? motor : Math.min(motor, supply);
}

/** The deepest cut that a machine has the power for, at a share of its travel speed, µm; any where its power isn't known. */
export function deepestCut(machine: Machine, share: number, { overlap, units }: Inputs): number {
  const power = powerThere(machine);
  if (power === null) return Number.POSITIVE_INFINITY;
  const pass = { width: machine.width, speed: machine.speed * share, overlap: overlap ?? 0, energy: CONCRETE_ENERGY };
  return power / grindPower({ cut: 1, ...pass }, units);
}
