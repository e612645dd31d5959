/** Planning: the order of tools that takes a floor to its finish for the least money. */
import { badValue, finite, noAnswer } from "./answer";
import { AREA } from "./arguments";
import { block, isFilled, numberOrTextReader, numberReader, readAs, wordReader } from "./cell";
import { passesNeeded } from "./cutting";
import { amount, define, gritNumber, oneCell, rangeOf, UNITS } from "./declare";
import { ABOVE_0, FROM_0 } from "./domain";
import { BOND_ORDER, BONDS, type Bond, MAX_RATIO, scratchDepth, stepVerdict } from "./grit";
import { type Grit, isGritLabel, MESH, sizeOf } from "./scale";
import { setsUsed } from "./tooling";

/** How a tool grinds. */
interface Grinding {
  readonly grit: Grit;
  readonly bond: Bond;
  /** Particle size, depth of the scratch it leaves and depth one pass takes off, µm. */
  readonly size: number;
  readonly scratch: number;
  readonly cut: number;
}

/** A tool as the plan sees it. */
export interface PlanTool extends Grinding {
  /** Floor that one set works in one pass, ft² | m². */
  readonly life: number;
  /** Price of a set. */
  readonly price: number;
}

/** From what to what, and by which steps. */
interface GrindingTask {
  /** Depth of the scratches that are there, µm. */
  readonly startScratch: number;
  readonly finishGrit: Grit;
  readonly maxRatio: number;
  /** Money for each change of tools, the first one too. */
  readonly changeCost: number;
}

/** The floor to be worked, and what work costs. */
export interface PlanFloor extends GrindingTask {
  /** ft² | m². */
  readonly area: number;
  /** Crew and machine, money per hour. */
  readonly hourCost: number;
  /** One pass, ft²/h | m²/h. */
  readonly areaRate: number;
}

interface PlannedStep<T extends PlanTool> {
  readonly tool: T;
  /** Size of the tool before over this one's; the first tool has none before it. */
  readonly ratio: number | undefined;
  readonly passes: number;
  readonly hours: number;
  readonly sets: number;
  readonly cost: number;
}

/** Sizes and depths this close count as equal, so that the last digit of a product decides nothing. */
const CLOSE = 1e-9;

const passesFrom = (scratch: number, tool: Grinding) => passesNeeded(scratch, tool.scratch, tool.cut);

/** The first tool must not leave a deeper scratch than there is. */
const mayStart = (tool: Grinding, startScratch: number) => tool.scratch <= startScratch * (1 + CLOSE);

/** What a path over tools is searched by. */
interface Search<T> {
  /** Of working the floor with a tool after another, or first; infinite where it may not come there. */
  cost(tool: T, before: T | undefined): number;
  /** How badly that goes against what is right; fewer faults go before less cost. */
  faults?(tool: T, before: T | undefined): number;
  isLast(tool: T): boolean;
}

/** The best way to have worked the floor with a tool last: its faults, its cost, its length, and the tool before. */
interface Way {
  faults: number;
  cost: number;
  steps: number;
  before: number;
}

const NO_WAY: Way = { faults: Number.POSITIVE_INFINITY, cost: Number.POSITIVE_INFINITY, steps: 0, before: -1 };

function isBetter(faults: number, cost: number, steps: number, than: Way): boolean {
  if (faults !== than.faults) return faults < than.faults;
  return cost < than.cost || (cost === than.cost && steps < than.steps);
}

const NO_FAULTS = () => 0;

/**
 * The tools of the sequence of least total cost, exactly; among equally cheap ones the shorter, then the coarser, then the
 * one listed first. A step costs by the tool before it and by nothing earlier, so this is a shortest path from tool to
 * tool; and as an allowed step goes to a finer grit or on to the next bond, one walk in that order finds it.
 */
