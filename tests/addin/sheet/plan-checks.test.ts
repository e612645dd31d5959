/** What the plan's sheet says of itself when it is changed in ways that its figures alone would not show. */
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { columnLetters } from "../../../addin/common/a1";
import { insertPlan } from "../../../addin/sheet";
import { inputGroups } from "../../../addin/sheet/inputs-block";
import { STAGE_CHOOSERS } from "../../../addin/sheet/plan-checks";
import { planSheet } from "../../../addin/sheet/plan-sheet";
import { BUT, CHECK_WORDS, FIX, LINE_LABELS } from "../../../addin/sheet/plan-texts";
import { FIELDS, field, type Key } from "../../../functions/plan/fields";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { floor, planFor, putShelf } from "./agreement";
import { names } from "./plan-names";
import {
  cellValue,
  named,
  openGritOnce,
  putBackAfterEach,
  setInTable,
  setNamed,
  tableRows,
  valuesOf,
  write,
} from "./workbook";

// Expected words: the bounds are those that the pane holds the same inputs to (functions/plan/inputs.ts).

const PLAN = "Stage plan";
const inputs = floor({ finish: "satin" });

/** The number of a check, right of its label, and beside it what is wrong. */
async function check(label: string, sheet = PLAN): Promise<{ code: unknown; words: unknown }> {
  const rows = await valuesOf(`${sheet}!A1:AZ140`);
  const row = rows.find((cells) => cells.includes(label));
  expect(row, label).toBeDefined();
  const right = row!.slice(row!.indexOf(label) + 1);
  const at = right.findIndex((value) => value !== "");
  return { code: right[at], words: right[at + 1] };
}
const FINE = { code: 0, words: "" };
/** Its number, where it fails, is that of what failed. */
const failing = (words: unknown) => ({ code: expect.any(Number), words });
const LINE = {
  inputs: "Inputs complete and valid?",
  rows: "All stages calculated?",
  chosen: "Stages chosen for these inputs?",
  passes: "Enough passes for this floor?",
};
/** The check cell among the price lines; the key figures above have the same label. */
async function answer(sheet = PLAN): Promise<unknown> {
  const rows = await valuesOf(`${sheet}!A8:AZ140`);
  const row = rows.find((cells) => cells.includes("Numbers up to date?"))!;
  return row.slice(row.indexOf("Numbers up to date?") + 1).find((value) => value !== "");
}
const formulasOf = (address: string) =>
  Excel.run(async (context) => {
    const [name, cells] = address.split("!");
    const range = context.workbook.worksheets.getItem(name!).getRange(cells!).load("formulas");
    await context.sync();
    return range.formulas;
  });
/** A workbook with the plan on a new sheet, for all tests of a group. */
const withPlan = () => {
  openGritOnce();
  beforeAll(() => insertPlan(planFor(inputs), "new sheet"));
  putBackAfterEach();
};

