/**
 * Serves dist/ on this machine: `node manifest/build/serve.mjs` shows the preview in a browser;
 * with `--https` it serves the add-in to Excel. The headers are those a real host should send too.
 */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { createServer as createHttpServer } from "node:http";
import { createServer as createHttpsServer } from "node:https";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import sirv from "sirv";
import { DEVELOPMENT_HOST } from "../facts.mjs";

const DIST = join(dirname(fileURLToPath(import.meta.url)), "../../dist");
const FIRST_PORT = 3000;
const PORTS_TO_TRY = 20;

const OFFICE_CDN = "https://appsforoffice.microsoft.com";
// Where Excel on the web shows a pane: its own frame, inside a page of the user's files. From memory, not tried.
const EXCEL_ON_THE_WEB = [
  "https://*.officeapps.live.com",
  "https://*.live.com",
  "https://*.office.com",
  "https://*.sharepoint.com",
  "https://*.microsoft365.com",
  "https://*.cloud.microsoft",
];

const policy = (directives) => {
  const base = {
    "default-src": ["'none'"],
    "object-src": ["'none'"],
    "base-uri": ["'none'"],
    "form-action": ["'none'"],
    "frame-ancestors": ["'none'"],
  };
  return Object.entries({ ...base, ...directives })
    .map(([name, sources]) => `${name} ${sources.join(" ")}`)
    .join("; ");
};

const OWN = ["'self'"];
// The pane's components style themselves through adopted style sheets, which no policy restricts.
const PANE = { "script-src": OWN, "style-src": OWN, "img-src": [...OWN, "data:"], "connect-src": OWN };
// The embedded spreadsheet writes style elements and draws its pictures from memory.
const SPREADSHEET = {
  ...PANE,
  "style-src": [...OWN, "'unsafe-inline'"],
  "img-src": [...OWN, "data:", "blob:"],
  "font-src": [...OWN, "data:"],
  "frame-src": OWN,
};

const POLICIES = {
  "/pane.html": policy({
    ...PANE,
    "script-src": [...OWN, OFFICE_CDN],
    "frame-ancestors": [...OWN, ...EXCEL_ON_THE_WEB],
  }),
  "/preview/pane.html": policy({ ...PANE, "frame-ancestors": OWN }),
  "/preview/": policy(SPREADSHEET),
};
const OTHER_PAGES = policy({ "style-src": [...OWN, "'unsafe-inline'"], "img-src": OWN });

const REDIRECTS = { "/": "/preview/", "/preview": "/preview/", "/preview/index.html": "/preview/" };

function setHeaders(response, path) {
  response.setHeader("Content-Security-Policy", POLICIES[path] ?? OTHER_PAGES);
  response.setHeader("X-Content-Type-Options", "nosniff");
  response.setHeader("Cache-Control", "no-store");
  // Excel on the web fetches these from a page of its own.
  if (/\.(js|json)$/.test(path)) response.setHeader("Access-Control-Allow-Origin", "*");
}

function handlerOf(directory) {
  const files = sirv(directory, { dev: true, setHeaders });
  return (request, response) => {
    const to = REDIRECTS[request.url.split("?")[0]];
    if (!to) return files(request, response);
    response.writeHead(302, { Location: to }).end();
  };
}

async function serverOf(handler, https) {
  if (!https) return createHttpServer(handler);
  const { getHttpsServerOptions } = await import("office-addin-dev-certs");
  return createHttpsServer(await getHttpsServerOptions(), handler);
}

/** Resolves to whether the port was free. */
function listen(server, port) {
  return new Promise((resolve, reject) => {
    const failed = (error) => (error.code === "EADDRINUSE" ? resolve(false) : reject(error));
    server.once("error", failed);
    server.listen(port, "localhost", () => {
      server.off("error", failed);
      resolve(true);
    });
  });
}

/**
 * Starts serving and resolves to the address and a way to stop. A port given must be free;
 * without one the first free port from 3000 on is taken.
 * @param {{ port?: number, https?: boolean, directory?: string }} [options]
 */
export async function serve({ port, https = false, directory = DIST } = {}) {
  const server = await serverOf(handlerOf(directory), https);
  const candidates = port === undefined ? Array.from({ length: PORTS_TO_TRY }, (_, i) => FIRST_PORT + i) : [port];
  for (const candidate of candidates) {
    if (!(await listen(server, candidate))) continue;
    return {
      url: `${https ? "https" : "http"}://localhost:${server.address().port}`,
      close: () =>
        new Promise((resolve) => {
          server.close(resolve);
          server.closeAllConnections();
        }),
    };
  }
  const taken = candidates.length > 1 ? `ports ${candidates[0]} to ${candidates.at(-1)} are` : `port ${port} is`;
  throw new Error(`${taken} in use; stop what uses it, or set PORT to another`);
}

/** Shows a page where there is a screen; where there is none, or no browser, the printed address is enough. */
function openBrowser(url) {
  const hasScreen = process.platform !== "linux" || process.env.DISPLAY || process.env.WAYLAND_DISPLAY;
  if (!hasScreen) return;
  const openers = { darwin: ["open"], win32: ["cmd", "/c", "start", ""] };
  const [command, ...args] = openers[process.platform] ?? ["xdg-open"];
  const opener = spawn(command, [...args, url], { stdio: "ignore", detached: true });
  opener.on("error", () => {});
  opener.unref();
}

const SIDELOAD = `In Excel, add the development copy, dist/manifest.dev.xml:
  on the web   Home > Add-ins > Advanced > Upload My Add-in
  Windows      put it in a shared folder listed under File > Options > Trust Center > Trusted Add-in Catalogs
  Mac          copy it to ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef and restart Excel`;

function portFrom(text) {
  if (text === undefined) return undefined;
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65535) throw new Error(`PORT must be a port number; got "${text}"`);
  return port;
}

async function main(args) {
  if (!existsSync(DIST)) throw new Error("there is no dist folder yet: run npm run build first");
  const https = args.includes("--https");
  // The development manifest names its port, so Excel can be served on no other.
  const port = https ? Number(new URL(DEVELOPMENT_HOST).port) : portFrom(process.env.PORT);
  const { url, close } = await serve({ port, https });
  for (const signal of ["SIGINT", "SIGTERM"]) process.once(signal, close);
  console.log(https ? `Serving the add-in at ${url}\n${SIDELOAD}` : `Preview: ${url}/preview/`);
  console.log("Stop with Ctrl+C.");
  if (!https) openBrowser(`${url}/preview/`);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  await main(process.argv.slice(2)).catch((error) => {
    console.error(error.message);
    process.exitCode = 1;
  });
}
