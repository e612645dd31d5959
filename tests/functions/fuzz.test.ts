/**
 * What holds for every custom function whatever it is handed, also what no spreadsheet would: a block of numbers, texts,
 * TRUE/FALSE and errors with a message; never a thrown error, a ragged block, or a call of more than 50 ms.
 * `npm test` tries some 2,000 cases a function, as time allows; `npm run fuzz` tries 100,000,
 * `npm run test:fast` 200.
 */
import fc from "fast-check";
import { afterAll, describe, expect, it } from "vitest";
import { shownBy } from "../blanks";
import { asBlock, CATALOGUE, type Catalogued, isUnits, type Parameter, valid } from "../catalogue";
import { expectSound } from "../helpers";
import { processorTime } from "../run/processor-time";

const ASKED = process.env.GRIT_CASES;
const CASES = Number(ASKED ?? 2_000);
/** Without a number asked for, a function gets this long: all of them together some 20 s. */
const SHARE_MS = ASKED ? Number.POSITIVE_INFINITY : 20_000 / CATALOGUE.length;
const SLOWEST_MS = 50;
/** The longest text that a cell of a spreadsheet holds. */
const CELL_TEXT = 32_767;

/** The error codes that a spreadsheet has (Excel's ERROR.TYPE, and the newer ones beside it). */
const CODES = (
  "#NULL! #DIV/0! #VALUE! #REF! #NAME? #NUM! #N/A #GETTING_DATA #SPILL! #CONNECT! #BLOCKED! #UNKNOWN! #FIELD! #CALC! " +
  "#BUSY! #EXTERNAL! #PYTHON! #TIMEOUT!"
).split(" ");

const anyNumber = fc.oneof(
  fc.double(),
  fc.double({ min: 0, max: 100, noNaN: true }),
  fc.integer({ min: -2, max: 3000 }),
  fc.constantFrom(0, -0, 1, -1, 0.5, 1 - 2 ** -53, 1 + 2 ** -52, 2 ** 53, 1e9, 1e-9, 1e154, 1e-154, 1e308),
  fc.constantFrom(Number.MIN_VALUE, -Number.MIN_VALUE, Number.MAX_VALUE, -Number.MAX_VALUE, 2.2250738585072014e-308),
  fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
);

const anyText = fc.oneof(
  fc.constantFrom(
    "",
    " ",
    "12",
    "1e5",
    "TRUE",
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    "'12",
    "#N/A",
    "#VALUE!",
    "\u0000",
    "\ufeff",
  ),
  fc.constantFrom("metal", "RESIN", " Hybrid ", "mesh", "um", "JIS", "metric", "Us", "İ", "ﬁ", "ſ"),
  fc.constantFrom("__proto__", "constructor", "prototype", "toString", "valueOf", "hasOwnProperty", "length"),
  fc.constantFrom("\ud800", "a\udfffb", `${"x".repeat(39)}\ud83d\ude00`, "\ud83d".repeat(50), "x".repeat(CELL_TEXT)),
  fc.constantFrom("\ud83d\ude00".repeat(CELL_TEXT / 2), " ".repeat(CELL_TEXT), "9".repeat(CELL_TEXT)),
  fc.string({ unit: "binary", maxLength: 50 }),
);

/** Error cells as hosts hand them over, and objects that only look like one. */
const anyError = fc.oneof(
  fc.constantFrom(...CODES).map((code) => ({ code })),
  fc.constantFrom(...CODES).map((basicValue) => ({ type: "Error", basicType: "Error", basicValue })),
  fc.constantFrom(...CODES).map((code) => Object.assign(new Error("from another cell"), { code })),
  fc.constantFrom<unknown>("#", "#x", "#__proto__", `#${"A".repeat(CELL_TEXT)}`, 7, null, {}).map((code) => ({ code })),
  fc.constant({ code: "#N/A", message: 7 }),
  fc.constant({ code: "#N/A", message: `\ud800${"m".repeat(CELL_TEXT)}` }),
);

