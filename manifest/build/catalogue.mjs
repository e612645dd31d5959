/**
 * Reads the rooms' doc comments, the single source of what the spreadsheet, the pane, the README and the tests know
 * about a function. `readCatalogue()` gives everything; `readMetadata()` gives the host's functions.json.
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import metadata from "custom-functions-metadata";
import ts from "typescript";

/**
 * @typedef {object} Entry One custom function, as its doc comment tells it.
 * @property {string} id
 * @property {string} room
 * @property {string} functionName
 * @property {string} summary
 * @property {string} remarks
 * @property {{ name: string, text: string, optional: boolean }[]} params
 * @property {string} returns
 * @property {{ call: string, value: string, source: string }[]} examples
 * @property {{ call: string, code: string, message: string }[]} fails
 * @property {string} plain
 * @property {string} source
 */

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), "../..");
const FUNCTIONS = join(ROOT, "functions");
const ROOM_ORDER = ["grit", "coverage", "cutting", "tooling", "liquids", "price", "jobs", "planning", "exposure"];

/** The files that hold custom functions, in the order a reader meets them. */
export function roomFiles() {
  const rooms = readdirSync(FUNCTIONS)
    .filter((file) => file.endsWith(".ts") && readFileSync(join(FUNCTIONS, file), "utf8").includes("@customfunction"))
    .map((file) => basename(file, ".ts"));
  const place = (room) => (ROOM_ORDER.includes(room) ? ROOM_ORDER.indexOf(room) : ROOM_ORDER.length);
  return rooms.sort((a, b) => place(a) - place(b)).map((room) => join(FUNCTIONS, `${room}.ts`));
}

const textOf = (comment) => ts.getTextOfJSDocComment(comment)?.trim() ?? "";

/** "a → b | kind: source" → its three parts. */
function example(text, file) {
  const match = /^(=GRIT\..*?) → (.*?) \| ((?:published|library|hand|identity|common practice)(?::.*)?)$/s.exec(text);
  if (!match) throw new Error(`${file}: @example must read "=GRIT.X(…) → value | kind: source", not "${text}"`);
  return { call: match[1], value: match[2], source: match[3] };
}

function failure(text, file) {
  const match = /^(=GRIT\..*?) → (#[A-Z/]+[!?]?) (.+)$/s.exec(text);
  if (!match) throw new Error(`${file}: @fails must read "=GRIT.X(…) → #CODE! message", not "${text}"`);
  return { call: match[1], code: match[2], message: match[3] };
}

function entry(declaration, file) {
  const doc = declaration.jsDoc.at(-1);
  const tags = doc.tags ?? [];
  const named = (name) => tags.filter((tag) => tag.tagName.text === name).map((tag) => textOf(tag.comment));
  const id = named("customfunction")[0];
  const params = tags.filter(ts.isJSDocParameterTag).map((tag) => ({
    name: tag.name.getText(),
    text: textOf(tag.comment),
    optional: tag.isBracketed,
  }));
  const entry = {
    id,
    room: basename(file, ".ts"),
    functionName: declaration.name.text,
    summary: textOf(doc.comment).replace(/\s+/g, " "),
    remarks: named("remarks").join(" ").replace(/\s+/g, " "),
    params,
    returns: named("returns")[0] ?? "",
    examples: named("example").map((text) => example(text.replace(/\s+/g, " "), file)),
    fails: named("fails").map((text) => failure(text.replace(/\s+/g, " "), file)),
    plain: named("plain")[0] ?? "",
    source: named("source")[0]?.replace(/\s+/g, " ") ?? "",
  };
  const problems = problemsOf(entry, declaration);
  if (problems.length > 0) throw new Error(`${file}, ${id}: ${problems.join("; ")}`);
  return entry;
}

/** What a doc comment lacks; a function with any of these fails the build. */
function problemsOf(entry, declaration) {
  const declared = declaration.parameters.map((p) => p.name.getText());
  const optional = declaration.parameters.map((p) => p.questionToken !== undefined);
  const commented = entry.params.map((p) => p.name);
  const checks = [
    [/^[A-Z][A-Z0-9_.]{2,63}$/.test(entry.id ?? ""), "the id is not one Excel takes"],
    [
      entry.summary.length > 0 && entry.summary.length <= 1024,
      "a sentence before the first tag, at most 1024 characters",
    ],
    [commented.join() === declared.join(), `parameters in the comment (${commented}) are not the code's (${declared})`],
    [entry.params.every((p, i) => p.optional === optional[i]), "brackets mark exactly the optional parameters"],
    [
      entry.params.every((p) => p.text.length > 0 && p.text.length <= 512),
      "each parameter has a text of at most 512 characters",
    ],
    [entry.returns.length > 0, "@returns with the unit"],
    [entry.examples.length >= 2, "at least two @example lines"],
    [entry.fails.length >= 1, "at least one @fails line"],
    [entry.plain.length > 0, "@plain: a formula, or none and why"],
    [entry.source.length > 0, "@source"],
  ];
  return checks.filter(([ok]) => !ok).map(([, what]) => what);
}

/**
 * Every custom function with all that its comment says.
 * @returns {Entry[]}
 */
export function readCatalogue() {
  const entries = roomFiles().flatMap((file) => {
    const source = ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true);
    return source.statements
      .filter(
        (node) =>
          ts.isFunctionDeclaration(node) && node.jsDoc?.at(-1)?.tags?.some((t) => t.tagName.text === "customfunction"),
      )
      .map((node) => entry(node, file));
  });
  const ids = entries.map((e) => e.id);
  const twice = ids.filter((id, i) => ids.indexOf(id) !== i);
  if (twice.length > 0) throw new Error(`ids used twice: ${twice}`);
  return entries;
}

/** The pick list that Excel offers for every `units` argument. */
const UNITS = {
  id: "UNITS",
  type: "string",
  values: [
    { name: "us", stringValue: "us", tooltip: "Feet, inches, pounds, US gallons" },
    { name: "metric", stringValue: "metric", tooltip: "Metres, millimetres, kilograms, litres" },
  ],
};

/** The host's metadata, and which function answers to which id, by file. */
export async function readMetadata() {
  const { metadataJson, associate, errors } = await metadata.generateCustomFunctionsMetadata(roomFiles());
  if (errors.length > 0) throw new Error(errors.join("\n"));
  const { functions } = JSON.parse(metadataJson);
  for (const { parameters, result } of functions) {
    result.type ??= "any";
    for (const parameter of parameters) if (parameter.name === "units") parameter.customEnumId = UNITS.id;
  }
  // allowErrorForDataTypeAny: without it one error cell in a range keeps the whole range from reaching the function.
  const json = { allowErrorForDataTypeAny: true, allowCustomDataForDataTypeAny: false, functions, enums: [UNITS] };
  return { json: JSON.stringify(json, null, 2), associate };
}
