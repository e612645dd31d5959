import { describe, expect, it, vi } from "vitest";
import {
  insertMachines,
  insertPlan,
  NeedsAnswer,
  type Plan,
  Refusal,
  readShelf,
  undo,
  writeMeasured,
} from "../../../addin/sheet";
import { startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { cellValue, failRequest, openGritForEach, snapshot, tableRows, valuesOf, workbook, write } from "./workbook";

// Whole plans are written, on a machine that may be busy.
vi.setConfig({ testTimeout: 30_000 });

openGritForEach();

const inputs = { ...startInputs("us"), jobName: "Test floor", area: 900 };
const shelf = starterShelf("us");
const plan: Plan = { inputs, links: {}, stages: propose(inputs, shelf).stages, shelf };
const TOOL = "Metal 30 medium";
/** What the starter shelf has of it. */
const { cut: CUT, life: LIFE } = shelf.tools.find(({ name }) => name === TOOL)!;

/** The tool's row in the tooling table as the user sees it. */
const rowOf = async (tool: string) => (await tableRows("Tooling")).find((row) => row.Tool === tool)!;

async function deleteColumns(...names: string[]): Promise<void> {
  await Excel.run(async (context) => {
    const { columns } = context.workbook.tables.getItem("Tooling");
    for (const name of names) columns.getItem(name).delete();
    await context.sync();
  });
}

async function protect(sheet: string): Promise<void> {
  await Excel.run(async (context) => {
    context.workbook.worksheets.getItem(sheet).protection.protect();
    await context.sync();
  });
}

describe("a machines table", () => {
  it("comes on a sheet of its own beside the shelf that is there, is read, and is undone", async () => {
    await insertPlan(plan, "new sheet");
    const before = await snapshot();
    const inserted = await insertMachines("us");
    expect(inserted.what).toBe("Machines table written to the new sheet “Machines”");
    expect((await readShelf("us")).shelf).toEqual({ ...shelf, machines: starterMachines("us") });
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("brings a shelf to belong to into a workbook that has none, in the plan's units", async () => {
    const before = await snapshot();
    const inserted = await insertMachines("metric");
    expect(inserted.what).toBe("Machines table written to the new sheets “Shelf” and “Machines”");
    const read = await readShelf("metric");
    expect(read).toMatchObject({ unfit: undefined, problems: [] });
    expect(read.shelf).toEqual({ ...starterShelf("metric"), machines: starterMachines("metric") });
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("takes a free name where the user has a sheet and a name called so", async () => {
    await Excel.run(async (context) => {
      const sheet = context.workbook.worksheets.add("Machines");
      context.workbook.names.add("machines", sheet.getRange("A1"));
      await context.sync();
    });
    expect((await insertMachines("us")).what).toContain("“Machines 2”");
    expect(await tableRows("Machines_2")).toHaveLength(starterMachines("us").length);
  });

  it("is refused a second time, in whatever units", async () => {
    await insertMachines("us");
    const before = await snapshot();
    await expect(insertMachines("us")).rejects.toThrow("There is a machines table already: Machines on “Machines”");
    await expect(insertMachines("metric")).rejects.toThrow("There is a machines table already");
    expect(await snapshot()).toEqual(before);
  });
});

describe("what was measured of a tool", () => {
  it("goes straight into cells that are blank, and is taken out by undo", async () => {
    await insertPlan(plan, "new sheet");
    const before = await snapshot();
    const inserted = await writeMeasured(TOOL, { wear: 0.25 }, "us");
    expect(inserted.what).toBe(`${TOOL} in the table Tooling: Wear mm per 1000 ft² 0.25`);
    expect((await readShelf("us")).shelf.tools.find(({ name }) => name === TOOL)?.wear).toBe(0.25);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("asks before it covers filled cells, telling old and new, and changes that row alone", async () => {
    await insertPlan(plan, "new sheet");
    const before = await snapshot();
    const rows = await tableRows("Tooling");
    const asked = await writeMeasured(TOOL, { wear: 0.25, life: 24000 }, "us").catch((error) => error);
    expect(asked).toBeInstanceOf(NeedsAnswer);
    expect(asked.message).toBe(
      `${TOOL} in the table Tooling: Life of a set ft² ${LIFE.toLocaleString("en-US")} → 24,000, Wear mm per 1000 ft² 0.25.`,
    );
    expect(await snapshot()).toEqual(before);
    const inserted = await writeMeasured(TOOL, { wear: 0.25, life: 24000 }, "us", true);
    const changed = rows.map((row) =>
      row.Tool === TOOL ? { ...row, "Life of a set ft²": 24000, "Wear mm per 1000 ft²": 0.25 } : row,
    );
    expect(await tableRows("Tooling")).toEqual(changed);
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("finds the row of the tool wherever the user moved it", async () => {
    await insertPlan(plan, "new sheet");
    const [first] = await valuesOf("Shelf!A5:N5");
    const [fifth] = await valuesOf("Shelf!A9:N9");
    expect(fifth![0]).toBe(TOOL);
    await write("Shelf!A5:N5", [fifth!]);
    await write("Shelf!A9:N9", [first!]);
    await writeMeasured(TOOL, { cut: 163 }, "us", true);
    expect([await cellValue("Shelf!K5"), await cellValue("Shelf!K9")]).toEqual([163, first![10]]);
  });

  it("gets columns at the right end of a table without them, after a yes, and undo takes them away", async () => {
    await insertPlan(plan, "new sheet");
    await deleteColumns("Cut per pass µm", "Wear mm per 1000 ft²");
    const before = await snapshot();
    const asked = await writeMeasured(TOOL, { cut: 163 }, "us").catch((error) => error);
    expect(asked).toBeInstanceOf(NeedsAnswer);
    expect(asked.message).toContain("has no column “Cut per pass µm” yet");
    expect(await snapshot()).toEqual(before);
    const inserted = await writeMeasured(TOOL, { cut: 163 }, "us", true);
    const row = await rowOf(TOOL);
    expect(Object.keys(row).at(-1)).toBe("Cut per pass µm");
    expect(row["Cut per pass µm"]).toBe(163);
    expect((await readShelf("us")).shelf.liquids).toEqual(shelf.liquids); // the table beside it moved over whole
    await undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  describe("where the cell has the number format Text, in which a number would be a text,", () => {
    const TITLE = "Life of a set ft²";
    const setText = (address: string) =>
      Excel.run(async (context) => {
        const bang = address.lastIndexOf("!");
        const cells = context.workbook.worksheets.getItem(address.slice(0, bang)).getRange(address.slice(bang + 1));
        cells.numberFormat = "@" as any;
        await context.sync();
      });
    /** The tool's life, the sixth column of the fifth row below the headings. */
    const CELL = "Shelf!F9";
    const everything = async () => [await snapshot(), await valuesOf("Shelf!A5:N24")];

    it.each([
      ["a text", () => setText(CELL).then(() => write(CELL, [[String(LIFE)]])), String(LIFE)],
      ["a number that was there before the format", () => setText(CELL), LIFE],
      ["nothing", () => write(CELL, [[""]]).then(() => setText(CELL)), ""],
    ] as const)(
      "and holds %s, it is told, becomes a number after a yes, and is undone to what it was",
      async (_, prepare, held) => {
        await insertPlan(plan, "new sheet");
        await prepare();
        expect(await cellValue(CELL)).toBe(held);
        const before = await everything();
        const asked = await writeMeasured(TOOL, { life: 24000 }, "us").catch((error) => error);
        expect(asked).toBeInstanceOf(NeedsAnswer);
        expect(asked.message).toMatch(
          new RegExp(
            `In “${TITLE}” its cell has the number format Text, in which a number is a text: it gets .* General\\.$`,
          ),
        );
        expect(await everything()).toEqual(before);
        const inserted = await writeMeasured(TOOL, { life: 24000 }, "us", asked.asked);
        expect(await cellValue(CELL)).toBe(24000);
        const { shelf: read, problems } = await readShelf("us");
        expect([read.tools.find(({ name }) => name === TOOL)?.life, problems]).toEqual([24000, []]);
        await undo(inserted);
        expect(await everything()).toEqual(before);
      },
    );

    it("so is not that of a new column, which takes a number though the column beside it is Text", async () => {
      await insertPlan(plan, "new sheet");
      await deleteColumns("Wear mm per 1000 ft²");
      await setText("Shelf!K5:K24");
      const before = await everything();
      const inserted = await writeMeasured(TOOL, { wear: 0.25 }, "us", true);
      expect((await rowOf(TOOL))["Wear mm per 1000 ft²"]).toBe(0.25);
      await undo(inserted);
      expect(await everything()).toEqual(before);
    });
  });

  it("is not undone over a later change of the user's without a yes", async () => {
    await insertPlan(plan, "new sheet");
    const inserted = await writeMeasured(TOOL, { cut: 163 }, "us", true);
    await write("Shelf!K9", [[170]]);
    await expect(undo(inserted)).rejects.toThrow(NeedsAnswer);
    expect(await cellValue("Shelf!K9")).toBe(170);
    await undo(inserted, true);
    expect(await cellValue("Shelf!K9")).toBe(CUT);
  });

  it("asks before a column goes that the user has filled in since", async () => {
    await insertPlan(plan, "new sheet");
    await deleteColumns("Wear mm per 1000 ft²");
    const inserted = await writeMeasured(TOOL, { wear: 0.25 }, "us", true);
    await write("Shelf!T10", [[0.3]]);
    await expect(undo(inserted)).rejects.toThrow(NeedsAnswer);
    expect(await cellValue("Shelf!T10")).toBe(0.3);
  });

  it.each([
    ["without a shelf", async (): Promise<unknown> => undefined, TOOL, "us", "no tooling table"],
    ["for a tool that is gone", () => insertPlan(plan, "new sheet"), "Metal 7", "us", "has no tool called Metal 7"],
  ] as const)("is refused %s", async (_, prepare, tool, units, told) => {
    await prepare();
    const before = await snapshot();
    const refused = await writeMeasured(tool, { cut: 163 }, units, true).catch((error) => error);
    expect(refused).toBeInstanceOf(Refusal);
    expect(refused.message).toContain(told);
    expect(await snapshot()).toEqual(before);
  });

  it("is refused in words on a protected sheet", async () => {
    await insertPlan(plan, "new sheet");
    await protect("Shelf");
    await expect(writeMeasured(TOOL, { cut: 163 }, "us", true)).rejects.toThrow("Nothing was changed; unprotect it");
    expect(await cellValue("Shelf!K9")).toBe(CUT);
  });
});

describe.each(["before", "after"] as const)("a request that fails %s its work", (when) => {
  it.each([
    // What is there; names and row; the cells; what they hold; writing.
    [
      "measured values and a new column",
      5,
      () => writeMeasured(TOOL, { cut: 163, life: 24000, wear: 0.25 }, "us", true),
    ],
    // What is there; the new sheet; writing.
    ["a machines table", 3, () => insertMachines("us")],
  ])(
    "leaves the workbook as it was: %s",
    async (_, requests, command) => {
      await insertPlan(plan, "new sheet");
      await deleteColumns("Wear mm per 1000 ft²");
      const before = await snapshot();
      let failures = 0;
      for (let n = 1; ; n++) {
        const { reached } = failRequest(workbook, n, when);
        const outcome = await command().catch((error) => error);
        vi.restoreAllMocks();
        // The client's last request only lets go of what it tracked: by then all is written, and told as done.
        if (!reached() || "what" in outcome) break;
        expect(outcome.message, `request ${n}`).toBe("Excel refused this: The network went away. Nothing was changed.");
        expect(await snapshot(), `request ${n}`).toEqual(before);
        failures++;
      }
      expect(failures).toBe(requests);
    },
    60_000,
  );
});
