/**
 * A workbook with every function called on random arguments, a sheet for each function: what its cells hold, and what
 * the function itself gives for every cell of its answers, before and after the arguments are changed.
 */
import fc from "fast-check";
import { columnLetters, rangeAddress } from "../../../../addin/common/a1";
import { CATALOGUE, type Catalogued } from "../../../catalogue";
import { type Call, callOf, EXTENTS, type Extent, isStretched, randomArguments } from "../calls";
import { sheet } from "../copy-files";
import { type Block, type Cell, isError } from "../engine";

export const TRANSLATED = CATALOGUE.filter(({ noPlain }) => !noPlain);

/** Answers stand to the right of all arguments. */
const ANSWER_COLUMN = 50;

export interface Asked {
  readonly entry: Catalogued;
  /** The call and its arguments as they are, and as they are changed later. */
  readonly calls: readonly [Call, Call];
  /** From 1. */
  readonly row: number;
}

type Arguments = Parameters<typeof callOf>[1];

/** Every function on so many sets of single arguments, and where it takes ranges, on a fifth as many with ranges. */
export function askEveryFunction(sets: number): ReadonlyMap<string, Asked[]> {
  return new Map(
    TRANSLATED.map((entry) => {
      const kinds = isStretched(entry) ? EXTENTS : [];
      const withRanges = Math.ceil(sets / 5 / EXTENTS.length);
      const args = [pairs(entry, sets), ...kinds.map((extents) => pairs(entry, withRanges, extents))].flat();
      let row = 1;
      const asked = args.map(([first, second]) => {
        const calls = [first, changed(first, second)].map((one) => callOf(entry, one, row, 1)) as [Call, Call];
        const one: Asked = { entry, calls, row };
        row += Math.max(
          ...calls[0].blocks.map(({ cells }) => cells.length),
          ...calls.map((c) => answer(entry, c).length),
        );
        return one;
      });
      return [entry.id, asked];
    }),
  );
}

const pairs = (entry: Catalogued, numRuns: number, extents: readonly Extent[] = []) =>
  fc.sample(fc.tuple(randomSet(entry, extents), randomSet(entry, extents)), { numRuns });

/**
 * Spreadsheets, Excel too, take two numbers for equal that differ from the sixteenth digit on, and our functions do
 * not; and a plain formula rounds what is nearly nothing up to 1 a little sooner. No one types such numbers: these have
 * twelve digits, and no millionths.
 */
const randomSet = (entry: Catalogued, extents: readonly Extent[]): fc.Arbitrary<Arguments> =>
  randomArguments(entry, extents).map((all) =>
    all.map(({ cells, form }) => ({ cells: cells.map((line) => line.map(asTyped)), form })),
  );

function asTyped(cell: Cell): Cell {
  if (typeof cell !== "number") return cell;
  return Math.abs(cell) < 1e-6 ? 0 : Number(cell.toPrecision(12));
}

/** The first arguments, with the second's in those cells that it can take without another formula. */
const changed = (first: Arguments, second: Arguments): Arguments =>
  first.map(({ cells, form }, i) => {
    const others = second[i]!.cells;
    const isAsLarge = others.length === cells.length && others[0]!.length === cells[0]!.length;
    const isNumber = typeof cells[0]![0] === "number" && typeof others[0]![0] === "number";
    return { cells: isAsLarge && (form === "cell" || (form === "expression" && isNumber)) ? others : cells, form };
  });

/** What the function itself gives. */
export const answer = ({ fn }: Catalogued, { passed }: Call): unknown[][] => fn(...passed);

export const answerAddress = (row: number, r: number, c: number) => `${columnLetters(ANSWER_COLUMN + c - 1)}${row + r}`;

/** The workbook with the first arguments, as Excel stores it; every answer has a value that is wrong. */
export const sheetsOf = (all: ReadonlyMap<string, Asked[]>): Record<string, string> =>
  Object.fromEntries([...all].map(([id, asked]) => [id, sheet(asked.map(rowsOf).join(""))]));

const WRONG = "<v>777</v>";

function rowsOf({ entry, calls: [call], row }: Asked, at: number): string {
  const cells = new Map<number, string[]>();
  const put = (r: number, xml: string) => cells.set(r, [...(cells.get(r) ?? []), xml]);
  for (const [address, cell] of argumentCells(call)) put(Number(/\d+$/.exec(address)![0]), cellXml(address, cell));
  for (const [r, line] of answer(entry, call).entries()) {
    for (const c of line.keys()) {
      const f = r + c === 0 ? formulaXml(entry, call, row, at) : "";
      put(row + r, `<c r="${answerAddress(row, r, c)}"${f.includes("t=") ? ' cm="1"' : ""}>${f}${WRONG}</c>`);
    }
  }
  return [...cells].map(([r, line]) => `<row r="${r}">${line.join("")}</row>`).join("");
}

/**
 * Excel stores what may spill as an array formula and our names with a prefix; other writers store an ordinary formula
 * with our name as it is typed. One cell of arguments may be stored in each way.
 */
function formulaXml(entry: Catalogued, call: Call, row: number, at: number): string {
  const [line, ...lines] = answer(entry, call);
  const spills = call.blocks.some(({ cells }) => cells.length > 1 || cells[0]!.length > 1);
  const asTyped = escaped(call.formula.slice(1));
  const asStored = asTyped.replaceAll("GRIT.", "_xldudf_GRIT_");
  if (!spills && at % 3 > 0) return `<f>${at % 3 === 1 ? asTyped : asStored}</f>`;
  const ref = rangeAddress(row - 1, ANSWER_COLUMN - 1, 1 + lines.length, line!.length);
  return `<f t="array" ref="${ref}">${at % 2 ? asTyped : asStored}</f>`;
}

/** The cells of the arguments, by address. */
export const argumentCells = ({ blocks }: Call): [address: string, cell: Cell][] => blocks.flatMap(blockCells);

const blockCells = ({ cells, row, column }: Block): [address: string, cell: Cell][] =>
  cells.flatMap((line, r) =>
    line.map((cell, c): [string, Cell] => [`${columnLetters(column + c - 1)}${row + r}`, cell]),
  );

const escaped = (text: string) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;");

/** A cell as Excel stores it; an empty text is what a formula gives, and a blank one has at most a style. */
export function cellXml(address: string, cell: Cell): string {
  const r = `<c r="${address}"`;
  if (cell === null) return `${r}/>`;
  if (cell === "") return `${r} t="str"><f>""</f><v></v></c>`;
  if (typeof cell === "string") return `${r} t="inlineStr"><is><t xml:space="preserve">${escaped(cell)}</t></is></c>`;
  if (typeof cell === "boolean") return `${r} t="b"><v>${Number(cell)}</v></c>`;
  return isError(cell) ? `${r} t="e"><v>${cell.code}</v></c>` : `${r}><v>${cell}</v></c>`;
}
