/** Looks through a price-only copy for words that go with what a contractor keeps to himself. */
import { openWorkbook } from "./parts/workbook";
import { elements, textIn } from "./parts/xml";

const TELLING = /\b(?:costs?|margins?|mark-?ups?|overheads?|profits?|burden|contingency|wages?|break-?even)\b/i;

/** The texts of its cells that have such a word, each once; no word is proof of anything, so the user is asked. */
export function costWords(copy: Uint8Array): string[] {
  const { parts } = openWorkbook(copy);
  const texts = parts.names().filter((name) => name.endsWith("sharedStrings.xml"));
  const words = texts.flatMap((name) => wordsIn(parts.text(name)));
  return [...new Set(words)].filter((words) => TELLING.test(words));
}

/** A text may be made of runs, each with its looks. */
function wordsIn(xml: string): string[] {
  return [...elements(xml, ["si"])].map(({ innerStart, innerEnd }) =>
    [...elements(xml, ["t"], innerStart, innerEnd)].map((run) => textIn(xml, run)).join(""),
  );
}
