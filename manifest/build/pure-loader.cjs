/**
 * Marks the declarations of custom functions as pure. The pane takes arithmetic from the topics, and calls the functions
 * themselves as the page's functions.js has them, so what declares them there is left out of it.
 */
module.exports = function pure(source) {
  const [, names = ""] = /import \{([^}]*)\} from "\.\/declare"/.exec(source) ?? [];
  const calls = names
    .split(",")
    .map((name) => name.trim())
    .filter((name) => /^[a-z]\w*$/.test(name));
  if (calls.length === 0) return source;
  return source.replace(new RegExp(`(?<![\\w.])(${calls.join("|")})\\(`, "g"), "/* @__PURE__ */ $1(");
};
