/** Tools with a maker's label for a grit, from the shelf's cells to the plan's. */
import { describe, expect, it } from "vitest";
import { insertPlan, readShelf } from "../../../addin/sheet";
import { propose } from "../../../functions/plan/proposal";
import type { Shelf, Tool } from "../../../functions/plan/shelf";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { expectSheetAgrees, floor, planFor, putShelf } from "./agreement";
import { openGritForEach, setInTable, tableRows } from "./workbook";

openGritForEach();

const starter = starterShelf("us");
const labeled = (grit: string, size: number): Tool => ({
  ...starter.tools.find(({ name }) => name === "Metal 16 medium")!,
  name: `Metal ${grit}`,
  grit,
  size,
  cut: size / 3,
});
const shelf: Shelf = { ...starter, tools: [...starter.tools, labeled("00", 2000), labeled("0", 1600)] };

/** On a shelf of the user's own the labels are typed as texts. */
async function putLabeled(): Promise<void> {
  await putShelf(shelf, "us");
  await setInTable("My_tools", shelf.tools.length - 2, "Grit", "'00");
  await setInTable("My_tools", shelf.tools.length - 1, "Grit", "'0");
}

async function formatOf(table: string, column: string): Promise<unknown[]> {
  return Excel.run(async (context) => {
    const cells = context.workbook.tables
      .getItem(table)
      .columns.getItem(column)
      .getDataBodyRange()
      .load("numberFormat");
    await context.sync();
    return cells.numberFormat.flat();
  });
}

describe("a grit labeled 00", () => {
  it("keeps its zeros in a new shelf, whose grits are texts or numbers as they were", async () => {
    const plan = planFor(floor());
    await insertPlan({ ...plan, shelf }, "new sheet");
    expect(new Set(await formatOf("Tooling", "Grit"))).toEqual(new Set(["@"]));
    const grits = (await tableRows("Tooling")).map((row) => row.Grit);
    expect(grits.slice(0, 2)).toEqual([16, 16]);
    expect(grits.slice(-2)).toEqual(["00", "0"]);
    expect((await readShelf("us")).shelf.tools.at(-2)).toMatchObject({ grit: "00", size: 2000 });
  });

  it("comes first by its size, and is priced on the sheet as in the pane", async () => {
    const inputs = floor({ exposure: "C", depth: 6000 });
    await putLabeled();
    const stages = [{ work: "grind", tool: "Metal 00" } as const, ...propose(inputs, starter).stages];
    await insertPlan({ inputs, links: {}, shelf, stages }, "new sheet");
    const { rows } = await expectSheetAgrees({ inputs, links: {}, shelf, stages });
    expect(rows[0]).toMatchObject({ grit: "00", size: 2000, verdict: "start" });
    // 2000 / 1180 µm.
    expect((await tableRows("Stages"))[1]!["Step ratio"]).toBeCloseTo(1.695, 3);
  });

  it("is chosen for what it takes off, before any number", () => {
    const { stages } = propose(floor({ exposure: "C", depth: 20_000 }), {
      ...shelf,
      tools: shelf.tools.map((tool) => (tool.grit === "00" ? { ...tool, cut: 2000, life: 50_000 } : tool)),
    });
    expect(stages[0]!.tool).toBe("Metal 00");
  });

  it("needs its size, and a number that is a text is a number", async () => {
    await putLabeled();
    await setInTable("My_tools", shelf.tools.length - 1, "Size µm", "");
    await setInTable("My_tools", 4, "Grit", "'30");
    const read = await readShelf("us");
    expect(read.problems.join()).toContain("Grit is the label 0, which needs its size in Size µm");
    expect(read.shelf.tools[4]!.grit).toBe(30);
    const plan = { ...planFor(floor()), shelf };
    await insertPlan(plan, "new sheet");
    const first = (await tableRows("Stages"))[0]!;
    expect([first.Tool, first.Grit]).toEqual(["Metal 30 medium", 30]);
    await expectSheetAgrees({ ...plan, shelf: read.shelf });
  });
});
