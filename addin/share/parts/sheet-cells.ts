/** Rows and cells of a sheet with their places; a writer may leave out the place of one that follows the one before. */
import { fromCol } from "@borgar/fx";
import { attributes, type Element, elements, first } from "./xml";

export interface Placed {
  readonly element: Element;
  /** Zero-based row or column. */
  readonly at: number;
  readonly looks: ReadonlyMap<string, string>;
}

export function* rowsOf(xml: string): Generator<Placed> {
  const data = first(xml, "sheetData");
  if (!data) return;
  let at = -1;
  for (const element of elements(xml, ["row"], data.innerStart, data.innerEnd)) {
    const looks = attributes(element);
    const number = looks.get("r");
    at = number === undefined ? at + 1 : Number(number) - 1;
    yield { element, at, looks };
  }
}

export function* cellsOf(xml: string, row: Element): Generator<Placed> {
  let at = -1;
  for (const element of elements(xml, ["c"], row.innerStart, row.innerEnd)) {
    const looks = attributes(element);
    const address = looks.get("r");
    at = address === undefined ? at + 1 : fromCol(address.replace(/\d+$/, ""));
    yield { element, at, looks };
  }
}
