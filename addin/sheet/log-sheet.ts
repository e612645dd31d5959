/** The Log sheet: the table of lines, and beside it the forecast, a picture of the hours by date, and what is worked out for both. */
import { LOG_KEYS, type LogKey, logField } from "../../functions/log/fields";
import { isByLength, LENGTH_WORKS, LIQUID_WORKS } from "../../functions/plan/works";
import { convert, type System, symbol } from "../../functions/units";
import { absoluteAddress, cellAddress } from "../common/a1";
import { type Block, emptyBlock, type SheetSetup } from "./block";
import { CellWriter } from "./cell-writer";
import { FORECAST_COLUMNS, FORECAST_KEYS, type ForecastKey, type QuoteOf } from "./log-columns";
import { LOG_CHART, LOG_SHEET } from "./log-texts";
import type { StageColumnKey } from "./stage-row";
import { CHART_FILLS, type NumberFormat } from "./styles";

/** A floor of the job as the forecast's formulas refer to it. */
export interface LoggedFloor {
  /** Formula of its name. */
  readonly name: string;
  readonly table: string;
  readonly units: System;
  /** How many stages its table has now. */
  readonly stages: number;
  /** Heading of a column of its stage table; undefined where it has none. */
  heading(key: StageColumnKey): string | undefined;
  /** Cell of an input, with its sheet; undefined where the plan has none. */
  input(key: "machineArea" | "area" | "jointLength" | "crackLength" | "hoursADay"): string | undefined;
}

export interface LogTask {
  readonly table: string;
  readonly units: System;
  readonly sign: string;
  readonly floors: readonly LoggedFloor[];
  /** Dates that the picture has room for. */
  readonly dates: number;
}

const HEADER_ROW = 4;
const FIRST_ROW = HEADER_ROW + 1;
/** Left of the forecast one column stays free. */
const LEFT = LOG_KEYS.length + 1;
const CHART_ROWS = 16;
/** The height at which most segments are changed (common practice, no source). */
export const CHANGED_AT = 2;
const WIDTHS: Readonly<Record<LogKey, number>> = {
  ...{ date: 66, floor: 110, stage: 130, area: 60, machineHours: 52, crewHours: 46, sets: 46, height: 56, note: 150 },
};
const FORMATS: Partial<Record<LogKey, NumberFormat>> = { date: "date", area: "count" };

const columnOf = (key: ForecastKey) => LEFT + FORECAST_KEYS.indexOf(key);

export function logSheet(task: LogTask): { block: Block; setup: SheetSetup } {
  const block = emptyBlock(task.sign);
  const sheet = new CellWriter(block);
  sheet.text(0, 0, LOG_SHEET.title, "title");
  sheet.text(HEADER_ROW - 1, 0, LOG_SHEET.note, "note");
  const stages = task.floors.reduce((sum, floor) => sum + floor.stages, 0);
  const rows = forecastRows(task);
  placeTable(block, task, rows.firstStage, stages);
  placeForecast(sheet, task, rows);
  placePicture(block, rows.end + 1, task.dates);
  placeHours(sheet, task, rows, rows.end + 2 + CHART_ROWS);
  sheet.formula(1, 0, summary(rows), "warning");
  sheet.formula(2, 0, status(task, rows), "caution");
  return {
    block,
    setup: {
      widths: [...LOG_KEYS.map((key) => WIDTHS[key]), 20, ...FORECAST_KEYS.map((key) => FORECAST_COLUMNS[key].width)],
      rowHeights: [
        [0, 24],
        [HEADER_ROW, 30],
      ],
      frozenRows: FIRST_ROW,
      frozenColumns: 0,
      printTitleRow: HEADER_ROW,
      pagesWide: 3,
    },
  };
}

