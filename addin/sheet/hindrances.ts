/** What keeps a cell of ours from being re-entered, and the names in its formula that the workbook doesn't have. */
import { partsOf, referencesIn, whereabouts } from "../share/math/references";
import { type Area, batchesOf, rangeOf } from "./our-areas";
import { type OurCell, placeKey } from "./our-cells";

/** The cells, each with what keeps it from being re-entered; looked up only where needed. */
export async function withHindrances(
  context: Excel.RequestContext,
  areas: readonly Area[],
  cells: readonly OurCell[],
): Promise<OurCell[]> {
  const isText = new Set<string>();
  const needed = cells.filter(({ value, hindrance }) => value === "#NAME?" && hindrance === "");
  for (const batch of batchesOf(needed)) {
    const ranges = batch.map((block) => rangeOf(areas, block).load("numberFormat"));
    await context.sync();
    for (const [i, block] of batch.entries()) {
      const formats = ranges[i]!.numberFormat.flat();
      for (const [k, cell] of block.cells.entries()) if (formats[k] === TEXT_FORMAT) isText.add(placeKey(cell));
    }
  }
  const hindered = cells.map((cell) =>
    isText.has(placeKey(cell)) ? { ...cell, hindrance: "text format" as const } : cell,
  );
  return withUnknownNames(context, hindered);
}

/** Names in a formula, with their sheet if given; LET and LAMBDA have names of their own, not the workbook's. */
function namesIn(formula: string): { sheet: string | undefined; name: string }[] {
  if (/(?:LET|LAMBDA)\s*\(/i.test(formula)) return [];
  try {
    const places = referencesIn(partsOf(formula)).map((reference) => whereabouts(reference));
    return places.flatMap((place) => (place.kind === "name" ? [place] : []));
  } catch {
    return []; // unreadable formulas get no blame
  }
}

/** What an unknown name in a formula makes of its cell: our functions pass #NAME? on as #VALUE!. */
const MAY_BE_UNNAMED = ["#NAME?", "#VALUE!"];

/** The cells that may show an error for it, each with those names of its formula that the workbook does not have. */
async function withUnknownNames(context: Excel.RequestContext, cells: readonly OurCell[]): Promise<OurCell[]> {
  const asked = new Map(
    cells.flatMap((cell) => {
      const names = MAY_BE_UNNAMED.includes(String(cell.value)) ? namesIn(cell.formula) : [];
      return names.length > 0 ? [[cell, names] as const] : [];
    }),
  );
  if (asked.size === 0) return [...cells];
  const { names, tables, worksheets } = context.workbook;
  names.load("items/name");
  tables.load("items/name");
  worksheets.load("items/name,items/names/items/name");
  await context.sync();
  const plain = (text: string) => text.toLowerCase();
  const shared = new Set([...names.items, ...tables.items].map(({ name }) => plain(name)));
  const own = new Map(
    worksheets.items.map((sheet) => [plain(sheet.name), new Set(sheet.names.items.map(({ name }) => plain(name)))]),
  );
  const isUnknown = (cell: OurCell, name: string, sheet = cell.sheet) => {
    const ofSheet = own.get(plain(sheet));
    return ofSheet !== undefined && !ofSheet.has(plain(name)) && !shared.has(plain(name));
  };
  return cells.map((cell) => {
    const missing = (asked.get(cell) ?? []).filter(({ name, sheet }) => isUnknown(cell, name, sheet));
    return missing.length === 0 ? cell : { ...cell, unknownNames: missing.map(({ name }) => name) };
  });
}

/** In a cell with this number format, Excel takes a formula for text. */
const TEXT_FORMAT = "@";
