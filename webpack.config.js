import { execFile } from "node:child_process";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import CopyPlugin from "copy-webpack-plugin";
import { EsbuildPlugin } from "esbuild-loader";
import HtmlPlugin from "html-webpack-plugin";
import webpack from "webpack";
import { BudgetPlugin } from "./manifest/build/budget.mjs";
import { readCatalogue, readMetadata } from "./manifest/build/catalogue.mjs";
import { helpPage, withHelp } from "./manifest/build/help-pages.mjs";
import { buildManifests, hostOf } from "./manifest/build/manifests.mjs";
import { shipped } from "./manifest/build/page.mjs";
import { buildSbom } from "./manifest/build/sbom.mjs";
import { themeStyles } from "./manifest/build/theme.mjs";

const ROOT = dirname(fileURLToPath(import.meta.url));
const OFFICE_JS = dirname(createRequire(import.meta.url).resolve("@microsoft/office-js/dist/office.js"));
const OFFICE_CDN = "https://appsforoffice.microsoft.com/lib/1/hosted/office.js";
// The client library loads these beside itself when it finds the Windows host, which the preview plays.
const OFFICE_FILES = ["office.js", "excel-win32-16.01.js", "en-us/office_strings.js"];

const at = (...parts) => join(ROOT, ...parts);
// Its license lets it be handed on unmodified only, so the minimizer must leave it alone.
const copyOffice = (to) =>
  OFFICE_FILES.map((file) => ({ context: OFFICE_JS, from: file, to: `${to}/${file}`, info: { minimized: true } }));

/** The pane's styles in one file: the theme, what all views share, then each view's own. */
const paneStyles = {
  from: at("addin/pane/**/*.css"),
  to: "pane.css",
  transformAll: (files) => {
    const depth = ({ sourceFilename }) => sourceFilename.split("/").length;
    return files.sort((a, b) => depth(a) - depth(b)).reduce((styles, { data }) => `${styles}\n${data}`, themeStyles());
  },
};

/** Emits files whose text the build already has. */
class EmitPlugin {
  constructor(files) {
    this.files = files;
  }
  apply(compiler) {
    compiler.hooks.thisCompilation.tap("EmitPlugin", (compilation) => {
      const stage = webpack.Compilation.PROCESS_ASSETS_STAGE_ADDITIONAL;
      compilation.hooks.processAssets.tap({ name: "EmitPlugin", stage }, () => {
        for (const [name, text] of Object.entries(this.files)) {
          compilation.emitAsset(name, new webpack.sources.RawSource(text));
        }
      });
    });
  }
}

/** Writes the demo and the example workbooks meanwhile, in a process of its own. */
class ExamplesPlugin {
  apply(compiler) {
    let written;
    compiler.hooks.beforeRun.tap("ExamplesPlugin", () => {
      written = promisify(execFile)(process.execPath, [at("manifest/build/example.mjs")]);
      // Whether it failed is asked at the end.
      written.catch(() => {});
    });
    compiler.hooks.afterEmit.tapPromise("ExamplesPlugin", () => written);
  }
}

const shared = (mode) => ({
  mode,
  devtool: mode === "production" ? false : "source-map",
  resolve: { extensions: [".ts", ".js", ".mjs"] },
  performance: { hints: false },
  stats: "errors-warnings",
});

// What is built for development is not minified.
const budget = (mode) => (mode === "production" ? [new BudgetPlugin()] : []);

const typescript = { test: /\.ts$/, loader: "esbuild-loader", options: { target: "es2022" } };

