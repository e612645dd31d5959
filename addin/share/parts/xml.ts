/**
 * XML as text. Elements are found by where they stand and changed by splicing, so that whatever is not changed stays
 * byte for byte as its writer wrote it, and a sheet of a million cells needs no tree.
 */
import { unreadable } from "../refusals";
import { attributesFound, find, hasName, isEmpty, isNamed, markup, nameFound, prefixFound } from "./markup";

/** What a part begins with that is written anew. */
export const DECLARATION = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';

/** An element and where it stands in its text. */
export interface Element {
  /** Without its namespace's prefix: writers differ in those. */
  readonly name: string;
  /** "x:" or nothing. */
  readonly prefix: string;
  readonly start: number;
  readonly end: number;
  /** Its content is between these two; an empty element has none. */
  readonly innerStart: number;
  readonly innerEnd: number;
  /** The attributes as they are written. */
  readonly written: string;
}

/** The outermost elements of these names in the text, in order. */
export function* elements(xml: string, names: readonly string[], from = 0, to = xml.length): Generator<Element> {
  let at = from;
  while (find(xml, at) && markup.start < to) {
    at = markup.end;
    if (markup.closes) continue;
    const name = names.find((one) => hasName(xml, one));
    if (name === undefined) continue;
    const found = elementFound(xml, name);
    at = found.end;
    yield found;
  }
}

/** The element whose opening tag was just found. */
function elementFound(xml: string, name: string): Element {
  const { start, end: innerStart } = markup;
  const prefix = prefixFound(xml);
  const written = attributesFound(xml);
  if (isEmpty(xml)) return { name, prefix, start, end: innerStart, innerStart, innerEnd: innerStart, written };
  const innerEnd = closingTag(xml, innerStart, prefix, name);
  return { name, prefix, start, end: xml.indexOf(">", innerEnd) + 1, innerStart, innerEnd, written };
}

/** Where the tag begins that closes an element. */
function closingTag(xml: string, from: number, prefix: string, name: string): number {
  // Most elements hold neither comments nor others of their name, and then the next such tag is theirs.
  const close = xml.indexOf(`</${prefix}${name}>`, from);
  const inner = xml.slice(from, close);
  if (close >= 0 && !inner.includes(`<${prefix}${name}`) && !inner.includes("<!")) return close;
  let depth = 1;
  for (let at = from; find(xml, at); at = markup.end) {
    if (!hasName(xml, name) || prefixFound(xml) !== prefix) continue;
    if (markup.closes) depth--;
    else if (!isEmpty(xml)) depth++;
    if (depth === 0) return markup.start;
  }
  throw unreadable("notClosed", { tag: prefix + name });
}

const ENTITY = "&(?:amp|lt|gt|quot|apos|#\\d{1,7}|#x[\\da-fA-F]{1,6});";
const NAME = "[A-Za-z_\\u0080-\\uffff][\\w.:\\u0080-\\uffff-]*";
const VALUE = `"(?:[^<"&]|${ENTITY})*"|'(?:[^<'&]|${ENTITY})*'`;
const PIECE = new RegExp(
  `(?:[^<&\\u0000-\\u0008]|${ENTITY})+|<!--(?:(?!--)[^])*-->|<!\\[CDATA\\[[^]*?\\]\\]>|<\\?[^]*?\\?>` +
    `|<(${NAME})((?:\\s+${NAME}\\s*=\\s*(?:${VALUE}))*)\\s*(/?)>|</(${NAME})\\s*>`,
  "y",
);

/** Whether a piece of XML is well-formed: what is copied as it is written must be. */
function isSound(xml: string): boolean {
  const open: string[] = [];
  for (PIECE.lastIndex = 0; PIECE.lastIndex < xml.length; ) {
    const piece = PIECE.exec(xml);
    if (!piece) return false;
    const [, opened, written = "", isEmpty, closed] = piece;
    const names = [...written.matchAll(ATTRIBUTE)].map(([, name]) => name);
    if (new Set(names).size < names.length) return false;
    if (opened !== undefined && !isEmpty) open.push(opened);
    if (closed !== undefined && open.pop() !== closed) return false;
  }
  return open.length === 0;
}

const FOREIGN = /<\/?[^\s:/>!?]+:|<!--|<\?|<extLst|\s(?!xml:)[\w.-]+:[\w.-]+\s*=|\sxmlns\s*=/;

/**
 * Markup in the namespace of this prefix, which it needs no more, and nothing else: what others put beside it, extensions
 * and comments are left out, and of alternate content the fallback is taken.
 */
