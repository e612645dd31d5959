/** What the Share view knows, and every change to it, without a DOM and without a workbook. */

import type { CalculatingReport } from "../../share/calculating-copy";
import type { Made } from "../../share/copies";
import type { PriceOnlyOptions } from "../../share/price-copy";
import type { CellsFound, SheetFound } from "../../sheet";
import type { Progress } from "../jobs/state";

export type { Made };

export const KINDS = {
  calculating: {
    title: "Calculating copy",
    text: "Everything stays, and calculates without the add-in. They see your costs and margin.",
    opened: "The calculating copy is made: who gets it sees your costs and margin.",
    saveAs: "calculating, with costs",
  },
  price: {
    title: "Price-only copy",
    text: "Only the sheets or ranges you choose, as values. Everything else is gone.",
    opened: "The price-only copy is made: it has only what you chose, as values.",
    saveAs: "price only",
  },
} as const;
export type Kind = keyof typeof KINDS;

export interface ShareState {
  /** Whether the workbook's sheets have been listed since the view was last opened. */
  readonly looked: boolean;
  readonly kind: Kind;
  readonly sheets: readonly SheetFound[];
  /** Sheets that the price-only copy has as a whole. */
  readonly ticked: readonly string[];
  /** Ranges that it has. */
  readonly ranges: readonly CellsFound[];
  /** What will happen; nothing before that was asked, and after another choice. */
  readonly made: Made | null;
  /** How far the copy is that is being made. */
  readonly progress: Progress | null;
}

export const startShare = (): ShareState => ({
  looked: false,
  kind: "calculating",
  sheets: [],
  ticked: [],
  ranges: [],
  made: null,
  progress: null,
});

// The choice

/** What was found for another choice says nothing any more. */
const afresh = (share: ShareState, change: Partial<ShareState>): ShareState => ({ ...share, made: null, ...change });

export const chooseKind = (share: ShareState, kind: Kind): ShareState =>
  share.kind === kind ? share : afresh(share, { kind });

export function tick(share: ShareState, name: string, on: boolean): ShareState {
  const others = share.ticked.filter((one) => one !== name);
  return afresh(share, { ticked: on ? [...others, name] : others });
}

const same = (a: CellsFound, b: CellsFound) => a.sheet === b.sheet && a.range === b.range;

export const addRange = (share: ShareState, cells: CellsFound): ShareState =>
  share.ranges.some((one) => same(one, cells)) ? share : afresh(share, { ranges: [...share.ranges, cells] });

export const removeRange = (share: ShareState, cells: CellsFound): ShareState =>
  afresh(share, { ranges: share.ranges.filter((one) => !same(one, cells)) });

/** Takes the sheets as they are now; what was chosen of a sheet that is gone is chosen no more. */
export function takeSheets(share: ShareState, sheets: readonly SheetFound[]): ShareState {
  const isThere = (name: string) => sheets.some((sheet) => sheet.name === name);
  const ticked = share.ticked.filter(isThere);
  const ranges = share.ranges.filter(({ sheet }) => isThere(sheet));
  const listed = { ...share, looked: true, sheets };
  const lost = ticked.length < share.ticked.length || ranges.length < share.ranges.length;
  return lost ? afresh(listed, { ticked, ranges }) : listed;
}

/** Visible sheets first, because a hidden one is seldom meant. */
export const sheetsInOrder = ({ sheets }: ShareState): SheetFound[] => [
  ...sheets.filter(({ visible }) => visible),
  ...sheets.filter(({ visible }) => !visible),
];

/** A range of a sheet that is in the copy as a whole adds nothing. */
export const isCovered = ({ ticked }: ShareState, { sheet }: CellsFound): boolean => ticked.includes(sheet);

export const keepOf = (share: ShareState): PriceOnlyOptions["keep"] => [
  ...share.ticked.map((sheet) => ({ sheet })),
  ...share.ranges.filter((cells) => !isCovered(share, cells)),
];

/** Why no copy can be made of the choice; empty when one can. */
export const shareTrouble = (share: ShareState): string =>
  share.kind === "price" && keepOf(share).length === 0 ? "Choose a sheet or a range first." : "";