export function leastPath<T extends Pick<Grinding, "bond" | "size">>(
  tools: readonly T[],
  { cost, faults = NO_FAULTS, isLast }: Search<T>,
): T[] | undefined {
  const inOrder = [...tools].sort((a, b) => BOND_ORDER[a.bond] - BOND_ORDER[b.bond] || b.size - a.size);
  const ways: Way[] = [];
  for (const tool of inOrder) {
    const best = { ...NO_WAY };
    // Without an object for each step looked at, of which there are as many as tools squared.
    const consider = (step: number, stepFaults: number, before: number) => {
      const there = ways[before] ?? { faults: 0, cost: 0, steps: 0 };
      const all = there.faults + stepFaults;
      if (!isBetter(all, there.cost + step, there.steps + 1, best)) return;
      best.faults = all;
      best.cost = there.cost + step;
      best.steps = there.steps + 1;
      best.before = before;
    };
    const start = cost(tool, undefined);
    if (start < Number.POSITIVE_INFINITY) consider(start, faults(tool, undefined), -1);
    for (let i = 0; i < ways.length; i++) {
      const { faults: had, cost: spent } = ways[i]!;
      if (spent === Number.POSITIVE_INFINITY) continue;
      // No step costs less than nothing, so from here it could only be worse.
      if (had > best.faults || (had === best.faults && spent > best.cost)) continue;
      const from = inOrder[i]!;
      const step = cost(tool, from);
      if (step < Number.POSITIVE_INFINITY) consider(step, faults(tool, from), i);
    }
    ways.push(best);
  }

  let last = -1;
  inOrder.forEach((tool, i) => {
    const { faults: had, cost: spent, steps } = ways[i]!;
    if (!isLast(tool) || spent === Number.POSITIVE_INFINITY) return;
    if (last < 0 || isBetter(had, spent, steps, ways[last]!)) last = i;
  });
  if (last < 0) return undefined;
  const path: T[] = [];
  for (let at = last; at >= 0; at = ways[at]!.before) path.unshift(inOrder[at]!);
  return path;
}

const passCost = (tool: PlanTool, { area, hourCost, areaRate }: PlanFloor) =>
  (area * hourCost) / areaRate + setsUsed(area, tool.life) * tool.price;

/** The cheapest sequence, step by step, where one machine works at one rate with every tool. */
export function cheapestSteps<T extends PlanTool>(tools: readonly T[], floor: PlanFloor): PlannedStep<T>[] {
  const { startScratch, finishGrit, maxRatio, changeCost } = floor;
  const passCosts = new Map(tools.map((tool) => [tool, passCost(tool, floor)]));
  const path = leastPath(tools, {
    cost(tool, before) {
      const isAllowed = before
        ? stepVerdict(before.size, tool.size, before.bond, tool.bond, maxRatio) === "ok"
        : mayStart(tool, startScratch);
      if (!isAllowed) return Number.POSITIVE_INFINITY;
      return passesFrom(before?.scratch ?? startScratch, tool) * passCosts.get(tool)! + changeCost;
    },
    isLast: ({ grit }) => grit === finishGrit,
  });
  if (!path) throw noSequence(tools, floor);
  return path.map((tool, i) => planned(tool, path[i - 1], floor));
}

function planned<T extends PlanTool>(tool: T, before: T | undefined, floor: PlanFloor): PlannedStep<T> {
  const passes = passesFrom(before?.scratch ?? floor.startScratch, tool);
  return {
    tool,
    ratio: before && before.size / tool.size,
    passes,
    hours: (passes * floor.area) / floor.areaRate,
    sets: setsUsed(floor.area, tool.life, passes),
    cost: passes * passCost(tool, floor) + floor.changeCost,
  };
}

/** Why there is none: nothing to end on, nothing to start with, or nothing in between. */
function noSequence(tools: readonly Grinding[], { finishGrit, startScratch, maxRatio }: GrindingTask) {
  if (!tools.some(({ grit }) => grit === finishGrit)) return noAnswer(`tooling has no tool of grit ${finishGrit}`);
  if (!tools.some((tool) => mayStart(tool, startScratch))) {
    return noAnswer(`every tool leaves a deeper scratch than the ${startScratch} µm that are there`);
  }
  return noAnswer(
    `no sequence of these tools leads from a scratch of ${startScratch} µm to grit ${finishGrit} with steps of at most ${maxRatio}`,
  );
}

const TOOLING_SHAPE = "a range of six columns (grit, bond, size, cut per pass, life, price)";
const TOOLING_COLUMNS = 6;

/** The tools of a range, one row a tool; rows without anything in them are passed over. */
function toolsIn(given: unknown): PlanTool[] {
  const tooling = block("tooling", given);
  const width = tooling[0]!.length;
  if (width !== TOOLING_COLUMNS) {
    const isLeftOut = tooling.length === 1 && width === 1 && !isFilled(tooling[0]![0]);
    const got = isLeftOut ? "a blank" : `${tooling.length} × ${width} cells`;
    throw badValue(`tooling must be ${TOOLING_SHAPE}; got ${got}`);
  }
  return tooling.flatMap((row, r) => (row.some(isFilled) ? [toolOf(row, r)] : []));
}

const GRIT = numberOrTextReader(ABOVE_0, isGritLabel);
const POSITIVE = numberReader(ABOVE_0);
const BOND = wordReader(BONDS);

