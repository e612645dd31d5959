/**
 * Finds markup by its characters and cuts no text out of it: a large sheet has millions of tags, and most are only
 * passed over.
 */

/** A tag, a comment, a CDATA section or an instruction. */
interface Markup {
  start: number;
  end: number;
  /** A closing tag. */
  closes: boolean;
  /** Of a tag, its name begins and ends here, behind its prefix; all else has none. */
  nameStart: number;
  nameEnd: number;
}

const TAB = 9;
const LINE_FEED = 10;
const RETURN = 13;
const SPACE = 32;
const BANG = 33;
const QUOTE = 34;
const APOSTROPHE = 39;
const SLASH = 47;
const COLON = 58;
const GREATER = 62;
const QUESTION = 63;

const endsName = (code: number) =>
  code === GREATER ||
  code === SPACE ||
  code === SLASH ||
  code === BANG ||
  code === QUESTION ||
  code === LINE_FEED ||
  code === TAB ||
  code === RETURN;

/** The markup found last; there is one for all searches, so read it before the next. */
export const markup: Markup = { start: 0, end: 0, closes: false, nameStart: 0, nameEnd: 0 };

/** Finds the first markup from a place on. What only looks like markup is passed over. */
export function find(xml: string, from: number): boolean {
  for (let at = xml.indexOf("<", from); at >= 0; at = xml.indexOf("<", at + 1)) {
    const code = xml.charCodeAt(at + 1);
    if (code === BANG || code === QUESTION ? isOther(xml, at) : isTag(xml, at)) return true;
  }
  return false;
}

/** No tag is ever seen inside these. */
const OTHERS = [
  ["<!--", "-->"],
  ["<![CDATA[", "]]>"],
  ["<?", "?>"],
] as const;

function isOther(xml: string, at: number): boolean {
  for (const [opening, closing] of OTHERS) {
    if (!xml.startsWith(opening, at)) continue;
    const end = xml.indexOf(closing, at + opening.length);
    if (end < 0) return false;
    markup.start = at;
    markup.end = end + closing.length;
    markup.closes = false;
    markup.nameStart = markup.nameEnd = at;
    return true;
  }
  return false;
}

function isTag(xml: string, at: number): boolean {
  const closes = xml.charCodeAt(at + 1) === SLASH;
  const first = closes ? at + 2 : at + 1;
  let nameStart = first;
  let end = first;
  for (; end < xml.length && !endsName(xml.charCodeAt(end)); end++) {
    if (nameStart === first && end > first && xml.charCodeAt(end) === COLON) nameStart = end + 1;
  }
  if (nameStart >= end) return false;
  const nameEnd = end;
  for (; end < xml.length; end++) {
    const code = xml.charCodeAt(end);
    if (code === GREATER) {
      markup.start = at;
      markup.end = end + 1;
      markup.closes = closes;
      markup.nameStart = nameStart;
      markup.nameEnd = nameEnd;
      return true;
    }
    if (code !== QUOTE && code !== APOSTROPHE) continue;
    end = xml.indexOf(code === QUOTE ? '"' : "'", end + 1);
    if (end < 0) return false;
  }
  return false;
}

/** Whether a tag was found. */
export const isNamed = () => markup.nameEnd > markup.nameStart;

/** Whether the tag found has this name. */
export const hasName = (xml: string, name: string) =>
  markup.nameEnd - markup.nameStart === name.length && xml.startsWith(name, markup.nameStart);

/** Whether the tag found is an element without content. */
export const isEmpty = (xml: string) => xml.charCodeAt(markup.end - 2) === SLASH;

export const nameFound = (xml: string) => xml.slice(markup.nameStart, markup.nameEnd);

/** "x:" or nothing. */
export const prefixFound = (xml: string) => xml.slice(markup.start + (markup.closes ? 2 : 1), markup.nameStart);

/** The attributes of the tag found, as they are written. */
export const attributesFound = (xml: string) =>
  xml.slice(markup.nameEnd, markup.end - (!markup.closes && isEmpty(xml) ? 2 : 1));
