/** Writes the README's table of functions from the doc comments: `npm run readme`. A test fails when it is stale. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { ROOT, readCatalogue } from "./catalogue.mjs";

const README = join(ROOT, "README.md");
const BEGIN = "<!-- functions: written by `npm run readme` from the doc comments -->";
const END = "<!-- end of functions -->";
/** Headings of the rooms. */
export const ROOMS = {
  grit: "Grit",
  coverage: "Coverage",
  cutting: "Cutting",
  tooling: "Tooling",
  liquids: "Liquids",
  price: "Price",
  jobs: "Past jobs",
  planning: "Planning",
  exposure: "Exposure",
};

const inCell = (text) => text.replace(/\|/g, "\\|").replace(/\s+/g, " ");

function functionRow({ id, params, summary, returns, examples }) {
  const args = params.map(({ name, optional }) => (optional ? `[${name}]` : name)).join(", ");
  const { call, value } = examples[0];
  return `| \`${id}(${args})\` | ${inCell(summary)} ${inCell(returns)} | \`${inCell(call)}\` gives \`${inCell(value)}\` |`;
}

export function functionsTable() {
  const catalogue = readCatalogue();
  const rooms = [...new Set(catalogue.map(({ room }) => room))];
  const sections = rooms.map((room) => {
    const rows = catalogue.filter((entry) => entry.room === room).map(functionRow);
    const head = `### ${ROOMS[room]} (${rows.length})\n\n| function | gives | example |\n| --- | --- | --- |`;
    return [head, ...rows].join("\n");
  });
  return `${BEGIN}\n\n${sections.join("\n\n")}\n\n${END}`;
}

/** The README with its table as the doc comments have it now. */
export function currentReadme() {
  const text = readFileSync(README, "utf8");
  const [before, rest] = text.split(BEGIN);
  const after = rest?.split(END)[1];
  if (after === undefined) throw new Error(`README.md must hold the lines\n${BEGIN}\n${END}`);
  return before + functionsTable() + after;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(README, currentReadme());
