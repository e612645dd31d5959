/** Every text of the Share view, to be read through in one go. */
import { counted, cutOff } from "../../common/count";
import { doing } from "../texts";
import type { Kind } from "./state";

export const SHARE_COMMANDS = {
  look: doing("looking at the sheets", "list the sheets"),
  addSelected: doing("reading the selection", "read the selection"),
  see: doing("making the copy to see what will happen", "make the copy"),
  open: doing("making the copy", "make the copy"),
};

const formulas = (count: number) => counted(count, "formula");
const sheets = (count: number) => counted(count, "sheet");

export const SHARE = {
  title: "A copy for a partner",
  intro: "For someone without the add-in. This workbook stays as it is.",
  kindOfCopy: "Kind of copy",
  kinds: {
    calculating: {
      title: "Calculating copy",
      text: "Keeps everything and calculates without the add-in. They see your costs and margin.",
      opened: "Ready. Anyone who has it can see your costs and margin.",
      saveAs: "calculating, with costs",
    },
    price: {
      title: "Price-only copy",
      text: "Only the sheets or ranges you choose, as values.",
      opened: "Ready. It has only what you chose, as values.",
      saveAs: "price only",
    },
  } satisfies Record<Kind, unknown>,

  // What they may see
  choiceTitle: "What they may see",
  wholeSheets: "Whole sheets, without hidden rows and columns",
  hidden: "hidden sheet",
  empty: "empty",
  ranges: "Ranges",
  covered: "already in its whole sheet",
  removeRange: (address: string) => `Remove ${address}`,
  addSelected: "Add the selected range",
  added: (address: string) => `${address} will be in the copy.`,
  asTheyStand: "Values are copied as they are now.",
  recalculate: "Recalculate first",
  chooseFirst: "Choose a sheet or a range first.",

  // What will happen
  happenTitle: "What will happen",
  see: "See what will happen",
  open: "Open the copy",
  seeFirst: "See what will happen first.",
  openNote: "Opens as a new, unsaved workbook. Check it, save it and send it.",
  percent: "Percent of the copy",
  left: "No copy was made",
  noCopyOpen: (digest: string) => `${digest}. No copy is open yet.`,
  changedMeanwhile: (digest: string) =>
    `The workbook has changed, so the copy wasn't opened. What will happen now: ${digest}. If that's right, open the copy.`,
  openAnyway: "Open the copy anyway?",
  /** Both kinds look alike once opened, and only the name they are saved under sets them apart. */
  opened: (kind: Kind): string =>
    `${SHARE.kinds[kind].opened} It's a new, unsaved workbook. Save it under a name that says which copy it is, such as “… (${SHARE.kinds[kind].saveAs})”.`,
  calculatingDigest: (converted: number, values: number) =>
    `${formulas(converted)} converted, ${values === 0 ? "none" : formulas(values)} turned into a value`,
  priceDigest: (cells: number, kept: number, removed: number) =>
    `${counted(cells, "cell")} kept on ${sheets(kept)}, ${sheets(removed)} removed`,
  errorsInCopy: (count: number) =>
    `${counted(count, "cell that becomes a value shows an error", "cells that become values show an error")}, such as #NAME?, and so will the copy.`,
  soundsLikeCosts: (texts: readonly string[], more: number) =>
    `These texts in the copy sound like costs or margin: ${[...texts.map((text) => `“${text}”`), ...(more > 0 ? [`${more} more`] : [])].join(", ")}.`,

  // The report of a calculating copy
  noFormula: (added: readonly string[]) =>
    `No formula uses Gritledger's functions: the copy is this workbook with one more sheet, ${added.join(", ")}.`,
  willCalculate: (count: number) => `${formulas(count)} will use the spreadsheet's own functions and still calculate.`,
  byFunction: "By function",
  nothingBecomesValue: "No formula becomes a value.",
  becomeValues: (count: number) => counted(count, "formula becomes a value", "formulas become values"),
  moreReasons: (count: number) => `And for ${counted(count, "more reason")}; the copy's note sheet lists all.`,
  willBeAdded: (added: readonly string[]) => `${sheets(added.length)} will be added: ${added.join(", ")}.`,
  leftOut: (what: string) => `Left out: ${what}.`,

  // The report of a price-only copy
  keptTitle: "Kept, as values",
  kept: (sheet: string, cells: number) => `${sheet}: ${counted(cells, "cell")}`,
  turnedIntoValues: (count: number) =>
    counted(count, "formula turned into its value", "formulas turned into their values"),
  hiddenLeftOut: (count: number) => `${counted(count, "hidden cell")} left out`,
  goneTitle: "Removed",
  goneSheets: (names: readonly string[], most: number) =>
    `${names.length === 1 ? "Sheet" : "Sheets"} ${cutOff(names, most)}`,
  everyFormula: "Every formula",
  without: (what: string, count: number) =>
    `${what.charAt(0).toUpperCase()}${what.slice(1)} (${count.toLocaleString("en-US")})`,

  // The copier
  notLoaded: "Couldn't load the part that makes copies. Check the connection, then try again.",
  canceled: "Canceled; no copy was made.",
} as const;
