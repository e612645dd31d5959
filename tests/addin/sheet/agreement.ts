/** Plans to insert, and every number of the sheet held against the functions' own arithmetic. */
import { expect } from "vitest";
import type { Plan } from "../../../addin/sheet";
import { type Estimate, estimate } from "../../../functions/plan/estimate";
import { type Inputs, startInputs } from "../../../functions/plan/inputs";
import { propose } from "../../../functions/plan/proposal";
import {
  type Column,
  header,
  LIQUID_COLUMNS,
  MACHINE_COLUMNS,
  type Shelf,
  TOOL_COLUMNS,
} from "../../../functions/plan/shelf";
import { starterShelf } from "../../../functions/plan/starter-shelf";
import type { System } from "../../../functions/units";
import { addTable, named, tableRows } from "./workbook";

export const floor = (over: Partial<Inputs> = {}): Inputs => ({
  ...startInputs("us"),
  jobName: "Test floor",
  length: 80,
  width: 50,
  ...over,
});

export const planFor = (inputs: Inputs, links: Plan["links"] = {}): Plan => {
  const shelf = starterShelf(inputs.units);
  return { inputs, links, stages: propose(inputs, shelf).stages, shelf };
};

/** Rows of a table of the shelf, header first, as a user would type them. */
export const shelfRows = <Row extends object>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  units: System,
): unknown[][] => [
  columns.map((column) => header(column, units)),
  ...rows.map((row) => columns.map(({ key }) => row[key] ?? "")),
];

/** A shelf of the user's own, with a machines table where there are machines. */
export async function putShelf(shelf: Shelf, units: System, toolColumns = TOOL_COLUMNS): Promise<void> {
  await addTable("My_tools", "Tools", "B2", shelfRows(shelf.tools, toolColumns, units));
  await addTable("My_liquids", "Liquids", "A1", shelfRows(shelf.liquids, LIQUID_COLUMNS, units));
  if (shelf.machines.length === 0) return;
  await addTable("My_machines", "Machines", "C5", shelfRows(shelf.machines, MACHINE_COLUMNS, units));
}

export function close(actual: unknown, expected: number): void {
  expect(actual).toBeTypeOf("number");
  expect(Math.abs((actual as number) - expected), `${actual} beside ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(1, Math.abs(expected)),
  );
}

const namesOf = (suffix: string) => ({
  table: `Stages${suffix}`,
  price: `Stages_Price${suffix}`,
  cost: `Stages_Cost${suffix}`,
  hours: `Stages_Hours${suffix}`,
  days: `Stages_Days${suffix}`,
});
const FIRST = namesOf("");
export const SECOND = namesOf("_2");

/** Every number of the sheet against the functions' own arithmetic. */
export async function expectSheetAgrees(plan: Plan, names = FIRST): Promise<Estimate> {
  const wanted = estimate(plan.inputs, plan.shelf, plan.stages);
  const rows = await tableRows(names.table);
  expect(rows).toHaveLength(wanted.rows.length);
  wanted.rows.forEach((row, i) => {
    const cells = rows[i]!;
    expect([cells["No."], cells.Work, cells.Tool, cells.Bond]).toEqual([i + 1, row.work, row.tool, row.bond]);
    expect(cells.Grit).toBe(row.grit ?? "");
    expect(cells.Check).toBe(row.verdict);
    close(cells.Passes, row.passes);
    close(cells.Hours, row.hours);
    close(cells["Tooling cost"], row.parts.tooling);
    close(cells["Crew cost"], row.parts.crew);
    close(cells["Machine cost"], row.parts.machine);
    close(cells["Liquids cost"], row.parts.liquids);
    close(cells["Stage cost"], row.cost);
    close(cells["Wait h"], row.wait);
    if (row.size !== null) close(cells["Size µm"], row.size);
    if ("Cut a pass µm" in cells) row.cut === undefined || close(cells["Cut a pass µm"], row.cut);
    const pressure = cells["Pressure psi"] ?? cells["Pressure kPa"];
    if (pressure !== undefined) row.pressure === undefined ? expect(pressure).toBe("") : close(pressure, row.pressure);
    if ("Run on" in cells) expect(cells["Run on"]).toBe(row.machine);
    if ("Sets used" in cells) {
      close(cells["Machine h"], row.machineHours);
      close(cells["Edge h"], row.edgeHours);
      close(cells["Sets used"], row.setsUsed);
      close(cells["Sets to buy"], row.setsToBuy);
      close(cells["Liquid gal"] ?? cells["Liquid L"], row.volume);
      close(cells["Price of sets to buy"], row.toBuyPrice);
      close(cells["Share of total"], row.cost / wanted.rows.reduce((sum, r) => sum + r.cost, 0));
    }
  });
  close(await named(names.cost), wanted.cost);
  close(await named(names.price), wanted.price);
  close(await named(names.hours), wanted.hours);
  close(await named(names.days), wanted.days);
  return wanted;
}
