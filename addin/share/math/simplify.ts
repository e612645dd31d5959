/**
 * A plain formula made for every cell, as it is for this one: what was decided is left out, so that a person with a pocket
 * calculator can follow it. The value stays the same.
 */
import type { AstExpression, BinaryExpression, CallExpression } from "@borgar/fx";
import { attempt, calculate, type Part, type Sources } from "./calculate";
import { OF_A_LIST, written } from "./formula-text";
import { type Cell, cellAt, isError, NotKnown, type Place } from "./values";

export function simplified(part: AstExpression, sources: Sources, place: Place): AstExpression {
  return new Simplifier(sources, place).of(part);
}

const isCall = (part: Part | undefined, name: string): part is CallExpression =>
  part?.type === "CallExpression" && part.callee.name.toUpperCase() === name;

const isBinary = (part: Part | undefined, ...operators: string[]): part is BinaryExpression =>
  part?.type === "BinaryExpression" && operators.includes(part.operator);

const isNumber = (part: Part | undefined, value: number) => part?.type === "Literal" && part.value === value;

/** A word that may be the answer; "" is none. */
const isWord = (part: Part | undefined) =>
  part?.type === "Literal" && typeof part.value === "string" && part.value !== "";

/** A comparison of nothing but places in the order of the bonds, 0 to 2. */
function isOfBonds(part: AstExpression): boolean {
  if (isBinary(part, "<", ">", "=", "-")) return part.arguments.every((other) => other !== null && isOfBonds(other));
  return [0, 1, 2].some((place) => isNumber(part, place));
}

class Simplifier {
  /** Zeros that a decision left behind: a sum or a product of them says nothing. */
  private readonly leftBehind = new WeakSet<AstExpression>();

  constructor(
    private readonly sources: Sources,
    private readonly place: Place,
  ) {}

  of(part: AstExpression): AstExpression {
    switch (part.type) {
      case "UnaryExpression":
        return { ...part, arguments: part.arguments.map((other) => this.of(other)) };
      case "BinaryExpression":
        return this.binary({ ...part, arguments: part.arguments.map((other) => this.of(other)) });
      case "CallExpression":
        return this.call(part);
      default:
        return part;
    }
  }

  /** Within functions that take a list as a whole. */
  private lists = 0;

  /** What it comes to in this cell, or in every cell of a list; undefined where that is not known. */
  private value(part: Part): Cell | undefined {
    const block = attempt(() => calculate(part, this.sources));
    if (block instanceof NotKnown) return undefined;
    if (this.lists === 0) return cellAt(block, this.place);
    const cells = new Set(block.flat());
    return cells.size === 1 ? [...cells][0] : undefined;
  }

  private isZeroLeft = (part: AstExpression) => this.leftBehind.has(part);

  private binary(part: BinaryExpression): AstExpression {
    const [left, right] = part.arguments as [AstExpression, AstExpression];
    const { operator } = part;
    if (operator === "*") {
      // (a>b)*x is x where a is above b.
      if (isBinary(left, ">") && this.value(left) === true) return right;
      if (isBinary(right, ">") && this.value(right) === true) return left;
      if (this.isZeroLeft(left) && typeof this.value(right) === "number") return left;
    }
    if ((operator === "+" || operator === "-") && this.isZeroLeft(right)) return left;
    if (operator === "+" && this.isZeroLeft(left)) return right;
    return part;
  }

  private call(part: CallExpression): AstExpression {
    const name = part.callee.name.toUpperCase();
    if (name === "IF") return this.decision(part);
    if (name === "IFERROR") return this.withoutNet(part);
    const isOfList = OF_A_LIST.has(name);
    if (isOfList) this.lists++;
    const inner = { ...part, arguments: part.arguments.map((other) => other && this.of(other)) };
    if (isOfList) this.lists--;
    if (name === "CHOOSE") return this.choice(inner);
    return name === "ROUNDUP" ? this.roundedUp(inner) : inner;
  }

