/** The Audit sheet: key figures, where the margin went, rates, what to learn, pictures, rows to mend, one row a job. */
import {
  type Audit,
  CAUSE_KEYS,
  CAUSES,
  type CalibrationGroup,
  HARDNESS_CLASSES,
  hasCause,
  LEAST_FOR_INTERVAL,
} from "../../functions/audit/audit";
import type { JobProblem } from "../../functions/audit/check";
import type { JobKey, Mapping } from "../../functions/audit/fields";
import { EFFECTS } from "../../functions/audit/texts";
import { TOTAL_WORDS } from "../../functions/audit/totals";
import { absoluteAddress, cellAddress } from "../common/a1";
import { columnsFor, type JobColumnKey, type JobRanges, jobColumns, NAME_BAR, NOT_KNOWN } from "./audit-jobs";
import { type Block, emptyBlock, type PlacedChart, type SheetSetup } from "./block";
import { columnsOf, type JobSource, problemCell, problemText } from "./job-list";
import type { CalibratedJobs } from "./plan";
import { CHART_FILLS, type NumberFormat, type StyleName } from "./styles";

/** A list that has been read, and what was found in it. */
export interface AuditTask {
  /** Name of the new sheet. */
  readonly name: string;
  readonly list: JobSource;
  readonly mapping: Mapping;
  readonly audit: Audit;
  readonly problems: readonly JobProblem[];
  /** "2026-11-25". */
  readonly date: string;
}

const LEFT = 0;
const RIGHT = 7;
/** The headings of the job rows once more, where they stay in view. */
const TITLES_ROW = 3;
const KEY_ROW = 4;
const TOP = 7;
/** Below the causes, which have a heading, labels, a line for all of them and one on the last. */
const RATES_TOP = TOP + CAUSE_KEYS.length + 5;
const CHART_ROWS = 15;
const CHARTED_JOBS = 30;
const CONFIDENCE_NAME = "Audit_Confidence";