/** Why a copy cannot be opened yet; empty when it can. */
export const openTrouble = (share: ShareState): string =>
  shareTrouble(share) || (share.made ? "" : "See what will happen first.");

// What will happen

/** Keeps what was found, unless the user has chosen otherwise in the meantime. */
export function takeMade(share: ShareState, chosen: ShareState, made: Made): ShareState {
  const { kind, ticked, ranges } = chosen;
  const isSame = share.kind === kind && share.ticked === ticked && share.ranges === ranges;
  return isSame ? { ...share, made } : share;
}

/** Whether two copies do the same: the workbook may have changed between them. */
export const doSame = (a: Made, b: Made): boolean => JSON.stringify(a) === JSON.stringify(b);

export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count.toLocaleString("en-US")} ${count === 1 ? one : many}`;

/** What will happen, in a sentence. */
export function madeDigest(made: Made): string {
  if (made.kind === "calculating") {
    const { formulas, values } = made.report;
    return `${counted(formulas, "formula")} made plain, ${values.length === 0 ? "none" : counted(values.length, "formula")} turned into a value`;
  }
  const { sheets, gone } = made.report;
  const cells = sheets.reduce((sum, sheet) => sum + sheet.cells, 0);
  return `${counted(cells, "cell")} kept on ${counted(sheets.length, "sheet")}, ${counted(gone.length, "sheet")} gone`;
}

/** What is told once a copy is opened: both kinds look alike there, and only the name that it is saved under tells them apart. */
export const openedWords = (kind: Kind): string =>
  `${KINDS[kind].opened} It opens as a new workbook, not saved yet (in the preview it is downloaded). Save it under a name that says which copy it is, such as “… (${KINDS[kind].saveAs})”.`;

/** As many texts as a question can hold. */
const TEXTS_TOLD = 6;

/** What the user has to agree to before the copy is opened. */
export function worriesOf(made: Made): string[] {
  if (made.kind === "calculating") {
    const { errors } = made.report;
    return errors === 0
      ? []
      : [
          `${counted(errors, "cell that becomes a value shows an error", "cells that become values show an error")}, such as #NAME?, and so will the copy.`,
        ];
  }
  const { report, costWords } = made;
  const cautions = report.cautions.map(({ text }) => text);
  if (costWords.length === 0) return cautions;
  const told = costWords.slice(0, TEXTS_TOLD).map((text) => `“${text}”`);
  const more = costWords.length - told.length;
  const list = more > 0 ? [...told, `${more} more`] : told;
  return [...cautions, `These texts in the copy sound like costs or margin: ${list.join(", ")}.`];
}

type Value = CalculatingReport["values"][number];

/** What becomes a value, with the cells that do for the same reason together. */
export function valuesByReason({ values }: CalculatingReport): { reason: string; places: string[] }[] {
  const reasons = [...new Set(values.map(({ reason }) => reason.text))];
  return reasons.map((reason) => ({ reason, places: runs(values.filter((value) => value.reason.text === reason)) }));
}

/** Places in words; cells that follow each other down a column are one: "Plan!C4:C9". */
function runs(values: readonly Value[]): string[] {
  const open = new Map<string, { from: string; to: number; at: number }>();
  const told: string[] = [];
  for (const { sheet, place } of values) {
    const where = sheet === "" ? place : `${sheet}!${place}`;
    const [, column, row] = /^([A-Z]+)(\d+)$/.exec(place) ?? [];
    const key = `${sheet}!${column}`;
    const run = open.get(key);
    if (run && Number(row) === run.to + 1) {
      run.to++;
      told[run.at] = `${run.from}:${place}`;
    } else {
      if (column) open.set(key, { from: where, to: Number(row), at: told.length });
      told.push(where);
    }
  }
  return told;
}

/** A list as far as it is shown, with the number of what is not. */
export function cutOff(items: readonly string[], most: number): string {
  const more = items.length - most;
  return more > 0 ? `${items.slice(0, most).join(", ")} and ${more.toLocaleString("en-US")} more` : items.join(", ");
}

/** A day as the note sheet has it: 2026-03-09. */
export function isoDay(day: Date): string {
  const two = (part: number) => String(part).padStart(2, "0");
  return `${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}`;
}
