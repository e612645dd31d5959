/** Texts of the user's that begin as a formula does, through every way by which the add-in writes cells. */
import { describe, expect, it, vi } from "vitest";
import { insertMachines, insertPlan, readShelf, undo, writeMeasured } from "../../../addin/sheet";
import { asText } from "../../../addin/sheet/write";
import { guessMapping } from "../../../functions/audit/headings";
import { propose } from "../../../functions/plan/proposal";
import type { Shelf } from "../../../functions/plan/shelf";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { floor, putShelf } from "./agreement";
import { FIVE_JOBS } from "./five-jobs";
import { auditList, typeList } from "./job-lists";
import { openGritForEach, select, tableRows, valuesOf, write } from "./workbook";

// Whole sheets are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 60_000, hookTimeout: 60_000 });

const STARTS = ["=", "+", "-", "@", "'", " =", "\t=", "＝"];
/** Each would be 2, or an error, if it were read as a formula; the mark tells it from other cells. */
const hostile = (start: string, mark: string) => `${start}1+1&"${mark}"`;

describe("a text that would be read as a formula", () => {
  it.each([...STARTS, " +", "\r\n-", "\u00a0@", "＋", "－", "＠"])("begins with %j and gets an apostrophe", (start) => {
    expect(asText(hostile(start, "x"))).toBe(`'${hostile(start, "x")}`);
  });
});

openGritForEach();

/** Every filled cell of the workbook, by value and formula. */
async function allCells(): Promise<{ value: unknown; formula: unknown; at: string }[]> {
  return Excel.run(async (context) => {
    const sheets = context.workbook.worksheets.load("items/name");
    await context.sync();
    const used = sheets.items.map((sheet) => sheet.getUsedRange().load("values,formulas"));
    await context.sync();
    return used.flatMap(({ values, formulas }, i) =>
      values.flatMap((line, r) =>
        line.flatMap((value, c) => {
          const at = `${sheets.items[i]!.name} row ${r + 1} column ${c + 1}`;
          return value === "" ? [] : [{ value, formula: formulas[r]![c], at }];
        }),
      ),
    );
  });
}

/** The cells that show a marked text are texts, all of them; gives how many there are of each. */
async function expectTexts(texts: readonly string[], title = ""): Promise<Map<string, number>> {
  const counts = new Map(texts.map((text) => [text, 0]));
  for (const { value, formula, at } of await allCells()) {
    const written = String(value);
    // What a formula would make of a text: the sum before the mark.
    expect(written, at).not.toMatch(/^2x/);
    const found =
      written.startsWith(title) && counts.has(written.slice(title.length)) ? written.slice(title.length) : written;
    if (counts.has(found)) counts.set(found, counts.get(found)! + 1);
    if (String(formula).includes("1+1&")) expect(formula, at).toBe(value);
  }
  return counts;
}

/** The starter shelf with names that begin as formulas do. */
function hostileShelf(): { shelf: Shelf; names: string[] } {
  const shelf = { ...starterShelf("us"), machines: starterMachines("us") };
  let count = 0;
  const renamed = <Row extends { name: string }>(rows: readonly Row[]) =>
    rows.map((row) => ({ ...row, name: hostile(STARTS[count % STARTS.length]!, `x${count++}`).trim() }));
  const made = { tools: renamed(shelf.tools), liquids: renamed(shelf.liquids), machines: renamed(shelf.machines) };
  return { shelf: made, names: [...made.tools, ...made.liquids, ...made.machines].map(({ name }) => name) };
}

describe("a plan", () => {
  it.each(STARTS)("keeps a job name that begins with %j", async (start) => {
    const jobName = hostile(start, "xjob");
    const inputs = floor({ jobName });
    const shelf = starterShelf("us");
    // One stage is enough: the name stands in none.
    const stages = propose(inputs, shelf).stages.slice(0, 1);
    await insertPlan({ inputs, links: {}, stages, shelf }, "new sheet");
    expect((await expectTexts([jobName])).get(jobName)).toBe(1);
    const titled = `Stage plan: ${jobName}`;
    expect((await expectTexts([titled])).get(titled)).toBe(1);
  });

  it.each(["new sheet", "selected cell"] as const)(
    "on a %s keeps names of tools, machines and liquids",
    async (where) => {
      const { shelf, names } = hostileShelf();
      await putShelfAsText(shelf);
      const read = (await readShelf("us")).shelf;
      expect(read.tools.map(({ name }) => name)).toEqual(shelf.tools.map(({ name }) => name));
      const inputs = floor();
      const stages = propose(inputs, read).stages.map((stage) => ({ ...stage, machine: read.machines[0]!.name }));
      await select("Sheet1!C3");
      await insertPlan({ inputs, links: {}, stages, shelf: read }, where);
      const counts = await expectTexts(names);
      for (const { tool } of stages) expect(counts.get(tool), tool).toBeGreaterThan(1);
      expect(counts.get(read.machines[0]!.name)).toBeGreaterThan(stages.length);
      expect((await tableRows("Stages")).map((row) => row.Tool)).toEqual(stages.map(({ tool }) => tool));
    },
  );

  it("that brings its shelf keeps the names in it", async () => {
    const { shelf, names } = hostileShelf();
    const inputs = floor();
    const without = { ...shelf, machines: [] };
    await insertPlan({ inputs, links: {}, stages: propose(inputs, without).stages, shelf: without }, "new sheet");
    const written = await expectTexts(names);
    for (const { name } of [...shelf.tools, ...shelf.liquids]) expect(written.get(name), name).toBeGreaterThan(0);
  });
});

