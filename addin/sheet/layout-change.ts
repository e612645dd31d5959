/**
 * What changes on a sheet of ours when its layout does: rows that come and go, and cells that get another content. Pure: it
 * knows the layout that the sheet was written by, the new one, and what stands on the sheet now.
 */
import { diffArrays } from "diff";
import { columnLetters } from "../common/a1";
import type { Block, PlacedCell, PlacedRule } from "./block";
import type { StyleName } from "./styles";

/** The sheet as it is: formulas from A1 on, and where the layout's columns and some of its rows are by now. */
export interface OnSheet {
  readonly formulas: readonly (readonly unknown[])[];
  readonly columnOf: (column: number) => number;
  /** Rows known by a name or a table; the others are found by their labels. */
  readonly known: ReadonlyMap<number, number>;
}

/** Rows that are inserted before a row of the sheet, or the rows from it on that go. */
export interface RowStep {
  readonly kind: "insert" | "delete";
  readonly row: number;
  readonly count: number;
}

/** A cell that is written, in rows and columns of the changed sheet; without content it keeps what it has. */
interface WrittenCell extends Omit<PlacedCell, "content"> {
  readonly content?: PlacedCell["content"];
}

export interface LayoutChange {
  /** One after the other; each row is counted as it is when its turn comes. */
  readonly steps: readonly RowStep[];
  readonly cells: readonly WrittenCell[];
  readonly names: { readonly gone: readonly string[]; readonly added: Block["names"] };
  readonly rules: readonly PlacedRule[];
  /** Rules of the rows that go, in rows of the sheet as it was. */
  readonly rulesGone: readonly PlacedRule[];
  /** Rows of the sheet as it was that go. */
  readonly rowsGone: readonly number[];
  /** Cells in them that the layout knows nothing of. */
  readonly ownGone: readonly (readonly [row: number, column: number])[];
  /** Where a row of the new layout is on the changed sheet. */
  readonly rowOf: (row: number) => number;
}

/** A row of the layout that the sheet doesn't show any more. */
export class RowNotFound extends Error {
  constructor(readonly label: string) {
    super(label);
  }
}

/** Texts by which a row is known, whatever its figures. */
const LABELS: readonly StyleName[] = [
  ...(["heading", "group", "label", "labelStrong", "keyLabel", "tableHeader", "tableInput", "total"] as const),
];

const lastRow = ({ cells }: Block) => Math.max(...cells.map(({ row }) => row));

function byRow(block: Block): PlacedCell[][] {
  const rows: PlacedCell[][] = Array.from({ length: lastRow(block) + 1 }, () => []);
  for (const cell of block.cells) rows[cell.row]!.push(cell);
  return rows;
}

const isText = (content: unknown): content is string => typeof content === "string" && content !== "";
const labelsOf = (cells: readonly PlacedCell[]) =>
  cells.filter(({ style, content }) => style && LABELS.includes(style) && isText(content));
const nameOf = (cells: readonly PlacedCell[]) =>
  labelsOf(cells)
    .map(({ content }) => content)
    .join("\n");

/** The sheet's row of each row of a layout. */
function rowsOnSheet(rows: readonly PlacedCell[][], { formulas, columnOf, known }: OnSheet): number[] {
  let last = -1;
  const nextKnown = (from: number) => {
    for (let row = from + 1; row < rows.length; row++) if (known.has(row)) return known.get(row)!;
    return Number.POSITIVE_INFINITY;
  };
  return rows.map((cells, row) => {
    const end = nextKnown(row);
    const labels = labelsOf(cells);
    const holds = (at: number) =>
      labels.some(({ column, content }) => String(formulas[at]?.[columnOf(column)] ?? "") === content);
    let found = known.get(row);
    if (found === undefined && labels.length > 0) {
      for (let at = last + 1; at < Math.min(end, formulas.length) && found === undefined; at++)
        if (holds(at)) found = at;
    }
    // A label may have been changed by hand, and rows without one are where they were.
    found ??= last + 1;
    if (found <= last || found >= end) throw new RowNotFound(String(labels[0]?.content ?? ""));
    last = found;
    return found;
  });
}

/** Which row of the new layout is which of the old one; -1 where it is in one of them only. */
function matched(before: readonly PlacedCell[][], after: readonly PlacedCell[][]): [old: number, now: number][] {
  const parts = diffArrays(before.map(nameOf), after.map(nameOf));
  let [old, now] = [0, 0];
  return parts.flatMap(({ added, removed, count = 0 }) =>
    Array.from({ length: count }, (): [number, number] => {
      if (added) return [-1, now++];
      return removed ? [old++, -1] : [old++, now++];
    }),
  );
}

/** Strings, sheets' names with their cells, and what stands in brackets stay; then cells of this sheet. */
const PARTS =
  /"(?:[^"]|"")*"|'(?:[^']|'')*'![$A-Z0-9:]+|[\w.]+![$A-Z0-9:]+|\[[^\]]*\]|(?<![\w.$])(\$?)([A-Z]{1,3})(\$?)(\d+)(?![\w.(!])/g;

/** A formula whose cells have moved; #REF! for a cell that is gone. */
function moved(
  formula: string,
  rowOf: (row: number) => number | undefined,
  columnOf: (column: number) => number,
): string {
  return formula.replace(
    PARTS,
    (text, dollar: string | undefined, letters: string, rowDollar: string, digits: string) => {
      if (letters === undefined) return text;
      const row = rowOf(Number(digits) - 1);
      if (row === undefined) return "#REF!";
      return `${dollar}${columnLetters(columnOf(columnIn(letters)))}${rowDollar}${row + 1}`;
    },
  );
}

