/** The log's card over a real workbook: what a foreman types, what is added, and what is said. */
import { describe, expect, it, vi } from "vitest";
import { logCommands } from "../../../../addin/pane/bid/log-actions";
import { billedText, readEntry, stagesOn, typeEntry } from "../../../../addin/pane/bid/log-entry";
import { insertPlan, readLog } from "../../../../addin/sheet";
import type { LogKey } from "../../../../functions/log/fields";
import { dayWords } from "../../../../functions/log/texts";
import { dayOf } from "../../../../functions/log/workday";
import { floor, planFor } from "../../sheet/agreement";
import { openGritForEach, tableRows } from "../../sheet/workbook";
import { openPane } from "../open-pane";

vi.setConfig({ testTimeout: 120_000 });
openGritForEach();

/** The pane with the log's commands, and a hand on its fields. */
async function open(jobName = "Hall A") {
  await insertPlan(planFor(floor({ jobName })), "new sheet");
  const { store, commands } = openPane();
  const log = store.part("log");
  const own = logCommands(commands);
  const type = (key: LogKey, text: string) => log.change((now) => typeEntry(now, key, text));
  return { store, pane: commands, log, commands: own, type, said: () => store.state.message?.text ?? "" };
}

const today = () => dayWords(dayOf(new Date()));

describe("the log's card", () => {
  it("writes a log, adds lines prefilled from the last one, and undoes them", async () => {
    const { store, pane, log, commands, type, said } = await open();
    await commands.look();
    expect(log.state.logged).toMatchObject({ log: undefined, sign: "$" });
    await commands.start();
    expect(said()).toBe("Log with a forecast of 8 stages written to the new sheet “Log”.");
    expect(log.state.typed).toEqual({ date: today(), floor: "Hall A", stage: "1 Metal 30 medium" });
    for (const [key, text] of Object.entries({ area: "1,200", machineHours: "3.5", crewHours: "4" })) {
      type(key as LogKey, text);
    }
    await commands.add();
    expect(said()).toBe(`Logged ${today()}, Hall A, 1 Metal 30 medium.`);
    // The next line goes on where this one ended.
    const next = { date: today(), floor: "Hall A", stage: "1 Metal 30 medium", machineHours: "3.5", crewHours: "4" };
    expect(log.state.typed).toEqual(next);
    expect(await tableRows("Log")).toMatchObject([{ "Area done": 1200, "Machine h": 3.5, "Crew h": 4 }]);
    await pane.undo(store.state.message!.inserted!);
    expect((await readLog())!.log!.lines).toEqual([]);
  });

  it("takes a day's line in few keystrokes: under ten seconds at a common typist's 0.28 s a key", async () => {
    const { commands, type } = await open();
    await commands.start();
    type("area", "1200");
    type("crewHours", "3.5");
    type("machineHours", "3");
    await commands.add();
    // The cursor stands in Area done: its number, then Tab over machine and crew hours, each typed anew, then Enter.
    const keys = ["1", "1", "5", "0", "Tab", "3", ".", "5", "Tab", "4", ".", "5", "Enter"];
    type("area", "1150");
    type("machineHours", "3.5");
    type("crewHours", "4.5");
    await commands.add();
    expect((await readLog())!.log!.lines).toHaveLength(2);
    // Card, Moran and Newell (1980), keystroke-level model: 0.28 s for an average non-secretary typist, 1.35 s to think.
    expect(keys.length * 0.28 + 1.35).toBeLessThan(10);
  });

  it("marks what is wrong, and reaches no workbook with it", async () => {
    const { log, commands, type, said } = await open();
    await commands.start();
    type("area", "12 by 4");
    type("crewHours", "25");
    await commands.add();
    expect(said()).toBe("Fix the highlighted fields.");
    expect(readEntry(log.state).problems).toEqual({
      area: 'Area done must be a number, typed like 5000, 5,000 or 12.5; got the text "12 by 4"',
      crewHours: "Crew h must be from 0 to 24; got 25.",
    });
    expect((await readLog())!.log!.lines).toEqual([]);
  });

  it("asks about what is likely a typing error, and adds it on yes", async () => {
    const { store, pane, commands, type } = await open();
    await commands.start();
    type("area", "99999");
    type("crewHours", "4");
    await commands.add();
    expect(store.state.question).toMatchObject({ question: "Add it all the same?" });
    pane.answer(true);
    await pane.idle();
    expect((await readLog())!.log!.lines).toMatchObject([{ area: 99_999 }]);
  });

  it("offers the stages of the chosen floor, and keeps what was typed when the log is read again", async () => {
    const { log, commands, type } = await open();
    await insertPlan(planFor(floor({ jobName: "Hall B", finish: "flat" })), "new sheet");
    await commands.start();
    const [first] = stagesOn(log.state, "Hall B");
    type("stage", "3 Transitional 100");
    type("floor", "Hall B");
    expect(stagesOn(log.state, "Hall B")).toContain(log.state.typed.stage);
    expect(first).toMatch(/^1 /);
    type("area", "12");
    await commands.look();
    expect(log.state.typed).toMatchObject({ floor: "Hall B", area: "12" });
  });

  it("closes the job out at the price that was billed, which starts as the price it was sold at", async () => {
    const { store, pane, log, commands, type, said } = await open();
    await commands.start();
    type("area", "7740");
    type("crewHours", "8");
    await commands.add();
    const { price } = (await readLog())!;
    expect(billedText(log.state)).toBe(price.toLocaleString("en-US", { minimumFractionDigits: 2 }));
    log.change((now) => ({ ...now, billed: "$15,000" }));
    await commands.closeOut();
    expect(store.state.question).toMatchObject({ question: "Insert a jobs table, with this job in it?" });
    pane.answer(true);
    await pane.idle();
    expect(said()).toBe("Hall A added to the new table Jobs.");
    expect(await tableRows("Jobs")).toMatchObject([{ Job: "Hall A", "Actual price": 15_000 }]);
    log.change((now) => ({ ...now, billed: "" }));
    await commands.closeOut();
    expect(said()).toBe("Enter the actual price first.");
  });
});
