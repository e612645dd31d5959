/** Formulas that differ in their cells alone, as down a column: made plain once, and filled with the cells of each. */
import type { Token } from "../tokens";
import { tokensOf } from "../tokens";
import { MOST_CHARACTERS } from "../translate";
import type { Plain } from "./formulas";

/** A plain formula in pieces: texts, and numbers of the cells that stand between them. */
interface Form {
  readonly plain: Plain;
  readonly pieces: readonly (string | number)[];
}

/** A single cell; what a range covers can decide what the formula becomes. */
const isCell = ({ type, value }: Token) => type === "range" && !value.includes(":");
/** A1# is as large as what spills there. */
const isSpill = ({ value }: Token) => value === "#" || /ANCHORARRAY$/i.test(value);

export class Alike {
  private readonly known = new Map<string, Form>();

  /** The formula made plain, on this sheet. `make` is asked where none like it has been. */
  plain(tokens: readonly Token[], sheet: string, make: () => Plain | undefined): Plain | undefined {
    if (tokens.some(isSpill)) return make();
    const cells: string[] = [];
    let key = `${sheet}!`;
    for (const token of tokens) key += isCell(token) ? `\0${numberOf(token.value, cells)}\0` : token.value;
    const known = this.known.get(key);
    const formula = known?.pieces.map((piece) => (typeof piece === "number" ? cells[piece] : piece)).join("");
    if (known && formula!.length <= MOST_CHARACTERS) return { ...known.plain, formula: formula! };
    const plain = make();
    if (plain) this.known.set(key, { plain, pieces: piecesOf(plain.formula, cells) });
    return plain;
  }
}

/** Where a cell stands among those named before it. */
function numberOf(cell: string, cells: string[]): number {
  const at = cells.indexOf(cell);
  return at >= 0 ? at : cells.push(cell) - 1;
}

function piecesOf(formula: string, cells: readonly string[]): (string | number)[] {
  const pieces: (string | number)[] = [];
  let text = "";
  for (const token of tokensOf(formula)) {
    const cell = isCell(token) ? cells.indexOf(token.value) : -1;
    if (cell < 0) text += token.value;
    else {
      pieces.push(text, cell);
      text = "";
    }
  }
  return [...pieces, text];
}
