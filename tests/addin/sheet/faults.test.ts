import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { insertPlan, type Plan, Refusal, readShelf, undo, type Where } from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterMachines, starterShelf } from "../../../functions/plan/shelf";
import { putShelf } from "./agreement";
import { failRequest, type GritWorkbook, openGrit, select, snapshot, write } from "./workbook";

let workbook: GritWorkbook;
beforeEach(async () => {
  workbook = await openGrit();
});
afterEach(() => workbook.dispose());

const inputs = { ...startInputs("us"), jobName: "Test floor", area: 900 };
const shelf = starterShelf("us");
const plan: Plan = { inputs, links: {}, stages: propose(inputs, shelf).stages, shelf };

async function writeMine(): Promise<void> {
  await write(
    "Sheet1!A1:E9",
    Array.from({ length: 9 }, (_, r) => ["mine", r, `=B${r + 1}*2`, "", ""]),
  );
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem("Sheet1").activate();
    await context.sync();
  });
  await select("Sheet1!B6");
}

/** Inserts again and again, the n-th request failing, until it fails no more; gives how often it failed. */
async function insertFailing(plan: Plan, where: Where, when: "before" | "after"): Promise<number> {
  const before = await snapshot();
  let failures = 0;
  for (let n = 1; ; n++) {
    const { reached } = failRequest(workbook, n, when);
    const outcome = await insertPlan(plan, where, true).catch((error) => error);
    vi.restoreAllMocks();
    // The client's last request only lets go of what it tracked: by then all is written, and told as done.
    if (!reached() || "what" in outcome) return failures;
    expect(outcome, `request ${n}`).toBeInstanceOf(Refusal);
    expect(outcome.message).toBe("Excel refused this: The network went away. Nothing was changed.");
    expect(await snapshot(), `request ${n}`).toEqual(before);
    failures++;
  }
}

const WHERE_AND_WHEN = [
  ["new sheet", "before"],
  ["new sheet", "after"],
  ["selected cell", "before"],
  ["selected cell", "after"],
] as const;

it.each(WHERE_AND_WHEN)(
  "a plan for a %s that fails %s any of its requests leaves the workbook as it was",
  async (where, when) => {
    await writeMine();
    expect(await insertFailing(plan, where, when)).toBeGreaterThan(5);
  },
  60_000,
);

it.each(WHERE_AND_WHEN)(
  "so does one for a %s, failing %s a request, in a workbook with a shelf, machines and past jobs",
  async (where, when) => {
    const owned = { ...shelf, machines: starterMachines("us") };
    await putShelf(owned, "us");
    await write("Sheet1!G1:H3", [
      [10, 12],
      [20, 19],
      [30, 33],
    ]);
    await writeMine();
    const stages = plan.stages.map((stage, i) => (i === 0 ? { ...stage, machine: owned.machines[0]!.name } : stage));
    const full: Plan = {
      ...plan,
      inputs: { ...inputs, pastJobs: "mine", passesFrom: "scratch" },
      shelf: owned,
      stages,
      pastJobs: { estimated: "Sheet1!$G$1:$G$3", actual: "Sheet1!$H$1:$H$3" },
    };
    expect(await insertFailing(full, where, when)).toBeGreaterThan(5);
  },
  60_000,
);

it("what cannot be read or undone is told in words", async () => {
  failRequest(workbook, 1, "before");
  await expect(readShelf("us")).rejects.toThrow("Excel refused this: The network went away. Nothing was changed.");
  vi.restoreAllMocks();
  const inserted = await insertPlan(plan, "new sheet");
  failRequest(workbook, 1, "before");
  const refused = await undo(inserted).catch((error) => error);
  expect(refused).toBeInstanceOf(Refusal);
  expect(refused.message).toBe("Excel refused this: The network went away. Part of it may still be there.");
});
