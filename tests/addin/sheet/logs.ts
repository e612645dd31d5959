/** Logs in the headless workbook, and the Log sheet's forecast held against functions/log cell by cell. */
import { expect } from "vitest";
import { type Logged, readLog } from "../../../addin/sheet/log";
import { FORECAST_COLUMNS, FORECAST_KEYS, type ForecastKey } from "../../../addin/sheet/log-columns";
import { LOG_KEYS, type LogLine } from "../../../functions/log/fields";
import { hoursByDay, type Progress, progress, type StageProgress } from "../../../functions/log/progress";
import { offWords, stageNeeds, sumNeeds, toolWords } from "../../../functions/log/words";
import { valuesOf } from "./workbook";

export const cellsOfLine = (line: LogLine): unknown[] => LOG_KEYS.map((key) => line[key] ?? "");

/** Types lines below the table's last one, as a user does: the first into its blank row. */
export async function typeLines(lines: readonly LogLine[], table = "Log"): Promise<void> {
  await Excel.run(async (context) => {
    const found = context.workbook.tables.getItem(table);
    const body = found.getDataBodyRange().load("values");
    await context.sync();
    const isBlank = body.values.every((row) => row.every((cell) => cell === ""));
    const rows = lines.map(cellsOfLine) as any[][];
    if (isBlank) body.getRow(0).values = [rows[0]!];
    const more = isBlank ? rows.slice(1) : rows;
    if (more.length > 0) found.rows.add(undefined, more);
    await context.sync();
  });
}

/** The forecast as records by column, the job first, then the floors where there are several, then the stages. */
export async function forecastRows(sheet = "Log"): Promise<Record<ForecastKey, any>[]> {
  const cells = await Excel.run(async (context) => {
    const used = context.workbook.worksheets.getItem(sheet).getUsedRange().load("values");
    await context.sync();
    return used.values;
  });
  const left = LOG_KEYS.length + 1;
  const rows: Record<ForecastKey, any>[] = [];
  for (let r = 5; (cells[r]?.[left] ?? "") !== ""; r++) {
    rows.push(
      Object.fromEntries(FORECAST_KEYS.map((key, i) => [key, cells[r]![left + i]])) as Record<ForecastKey, any>,
    );
  }
  return rows;
}

/** Dates, worked and earned hours below the picture. */
export async function hourRows(sheet = "Log"): Promise<any[][]> {
  const column = await valuesOf(`${sheet}!K1:M120`);
  const head = column.findIndex(([, worked]) => worked === "Worked h");
  return column.slice(head + 1).filter(([date]) => typeof date === "number");
}

function agree(actual: any, expected: number | string | undefined, what: string): void {
  if (typeof expected !== "number") {
    expect(actual, what).toBe(expected ?? "");
    return;
  }
  expect(actual, what).toBeTypeOf("number");
  expect(Math.abs(actual - expected), `${what}: ${actual} beside ${expected}`).toBeLessThanOrEqual(
    1e-9 * Math.max(1, Math.abs(expected)),
  );
}

const common = ({ share, hours, cost, daysLeft, ...rest }: Progress) => ({
  share,
  quoted: hours.quoted,
  earned: hours.earned,
  worked: hours.soFar,
  atPace: hours.atPace,
  asQuoted: hours.asQuoted,
  costQuoted: cost.quoted,
  costEarned: cost.earned,
  costSoFar: cost.soFar,
  costAtPace: cost.atPace,
  costAsQuoted: cost.asQuoted,
  daysLeft,
  off: offWords({ share, hours, cost, daysLeft, ...rest }),
});

const ofStage = (
  stage: StageProgress,
  units: Logged["units"],
): Partial<Record<ForecastKey, number | string | undefined>> => ({
  ...common(stage),
  floor: stage.quote.floor,
  stage: stage.quote.stage,
  needed: stageNeeds(stage, units),
  tools: toolWords(stage, units),
  wornOutOn: stage.tools?.wornOutOn,
  toDo: stage.quote.toDo,
  done: stage.done,
  areaADay: stage.areaADay,
  areaNeeded: stage.areaADayNeeded,
  machineHours: stage.machineHours,
  fitted: stage.setsFitted,
  worn: stage.setsWorn,
  wear: stage.tools?.wear,
  left: stage.tools?.left,
  short: stage.tools?.short,
});

/** Every figure and every word of the forecast and of the hours by date; gives how many were held. */
export async function expectForecastAgrees(sheet = "Log"): Promise<{ compared: number; logged: Logged }> {
  const logged = (await readLog())!;
  const { stages, units, log } = logged;
  const wanted = progress(stages, log!.lines, log!.changedAt, units);
  const rows = await forecastRows(sheet);
  const sums = [wanted.job, ...(wanted.floors.length > 1 ? wanted.floors : [])];
  expect(rows).toHaveLength(sums.length + wanted.stages.length);
  let compared = 0;
  const hold = (
    row: Record<ForecastKey, any>,
    of: Partial<Record<ForecastKey, number | string | undefined>>,
    at: string,
  ) => {
    for (const key of Object.keys(of) as ForecastKey[]) {
      agree(row[key], of[key], `${at}, ${FORECAST_COLUMNS[key].title(units)}`);
      compared++;
    }
  };
  for (const [i, sum] of sums.entries()) {
    hold(rows[i]!, { ...common(sum), needed: sumNeeds(sum) }, i === 0 ? "job" : wanted.floors[i - 1]!.floor);
  }
  for (const [i, stage] of wanted.stages.entries()) {
    hold(rows[sums.length + i]!, ofStage(stage, units), `${stage.quote.floor}, ${stage.quote.stage}`);
  }
  const days = hoursByDay(stages, log!.lines);
  const shown = await hourRows(sheet);
  for (const [date, worked, earned] of shown) {
    const day = days.find((one) => one.date === date)!;
    agree(worked, day.worked, `worked on ${date}`);
    agree(earned, day.earned, `earned on ${date}`);
    compared += 2;
  }
  expect(shown.at(-1)?.[0], "the last day is shown").toBe(days.at(-1)?.date);
  return { compared, logged };
}
