/**
 * Formulas as a file keeps them, which is not as a user sees them: the add-in's calls, functions younger than the format
 * and spills have names of their own there, and a table is named in full. By [MS-XLSX] 2.2.2, and what Excel writes.
 */
import { parseStructRef, stringifyStructRef, tokenize } from "@borgar/fx";

type Token = ReturnType<typeof tokenize>[number];

export interface FormulaPlace {
  /** Of the add-in's functions. */
  readonly namespace: string;
  /** The table in which the formula stands: there, its columns need no table's name. */
  readonly table: string | undefined;
}

/** What [MS-XLSX] calls future functions: a file has "_xlfn." before their names. */
const FUTURE = new Set(
  `ACOT ACOTH AGGREGATE ARABIC ARRAYTOTEXT BASE BETA.DIST BETA.INV BINOM.DIST BINOM.DIST.RANGE BINOM.INV BITAND BITLSHIFT
  BITOR BITRSHIFT BITXOR BYCOL BYROW CEILING.MATH CEILING.PRECISE CHISQ.DIST CHISQ.DIST.RT CHISQ.INV CHISQ.INV.RT
  CHISQ.TEST CHOOSECOLS CHOOSEROWS COMBINA CONCAT CONFIDENCE.NORM CONFIDENCE.T COT COTH COVARIANCE.P COVARIANCE.S CSC CSCH
  DAYS DECIMAL DROP ERF.PRECISE ERFC.PRECISE EXPAND EXPON.DIST F.DIST F.DIST.RT F.INV F.INV.RT F.TEST FILTERXML FLOOR.MATH
  FLOOR.PRECISE FORECAST.ETS FORECAST.ETS.CONFINT FORECAST.ETS.SEASONALITY FORECAST.ETS.STAT FORECAST.LINEAR FORMULATEXT
  GAMMA GAMMA.DIST GAMMA.INV GAMMALN.PRECISE GAUSS HSTACK HYPGEOM.DIST IFNA IFS IMCOSH IMCOT IMCSC IMCSCH IMSEC IMSECH
  IMSINH IMTAN ISFORMULA ISOMITTED ISOWEEKNUM LAMBDA LET LOGNORM.DIST LOGNORM.INV MAKEARRAY MAP MAXIFS MINIFS MODE.MULT
  MODE.SNGL MUNIT NEGBINOM.DIST NORM.DIST NORM.INV NORM.S.DIST NORM.S.INV NUMBERVALUE PDURATION PERCENTILE.EXC
  PERCENTILE.INC PERCENTRANK.EXC PERCENTRANK.INC PERMUTATIONA PHI POISSON.DIST QUARTILE.EXC QUARTILE.INC RANDARRAY RANK.AVG
  RANK.EQ REDUCE RRI SCAN SEC SECH SEQUENCE SHEET SHEETS SKEW.P SORTBY STDEV.P STDEV.S SWITCH T.DIST T.DIST.2T T.DIST.RT
  T.INV T.INV.2T T.TEST TAKE TEXTAFTER TEXTBEFORE TEXTJOIN TEXTSPLIT TOCOL TOROW UNICHAR UNICODE UNIQUE VALUETOTEXT VAR.P
  VAR.S VSTACK WEBSERVICE WEIBULL.DIST WRAPCOLS WRAPROWS XLOOKUP XMATCH XOR Z.TEST`.split(/\s+/),
);
/** Two that have one prefix more. */
const FUTURE_OF_SHEETS = new Set(["FILTER", "SORT"]);
const NAMES_ITS_OWN = new Set(["LET", "LAMBDA"]);

/** Functions that look at a range as a whole; others take it cell by cell. */
const TAKES_RANGES = new Set(
  `AND AREAS AVEDEV AVERAGE AVERAGEA AVERAGEIF AVERAGEIFS CELL CHOOSE COLUMNS CONCAT CONCATENATE CORREL COUNT COUNTA COUNTBLANK
  COUNTIF COUNTIFS COVAR DEVSQ FORECAST FORMULATEXT FREQUENCY GEOMEAN GROWTH HARMEAN HLOOKUP INDEX INTERCEPT IRR ISREF KURT
  LARGE LINEST LOGEST LOOKUP MATCH MAX MAXA MAXIFS MDETERM MEDIAN MIN MINA MINIFS MODE MODE.SNGL NPV OFFSET OR PEARSON
  PERCENTILE PERCENTILE.EXC PERCENTILE.INC PERCENTRANK PRODUCT QUARTILE QUARTILE.EXC QUARTILE.INC RANK RANK.AVG RANK.EQ ROWS
  RSQ SHEET SKEW SLOPE SMALL STDEV STDEV.P STDEV.S STDEVA STDEVP STEYX SUBTOTAL SUM SUMIF SUMIFS SUMPRODUCT SUMSQ SUMX2MY2
  SUMX2PY2 SUMXMY2 T.TEST TEXTJOIN TREND TRIMMEAN VAR VAR.P VAR.S VARA VARP VLOOKUP XIRR XLOOKUP XMATCH XNPV XOR
  Z.TEST`.split(/\s+/),
);
/** Functions that work on whole arrays whatever is reckoned with inside their brackets. */
const TAKES_ARRAYS = new Set(["SUMPRODUCT", "LOOKUP", "MMULT", "MDETERM", "MINVERSE", "FREQUENCY"]);

