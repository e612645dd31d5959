/** The page that the customer signs: one printed page, its words in cells of their own, its amounts the bid's. */
import { symbol } from "../../functions/units";
import { absoluteAddress, cellAddress, quotedText } from "../common/a1";
import type { BidOnSheet } from "./bids";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { CellWriter } from "./cell-writer";
import type { PlanOnSheet } from "./plans";
import { bidRefs, finishWords, includedWords, powerWords } from "./proposal-formulas";
import {
  FLOOR_WORDS,
  PROPOSAL,
  PROPOSAL_CHECK,
  PROPOSAL_HEADINGS,
  SENTENCE_KEYS,
  SENTENCES,
  type SentenceKey,
  VALID_DAYS,
} from "./proposal-texts";
import { PROPOSAL_NAMES } from "./proposals";
import type { NumberFormat } from "./styles";

/** A cell as it is typed: a text or number, or a formula with its equals sign. */
type Typed = string | number;

/** What the contractor had on an earlier page. */
export interface KeptWords {
  readonly company?: Typed;
  readonly validUntil?: Typed;
  readonly sentences: Readonly<Partial<Record<SentenceKey, readonly Typed[]>>>;
}

export interface ProposalTask {
  readonly bid: BidOnSheet;
  /** The bid's plans, by the names of their sheets. */
  readonly plans: ReadonlyMap<string, PlanOnSheet>;
  readonly sign: string;
  readonly kept: KeptWords;
}

const COMPANY_ROW = 1;
const VALID_ROW = 4;
const VALID_COLUMN = 2;
const WIDTHS = [360, 66, 84];
const [WORDS, AMOUNT, MONEY] = [0, 1, 2];
/** Beside the page. */
const CHECK_COLUMN = WIDTHS.length + 1;
/** Rows that still print on one page at a size that can be read. */
const ONE_PAGE = 66;

export function proposalSheet(task: ProposalTask): { block: Block; setup: SheetSetup } {
  const { bid, plans, sign, kept } = task;
  const block = emptyBlock(sign);
  const sheet = new CellWriter(block);
  const refs = bidRefs(bid);
  const typed = (row: number, column: number, content: Typed, style: "sentence" | "inputText", format?: NumberFormat) =>
    block.cells.push({ row, column, content: contentOf(content), style, format });

  sheet.text(0, WORDS, PROPOSAL.title, "title");
  typed(COMPANY_ROW, WORDS, kept.company ?? PROPOSAL.company, "inputText");
  const client = refs.cell("client");
  const site = refs.cell("site");
  sheet.formula(3, WORDS, `${quotedText(`${PROPOSAL.client}: `)}&${client}`, "sentence");
  sheet.formula(VALID_ROW, WORDS, `${quotedText(`${PROPOSAL.site}: `)}&${site}`, "sentence");
  const dated = (row: number, label: string, date: string) => {
    sheet.text(row, AMOUNT, label, "groupRight");
    sheet.formula(row, MONEY, `IF(N(${date})=0,"",${date})`, "figure", "date");
  };
  dated(3, PROPOSAL.date, refs.cell("date"));
  sheet.text(VALID_ROW, AMOUNT, PROPOSAL.validUntil, "groupRight");
  const validUntil = { formula: `=IF(N(${refs.cell("date")})=0,"",${refs.cell("date")}+${VALID_DAYS})` };
  const content = kept.validUntil === undefined ? validUntil : contentOf(kept.validUntil);
  block.cells.push({ row: VALID_ROW, column: VALID_COLUMN, content, style: "figure", format: "date" });
  dated(5, PROPOSAL.start, refs.cell("start"));
  dated(6, PROPOSAL.end, refs.cell("ends"));

  let row = 8;
  const heading = (key: keyof typeof PROPOSAL_HEADINGS, amount = "", money = "") => {
    sheet.text(row, WORDS, PROPOSAL_HEADINGS[key], "heading");
    sheet.text(row, AMOUNT, amount, "headingRight");
    sheet.text(row, MONEY, money, "headingRight");
    row++;
  };
  const shown: string[] = [];
  const priced = (formula: string) => {
    sheet.formula(row, MONEY, formula, "figure", "money");
    shown.push(absoluteAddress(row, MONEY));
  };
  const floors = [...bid.floors.rows].sort((a, b) => a.order - b.order);
  const describe = (name: string) => {
    const plan = plans.get(name);
    if (!plan) return;
    sheet.formula(row++, WORDS, finishWords(plan), "sentence");
    sheet.formula(row++, WORDS, includedWords(plan), "sentence");
  };

  heading("floors", `${PROPOSAL.area} ${symbol("floorArea", bid.units)}`, PROPOSAL.price);
  for (const { sheet: plan } of floors.filter(({ kind }) => kind === "base")) {
    sheet.formula(row, WORDS, refs.floorName(plan), "group");
    sheet.formula(row, AMOUNT, refs.floorArea(plan), "figure", "count");
    priced(refs.floorPrice(plan, "base"));
    row++;
    describe(plan);
  }
  const extrasOf = (wanted: "base" | "option") => [
    ...new Set(bid.extras.rows.filter(({ kind }) => kind === wanted).map(({ name }) => name)),
  ];
  if (extrasOf("base").length > 0) heading("extras");
  for (const name of extrasOf("base")) {
    sheet.formula(row, WORDS, refs.extraWords(name, "base"), "sentence");
    priced(refs.extraPrice(name, "base"));
    row++;
  }
  const offered = refs.cell("offered");
  const sum = (label: string, formula: string, isFormula = false) => {
    if (isFormula) sheet.formula(row, WORDS, label, "labelStrong");
    else sheet.text(row, WORDS, label, "labelStrong");
    sheet.text(row, AMOUNT, "", "labelStrong");
    sheet.formula(row, MONEY, formula, "figureStrong", "money");
    row++;
  };
  sum(PROPOSAL.price, offered);
  sum(PROPOSAL.tax(refs.cell("taxRate")), refs.cell("tax"), true);
  block.names.push({ name: PROPOSAL_NAMES.total, row, column: MONEY, scope: "sheet" });
  sum(PROPOSAL.total, refs.cell("total"));
  row++;

  const options = [
    ...floors
      .filter(({ kind }) => kind === "option")
      .map(({ sheet: plan }) => ({
        words: refs.floorName(plan),
        adds: refs.floorPrice(plan, "option"),
        plan,
      })),
    ...extrasOf("option").map((name) => ({
      words: refs.extraWords(name, "option"),
      adds: refs.extraPrice(name, "option"),
      plan: undefined,
    })),
  ];
  const optionCells: string[] = [];
  if (options.length > 0) {
    heading("options", PROPOSAL.withIt, PROPOSAL.adds);
    for (const { words, adds, plan } of options) {
      sheet.formula(row, WORDS, words, "group");
      const cell = cellAddress(row, MONEY);
      sheet.formula(row, AMOUNT, `IF(${cell}=0,"",${offered}+${cell})`, "figure", "money");
      sheet.formula(row, MONEY, adds, "figure", "money");
      optionCells.push(absoluteAddress(row, MONEY));
      row++;
      if (plan !== undefined) describe(plan);
    }
    row++;
  }

  for (const key of SENTENCE_KEYS) {
    heading(key);
    const ours = key === "assumed" ? [`=${powerWords(refs.cell("power"))}`, ...SENTENCES[key]] : SENTENCES[key];
    for (const sentence of kept.sentences[key] ?? ours) typed(row++, WORDS, sentence, "sentence");
  }
  row++;
  for (const label of [PROPOSAL.accepted, PROPOSAL.offeredBy]) {
    [WORDS, AMOUNT, MONEY].forEach((column) => {
      sheet.text(row + 1, column, column === WORDS ? label : "", "signature");
    });
    row += 2;
  }

  placeCheck(sheet, { shown, offered, optionCells, options: refs.options, rows: row });
  return {
    block,
    setup: {
      widths: [...WIDTHS, 18, 260],
      rowHeights: [[0, 24]],
      frozenRows: 1,
      frozenColumns: 0,
      printTitleRow: 0,
      portrait: { columns: WIDTHS.length, pagesTall: row <= ONE_PAGE ? 1 : 0 },
      fittedRows: { from: 3, to: row },
    },
  };
}

