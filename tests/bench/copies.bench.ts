/** What the two copies of large workbooks cost: `npm run bench copies`. */
import { it } from "vitest";
import { calculatingCopy } from "../../addin/share/calculating-copy";
import { priceOnlyCopy } from "../../addin/share/price-copy";
import { book, STYLES, sheet } from "../addin/share/copy-files";
import { CATALOGUE } from "../catalogue";
import { race, report, table } from "./measure";

const OPTIONS = { functions: CATALOGUE, version: "1.0.0", date: "today", units: "US units", cautions: [] };
const STRINGS = Array.from({ length: 50 }, (_, i) => `<si><t>text ${i}</t></si>`);
const BOLD = '<xf numFmtId="4" fontId="1" fillId="0" borderId="0" xfId="0"/>';

/** Eight cells a row: numbers, a shared text, a formula of the user's own and one of ours. */
const rowXml = (r: number) =>
  `<row r="${r}" spans="1:8"><c r="A${r}" s="1"><v>${r * 1.5}</v></c><c r="B${r}"><v>${r % 7}</v></c>` +
  `<c r="C${r}" t="s"><v>${r % 50}</v></c><c r="D${r}"><v>28</v></c>` +
  `<c r="E${r}" s="1"><f>A${r}*B${r}</f><v>${r * 1.5 * (r % 7)}</v></c>` +
  `<c r="F${r}"><f>GRIT.PASSTIME(A${r},D${r},15)</f><v>2.5</v></c><c r="G${r}" s="1"/><c r="H${r}"><v>0.25</v></c></row>`;

function workbook(rows: number, merges: number): Uint8Array {
  const data = Array.from({ length: rows }, (_, i) => rowXml(i + 1));
  const merged = Array.from({ length: merges }, (_, i) => `<mergeCell ref="A${i * 2 + 1}:B${i * 2 + 2}"/>`);
  const behind = merges > 0 ? `<mergeCells count="${merges}">${merged.join("")}</mergeCells>` : "";
  return book({ styles: STYLES("", BOLD), strings: STRINGS, sheets: { Plan: sheet(data.join(""), behind) } });
}

it("measures both copies by rows and by merged cells", () => {
  const lines = [
    [10_000, 0],
    [100_000, 0],
    [100_000, 50_000],
    [250_000, 0],
  ].map(([rows, merges]) => {
    const bytes = workbook(rows!, merges!);
    const took = race(
      {
        calculating: () => calculatingCopy(bytes, OPTIONS),
        price: () => priceOnlyCopy(bytes, { keep: [{ sheet: "Plan" }] }),
      },
      { turns: 3, warmUp: 1 },
    );
    return [rows!.toLocaleString("en-US"), merges!.toLocaleString("en-US"), took.calculating / 1000, took.price / 1000];
  });
  report(
    "Copies of large workbooks",
    table(["rows", "merged cells", "calculating copy, s", "price-only copy, s"], lines),
  );
});
