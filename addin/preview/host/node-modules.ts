/** The spreadsheet engine in Node: its CommonJS builds, because its ES modules import one package that Node refuses. */
import { createRequire } from "node:module";
import type { UniverModules } from "./modules";

const require = createRequire(import.meta.url);

const PACKAGES = [
  "@univerjs/core",
  "@univerjs/engine-formula",
  "@univerjs/sheets",
  "@univerjs/sheets-formula",
  "@univerjs/sheets-numfmt",
];

export function loadModules() {
  const loaded = Object.assign({}, ...PACKAGES.map((name) => require(name))) as UniverModules &
    Pick<typeof import("@univerjs/engine-formula"), "UniverFormulaEnginePlugin"> &
    Pick<typeof import("@univerjs/sheets"), "UniverSheetsPlugin"> &
    Pick<typeof import("@univerjs/sheets-formula"), "UniverSheetsFormulaPlugin"> &
    Pick<typeof import("@univerjs/sheets-numfmt"), "UniverSheetsNumfmtPlugin">;
  for (const name of PACKAGES.slice(1)) require(`${name}/facade`);
  const { FUniver } = require("@univerjs/core/facade") as typeof import("@univerjs/core/facade");
  return { ...loaded, FUniver };
}
