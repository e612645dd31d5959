/** What COUNTIF, SUMIFS and their kind look for in a cell. */
import type { Plain } from "./columns";

type Test = (cell: Plain) => boolean;

const OPERATOR = /^(?:<>|<=|>=|=|<|>)/;
const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
/** Words and phrases: nothing that could be read as a number, a date, a pattern, TRUE, or an error. */
const WORDS = /^(?!(?:true|false)$)[^\d*?~#{}"=<>]+$/i;
/** A label with numbers in it, such as "1 Metal 30 medium": a word of four letters that begins no month or day makes it no date. */
const LABEL =
  /^(?=.*\d)(?=.*(?<!\p{L})(?!jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec|mon|tue|wed|thu|fri|sat|sun)\p{L}{4})[\p{L}\d ,.()-]+$/iu;

const COMPARISONS: Record<string, (a: number, b: number) => boolean> = {
  "=": (a, b) => a === b,
  "<": (a, b) => a < b,
  "<=": (a, b) => a <= b,
  ">": (a, b) => a > b,
  ">=": (a, b) => a >= b,
};

/** The test that a criterion such as `"metal"`, `"<>metal"`, 5 or `"<1E+300"` stands for; undefined for one that is less plain. */
export function criterionTest(criterion: Plain): Test | undefined {
  if (typeof criterion === "number") return numberTest("=", criterion);
  if (typeof criterion !== "string") return undefined;
  const operator = OPERATOR.exec(criterion)?.[0] ?? "=";
  const wanted = criterion.startsWith(operator) ? criterion.slice(operator.length) : criterion;
  if (NUMBER.test(wanted)) return numberTest(operator, Number(wanted));
  const isPlain = operator === "=" || operator === "<>";
  if (!isPlain || wanted.trim() !== wanted || !(WORDS.test(wanted) || LABEL.test(wanted))) return undefined;
  const lower = wanted.toLowerCase();
  const isEqual = operator === "=";
  return (cell) => (typeof cell === "string" && cell.toLowerCase() === lower) === isEqual;
}

/** Text that spells the number equals it, but is neither more nor less than any. */
function numberTest(operator: string, wanted: number): Test | undefined {
  const compare = COMPARISONS[operator];
  if (!compare) return undefined;
  return (cell) => {
    if (typeof cell === "number") return compare(cell, wanted);
    return operator === "=" && typeof cell === "string" && NUMBER.test(cell) && Number(cell) === wanted;
  };
}
