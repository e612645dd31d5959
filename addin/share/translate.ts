/** Finds our calls in a cell's formula, however deep, and writes the plain formula of each in their place. */
import { type Given, LEFT_OUT } from "./arguments";
import { type PlainCall, plainCall, Untranslatable } from "./plain";
import type { ScaleCells } from "./scales";
import { extentOf, type KnownReferences, shapeOf } from "./shape";
import { argumentsIn, closing, isOneTerm, isSpace, ourId, type Token, tokensOf } from "./tokens";

export { Untranslatable } from "./plain";

/** What a formula refers to, as the workbook and its copy have it. */
export interface Surroundings extends KnownReferences {
  readonly scales: ScaleCells;
}

export interface Translation {
  readonly plain: string;
  /** Whether it takes ranges cell by cell, and so must be entered as an array formula. */
  readonly isArray: boolean;
}

const MOST_CHARACTERS = 8192;

export const hasOurCalls = (formula: string) => /GRIT[._]/i.test(formula) && hasCalls(tokensOf(formula));

const hasCalls = (tokens: readonly Token[]) => tokens.some((token) => ourId(token) !== undefined);

/** The formula without calls of ours; throws `Untranslatable` with the reason where that cannot be. */
export const translate = (formula: string, around: Surroundings): string => translation(formula, around).plain;

export function translation(formula: string, around: Surroundings): Translation {
  const writer = new Writer(around);
  const plain = writer.plainOf(tokensOf(formula));
  if (plain.length > MOST_CHARACTERS) {
    throw new Untranslatable(`the plain formula has ${plain.length} characters, and a cell holds ${MOST_CHARACTERS}`);
  }
  return { plain, isArray: writer.isArray };
}

class Writer {
  isArray = false;

  constructor(private readonly around: Surroundings) {}

  /** Text outside our calls stays as it is; of a call, the plain formula with its checks, or the bare one. */
  plainOf(tokens: readonly Token[], part: keyof PlainCall = "text"): string {
    let out = "";
    for (let at = 0; at < tokens.length; at++) {
      const id = ourId(tokens[at]!);
      if (id === undefined) {
        out += tokens[at]!.value;
        continue;
      }
      const end = closing(tokens, at + 1);
      out += this.plainOfCall(id, tokens.slice(at + 2, end))[part];
      at = end;
    }
    return out;
  }

  private plainOfCall(id: string, inside: readonly Token[]): PlainCall {
    const fn = this.around.functions.find((other) => other.id === id);
    if (!fn) throw new Untranslatable(`there is no function GRIT.${id}`);
    const given = argumentsIn(inside).map((tokens) => this.givenBy(tokens));
    this.isArray ||= given.some(({ isRange }) => isRange);
    return plainCall(fn, given, this.around.scales);
  }

  private givenBy(tokens: readonly Token[]): Given {
    if (tokens.length === 0) return LEFT_OUT;
    const literal = literalOf(tokens);
    if (literal) return literal;
    const closed = (text: string) => (isOneTerm(tokens) ? text : `(${text})`);
    const text = closed(this.plainOf(tokens));
    // Another function could make a number of an error of ours; an operator cannot.
    const isOurs = hasCalls(tokens) && tokens.every((token) => token.type !== "func" || ourId(token) !== undefined);
    const bare = isOurs ? closed(this.plainOf(tokens, "bare")) : text;
    const extent = tokens.length === 1 ? extentOf(tokens[0]!.value) : undefined;
    return { text, bare, kind: "expression", extent, ...shapeOf(tokens, this.around) };
  }
}

/** A literal: a number with its sign and percent sign, a text, TRUE or FALSE, an error. */
function literalOf(tokens: readonly Token[]): Given | undefined {
  const words = tokens.filter((token) => !isSpace(token));
  const text = words.map(({ value }) => value).join("");
  const bare = { isRange: false, isNumber: false };
  const [only] = words;
  if (words.length === 1 && only!.type === "string") {
    return { text, kind: "text", value: text.slice(1, -1).replaceAll('""', '"'), ...bare };
  }
  if (words.length === 1 && only!.type === "bool") return { text, kind: "logical", ...bare };
  if (words.length === 1 && only!.type === "error") return { text, kind: "error", ...bare };
  const number = /^([-+]?)([\d.]+(?:E[-+]?\d+)?)(%?)$/i.exec(text);
  if (!number || words.some(({ type }) => type !== "number" && type !== "operator")) return undefined;
  const value = Number(`${number[1]}${number[2]}`) / (number[3] ? 100 : 1);
  return { text: words.length > 1 ? `(${text})` : text, kind: "number", value, ...bare };
}
