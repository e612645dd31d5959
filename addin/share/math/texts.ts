/** Every sentence of "show the math": what it says of an argument, beside a formula, and where something isn't known. */
import { refusalsOf } from "../../common/refusal";
import { NotKnown } from "./values";

/** Why something isn't known here; as a part of a sentence. */
export const notKnown = refusalsOf(
  {
    reference: ({ why }: { why: string }) => why,
    unreadable: () => "the formula couldn't be read",
    lambda: () => "LET and LAMBDA aren't followed here",
    besideCalculation: ({ operator }: { operator: string }) => `${operator} beside a calculation isn't followed here`,
    operator: ({ operator }: { operator: string }) => `the operator ${operator} isn't followed here`,
    matchDown: () => "MATCH from the largest down isn't followed here",
    indexOfAll: () => "INDEX of a whole row or column isn't followed here",
    sheetFunction: ({ name }: { name: string }) => `only the spreadsheet can calculate ${name}`,
    noFunction: ({ id }: { id: string }) => `there's no function GRIT.${id}`,
    argument: ({ id, name }: { id: string; name: string | undefined }) =>
      `${name ?? "an argument"} of GRIT.${id} isn't known here`,
    listCells: ({ lists }: { lists: readonly string[] }) => `the cells of ${lists.join(" and ")} aren't known here`,
    noFullRow: () => "no row has all its numbers, so there's nothing to add up",
  },
  NotKnown,
);

/** Why a reference isn't followed. */
export const ELSEWHERE = {
  workbook: "it's in another workbook",
  sheets: "it's on several sheets at once",
  unreadable: "it couldn't be read",
};

/** What an argument is in this cell. */
export const ARGUMENT = {
  omitted: (fallback: string) => `omitted: ${fallback}`,
  blank: (counts: string) => `blank: ${counts}`,
  zero: (fallback: string) => `0, the same as blank: ${fallback}`,
  omittedRequired: "omitted, but required",
  blankRequired: "blank, but required",
  blankRefused: "blank: type a number, or leave the argument out",
  fallback: (value: string) => `default ${value}`,
  noFallback: "no default",
  notKnown: (why: string) => `not known here: ${why}`,
  outside: "outside its range",
  cells: (rows: number, columns: number, filled: number, address: string | undefined) =>
    `${address === undefined ? "" : `${address}, `}${rows} × ${columns} cells, ${filled} filled`,
};

export const noSuchFunction = (id: string) => `There's no function GRIT.${id}. Check its name.`;

/** Why there's no formula. */
export const NO_FORMULA = {
  none: (why: string) => `It has no plain formula: ${why}.`,
  blankInList: "Its cell in the list is blank, so it's skipped.",
  firstInList: "It's first in the list, so there's no step to check yet.",
  skippedJob: "This job is skipped, so the cell stays blank.",
  label: "It's the label of the number beside it.",
  notKnown: (what: string) => `Its ${what} isn't known here, so neither is its size.`,
};

/** What stands below a formula. */
export const NOTE = {
  firstOf: (count: number) => `It gives ${count} values; this is the math for the first.`,
  oneOf: (count: number, row: number, column: number) =>
    `It gives ${count} values; this is the math for row ${row}, column ${column}, which this cell uses.`,
  stepFrom: (grit: string) => `The step is from grit ${grit}, the last valid one before it.`,
  hair: (factor: string) => `Before rounding up, ${factor} removes the tiny excess that binary arithmetic can add.`,
  long: "Too long for a pocket calculator; any spreadsheet can calculate it.",
  tooManyRows: (counted: number, rows: number) =>
    `${counted} of ${rows} rows count, too many to show, so the formula refers to their cells. Enter it with Ctrl+Shift+Enter.`,
  skippedRows: (counted: number, rows: number, zeros: boolean) =>
    `${counted} of ${rows} rows count; rows with a blank${zeros ? " or a 0" : ""} are skipped.`,
};

type Listed = readonly [grit: number, size: string];

/** How a size or a grit was looked up. */
export const LOOKED_UP = {
  label: (scale: string, label: string) => `On ${scale}, label ${label} is the closest.`,
  isSize: "The number is already a size in µm.",
  listed: (scale: string, [grit, size]: Listed) => `On ${scale}, grit ${grit} is listed as ${size} µm.`,
  byRule: (scale: string, from: number) => `On ${scale}, from grit ${from} on, the size is 15000 / grit µm.`,
  between: (scale: string, one: Listed, other: Listed) =>
    `${onScale(scale, one, other)}; sizes in between follow a straight line in logarithms.`,
  end: (scale: string, which: "coarsest" | "finest", [grit, size]: Listed) =>
    `On ${scale}, the ${which} listed grit is ${grit}, ${size} µm.`,
  nearer: (scale: string, one: Listed, other: Listed) =>
    `${onScale(scale, one, other)}; the closer one by ratio counts.`,
};

const onScale = (scale: string, [grit, size]: Listed, [other, otherSize]: Listed) =>
  `On ${scale}, grit ${grit} is ${size} µm and grit ${other} is ${otherSize} µm`;
