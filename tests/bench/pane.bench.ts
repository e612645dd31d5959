/** The longest of what the pane works out in one go, without a browser: anything above 100 ms is a stall that one can feel. */
import { it } from "vitest";
import { cheapest } from "../../functions/plan/cheapest";
import { evenShelf } from "../even-shelf";
import { inputs, machine, shelf, tool } from "../functions/plan/fixtures";
import { race, report, table } from "./measure";

it("measures the cheapest sequence from a shelf larger than anyone's", () => {
  const machines = [1, 2, 3, 4, 5].map((k) =>
    machine(`Machine ${k}`, { width: 16 + 4 * k, load: 200 + 100 * k, cost: 10 * k }),
  );
  const floor = { ...inputs, depth: 500 };
  const lines = [50, 100, 200, 500].map((count) => {
    const tools = evenShelf(count).map(({ grit, bond, size, cut, life, price }, i) =>
      tool(`Tool ${i}`, { grit: Math.round(grit), bond, size, cut, life, price }),
    );
    const found = cheapest(floor, { ...shelf, tools, machines });
    const took = race({ plan: () => cheapest(floor, { ...shelf, tools, machines }) }, { turns: 5, warmUp: 2 });
    return [count, found.stages.length, took.plan] as const;
  });
  report("The pane's cheapest sequence, five machines", table(["tools", "stages found", "ms"], lines));
});
