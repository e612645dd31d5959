/**
 * Writes dist/preview/demo.json, which the preview opens, and dist/example.xlsx and dist/example-plain.xlsx: the demo
 * with our formulas, and its copy without the add-in. Its own process: it starts a spreadsheet engine, which the build
 * of everything else need not wait for.
 */
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { ROOT, readCatalogue, readMetadata } from "./catalogue.mjs";

// Among the packages, so that it finds them.
const BUNDLE = join(ROOT, "node_modules/.cache/gritledger/example.mjs");

await build({
  entryPoints: [join(ROOT, "addin/preview/example.ts")],
  outfile: BUNDLE,
  bundle: true,
  platform: "node",
  format: "esm",
  target: "es2022",
  packages: "external",
  logLevel: "error",
});
const { examples } = await import(pathToFileURL(BUNDLE).href);
const { version } = JSON.parse(readFileSync(join(ROOT, "package.json"), "utf8"));
const catalogue = readCatalogue();
const { workbook, plain, demo } = await examples(catalogue, readMetadata(catalogue), version);
mkdirSync(join(ROOT, "dist/preview"), { recursive: true });
writeFileSync(join(ROOT, "dist/preview/demo.json"), demo);
writeFileSync(join(ROOT, "dist/example.xlsx"), workbook);
writeFileSync(join(ROOT, "dist/example-plain.xlsx"), plain);
