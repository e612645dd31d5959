/** The manifests of the released add-in and of the development copy, in both formats, and what their host needs. */
import { COPIES, DEVELOPMENT_HOST, VERSION } from "../facts.mjs";
import { hostingFiles } from "./headers.mjs";
import { jsonManifest } from "./manifest-json.mjs";
import { xmlManifest } from "./manifest-xml.mjs";

/** The origin (and folder, if any) that serves the add-in, or an error that says what is wrong with it. */
export function checkedHost(host) {
  const say = (problem) => new Error(`host must be like https://floors.example: ${problem}; got "${host}"`);
  if (!URL.canParse(host)) throw say("it is not an address");
  const url = new URL(host);
  if (url.protocol !== "https:") throw say("Excel loads add-ins over https only");
  if (host.endsWith("/")) throw say("leave out the slash at the end");
  if (url.search || url.hash || url.username) throw say("leave out everything after the path, and any user name");
  return host;
}

/** Three numbers: the JSON form takes exactly these, and the XML form a fourth one, 0, after them. */
export function checkedVersion(version) {
  if (!/^\d{1,5}\.\d{1,5}\.\d{1,5}$/.test(version)) {
    throw new Error(`the version in package.json must be three numbers, as in 1.4.0; got "${version}"`);
  }
  return version;
}

/** Where the released add-in is served. */
export const hostOf = (env) => checkedHost(env.host ?? DEVELOPMENT_HOST);

/**
 * File name → text. `env.host` is where the released add-in is served; the development copy is always served from
 * this machine by `npm run start:excel`.
 */
export function buildManifests(env = {}) {
  const version = checkedVersion(VERSION);
  const released = { ...COPIES.released, version, host: hostOf(env) };
  const development = { ...COPIES.development, version, host: DEVELOPMENT_HOST };
  return {
    "manifest.xml": xmlManifest(released),
    "manifest.json": jsonManifest(released),
    "manifest.dev.xml": xmlManifest(development),
    "manifest.dev.json": jsonManifest(development),
    ...hostingFiles(released.host),
  };
}