/** Blank where the page is fit to go out. */
function placeCheck(
  sheet: CellWriter,
  given: { shown: readonly string[]; offered: string; optionCells: readonly string[]; options: string; rows: number },
): void {
  const { shown, offered, optionCells, options, rows } = given;
  const words = `${absoluteAddress(0, WORDS)}:${absoluteAddress(rows, WORDS)}`;
  const sum = shown.length > 0 ? shown.join("+") : "0";
  const isWhole = [
    `ABS(${sum}-${offered})<0.005`,
    `${options}=${optionCells.length}`,
    ...optionCells.map((cell) => `${cell}<>0`),
    `COUNTIF(${words},${quotedText(`*${FLOOR_WORDS.again}*`)})=0`,
  ].join(",");
  const company = absoluteAddress(COMPANY_ROW, WORDS);
  const formula = `IF(IFERROR(AND(${isWhole}),FALSE),IF(${company}=${quotedText(PROPOSAL.company)},${quotedText(PROPOSAL_CHECK.company)},""),${quotedText(PROPOSAL_CHECK.leavesOut)})`;
  sheet.formula(0, CHECK_COLUMN, formula, "warning");
  sheet.block.names.push({ name: PROPOSAL_NAMES.check, row: 0, column: CHECK_COLUMN, scope: "sheet" });
}

const contentOf = (typed: Typed) => (typeof typed === "string" && typed.startsWith("=") ? { formula: typed } : typed);

/** What an earlier page says in the contractor's own words: its rows from column A on, as formulas. */
export function keptWords(rows: readonly (readonly unknown[])[]): KeptWords {
  const company = rows[COMPANY_ROW]?.[WORDS];
  const validUntil = rows[VALID_ROW]?.[VALID_COLUMN];
  const headings = new Map<string, string>(Object.entries(PROPOSAL_HEADINGS).map(([key, words]) => [words, key]));
  const sentences: Partial<Record<SentenceKey, Typed[]>> = {};
  let under: string | undefined;
  for (const [words] of rows) {
    const key = typeof words === "string" ? headings.get(words) : undefined;
    if (key !== undefined) under = key;
    else if (words === PROPOSAL.accepted) under = undefined;
    else if (under !== undefined && SENTENCE_KEYS.includes(under as SentenceKey)) {
      sentences[under as SentenceKey] ??= [];
      if (words !== "" && words !== undefined) sentences[under as SentenceKey]!.push(words as Typed);
    }
    if (key !== undefined && SENTENCE_KEYS.includes(key as SentenceKey)) sentences[key as SentenceKey] ??= [];
  }
  const isFilled = (cell: unknown): cell is Typed => cell !== "" && cell !== undefined;
  return {
    ...(isFilled(company) && { company }),
    // A formula is ours, which follows the bid's date.
    ...(isFilled(validUntil) && !isFormula(validUntil) && { validUntil }),
    sentences,
  };
}

const isFormula = (cell: unknown) => typeof cell === "string" && cell.startsWith("=");
