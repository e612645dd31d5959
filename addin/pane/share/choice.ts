/** Which copy is wanted: its kind and, for one with prices only, what it is to have. */
import type { PriceOnlyOptions } from "../../share/price-copy";
import type { CellsFound, SheetFound } from "../../sheet";
import type { Kind, ShareState } from "./state";
import { SHARE } from "./texts";

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
  const listed = { ...share, sheets };
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
  share.kind === "price" && keepOf(share).length === 0 ? SHARE.chooseFirst : "";

/** Why a copy cannot be opened yet; empty when it can. */
export const openTrouble = (share: ShareState): string => shareTrouble(share) || (share.made ? "" : SHARE.seeFirst);
