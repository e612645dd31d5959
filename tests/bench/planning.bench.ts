/** How long the searches take: CHEAPESTSTEPS by the length of the shelf, beside a bare loop and beside trying everything, and LADDER. */
import { it } from "vitest";
import { LADDER } from "../../functions/grit";
import { CHEAPESTSTEPS, cheapestSteps, type PlanFloor, type PlanTool } from "../../functions/planning";
import { evenShelf, HALL, rangeOf } from "../even-shelf";
import { ask } from "../helpers";
import { costOf, everySequence } from "../reference/every-sequence";
import { exponent, race, report, table } from "./measure";

const SIZES = [50, 100, 200, 500, 1000];
const BOND_ORDER = { metal: 0, transitional: 1, resin: 2 };

/** The same shortest path over bare arrays, its inputs in order and never looked at: as fast as it could be. */
function plainLoop(tools: readonly PlanTool[], floor: PlanFloor): number {
  const { area, hourCost, areaRate, startScratch, finishGrit, maxRatio, changeCost } = floor;
  const inOrder = [...tools].sort((a, b) => BOND_ORDER[a.bond] - BOND_ORDER[b.bond] || b.size - a.size);
  const bond = Uint8Array.from(inOrder, (tool) => BOND_ORDER[tool.bond]);
  const size = Float64Array.from(inOrder, (tool) => tool.size);
  const scratch = Float64Array.from(inOrder, (tool) => tool.scratch);
  const least = new Float64Array(inOrder.length);
  let answer = Number.POSITIVE_INFINITY;
  for (let j = 0; j < inOrder.length; j++) {
    const { cut, life, price, grit } = inOrder[j]!;
    const pass = area * (hourCost / areaRate + price / life);
    const stepFrom = (there: number) => Math.max(1, Math.ceil((there - scratch[j]!) / cut - 1e-9)) * pass + changeCost;
    let best = scratch[j]! <= startScratch ? stepFrom(startScratch) : Number.POSITIVE_INFINITY;
    for (let i = 0; i < j; i++) {
      const ratio = size[i]! / size[j]!;
      const bondsOn = bond[j]! - bond[i]!;
      if (ratio > maxRatio || bondsOn > 1 || (bondsOn === 0 ? ratio <= 1 : ratio < 0.5)) continue;
      best = Math.min(best, least[i]! + stepFrom(scratch[i]!));
    }
    least[j] = best;
    if (grit === finishGrit) answer = Math.min(answer, best);
  }
  return answer;
}

const searched = (tools: readonly PlanTool[], floor = HALL) =>
  cheapestSteps(tools, floor).reduce((sum, { cost }) => sum + cost, 0);

const bestOfAll = (tools: readonly PlanTool[], floor: PlanFloor) =>
  Math.min(...everySequence(tools, floor).map((sequence) => costOf(sequence, floor)));

/** What is raced must give the same answer. */
function mustAgree(name: string, cost: number, expected: number): void {
  if (Math.abs(cost - expected) > 1e-9 * expected) throw new Error(`${name} costs ${cost}, the search ${expected}`);
}

const SHELVES = SIZES.map(evenShelf);
for (const tools of SHELVES) mustAgree("the plain loop", plainLoop(tools, HALL), searched(tools));

// One bond and no limit of a step, so that each of the 2048 subsets with the finest tool is a sequence.
const TWELVE = evenShelf(12).map((tool): PlanTool => ({ ...tool, bond: "metal", scratch: tool.size / 2 }));
const NO_LIMIT = { ...HALL, maxRatio: 1000 };
mustAgree("the best of every sequence", bestOfAll(TWELVE, NO_LIMIT), searched(TWELVE, NO_LIMIT));

const { area, hourCost, areaRate, startScratch, finishGrit, maxRatio, changeCost } = HALL;
const ARGS = [area, hourCost, areaRate, startScratch, finishGrit, maxRatio, changeCost];

/** Many calls at a time, so that the clock can tell a short one. */
const repeated = (times: number, run: () => unknown) => () => {
  for (let n = 0; n < times; n++) run();
};

it("measures CHEAPESTSTEPS by the length of the shelf", () => {
  const lines = SHELVES.map((tools) => {
    const range = rangeOf(tools);
    const times = Math.ceil(20_000 / tools.length);
    const took = race(
      {
        search: repeated(times, () => cheapestSteps(tools, HALL)),
        wrapper: repeated(times, () => ask(CHEAPESTSTEPS, range, ...ARGS)),
        loop: repeated(times, () => plainLoop(tools, HALL)),
      },
      { turns: 5, warmUp: 1 },
    );
    return [tools.length, took.search / times, took.wrapper / times, took.loop / times];
  });
  const slope = exponent(lines.map(([tools, search]) => [tools!, search!] as const));
  const twelve = race(
    {
      every: repeated(10, () => bestOfAll(TWELVE, NO_LIMIT)),
      search: repeated(10, () => cheapestSteps(TWELVE, NO_LIMIT)),
    },
    { turns: 5, warmUp: 1 },
  );
  report(
    "The cheapest steps",
    `${table(["tools", "search, ms", "custom function, ms", "plain loop, nothing checked, ms"], lines)}\n\n` +
      `The search grows as tools^${slope.toFixed(2)}. Of 12 tools: every subset ${(twelve.every / 10).toPrecision(2)} ms, ` +
      `the search ${(twelve.search / 10).toPrecision(2)} ms.`,
  );
});

it("measures LADDER by the grits there are to choose from", () => {
  const lines = [15, 50, 100, 200, 500].map((count) => {
    const grits = Array.from({ length: count }, (_, i) => [16 * (3000 / 16) ** (i / (count - 1))]);
    const call = () => ask(LADDER, 16, 3000, 2.5, grits);
    const took = race({ call: repeated(100, call) }, { turns: 5, warmUp: 1 }).call / 100;
    return [count, took];
  });
  report("LADDER", table(["grits", "ms"], lines));
});