/** Table of the log, with one row that is blank. */
function placeTable(block: Block, { table, units }: LogTask, firstStage: number, stages: number): void {
  LOG_KEYS.forEach((key, column) => {
    const { label, quantity, unit, domain } = logField(key);
    const content = quantity ? symbol(quantity, units) : (unit ?? "");
    if (content) block.cells.push({ row: HEADER_ROW - 1, column, content, style: "unit" });
    block.cells.push({ row: HEADER_ROW, column, content: label, style: "tableHeader" });
    block.cells.push({ row: FIRST_ROW, column, content: "", style: "tableInput", format: FORMATS[key] });
    if (!domain) return;
    const { least, most, whole = false } = domain;
    const message = LOG_SHEET.mustBe(label, domain.words);
    block.rules.push({ row: FIRST_ROW, column, rows: 1, rule: { least, most, whole }, message });
  });
  block.tables.push({ name: table, row: HEADER_ROW, column: 0, rows: 2, columns: LOG_KEYS.length });
  const pick = (key: "floor" | "stage", message: string) => {
    const cells = [firstStage, firstStage + stages - 1].map((row) => absoluteAddress(row, columnOf(key)));
    const column = LOG_KEYS.indexOf(key);
    block.rules.push({ row: FIRST_ROW, column, rows: 1, rule: { list: `=${cells.join(":")}` }, message });
  };
  pick("floor", LOG_SHEET.pickFloor);
  pick("stage", LOG_SHEET.pickStage);
}

interface Rows {
  readonly job: number;
  /** Of the floors, where there are several. */
  readonly floors: readonly number[];
  readonly firstStage: number;
  /** First row and number of each floor's stages. */
  readonly stages: readonly { readonly first: number; readonly count: number }[];
  /** The row below. */
  readonly end: number;
}

function forecastRows({ floors }: LogTask): Rows {
  const job = FIRST_ROW;
  const ofFloors = floors.length > 1 ? floors.map((_, i) => job + 1 + i) : [];
  const firstStage = job + 1 + ofFloors.length;
  let next = firstStage;
  const stages = floors.map(({ stages: count }) => {
    const first = next;
    next += count;
    return { first, count };
  });
  return { job, floors: ofFloors, firstStage, stages, end: next };
}

const cellsOf = (key: ForecastKey, first: number, count: number) =>
  `${absoluteAddress(first, columnOf(key))}:${absoluteAddress(first + count - 1, columnOf(key))}`;

function placeForecast(sheet: CellWriter, task: LogTask, rows: Rows): void {
  const { units, table } = task;
  const changedAt = absoluteAddress(2, columnOf("quoted"));
  sheet.text(2, LEFT, LOG_SHEET.changedAt, "label");
  sheet.text(2, columnOf("quoted"), CHANGED_AT, "input");
  sheet.text(2, columnOf("earned"), LOG_SHEET.changedAtUnit, "unit");
  sheet.block.names.push({ name: CHANGED_AT_NAME, row: 2, column: columnOf("quoted"), scope: "sheet" });
  const headed = [
    ["floor", LOG_SHEET.forecast],
    ["tools", LOG_SHEET.tools],
    ["toDo", LOG_SHEET.math],
  ] as const;
  headed.forEach(([key, title], i) => {
    const next = headed[i + 1]?.[0];
    const across = (next ? columnOf(next) : LEFT + FORECAST_KEYS.length) - columnOf(key);
    sheet.heading(HEADER_ROW - 1, columnOf(key), title, across);
  });
  for (const key of FORECAST_KEYS) {
    const { title, isText } = FORECAST_COLUMNS[key];
    sheet.text(HEADER_ROW, columnOf(key), title(units), isText ? "tableHeader" : "tableHeaderRight");
  }
  const put = (row: number, key: ForecastKey, formula: string, strong = false) => {
    const { isText, format } = FORECAST_COLUMNS[key];
    const style = strong ? (isText ? "labelStrong" : "figureStrong") : isText ? "label" : "figure";
    sheet.formula(row, columnOf(key), formula, style, format);
  };
  const here = (row: number) => (key: ForecastKey) => cellAddress(row, columnOf(key)).replace(/^/, "$");
  const placeSum = (row: number, floor: string, first: number, count: number, strong: boolean) => {
    const own = { units, floor, here: here(row), stages: (key: ForecastKey) => cellsOf(key, first, count) };
    put(row, "floor", floor, strong);
    for (const key of FORECAST_KEYS) {
      const formula = FORECAST_COLUMNS[key].sum?.(own);
      if (formula !== undefined) put(row, key, formula, strong);
      else if (key === "stage") sheet.text(row, columnOf(key), LOG_SHEET.allStages, strong ? "labelStrong" : "unit");
      else if (strong && key !== "floor") sheet.text(row, columnOf(key), "", "labelStrong");
    }
  };
  placeSum(rows.job, `"${LOG_SHEET.allFloors}"`, rows.firstStage, rows.end - rows.firstStage, true);
  task.floors.forEach((floor, f) => {
    const { first, count } = rows.stages[f]!;
    const row = rows.floors[f];
    if (row !== undefined) placeSum(row, floor.name, first, count, false);
    for (let n = 1; n <= count; n++) {
      const at = first + n - 1;
      const own = { units, quote: quoteOf(floor, n, units), here: here(at), changedAt };
      const log = (key: LogKey) => `${table}[${logField(key).label}]`;
      for (const key of FORECAST_KEYS) put(at, key, FORECAST_COLUMNS[key].stage({ ...own, log }));
    }
  });
}

