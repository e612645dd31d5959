/** Cells that inputs are taken from: where each is now, and what it holds. */
import type { Key } from "../../functions/plan/fields";
import { deleted, isDeleted, sheetOf, withoutSheet } from "../common/a1";
import { inWords, inWorkbook } from "./in-workbook";
import { isOfficeError } from "./office-error";

/** An input and the cell that it is taken from, such as "Quote!C16". */
export interface LinkedCell {
  readonly key: Key;
  readonly address: string;
}

/** Where the cell is now; no value where it is gone. */
export interface FoundCell {
  readonly address: string;
  readonly value: unknown;
}

/** A cell that Excel keeps track of, and where it was last seen. */
export interface FollowedCell {
  readonly key: Key;
  address: string;
  readonly range: Excel.Range;
}

/**
 * Excel moves the ranges that a pane tracks with rows, columns and the names of sheets, and keeps nothing of them in the
 * workbook. The address must be loaded.
 */
function follow(key: Key, range: Excel.Range, followed: FollowedCell[]): void {
  range.context.trackedObjects.add(range);
  followed.push({ key, address: range.address, range });
}

/** The active cell: where it is, and what it holds; followed from now on as the one that an input is taken from. */
export function readSelectedCell(key?: Key, followed?: FollowedCell[]): Promise<{ address: string; value: unknown }> {
  return inWorkbook(async (context) => {
    const cell = context.workbook.getActiveCell().load("address,values");
    await context.sync();
    if (key && followed) follow(key, cell, followed);
    return { address: cell.address, value: cell.values[0]![0] };
  });
}

/** What the cells hold that inputs are taken from, in the order asked for. Those that nobody follows yet are from now on. */
export async function readLinked(asked: readonly LinkedCell[], followed: FollowedCell[] = []): Promise<FoundCell[]> {
  // The last is the one that the user chose last.
  const known = asked.map((one) => followed.findLast(({ key, address }) => key === one.key && address === one.address));
  const unknown = asked.filter(({ address }, i) => !known[i] && !isDeleted(address));
  const found = unknown.length > 0 ? await look(unknown, followed) : new Map<LinkedCell, FoundCell>();
  const cells = known.flatMap((cell) => cell ?? []);
  const moved = cells.length > 0 ? await inWords(() => readFollowed(cells), "Nothing was changed") : undefined;
  return asked.map((one, i) => {
    const cell = known[i];
    return (cell ? moved?.get(cell) : found.get(one)) ?? { address: one.address, value: undefined };
  });
}

/** A sheet that isn't there may come back. */
function look(asked: readonly LinkedCell[], followed: FollowedCell[]): Promise<Map<LinkedCell, FoundCell>> {
  return inWorkbook(async (context) => {
    const sheets = asked.map(({ address }) => context.workbook.worksheets.getItemOrNullObject(sheetOf(address)));
    await context.sync();
    const there = asked.flatMap((one, i) => {
      const sheet = sheets[i]!;
      if (sheet.isNullObject) return [];
      return { one, range: sheet.getRange(withoutSheet(one.address)).load("address,values") };
    });
    await context.sync();
    for (const { one, range } of there) follow(one.key, range, followed);
    return new Map(there.map(({ one, range }) => [one, foundIn(range)]));
  });
}

const foundIn = ({ address, values }: Excel.Range): FoundCell => ({ address, value: values[0]![0] });

/** One that is gone fails the request for all of them, so each is then asked for by itself. */
async function readFollowed(cells: readonly FollowedCell[]): Promise<Map<FollowedCell, FoundCell>> {
  try {
    return await readTogether(cells);
  } catch (error) {
    if (!isGone(error)) throw error;
    if (cells.length === 1) return new Map([[cells[0]!, { address: deleted(cells[0]!.address), value: undefined }]]);
    const found = new Map<FollowedCell, FoundCell>();
    for (const cell of cells) for (const entry of await readFollowed([cell])) found.set(...entry);
    return found;
  }
}

const isGone = (error: unknown) => isOfficeError(error) && ["InvalidReference", "ItemNotFound"].includes(error.code);

async function readTogether(cells: readonly FollowedCell[]): Promise<Map<FollowedCell, FoundCell>> {
  for (const context of new Set(cells.map(({ range }) => range.context))) {
    for (const { range } of cells) if (range.context === context) range.load("address,values");
    await context.sync();
  }
  return new Map(
    cells.map((cell) => {
      cell.address = cell.range.address;
      return [cell, foundIn(cell.range)];
    }),
  );
}