function toolOf(row: any[], r: number): PlanTool {
  const [gritCell, bondCell, sizeCell, cutCell, lifeCell, priceCell] = row;
  const place = (what: string) => `${what} in row ${r + 1} of tooling`;
  const above0 = (what: string, cell: unknown) => readAs(place(what), cell, POSITIVE);
  const grit = readAs(place("grit"), gritCell, GRIT);
  const bond = readAs(place("bond"), bondCell, BOND);
  if (bond === undefined) throw badValue(`${place("bond")} is blank or 0; it must be ${BONDS.allowed}`);
  const size = isFilled(sizeCell) ? above0("size", sizeCell) : sizeOf(grit, MESH);
  return {
    grit,
    bond,
    size,
    scratch: scratchDepth(size, bond),
    cut: above0("cut per pass", cutCell),
    life: above0("life", lifeCell),
    price: above0("price", priceCell),
  };
}

/**
 * Cheapest sequence of tools from your shelf that takes a floor to its finish.
 * @remarks Each tool works until the previous scratches are gone, at least one pass. A step is allowed where STEPCHECK says ok, and the first tool must not leave a deeper scratch than is there. Scratch depths are those of SCRATCH, an assumption to calibrate on a test strip. Of equally cheap sequences it gives the shorter, then the coarser. If none reaches the finish there is no answer, #NUM!.
 * @example =GRIT.CHEAPESTSTEPS({30,"metal","",100,4000,400;60,"metal","",50,4000,400;50,"metal","",20,4000,400},1000,100,500,500,60) → {"grit","bond","step ratio","passes","hours","sets","cost";30,"metal","",2,4,0.5,600;60,"metal",2.4,4,8,1,1200} | hand: scratches 300, 125 and 150 µm; a pass costs 1000 × (100 / 500 + 400 / 4000) = 300. 60 alone: 375 / 50, 8 passes, 2400; 30 then 60: 200 / 100 and 175 / 50, 2 + 4 passes, 1800; by 50 more
 * @example =GRIT.CHEAPESTSTEPS({100,"metal",200,20,500,100;200,"hybrid",80,12,500,250;400,"resin",40,10,500,250},100,60,60,200,400,,15,"metric") → {"grit","bond","step ratio","passes","hours","sets","cost";100,"metal","",5,8.333333333333334,1,615;200,"transitional",2.5,6,10,1.2,915;400,"resin",2,2,3.3333333333333335,0.4,315} | hand: scratches 0.5 × 200, 0.35 × 80 and 0.2 × 40 µm; passes 100 / 20, 72 / 12 and 20 / 10; a pass costs 120, then 150 and 150, and each change 15
 * @fails =GRIT.CHEAPESTSTEPS({30,"metal","",100,4000,400},1000,100,500,500,60) → #NUM! tooling has no tool of grit 60
 * @fails =GRIT.CHEAPESTSTEPS({30,"metal","",100,0,400},1000,100,500,500,30) → #VALUE! life in row 1 of tooling is blank or 0; it must be above 0
 * @plain none: a search over every allowed sequence of the tools there are
 * @source Shortest path by dynamic programming; the rules of a step are those of STEPCHECK, PASSESTOCLEAR and SCRATCH.
 * @words diamond sequence tooling profit optimize
 */
export const CHEAPESTSTEPS = define(
  {
    label:
      "A header row, then one row per step: grit, bond, step ratio (blank for the first), passes, hours (h), sets (used up), cost (money)",
  },
  [
    rangeOf("tooling", "Your tools, one row per tool", TOOLING_SHAPE, toolsIn, {
      note: "bond as in STEPCHECK, size and cut in µm, life of a set in ft² or m²; a blank size (or 0) is taken from the mesh scale, which has no labels such as 00; any other blank or 0 is an error, and a blank row is skipped",
    }),
    oneCell(AREA),
    oneCell(amount("hourCost", "Crew and machine together", "moneyPerHour", ABOVE_0)),
    oneCell(amount("areaRate", "Floor area one pass covers in an hour", "areaRate", ABOVE_0)),
    oneCell(amount("startScratch", "Depth of the scratches or roughness in the floor now", "micrometers", ABOVE_0)),
    oneCell(gritNumber("finishGrit", "Grit number of the last tool", ABOVE_0)),
    oneCell(MAX_RATIO),
    oneCell(amount("changeCost", "Cost of each tool change, the first one too", "money", FROM_0, { omitted: 0 })),
    UNITS,
  ],
  (tools, area, hourCost, areaRate, startScratch, finishGrit, maxRatio, changeCost) => [
    ["grit", "bond", "step ratio", "passes", "hours", "sets", "cost"],
    ...cheapestSteps(tools, { area, hourCost, areaRate, startScratch, finishGrit, maxRatio, changeCost }).map(
      ({ tool, ratio, passes, hours, sets, cost }) => [
        tool.grit,
        tool.bond,
        ratio === undefined ? "" : finite(ratio),
        finite(passes),
        finite(hours),
        finite(sets),
        finite(cost),
      ],
    ),
  ],
);
