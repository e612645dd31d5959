/**
 * The help on the functions, one static page from what the build knows about them, and the addresses that lead Excel's
 * users there.
 */
import { FILES } from "../facts.mjs";
import { page } from "./page.mjs";
import { titleOf } from "./readme.mjs";

const GRINDING =
  "Grinding makes respirable silica dust, noise and vibration. Plan for dust collection, respirators, hearing " +
  "protection and limited hours.";
/** What a reader must know before using a topic's numbers. */
const CAUTIONS = {
  coverage: GRINDING,
  cutting: GRINDING,
  tooling: "Unplug or lock out the machine before anyone changes tools. Grinders draw heavy power, often beside water.",
  liquids:
    "Wet floors and fresh coats are slippery. Follow the product's data sheet, and test the slip resistance of the " +
    "finished floor.",
  price: "An estimate, no more. Check it against your own jobs before you quote.",
  exposure:
    "Planning figures for one person's day, not a permission. Local law, the maker's instructions and a licensed " +
    "professional come first. Only measurements on the job show what a crew is exposed to.",
};

const ENTITIES = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text) => text.replace(/[&<>"]/g, (character) => ENTITIES[character]);
const code = (text) => `<code>${escaped(text)}</code>`;

// A longer formula helps nobody on a page; the pane takes it apart with the numbers of a cell.
const LONGEST_FORMULA = 220;
const IN_THE_PANE =
  "Too long to read here. Select a cell with this function and use <b>Show the math</b> on the Functions tab of the pane.";

/** A plain formula by the names of its arguments, in one system of units; nothing when it has marks of other kinds. */
function formulaIn(plain, system) {
  const formula = plain
    .replace(/\{units:([^{}|]*)\|([^{}|]*)\}/g, (_, us, metric) => (system === "us" ? us : metric))
    .replace(/\{(\w+):(size|nearest)\}/g, "$2($1)")
    .replace(/\{([a-zA-Z]+)\}/g, "$1");
  return /[{}]/.test(formula) || formula.length > LONGEST_FORMULA ? undefined : formula;
}

/**
 * The plain formula of a function as HTML: one line, or one for each system of units.
 * @param {{ plain: string, noPlain?: string | undefined }} function_
 */
export function plainFormula({ plain, noPlain }) {
  if (noPlain) return `No plain formula: ${escaped(noPlain)}.`;
  const [us, metric] = ["us", "metric"].map((system) => formulaIn(plain, system));
  if (us === undefined || metric === undefined) return IN_THE_PANE;
  const note = /:(size|nearest)\}/.test(plain) ? " Sizes are those of the published grit tables." : "";
  if (us === metric) return `${code(us)}${note}`;
  return `US: ${code(us)}<br>Metric: ${code(metric)}${note}`;
}

const EVIDENCE = {
  published: "Published",
  library: "By an independent library",
  hand: "By hand",
  identity: "By definition",
  "common practice": "Common practice",
};

/** "hand: 2 × 3" → "By hand: 2 × 3". */
const evidence = (source) => source.replace(/^(common practice|\w+)/, (kind) => EVIDENCE[kind] ?? kind);

const list = (items) => `<ul>\n${items.map((item) => `  <li>${item}</li>`).join("\n")}\n</ul>`;

const argumentRow = ({ name, text, optional }) =>
  `<tr><th scope="row">${code(name)}${optional ? " (optional)" : ""}</th><td>${escaped(text)}</td></tr>`;

/** Headings and what stands under them; a part without content is left out. */
const part = (title, content) => (content ? `<h4>${title}</h4>\n${content}` : "");

function functionSection({ id, summary, remarks, params, returns, examples, fails, plain, noPlain, source }) {
  const names = params.map(({ name, optional }) => (optional ? `[${name}]` : name));
  return `<section id="${id}">
<h3>${id}</h3>
<p>${code(`=GRIT.${id}(${names.join(", ")})`)}</p>
<p>${escaped(summary)}</p>
${[
  part("Arguments", params.length > 0 ? `<table>\n${params.map(argumentRow).join("\n")}\n</table>` : ""),
  part("Result", `<p>${escaped(returns)}</p>`),
  part(
    "Examples",
    list(
      examples.map(({ call, value, source }) => `${code(call)} gives ${code(value)}<br>${escaped(evidence(source))}`),
    ),
  ),
  part(
    "Errors",
    list(fails.map(({ call, code: kind, message }) => `${code(call)} gives ${code(kind)}: ${escaped(message)}`)),
  ),
  part("Plain formula", `<p>${plainFormula({ plain, noPlain })}</p>`),
  part("Source", `<p>${escaped(source)}</p>`),
  part("Good to know", remarks && `<p>${escaped(remarks)}</p>`),
]
  .filter(Boolean)
  .join("\n")}
</section>`;
}

const topicSection = (topic, entries) => `<h2 id="${topic}">${escaped(titleOf(topic))}</h2>
${CAUTIONS[topic] ? `<p class="caution"><b>Caution:</b> ${escaped(CAUTIONS[topic])}</p>\n` : ""}${entries.map(functionSection).join("\n")}`;

/**
 * The page, with an anchor for each function.
 * @param {import("./catalogue.mjs").Entry[]} catalogue
 */
export function helpPage(catalogue) {
  const topics = [...new Set(catalogue.map(({ topic }) => topic))];
  const within = (topic) => catalogue.filter((entry) => entry.topic === topic);
  const links = (topic) => within(topic).map(({ id }) => `<a href="#${id}">${id}</a>`);
  const text = `<h1>Functions</h1>
<p>
Where an argument shows two units, the first is for US units and the second for metric. <code>units</code> is "us" or
"metric"; left out, it is "us". Fractions are fractions: 20% is 0.2. Any argument that takes one value also takes a
range, and the result spills.
</p>
<p class="caution">
<b>Caution:</b> Every number is an estimate for planning. For silica dust, noise, vibration, electricity and slip
resistance, local codes, manufacturers' instructions and licensed practice come first.
</p>
<nav aria-label="Functions">
<dl>
${topics.map((topic) => `<dt><a href="#${topic}">${escaped(titleOf(topic))}</a></dt>\n<dd>${links(topic).join(", ")}</dd>`).join("\n")}
</dl>
</nav>
${topics.map((topic) => topicSection(topic, within(topic))).join("\n")}`;
  // Its folder is one down.
  return page(text, (file) => (file === FILES.help ? file.split("/").at(-1) : `../${file}`));
}

/** The host's metadata with each function's address in the help; `host` serves the page. */
export function withHelp(metadata, host) {
  const json = JSON.parse(metadata);
  const functions = json.functions.map((fn) => ({ ...fn, helpUrl: `${host}/${FILES.help}#${fn.id}` }));
  return JSON.stringify({ ...json, functions }, null, 2);
}
