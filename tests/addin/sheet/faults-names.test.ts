/** Names as long and as odd as Excel takes them. */
import { describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import { guessMapping } from "../../../functions/audit/headings";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import { putShelf } from "./agreement";
import { plan, TOOL } from "./faults-commands";
import { inExcel, LONG_NAMES } from "./faults-conditions";
import { auditCells, auditList, figureUnder, typeList } from "./job-lists";
import { named, openGritForEach, select, snapshot, tableRows, valuesOf } from "./workbook";

vi.setConfig({ testTimeout: 120_000 });

openGritForEach();

describe("long and odd names:", () => {
  it.each(LONG_NAMES)("a list on a sheet called %s is audited, and the audit follows its cells", async (name) => {
    await typeList(name, "B3", [
      ["Job", "Bid price", "Billed", "Bid cost", "Final cost"],
      ["A1", 1000, 1000, 700, 780],
      ["A2", 1000, 1000, 700, 700],
    ]);
    const before = await snapshot();
    const { written } = await auditList();
    // 1 − (780 + 700) / 2000, by hand.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.26, 12);
    await inExcel(({ worksheets }) => {
      worksheets.getItem(name).getRange("F4").values = [[500]];
    });
    // 1 − (500 + 700) / 2000.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.4, 12);
    await inExcel(({ worksheets }) => {
      worksheets.getItem(name).getRange("F4").values = [[780]];
    });
    await sheet.undo(written);
    expect(await snapshot()).toEqual(before);
  });

  const ODD = "O'Brien's quote 😀 הצעה 12345";

  it("lines on a sheet of such a name show the plan that stands elsewhere", async () => {
    await inExcel(({ worksheets }) => {
      worksheets.getItem("Sheet1").name = ODD;
    });
    await select(`${ODD}!C4`);
    const before = await snapshot();
    const inserted = await sheet.insertPlan({ ...plan, inputs: { ...plan.inputs, floor: ODD } }, "selected cell");
    expect((await valuesOf(`${ODD}!C4:D4`))[0]).toEqual(["Price", await named("Stages_Price")]);
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });

  it("jobs, bonds and headings of 255 characters are read, grouped and audited", async () => {
    const long = (mark: string) => `${mark} 😀 “O'Brien” `.padEnd(255, "x");
    const HEADS = ["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bond"].map(long);
    await typeList("Old jobs", "B3", [
      HEADS,
      [long("A1"), 1000, 1000, 700, 780, long("metal")],
      [long("A2"), 1000, 1000, 700, 700, long("metal")],
    ]);
    const before = await snapshot();
    const guessed = guessMapping(["Job", "Bid price", "Billed", "Bid cost", "Final cost", "Bond"]);
    const mapping = Object.fromEntries(Object.entries(guessed).map(([key, heading]) => [key, long(heading!)]));
    const { jobs, problems, written } = await auditList(mapping);
    expect([jobs.map(({ job, bond }) => [job, bond]), problems]).toEqual([
      [
        [long("A1"), long("metal")],
        [long("A2"), long("metal")],
      ],
      [],
    ]);
    // 1 − (780 + 700) / 2000, by hand.
    expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(0.26, 12);
    await sheet.undo(written);
    expect(await snapshot()).toEqual(before);
  });

  it("a tool with a name of 255 characters is planned with and measured", async () => {
    const long = `Métal 30 😀 ${"x".repeat(300)}`.slice(0, 255);
    const shelf = starterShelf("us");
    const tools = shelf.tools.map((tool) => (tool.name === TOOL ? { ...tool, name: long } : tool));
    await putShelf({ ...shelf, tools }, "us");
    const before = await snapshot();
    const measured = await sheet.writeMeasured(long, { cut: 163 }, "us", true);
    expect((await tableRows("My_tools")).find((row) => row.Tool === long)!["Cut per pass µm"]).toBe(163);
    await sheet.undo(measured);
    const stages = plan.stages.map((stage) => (stage.tool === TOOL ? { ...stage, tool: long } : stage));
    const inserted = await sheet.insertPlan({ ...plan, shelf: { ...shelf, tools }, stages }, "new sheet");
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });
});
