/** The texts of cells: those that a workbook shares, and those that a price-only copy still needs. */
import { type Element, elements, escaped, ownMarkup } from "./xml";

/** A text with its runs of bold and color, but not how it is pronounced: that is text which no cell shows. */
function shownText(xml: string, text: Element): string {
  const own = ownMarkup(xml.slice(text.innerStart, text.innerEnd), text.prefix);
  const runs = [...elements(own, ["r", "rPh", "t"])].filter(({ name }) => name !== "rPh");
  return runs.map(({ start, end }) => own.slice(start, end)).join("");
}

/** The texts that cells refer to by number. */
export function sharedTexts(xml: string): string[] {
  return [...elements(xml, ["si"])].map((text) => shownText(xml, text));
}

/** Texts as they are asked for, each once. */
export class Texts {
  private readonly numbers = new Map<string, number>();
  private readonly asked: string[] = [];

  constructor(private readonly shared: readonly string[]) {}

  /** The number under which the copy has a text that stands in the cell itself. */
  ofInline(xml: string, inline: Element): number {
    return this.number(shownText(xml, inline));
  }

  /** The number under which it has a text that cells share, or that a formula gives. */
  ofValue(text: string, isShared: boolean): number | undefined {
    // An empty number is no text, and not the first one.
    const shared = isShared
      ? this.shared[text.trim() === "" ? -1 : Number(text)]
      : `<t xml:space="preserve">${escaped(text)}</t>`;
    return shared === undefined ? undefined : this.number(shared);
  }

  private number(text: string): number {
    const known = this.numbers.get(text);
    if (known !== undefined) return known;
    this.numbers.set(text, this.asked.length);
    return this.asked.push(text) - 1;
  }

  /** The text that the copy has under a number. */
  at(number: number): string | undefined {
    return this.asked[number];
  }

  /** The part that holds them. */
  xml(namespace: string): string {
    const texts = this.asked.map((text) => `<si>${text}</si>`).join("");
    return `<sst xmlns="${namespace}" uniqueCount="${this.asked.length}">${texts}</sst>`;
  }
}