const tokensOf = (formula: string): Token[] =>
  tokenize(formula.startsWith("=") ? formula : `=${formula}`, { mergeRefs: true }).slice(1);

const isSpace = ({ type }: Token) => type === "whitespace" || type === "newline";
const isReference = (token: Token | undefined) => /^(?:range|structured)/.test(token?.type ?? "");
const isOperator = (token: Token | undefined, ...signs: string[]) =>
  token?.type === "operator" && signs.includes(token.value);
const isOurs = ({ type, value }: Token, namespace: string) =>
  type === "func" && value.toUpperCase().startsWith(`${namespace}.`);

/** The formula as the file has it, without the equals sign. */
export function storedFormula(formula: string, place: FormulaPlace): string {
  const tokens = tokensOf(formula);
  const own = ownNames(tokens);
  let text = "";
  for (let at = 0; at < tokens.length; at++) {
    const token = tokens[at]!;
    const next = tokens[at + 1];
    if (isOperator(token, "@") && isReference(next)) {
      text += `_xlfn.SINGLE(${stored(next!, place, own)})`;
      at++;
    } else if (isReference(token) && isOperator(next, "#")) {
      text += `_xlfn.ANCHORARRAY(${stored(token, place, own)})`;
      at++;
    } else {
      text += stored(token, place, own);
    }
  }
  return text;
}

function stored(token: Token, { namespace, table }: FormulaPlace, own: ReadonlySet<string>): string {
  const { type, value } = token;
  if (type === "structured") return storedTableReference(value, table);
  if (type === "range_named" && own.has(value.toLowerCase())) return `_xlpm.${value}`;
  if (type !== "func") return value;
  if (isOurs(token, namespace)) return `_xldudf_${namespace}_${value.slice(namespace.length + 1)}`;
  const name = value.toUpperCase();
  if (FUTURE_OF_SHEETS.has(name)) return `_xlfn._xlws.${name}`;
  return FUTURE.has(name) ? `_xlfn.${name}` : value;
}

/** "[@Cost]" in the table Stages → "Stages[[#This Row],[Cost]]". */
function storedTableReference(text: string, table: string | undefined): string {
  const reference = parseStructRef(text);
  if (!reference) return text;
  return stringifyStructRef({ ...reference, table: reference.table || table || "" }, { thisRow: true });
}

/** What LET and LAMBDA give a name to, in lower case: every second argument of the one, all but the last of the other. */
function ownNames(tokens: readonly Token[]): Set<string> {
  const names = new Set<string>();
  tokens.forEach(({ type, value }, at) => {
    const name = value.toUpperCase();
    if (type !== "func" || !NAMES_ITS_OWN.has(name)) return;
    for (const [i, first] of argumentsBut(tokens, at + 1).entries()) {
      if (first && (name === "LAMBDA" || i % 2 === 0)) names.add(first.value.toLowerCase());
    }
  });
  return names;
}

/** The first token of each argument of a call but the last, where it is a name. */
function argumentsBut(tokens: readonly Token[], open: number): (Token | undefined)[] {
  const firsts: (Token | undefined)[] = [];
  let depth = 0;
  for (let at = open; at < tokens.length; at++) {
    const token = tokens[at]!;
    if (isOperator(token, "(", "{")) depth++;
    if (isOperator(token, ")", "}") && --depth === 0) break;
    const begins = depth === 1 && (at === open || isOperator(token, ","));
    if (!begins) continue;
    const first = tokens.slice(at + 1).find((other) => !isSpace(other));
    firsts.push(first?.type === "range_named" ? first : undefined);
  }
  return firsts.slice(0, -1);
}

/**
 * Whether the formula may give or work on more than one value: then the file must say that it is an array formula, or
 * Excel would take of each range only the cell in the formula's own row. A custom function always may.
 */
export function mayBeArray(formula: string, namespace: string, isWideName: (name: string) => boolean): boolean {
  const tokens = tokensOf(formula).filter((token) => !isSpace(token));
  const calls: (string | undefined)[] = [];
  for (const [at, token] of tokens.entries()) {
    if (isOurs(token, namespace)) return true;
    const before = tokens[at - 1];
    if (isOperator(token, "(")) calls.push(before?.type === "func" ? before.value.toUpperCase() : undefined);
    if (isOperator(token, ")")) calls.pop();
    if (!isWide(token, tokens[at + 1], isWideName)) continue;
    if (calls.some((name) => name !== undefined && TAKES_ARRAYS.has(name))) continue;
    const after = tokens[isOperator(tokens[at + 1], "#") ? at + 2 : at + 1];
    const isWholeArgument = isOperator(before, "(", ",") && isOperator(after, ",", ")");
    if (!isWholeArgument || !TAKES_RANGES.has(calls.at(-1) ?? "")) return true;
  }
  return false;
}

function isWide({ type, value }: Token, next: Token | undefined, isWideName: (name: string) => boolean): boolean {
  if (type === "structured") return !/^[^[]*\[(?:\s*@|\[#This Row\])/i.test(value);
  if (type === "range_named") return isWideName(value);
  if (type === "operator") return value === "{";
  return isReference({ type, value }) && (value.includes(":") || isOperator(next, "#"));
}
