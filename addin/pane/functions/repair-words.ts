/** What Check and repair found, in words. */
import type { Repaired } from "../../sheet";
import { type CheckedWorkbook, cellName, type OurCell } from "../../sheet/our-cells";
import { counted } from "../share/state";
import type { Finding, Found } from "./repair";

const shown = (value: unknown): string =>
  typeof value === "number" ? value.toLocaleString("en-US", { maximumSignificantDigits: 6 }) : String(value) || "blank";

const NOT_RECOGNISED = {
  first:
    "Something in them is not recognised. Repair enters their formulas again, exactly as they are, which mends them if they came before the add-in did; nothing else is touched. If they stay #NAME?, another function in them is mistyped, or a cell that they refer to shows #NAME? itself.",
  left: "They were entered again, so it is not that they came before the add-in did. Look for another function in them that is mistyped, and for a cell that they refer to and that shows #NAME? itself; if there is none, save the workbook, open it again and check again.",
};

/** What there is to show; `tried` where it is what a repair has left. */
export const foundIn = (checked: CheckedWorkbook, tried = false): Found => ({
  digest: checkedDigest(checked),
  repairable: tried ? 0 : checked.unrecognised.filter(({ hindrance }) => hindrance === "").length,
  findings: findingsIn(checked, tried),
});

function findingsIn(found: CheckedWorkbook, tried: boolean): Finding[] {
  const of = (title: (cells: string) => string, cells: readonly OurCell[], advice: string): Finding[] =>
    cells.length === 0 ? [] : [{ title: title(counted(cells.length, "cell")), places: cells.map(cellName), advice }];
  const unrecognised = (hindrance: OurCell["hindrance"]) =>
    found.unrecognised.filter((cell) => cell.hindrance === hindrance);
  const missing = [...new Set(found.misnamed.flatMap(({ ids }) => ids))];
  const unknownNames = [...new Set(found.unnamed.flatMap((cell) => cell.unknownNames ?? []))];
  const errors = found.errors.length;
  const stale = found.stale.length;
  return [
    ...of(
      (cells) => (tried ? `Still #NAME? in ${cells}` : `#NAME? in ${cells}`),
      unrecognised(""),
      tried ? NOT_RECOGNISED.left : NOT_RECOGNISED.first,
    ),
    ...of(
      (cells) => `#NAME? in ${cells} of protected sheets`,
      unrecognised("protected"),
      "Nothing can be entered there. Unprotect the sheet, then check again.",
    ),
    ...of(
      (cells) => `#NAME? in ${cells} with the number format Text`,
      unrecognised("text format"),
      "Entered again, a formula would become a text there. Choose another number format, then check again.",
    ),
    ...missing.map((id) => ({
      title: `There is no function GRIT.${id}`,
      places: found.misnamed.filter(({ ids }) => ids.includes(id)).map(({ cell }) => cellName(cell)),
      advice: "Mistyped, or from a newer version of the add-in. Look for its name above, or update the add-in.",
    })),
    ...unknownNames.map((name) => ({
      title: `There is no name ${name} in this workbook`,
      places: found.unnamed.filter((cell) => cell.unknownNames?.includes(name)).map(cellName),
      advice:
        "The formula shows #NAME? because of it. Correct the name in the formula, or define it (Formulas, Name Manager); entering the formula again would not help.",
    })),
    ...of(
      (cells) => `${cells} waiting for an answer`,
      found.waiting,
      "The functions are still at work, or the add-in is not connected. Wait a little, then check again.",
    ),
    ...(errors === 0
      ? []
      : [
          {
            title: `Another error in ${counted(errors, "cell")}`,
            places: found.errors.map((cell) => `${cellName(cell)} ${String(cell.value)}`),
            advice:
              "The functions work; something that they are given is wrong. Select the cell: its error card says what.",
          },
        ]),
    ...of(
      (cells) => `A formula kept as text in ${cells}`,
      found.texts,
      "Nothing is calculated there. Choose the number format General, remove an apostrophe before the formula, and press Enter in the cell.",
    ),
    ...(stale === 0
      ? []
      : [
          {
            title: `${counted(stale, "cell was", "cells were")} out of date`,
            places: found.stale.map(
              ({ cell, before, after }) => `${cellName(cell)} ${shown(before)} → ${shown(after)}`,
            ),
            advice: "The check has calculated everything, so that they are up to date now.",
          },
        ]),
    ...(found.restless === 0
      ? []
      : [
          {
            title: `${counted(found.restless, "cell changes", "cells change")} at every calculation`,
            places: [],
            advice: "As with RAND or NOW; whether they were out of date cannot be told.",
          },
        ]),
  ];
}

/** The check in a sentence. */
function checkedDigest({ sheets, sheetsWithOurs, cells, fine, stale }: CheckedWorkbook): string {
  const read = counted(sheets, "sheet");
  if (cells === 0) return `No cell of ${read} calls Gritledger's functions`;
  const where = `${counted(cells, "cell")} on ${counted(sheetsWithOurs, "sheet")}`;
  const all = `${where} ${cells === 1 ? "calls" : "call"} Gritledger's functions (${read} read)`;
  const now =
    fine === cells
      ? "all work"
      : `${fine.toLocaleString("en-US")} work, ${(cells - fine).toLocaleString("en-US")} to look at`;
  return stale.length === 0 ? `${all}: ${now}` : `${all}: ${now}; ${counted(stale.length, "was", "were")} out of date`;
}

export function repairedDigest({ entered, mended }: Repaired): string {
  if (entered === 0) return "There is nothing to repair any more";
  const left = entered - mended;
  return left === 0
    ? `${counted(mended, "cell")} mended`
    : `${counted(mended, "cell")} mended; ${counted(left, "cell still shows", "cells still show")} #NAME?`;
}
