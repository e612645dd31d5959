/**
 * A scale of the user's own on the Reference sheet: formulas that follow the user's range of grits and sizes, check it as
 * the function does, and put it in order for the formulas that look sizes up.
 */
import { absoluteAddress } from "../../common/a1";
import { REFERENCE_SHEET, SCALE_HEADINGS } from "../copy-texts";
import type { ScalePart } from "../scales";

type OwnColumn = ScalePart | "given grit" | "given size" | "counts" | "label";

export const OWN_COLUMNS: readonly OwnColumn[] = [
  "given grit",
  "given size",
  "counts",
  "grit",
  "size",
  "exponent",
  "from",
  "nearest",
  "label",
];

/** So many rows may come into the range before the table is too short for it. */
const SPARE_ROWS = 10;

/** Ascending, with the last grit in every row that is left over. */
export function ownScaleTable(range: string, given: number, column: number, top: number) {
  const count = given + SPARE_ROWS;
  const at = (row: number, name: OwnColumn) => absoluteAddress(top + row, column + OWN_COLUMNS.indexOf(name));
  const all = (name: OwnColumn) => `${at(0, name)}:${at(count - 1, name)}`;
  const counted = `SUM(${all("counts")})`;
  const labels = `SUMPRODUCT((${all("label")}<>"")*1)`;
  const isGood = (cell: string) => `(ISNUMBER(${cell})>ISLOGICAL(${cell}))*(${cell}>0)`;
  const isEmpty = (cell: string) => `((${cell}="")+(${cell}=0))`;

  // A blank cell would come as 0.
  const cellOf = (n: number, side: 1 | 2) => `INDEX(${range},${n},${side})`;
  const asGiven = (n: number, side: 1 | 2) =>
    `IF(${n}>ROWS(${range}),"",IF(${cellOf(n, side)}="","",${cellOf(n, side)}))`;

  const row = (i: number): Record<OwnColumn, string> => {
    const [g, s, grit, size] = [at(i, "given grit"), at(i, "given size"), at(i, "grit"), at(i, "size")];
    const [nextGrit, nextSize] = [at(i + 1, "grit"), at(i + 1, "size")];
    const line = `IF(${nextGrit}=${grit},0,IF(${nextSize}<${size},LN(${nextSize}/${size})/LN(${nextGrit}/${grit}),#VALUE!))`;
    // From the finest up, row by row.
    const back = count - 1 - i;
    return {
      "given grit": asGiven(i + 1, 1),
      "given size": asGiven(i + 1, 2),
      // A label such as 00 is no number to look up by: it is found as it was given.
      counts: `IF(IFERROR(${isEmpty(g)}*${isEmpty(s)},0),0,IF(ISTEXT(${g})*(SUBSTITUTE(TRIM(${g}),"0","")="")*${isGood(s)},0,IF(${isGood(g)},IF(${isGood(s)},1,#VALUE!),#VALUE!)))`,
      // COUNTIF would take the label 00 for a 0.
      grit: `SMALL(${all("given grit")},SUMPRODUCT((${all("given grit")}=0)*1)+MIN(${i + 1},${counted}))`,
      size: `INDEX(${all("given size")},MATCH(${grit},${all("given grit")},0))`,
      // A grit of two sizes is in no order.
      exponent: `IF(SUMPRODUCT((${all("given grit")}=${grit})*(${all("given size")}<>${size}))>0,#VALUE!,${i === count - 1 ? "0" : line})`,
      from: i === 0 ? "0" : `${at(back, "size")}*${at(back + 1, "size")}`,
      nearest: at(back, "grit"),
      label: `IF(ISTEXT(${g}),TRIM(${g}),"")`,
    };
  };
  return {
    heading: REFERENCE_SHEET.ownScale(range),
    headings: OWN_COLUMNS.map((name) => SCALE_HEADINGS[name]),
    rows: Array.from({ length: count }, (_, i) => OWN_COLUMNS.map((name) => ({ formula: row(i)[name] }))),
    corner: {
      formula: `IF(ROWS(${range})>${count},#N/A,IF(${counted}=0,IF(${labels}>0,0,#VALUE!),${counted}+0*SUM(${all("exponent")})))`,
    },
  };
}
