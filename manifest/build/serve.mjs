/**
 * Serves dist/ on this machine: `node manifest/build/serve.mjs` shows the preview in a browser;
 * with `--https` it serves the add-in to Excel.
 */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { createServer as createHttpServer } from "node:http";
import { createServer as createHttpsServer } from "node:https";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import sirv from "sirv";
import { DEVELOPMENT_HOST } from "../facts.mjs";
import { headersOf } from "./headers.mjs";

const DIST = join(dirname(fileURLToPath(import.meta.url)), "../../dist");
const FIRST_PORT = 3000;
const PORTS_TO_TRY = 20;

const REDIRECTS = { "/": "/preview/", "/preview": "/preview/", "/preview/index.html": "/preview/" };

function setHeaders(response, path) {
  for (const [name, value] of Object.entries(headersOf(path.slice(1)))) response.setHeader(name, value);
  // A new build must show at once.
  response.setHeader("Cache-Control", "no-store");
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
  const taken = candidates.length > 1 ? `Ports ${candidates[0]} to ${candidates.at(-1)} are` : `Port ${port} is`;
  throw new Error(`${taken} in use. Stop the program that uses it, or set PORT to another port.`);
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

const SIDELOAD = `Add the development copy, dist/manifest.dev.xml, to Excel:
  web       Home > Add-ins > More add-ins > My add-ins > Upload my add-in
  Windows   put it in a shared folder listed under File > Options > Trust Center > Trusted Add-in Catalogs
  Mac       copy it to ~/Library/Containers/com.microsoft.Excel/Data/Documents/wef and restart Excel`;

function portFrom(text) {
  if (text === undefined) return undefined;
  const port = Number(text);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    throw new Error(`PORT must be a number from 0 to 65535; got "${text}".`);
  return port;
}

async function main(args) {
  if (!existsSync(DIST)) throw new Error("Nothing is built yet. Run npm run build first.");
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
