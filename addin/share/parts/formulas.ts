/** Formulas of a workbook as the copy has them: without calls of ours, and without what needs a spill of ours. */
import { parseA1Range, parseStructRef } from "@borgar/fx";
import { absoluteAddress, withoutSheet } from "../../common/a1";
import type { PlainFunction } from "../arguments";
import { untranslatable } from "../refusals";
import type { OwnScale, ScaleCells } from "../scales";
import type { Place } from "../spread";
import { ourId, type Token, tokensOf } from "../tokens";
import { translation } from "../translate";
import { Alike } from "./alike";

/** What a formula may refer to besides cells. */
export interface Names {
  /** Defined names in lower case, and what they stand for; one name may be defined for several sheets. */
  readonly defined: ReadonlyMap<string, readonly string[]>;
  /** Tables by their names in lower case. */
  readonly tables: ReadonlyMap<string, Table>;
  /** The cells that a spill of ours fills, by "sheet!anchor" in lower case. */
  readonly spills: ReadonlyMap<string, string>;
}

/** A table and where it is: A1:B9, headings and totals with it. */
export interface Table {
  readonly sheet: string;
  readonly ref: string;
  /** The names of its columns in lower case. */
  readonly columns: readonly string[];
  readonly headings: number;
  readonly totals: number;
}

export interface Plain {
  readonly formula: string;
  /** It works on more than one cell at a time, which it can only as an array formula. */
  readonly isArray: boolean;
  /** Our functions that stood in it. */
  readonly functions: readonly string[];
  /** It holds in no other cell: it looks at a table of the copy for a range that would move with the cell. */
  readonly isOwn?: boolean;
}

/** Where the copy keeps what formulas look up. */
export interface Tables {
  readonly cells: ScaleCells;
  ownScale(range: string, rows: number): OwnScale;
}

/** More rows than any maker's scale has; whole columns have a million. */
const MOST_SCALE_ROWS = 500;

const SPILL_OF = /^(?:_xlfn\.)?ANCHORARRAY$/i;
const MOVES = /^(?:OFFSET|INDIRECT)$/i;

/** A formula as the user knows it. */
export function shownFormula(formula: string): string {
  const text = tokensOf(formula)
    .map(({ value }) => value)
    .join("");
  return `=${text.replace(/(?:_xlfn\.)?_xldudf_GRIT_/gi, "GRIT.").replace(/_xlfn\.(?:_xlws\.)?|_xlpm\./gi, "")}`;
}

export class Formulas {
  /** Names whose formula could not be made plain, in lower case. */
  readonly lost = new Set<string>();
  private readonly alike = new Alike();

  constructor(
    private readonly functions: readonly PlainFunction[],
    private readonly tables: Tables,
    private readonly names: Names,
  ) {}

  /** Whether a text can have a formula in it that changes: cheap, and true too often rather than too seldom. */
  concern(text: string): boolean {
    if (/GRIT[._]/i.test(text) || this.lost.size > 0) return true;
    return this.names.spills.size > 0 && /ANCHORARRAY|\d#/i.test(text);
  }

  /**
   * The formula for the copy, or for one cell of those that it fills; nothing where it stays as it is. Throws
   * `Untranslatable`.
   */
  plain(formula: string, sheet: string, place?: Place): Plain | undefined {
    if (!this.concern(formula)) return undefined;
    const tokens = tokensOf(formula);
    const make = () => this.made(formula, tokens, sheet, place);
    return place ? make() : this.alike.plain(tokens, sheet, make);
  }

  private made(formula: string, before: Token[], sheet: string, place: Place | undefined): Plain | undefined {
    for (const { type, value } of before) {
      if (type === "range_named" && this.lost.has(localName(value))) {
        throw untranslatable("lostName", { name: value });
      }
    }
    const tokens = this.fixedSpills(before, sheet);
    const functions = tokens.flatMap((token) => ourId(token) ?? []);
    const text = tokens.map(({ value }) => value).join("");
    if (functions.length === 0) return text === formula ? undefined : { formula: text, isArray: false, functions };
    const isRange = (reference: string) => {
      if (/^_xlpm\./i.test(reference)) throw untranslatable("lambda");
      const isWide = this.widthOf(reference);
      if (isWide === undefined) throw untranslatable("noName", { name: reference });
      return isWide;
    };
    const cellsOf = (reference: string) => this.cellsOf(reference);
    const meaningOf = (name: string) => this.meaningOf(name);
    let isOwn = false;
    const ownScale = (reference: string) => {
      const found = this.scaleRange(reference, sheet);
      isOwn ||= found?.isOwn ?? false;
      return found && this.tables.ownScale(found.range, found.rows);
    };
    const around = { functions: this.functions, scales: this.tables.cells, isRange, cellsOf, ownScale, meaningOf };
    const { plain, isArray } = translation(text, around, place);
    return { formula: plain, isArray, functions, isOwn };
  }

  /** Whether the formula looks at more than one cell anywhere. */
  looksWide(formula: string): boolean {
    return tokensOf(formula).some((token) => this.isWide(token));
  }

  private isWide({ type, value }: Token, within: readonly string[] = []): boolean {
    if (type === "operator") return value === "{" || value === "#";
    if (type === "func") return SPILL_OF.test(value) || MOVES.test(value);
    if (type === "range") return withoutSheet(value).includes(":");
    if (type === "range_beam" || type === "range_ternary") return true;
    return (type === "range_named" || type === "structured") && (this.widthOf(value, within) ?? true);
  }

