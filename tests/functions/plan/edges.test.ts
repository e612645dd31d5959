/** Edges are worked once at each step, by hand, whatever the machine does. */
import { describe, expect, it } from "vitest";
import { estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { expectClose, reference } from "../../helpers";
import { inputs, shelf, stages, tool } from "./fixtures";

describe("the edges of a floor", () => {
  reference(
    "are worked so often as the input says at each step, never as often as the machine passes",
    "hand: 240 ft at 60 ft/h are 4 h, twice 8; the machine passes twice and once",
    () => {
      const hours = (edgePasses: number) =>
        estimate({ ...inputs, edgePasses }, shelf, stages).rows.map((row) => row.edgeHours);
      expect(hours(1)).toEqual([4, 0, 4]);
      expect(hours(2)).toEqual([8, 0, 8]);
      expect(hours(0)).toEqual([0, 0, 0]);
    },
  );

  reference(
    "wear the hand grinder's own tools, by the foot; a blank price or life leaves them out",
    "hand: 240 ft twice over 1200 ft are 0.4 of a tool at 75, 30; with 6400 ft² over 10000 at 500, 320",
    () => {
      const tooling = (edge: { edgeLife: number | null; edgePrice: number | null }) => {
        const owned = { ...shelf, tools: [tool("M30", edge)] };
        return estimate({ ...inputs, edgePasses: 2 }, owned, [stages[0]]).rows[0]!.parts.tooling;
      };
      expectClose(tooling({ edgeLife: 1200, edgePrice: 75 }), 350);
      expectClose(tooling({ edgeLife: 1200, edgePrice: null }), 320);
      expectClose(tooling({ edgeLife: null, edgePrice: 75 }), 320);
    },
  );

  reference(
    "keep their strip from the machine: its hours and its tools, but not the liquids",
    "hand: 3200 − 240 × 0.5 − 80 = 3000; 3000 × 2 / 1920 h, 3000 × 2 / 10000 sets; 3200 / 200 × 1.1 gal, 4 × 165",
    () => {
      const { rows } = estimate({ ...inputs, stripWidth: 6, obstacles: 80 }, shelf, stages);
      expectClose(rows[0]!.machineHours, 3.125);
      expectClose(rows[0]!.setsUsed, 0.6);
      expect(rows[1]!.parts.liquids).toBe(660);
    },
  );
});

it("a wider machine takes fewer hours for the same floor, one foot after the other", () => {
  const owned = starterShelf("us");
  const widths = [20, 24, 28, 32, 40].map((machineWidth) => {
    const job: Inputs = { ...startInputs("us"), length: 84, width: 50, machineWidth };
    return estimate(job, owned, propose(job, owned).stages);
  });
  const hours = widths.map((found) => found.hours);
  expect(hours).toEqual([...hours].sort((a, b) => b - a));
  expect(new Set(hours).size).toBe(hours.length);
  // By hand: 4066 ft² at 45 ft²/h for each inch of width; from 28 to 32 in, 12 passes by 4066 / 1260 − 4066 / 1440 h or more.
  expect(hours[2]! - hours[3]!).toBeGreaterThan(12 * (4066 / 1260 - 4066 / 1440));
});
