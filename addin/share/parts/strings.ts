/** The texts of cells: those that a workbook shares, and those that a price-only copy still needs. */
import { attribute, type Element, elements, escaped, first, textIn } from "./xml";

/** An element's content in the namespace that needs no prefix. */
export function unprefixed(xml: string, prefix: string): string {
  return prefix === "" ? xml : xml.replaceAll(`<${prefix}`, "<").replaceAll(`</${prefix}`, "</");
}

/** A text with its runs of bold and colour, but not how it is pronounced: that is text which no cell shows. */
function shownText(xml: string, text: Element): string {
  const runs = [...elements(xml, ["r", "rPh", "t"], text.innerStart, text.innerEnd)].filter(
    ({ name }) => name !== "rPh",
  );
  return runs.map(({ start, end, prefix }) => unprefixed(xml.slice(start, end), prefix)).join("");
}

/** The texts that cells refer to by number. */
export function sharedTexts(xml: string): string[] {
  return [...elements(xml, ["si"])].map((text) => shownText(xml, text));
}

/** Texts as they are asked for, each once. */
export class Texts {
  private readonly numbers = new Map<string, number>();

  constructor(private readonly shared: readonly string[]) {}

  /** The number under which the copy has the text of a cell; nothing where the cell has no text. */
  numberOf(xml: string, cell: Element): number | undefined {
    const text = this.textOf(xml, cell);
    if (text === undefined) return undefined;
    const known = this.numbers.get(text) ?? this.numbers.size;
    this.numbers.set(text, known);
    return known;
  }

  private textOf(xml: string, cell: Element): string | undefined {
    const inline = first(xml, "is", cell);
    if (inline) return shownText(xml, inline);
    const value = first(xml, "v", cell);
    if (!value) return undefined;
    if (attribute(cell, "t") === "s") return this.shared[Number(textIn(xml, value))];
    return `<t xml:space="preserve">${escaped(textIn(xml, value))}</t>`;
  }

  /** The part that holds them. */
  xml(namespace: string): string {
    const texts = [...this.numbers.keys()].map((text) => `<si>${text}</si>`).join("");
    return `<sst xmlns="${namespace}" uniqueCount="${this.numbers.size}">${texts}</sst>`;
  }
}
