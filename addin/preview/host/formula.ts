/**
 * Formulas as text: cut into tokens, then rewritten. Two rewritings are needed:
 * - `resolve` turns names and table references into plain references, which is what the engine is given to calculate;
 * - `shiftFormula` moves references when cells are inserted or deleted, and `renameInFormula` follows a renamed table.
 */
import { tokenize } from "@borgar/fx";
import { columnLetters } from "../../common/a1";
import {
  formatAddress,
  intersection,
  isWholeColumns,
  isWholeRows,
  parseAddress,
  quoteSheet,
  type Rect,
  type Shift,
  sameRect,
  shiftRect,
  splitSheet,
} from "./a1";

type TokenKind = "other" | "broken" | "string" | "function" | "reference" | "word" | "structured";

interface Token {
  readonly kind: TokenKind;
  readonly text: string;
}

const KINDS: Readonly<Record<string, TokenKind>> = {
  string: "string",
  func: "function",
  range: "reference",
  range_beam: "reference",
  range_named: "word",
  structured: "structured",
  unknown: "broken",
};

/** The same formulas are asked about again whenever a name or a table changes. */
const cut = new Map<string, readonly Token[]>();
const MOST_KEPT = 20_000;

function tokens(formula: string): readonly Token[] {
  const known = cut.get(formula);
  if (known) return known;
  const found = tokenize(formula).map(({ type, value, unterminated }): Token => {
    return { kind: unterminated ? "broken" : (KINDS[type] ?? "other"), text: value };
  });
  if (cut.size >= MOST_KEPT) cut.clear();
  cut.set(formula, found);
  return found;
}

const rewrite = (formula: string, change: (token: Token) => string) => tokens(formula).map(change).join("");

/** Whether quotes, brackets and braces close; what does not is no formula. */
export function isBalanced(formula: string): boolean {
  const open: string[] = [];
  const partner: Record<string, string> = { ")": "(", "}": "{" };
  for (const { kind, text } of tokens(formula)) {
    if (kind === "broken") return false;
    if (kind !== "other") continue;
    if (text === "(" || text === "{") open.push(text);
    if (partner[text] && open.pop() !== partner[text]) return false;
  }
  return open.length === 0;
}

/** Where a name or table stands, as the formula's cell sees it. */
export interface Scope {
  readonly sheetId: string;
  readonly row: number;
  readonly column: number;
}

export interface DefinedName {
  readonly name: string;
  /** "=Sheet1!$A$1", "=0.2", …; undefined sheet means the whole workbook. */
  readonly formula: string;
  readonly sheetId: string | undefined;
}

export interface TableShape {
  readonly name: string;
  readonly sheetId: string;
  /** Header row and totals row included. */
  readonly rect: Rect;
  readonly showTotals: boolean;
}

/** What resolving needs to know about the workbook. */
export interface Lookups {
  findName(name: string, sheetId: string): DefinedName | undefined;
  findTable(name: string): TableShape | undefined;
  /** The table whose cells hold this one, for `[Column]` and `[@Column]` without a table's name. */
  tableAt(scope: Scope): TableShape | undefined;
  headers(table: TableShape): string[];
  sheetName(sheetId: string): string;
  sheetIdOf(name: string): string | undefined;
  /** Rows and columns the engine holds of a sheet: references end there. */
  sheetSize(sheetId: string): { rows: number; columns: number };
}

const REF = "#REF!";
const DEEPEST_NAME = 32;

export function bodyRect(table: TableShape): Rect {
  const bottom = table.showTotals ? 1 : 0;
  return { ...table.rect, row: table.rect.row + 1, rows: table.rect.rows - 1 - bottom };
}

function tablePart(table: TableShape, part: string, row: number): Rect | undefined {
  const { rect } = table;
  switch (part.toLowerCase()) {
    case "#all":
      return rect;
    case "#data":
      return bodyRect(table);
    case "#headers":
      return { ...rect, rows: 1 };
    case "#totals":
      return table.showTotals ? { ...rect, row: rect.row + rect.rows - 1, rows: 1 } : undefined;
    case "#this row": {
      const body = bodyRect(table);
      return row >= body.row && row < body.row + body.rows ? { ...rect, row, rows: 1 } : undefined;
    }
    default:
      return undefined;
  }
}

