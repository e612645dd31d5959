/**
 * Plans that the version before wrote, cell by cell as it left them (the demo, a block in it, and a metric plan with
 * machines and a test strip): today's functions still calculate every cell of them, to the same value.
 */
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { openGritForEach } from "./workbook";

/** A value, or a formula with the value that it had. */
type Cell = string | number | boolean | [formula: string, value: string | number | boolean];
interface Written {
  sheets: { name: string; row: number; column: number; cells: Cell[][]; names: [string, string][] }[];
  tables: [name: string, address: string][];
  names: [string, string][];
}

const written = (name: string): Written =>
  JSON.parse(readFileSync(`${import.meta.dirname}/plans-of-before/${name}.json`, "utf8"));

openGritForEach();

/** A text that begins as a formula does has itself for its value. */
const isFormula = (cell: Cell) => Array.isArray(cell) && cell[0] !== cell[1];
const entry = (cell: Cell, withFormulas: boolean) => {
  if (Array.isArray(cell)) return isFormula(cell) ? (withFormulas ? cell[0] : "") : `'${cell[0]}`;
  return typeof cell === "string" && cell !== "" ? `'${cell}` : cell;
};

/** Values first, then tables and names, then the formulas that refer to them. */
async function rebuild({ sheets, tables, names }: Written): Promise<void> {
  await Excel.run(async (context) => {
    const { worksheets } = context.workbook;
    worksheets.getItem("Sheet1").name = sheets[0]!.name;
    for (const { name } of sheets.slice(1)) worksheets.add(name);
    const fill = (withFormulas: boolean) => {
      for (const { name, row, column, cells } of sheets) {
        const range = worksheets.getItem(name).getRangeByIndexes(row, column, cells.length, cells[0]!.length);
        range.formulas = cells.map((line) => line.map((cell) => entry(cell, withFormulas)));
      }
    };
    fill(false);
    await context.sync();
    for (const [name, address] of tables) context.workbook.tables.add(address, true).name = name;
    for (const { name: sheet, names: own } of sheets) {
      for (const [name, formula] of own) worksheets.getItem(sheet).names.add(name, formula);
    }
    for (const [name, formula] of names) context.workbook.names.add(name, formula);
    await context.sync();
    fill(true);
    await context.sync();
  });
}

it.each(["us", "metric"])("%s: every cell has the value it had", async (name) => {
  const before = written(name);
  await rebuild(before);
  const now = await Excel.run(async (context) => {
    const ranges = before.sheets.map(({ name: sheet, row, column, cells }) =>
      context.workbook.worksheets
        .getItem(sheet)
        .getRangeByIndexes(row, column, cells.length, cells[0]!.length)
        .load("values"),
    );
    await context.sync();
    return ranges.map(({ values }) => values);
  });
  let compared = 0;
  const different: string[] = [];
  before.sheets.forEach(({ name: sheet, cells }, s) => {
    cells.forEach((line, r) => {
      line.forEach((cell, c) => {
        if (!Array.isArray(cell) || !isFormula(cell)) return;
        compared++;
        const [formula, value] = cell;
        const found = now[s]![r]![c];
        const isSame =
          typeof value === "number" && typeof found === "number"
            ? Math.abs(found - value) <= 1e-9 * Math.max(1, Math.abs(value))
            : found === value;
        if (!isSame) different.push(`${sheet} ${r},${c}: ${found}, was ${value}: ${formula}`);
      });
    });
  });
  expect(different).toEqual([]);
  expect(compared).toBeGreaterThan(200);
});