  private decision(part: CallExpression): AstExpression {
    const [condition, then, otherwise] = part.arguments as [AstExpression, AstExpression, AstExpression | undefined];
    if (!otherwise) return part;
    if (condition.type === "Literal" && typeof condition.value === "boolean") {
      return this.left(this.of(condition.value ? then : otherwise));
    }
    // It is only shown where the answer is no error.
    if (then.type === "ErrorLiteral") return this.left(this.of(otherwise));
    if (otherwise.type === "ErrorLiteral") return this.left(this.of(then));
    if (isBinary(condition, ">")) {
      const [higher, lower] = condition.arguments as [AstExpression, AstExpression];
      if (written(higher) === written(then) && written(lower) === written(otherwise)) {
        const callee = { ...part.callee, name: "MAX" };
        return { ...part, callee, arguments: [this.of(then), this.of(otherwise)] };
      }
    }
    const kept = { ...part, arguments: part.arguments.map((other) => this.of(other)) };
    const test = this.value(condition);
    if (test === undefined || isError(test) || typeof test === "string") return kept;
    const chosen = kept.arguments[test ? 1 : 2]!;
    if (isOfBonds(kept.arguments[0]!) && (!test || isBinary(condition, "="))) return chosen;
    if (isWord(then) || isWord(otherwise)) return kept;
    // A bare number would not say which limit it is that counts.
    if (chosen.type === "Literal" && isBinary(condition, "<", "<=", ">", ">=")) return kept;
    if (isCall(chosen, "IF") && chosen.arguments.slice(1).some(isWord)) return kept;
    return this.left(chosen);
  }

  private left(chosen: AstExpression): AstExpression {
    if (isNumber(chosen, 0)) this.leftBehind.add(chosen);
    return chosen;
  }

  /** IFERROR of what is no error anywhere. */
  private withoutNet(part: CallExpression): AstExpression {
    const [tried, instead] = part.arguments as [AstExpression, AstExpression];
    const block = attempt(() => calculate(tried, this.sources));
    if (!(block instanceof NotKnown) && !block.flat().some(isError)) return this.of(tried);
    return { ...part, arguments: [this.of(tried), this.of(instead)] };
  }

  /**
   * CHOOSE by a fixed block gives a table: of it, the cell that is asked for. CHOOSE(2+SIGN(x-y),below,at,above) is easier
   * to follow as IF(x<y,below,IF(x=y,at,above)).
   */
  private choice(part: CallExpression): AstExpression {
    const [by, ...among] = part.arguments as [AstExpression, ...AstExpression[]];
    const index = by.type === "ArrayExpression" ? this.value(by) : undefined;
    if (typeof index === "number") return among[index - 1]!;
    const sign = isBinary(by, "+") && isNumber(by.arguments[0]!, 2) ? by.arguments[1] : undefined;
    const difference = isCall(sign, "SIGN") ? sign.arguments[0] : undefined;
    if (!isBinary(difference, "-") || among.length !== 3) return part;
    const [below, at, above] = among as [AstExpression, AstExpression, AstExpression];
    const test = (operator: "<" | "=") => ({ ...difference, operator });
    const decision = (...parts: AstExpression[]) => ({
      ...part,
      callee: { ...part.callee, name: "IF" },
      arguments: parts,
    });
    return decision(test("<"), below, decision(test("="), at, above));
  }

  /** ROUNDUP(ROUND(x*(1-1E-9),9),0) forgives a hair above a whole number; where there is none, it is ROUNDUP(x,0). */
  private roundedUp(part: CallExpression): AstExpression {
    const [rounded, digits] = part.arguments;
    if (!isCall(rounded, "ROUND")) return part;
    const [product] = rounded.arguments;
    if (!isBinary(product, "*") || written(product.arguments[1]!) !== "1-1E-9") return part;
    const plainer = { ...part, arguments: [product.arguments[0]!, digits!] };
    const value = this.value(part);
    return value !== undefined && value === this.value(plainer) ? plainer : part;
  }
}