const anyObject = fc.oneof(
  fc.jsonValue({ maxDepth: 2 }),
  fc
    .constantFrom('{"__proto__":{"code":"#N/A"}}', '{"constructor":{"prototype":1}}', '{"length":1,"0":[1]}', "[[1]]")
    .map((text) => JSON.parse(text)),
  fc.constant(Object.freeze(Object.create(null))),
  fc.constantFrom(new Date(0), new Date(Number.NaN)),
);

const anyCell: fc.Arbitrary<unknown> = fc.oneof(
  { arbitrary: anyNumber, weight: 6 },
  { arbitrary: anyText, weight: 4 },
  { arbitrary: fc.constantFrom<unknown>(null, undefined, true, false), weight: 2 },
  { arbitrary: anyError, weight: 1 },
  { arbitrary: anyObject, weight: 1 },
);

const blockOf = (cell: fc.Arbitrary<unknown>, rows: number, columns: number) =>
  fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows });

/**
 * Long and wide ranges, of two cells in turn: drawing each of a thousand cells would take all the time. Beside one
 * another they make answers of up to 2,000 cells.
 */
const SHAPES: [rows: number, columns: number][] = [
  [200, 1],
  [1, 10],
  [40, 25],
  [100, 2],
  [60, 6],
];
const largeBlock = (cell: fc.Arbitrary<unknown>) =>
  fc
    .tuple(fc.constantFrom(...SHAPES), cell, cell)
    .map(([[rows, columns], even, odd]) =>
      Array.from({ length: rows }, (_, r) => Array.from({ length: columns }, (_, c) => ((r + c) % 2 ? odd : even))),
    );

/** What no host hands over for a range. */
const noBlock: fc.Arbitrary<unknown> = fc.oneof(
  anyCell,
  fc.constantFrom<unknown>([], [[]], [[], []], [[], [1]], [[1], []], [[1, 2], [3]], [[1], [2, 3]], [null], [[1], null]),
  fc.constantFrom<unknown>([1, 2], ["ab", "cd"], "mesh", [[[1]]], { 0: [1], length: 1 }, new Array(3)),
  fc.array(fc.array(anyCell, { maxLength: 3 }), { maxLength: 3 }),
);

/** The more weight on what the parameter takes, the more calls get past the first check. */
function anyArgument(parameter: Parameter, goodWeight: number): fc.Arbitrary<unknown> {
  const good = valid(parameter);
  const leftOut = fc.constantFrom<unknown>(undefined, null);
  if (isUnits(parameter)) {
    return fc.oneof(
      { arbitrary: good, weight: goodWeight / 8 },
      { arbitrary: leftOut, weight: 4 },
      { arbitrary: anyCell, weight: 2 },
      { arbitrary: noBlock, weight: 1 },
    );
  }
  const mixed = fc.oneof({ arbitrary: good, weight: 3 }, { arbitrary: anyCell, weight: 1 });
  return fc.oneof(
    { arbitrary: good.map(asBlock), weight: goodWeight },
    { arbitrary: anyNumber.map((cell) => [[cell]]), weight: 15 },
    { arbitrary: anyCell.map((cell) => [[cell]]), weight: 10 },
    { arbitrary: leftOut, weight: 10 },
    { arbitrary: blockOf(mixed, 3, 1), weight: 6 },
    { arbitrary: blockOf(mixed, 1, 2), weight: 3 },
    { arbitrary: blockOf(mixed, 3, 2), weight: 3 },
    { arbitrary: blockOf(anyCell, 2, 6), weight: 2 },
    { arbitrary: largeBlock(mixed), weight: 1 },
    { arbitrary: noBlock, weight: 3 },
  );
}