describe("inputs that only chose the stages", () => {
  withPlan();
  const all: Partial<Inputs>[] = [
    {},
    { surface: "ground" },
    { finish: "coating" },
    { handHours: 2, pastJobs: "like it" },
    { area: 4000, length: null, width: null },
  ];

  it("are those that no price depends on: every other input of a sheet is read by a formula", () => {
    for (const over of all) {
      const plan = { ...planFor({ ...inputs, ...over }), pastJobs: { estimated: "Past[A]", actual: "Past[B]" } };
      // Notes and cautions put an input into words; no price reads them.
      const figures = planSheet(plan, names, undefined).block.cells.filter(
        ({ style }) => style !== "note" && style !== "caution",
      );
      const formulas = figures.flatMap(({ content }) =>
        typeof content === "object" && !/^=(MOD\(MIN\(|IF\([^,]+=0,"",INDEX\(\{")/.test(content.formula)
          ? [content.formula]
          : [],
      );
      const isRead = (key: Key) => formulas.some((formula) => new RegExp(`\\b${FIELDS[key].name}\\b`).test(formula));
      const keys = inputGroups(plan).flatMap((group) => group.keys);
      const unread = keys.filter((key) => field(key).kind !== "text" && !isRead(key));
      // The hardness is read for the matrix to try, which no price depends on either. The film sets the profile, and is
      // read besides by a coat that lists none of its own.
      const alsoRead = keys.filter((key) => key === "film");
      expect(new Set([...unread, "hardness", ...alsoRead])).toEqual(
        new Set(keys.filter((key) => STAGE_CHOOSERS.includes(key)) as string[]),
      );
    }
  });

  it("are read where the stages are proposed", () => {
    const read = new Set<string>();
    for (const over of all) {
      const given = { ...startInputs("us"), area: 4000, ...over };
      const watched = new Proxy(given, {
        get: (target, key) => {
          read.add(String(key));
          return target[key as Key];
        },
      });
      propose(watched, starterShelf("us"));
    }
    for (const key of STAGE_CHOOSERS) expect(read).toContain(key);
  });

  it.each([
    ["Floor_Finish", "highly polished", "Target finish"],
    ["Floor_LastGrit", 3000, "Last grit"],
    ["Floor_LastGrit", "", "Last grit"],
    ["Floor_Exposure", "C", "Aggregate exposure"],
    ["Floor_Hardness", 8, "Slab hardness"],
    ["Floor_Surface", "coated", "Starting surface"],
  ])("are told once they are changed: %s to %s", async (name, value, label) => {
    expect(await check(LINE.chosen)).toEqual(FINE);
    const before = await named(name, PLAN);
    await setNamed(name, PLAN, value);
    const words = new RegExp(`^the stages were chosen for another ${label} \\(.+\\): plan again in the pane$`);
    expect(await check(LINE.chosen)).toEqual(failing(expect.stringMatching(words)));
    expect(await answer()).toMatch(/^calculated, but the stages were chosen/);
    await setNamed(name, PLAN, before);
    expect(await answer()).toBe(CHECK_WORDS.upToDate);
  });
});

describe("a depth in US units", () => {
  withPlan();

  it("has its mil beside it, which follows (NIST SP 811: 1 mil is 25.4 µm)", async () => {
    // By hand: class B is 500 µm; 500 / 25.4 = 19.7 mil, 1000 / 25.4 = 39.4.
    const beside = async () => (await valuesOf(`${PLAN}!A1:AZ140`)).find((row) => row.includes("Depth to remove"))!;
    expect(await beside()).toContain("µm = 19.7 mil");
    await setNamed("Floor_Depth", PLAN, 1000);
    expect(await beside()).toContain("µm = 39.4 mil");
  });
});

describe("the check cell", () => {
  const sheet = PLAN;
  const machines = starterMachines("us");
  openGritOnce();
  beforeAll(async () => {
    const shelf = { ...starterShelf("us"), machines };
    await putShelf(shelf, "us");
    await Excel.run(async (context) => {
      context.workbook.worksheets.getItem("Sheet1").activate();
      await context.sync();
    });
    await insertPlan({ ...planFor(inputs), shelf }, "new sheet");
  });
  putBackAfterEach();
  beforeEach(async () => {
    expect(await answer(sheet)).toBe(CHECK_WORDS.upToDate);
  });

  /** The cell right of a label. */
  async function placeBeside(label: string): Promise<string> {
    const rows = await valuesOf(`${sheet}!A1:AZ140`);
    // The key figures at the top have some of the labels too.
    const r = rows.findLastIndex((cells) => cells.includes(label));
    const l = rows[r]!.indexOf(label);
    const c = rows[r]!.findIndex((cell, i) => i > l && cell !== "");
    return `${columnLetters(c)}${r + 1}`;
  }
  const putBeside = async (label: string, value: unknown) => write(`${sheet}!${await placeBeside(label)}`, [[value]]);
  async function placeOf(label: string): Promise<string> {
    const { name } = Object.values(FIELDS).find((f) => f.label === label)!;
    return Excel.run(async (context) => {
      const cell = context.workbook.worksheets.getItem(PLAN).names.getItem(name).getRange().load("address");
      await context.sync();
      return cell.address.split("!")[1]!.replaceAll("$", "");
    });
  }
  /** Types an input, and says where it stands. */
  async function putInput(label: string, value: unknown): Promise<string> {
    const at = await placeOf(label);
    await write(`${sheet}!${at}`, [[value]]);
    return at;
  }

  it.each([
    ["Efficiency", "", "must be above 0% and at most 100% (30% is 0.3)"],
    ["Overhead", "", "must be 0% or more (30% is 0.3)"],
    ["Overhead", -0.5, "must be 0% or more (30% is 0.3)"],
    ["Contingency", "", "must be 0% or more (30% is 0.3)"],
    ["Target margin", 30, "must be from 0% to below 100% (30% is 0.3)"],
    ["Working width", "=NA()", "must be above 0 and at most 10,000"],
    ["Machine cost", -1, "must be 0 or more"],
    ["Tool change", -1, "must be from 0 to 1,000"],
    ["Crew size", 2.5, "must be a whole number from 1 to 1,000"],
    ["Units", "metric", "must be us"],
    ["Largest step", 1, "must be above 1"],
    // Rules over several inputs, which the pane has too.
    ["Crew size", 1, "alongside needs a crew of 2 or more", "Edge work"],
    ["Cutting coefficient", 150, "is missing; the cutting coefficient needs it", "Test strip grit size"],
  ])(
    "names the cell of the input that is blank or impossible: %s as %s",
    async (label, value, words, atFault = label) => {
      const at = await putInput(label, value);
      const place = atFault === label ? at : await placeOf(atFault);
      const told = await check(LINE.inputs, sheet);
      const wanted = `${atFault}, ${place}, ${words}`;
      expect(told).toEqual(failing(wanted));
      expect(await answer(sheet)).toBe(`${FIX}${told.words}`);
    },
  );

  it.each([
    ["Total cost", 5000],
    ["Direct cost", 5000],
    [LINE_LABELS.stages, 100],
    ["Price at margin or minimum", 9999],
  ])("names the formula that a value was typed over, by its cell: %s", async (label, value) => {
    const at = await placeBeside(label);
    const before = (await formulasOf(`${sheet}!${at}`))[0]![0];
    await write(`${sheet}!${at}`, [[value]]);
    expect(await answer(sheet)).toMatch(new RegExp(`^${BUT}${at} holds a typed value in place of its formula`));
    await write(`${sheet}!${at}`, [[before]]);
    expect(await answer(sheet)).toBe(CHECK_WORDS.upToDate);
  });

  it("names the figure of a stage that a value was typed over", async () => {
    await setInTable("Stages", 1, "Liquids cost", 0);
    expect(await answer(sheet)).toMatch(new RegExp(`^${BUT}[A-Z]+\\d+ holds a typed value in place of its formula`));
  });

  it("points out an area that has changed while the edge length has not", async () => {
    const at = await putInput("Floor area", 6000);
    expect(at).not.toBe("");
    expect(await answer(sheet)).toBe(
      `${BUT}the floor area has changed since planning and the edge length has not: check it`,
    );
    await putInput("Edge length", 320);
    expect(await answer(sheet)).toBe(CHECK_WORDS.upToDate);
  });

  it("tells passes that were emptied, or are below 0, with their row", async () => {
    const rows = await tableRows("Stages");
    await setInTable("Stages", 1, "Passes", "");
    expect(await answer(sheet)).toBe(`${BUT}Passes in row 2 of the stages must be a number, 0 or more`);
    await setInTable("Stages", 1, "Passes", rows[1]!.Passes);
    expect(await answer(sheet)).toBe(CHECK_WORDS.upToDate);
    const densify = rows.findIndex((row) => row.Work === "densify");
    await setInTable("Stages", densify, "Passes", -1);
    const inRow = expect.stringMatching(new RegExp(`row ${densify + 1} of the stages`));
    expect(await check(LINE.rows, sheet)).toEqual(failing(inRow));
  });

  it("tells a row that has a work and a tool but not its formulas", async () => {
    const columns = Object.keys((await tableRows("Stages"))[0]!).filter((title) => !["Work", "Tool"].includes(title));
    await Excel.run(async (context) => {
      const table = context.workbook.tables.getItem("Stages");
      // All at once: the whole plan is calculated after each request.
      for (const title of columns) table.columns.getItem(title).getDataBodyRange().getCell(2, 0).values = [[""]];
      await context.sync();
    });
    expect((await check(LINE.rows, sheet)).words).toMatch(/^row 3 of the stages shows no figure/);
    expect(await answer(sheet)).toMatch(/^calculated, but [A-Z]+\d+ holds a typed value in place of its formula/);
  });

  it.each(["", -165])("tells a price of the shelf that is missing or below 0: %s", async (price) => {
    const [first] = await tableRows("My_liquids");
    const title = Object.keys(first!).find((key) => key.startsWith("Price"))!;
    await setInTable("My_liquids", 0, title, price);
    expect(await answer(sheet)).toBe(`${BUT}a price on the shelf is missing or below 0`);
    await setInTable("My_liquids", 0, title, first![title]);
    await setInTable("My_machines", 0, "Cost per h", -5);
    expect(await answer(sheet)).toBe(`${BUT}a price on the shelf is missing or below 0`);
  });

  it("tells the passes that the depth needs, and is content with as many", async () => {
    // By hand from the row's own cells: the depth less the scratch that the tool leaves, over its cut, rounded up.
    const [tool] = (await tableRows("Stages")).map((row) => row.Tool);
    const cut = (await tableRows("My_tools")).find((row) => row.Tool === tool)!["Cut per pass µm"];
    const scratch = (await tableRows("Stages"))[0]!["Scratch µm"];
    await putBeside("Depth to remove", 1587.5);
    const needed = Math.ceil((1587.5 - scratch) / cut);
    expect(needed).toBeGreaterThan(2);
    await setInTable("Stages", 0, "Passes", needed - 1);
    const words = `${tool}: ${needed - 1} passes planned, ${needed} needed for this depth`;
    expect(await check(LINE.passes, sheet)).toEqual({ code: 1, words });
    expect(await cellValue(`${PLAN}!A7`)).toBe(words);
    await setInTable("Stages", 0, "Passes", needed);
    expect(await check(LINE.passes, sheet)).toEqual(FINE);
    expect(await cellValue(`${PLAN}!A7`)).toBe("");
  });

  it("stands beside the names that this plan's figures have in the workbook", async () => {
    const rows = await valuesOf(`${sheet}!A1:AZ140`);
    const words = rows.flat().filter((value) => /Stages_(Price|Cost|Hours|Days)$/.test(String(value)));
    expect(words.map((value) => String(value).replace(/^.*= /, "")).sort()).toEqual([
      "Stages_Cost",
      "Stages_Days",
      "Stages_Hours",
      "Stages_Price",
    ]);
  });
});