export const CHANGED_AT_NAME = "Log_ChangeAt";

/** What a floor's plan says of its n-th stage, in the log's units. */
function quoteOf(floor: LoggedFloor, n: number, units: System): QuoteOf {
  const cell = (key: StageColumnKey) => {
    const heading = floor.heading(key);
    return heading === undefined ? "0" : `INDEX(${floor.table}[${heading}],${n})`;
  };
  const input = (key: Parameters<LoggedFloor["input"]>[0], quantity?: "floorArea" | "length") => {
    const at = floor.input(key);
    if (at === undefined) return "0";
    return !quantity || floor.units === units ? at : `${at}*${convert(1, quantity, floor.units, units)}`;
  };
  const isOf = (works: readonly string[]) =>
    `ISNUMBER(MATCH(${cell("work")},{${works.map((w) => `"${w}"`).join(",")}},0))`;
  const [joints, cracks] = LENGTH_WORKS;
  const byArea = LIQUID_WORKS.filter((work) => !isByLength(work));
  const amount = [
    `IF(${isOf(byArea)},${input("area", "floorArea")}`,
    `IF(${cell("work")}="${joints}",${input("jointLength", "length")}`,
    `IF(${cell("work")}="${cracks}",${input("crackLength", "length")}`,
    `${input("machineArea", "floorArea")})))`,
  ].join(",");
  return {
    floor: floor.name,
    stage: `${cell("no")}&" "&${cell("tool")}`,
    toDo: `${amount}*${cell("passes")}`,
    hours: cell("hours"),
    machineHours: cell("machineHours"),
    setsUsed: cell("setsUsed"),
    crewCost: cell("crew"),
    machineCost: cell("machine"),
    toolingCost: cell("tooling"),
    liquidsCost: cell("liquids"),
    hoursADay: input("hoursADay"),
  };
}

/** The job in a sentence, in sight beside the lines. */
function summary({ job }: Rows): string {
  const figure = (key: ForecastKey) => `FIXED(${absoluteAddress(job, columnOf(key))},1)`;
  const share = `ROUND(100*${absoluteAddress(job, columnOf("share"))},0)`;
  const figures = [share, ...(["worked", "earned", "atPace", "quoted", "daysLeft"] as const).map(figure)];
  return figures.map((one, i) => `${one}&"${LOG_SHEET.summary[i]}"`).join("&");
}

/** What makes the forecast wrong, or else a caution. */
function status({ table, floors }: LogTask, rows: Rows): string {
  const log = (key: LogKey) => `${table}[${logField(key).label}]`;
  const changed = floors.map((floor) => `(ROWS(${floor.table}[${floor.heading("no")}])<>${floor.stages})`).join("+");
  const numbers = LOG_KEYS.filter((key) => logField(key).kind !== "text").map(log);
  const bad = numbers.map((cells) => `COUNTA(${cells})-COUNT(${cells})+COUNTIF(${cells},"<0")`).join("+");
  const known = cellsOf("lines", rows.firstStage, rows.end - rows.firstStage);
  const unknown = `COUNTA(${log("stage")})-SUM(${known})`;
  const counted = ([before, after]: readonly string[], count: string) => `"${before}"&(${count})&"${after}"`;
  const unless = `IF(${unknown}>0,${counted(LOG_SHEET.unknownLines, unknown)},"${LOG_SHEET.caution}")`;
  return `IF(0+${changed}>0,"${LOG_SHEET.stagesChanged}",IF(${bad}>0,${counted(LOG_SHEET.badCells, bad)},${unless}))`;
}

