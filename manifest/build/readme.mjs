/** Writes the README's table of functions from their declarations: `npm run readme`. A test fails when it is stale. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { ROOT, readCatalogue } from "./catalogue.mjs";

const README = join(ROOT, "README.md");
const BEGIN = "<!-- functions: written by `npm run readme` -->";
const END = "<!-- end of functions -->";
/** A topic whose file is called otherwise than a reader would. */
const TITLES = { jobs: "Past jobs" };
export const titleOf = (topic) => TITLES[topic] ?? topic[0].toUpperCase() + topic.slice(1);

const inCell = (text) => text.replace(/\|/g, "\\|").replace(/\s+/g, " ");

function functionRow({ id, params, summary, returns, examples }) {
  const args = params.map(({ name, optional }) => (optional ? `[${name}]` : name)).join(", ");
  const { call, value } = examples[0];
  return `| \`${id}(${args})\` | ${inCell(summary)} ${inCell(returns)} | \`${inCell(call)}\` gives \`${inCell(value)}\` |`;
}

export function functionsTable() {
  const catalogue = readCatalogue();
  const topics = [...new Set(catalogue.map(({ topic }) => topic))];
  const sections = topics.map((topic) => {
    const rows = catalogue.filter((entry) => entry.topic === topic).map(functionRow);
    const head = `### ${titleOf(topic)} (${rows.length})\n\n| function | gives | example |\n| --- | --- | --- |`;
    return [head, ...rows].join("\n");
  });
  return `${BEGIN}\n\n${sections.join("\n\n")}\n\n${END}`;
}

/** The README with its table as the functions have it now. */
export function currentReadme() {
  const text = readFileSync(README, "utf8");
  const [before, rest] = text.split(BEGIN);
  const after = rest?.split(END)[1];
  if (after === undefined) throw new Error(`README.md must hold the lines\n${BEGIN}\n${END}`);
  return before + functionsTable() + after;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(README, currentReadme());
