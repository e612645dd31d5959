/** A workbook in IronCalc, an engine that knows nothing of our code: every sheet of it, calculated. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { read, utils } from "@e965/xlsx";
import { initSync, Model } from "@ironcalc/wasm";

initSync({ module: readFileSync(createRequire(import.meta.url).resolve("@ironcalc/wasm/wasm_bg.wasm")) });

/** A cell as one types it: a text as a formula, for one that looks like a formula is none. */
function typed({ t, f, v, w }: { t?: string; f?: string; v?: unknown; w?: string }): string {
  if (f !== undefined) return `=${f}`;
  if (t === "e") return `=${w}`;
  if (typeof v === "string") return `="${v.replaceAll('"', '""').replaceAll("\n", " ")}"`;
  return String(v).toUpperCase();
}

/** The cells of its first sheet, with all their digits. */
export function calculated(bytes: Uint8Array): (address: string) => string {
  // A formula that has no value yet is a stub to this reader.
  const { SheetNames, Sheets } = read(bytes, { sheetStubs: true });
  const model = new Model("copy", "en", "UTC", "en");
  model.pauseEvaluation();
  for (const [i, name] of SheetNames.entries()) {
    if (i > 0) model.newSheet();
    model.renameSheet(i, name);
  }
  for (const [i, name] of SheetNames.entries()) {
    for (const [address, cell] of Object.entries(Sheets[name]!)) {
      if (address.startsWith("!") || (cell.t === "z" && cell.f === undefined)) continue;
      const { r, c } = utils.decode_cell(address);
      model.setUserInput(i, r + 1, c + 1, typed(cell));
    }
  }
  model.resumeEvaluation();
  model.evaluate();
  // Or every change of a format would calculate all of it again.
  model.pauseEvaluation();
  return (address) => {
    const { r, c } = utils.decode_cell(address);
    model.updateRangeStyle(
      { sheet: 0, row: r + 1, column: c + 1, width: 1, height: 1 },
      "num_fmt",
      "0.000000000000000E+00",
    );
    return model.getFormattedCellValue(0, r + 1, c + 1);
  };
}
