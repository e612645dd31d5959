/** Down a column a formula is made plain once, and the others like it are filled in: to the letter what each alone becomes. */
import { describe, expect, it } from "vitest";
import { Reference } from "../../../addin/share/parts/added-sheets";
import { Formulas } from "../../../addin/share/parts/formulas";
import { Untranslatable } from "../../../addin/share/refusals";
import { CATALOGUE } from "../../catalogue";

const NAMES = { defined: new Map(), tables: new Map(), spills: new Map() };
const fresh = () => new Formulas(CATALOGUE, new Reference("Reference"), NAMES);
const plainOf = (formulas: Formulas, formula: string, sheet = "Plan") => {
  try {
    return formulas.plain(formula, sheet);
  } catch (error) {
    if (error instanceof Untranslatable) return error.message;
    throw error;
  }
};

/** A call with a cell for each argument, in this row, and what may stand around it. */
function formulasOf(id: string, count: number, row: number): string[] {
  const cells = Array.from({ length: count }, (_, i) => `$${"ABCDEFGHIJ"[i]}${row}`);
  const call = `GRIT.${id}(${cells.join(",")})`;
  return [
    call,
    `_xldudf_GRIT_${id}(${cells.map((cell) => `Quote!${cell}`).join(",")})`,
    `IF(K${row}="",B${row},${call}+B${row}*2)`,
    `SUM(A${row}:B${row + 2})+${call}`,
    `"$B${row}"&${call}`,
  ];
}

describe("formulas that differ in their cells alone become what each becomes by itself:", () => {
  it.each(CATALOGUE)("$id", ({ id, params }) => {
    const kept = fresh();
    for (const row of [2, 3, 10, 9999]) {
      for (const formula of formulasOf(id, params.length, row)) {
        expect(plainOf(kept, formula)).toEqual(plainOf(fresh(), formula));
      }
    }
  });
});

it("two arguments that are one cell are no model for two that differ", () => {
  const kept = fresh();
  for (const formula of ["GRIT.MARGIN(A1,A1)", "GRIT.MARGIN(A1,B1)", "GRIT.MARGIN(B2,A2)", "GRIT.MARGIN(C3,C3)"]) {
    expect(plainOf(kept, formula)).toEqual(plainOf(fresh(), formula));
  }
});

it("a formula that grows too long with its cells is refused like any other", () => {
  const kept = fresh();
  const long = (cell: string) => `GRIT.MARGIN(${Array.from({ length: 180 }, () => cell).join("+")},B1)`;
  expect(plainOf(kept, long("A1"))).toMatchObject({ isArray: false });
  const far = long("'A sheet of a longer name'!$XFD$1048576");
  expect(plainOf(kept, far)).toMatch("a cell holds 8192");
  expect(plainOf(kept, far)).toBe(plainOf(fresh(), far));
});
