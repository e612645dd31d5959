/** How large what ships may be, gzipped: a build that is larger fails, and writes nothing. */
import { gzipSync } from "node:zlib";
import webpack from "webpack";

/** Files that count together, and kilobytes (of 1000 bytes) that they may have. */
export const BUDGET = [
  { what: "functions.js", files: /^functions\.js$/, most: 40 },
  { what: "pane.js", files: /^pane\.js$/, most: 90 },
  // It runs in a thread of its own, so it brings along what the pane has a part for too.
  { what: "the worker that makes copies", files: /^pane-share\.js$/, most: 50 },
  {
    what: "the other parts that the pane loads when they are asked for",
    files: /^pane-(?!(?:share|installation)\.)[^/]+\.js$/,
    most: 200,
  },
  // Nobody needs it to work: it's pressed once, where an installation is new.
  { what: "the check of an installation", files: /^pane-installation\.js$/, most: 18 },
  { what: "pane.css", files: /^pane\.css$/, most: 12 },
];

/** Level 9, as `gzip -9` and most servers have it for files that do not change. */
const gzipped = (content) => gzipSync(content, { level: 9 }).length;

/**
 * What each line of a budget comes to; only lines that some file belongs to.
 * @param {Readonly<Record<string, string | Uint8Array>>} files by name
 * @param {readonly { what: string, files: RegExp, most: number }[]} [budget]
 */
export function sizesOf(files, budget = BUDGET) {
  return budget.flatMap(({ what, files: belongs, most }) => {
    const names = Object.keys(files).filter((name) => belongs.test(name));
    const bytes = names.reduce((sum, name) => sum + gzipped(files[name]), 0);
    return names.length > 0 ? [{ what, size: bytes / 1000, most }] : [];
  });
}

export class BudgetPlugin {
  constructor(budget = BUDGET) {
    this.budget = budget;
  }
  apply(compiler) {
    compiler.hooks.thisCompilation.tap("BudgetPlugin", (compilation) => {
      // What is minified counts, so this looks when all that changes files is done.
      compilation.hooks.afterProcessAssets.tap("BudgetPlugin", (assets) => {
        const files = Object.fromEntries(Object.entries(assets).map(([name, asset]) => [name, asset.buffer()]));
        for (const { what, size, most } of sizesOf(files, this.budget)) {
          if (size <= most) continue;
          const text = `${what}: ${size.toFixed(1)} kB gzipped, and the budget (manifest/build/budget.mjs) is ${most} kB. Nothing was written.`;
          compilation.errors.push(new webpack.WebpackError(text));
        }
      });
    });
  }
}
