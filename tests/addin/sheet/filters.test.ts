/**
 * The user's filters: nothing that is written goes wrong or unseen because of one, all rows are read, and every filter
 * stays. How Excel loses what is written among filtered rows is in the host's own tests, with the reports of it.
 */
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import * as sheet from "../../../addin/sheet";
import { repairWorkbook } from "../../../addin/sheet/repair-cells";
import { starterMachines, starterShelf } from "../../../functions/plan/starter-shelf";
import { CATALOGUE } from "../../catalogue";
import { putShelf } from "./agreement";
import { outcomeOf, plan, TOOL } from "./faults-commands";
import { auditCells, auditList, figureUnder, quietly, typeList } from "./job-lists";
import { openGritForEach, select, snapshot, tableRows, valuesOf, workbook, write } from "./workbook";

vi.setConfig({ testTimeout: 60_000 });

openGritForEach();
afterEach(() => {
  vi.restoreAllMocks();
});

const onSheet = (name: string, work: (one: Excel.Worksheet) => void) =>
  Excel.run(async (context) => {
    work(context.workbook.worksheets.getItem(name));
    await context.sync();
  });

const filterTable = (name: string, column: string, values: string[]) =>
  Excel.run(async (context) => {
    context.workbook.tables.getItem(name).columns.getItem(column).filter.applyValuesFilter(values);
    await context.sync();
  });

const LIST = [
  ["Year", "Job"],
  ["2023", "a"],
  ["2024", "b"],
  ["2023", "c"],
  ["2024", "d"],
];
const filterList = () =>
  onSheet("Sheet1", (one) => one.autoFilter.apply("A1:B5", 0, { filterOn: "Values", values: ["2024"] }));

describe("lines at the selected cell", () => {
  beforeEach(async () => {
    await write("Sheet1!A1:B5", LIST);
    await filterList();
  });

  it("is refused beside a filtered list, where rows of its own would not be seen, and done once they are shown", async () => {
    await select("Sheet1!E2");
    const before = await snapshot();
    const refused = (await outcomeOf(() =>
      sheet.insertPlan(plan, "selected cell", true, [...sheet.QUOTE_LINES]),
    )) as Error;
    expect(refused.message).toMatch(
      /^Rows or columns of Sheet1!E2:\w+ are hidden, so part .*Unhide them, or select a cell/,
    );
    expect(await snapshot()).toEqual(before);
    await onSheet("Sheet1", (one) => one.autoFilter.clearCriteria());
    const shown = await snapshot();
    await sheet.undo(await sheet.insertPlan(plan, "selected cell", true, [...sheet.QUOTE_LINES]));
    expect(await snapshot()).toEqual(shown);
  });

  it("is refused over a filter that hides nothing, which a table there would end, and done once it is removed", async () => {
    await onSheet("Sheet1", (one) => one.autoFilter.clearCriteria());
    await select("Sheet1!B4");
    const before = await snapshot();
    const refused = (await outcomeOf(() =>
      sheet.insertPlan(plan, "selected cell", true, [...sheet.QUOTE_LINES]),
    )) as Error;
    expect(refused.message).toMatch(
      /^The filter of Sheet1!A1:B5 is in the way of Sheet1!B4:\w+\. Remove the filter, or/,
    );
    expect(await snapshot()).toEqual(before);
    await onSheet("Sheet1", (one) => one.autoFilter.remove());
    await sheet.undo(await sheet.insertPlan(plan, "selected cell", true, [...sheet.QUOTE_LINES]));
    expect((await valuesOf("Sheet1!B1:B5")).flat()).toEqual(["Job", "a", "b", "c", "d"]);
  });

  it("goes below a filtered list, which stays filtered, and is undone there", async () => {
    await select("Sheet1!A8");
    const before = await snapshot();
    const inserted = await sheet.insertPlan(plan, "selected cell");
    const { sheets } = (await snapshot()) as any;
    expect(sheets[0].filter).toEqual((before as any).sheets[0].filter);
    await sheet.undo(inserted);
    expect(await snapshot()).toEqual(before);
  });
});

