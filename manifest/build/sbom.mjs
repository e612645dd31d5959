/**
 * The bill of materials of what ships, in CycloneDX: every package that the "dependencies" of package.json lead to, from
 * package-lock.json alone, so that it needs no network and the same lock file gives the same bill.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { ROOT } from "./catalogue.mjs";

/** Where Node finds a package that another one asks for: in the nearest folder of packages on the way up. */
function pathOf(name, from, packages) {
  for (let folder = from; ; folder = folder.slice(0, Math.max(0, folder.lastIndexOf("/node_modules/")))) {
    const path = `${folder === "" ? "" : `${folder}/`}node_modules/${name}`;
    if (packages[path]) return path;
    if (folder === "") return undefined;
  }
}

/** The packages that one asks for and that are installed; what it can do without may be missing. */
function pathsFrom(path, packages, names) {
  const {
    dependencies = {},
    optionalDependencies = {},
    peerDependencies = {},
    peerDependenciesMeta = {},
  } = packages[path];
  const mayLack = (name) => name in optionalDependencies || peerDependenciesMeta[name]?.optional;
  const asked = names ?? Object.keys({ ...dependencies, ...optionalDependencies, ...peerDependencies });
  return asked.flatMap((name) => {
    const found = pathOf(name, path, packages);
    if (!found && !mayLack(name))
      throw new Error(`package-lock.json has no ${name}, which ${path || "package.json"} needs`);
    return found ?? [];
  });
}

const nameOf = (path) => path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);
const purlOf = (name, version) => `pkg:npm/${name.replace("@", "%40")}@${version}`;
/** An SPDX id has no blanks; anything else is a name of its own. */
const licenseOf = (text) => ({ license: /^[\w.-]+$/.test(text) ? { id: text } : { name: text } });

/** "sha512-…" in base64, as npm writes it, in the form that CycloneDX wants. */
function hashOf(integrity) {
  const [algorithm, digest] = integrity.split("-");
  return { alg: algorithm.replace("sha", "SHA-"), content: Buffer.from(digest, "base64").toString("hex") };
}

function component(path, packages) {
  const { version, license, integrity } = packages[path];
  const name = nameOf(path);
  const purl = purlOf(name, version);
  if (!license) throw new Error(`package-lock.json tells no license of ${name}`);
  return {
    type: "library",
    "bom-ref": purl,
    name,
    version,
    hashes: [hashOf(integrity)],
    licenses: [licenseOf(license)],
    purl,
  };
}

/**
 * The bill as text.
 * @param {string[]} [also] Packages that ship besides the dependencies.
 */
export function buildSbom(also = [], lock = JSON.parse(readFileSync(join(ROOT, "package-lock.json"), "utf8"))) {
  const { packages } = lock;
  const { name, version, license, dependencies = {} } = packages[""];
  const roots = pathsFrom("", packages, [...Object.keys(dependencies), ...also]);
  const edges = new Map();
  for (const waiting = [...roots]; waiting.length > 0; ) {
    const path = waiting.pop();
    if (edges.has(path)) continue;
    edges.set(path, pathsFrom(path, packages));
    waiting.push(...edges.get(path));
  }
  const paths = [...edges.keys()].sort();
  const refOf = (path) => purlOf(nameOf(path), packages[path].version);
  const own = purlOf(name, version);
  const bill = {
    bomFormat: "CycloneDX",
    specVersion: "1.5",
    version: 1,
    metadata: {
      component: { type: "application", "bom-ref": own, name, version, licenses: [licenseOf(license)], purl: own },
    },
    components: paths.map((path) => component(path, packages)),
    dependencies: [
      { ref: own, dependsOn: roots.map(refOf).sort() },
      ...paths.map((path) => ({ ref: refOf(path), dependsOn: edges.get(path).map(refOf).sort() })),
    ],
  };
  return `${JSON.stringify(bill, null, 2)}\n`;
}
