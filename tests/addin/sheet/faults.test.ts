/** Requests that fail, at every step of every command that writes and of its undo: the workbook as before, or done. */
import { afterEach, describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import * as repair from "../../../addin/sheet/repair-cells";
import { isInserted, isPlain, outcomeOf, plan, READING, WRITING_COMMANDS, writeMine } from "./faults-commands";
import { failRequest, type GritWorkbook, openGrit, snapshot } from "./workbook";

// Every command is run as often as it has requests, on a machine that may be busy.
vi.setConfig({ testTimeout: 120_000 });

const { Refusal } = sheet;
let workbook: GritWorkbook;
afterEach(async () => {
  vi.restoreAllMocks();
  await workbook?.dispose();
});

/** What there is besides what a snapshot shows. */
async function everything(): Promise<unknown> {
  const settings = await Excel.run(async (context) => {
    const found = context.workbook.settings.load("items/key,items/value");
    await context.sync();
    return found.items.map(({ key, value }) => [key, value]);
  });
  return { settings, ...((await snapshot()) as object) };
}

it("every command that writes is in the list", () => {
  const functions = Object.entries({ ...sheet, ...repair }).filter(
    ([, value]) => typeof value === "function" && !(value.prototype instanceof Error),
  );
  // Checking a workbook calculates it, and writes nothing.
  const known = [...READING, ...WRITING_COMMANDS.map(({ writes }) => writes), "undo", "checkWorkbook"];
  const names = functions.map(([name]) => name);
  expect(names.filter((name) => !known.includes(name))).toEqual([]);
  expect(READING.filter((name) => !names.includes(name))).toEqual([]);
});

const NETWORK = "Excel refused this: The network went away.";

describe.each(["before", "after"] as const)("a request that fails %s its work", (when) => {
  it.each(WRITING_COMMANDS)(
    "leaves the workbook as it was, or undone as a whole: $name",
    async ({ prepare, writes }) => {
      workbook = await openGrit();
      const command = await prepare(workbook);
      const before = await everything();
      let failures = 0;
      let outcome: unknown;
      for (let n = 1; ; n++) {
        const { reached } = failRequest(workbook, n, when);
        outcome = await outcomeOf(command);
        vi.restoreAllMocks();
        // The client's last request only lets go of what it tracked: by then all is written, and told as done.
        if (!reached() || !(outcome instanceof Error)) break;
        failures++;
        // A setting is one request, which was done or not.
        if (writes === "rememberMapping") continue;
        expect(outcome.message, `request ${n}`).toBe(`${NETWORK} Nothing was changed.`);
        expect(await everything(), `request ${n}`).toEqual(before);
      }
      expect(failures).toBeGreaterThan(writes === "rememberMapping" ? 1 : 2);
      if (!isInserted(outcome)) return;

      const inserted = outcome;
      const written = await everything();
      expect(written).not.toEqual(before);
      for (let n = 1; ; n++) {
        const { reached } = failRequest(workbook, n, when);
        const undone = await outcomeOf(() => sheet.undo(inserted));
        vi.restoreAllMocks();
        const now = await everything();
        if (!reached() || !(undone instanceof Error)) {
          expect(now).toEqual(before);
          return;
        }
        expect(undone.message).toBe(`${NETWORK} Part of it may still be there.`);
        // The request that takes everything out was done, and only its answer was lost.
        if (when === "after" && JSON.stringify(now) === JSON.stringify(before)) return;
        expect(now, `request ${n}`).toEqual(written);
      }
    },
  );
});

describe("a network that goes away for good", () => {
  it("is told with what may be left, and with nothing changed only where that is so", async () => {
    workbook = await openGrit();
    await writeMine();
    const before = await everything();
    const process = workbook.host.process.bind(workbook.host);
    const said: string[] = [];
    for (let n = 1; ; n++) {
      let count = 0;
      const gone = vi.spyOn(workbook.host, "process").mockImplementation(async (body) => {
        if (++count < n) return process(body);
        const error = { Code: "GeneralException", Message: "Gone.", Location: "", HttpStatusCode: 500, ActionIndex: 0 };
        return { Error: error, Results: [] } as any;
      });
      const outcome = await outcomeOf(() => sheet.insertPlan(plan, "new sheet"));
      gone.mockRestore();
      if (!(outcome instanceof Error)) break;
      expect(isPlain(outcome.message), outcome.message).toBe(true);
      said.push(outcome.message);
      const isAsBefore = JSON.stringify(await everything()) === JSON.stringify(before);
      if (outcome.message.endsWith("Nothing was changed.")) expect(isAsBefore, `request ${n}`).toBe(true);
      else expect(outcome.message).toMatch(/could not be taken out again\. Look at the sheet “Shelf( \d+)?”/);
      // The user deletes what is left, as told.
      await Excel.run(async (context) => {
        const sheets = context.workbook.worksheets.load("items/name");
        const names = context.workbook.names.load("items/name");
        await context.sync();
        for (const item of sheets.items) if (item.name !== "Sheet1") item.delete();
        for (const name of names.items) name.delete();
        await context.sync();
      });
      expect(await everything(), `request ${n}`).toEqual(before);
    }
    expect(said.filter((message) => message.endsWith("Nothing was changed.")).length).toBeGreaterThan(0);
    expect(said.filter((message) => message.includes("could not be taken out")).length).toBeGreaterThan(2);
  });
});

it("what cannot be read is told in words", async () => {
  workbook = await openGrit();
  failRequest(workbook, 1, "before");
  const refused = await sheet.readShelf("us").catch((error) => error);
  expect(refused).toBeInstanceOf(Refusal);
  expect(refused.message).toBe(`${NETWORK} Nothing was changed.`);
});