/** Special characters of a heading, escaped as structured references want them. */
const escaped = (heading: string) => heading.replace(/['[\]#@]/g, "'$&");
const onSheet = (sheet: string) => `'${sheet.replace(/'/g, "''")}'!`;

/** The cells of each mapped field, as formulas refer to them. */
function fieldRanges({ list, mapping }: AuditTask): (key: JobKey) => string | undefined {
  const columns = columnsOf(list.headings, mapping);
  return (key) => {
    const column = columns[key];
    if (column === undefined) return undefined;
    if ("table" in list.place) return `${list.place.table}[[${escaped(list.headings[column]!)}]]`;
    const at = list.left + column;
    const [first, last] = [absoluteAddress(list.top, at), absoluteAddress(list.top + list.rows - 1, at)];
    return `${onSheet(list.sheetName)}${first}:${last}`;
  };
}

const LAST_ROW = 1_048_575;

/** The cell that counts the rows of the list as it is now. */
const ROWS_NOW = absoluteAddress(KEY_ROW + 1, 10);

/**
 * The cells of a column of the job rows, which start at `top`: as many as the list has rows now. A row that is inserted
 * within the list makes the spilled columns longer, and these cells too. For formulas elsewhere, which may be written when
 * the list has moved, the count is a cell of the audit's; `past-jobs.ts` puts its formula there.
 */
function jobCells({ mapping }: AuditTask, top: number, rowsNow: string): Column {
  const keys = columnsFor(mapping);
  return (key, on = "") => {
    const at = keys.indexOf(key);
    if (at < 0) return "0";
    const first = on + absoluteAddress(top, at);
    return `${first}:INDEX(${first}:${absoluteAddress(LAST_ROW, at)},${on ? on + ROWS_NOW : rowsNow})`;
  };
}

const countOf = (rows: number) => `${rows} ${rows === 1 ? "row" : "rows"}`;

/** The block and set-up of the sheet; and for each of the audit's groups, its hours as a plan's formulas refer to them. */
export function auditSheet(task: AuditTask): { block: Block; setup: SheetSetup; pastJobs: CalibratedJobs[] } {
  const { list, audit, problems } = task;
  const block = emptyBlock();
  const sheet = new Writer(block);
  const field = fieldRanges(task);
  const rates = ratesSize(audit);
  const bottom = Math.max(RATES_TOP + rates, TOP + 2 + calibrationSize(audit)) + 1;
  const problemsTop = bottom + CHART_ROWS + 2;
  const jobsTop = problemsTop + PROBLEMS_HEAD + problems.length + 4;
  const column = jobCells(task, jobsTop, rowsOf(field));
  const grows =
    "table" in list.place
      ? ", also rows that are added"
      : ", also rows inserted within it; after adding rows below it or right under its headings, write another audit";

  sheet.text(0, 0, "Audit of past jobs", "title");
  sheet.text(
    1,
    0,
    `From ${list.name}, ${countOf(list.rows)}, on ${task.date}. Change the list and these figures follow${grows}.`,
    "note",
  );
  const places = placesIn(task, problemsTop);
  sheet.formula(2, 0, headline(task, field, column, places.repeats), "caution");
  placeKeyFigures(sheet, task, field, column);
  const causes = placeCauses(sheet, task, column);
  const hardness = placeRates(sheet, task, column, RATES_TOP);
  const pastJobs = placeCalibration(sheet, task, column);
  placeCharts(block, task, { top: bottom, jobsTop, causes, hardness });
  placeProblems(sheet, task, problemsTop);
  placeJobs(sheet, task, { field, column, ...places }, jobsTop);
  return {
    block,
    pastJobs,
    setup: {
      widths: columnsFor(task.mapping).map((key) => (key === "job" ? 104 : 74)),
      rowHeights: [
        [0, 24],
        [jobsTop - 1, 30],
      ],
      frozenRows: KEY_ROW,
      frozenColumns: 0,
      printTitleRow: jobsTop - 1,
    },
  };
}

/** In the place of a row's number that is no longer left out. */
const NONE_NOW = "none now";
const CAUTION = "An audit is only as good as its list: see the rows to mend, and check a job or two by hand.";

/** A caution; before it whatever makes the figures those of another list than the present one. */
function headline(task: AuditTask, field: Field, column: Column, repeats: string | undefined): string {
  const { list, mapping } = task;
  const jobs = field("job")!;
  const shown = `COUNTIF(${column("counted")},"yes")+COUNTIF(${column("counted")},"left out")`;
  const again = "write another audit.";
  const lacking = `"NOT UP TO DATE: these figures are of "&(${shown})&" of the list's "&${ROWS_NOW}&" rows; ${again}"`;
  const isSumOfOthers = (key: JobKey) => `(ABS(2*INDEX(${field(key)},${ROWS_NOW})-SUMIF(${field(key)},">0"))<0.01)`;
  const lastIsTotal = `IFERROR((INDEX(${column("counted")},${ROWS_NOW})="yes")*(${ROWS_NOW}>2)*${isSumOfOthers("actualPrice")}*${isSumOfOthers("actualCost")},0)`;
  const total = `"LOOK AT THE LAST ROW: it adds up the others and counts as a job; name it Total, or ${again}"`;
  // A list that is sorted moves its rows under the formulas.
  const changed = `"NOT UP TO DATE: a row that was there twice is changed, moved or gone; ${again}"`;
  const alone = repeats ? `IF(COUNTIF(${repeats},"${NONE_NOW}")>0,${changed},"${CAUTION}")` : `"${CAUTION}"`;
  const known = `IF(${lastIsTotal},${total},${alone})`;
  if ("table" in list.place) return `IF(${shown}<>${ROWS_NOW},${lacking},${known})`;
  // From the heading on, for a row inserted right under it moves the list's own cells and not the heading.
  const at = list.left + columnsOf(list.headings, mapping).job!;
  const whole = `${onSheet(list.sheetName)}${absoluteAddress(list.top - 1, at)}:${absoluteAddress(LAST_ROW, at)}`;
  const outside = `COUNTA(${whole})-1-COUNTA(${jobs})`;
  const added = `"NOT UP TO DATE: the list has more rows, above or below those it had, that are not in these figures ("&(${outside})&"); ${again}"`;
  return `IF(${shown}<>${ROWS_NOW},${lacking},IF(${outside}>0,${added},${known}))`;
}

/** Puts single cells into a block. */
class Writer {
  constructor(readonly block: Block) {}

  text(row: number, column: number, content: string | number, style?: StyleName, format?: NumberFormat): void {
    this.block.cells.push({ row, column, content, style, format });
  }

  formula(row: number, column: number, formula: string, style: StyleName = "figure", format?: NumberFormat): void {
    this.block.cells.push({ row, column, content: { formula: `=${formula}` }, style, format });
  }

  heading(row: number, column: number, title: string, across: number): void {
    for (let i = 0; i < across; i++) this.text(row, column + i, i === 0 ? title : "", "heading");
  }

  /** The first of the columns hold words, the others figures. */
  labels(row: number, column: number, titles: readonly string[], words = 1): void {
    titles.forEach((title, i) => {
      this.text(row, column + i, title, i < words ? "group" : "groupRight");
    });
  }
}

type Field = (key: JobKey) => string | undefined;
const rowsOf = (field: Field) => `ROWS(${field("job")})`;
/** Cells of a column of the job rows, for formulas on the audit itself or, with the sheet before them, elsewhere. */
type Column = (key: JobColumnKey, on?: string) => string;

function placeKeyFigures(sheet: Writer, { problems }: AuditTask, field: Field, column: Column): void {
  const total = (key: JobKey) => `SUMIF(${column("counted")},"yes",${field(key)})`;
  const cell = (i: number) => absoluteAddress(KEY_ROW + 1, i);
  const margin = (price: JobKey, cost: JobKey) => `IF(${cell(0)}=0,"",GRIT.MARGIN(${total(price)},${total(cost)}))`;
  const figures: [label: string, formula: string, format?: NumberFormat][] = [
    ["Jobs counted", `COUNTIF(${column("counted")},"yes")`, "count"],
    ["Left out", `COUNTIF(${column("counted")},"left out")`, "count"],
    ["Rows to mend", String(problems.length), "count"],
    ["Quoted price", total("quotedPrice"), "money"],
    ["Actual price", total("actualPrice"), "money"],
    ["Quoted margin", margin("quotedPrice", "quotedCost"), "percentFine"],
    ["Actual margin", margin("actualPrice", "actualCost"), "percentFine"],
    ["Margin slip", `IF(${cell(0)}=0,"",${cell(5)}-${cell(6)})`, "percentFine"],
    ["Slip, money", `SUM(${column("fadeMoney")})`, "money"],
    ["Stand out", `COUNTIF(${column("standsOut")},"stands out")`, "count"],
    ["Rows in the list", rowsOf(field), "count"],
  ];
  figures.forEach(([label, formula, format], i) => {
    sheet.text(KEY_ROW, i, label, "keyLabel");
    sheet.formula(KEY_ROW + 1, i, formula, "keyFigure", format);
  });
}

/** Gives the rows that the picture shows. */
function placeCauses(sheet: Writer, { mapping }: AuditTask, column: Column): { row: number; rows: number } {
  sheet.heading(TOP, LEFT, "Where the margin went", 5);
  sheet.labels(TOP + 1, LEFT, ["Cause", "Money lost", "Share"]);
  const total = absoluteAddress(TOP + 2 + CAUSE_KEYS.length, LEFT + 1);
  CAUSE_KEYS.forEach((cause, i) => {
    const row = TOP + 2 + i;
    sheet.text(row, LEFT, CAUSES[cause], "label");
    sheet.formula(row, LEFT + 1, `SUM(${column(cause)})`, "figure", "money");
    if (!hasCause(mapping, cause)) sheet.text(row, LEFT + 2, "not in the list", "note");
    else sheet.formula(row, LEFT + 2, `IF(${total}=0,0,${cellAddress(row, LEFT + 1)}/${total})`, "figure", "percent");
    if (cause === "other")
      sheet.text(row, LEFT + 3, "changed prices, machines, and what the list does not tell", "note");
  });
  const row = TOP + 2 + CAUSE_KEYS.length;
  sheet.text(row, LEFT, "All", "labelStrong");
  sheet.formula(
    row,
    LEFT + 1,
    `SUM(${cellAddress(TOP + 2, LEFT + 1)}:${cellAddress(row - 1, LEFT + 1)})`,
    "figureStrong",
    "money",
  );
  const asked = (["hours", "toolUse", "liquids"] as const).filter((cause) => hasCause(mapping, cause));
  if (asked.length > 0) {
    const told = asked.map((cause) => `,${column(cause)},"<>${NOT_KNOWN}"`).join("");
    const untold = `ROUND(SUM(${column("other")})-SUMIFS(${column("other")}${told}),2)`;
    sheet.text(row + 1, LEFT, "of Other", "note");
    sheet.formula(row + 1, LEFT + 1, untold, "figure", "money");
    sheet.text(row + 1, LEFT + 2, `is of jobs with a cause ${NOT_KNOWN}: cells to mend, or left blank`, "note");
  }
  return { row: TOP + 2, rows: CAUSE_KEYS.length };
}

const NOT_RECORDED = "not recorded";
const FLOOR_NOTE = "area: floor of one pass, in the unit of the list";

/** Rows that the two tables of rates take. */
const ratesSize = ({ rates }: Audit) => 2 + HARDNESS_CLASSES.length + 2 + 2 + rates.length + 1;

/** Gives the first row of the rates by hardness, for the picture. */
function placeRates(sheet: Writer, { audit }: AuditTask, column: Column, top: number): number {
  const rate = (mask: string) => {
    const hours = `SUMPRODUCT(${mask}*${column("hoursTimed")})`;
    return `IF(${hours}=0,"${NOT_RECORDED}",GRIT.ACTUALRATE(SUMPRODUCT(${mask}*${column("floorTimed")}),${hours}))`;
  };
  const life = (mask: string) => {
    const sets = `SUMPRODUCT(${mask}*${column("setsWorn")})`;
    return `IF(${sets}=0,"${NOT_RECORDED}",SUMPRODUCT(${mask}*${column("floorWorn")})/${sets})`;
  };
  const place = (row: number, at: number, mask: string) => {
    sheet.formula(row, at, `SUMPRODUCT((${column("counted")}="yes")*${mask})`, "figure", "count");
    sheet.formula(row, at + 1, rate(mask), "figure", "count");
    sheet.formula(row, at + 2, life(mask), "figure", "count");
  };
  const counted = (row: number, at: number, rows: number) => {
    const jobs = `${cellAddress(row - rows, at)}:${cellAddress(row - 1, at)}`;
    sheet.text(row, LEFT, "none of these", "note");
    sheet.formula(row, at, `COUNTIF(${column("counted")},"yes")-SUM(${jobs})`, "figure", "count");
  };

  sheet.heading(top, LEFT, "Rate and tool life by slab", 2);
  sheet.text(top, LEFT + 2, FLOOR_NOTE, "note");
  sheet.labels(top + 1, LEFT, ["Slab", "Jobs", "Area per h", "Area per set"]);
  HARDNESS_CLASSES.forEach((slab, i) => {
    const row = top + 2 + i;
    sheet.text(row, LEFT, slab, "label");
    place(row, LEFT + 1, `(${column("hardness")}=${absoluteAddress(row, LEFT)})`);
  });
  counted(top + 2 + HARDNESS_CLASSES.length, LEFT + 1, HARDNESS_CLASSES.length);

  const below = top + 2 + HARDNESS_CLASSES.length + 2;
  sheet.heading(below, LEFT, "By bond and slab", 2);
  sheet.text(below, LEFT + 2, FLOOR_NOTE, "note");
  sheet.labels(below + 1, LEFT, ["Bond", "Slab", "Jobs", "Area per h", "Area per set"], 2);
  audit.rates.forEach(({ bond, hardness }, i) => {
    const row = below + 2 + i;
    sheet.text(row, LEFT, bond || NOT_RECORDED, "label");
    sheet.text(row, LEFT + 1, hardness || NOT_RECORDED, "label");
    const is = (key: "bond" | "hardness", word: string, at: number) =>
      `(${column(key)}=${word ? absoluteAddress(row, at) : '""'})`;
    place(row, LEFT + 2, `${is("bond", bond, LEFT)}*${is("hardness", hardness, LEFT + 1)}`);
  });
  if (audit.rates.length > 0) counted(below + 2 + audit.rates.length, LEFT + 2, audit.rates.length);
  return top + 2;
}

const KINDS = { all: "all jobs", bond: "bond", hardness: "slab", machine: "machine" } as const;

const kindsIn = ({ groups }: Audit) => [...new Set(groups.map(({ by }) => by))].filter((by) => by !== "all");
const calibrationSize = (audit: Audit) => audit.groups.length + kindsIn(audit).length;

/** Hours taken over hours quoted, by group; gives each group's hours for a plan. */
function placeCalibration(sheet: Writer, { name, audit }: AuditTask, column: Column): CalibratedJobs[] {
  const [estimated, taken] = [column("estimated"), column("taken")];
  sheet.heading(TOP, RIGHT, "Hours taken over hours quoted", 8);
  sheet.labels(
    TOP + 1,
    RIGHT,
    ["Jobs like", "by", "Jobs", "Factor", "Low, 90 %", "High, 90 %", "100 h become", "at"],
    2,
  );
  sheet.text(TOP + 2, RIGHT + 7, 0.8, "input", "percent");
  sheet.block.names.push({ name: CONFIDENCE_NAME, row: TOP + 2, column: RIGHT + 7, scope: "sheet" });
  let row = TOP + 2;

  const place = ({ by, value }: CalibrationGroup): CalibratedJobs => {
    const word = absoluteAddress(row, RIGHT);
    /** The hours quoted for the group's jobs, and 0 for others. */
    const hoursQuoted = (on = "") =>
      (by === "all" ? "" : `(${column(by, on)}=${on}${word})*`) + column("estimated", on);
    const hours = hoursQuoted();
    const jobs = absoluteAddress(row, RIGHT + 2);
    const enough = (formula: string, otherwise = "") => `IF(${jobs}<${LEAST_FOR_INTERVAL},"${otherwise}",${formula})`;
    sheet.text(row, RIGHT, value || "all", "label");
    sheet.text(row, RIGHT + 1, KINDS[by], "unit");
    const isTimed = `(${estimated}>0)`;
    const count = by === "all" ? `COUNTIF(${estimated},">0")` : `SUMPRODUCT((${column(by)}=${word})*${isTimed})`;
    sheet.formula(row, RIGHT + 2, count, "figure", "count");
    const few = `fewer than ${LEAST_FOR_INTERVAL}`;
    // Factor, low and high side by side: over many jobs, one call instead of three is felt.
    const learned = `INDEX(GRIT.CALIBRATE(${hours},${taken}),{1,2,3},2)`;
    sheet.formula(row, RIGHT + 3, enough(learned, few), "figure", "ratio");
    for (const spilled of [4, 5]) sheet.text(row, RIGHT + spilled, "", "figure", "ratio");
    sheet.formula(row, RIGHT + 6, enough(`GRIT.HOURSAT(100,${hours},${taken},${CONFIDENCE_NAME})`), "figure", "hours");
    const line = `${onSheet(name)}${word}:${absoluteAddress(row, RIGHT + 5)}`;
    row++;
    return { estimated: hoursQuoted(onSheet(name)), actual: column("taken", onSheet(name)), line };
  };
  const rest = (by: CalibrationGroup["by"], rows: number) => {
    const jobs = `${cellAddress(row - rows, RIGHT + 2)}:${cellAddress(row - 1, RIGHT + 2)}`;
    sheet.text(row, RIGHT, "none of these", "note");
    sheet.text(row, RIGHT + 1, KINDS[by], "unit");
    sheet.formula(row, RIGHT + 2, `COUNTIF(${estimated},">0")-SUM(${jobs})`, "figure", "count");
    row++;
  };

  const pastJobs: CalibratedJobs[] = [];
  for (const by of ["all", ...kindsIn(audit)] as const) {
    const members = audit.groups.filter((group) => group.by === by);
    pastJobs.push(...members.map(place));
    if (by !== "all") rest(by, members.length);
  }
  return pastJobs;
}

interface ChartPlace {
  readonly top: number;
  readonly jobsTop: number;
  readonly causes: { readonly row: number; readonly rows: number };
  readonly hardness: number;
}

function placeCharts(block: Block, task: AuditTask, { top, jobsTop, causes, hardness }: ChartPlace): void {
  const at = (key: JobColumnKey) => columnsFor(task.mapping).indexOf(key);
  const rows = rowsToLastJob(task);
  const shown = Math.min(CHARTED_JOBS, rows);
  const first = jobsTop + rows - shown;
  const place = (left: number, right: number) => ({ top, bottom: top + CHART_ROWS, left, right });
  const charts: PlacedChart[] = [
    {
      title: rows > shown ? `Margin, last ${shown} jobs` : "Margin by job",
      kind: "ColumnClustered",
      valueTitle: "Margin",
      format: "percent",
      categories: { row: first, column: at("job") },
      series: [
        { name: "Quoted", row: first, column: at("quotedMargin"), fill: CHART_FILLS[0] },
        { name: "Actual", row: first, column: at("actualMargin"), fill: CHART_FILLS[2] },
      ],
      rows: shown,
      ...place(0, 6),
    },
    {
      title: "Margin lost by cause",
      kind: "BarClustered",
      valueTitle: "Money lost",
      format: "count",
      categories: { row: causes.row, column: LEFT },
      series: [{ name: "Lost", row: causes.row, column: LEFT + 1, fill: CHART_FILLS[1] }],
      rows: causes.rows,
      ...place(7, 11),
    },
    {
      title: "Area rate by slab",
      kind: "ColumnClustered",
      valueTitle: "Area per h",
      format: "count",
      categories: { row: hardness, column: LEFT },
      series: [{ name: "Area per h", row: hardness, column: LEFT + 2, fill: CHART_FILLS[1] }],
      rows: HARDNESS_CLASSES.length,
      ...place(12, 15),
    },
  ];
  block.charts.push(...charts);
}

/** Rows of the list down to its last job: totals at its end have no margin to show. */
function rowsToLastJob({ list, problems }: AuditTask): number {
  const leftOut = new Set(problems.filter(({ effect }) => effect === "left out").map(({ row }) => row));
  let rows = list.rows;
  while (rows > 1 && leftOut.has(rows - 1)) rows--;
  return rows;
}

const effectOf = ({ effect, wrong }: JobProblem): string =>
  wrong.kind === "duplicate" ? "Counted once; not counted is row" : EFFECTS[effect];

/** Lines above the problems: heading, note, names of totals, labels. */
const PROBLEMS_HEAD = 4;
const [ROW_LEFT_OUT, REASON] = [LEFT + 5, LEFT + 6];

/** Where the problems keep what the formulas of the job rows ask for. */
function placesIn({ problems }: AuditTask, top: number): { totals: string; repeats: string | undefined } {
  const lines = problems.flatMap(({ wrong }, i) => (wrong.kind !== "duplicate" ? [] : [top + PROBLEMS_HEAD + i]));
  const [first, last] = [lines[0], lines.at(-1)];
  return {
    totals: absoluteAddress(top + 2, REASON),
    repeats:
      first === undefined
        ? undefined
        : `${absoluteAddress(first, ROW_LEFT_OUT)}:${absoluteAddress(last!, ROW_LEFT_OUT)}`,
  };
}

/** The row of the sheet while it is the same as another in every cell. */
function repeatedRow({ list }: AuditTask, row: number, sameAs: number): string {
  const cells = (at: number) =>
    [0, list.headings.length - 1].map((column) => absoluteAddress(list.top + at, list.left + column)).join(":");
  const [one, other] = [row, sameAs].map((at) => onSheet(list.sheetName) + cells(at)) as [string, string];
  const own = one.slice(0, one.lastIndexOf(":"));
  // Not EXACT, which LibreOffice does not take cell by cell; and a blank is no 0 by its length.
  const same = `SUMPRODUCT((${one}=${other})*(LEN(${one})=LEN(${other})))=COLUMNS(${one})`;
  return `IFERROR(IF(${same},ROW(${own}),"${NONE_NOW}"),"${NONE_NOW}")`;
}

function placeProblems(sheet: Writer, task: AuditTask, top: number): void {
  const { list, mapping, problems, date } = task;
  sheet.heading(top, LEFT, "Rows to mend", 8);
  const none = problems.length === 0 ? "none" : `${problems.length} on ${date}; after mending, write another audit`;
  sheet.text(top + 1, LEFT, none, "note");
  sheet.text(top + 2, LEFT, "Rows with one of these names add others up and are left out:", "note");
  const found = problems.flatMap(({ wrong }) =>
    wrong.kind === "total" && wrong.name ? [wrong.name.toLowerCase()] : [],
  );
  const names = [...TOTAL_WORDS.flatMap((word) => [word, `${word}:`]), ...found];
  sheet.text(top + 2, REASON, `${NAME_BAR} ${[...new Set(names)].join(` ${NAME_BAR} `)} ${NAME_BAR}`, "inputText");
  sheet.labels(top + 3, LEFT, ["Cell", "", "What becomes of it", "", "", "", "Why"], 7);
  problems.forEach((problem, i) => {
    const row = top + PROBLEMS_HEAD + i;
    sheet.text(row, LEFT, problemCell(list, mapping, problem));
    sheet.text(row, LEFT + 2, effectOf(problem), "unit");
    if (problem.wrong.kind === "duplicate") {
      sheet.formula(row, ROW_LEFT_OUT, repeatedRow(task, problem.row, problem.wrong.of), "unit");
    }
    sheet.text(row, REASON, problemText(list, problem));
  });
}

function placeJobs(sheet: Writer, { list, mapping }: AuditTask, ranges: Omit<JobRanges, "keys">, top: number): void {
  const keys = columnsFor(mapping);
  sheet.heading(top - 2, LEFT, "Job by job", keys.length);
  for (const [i, { title, formula, format }] of jobColumns({ ...ranges, keys }).entries()) {
    sheet.text(TITLES_ROW, i, `↓ ${i === 0 ? "Job by job" : title}`, "note");
    sheet.text(top - 1, i, title, "tableHeader");
    sheet.block.cells.push({ row: top, column: i, content: { formula } });
    sheet.block.looks.push({ row: top, column: i, rows: list.rows, columns: 1, format });
  }
}
