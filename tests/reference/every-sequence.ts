/**
 * The contract of CHEAPESTSTEPS said a second time, as plainly as it goes, to hold the search against: the rules of a
 * step, what a step costs, and every sequence that a shelf allows. Nothing here comes from functions/.
 */

export type Bond = "metal" | "transitional" | "resin";

/** Grit, bond, particle size and cut per pass (µm), floor that a set works in one pass, price of a set. */
export interface ShelfTool {
  readonly grit: number | string;
  readonly bond: Bond;
  readonly size: number;
  readonly cut: number;
  readonly life: number;
  readonly price: number;
}

export interface Floor {
  readonly area: number;
  readonly hourCost: number;
  readonly areaRate: number;
  readonly startScratch: number;
  readonly finishGrit: number | string;
  readonly maxRatio: number;
  readonly changeCost: number;
}

/** In the order a floor meets them. */
export const BONDS: readonly Bond[] = ["metal", "transitional", "resin"];

const SHARES: Record<Bond, number> = { metal: 0.5, transitional: 0.35, resin: 0.2 };

/** So little decides nothing: 0.35 × 180 is 62.999… in binary. */
const HAIR = 1e-9;

/** Depth of the scratch that a tool leaves, µm. */
export const depthOf = ({ bond, size }: ShelfTool) => SHARES[bond] * size;

/** Whether one tool may follow another: finer in the same bond, or on to the next bond with at most half of it given back. */
function mayFollow(before: ShelfTool, next: ShelfTool, maxRatio: number): boolean {
  const bondsOn = BONDS.indexOf(next.bond) - BONDS.indexOf(before.bond);
  const ratio = before.size / next.size;
  if (ratio > maxRatio) return false;
  return bondsOn === 0 ? ratio > 1 : bondsOn === 1 && ratio >= 0.5;
}

export const isAllowed = (next: ShelfTool, before: ShelfTool | undefined, floor: Floor) =>
  before ? mayFollow(before, next, floor.maxRatio) : depthOf(next) <= floor.startScratch + HAIR;

export function passesOf(next: ShelfTool, before: ShelfTool | undefined, floor: Floor): number {
  const there = before ? depthOf(before) : floor.startScratch;
  return Math.max(1, Math.ceil((there - depthOf(next)) / next.cut - HAIR));
}

export function costOfStep(next: ShelfTool, before: ShelfTool | undefined, floor: Floor): number {
  const pass = floor.area * (floor.hourCost / floor.areaRate + next.price / next.life);
  return passesOf(next, before, floor) * pass + floor.changeCost;
}

export const costOf = (sequence: readonly ShelfTool[], floor: Floor): number =>
  sequence.reduce((sum, tool, i) => sum + costOfStep(tool, sequence[i - 1], floor), 0);

/** Every subset of the shelf in every order, as far as each step is allowed and the last tool has the finishing grit. */
export function everySequence<T extends ShelfTool>(shelf: readonly T[], floor: Floor): T[][] {
  const found: T[][] = [];
  const goOn = (sequence: readonly T[]) => {
    for (const next of shelf) {
      if (sequence.includes(next) || !isAllowed(next, sequence.at(-1), floor)) continue;
      const longer = [...sequence, next];
      if (next.grit === floor.finishGrit) found.push(longer);
      goOn(longer);
    }
  };
  goOn([]);
  return found;
}

/** The trade's habit: begin as coarse as allowed, then each time take the tool whose size is nearest to half. */
export function doubling<T extends ShelfTool>(shelf: readonly T[], floor: Floor): T[] | undefined {
  const allowedAfter = (before: T | undefined) => shelf.filter((tool) => isAllowed(tool, before, floor));
  const sequence: T[] = [];
  let next = allowedAfter(undefined).sort((a, b) => depthOf(b) - depthOf(a))[0];
  while (next) {
    sequence.push(next);
    if (next.grit === floor.finishGrit) return sequence;
    const { size } = next;
    const offDouble = (tool: T) => Math.abs(Math.log(size / tool.size / 2));
    next = allowedAfter(next).sort((a, b) => offDouble(a) - offDouble(b))[0];
  }
  return undefined;
}
