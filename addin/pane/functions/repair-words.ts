/** What Check and repair found, in words. */
import { counted } from "../../common/count";
import type { Repaired } from "../../sheet";
import { type CheckedWorkbook, cellName, type OurCell } from "../../sheet/our-cells";
import type { Finding, Found } from "./repair";

const shown = (value: unknown): string =>
  typeof value === "number" ? value.toLocaleString("en-US", { maximumSignificantDigits: 6 }) : String(value) || "blank";

const NOT_RECOGNIZED = {
  first:
    "Excel doesn't recognize something in these cells. Repair enters their formulas again, unchanged. That fixes cells entered before the add-in loaded. If they stay #NAME?, another function in them is mistyped, or a cell they refer to shows #NAME?.",
  left: "Entering them again didn't help. Look for another mistyped function in them, or a cell they refer to that shows #NAME?. If there is none, save the workbook, open it again and check again.",
};

/** What there is to show; `tried` where it is what a repair has left. */
export const foundIn = (checked: CheckedWorkbook, tried = false): Found => ({
  digest: checkedDigest(checked),
  repairable: tried ? 0 : checked.unrecognized.filter(({ hindrance }) => hindrance === "").length,
  findings: findingsIn(checked, tried),
});

function findingsIn(found: CheckedWorkbook, tried: boolean): Finding[] {
  const of = (title: (cells: string) => string, cells: readonly OurCell[], advice: string): Finding[] =>
    cells.length === 0 ? [] : [{ title: title(counted(cells.length, "cell")), places: cells.map(cellName), advice }];
  const unrecognized = (hindrance: OurCell["hindrance"]) =>
    found.unrecognized.filter((cell) => cell.hindrance === hindrance);
  const missing = [...new Set(found.misnamed.flatMap(({ ids }) => ids))];
  const unknownNames = [...new Set(found.unnamed.flatMap((cell) => cell.unknownNames ?? []))];
  const errors = found.errors.length;
  const stale = found.stale.length;
  return [
    ...of(
      (cells) => (tried ? `Still #NAME? in ${cells}` : `#NAME? in ${cells}`),
      unrecognized(""),
      tried ? NOT_RECOGNIZED.left : NOT_RECOGNIZED.first,
    ),
    ...of(
      (cells) => `#NAME? in ${cells} of protected sheets`,
      unrecognized("protected"),
      "Nothing can be entered there. Unprotect the sheet, then check again.",
    ),
    ...of(
      (cells) => `#NAME? in ${cells} with the number format Text`,
      unrecognized("text format"),
      "A formula entered there becomes text. Choose another number format, then check again.",
    ),
    ...missing.map((id) => ({
      title: `There is no function GRIT.${id}`,
      places: found.misnamed.filter(({ ids }) => ids.includes(id)).map(({ cell }) => cellName(cell)),
      advice: "It's mistyped or from a newer version. Look for its name above, or update the add-in.",
    })),
    ...unknownNames.map((name) => ({
      title: `There is no name ${name} in this workbook`,
      places: found.unnamed.filter((cell) => cell.unknownNames?.includes(name)).map(cellName),
      advice:
        "The formula shows an error because of it. Correct the name in the formula, or define it (Formulas, Name Manager).",
    })),
    ...of(
      (cells) => `${cells} waiting for an answer`,
      found.waiting,
      "The functions are still running, or the add-in isn't connected. Wait a moment, then check again.",
    ),
    ...(errors === 0
      ? []
      : [
          {
            title: `Another error in ${counted(errors, "cell")}`,
            places: found.errors.map((cell) => `${cellName(cell)} ${String(cell.value)}`),
            advice: "The functions work, but an input is wrong. Select the cell: its error card says which.",
          },
        ]),
    ...of(
      (cells) => `A formula kept as text in ${cells}`,
      found.texts,
      "It isn't calculated. Choose the number format General, remove any apostrophe before the formula, and press Enter in the cell.",
    ),
    ...(stale === 0
      ? []
      : [
          {
            title: `${counted(stale, "cell was", "cells were")} out of date`,
            places: found.stale.map(
              ({ cell, before, after }) => `${cellName(cell)} ${shown(before)} → ${shown(after)}`,
            ),
            advice: "The check calculated everything, so they're up to date now.",
          },
        ]),
    ...(found.restless === 0
      ? []
      : [
          {
            title: `${counted(found.restless, "cell changes", "cells change")} with every calculation`,
            places: [],
            advice: "They use RAND, NOW or the like, so nobody can say whether they were outdated.",
          },
        ]),
  ];
}

/** The check in a sentence. */
function checkedDigest({ sheets, sheetsWithOurs, cells, fine, stale }: CheckedWorkbook): string {
  const read = counted(sheets, "sheet");
  if (cells === 0) return `No cell on ${read} calls Gritledger's functions`;
  const where = `${counted(cells, "cell")} on ${counted(sheetsWithOurs, "sheet")}`;
  const all = `${where} ${cells === 1 ? "calls" : "call"} Gritledger's functions (${read} read)`;
  const now =
    fine === cells
      ? "all work"
      : `${fine.toLocaleString("en-US")} work, ${(cells - fine).toLocaleString("en-US")} to look at`;
  return stale.length === 0 ? `${all}: ${now}` : `${all}: ${now}; ${counted(stale.length, "was", "were")} out of date`;
}

export function repairedDigest({ entered, fixed }: Repaired): string {
  if (entered === 0) return "Nothing left to repair";
  const left = entered - fixed;
  return left === 0
    ? `${counted(fixed, "cell")} fixed`
    : `${counted(fixed, "cell")} fixed; ${counted(left, "cell still shows", "cells still show")} #NAME?`;
}