  /**
   * Whether a name or a part of a table is more than one cell; nothing where the workbook does not know it. Names that
   * stand for each other would never end, so those that one is looked for within count for nothing.
   */
  private widthOf(reference: string, within: readonly string[] = []): boolean | undefined {
    if (reference.includes("[") && !/^\[\d+\]/.test(reference)) return isWideInTable(reference);
    const name = localName(reference);
    if (within.includes(name)) return false;
    if (this.names.tables.has(name)) return true;
    const meanings = this.names.defined.get(name);
    return meanings?.some((formula) => tokensOf(formula).some((token) => this.isWide(token, [...within, name])));
  }

  /** What a name stands for, where that is one thing in the whole workbook. */
  private meaningOf(name: string): string | undefined {
    const meanings = this.names.defined.get(localName(name)) ?? [];
    return meanings.length === 1 ? meanings[0] : undefined;
  }

  /** The cells of a name that is no more than a reference, or of columns of a table. */
  private cellsOf(reference: string): string | undefined {
    if (reference.includes("[") && !/^\[\d+\]/.test(reference)) return cellsInTable(reference, this.names.tables);
    const cells = this.meaningOf(reference);
    // Relative references mean other cells in every formula.
    return cells !== undefined && /^(?:'(?:[^']|'')+'|[^'!]+)!\$[A-Z]+\$\d+(?::\$[A-Z]+\$\d+)?$/i.test(cells)
      ? cells
      : undefined;
  }

  /** A scale's two columns as they are called from another sheet; a part of a table follows the table by itself. */
  private scaleRange(reference: string, sheet: string): { range: string; rows: number; isOwn: boolean } | undefined {
    const isCells = parseA1Range(withoutSheet(reference)) !== undefined;
    const cells = isCells ? reference : this.cellsOf(reference);
    const area = cells === undefined ? undefined : parseA1Range(withoutSheet(cells));
    if (!area || area.right! - area.left! !== 1) return undefined;
    const [top, bottom] = [area.top ?? 0, area.bottom ?? Infinity];
    const rows = bottom - top + 1;
    if (rows > MOST_SCALE_ROWS) {
      throw untranslatable("scaleTooLong", { reference, most: MOST_SCALE_ROWS });
    }
    const on = cells!.includes("!") ? cells!.slice(0, cells!.lastIndexOf("!")) : `'${sheet.replace(/'/g, "''")}'`;
    const pinned = `${absoluteAddress(top, area.left!)}:${absoluteAddress(bottom, area.right!)}`;
    const range = reference.includes("[") ? reference : `${on}!${pinned}`;
    const isOwn = isCells && withoutSheet(reference).replace(/[^$]/g, "").length < 4;
    return { range, rows, isOwn };
  }

  /** A spill of ours is an array formula in the copy, so A1# there is the cells that it fills. */
  private fixedSpills(tokens: Token[], sheet: string): Token[] {
    const out: Token[] = [];
    for (let i = 0; i < tokens.length; i++) {
      const stored = SPILL_OF.test(tokens[i]!.value) && tokens[i + 1]?.value === "(" && tokens[i + 3]?.value === ")";
      const typed = tokens[i]!.type === "range" && tokens[i + 1]?.value === "#";
      const anchor = tokens[stored ? i + 2 : i]!;
      const cells = stored || typed ? this.spillFrom(anchor.value, sheet) : undefined;
      out.push(cells === undefined ? tokens[i]! : { ...anchor, value: cells });
      if (cells !== undefined) i += stored ? 3 : 1;
    }
    return out;
  }

  /** "Plan!$C5" → "Plan!$C5:$C9", where a spill of ours starts there. */
  private spillFrom(anchor: string, sheet: string): string | undefined {
    const bang = anchor.lastIndexOf("!");
    const on = bang < 0 ? sheet : anchor.slice(0, bang).replace(/^'|'$/g, "").replace(/''/g, "'");
    const cell = anchor.slice(bang + 1);
    const filled = this.names.spills.get(spillKey(on, cell.replace(/\$/g, "")));
    const last = filled?.split(":")[1];
    if (filled === undefined || last === undefined) return filled && anchor;
    const [, column, row] = /^(\$?)[A-Z]+(\$?)/i.exec(cell)!;
    return `${anchor}:${last.replace(/^([A-Z]+)(\d+)$/i, `${column ? "$$" : ""}$1${row ? "$$" : ""}$2`)}`;
  }
}

/** The rows that a table has between its headings and its totals, of all its columns or of some side by side. */
function cellsInTable(reference: string, tables: ReadonlyMap<string, Table>): string | undefined {
  const found = parseStructRef(reference);
  const table = found && tables.get((found.table ?? "").toLowerCase());
  const area = table && parseA1Range(table.ref);
  if (!area || found.sections?.some((section) => section !== "data")) return undefined;
  const at = (found.columns ?? []).map((column) => table.columns.indexOf(column.toLowerCase()));
  if (at.includes(-1)) return undefined;
  const [first = 0, last = at.length > 0 ? first : table.columns.length - 1] = at;
  const top = area.top! + table.headings;
  const height = area.bottom! - table.totals - top + 1;
  const start = absoluteAddress(top, area.left! + first);
  const end = absoluteAddress(top + height - 1, area.left! + last);
  return `'${table.sheet.replace(/'/g, "''")}'!${start}:${end}`;
}

export const spillKey = (sheet: string, cell: string) => `${sheet}!${cell}`.toLowerCase();

const localName = (name: string) => name.slice(name.lastIndexOf("!") + 1).toLowerCase();

/** Of a table, only one column of this row, of the headings or of the totals is one cell. */
function isWideInTable(reference: string): boolean {
  const oneRow = /\[(?:@|#this row|#headers|#totals)/i.test(reference) && !/\[#(?:data|all)/i.test(reference);
  return !oneRow || reference.includes("]:[") || /\[(?:@|#this row|#headers|#totals)\]$/i.test(reference);
}
