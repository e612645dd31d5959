/** A formula cut into tokens: which brackets belong together, which arguments a call has, what is a call of ours. */
import { tokenize } from "@borgar/fx";
import { untranslatable } from "./refusals";

export type Token = ReturnType<typeof tokenize>[number];

/** Excel stores our calls as _xldudf_GRIT_SIZE(…), and shows them as GRIT.SIZE(…). */
const OURS = /^(?:_xlfn\.)?(?:_xldudf_GRIT_|GRIT\.)([A-Z0-9_.]+)$/i;

export const isSpace = ({ type }: Token) => type === "whitespace" || type === "newline";

export const isOperator = (token: Token | undefined, ...values: string[]) =>
  token?.type === "operator" && values.includes(token.value);

/** The tokens of a formula; a name and a bracket with a space between them are a call as well. */
export function tokensOf(formula: string): Token[] {
  const tokens = tokenize(formula, { mergeRefs: true });
  const isOurs = (token: Token | undefined) => token !== undefined && OURS.test(withoutPrefix(token.value));
  if (!tokens.some(isOurs)) return tokens;
  const out: Token[] = [];
  tokens.forEach((token, i) => {
    if (isSpace(token) && isOurs(tokens[i - 1]) && isOperator(tokens[i + 1], "(")) return;
    const next = tokens.slice(i + 1).find((other) => !isSpace(other));
    const isCall = isOurs(token) && isOperator(next, "(");
    if (isCall) dropPrefix(out);
    out.push(isCall ? { ...token, type: "func", value: withoutPrefix(token.value) } : token);
  });
  return out;
}

const withoutPrefix = (name: string) => name.slice(name.lastIndexOf("!") + 1);

/** A file or a sheet as it stands before a "!": quoted, with a file in brackets, or a bare name. */
const CONTEXT = /(?:'(?:[^']|'')*'|\[[^[\]]*\][\p{L}\p{N}_.]*|[\p{L}\p{N}_.]+)$/u;

/**
 * Excel may write before a call where it once found it: 'C:\…\FUNCRES.XLAM'!, Name.xla! or [2]!. Where that has spaces or
 * brackets in it, it comes as several tokens.
 */
function dropPrefix(before: Token[]): void {
  if (!isOperator(before.at(-1), "!")) return;
  before.pop();
  let left = CONTEXT.exec(before.map(({ value }) => value).join(""))?.[0].length ?? 0;
  while (left > 0) {
    const last = before.pop()!;
    left -= last.value.length;
    if (left < 0) before.push({ ...last, value: last.value.slice(0, -left) });
  }
}

/** The id of a function of ours that is called here. */
export const ourId = ({ type, value }: Token): string | undefined =>
  type === "func" ? OURS.exec(value)?.[1]?.toUpperCase() : undefined;

/** Where the bracket that opens here is closed. */
export function closing(tokens: readonly Token[], open: number): number {
  let depth = 0;
  for (let at = open; at < tokens.length; at++) {
    if (isOperator(tokens[at], "(", "{")) depth++;
    if (isOperator(tokens[at], ")", "}") && --depth === 0) return at;
  }
  throw untranslatable("bracketOpen");
}

/** What stands between the commas of a call, without the spaces around it. */
export function argumentsIn(inside: readonly Token[]): Token[][] {
  if (inside.every(isSpace)) return [];
  const parts: Token[][] = [[]];
  let depth = 0;
  for (const token of inside) {
    if (isOperator(token, "(", "{")) depth++;
    if (isOperator(token, ")", "}")) depth--;
    if (depth === 0 && isOperator(token, ",")) parts.push([]);
    else parts.at(-1)!.push(token);
  }
  return parts.map(trimmed);
}

function trimmed(tokens: readonly Token[]): Token[] {
  const isWord = (token: Token) => !isSpace(token);
  return tokens.slice(Math.max(0, tokens.findIndex(isWord)), tokens.findLastIndex(isWord) + 1);
}

/** One value, reference, call or bracket, which no operator beside it can tear apart. */
export function isOneTerm(tokens: readonly Token[]): boolean {
  if (tokens.length === 1 || (tokens.length === 2 && isOperator(tokens[1], "#"))) return true;
  const open = tokens[0]!.type === "func" ? 1 : 0;
  return isOperator(tokens[open], "(", "{") && closing(tokens, open) === tokens.length - 1;
}
