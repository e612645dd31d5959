/** A log of 5,000 lines: what it says, and how long a line more takes. */
import { expect, it, vi } from "vitest";
import { addLogLines, insertLog, insertPlan, readLog } from "../../../addin/sheet";
import { progress } from "../../../functions/log/progress";
import { line, MONDAY } from "../../functions/log/four-days";
import { processorTime } from "../../run/processor-time";
import { floor, planFor } from "./agreement";
import { expectForecastAgrees, typeLines } from "./logs";
import { openGritForEach, write } from "./workbook";

vi.setConfig({ testTimeout: 180_000 });
openGritForEach();

const LINES = 5000;

async function timed(work: () => Promise<unknown>): Promise<number> {
  const begun = processorTime();
  await work();
  return processorTime() - begun;
}

it("agrees with functions/log, and a line more or a changed one takes under a second", async () => {
  await insertPlan(planFor(floor({ jobName: "Hall A" })), "new sheet");
  await insertLog();
  const { stages } = (await readLog())!;
  const ofStage = (i: number) => ({ floor: "Hall A", stage: stages[i % stages.length]!.stage });
  const lines = Array.from({ length: LINES }, (_, i) =>
    line({
      ...{ ...ofStage(i), date: MONDAY + Math.floor(i / 20), area: 1 + (i % 7), crewHours: 0.1, machineHours: 0.05 },
      ...{ height: i % 3 ? null : 10 - i / 1000, sets: i % 600 ? null : 1 },
    }),
  );
  await typeLines(lines);
  await expectForecastAgrees();

  const last = { ...ofStage(0), area: 5, crewHours: 0.1 };
  const times: Record<string, number[]> = { added: [], changed: [], "in the pane": [] };
  for (const day of [260, 261, 262]) {
    times.added!.push(await timed(() => addLogLines([line({ ...last, date: MONDAY + day })], MONDAY + 300, true)));
    times.changed!.push(await timed(() => write("Log!D20", [[day]])));
    times["in the pane"]!.push(
      await timed(async () => {
        const { stages: quotes, log, units } = (await readLog())!;
        progress(quotes, log!.lines, log!.changedAt, units);
      }),
    );
  }
  // A machine that is busy with other tests slows one turn or another.
  const least = Object.fromEntries(Object.entries(times).map(([what, all]) => [what, Math.round(Math.min(...all))]));
  console.log(`Processor time on the emulated engine with ${LINES} lines, ms:`, least);
  for (const [what, time] of Object.entries(least)) expect(time, what).toBeLessThan(1000);
  await expectForecastAgrees();
});