const unescapeColumn = (text: string) => text.replace(/'(.)/g, "$1");

/** "[#This Row],[Cost]" or "Cost" → the parts in their own brackets, or the one without. */
function bracketParts(body: string): string[] {
  const inner = body.slice(1, -1).trim();
  const parts = inner.match(/\[(?:'.|[^\]'])*\]|:/g);
  if (!inner.startsWith("[") || !parts) return [inner];
  return parts.map((part) => (part === ":" ? part : part.slice(1, -1)));
}

/** The cells that the bracketed part of a structured reference stands for. */
function structuredRect(table: TableShape, brackets: string, scope: Scope, headers: string[]): Rect | undefined {
  let body = brackets;
  let thisRow = false;
  if (/^\[\s*@/.test(body)) {
    thisRow = true;
    body = `[${body.replace(/^\[\s*@/, "").slice(0, -1)}]`;
  }
  const parts = bracketParts(body).filter((part) => part !== "" && part !== ":");
  const sections = parts.filter((part) => part.startsWith("#"));
  const columns = parts
    .filter((part) => !part.startsWith("#"))
    .map((part) => headers.indexOf(unescapeColumn(part).toLowerCase()));
  if (columns.includes(-1) || columns.length > 2) return undefined;
  if (thisRow) sections.push("#This Row");
  if (sections.length === 0) sections.push("#Data");
  const rects = sections.map((section) => tablePart(table, section, scope.row));
  if (rects.includes(undefined)) return undefined;
  const top = Math.min(...rects.map((rect) => rect!.row));
  const bottom = Math.max(...rects.map((rect) => rect!.row + rect!.rows));
  const first = columns.length > 0 ? Math.min(...columns) : 0;
  const last = columns.length > 0 ? Math.max(...columns) : table.rect.columns - 1;
  return { row: top, rows: bottom - top, column: table.rect.column + first, columns: last - first + 1 };
}

const onSheet = (sheetName: string, rect: Rect) => `${quoteSheet(sheetName)}!${formatAddress(rect, true)}`;

function resolveStructured(text: string, scope: Scope, lookups: Lookups): string {
  const bracket = text.indexOf("[");
  const table = bracket > 0 ? lookups.findTable(text.slice(0, bracket)) : lookups.tableAt(scope);
  if (!table) return bracket > 0 ? text : REF;
  const headers = lookups.headers(table).map((header) => header.toLowerCase());
  const rect = structuredRect(table, text.slice(bracket), scope, headers);
  return rect ? onSheet(lookups.sheetName(table.sheetId), rect) : REF;
}

function resolveWord(text: string, scope: Scope, lookups: Lookups, depth: number): string {
  const { sheet, address: name } = splitSheet(text);
  const sheetId = sheet === undefined ? scope.sheetId : lookups.sheetIdOf(sheet);
  const defined = sheetId === undefined ? undefined : lookups.findName(name, sheetId);
  if (defined) {
    const value = defined.formula.replace(/^=/, "");
    const isReference = parseAddress(splitSheet(value).address) !== undefined;
    const resolved = resolveText(value, scope, lookups, depth + 1);
    return isReference ? resolved : `(${resolved})`;
  }
  const table = sheet === undefined ? lookups.findTable(name) : undefined;
  return table ? onSheet(lookups.sheetName(table.sheetId), bodyRect(table)) : text;
}

/** The engine refuses references past the rows it holds; what lies beyond is blank anyway. */
function clip(text: string, scope: Scope, lookups: Lookups): string {
  const { sheet, address } = splitSheet(text);
  const rect = parseAddress(address);
  const sheetId = sheet === undefined ? scope.sheetId : lookups.sheetIdOf(sheet);
  if (!rect || sheetId === undefined || isWholeColumns(rect) || isWholeRows(rect)) return text;
  const held = intersection(rect, { row: 0, column: 0, ...lookups.sheetSize(sheetId) });
  if (!held || sameRect(held, rect)) return text;
  return text.slice(0, text.length - address.length) + withDollars(address, held);
}

function resolveText(formula: string, scope: Scope, lookups: Lookups, depth: number): string {
  if (depth > DEEPEST_NAME) return "#NAME?";
  return rewrite(formula, ({ kind, text }) => {
    if (kind === "structured") return resolveStructured(text, scope, lookups);
    if (kind === "word") return resolveWord(text, scope, lookups, depth);
    if (kind === "function") return text.replace(/^_xl(?:fn|ws)\./i, "");
    if (kind === "reference") return clip(text, scope, lookups);
    return text;
  });
}

/** The formula with every name and table reference replaced by the plain reference it means in this cell. */
export const resolve = (formula: string, scope: Scope, lookups: Lookups): string =>
  resolveText(formula, scope, lookups, 0);

/** The formula with references to one table written out as cells: what is left of them when the table is dissolved. */
export function spellOutTable(formula: string, table: TableShape, scope: Scope, lookups: Lookups): string {
  const inside = lookups.tableAt(scope) === table;
  const isTable = (text: string) => text.toLowerCase() === table.name.toLowerCase();
  return rewrite(formula, ({ kind, text }) => {
    const name = kind === "structured" ? text.slice(0, text.indexOf("[")) : text;
    if (kind === "structured" && (isTable(name) || (name === "" && inside)))
      return resolveStructured(text, scope, lookups);
    return kind === "word" && isTable(name) ? resolveWord(text, scope, lookups, 0) : text;
  });
}

/** Whether a formula's meaning depends on the row it stands in. */
export const dependsOnRow = (formula: string): boolean => /@|#This Row/i.test(formula);

const withDollars = (original: string, rect: Rect): string => {
  const dollars = (part: string) => [/^\$[A-Za-z]/.test(part), /\$\d/.test(part)] as const;
  const plain = formatAddress(rect).split(":");
  const parts = original.split(":");
  return plain
    .map((part, i) => {
      const [column, row] = dollars(parts[i] ?? parts[0]!);
      return part
        .replace(/[A-Z]+/, (letters) => (column ? `$${letters}` : letters))
        .replace(/\d+/, (digits) => (row ? `$${digits}` : digits));
    })
    .join(":");
};

/** The formula after cells of `shiftedSheet` moved; `ownSheet` is the name of the sheet the formula stands on. */
export function shiftFormula(formula: string, ownSheet: string, shiftedSheet: string, shift: Shift): string {
  return rewrite(formula, ({ kind, text }) => {
    if (kind !== "reference") return text;
    const { sheet, address } = splitSheet(text);
    if ((sheet ?? ownSheet).toLowerCase() !== shiftedSheet.toLowerCase()) return text;
    const rect = parseAddress(address);
    if (!rect) return text;
    const moved = shiftRect(rect, shift);
    if (moved === rect) return text;
    const prefix = sheet === undefined ? "" : text.slice(0, text.length - address.length);
    return moved ? prefix + withDollars(address, moved) : prefix + REF;
  });
}

/** Replaces one table's or sheet's name by another wherever a formula uses it. */
export function renameInFormula(formula: string, kind: "table" | "sheet", from: string, to: string): string {
  const same = (text: string) => text.toLowerCase() === from.toLowerCase();
  return rewrite(formula, (token) => {
    if (kind === "table") {
      const bracket = token.kind === "structured" ? token.text.indexOf("[") : token.text.length;
      const isWord = token.kind === "structured" || token.kind === "word";
      return isWord && same(token.text.slice(0, bracket)) ? to + token.text.slice(bracket) : token.text;
    }
    if (token.kind !== "reference" && token.kind !== "word") return token.text;
    const { sheet, address } = splitSheet(token.text);
    return sheet !== undefined && same(sheet) ? `${quoteSheet(to)}!${address}` : token.text;
  });
}

/** The formula once a sheet is gone: what referred to it is no reference any more. */
export function withoutSheet(formula: string, sheetName: string): string {
  return rewrite(formula, ({ kind, text }) => {
    if (kind !== "reference" && kind !== "word") return text;
    return splitSheet(text).sheet?.toLowerCase() === sheetName.toLowerCase() ? REF : text;
  });
}

/** References relative to one cell, moved to another: what a copied formula becomes. */
export function moveFormula(formula: string, rows: number, columns: number): string {
  const moveCell = (cell: string) => {
    const match = /^(\$?)([A-Za-z]{1,3})(\$?)(\d+)$/.exec(cell);
    if (!match) return cell;
    const rect = parseAddress(match[2]! + match[4]!);
    if (!rect) return cell;
    const row = match[3] ? rect.row : rect.row + rows;
    const column = match[1] ? rect.column : rect.column + columns;
    return row < 0 || column < 0 ? REF : `${match[1]}${columnLetters(column)}${match[3]}${row + 1}`;
  };
  return rewrite(formula, ({ kind, text }) => {
    if (kind !== "reference") return text;
    const { address } = splitSheet(text);
    const prefix = text.slice(0, text.length - address.length);
    const moved = address.split(":").map(moveCell);
    return moved.includes(REF) ? prefix + REF : prefix + moved.join(":");
  });
}