export default (env = {}, { mode = "production" } = {}) => {
  const catalogue = readCatalogue();
  const officeUrl = env.officejs === "self" ? "office/office.js" : OFFICE_CDN;

  const functions = {
    ...shared(mode),
    name: "functions",
    entry: { functions: at("functions/index.ts") },
    // The pane, whose page loads them too, calls the very functions that the spreadsheet calls, by their ids.
    output: {
      path: at("dist"),
      filename: "[name].js",
      library: { name: "gritledgerFunctions", type: "var", export: "FUNCTIONS" },
    },
    module: { rules: [typescript] },
    plugins: [
      ...budget(mode),
      new EmitPlugin({
        "functions.json": withHelp(readMetadata(catalogue), hostOf(env)),
        "help/functions.html": helpPage(catalogue),
        "catalogue.json": JSON.stringify(catalogue),
        ...buildManifests(env),
        "sbom.json": buildSbom(env.officejs === "self" ? ["@microsoft/office-js"] : []),
      }),
      new CopyPlugin({
        patterns: [
          { from: at("manifest/icons/*.png"), to: "icons/[name][ext]" },
          {
            from: at("manifest/pages/*"),
            to: "[name][ext]",
            transform: (text, file) => shipped(file, text.toString()),
          },
        ],
      }),
    ],
  };

  const pane = {
    ...shared(mode),
    name: "pane",
    entry: { pane: at("addin/pane/main.ts") },
    // Parts that are loaded later come from beside pane.js, wherever the page is, and by a name of their own: the
    // preview's scripts run in the same page.
    output: {
      path: at("dist"),
      filename: "[name].js",
      chunkFilename: "pane-[name].js",
      publicPath: "auto",
      uniqueName: "gritledger-pane",
      // Parts of earlier builds under other names would ship with it.
      clean: { keep: (name) => !/^pane-[^/]+\.js$/.test(name) },
    },
    // Modules are imported for what they export, so a part has only those that it uses.
    module: {
      rules: [
        { ...typescript, sideEffects: false },
        { test: /\.ts$/, include: at("functions"), enforce: "pre", loader: at("manifest/build/pure-loader.cjs") },
      ],
    },
    // The worker is one file: what it would load later, a content policy for workers might not let it. What checks an
    // installation, once in years, doesn't cut up the parts that are needed every day. What several parts need is shipped
    // once, however small it is.
    optimization: {
      splitChunks: {
        chunks: (chunk) => !chunk.canBeInitial() && chunk.name !== "share" && chunk.name !== "installation",
        minSize: 1000,
      },
    },
    plugins: [
      ...budget(mode),
      new HtmlPlugin({
        template: at("addin/pane/pane.html"),
        filename: "pane.html",
        inject: false,
        minify: false,
        templateParameters: { headScripts: [officeUrl], scripts: ["functions.js", "pane.js"] },
      }),
      new CopyPlugin({
        patterns: [paneStyles, ...(env.officejs === "self" ? copyOffice(at("dist/office")) : [])],
      }),
    ],
  };

  const preview = {
    ...shared(mode),
    name: "preview",
    entry: {
      page: at("addin/preview/page.ts"),
      preview: { import: at("addin/preview/preview.ts"), runtime: "runtime" },
      "pane-host": at("addin/preview/pane-host.ts"),
    },
    output: { path: at("dist/preview"), filename: "[name].js" },
    cache: { type: "filesystem" },
    module: { rules: [typescript, { test: /\.css$/, use: ["style-loader", "css-loader"] }] },
    // The grid as one function of 6 MB takes the browser three seconds longer to start: whenever an error is made during
    // start-up, V8 parses the whole enclosing function again. Parts also parse side by side, off the main thread.
    optimization: {
      // Minifies megabytes of spreadsheet in seconds instead of minutes.
      minimizer: [new EsbuildPlugin({ target: "es2022", legalComments: "external" })],
      concatenateModules: false,
      splitChunks: { chunks: ({ name }) => name === "preview", maxSize: 1_000_000, filename: "parts/[id].js" },
    },
    plugins: [
      new ExamplesPlugin(),
      // Hyphenation patterns of languages the preview never shows.
      new webpack.IgnorePlugin({
        resourceRegExp: /^\.\/(?!en-gb)[a-z]{2,3}(-[a-z0-9]+)*-[A-Za-z0-9_-]{8}\.js$/,
        contextRegExp: /engine-render/,
      }),
      new HtmlPlugin({
        template: at("addin/preview/index.html"),
        filename: "index.html",
        chunks: ["page", "preview"],
        chunksSortMode: "manual",
        inject: "head",
        minify: false,
      }),
      // The shipped pane, in a frame whose office.js finds the preview's host before it starts.
      new HtmlPlugin({
        template: at("addin/pane/pane.html"),
        filename: "pane.html",
        inject: false,
        minify: false,
        templateParameters: {
          headScripts: ["pane-host.js", "office/office.js"],
          scripts: ["../functions.js", "../pane.js"],
        },
      }),
      new CopyPlugin({
        patterns: [
          paneStyles,
          { from: at("addin/preview/preview.css"), to: "preview.css" },
          ...copyOffice(at("dist/preview/office")),
        ],
      }),
    ],
  };

  return [functions, pane, preview];
};
