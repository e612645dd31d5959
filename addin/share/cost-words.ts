/** Looks through a price-only copy for words that go with what a contractor keeps to himself. */
import { openWorkbook } from "./parts/workbook";
import { elements, textIn } from "./parts/xml";

// "Costing" and "labour_rate", but neither "Costa Verde" nor "GPS"; "Net 30" is when to pay, and "net 3,815" is a figure.
const WORDS = [
  "cost(?:s|ed|ings?)?",
  "labou?r",
  "wages?",
  "salar(?:y|ies)",
  "payroll",
  "margins?",
  "mark[- ]?ups?",
  "profit(?:s|able|ability)?",
  "gp",
  "overheads?",
  "burden(?:ed)?",
  "contingency",
  "break[- ]?even",
  "buy(?:ing)?[- ]?(?:in|price)",
  "net(?! \\d\\d?(?!\\d|[.,]\\d))",
];
const TELLING = new RegExp(`(?:^|[^a-z])(?:${WORDS.join("|")})(?![a-z])`, "i");

/** The texts of its cells and the names of its sheets that have such a word, each once; no word is proof of anything, so the user is asked. */
export function costWords(copy: Uint8Array): string[] {
  const { parts, sheets } = openWorkbook(copy);
  const texts = parts.names().filter((name) => name.endsWith("sharedStrings.xml"));
  const words = [...sheets.map(({ name }) => name), ...texts.flatMap((name) => wordsIn(parts.text(name)))];
  return [...new Set(words)].filter((words) => TELLING.test(words));
}

/** A text may be made of runs, each with its looks. */
function wordsIn(xml: string): string[] {
  return [...elements(xml, ["si"])].map(({ innerStart, innerEnd }) =>
    [...elements(xml, ["t"], innerStart, innerEnd)].map((run) => textIn(xml, run)).join(""),
  );
}
