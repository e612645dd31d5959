/** A workbook of this host as text: with its values, so that opening it calculates nothing. */
import type { SavedCells } from "./engine";
import type { Host } from "./host";
import type { SavedModel } from "./model";
import type { SavedBook } from "./names";

/** The cells go to the engine as it is made, the rest to the host. */
export interface SavedWorkbook {
  readonly cells: SavedCells;
  readonly book: SavedBook;
  readonly model: SavedModel;
}

export async function saved(host: Host): Promise<string> {
  const { engine, model } = host;
  await engine.settle();
  return JSON.stringify({
    cells: engine.save(),
    book: engine.book.save(),
    model: model.save(),
  } satisfies SavedWorkbook);
}

/** What the engine was not given. */
export function restore({ engine, model }: Host, { book, model: beside }: SavedWorkbook): void {
  model.restore(beside);
  engine.book.restore(book);
  engine.calculation.takeAsCalculated();
}