it("an undo is refused while a filter hides rows of the lines, and done once they are shown", async () => {
  await write("Sheet1!A1:A5", [["Year"], ["2023"], ["2024"], ["2023"], ["2024"]]);
  await select("Sheet1!B2");
  const before = await snapshot();
  const inserted = await sheet.insertPlan(plan, "selected cell", false, ["price", "hours", "days"]);
  await onSheet("Sheet1", (one) => one.autoFilter.apply("A1:A5", 0, { filterOn: "Values", values: ["2024"] }));
  const filtered = await snapshot();
  const refused = (await outcomeOf(() => sheet.undo(inserted, true))) as Error;
  expect(refused.message).toMatch(
    /^Nothing was undone: rows of Sheet1!B2:C4, .* are hidden .*Show them all, then undo\.$/,
  );
  expect(await snapshot()).toEqual(filtered);
  await onSheet("Sheet1", (one) => one.autoFilter.remove());
  await sheet.undo(inserted);
  expect(await snapshot()).toEqual(before);
});

it("formulas of filtered rows are entered again each in its own cell", async () => {
  // One below the other, which is one block where nothing is hidden.
  const formulas = [30, 60, 120, 240, 400].map((grit) => [`=GRIT.SIZE(${grit})`]);
  await write("Sheet1!A1:A6", [["Bond"], ["metal"], ["resin"], ["metal"], ["resin"], ["metal"]]);
  await write("Sheet1!B2:B6", formulas);
  await onSheet("Sheet1", (one) => one.autoFilter.apply("A1:A6", 0, { filterOn: "Values", values: ["resin"] }));
  const before = await snapshot();
  const { engine } = workbook;
  const reader = engine.valueReader.bind(engine);
  vi.spyOn(engine, "valueReader").mockImplementation((sheetId) => {
    const read = reader(sheetId);
    return (row, column) => (column === 1 && row > 0 && row < 6 ? "#NAME?" : read(row, column));
  });
  const known = CATALOGUE.map(({ id }) => id);
  expect((await repairWorkbook(known, quietly())).entered).toBe(5);
  vi.restoreAllMocks();
  expect(await snapshot()).toEqual(before);
});

describe("every row is read, shown or not:", () => {
  it("of the shelf's tables", async () => {
    const shelf = { ...starterShelf("us"), machines: starterMachines("us") };
    await putShelf(shelf, "us");
    await filterTable("My_tools", "Bond", ["resin"]);
    await filterTable("My_liquids", "Work", ["guard"]);
    await filterTable("My_machines", "Machine", ["none of them"]);
    expect(await sheet.readShelf("us")).toMatchObject({ shelf, problems: [] });
  });

  const JOBS = [
    ["Job", "Bid price", "Billed", "Bid cost", "Final cost"],
    ["A1", 1000, 1000, 700, 780],
    ["A2", 1000, 1000, 700, 700],
    ["A3", 1000, 1000, 700, 600],
  ];

  it.each([
    ["a table", "Past"],
    ["plain cells", undefined],
  ] as const)(
    "of a list of jobs in %s, by the check and by the audit, which the filter does not change",
    async (_, table) => {
      await typeList("Old jobs", "B3", JOBS, table);
      if (table) await filterTable(table, "Job", ["A2"]);
      else await onSheet("Old jobs", (one) => one.autoFilter.apply("B3:F6", 0, { filterOn: "Values", values: ["A2"] }));
      const before = await snapshot();
      const { jobs, written } = await auditList();
      expect(jobs.map(({ job }) => job)).toEqual(["A1", "A2", "A3"]);
      // 1 − (780 + 700 + 600) / 3000, by hand.
      expect(figureUnder(await auditCells(), "Actual margin")).toBeCloseTo(1 - 2080 / 3000, 12);
      await sheet.undo(written);
      expect(await snapshot()).toEqual(before);
    },
  );
});

it("what was measured goes into the tool's own row of a filtered table, and a new column too; the filter stays", async () => {
  await putShelf(starterShelf("us"), "us");
  await Excel.run(async (context) => {
    context.workbook.tables.getItem("My_tools").columns.getItem("Wear mm per 1000 ft²").delete();
    await context.sync();
  });
  await filterTable("My_tools", "Bond", ["resin"]);
  const before = await snapshot();
  const rows = await tableRows("My_tools");
  const inserted = await sheet.writeMeasured(TOOL, { cut: 163, wear: 0.25 }, "us", true);
  const measured = rows.map((row) => {
    const isTool = row.Tool === TOOL;
    return { ...row, ...(isTool && { "Cut per pass µm": 163 }), "Wear mm per 1000 ft²": isTool ? 0.25 : "" };
  });
  expect(await tableRows("My_tools")).toEqual(measured);
  await sheet.undo(inserted);
  expect(await snapshot()).toEqual(before);
});