export function ownMarkup(xml: string, prefix: string): string {
  if (!isSound(xml)) throw unreadable("badMarkup");
  if (!FOREIGN.test(xml)) return xml;
  let out = "";
  let at = 0;
  while (find(xml, at)) {
    const { start, end, closes } = markup;
    const name = nameFound(xml);
    out += xml.slice(at, start);
    at = end;
    if (name === "") {
      if (xml.startsWith("<![CDATA[", start)) out += xml.slice(start, end);
    } else if (closes) {
      out += `</${name}>`;
    } else if (prefixFound(xml) !== prefix || name === "extLst") {
      const foreign = elementFound(xml, name);
      const fallback = name === "AlternateContent" ? first(xml, "Fallback", foreign) : undefined;
      if (fallback) out += ownMarkup(xml.slice(fallback.innerStart, fallback.innerEnd), prefix);
      at = foreign.end;
    } else {
      const closing = isEmpty(xml) ? "/>" : ">";
      const kept = [...attributesFound(xml).matchAll(ATTRIBUTE)].filter(
        ([, attribute]) =>
          !attribute!.startsWith("xmlns") && (!attribute!.includes(":") || attribute!.startsWith("xml:")),
      );
      out += `<${name}${kept.map(([text]) => ` ${text}`).join("")}${closing}`;
    }
  }
  return out + xml.slice(at);
}

/** The elements directly in another. */
export function* children(xml: string, { innerStart, innerEnd }: Element): Generator<Element> {
  let at = innerStart;
  while (find(xml, at) && markup.start < innerEnd) {
    at = markup.end;
    if (markup.closes || !isNamed()) continue;
    const found = elementFound(xml, nameFound(xml));
    at = found.end;
    yield found;
  }
}

/** The first element of a name, inside another where one is given. */
export function first(xml: string, name: string, inside?: Element): Element | undefined {
  for (const found of elements(xml, [name], inside?.innerStart, inside?.innerEnd)) return found;
  return undefined;
}

/** The element that all others are in. */
export function root(xml: string): Element {
  for (let at = 0; find(xml, at); at = markup.end) {
    if (isNamed() && !markup.closes) return elementFound(xml, nameFound(xml));
  }
  throw unreadable("partEmpty");
}

const ATTRIBUTE = /([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;

/** Attributes by the name they are written with. */
export function attributes({ written }: Element): Map<string, string> {
  const found = new Map<string, string>();
  ATTRIBUTE.lastIndex = 0;
  for (let one = ATTRIBUTE.exec(written); one; one = ATTRIBUTE.exec(written)) {
    found.set(one[1]!, unescaped(one[2] ?? one[3] ?? ""));
  }
  return found;
}

export const attribute = (element: Element, name: string) => attributes(element).get(name);

/** The id of a relationship, whatever prefix the writer gave its namespace. */
export function relationshipId(element: Element): string | undefined {
  for (const [name, value] of attributes(element)) if (name.endsWith(":id")) return value;
  return undefined;
}

/** The text in an element, without markup. */
export function textIn(xml: string, { innerStart, innerEnd }: Element): string {
  const inner = xml.slice(innerStart, innerEnd);
  return inner.includes("<")
    ? inner
        .split(/<!\[CDATA\[([\s\S]*?)\]\]>/)
        .map((piece, i) => (i % 2 === 1 ? piece : unescaped(piece.replace(/<[^>]*>/g, ""))))
        .join("")
    : unescaped(inner);
}

const ENTITIES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" };

const LAST_CODE_POINT = 0x10ffff;

const unescaped = (text: string) =>
  text.includes("&")
    ? text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (all, hex?: string, decimal?: string, name?: string) => {
        if (name !== undefined) return ENTITIES[name] ?? all;
        const code = hex === undefined ? Number(decimal) : Number.parseInt(hex, 16);
        return code <= LAST_CODE_POINT ? String.fromCodePoint(code) : all;
      })
    : text;

/** A text as it is written between tags or in an attribute. */
export const escaped = (text: string) =>
  /[&<>"]/.test(text)
    ? text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;")
    : text;

/** Attributes written anew; those without a value are left out. */
export function written(values: Readonly<Record<string, string | undefined>>): string {
  let out = "";
  for (const name of Object.keys(values)) {
    const value = values[name];
    if (value !== undefined) out += ` ${name}="${escaped(value)}"`;
  }
  return out;
}

/** Changes to a text, each at the place it had before all of them. */
export class Splices {
  private readonly changes: { start: number; end: number; text: string }[] = [];

  constructor(private readonly before: string) {}

  replace(start: number, end: number, text: string): void {
    this.changes.push({ start, end, text });
  }

  remove({ start, end }: { start: number; end: number }): void {
    this.replace(start, end, "");
  }

  /** Takes an attribute, given as it is written, out of an element's opening tag, or writes another in its place. */
  attribute(element: Element, name: string, instead = ""): void {
    const at = new RegExp(`\\s${name}\\s*=\\s*(?:"[^"]*"|'[^']*')`).exec(element.written);
    if (!at) return;
    const from = this.before.indexOf(element.written, element.start) + at.index;
    this.replace(from, from + at[0].length, instead);
  }

  get any(): boolean {
    return this.changes.length > 0;
  }

  result(): string {
    const pieces: string[] = [];
    let at = 0;
    for (const { start, end, text } of this.changes.sort((a, b) => a.start - b.start)) {
      pieces.push(this.before.slice(at, start), text);
      at = end;
    }
    pieces.push(this.before.slice(at));
    return pieces.join("");
  }
}
