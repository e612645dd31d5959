/**
 * The functions as they ship and as a host gets them: dist/functions.js, run, and what it registers. The sources, as the
 * test runner serves them, are slower: each name from another file is looked up in that file's exports at every use.
 */
import { readFileSync } from "node:fs";
import { runInThisContext } from "node:vm";
import { CATALOGUE, type Catalogued } from "../catalogue";

const BUNDLE = new URL("../../dist/functions.js", import.meta.url);

type Registered = (...given: any[]) => any[][];

interface Host {
  associate(id: string, fn: Registered): void;
}

function registered(): ReadonlyMap<string, Registered> {
  const found = new Map<string, Registered>();
  const { CustomFunctions: host } = globalThis as unknown as { CustomFunctions: Host };
  const { associate } = host;
  host.associate = (id, fn) => void found.set(id, fn);
  runInThisContext(readFileSync(BUNDLE, "utf8"), { filename: BUNDLE.pathname });
  host.associate = associate;
  return found;
}

const REGISTERED = registered();

/** Every function, `npm run build` behind it. */
export const SHIPPED: readonly Catalogued[] = CATALOGUE.map((entry) => {
  const registered = REGISTERED.get(entry.id);
  if (!registered) throw new Error(`dist/functions.js does not register ${entry.id}: run npm run build`);
  return { ...entry, shipped: Object.assign(registered, entry.shipped) };
});
