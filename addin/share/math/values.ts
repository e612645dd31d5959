/** Blocks of cells as a calculation hands them on: their shape, the cell of one place, errors, and numbers as text. */
import { quotedText } from "../../common/a1";
import type { Reason } from "../../common/refusal";

export interface CellError {
  readonly code: string;
  readonly message?: string;
}

/** A blank is null. */
export type Cell = number | string | boolean | null | CellError;
export type Block = readonly (readonly Cell[])[];

/** A row and a column of a block, from 0. */
export interface Place {
  readonly row: number;
  readonly column: number;
}

export const FIRST: Place = { row: 0, column: 0 };

/** What isn't known here, and why. */
export class NotKnown extends Error {
  constructor(
    message: string,
    readonly reason: Reason,
  ) {
    super(message);
  }
}

export const isError = (cell: unknown): cell is CellError => typeof cell === "object" && cell !== null;

export const isBlank = (cell: Cell) => cell === null || cell === "";

export const isWide = (block: Block) => block.length > 1 || block[0]!.length > 1;

const stretched = <T>(line: readonly T[], at: number): T | undefined => (line.length === 1 ? line[0] : line[at]);

/** The cell at a place, a single row or column stretched to it; undefined beyond the block. */
export function cellAt(block: Block, { row, column }: Place): Cell | undefined {
  const line = stretched(block, row);
  return line && stretched(line, column);
}

/** One operation on every cell of some blocks, stretched to one shape as the spreadsheet does. */
export function mapped(blocks: readonly Block[], operation: (...cells: Cell[]) => Cell): Block {
  const rows = Math.max(...blocks.map((block) => block.length));
  const columns = Math.max(...blocks.map((block) => block[0]!.length));
  return Array.from({ length: rows }, (_, row) =>
    Array.from({ length: columns }, (_, column) => {
      const cells = blocks.map((block) => cellAt(block, { row, column }));
      if (cells.includes(undefined)) return { code: "#N/A" };
      return cells.find(isError) ?? operation(...(cells as Cell[]));
    }),
  );
}

const DIGITS = 15;

/** A number as the spreadsheet's formula bar has it, with its fifteen digits. */
export const numberText = (value: number): string => String(Number(value.toPrecision(DIGITS))).replace("e", "E");

/** A cell as a formula has it. */
export function literal(cell: Cell): string {
  if (cell === null) return '""';
  if (typeof cell === "number") return numberText(cell);
  if (typeof cell === "string") return quotedText(cell);
  return isError(cell) ? cell.code : String(cell).toUpperCase();
}

/** A few numbers one below the other, as a formula has them. */
export const columnText = (cells: readonly Cell[]) =>
  cells.length === 1 ? literal(cells[0]!) : `{${cells.map(literal).join(";")}}`;
