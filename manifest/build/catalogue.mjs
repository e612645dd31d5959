/**
 * What the spreadsheet, the pane, the README and the tests know about a function, from its declaration (what each argument
 * is) and its doc comment (the sentence, examples, plain formula and source). `readCatalogue()` gives everything;
 * `readMetadata()` gives the host's functions.json. Where the two disagree, or something is missing, the build fails.
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "@typescript/typescript6";
import { buildSync } from "esbuild";
import { problemsInExamples } from "./examples.mjs";

/**
 * @typedef {object} Entry One custom function, as its declaration and its doc comment have it.
 * @property {string} id
 * @property {string} topic
 * @property {string} summary
 * @property {string} remarks
 * @property {import("../../functions/describe").Parameter[]} params
 * @property {string} returns
 * @property {import("../../functions/describe").Outcome} outcome
 * @property {boolean} isInTurn
 * @property {{ call: string, value: string, source: string }[]} examples
 * @property {{ call: string, code: string, message: string }[]} fails
 * @property {string} plain Empty where there is no plain formula.
 * @property {string} [noPlain] Why there is none.
 * @property {string} source
 * @property {string} words Trade words by which people look for it, besides those in its texts.
 */

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), "../..");
const FUNCTIONS = join(ROOT, "functions");

/** The error class that a host has. */
class HostError {
  constructor(code, message) {
    Object.assign(this, { code, message });
  }
}

/** The declarations, from the sources. */
function load() {
  const contents = 'export { FUNCTIONS, TOPICS } from "./topics"; export { described } from "./describe";';
  const { outputFiles } = buildSync({
    stdin: { contents, resolveDir: FUNCTIONS, loader: "ts" },
    bundle: true,
    write: false,
    format: "cjs",
    target: "es2022",
    logLevel: "error",
  });
  const module = { exports: {} };
  new Function("module", "CustomFunctions", outputFiles[0].text)(module, { Error: HostError });
  return module.exports;
}

const textOf = (comment) => ts.getTextOfJSDocComment(comment)?.trim().replace(/\s+/g, " ") ?? "";

/** "a → b | kind: source" → its three parts. */
function example(text) {
  const match = /^(=GRIT\..*?) → (.*?) \| ((?:published|library|hand|identity|common practice)(?::.*)?)$/s.exec(text);
  if (!match) throw new Error(`@example must read "=GRIT.X(…) → value | kind: source", not "${text}"`);
  return { call: match[1], value: match[2], source: match[3] };
}

function failure(text) {
  const match = /^(=GRIT\..*?) → (#[A-Z/]+[!?]?) (.+)$/s.exec(text);
  if (!match) throw new Error(`@fails must read "=GRIT.X(…) → #CODE! message", not "${text}"`);
  return { call: match[1], code: match[2], message: match[3] };
}

const isDefinition = ({ initializer }) =>
  initializer !== undefined &&
  ts.isCallExpression(initializer) &&
  ["define", "defineInTurn"].includes(initializer.expression.getText());

/** The names that a file defines functions by, each with its doc comment, in the order of the file. */
function commentsIn(file) {
  const source = ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true);
  return source.statements.filter(ts.isVariableStatement).flatMap((statement) =>
    statement.declarationList.declarations.filter(isDefinition).map((declaration) => ({
      id: declaration.name.getText(),
      doc: statement.jsDoc?.at(-1),
    })),
  );
}

const TAGS = ["words", "remarks", "example", "fails", "plain", "source"];

/** The arguments that a plain formula has marks for. */
const marksIn = (plain) => [...plain.matchAll(/\{([a-zA-Z]+)(?=[:}])/g)].map(([, name]) => name);

/** "none: why" is no plain formula. */
function plainIn(text) {
  const [, why] = /^none: *(.*)$/s.exec(text) ?? [];
  return why === undefined ? { plain: text } : { plain: "", noPlain: why };
}

function entryOf(id, topic, doc, fn, described) {
  const tags = doc?.tags ?? [];
  const named = (name) => tags.filter((tag) => tag.tagName.text === name).map((tag) => textOf(tag.comment));
  const entry = {
    id,
    topic,
    summary: textOf(doc?.comment),
    remarks: named("remarks").join(" "),
    ...described(fn),
    examples: named("example").map(example),
    fails: named("fails").map(failure),
    ...plainIn(named("plain")[0] ?? ""),
    source: named("source")[0] ?? "",
    words: named("words").join(" "),
  };
  const problems = [
    ...tags
      .map((tag) => tag.tagName.text)
      .filter((name) => !TAGS.includes(name))
      .map((name) => `no @${name} here`),
    ...problemsOf(entry),
    ...problemsInExamples(entry, fn),
  ];
  if (problems.length > 0) throw new Error(problems.join("; "));
  return entry;
}