/** As a user types such names: with an apostrophe before them. */
async function putShelfAsText(shelf: Shelf): Promise<void> {
  const quoted = <Row extends { name: string }>(rows: readonly Row[]) =>
    rows.map((row) => ({ ...row, name: `'${row.name}` }));
  await putShelf(
    { tools: quoted(shelf.tools), liquids: quoted(shelf.liquids), machines: quoted(shelf.machines) },
    "us",
  );
}

describe("the user's shelf", () => {
  it("is written to by the name of a tool that begins as a formula, and undone", async () => {
    const { shelf } = hostileShelf();
    await putShelfAsText(shelf);
    const { name } = shelf.tools[0]!;
    const before = await allCells();
    const inserted = await writeMeasured(name, { cut: 123.5 }, "us", true);
    expect((await allCells()).filter(({ value }) => value === 123.5)).toHaveLength(1);
    await undo(inserted);
    expect(await allCells()).toEqual(before);
  });

  it("gets back a text that stood where a measured value was written, as text", async () => {
    await insertPlan(planOf(), "new sheet");
    const { top, column } = await placeOf("Tooling", "Metal 30 medium", /^Cut/);
    await write(`Shelf!${column}${top}`, [[`'${hostile("=", "x")}`]]);
    const before = await allCells();
    const inserted = await writeMeasured("Metal 30 medium", { cut: 99 }, "us", true);
    await undo(inserted);
    expect(await allCells()).toEqual(before);
    expect((await expectTexts([hostile("=", "x")])).get(hostile("=", "x"))).toBe(1);
  });

  it("takes a machines table whose names stay as they are", async () => {
    await insertMachines("us");
    const names = (await tableRows("Machines")).map((row) => row.Machine);
    expect(names).toEqual(starterMachines("us").map(({ name }) => name));
  });
});

const planOf = () => {
  const inputs = floor();
  const shelf = starterShelf("us");
  return { inputs, links: {}, stages: propose(inputs, shelf).stages, shelf };
};

/** Where a table has the cell of a row, by the row's first cell and the column's header. */
async function placeOf(table: string, row: string, header: RegExp): Promise<{ top: number; column: string }> {
  return Excel.run(async (context) => {
    const range = context.workbook.tables.getItem(table).getRange().load("values,rowIndex,columnIndex");
    await context.sync();
    const r = range.values.findIndex(([first]) => first === row);
    const c = range.values[0]!.findIndex((title) => header.test(String(title)));
    return { top: range.rowIndex + r + 1, column: String.fromCharCode(65 + range.columnIndex + c) };
  });
}

describe("an audit", () => {
  it.each([
    ["a table", "Jobs"],
    ["plain cells", undefined],
  ])("of %s keeps jobs, bonds and machines that begin as formulas do", async (_, table) => {
    const [titles, ...jobs] = FIVE_JOBS as [string[], ...unknown[][]];
    const texts: string[] = [];
    const made = (row: number, what: string) => {
      texts.push(hostile(STARTS[texts.length % STARTS.length]!, `x${what}${row}`).trim());
      return texts.at(-1);
    };
    const machine = hostile("=", "xmachine");
    const at = (title: string) => titles.indexOf(title);
    const rows = jobs.map((job, r) =>
      job.map((cell, c) => (c === at("Job") ? made(r, "job") : c === at("Machine") ? machine : cell)),
    );
    // A bad cell is shown on the sheet with what it holds.
    rows[0]![at("Area")] = hostile("=", "xarea");
    await typeList("Old jobs", "A1", [titles, ...rows], table);
    const { problems } = await auditList(guessMapping(titles));
    expect(problems.length).toBeGreaterThan(0);
    const counts = await expectTexts([...texts, machine, hostile("=", "xarea")]);
    for (const text of texts) expect(counts.get(text), text).toBeGreaterThan(0);
  });

  it("of a list whose headings begin as formulas do", async () => {
    const [titles, ...jobs] = FIVE_JOBS as [string[], ...unknown[][]];
    const headings = titles.map((title, i) => `${STARTS[i % 5]}${title}`);
    await typeList("Old jobs", "A1", [headings, ...jobs], "Jobs");
    const guessed = guessMapping(titles);
    const mapping = Object.fromEntries(
      Object.entries(guessed).map(([key, title]) => [key, headings[titles.indexOf(title!)]!]),
    );
    await auditList(mapping);
    const named = await valuesOf("Audit!A5:J8");
    // By hand: five jobs, quoted at 5000 + 4000 + 8000 + 2500 + 1200.
    expect(named[1]![named[0]!.indexOf("Jobs counted")]).toBe(5);
    expect(named[3]![named[2]!.indexOf("Quoted price")]).toBe(20_700);
  });
});