const anyArguments = ({ params }: Catalogued) =>
  fc.oneof(
    ...[64, 512].map((goodWeight) => fc.tuple(...params.map((parameter) => anyArgument(parameter, goodWeight)))),
  );

/** Excel hands this over after the last argument, asked for or not. */
const INVOCATION = Object.freeze({ address: "Sheet1!A1", functionName: "GRIT" });

const HostError = (globalThis as unknown as { CustomFunctions: { Error: new () => object } }).CustomFunctions.Error;

/** What is wrong with a result cell, if anything. */
function faultOf(cell: unknown): string | undefined {
  if (typeof cell === "string") return isWellFormed(cell) ? undefined : "a text that is not well-formed";
  if (typeof cell === "boolean") return undefined;
  if (typeof cell === "number") {
    return Number.isFinite(cell) && !Object.is(cell, -0)
      ? undefined
      : `the number ${Object.is(cell, -0) ? "-0" : cell}`;
  }
  if (!(cell instanceof HostError)) return `neither a value nor the host's error: ${typeof cell}`;
  const { code, message } = cell as unknown as { code: string; message: unknown };
  if (!CODES.includes(code)) return `an error with the code ${JSON.stringify(code).slice(0, 50)}`;
  if (typeof message !== "string" || message === "") return `the error ${code} without a message`;
  if (!isWellFormed(message)) return `the error ${code} with a message that is not well-formed`;
  return message.length > 1000 ? `the error ${code} with a message of ${message.length} characters` : undefined;
}

/** No half of a surrogate pair by itself: encodeURIComponent refuses those. */
function isWellFormed(text: string): boolean {
  try {
    encodeURIComponent(text);
    return true;
  } catch {
    return false;
  }
}

function timed(entry: Catalogued, args: unknown[]): { out: unknown[][]; ms: number } {
  const from = processorTime();
  const out = shownBy(entry.shipped, [...args, INVOCATION]);
  return { out, ms: processorTime() - from };
}

/**
 * Time of a call that seems slow: the least of three more, in time of this process alone, since other processes of a busy
 * machine or the cleanup of memory can delay any.
 */
const leastTime = (entry: Catalogued, args: unknown[]) =>
  Math.min(
    ...[1, 2, 3].map(() => {
      const from = process.cpuUsage();
      shownBy(entry.shipped, [...args, INVOCATION]);
      const { user, system } = process.cpuUsage(from);
      return (user + system) / 1000;
    }),
  );

const told: string[] = [];

describe("given anything at all", () => {
  afterAll(() => {
    if (ASKED) console.log(["function: calls, with a value in the first cell, slowest call", ...told].join("\n"));
  });

  it.each(CATALOGUE)(
    "$id gives finite numbers, texts or errors with a message, within 50 ms, and never throws",
    (entry) => {
      let calls = 0;
      let values = 0;
      let slowest = 0;
      const property = fc.property(anyArguments(entry), (args) => {
        const { out, ms } = timed(entry, args);
        expectSound(out, faultOf);
        // A blank and a 0 of a good call, as each of the hosts passes them.
        if (calls % 4 === 0) entry.fn(...args, INVOCATION);
        if (ms > slowest) slowest = Math.max(slowest, Math.min(ms, leastTime(entry, args)));
        if (slowest > SLOWEST_MS) throw new Error(`${slowest.toFixed(1)} ms for one call`);
        calls++;
        if (typeof out[0]![0] !== "object") values++;
      });
      fc.assert(property, {
        numRuns: CASES,
        interruptAfterTimeLimit: Number.isFinite(SHARE_MS) ? SHARE_MS : undefined,
      });
      told.push(`${entry.id}: ${calls}, ${values}, ${slowest.toFixed(1)} ms`);
      // A generator that never gets past the first check would show nothing.
      expect(calls).toBeGreaterThan(20);
      expect(values / calls).toBeGreaterThan(0.02);
    },
    ASKED ? 3_600_000 : undefined,
  );
});