/** The dates of the log, as many as there is room for; with more, some are passed over, but never the last. */
function placeHours(sheet: CellWriter, task: LogTask, rows: Rows, top: number): void {
  const { table, dates } = task;
  const log = (key: LogKey) => `${table}[${logField(key).label}]`;
  const [date, worked, earned] = [LEFT, LEFT + 1, LEFT + 2] as const;
  const firstStage = columnOf("toDo");
  const stages = rows.end - rows.firstStage;
  sheet.heading(top, LEFT, LOG_SHEET.byDay, 3);
  sheet.heading(top, firstStage, LOG_SHEET.earnedByStage, stages);
  sheet.labels(top + 1, LEFT, ["Date", LOG_CHART.worked, LOG_CHART.earned]);
  const cell = (key: ForecastKey, stage: number) => absoluteAddress(rows.firstStage + stage, columnOf(key));
  for (let s = 0; s < stages; s++) sheet.formula(top + 1, firstStage + s, cell("stage", s), "groupRight");
  // Once for all dates: a long log is looked through for each.
  const [last, gap] = [absoluteAddress(top + 1, LEFT + 4), absoluteAddress(top + 1, LEFT + 6)];
  sheet.text(top + 1, LEFT + 3, LOG_SHEET.lastDate, "unit");
  sheet.formula(top + 1, LEFT + 4, `MAX(${log("date")})`, "figure", "dateKnown");
  sheet.text(top + 1, LEFT + 5, LOG_SHEET.passedOver, "unit");
  sheet.formula(top + 1, LEFT + 6, `INT((${last}-MIN(${log("date")}))/${dates - 1})`, "figure", "count");
  for (let i = 0; i < dates; i++) {
    const row = top + 2 + i;
    const day = cellAddress(row, date).replace(/^/, "$");
    const before = cellAddress(row - 1, date);
    const after = `IF(${before}+${gap}>=${last},${last},MINIFS(${log("date")},${log("date")},">"&(${before}+${gap})))`;
    const next = `IF(${before}="","",IF(${before}>=${last},"",${after}))`;
    sheet.formula(row, date, i === 0 ? `IF(COUNT(${log("date")})=0,"",MIN(${log("date")}))` : next, "label", "date");
    const until = `${log("date")},"<="&${day}`;
    const own = (s: number) =>
      `${log("floor")},"="&${cell("floor", s)},${log("stage")},"="&${cell("stage", s)},${until}`;
    const shared = (formula: string) => `IF(${day}="","",${formula})`;
    sheet.formula(row, worked, shared(`SUMIFS(${log("crewHours")},${until})`), "figure", "hours");
    const earnedCells = `${cellAddress(row, firstStage)}:${cellAddress(row, firstStage + stages - 1)}`;
    sheet.formula(row, earned, shared(`SUM(${earnedCells})`), "figure", "hours");
    for (let s = 0; s < stages; s++) {
      const done = `MIN(1,SUMIFS(${log("area")},${own(s)})/${cell("toDo", s)})`;
      const figure = `IF(${cell("toDo", s)}>0,${done}*${cell("quoted", s)},0)`;
      sheet.formula(row, firstStage + s, shared(figure), "figure", "hours");
    }
  }
}

/** Above the hours that it shows. */
function placePicture(block: Block, top: number, dates: number): void {
  const first = top + 1 + CHART_ROWS + 2;
  block.charts.push({
    title: LOG_CHART.title,
    kind: "ColumnClustered",
    valueTitle: LOG_CHART.axis,
    format: "count",
    categories: { row: first, column: LEFT },
    series: [
      { name: LOG_CHART.earned, row: first, column: LEFT + 2, fill: CHART_FILLS[0] },
      { name: LOG_CHART.worked, row: first, column: LEFT + 1, fill: CHART_FILLS[2] },
    ],
    rows: dates,
    top,
    bottom: top + CHART_ROWS,
    left: LEFT,
    right: columnOf("needed"),
  });
}