const columnIn = (letters: string) => [...letters].reduce((sum, letter) => sum * 26 + letter.charCodeAt(0) - 64, 0) - 1;

const isFormula = (content: unknown): content is { formula: string } => typeof content === "object" && content !== null;
const isTyped = (entry: unknown) => entry !== "" && entry !== undefined && !String(entry).startsWith("=");

export function layoutChange(before: Block, after: Block, sheet: OnSheet): LayoutChange {
  const [old, now] = [byRow(before), byRow(after)];
  const place = rowsOnSheet(old, sheet);
  const pairs = matched(old, now);

  // The sheet's rows with those that come, in their order.
  const coming = new Map<number, number[]>();
  let above = -1;
  for (const [o, n] of pairs) {
    if (o >= 0) above = place[o]!;
    else coming.set(above, [...(coming.get(above) ?? []), n]);
  }
  const gone = new Set(pairs.flatMap(([o, n]) => (n < 0 ? [place[o]!] : [])));
  const height = Math.max(sheet.formulas.length, ...place.map((row) => row + 1));
  const inserts: RowStep[] = [];
  const rowsNow = new Map<number, number>();
  const sheetRows = new Map<number, number>();
  const newRows = new Map<number, number>();
  const deletes: RowStep[] = [];
  let [withAll, final] = [0, 0];
  const take = (rows: readonly number[]) => {
    for (const n of rows) {
      newRows.set(n, final++);
      withAll++;
    }
  };
  const first = coming.get(-1) ?? [];
  if (first.length > 0) inserts.push({ kind: "insert", row: 0, count: first.length });
  take(first);
  for (let row = 0; row < height; row++) {
    if (gone.has(row)) deletes.push({ kind: "delete", row: withAll++, count: 1 });
    else {
      sheetRows.set(row, final++);
      withAll++;
    }
    const rows = coming.get(row) ?? [];
    if (rows.length > 0) inserts.push({ kind: "insert", row: row + 1, count: rows.length });
    take(rows);
  }
  for (const [o, n] of pairs) if (o >= 0 && n >= 0) rowsNow.set(n, sheetRows.get(place[o]!)!);
  const rowOf = (n: number) => newRows.get(n) ?? rowsNow.get(n)!;
  const oldRowOf = (o: number) => sheetRows.get(place[o] ?? -1);

  const cells: WrittenCell[] = [];
  for (const [o, n] of pairs) {
    if (n < 0) continue;
    const row = rowOf(n);
    const was = new Map((old[o] ?? []).map((cell) => [cell.column, cell]));
    for (const cell of now[n]!) {
      const column = sheet.columnOf(cell.column);
      const content = isFormula(cell.content)
        ? { formula: moved(cell.content.formula, rowOf, sheet.columnOf) }
        : cell.content;
      const same = was.get(cell.column);
      was.delete(cell.column);
      if (!same) {
        cells.push({ ...cell, content, row, column });
        continue;
      }
      const looks = {
        ...(same.style !== cell.style && { style: cell.style }),
        ...(same.format !== cell.format && { format: cell.format }),
      };
      const then = isFormula(same.content)
        ? moved(same.content.formula, oldRowOf, sheet.columnOf)
        : // What was warned of at its time isn't known from anything else.
          cell.style === "warning"
          ? String(sheet.formulas[place[o]!]?.[column] ?? "")
          : same.content;
      const isSame = isFormula(content) ? content.formula === then : content === then;
      // A figure that was typed over a formula stays, for the sheet's own check to point at.
      const isOwn = isFormula(same.content) && isFormula(content) && isTyped(sheet.formulas[place[o]!]?.[column]);
      if (isSame || isOwn) {
        if (Object.keys(looks).length > 0) cells.push({ row, column, ...looks });
      } else cells.push({ row, column, content, ...looks });
    }
    for (const { column } of was.values()) cells.push({ row, column: sheet.columnOf(column), content: "" });
  }

  const had = new Set(before.names.map(({ name }) => name));
  const has = new Set(after.names.map(({ name }) => name));
  const placed = ({ row, column, ...rest }: Block["names"][number]) => ({
    ...rest,
    row: rowOf(row),
    column: sheet.columnOf(column),
  });
  const ruleKey = ({ row, column, rows, ...rule }: PlacedRule, rowAt: (row: number) => number | undefined) =>
    JSON.stringify([rowAt(row), column, rows, rule]);
  const rulesBefore = new Set(before.rules.map((rule) => ruleKey(rule, oldRowOf)));
  return {
    // Rows come before others go, so that a table never loses its last; from below, so that those above stay where they are.
    steps: [...inserts.reverse(), ...deletes.reverse()],
    cells,
    names: {
      gone: [...had].filter((name) => !has.has(name)),
      added: after.names.filter(({ name }) => !had.has(name)).map(placed),
    },
    rules: after.rules
      .filter((rule) => !rulesBefore.has(ruleKey(rule, rowOf)))
      .map((rule) => ({ ...rule, row: rowOf(rule.row), column: sheet.columnOf(rule.column) })),
    rulesGone: before.rules
      .filter(({ row }) => gone.has(place[row]!))
      .map((rule) => ({ ...rule, row: place[rule.row]!, column: sheet.columnOf(rule.column) })),
    rowsGone: [...gone].sort((a, b) => a - b),
    ownGone: pairs.flatMap(([o, n]) => {
      if (n >= 0) return [];
      const row = place[o]!;
      const ours = new Set(old[o]!.map(({ column }) => sheet.columnOf(column)));
      return (sheet.formulas[row] ?? []).flatMap((entry, c) =>
        entry === "" || ours.has(c) ? [] : [[row, c] as const],
      );
    }),
    rowOf,
  };
}
