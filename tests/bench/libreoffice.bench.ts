/**
 * How long LibreOffice takes to calculate the plain formula of every function: its own calculateAll, timed inside it by a
 * macro, so that neither its start nor the opening of the file is in it. By the clock, since it calculates on all cores;
 * ours too, on one. `npm run build` first.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { cellAddress, rangeAddress } from "../../addin/common/a1";
import { escaped } from "../../addin/share/parts/xml";
import { looksBack } from "../../addin/share/plain";
import { book, sheet } from "../addin/share/copy-files";
import { referenceRows } from "../addin/share/engine";
import { inSoffice, isSame, sofficeVersion } from "../addin/share/libreoffice/soffice";
import type { Catalogued } from "../catalogue";
import { hasLoop } from "./loops";
import { median, report, table } from "./measure";
import { FORMULA_COLUMN, type PlainRows, plainRows } from "./plain-rows";
import { SHIPPED } from "./shipped";

const ROWS = 100_000;
const MEASURED = 10_000;
/** Where every answer looks at all rows, or at all above it, the work grows with their square. */
const MEASURED_WHERE_SQUARE = 1000;

const PROFILE = {
  // A profile that does not say it has been set up gets the macros that LibreOffice comes with, none, for its own.
  "registrymodifications.xcu":
    '<?xml version="1.0" encoding="UTF-8"?>\n<oor:items xmlns:oor="http://openoffice.org/2001/registry">' +
    '<item oor:path="/org.openoffice.Setup/Office"><prop oor:name="ooSetupInstCompleted" oor:op="fuse"><value>true</value></prop></item></oor:items>',
  "basic/script.xlc":
    '<?xml version="1.0" encoding="UTF-8"?>\n<library:libraries xmlns:library="http://openoffice.org/2000/library">' +
    '<library:library library:name="Standard" library:link="false"/></library:libraries>',
  "basic/Standard/script.xlb":
    '<?xml version="1.0" encoding="UTF-8"?>\n<library:library xmlns:library="http://openoffice.org/2000/library" ' +
    'library:name="Standard" library:readonly="false"><library:element library:name="Timer"/></library:library>',
  "basic/Standard/Timer.xba": readFileSync(join(import.meta.dirname, "libreoffice-timer.xba"), "utf8"),
};

const isSquare = (entry: Catalogued) => looksBack(entry) || entry.id === "OUTLIERS";
const rowsFor = (entry: Catalogued) => (isSquare(entry) ? MEASURED_WHERE_SQUARE : MEASURED);

interface Asked {
  readonly entry: Catalogued;
  readonly rows: PlainRows;
  readonly answer: readonly unknown[][];
}

function valueXml(address: string, value: unknown): string {
  if (typeof value === "number") return `<c r="${address}"><v>${value}</v></c>`;
  if (typeof value === "boolean") return `<c r="${address}" t="b"><v>${Number(value)}</v></c>`;
  return `<c r="${address}" t="inlineStr"><is><t>${escaped(String(value))}</t></is></c>`;
}

/** A formula in a row: filled down from the first where that is the same, as spreadsheets store it. */
function formulaXml(row: number, { rows, answer }: Asked): string {
  const { count, formula, isFilledDown, isArray } = rows;
  const area = (height: number, width: number) => rangeAddress(0, FORMULA_COLUMN - 1, height, width);
  const written = () => escaped(formula(row).replace(/^=/, ""));
  const f = () => {
    if (isArray) return `<f t="array" ref="${area(answer.length, answer[0]!.length)}">${written()}</f>`;
    if (!isFilledDown) return `<f>${written()}</f>`;
    return row === 0 ? `<f t="shared" si="0" ref="${area(count, 1)}">${written()}</f>` : '<f t="shared" si="0"/>';
  };
  return `<c r="${cellAddress(row, FORMULA_COLUMN - 1)}">${f()}</c>`;
}

const sheetOf = (height: number, cellsIn: (row: number) => readonly string[]) =>
  sheet(Array.from({ length: height }, (_, r) => `<row r="${r + 1}">${cellsIn(r).join("")}</row>`).join(""));

function workbookOf(asked: Asked): Uint8Array {
  const { columns, count } = asked.rows;
  const height = Math.max(count, ...columns.map(({ cells }) => cells.length));
  const calculated = sheetOf(height, (r) => [
    ...columns.flatMap(({ column, cells }) =>
      r < cells.length ? [valueXml(cellAddress(r, column - 1), cells[r])] : [],
    ),
    ...(r < count ? [formulaXml(r, asked)] : []),
  ]);
  const scales = referenceRows();
  const reference = sheetOf(scales.length, (r) => scales[r]!.map((value, c) => valueXml(cellAddress(r, c), value)));
  return book({ sheets: { Rows: calculated, Reference: reference } });
}

/** The number that a macro has written, or a text. */
const valueIn = (text: string) => (text !== "" && Number.isFinite(Number(text)) ? Number(text) : text);

/** ms, the median of many calls after as many that count for nothing. */
function byTheClock(call: () => unknown): number {
  const times = Array.from({ length: 40 }, () => {
    const start = performance.now();
    call();
    return performance.now() - start;
  });
  return median(times.slice(20));
}

const asked = SHIPPED.filter(hasLoop).map((entry): Asked => {
  const rows = plainRows(entry, rowsFor(entry));
  return { entry, rows, answer: entry.shipped(...rows.args) };
});
const version = await sofficeVersion();

it.skipIf(version === undefined)("measures the plain formulas in LibreOffice", async () => {
  const written = await inSoffice(PROFILE, async (folder, start) => {
    for (const [n, one] of asked.entries()) writeFileSync(join(folder, `${n}.xlsx`), workbookOf(one));
    await start([`macro:///Standard.Timer.MeasureAll("${folder}",${asked.length})`]);
    return readFileSync(join(folder, "times.txt"), "utf8").trimEnd().split("\n");
  });
  expect(written.length).toBe(asked.length);
  const lines = written.map((line, n) => {
    const { entry, rows, answer } = asked[n]!;
    const [times, last] = line.split("\t") as [string, string];
    const value = answer.at(-1)!.at(-1);
    // What is timed must be the function's own answer.
    expect(isSame(valueIn(last), typeof value === "boolean" ? Number(value) : value), `${entry.id}: ${last}`).toBe(
      true,
    );
    const count = rowsFor(entry);
    const theirs = median(times.trim().split(" ").map(Number));
    const ours = byTheClock(() => entry.shipped(...rows.args));
    return [entry.id, count, theirs, theirs / ours, isSquare(entry) ? "" : (theirs / count) * ROWS] as const;
  });
  const head = ["plain formula of", "rows", "LibreOffice, ms", "÷ ours", "ms for 100,000 rows, in proportion"];
  report("LibreOffice", `${version}\n\n${table(head, lines)}`);
});

it.runIf(version === undefined)("does not measure LibreOffice: there is no soffice on this machine", () => {
  report("LibreOffice", "Not measured: there is no soffice on this machine (Debian: libreoffice-calc).");
});
