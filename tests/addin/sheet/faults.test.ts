import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { insertPlan, type Plan, Refusal } from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterShelf } from "../../../functions/plan/shelf";
import { type GritWorkbook, openGrit, select, snapshot, write } from "./workbook";

let workbook: GritWorkbook;
beforeEach(async () => {
  workbook = await openGrit();
});
afterEach(() => workbook.dispose());

const inputs = { ...startInputs("us"), jobName: "Test floor", area: 900 };
const shelf = starterShelf("us");
const plan: Plan = { inputs, links: {}, stages: propose(inputs, shelf).stages, shelf };

const REFUSED = { Code: "GeneralException", Message: "The network went away.", Location: "test", HttpStatusCode: 500 };

/** From now on, the n-th request (from 1) fails: before anything of it is done, or after all of it was. */
function failRequest(n: number, when: "before" | "after"): { reached: () => boolean } {
  const process = workbook.host.process.bind(workbook.host);
  let count = 0;
  vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
    count++;
    if (count !== n) return process(body);
    const done = when === "after" ? await process(body) : { Results: [] };
    return { Error: { ...REFUSED, ActionIndex: 0 }, Results: done.Results ?? [] } as any;
  });
  return { reached: () => count >= n };
}

it.each([
  ["new sheet", "before"],
  ["new sheet", "after"],
  ["selected cell", "before"],
  ["selected cell", "after"],
] as const)(
  "a plan for a %s that fails %s any of its requests leaves the workbook as it was",
  async (where, when) => {
    await write(
      "Sheet1!A1:E9",
      Array.from({ length: 9 }, (_, r) => ["mine", r, `=B${r + 1}*2`, "", ""]),
    );
    await select("Sheet1!B6");
    const before = await snapshot();
    let failures = 0;
    for (let n = 1; ; n++) {
      const { reached } = failRequest(n, when);
      const outcome = await insertPlan(plan, where, true).catch((error) => error);
      vi.restoreAllMocks();
      // The client's last request only lets go of what it tracked: by then all is written, and told as done.
      if (!reached() || "what" in outcome) break;
      expect(outcome, `request ${n}`).toBeInstanceOf(Refusal);
      expect(outcome.message).toBe("Excel refused this: The network went away. Nothing was changed.");
      expect(await snapshot(), `request ${n}`).toEqual(before);
      failures++;
    }
    expect(failures).toBeGreaterThan(5);
  },
  60_000,
);
