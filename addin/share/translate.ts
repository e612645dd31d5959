/** Finds our calls in a cell's formula, however deep, and writes the plain formula of each in their place. */
import {
  type Given,
  isForTheCall,
  isLine,
  isList,
  isOneCell,
  LEFT_OUT,
  type Parameter,
  type PlainFunction,
} from "./arguments";
import { looksBack, type PlainCall, plainCall } from "./plain";
import { untranslatable } from "./refusals";
import type { OwnScale, ScaleCells } from "./scales";
import { extentOf, type KnownReferences, shapeOf } from "./shape";
import { before, extentIn, type Place, spread, wholeCall } from "./spread";
import { argumentsIn, closing, isOneTerm, isSpace, ourId, type Token, tokensOf } from "./tokens";

/** What a formula refers to, as the workbook and its copy have it. */
export interface Surroundings extends KnownReferences {
  readonly scales: ScaleCells;
  /** What a name stands for, where that is one thing in the whole workbook. */
  meaningOf?(name: string): string | undefined;
  /** The copy's own table of a scale that is a range; nothing where the range is not known or has no two columns. */
  ownScale?(reference: string): OwnScale | undefined;
}

interface Translation {
  readonly plain: string;
  /** Whether it takes ranges cell by cell, and so must be entered as an array formula. */
  readonly isArray: boolean;
}

export const MOST_CHARACTERS = 8192;

export const hasOurCalls = (formula: string) => /GRIT[._]/i.test(formula) && hasCalls(tokensOf(formula));

const hasCalls = (tokens: readonly Token[]) => tokens.some((token) => ourId(token) !== undefined);

/** The formula without calls of ours; throws `Untranslatable` with the reason where that cannot be. */
export const translate = (formula: string, around: Surroundings): string => translation(formula, around).plain;

/** The formula, or what it is in one of the cells that it fills. */
export function translation(formula: string, around: Surroundings, place?: Place): Translation {
  const tokens = tokensOf(formula);
  const writer = new Writer(around, place, wholeCall(tokens));
  const plain = writer.plainOf(place ? spread(tokens, place, around) : tokens);
  if (plain.length > MOST_CHARACTERS) {
    throw untranslatable("tooLong", { length: plain.length, most: MOST_CHARACTERS });
  }
  return { plain, isArray: writer.isArray };
}

class Writer {
  isArray = false;

  constructor(
    private readonly around: Surroundings,
    private readonly place: Place | undefined,
    private readonly whole: Token | undefined,
  ) {}

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
      out += this.plainOfCall(id, tokens.slice(at + 2, end), tokens[at] === this.whole)[part];
      at = end;
    }
    return out;
  }

  private plainOfCall(id: string, inside: readonly Token[], isWhole: boolean): PlainCall {
    const fn = this.around.functions.find((other) => other.id === id);
    if (!fn) throw untranslatable("noFunction", { id });
    const given = argumentsIn(inside).map((tokens, i) => this.givenBy(tokens, fn, fn.params[i]));
    if (looksBack(fn) && given.some(({ isSpread, extent }) => isSpread && !(isWhole && extent))) {
      throw untranslatable("looksBack", { id });
    }
    this.isArray ||= given.some(({ isRange }, i) => isRange && !(fn.params[i] && isForTheCall(fn.params[i])));
    return plainCall(fn, given, this.around.scales);
  }

  private givenBy(tokens: readonly Token[], fn: PlainFunction, parameter: Parameter | undefined): Given {
    if (tokens.length === 0) return LEFT_OUT;
    const literal = literalOf(tokens) ?? this.namedLiteral(tokens);
    if (literal) return literal;
    const extent = tokens.length === 1 ? extentOf(tokens[0]!.value) : undefined;
    const shape = shapeOf(tokens, this.around);
    const isTaken = parameter && [isList, isOneCell, isForTheCall].some((takes) => takes(parameter));
    if (!this.place || isTaken || !shape.isRange) {
      const isScale = parameter?.kind === "scale" && shape.isRange && tokens.length === 1;
      const scale = isScale ? this.around.ownScale?.(tokens[0]!.value) : undefined;
      return { ...this.expression(tokens), extent, ...shape, ...(scale && { scale }) };
    }
    const given = this.expression(spread(tokens, this.place, this.around));
    const one = { ...given, isRange: false, isNumber: shape.isNumber, isSpread: true };
    if (tokens.length > 1) return one;
    const reference = tokens[0]!.value;
    const all = { ...one, extent: extentIn(reference, this.around) };
    return looksBack(fn) && isLine(all.extent) ? { ...all, before: before(reference, this.place, this.around) } : all;
  }

  /** A name that stands for a literal is checked as it is, and goes on being called by its name. */
  private namedLiteral(tokens: readonly Token[]): Given | undefined {
    const [name] = tokens;
    const meaning =
      tokens.length === 1 && name!.type === "range_named" ? this.around.meaningOf?.(name!.value) : undefined;
    const literal = meaning === undefined ? undefined : literalOf(tokensOf(meaning));
    return literal && { ...literal, text: name!.value };
  }

  private expression(tokens: readonly Token[]): Pick<Given, "text" | "bare" | "kind"> {
    const closed = (text: string) => (isOneTerm(tokens) ? text : `(${text})`);
    const text = closed(this.plainOf(tokens));
    // Another function could make a number of an error of ours; an operator cannot.
    const isOurs = hasCalls(tokens) && tokens.every((token) => token.type !== "func" || ourId(token) !== undefined);
    return { text, bare: isOurs ? closed(this.plainOf(tokens, "bare")) : text, kind: "expression" };
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
