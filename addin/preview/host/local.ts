/**
 * Cells in the notation of the user's Excel: its decimals and what parts a function's arguments. Only what Office.js calls
 * local is in it; values, formulas and number formats are in English notation whatever the user's is (office-js#1559).
 * The names of functions, which Excel translates too, stay English here.
 */

export interface Separators {
  readonly decimal: string;
  readonly thousands: string;
  /** Between the arguments of a function. */
  readonly list: string;
}

export const ENGLISH: Separators = { decimal: ".", thousands: ",", list: "," };
export const GERMAN: Separators = { decimal: ",", thousands: ".", list: ";" };

/** Texts, names of sheets and names in brackets, which are the same in every notation. */
const KEPT = /"(?:[^"]|"")*"|'(?:[^']|'')*'|\[(?:'.|[^\]])*\]/;

/** A formula of one notation in another. */
function translated(formula: string, from: Separators, to: Separators): string {
  const number = new RegExp(`(\\d)\\${from.decimal}(?=\\d)`, "g");
  const parts = formula.split(new RegExp(`(${KEPT.source})`));
  return parts
    .map((part, i) => {
      if (i % 2 === 1) return part;
      // By way of a mark that no formula has, since one's comma is the other's point.
      const marked = part.replace(number, "$1\u0001").replaceAll(from.list, to.list);
      return marked.replaceAll("\u0001", to.decimal);
    })
    .join("");
}

/** What the formula bar shows of a cell's content. */
export function toLocal(content: unknown, local: Separators): unknown {
  if (typeof content === "number") return String(content).replace(".", local.decimal);
  return typeof content === "string" && content.startsWith("=") ? translated(content, ENGLISH, local) : content;
}

/** What typing a text comes to, in English notation: "1,5" is 1.5 and "1.000" is 1000 where decimals come after a comma. */
export function fromLocal(typed: unknown, local: Separators): unknown {
  if (typeof typed !== "string") return typed;
  if (typed.startsWith("=")) return translated(typed, local, ENGLISH);
  const number = new RegExp(`^-?\\d+(?:\\${local.thousands}\\d{3})*(?:\\${local.decimal}\\d+)?$`);
  if (!number.test(typed.trim())) return typed;
  return Number(typed.trim().replaceAll(local.thousands, "").replace(local.decimal, "."));
}

/** A text that English notation shows, in which only digits are parted by points and commas. */
export const shownLocally = (text: string, local: Separators): string =>
  text.replace(/(?<=\d)[.,](?=\d)/g, (mark) => (mark === "." ? local.decimal : local.thousands));
