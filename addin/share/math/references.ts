/** What a formula refers to, and where in a workbook that is to be found. */
import { type AstExpression, parse, parseA1Ref, parseStructRef, stringifyA1Ref } from "@borgar/fx";
import { tokensOf } from "../tokens";
import type { Part } from "./calculate";
import { ELSEWHERE, notKnown } from "./texts";

export type Whereabouts =
  | { readonly kind: "cells"; readonly sheet: string | undefined; readonly cells: string; readonly isSpill: boolean }
  | { readonly kind: "name"; readonly sheet: string | undefined; readonly name: string }
  | {
      readonly kind: "table";
      /** Empty: the table that the formula stands in. */
      readonly table: string;
      readonly columns: readonly string[];
      readonly sections: readonly string[];
    }
  | { readonly kind: "elsewhere"; readonly why: string };

/** The formula cut into its parts. */
export function partsOf(formula: string): AstExpression {
  try {
    return parse(tokensOf(formula)) as AstExpression;
  } catch {
    throw notKnown("unreadable");
  }
}

/** Each reference of a formula, once; one to all that a cell spills ends in #. */
export function referencesIn(part: Part): string[] {
  const found = new Set<string>();
  const look = (other: Part): void => {
    if (other?.type === "ReferenceIdentifier") found.add(other.value);
    if (other?.type === "ArrayExpression") other.elements.flat().forEach(look);
    if (
      other?.type === "UnaryExpression" &&
      other.operator === "#" &&
      other.arguments[0]?.type === "ReferenceIdentifier"
    ) {
      found.add(`${other.arguments[0].value}#`);
    } else if (other && "arguments" in other) other.arguments.forEach(look);
  };
  look(part);
  return [...found];
}

export function whereabouts(reference: string): Whereabouts {
  const isSpill = reference.endsWith("#");
  const text = isSpill ? reference.slice(0, -1) : reference;
  const struct = parseStructRef(text);
  if (struct) {
    const { context = [], table = "", columns = [], sections = [] } = struct;
    if (context.length > 0) return { kind: "elsewhere", why: ELSEWHERE.workbook };
    return { kind: "table", table, columns, sections };
  }
  const found = parseA1Ref(text);
  if (!found) return { kind: "elsewhere", why: ELSEWHERE.unreadable };
  const { context = [] } = found;
  const [sheet] = context;
  if (context.length > 1) return { kind: "elsewhere", why: ELSEWHERE.workbook };
  if (sheet?.includes(":")) return { kind: "elsewhere", why: ELSEWHERE.sheets };
  if ("name" in found) return { kind: "name", sheet, name: found.name };
  return { kind: "cells", sheet, cells: stringifyA1Ref({ range: found.range }), isSpill };
}
