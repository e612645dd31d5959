import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import vm from "node:vm";
import { describe, expect, it } from "vitest";
import { BUDGET, sizesOf } from "../../manifest/build/budget.mjs";
import { readCatalogue } from "../../manifest/build/catalogue.mjs";

const dist = join(import.meta.dirname, "../../dist");
const read = (file: string) => readFileSync(join(dist, file), "utf8");
const scripts = readdirSync(dist).filter((file) => file.endsWith(".js"));
const shipped = [...scripts, "pane.css"];

describe("what ships", () => {
  // The build itself refuses to write what is larger; this looks at what is there.
  it("keeps to the budget, every part of it", () => {
    const sizes = sizesOf(Object.fromEntries(shipped.map((file) => [file, read(file)])));
    expect(sizes.map(({ what }) => what)).toEqual(BUDGET.map(({ what }) => what));
    for (const { what, size, most } of sizes) expect(size, what).toBeLessThanOrEqual(most);
  });

  it("loads the making of copies, and what reads formulas, only when asked: none of it in pane.js", () => {
    expect(scripts).toContain("pane-share.js");
    // The note sheet's name, which is in no other part.
    expect(read("pane-share.js")).toContain("About this copy");
    expect(read("pane.js")).not.toContain("About this copy");
  });

  it("registers every function at top level with nothing but a CustomFunctions global", () => {
    const registered = new Map<string, (...args: any[]) => any[][]>();
    class HostError {
      constructor(
        readonly code: string,
        readonly message?: string,
      ) {}
    }
    const associate = (id: string, fn: (...args: any[]) => any[][]) => registered.set(id, fn);
    vm.runInNewContext(read("functions.js"), { CustomFunctions: { associate, Error: HostError } });

    const described = JSON.parse(read("functions.json")).functions.map((f: { id: string }) => f.id);
    expect([...registered.keys()].sort()).toEqual([...described].sort());
    expect(described).toEqual(readCatalogue().map((entry) => entry.id));
    // By hand: 28 / 12 × 15 × 60 × 0.8 × 0.75 = 1260 ft²/h; 4200 / 1260.
    const [[hours]] = registered.get("PASSTIME")!([[4200]], [[28]], [[15]], null, [[0.2]], [[0.75]], null) as [
      [number],
    ];
    expect(hours).toBeCloseTo(10 / 3, 12);
    expect(() => registered.get("PASSTIME")!([[1]], [[0]], [[1]])).toThrow(HostError);
    const [[good], [bad]] = registered.get("PASSTIME")!([[1], [1]], [[0.2], [0]], [[1]]) as [[number], [unknown]];
    expect([typeof good, bad instanceof HostError]).toEqual(["number", true]);
  });

  it("holds none of the embedded spreadsheet, which is for the preview only", () => {
    for (const file of ["functions.js", "pane.js", "pane-share.js"]) expect(read(file)).not.toMatch(/univer/i);
  });

  it("loads office.js from Microsoft in the shipped pane, and from its own server in the preview", () => {
    expect(read("pane.html")).toMatch(/src="?https:\/\/appsforoffice\.microsoft\.com\/lib\/1\/hosted\/office\.js/);
    expect(read("preview/pane.html")).not.toMatch(/src="?https?:/);
  });
});