/** What a function lacks; one with any of these fails the build. */
function problemsOf({ id, summary, params, returns, examples, fails, plain, noPlain, source }) {
  const names = params.map(({ name }) => name);
  const unknown = marksIn(plain).filter((name) => !names.includes(name));
  const firstOptional = params.findIndex(({ optional }) => optional);
  const isLong = (text) => text.length > 512;
  const checks = [
    [/^[A-Z][A-Z0-9_.]{2,63}$/.test(id), "the id is not one Excel takes"],
    [summary.length > 0 && summary.length <= 1024, "a sentence before the first tag, at most 1024 characters"],
    [new Set(names).size === names.length, "an argument's name is used twice"],
    [
      firstOptional < 0 || params.slice(firstOptional).every(({ optional }) => optional),
      "optional arguments come last",
    ],
    [![returns, ...params.map(({ text }) => text)].some(isLong), "a text of more than 512 characters"],
    [examples.length >= 2, "at least two @example lines"],
    [fails.length >= 1, "at least one @fails line"],
    [noPlain !== "", "why there is no plain formula"],
    [plain !== "" || noPlain !== undefined, "@plain: a formula, or none and why"],
    [unknown.length === 0, `@plain names ${unknown}, which is no argument`],
    [source.length > 0, "@source"],
  ];
  return checks.filter(([ok]) => !ok).map(([, what]) => what);
}

/** Names of files with functions in them that are no topic. */
function strayFiles(topics) {
  const files = readdirSync(FUNCTIONS).filter((file) => file.endsWith(".ts"));
  return files.filter(
    (file) => !topics.includes(basename(file, ".ts")) && commentsIn(join(FUNCTIONS, file)).length > 0,
  );
}

/**
 * Every custom function with all that its declaration and its comment say.
 * @returns {Entry[]}
 */
export function readCatalogue() {
  const { FUNCTIONS: functions, TOPICS, described } = load();
  const topics = Object.keys(TOPICS);
  const stray = strayFiles(topics);
  if (stray.length > 0) throw new Error(`not in the list of functions/topics.ts: ${stray.join(", ")}`);
  const entries = topics.flatMap((topic) =>
    commentsIn(join(FUNCTIONS, `${topic}.ts`)).map(({ id, doc }) => {
      try {
        if (functions[id] === undefined) throw new Error("it is not exported, or its name is used twice");
        return entryOf(id, topic, doc, functions[id], described);
      } catch (error) {
        throw new Error(`functions/${topic}.ts, ${id}: ${error.message}`);
      }
    }),
  );
  const lost = Object.keys(functions).filter((id) => !entries.some((entry) => entry.id === id));
  if (lost.length > 0 || new Set(entries.map(({ id }) => id)).size < entries.length) {
    throw new Error(`each function must be defined once, by an exported const: ${lost.join(", ")}`);
  }
  return entries;
}

/** The pick list that Excel offers for every `units` argument. */
const UNITS = {
  id: "UNITS",
  type: "string",
  values: [
    { name: "us", stringValue: "us", tooltip: "Feet, inches, pounds, US gallons" },
    { name: "metric", stringValue: "metric", tooltip: "Meters, millimeters, kilograms, liters" },
  ],
};

function parameterMetadata({ name, text, optional, kind }) {
  return {
    name,
    description: text,
    ...(optional && { optional }),
    ...(kind === "units" ? { type: "string", customEnumId: UNITS.id } : { type: "any", dimensionality: "matrix" }),
  };
}

/** The host's metadata, functions.json. */
export function readMetadata(catalogue = readCatalogue()) {
  const functions = catalogue.map(({ id, summary, params }) => ({
    id,
    name: id,
    description: summary,
    parameters: params.map(parameterMetadata),
    result: { type: "any", dimensionality: "matrix" },
  }));
  // allowErrorForDataTypeAny: without it one error cell in a range keeps the whole range from reaching the function.
  const json = { allowErrorForDataTypeAny: true, allowCustomDataForDataTypeAny: false, functions, enums: [UNITS] };
  return JSON.stringify(json, null, 2);
}
