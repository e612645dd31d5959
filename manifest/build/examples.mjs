/** Runs the calls that a doc comment gives as examples. */

/** Splits at commas (or another mark) that stand outside quotes and braces. */
function split(text, mark) {
  const parts = [""];
  let quoted = false;
  let depth = 0;
  for (const letter of text) {
    if (letter === '"') quoted = !quoted;
    if (!quoted && letter === "{") depth++;
    if (!quoted && letter === "}") depth--;
    if (letter === mark && !quoted && depth === 0) parts.push("");
    else parts[parts.length - 1] += letter;
  }
  return parts;
}

function literal(text) {
  const trimmed = text.trim();
  if (trimmed === "") return null;
  if (trimmed.startsWith('"')) return trimmed.slice(1, -1).replace(/""/g, '"');
  if (trimmed === "TRUE" || trimmed === "FALSE") return trimmed === "TRUE";
  if (Number.isNaN(Number(trimmed))) throw new Error(`not a literal: ${trimmed}`);
  return Number(trimmed);
}

const matrix = (text) => split(text.slice(1, -1), ";").map((row) => split(row, ",").map(literal));

/** An argument as the host passes it: a block of cells, or null where it was left out; `units` is one plain word. */
function argument(text, name) {
  const trimmed = text.trim();
  if (name === "units") return literal(trimmed);
  if (trimmed.startsWith("{")) return matrix(trimmed);
  const value = literal(trimmed);
  return value === null ? null : [[value]];
}

/**
 * What a call such as =GRIT.SIZE(30) gives.
 * @param {{ id: string, params: readonly { name: string }[] }} entry
 * @param {(...args: any[]) => any[][]} fn
 * @param {string} call
 * @returns {any[][]}
 */
export function runExample({ id, params }, fn, call) {
  const inside = /^=GRIT\.([A-Z0-9.]+)\((.*)\)$/s.exec(call);
  if (inside === null || inside[1] !== id) throw new Error(`${call} does not call ${id}`);
  const parts = inside[2] === "" ? [] : split(inside[2], ",");
  if (parts.length > params.length) throw new Error(`${call} has more arguments than ${id}`);
  try {
    return fn(...parts.map((part, i) => argument(part, params[i].name)));
  } catch (failure) {
    // An error that is all of an answer is thrown.
    if (failure?.code !== undefined) return [[failure]];
    throw failure;
  }
}

/**
 * What the comment says that it gives.
 * @param {string} value
 * @returns {unknown[][]}
 */
export const expectedOf = (value) => (value.startsWith("{") ? matrix(value) : [[literal(value)]]);

const agrees = (found, wanted) =>
  typeof wanted === "number"
    ? typeof found === "number" && Math.abs(found - wanted) <= 1e-9 * Math.abs(wanted)
    : found === (wanted ?? "");

/** What is wrong with the examples of an entry, if anything. */
export function problemsInExamples(entry, fn) {
  const wrong = entry.examples.filter(({ call, value }) => {
    const found = runExample(entry, fn, call);
    const wanted = expectedOf(value);
    return (
      found.length !== wanted.length ||
      found[0].length !== wanted[0].length ||
      !wanted.every((row, r) => row.every((cell, c) => agrees(found[r][c], cell)))
    );
  });
  const silent = entry.fails.filter(({ call, code, message }) => {
    const failed = runExample(entry, fn, call)
      .flat()
      .find((cell) => typeof cell === "object");
    return failed?.code !== code || failed.message !== message;
  });
  return [
    ...wrong.map(({ call, value }) => `${call} does not give ${value}`),
    ...silent.map(({ call, code, message }) => `${call} does not fail with ${code} ${message}`),
  ];
}
