/** LibreOffice, as these tests use it, calculates every cell, whatever value the workbook holds for it. */
import { describe, expect, it } from "vitest";
import { book, sheet } from "../copy-files";
import { isSame, recalculated } from "./soffice";

/** Formulas with a value that they cannot have, and their own: by hand. */
const CELLS: readonly [address: string, cell: string, value: unknown][] = [
  ["A1", "<v>6</v>", 6],
  ["B1", "<f>A1*7</f><v>777</v>", 42],
  ["C1", "<f>1/3</f><v>777</v>", 0.3333333333333333],
  ["D1", '<f t="array" ref="D1:D2">A1:A2+1</f><v>777</v>', 7],
  ["E1", "<f>1/0</f><v>777</v>", { code: "#DIV/0!" }],
  ["F1", "<f>MATCH(9,A1:A2,0)</f><v>777</v>", { code: "#N/A" }],
  ["G1", '<f>IF(A1=6,"six",B1)</f><v>777</v>', "six"],
  ["H1", "<f>A1&gt;5</f><v>777</v>", true],
  ["A2", "<v>8</v>", 8],
  ["D2", "<v>777</v>", 9],
];
const rows = [1, 2].map((row) => {
  const cells = CELLS.filter(([address]) => address.endsWith(String(row)));
  return `<row r="${row}">${cells.map(([address, cell]) => `<c r="${address}">${cell}</c>`).join("")}</row>`;
});
const WORKBOOK = book({ sheets: { Wrong: sheet(rows.join("")) }, behind: '<calcPr fullCalcOnLoad="1"/>' });

/** Nothing in the profile: LibreOffice as it comes. */
const AS_IT_COMES = '<?xml version="1.0"?><oor:items xmlns:oor="http://openoffice.org/2001/registry"/>';

describe("LibreOffice", { timeout: 300_000 }, () => {
  it("calculates anew what the file has wrong, numbers, texts and errors", async () => {
    const [sheets] = await recalculated([WORKBOOK]);
    const found = sheets!.get("Wrong")!;
    for (const [address, , value] of CELLS) {
      expect(isSame(found.get(address), value), `${address} is ${JSON.stringify(found.get(address))}`).toBe(true);
    }
    expect(found.size).toBe(CELLS.length);
  });

  it("shows what the file has wrong where it is not told to calculate, so that telling it is what matters", async () => {
    const [sheets] = await recalculated([WORKBOOK], AS_IT_COMES);
    expect(sheets!.get("Wrong")!.get("B1")).toBe(777);
  });
});
