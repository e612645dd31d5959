import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { serve } from "../../manifest/build/serve.mjs";

type Served = Awaited<ReturnType<typeof serve>>;

const folder = mkdtempSync(join(tmpdir(), "gritledger-dist-"));
const dist = join(folder, "dist");
const FILES = {
  "pane.html": "<p>pane",
  "about.html": "<p>about",
  "functions.js": "1",
  "functions.json": "{}",
  "manifest.xml": "<a/>",
  "preview/index.html": "<p>preview",
  "preview/pane.html": "<p>pane in the preview",
};

let served: Served;
const get = (path: string) => fetch(served.url + path, { redirect: "manual" });
const policyOf = async (path: string) => (await get(path)).headers.get("content-security-policy") ?? "";
const directive = (policy: string, name: string) =>
  policy
    .split(";")
    .map((part) => part.trim())
    .find((part) => part.startsWith(`${name} `))
    ?.slice(name.length + 1);

beforeAll(async () => {
  mkdirSync(join(dist, "preview"), { recursive: true });
  for (const [file, text] of Object.entries(FILES)) writeFileSync(join(dist, file), text);
  writeFileSync(join(folder, "secret.txt"), "secret");
  served = await serve({ port: 0, directory: dist });
});

afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true });
});

describe("pages", () => {
  it.each(["/", "/preview", "/preview/index.html"])("%s leads to the preview", async (path) => {
    const response = await get(path);
    expect(response.status).toBe(302);
    expect(response.headers.get("location")).toBe("/preview/");
  });

  it("are served with their text and type", async () => {
    const response = await get("/preview/");
    expect(await response.text()).toBe("<p>preview");
    expect(response.headers.get("content-type")).toContain("text/html");
  });

  it.each(["/nothing", "/../secret.txt", "/%2e%2e/secret.txt", "/..%2fsecret.txt", "//", "/%"])(
    "%s is not found",
    async (path) => {
      expect((await get(path)).status).toBe(404);
    },
  );

  it("show a new build without a restart", async () => {
    writeFileSync(join(dist, "late.txt"), "new");
    expect(await (await get("/late.txt")).text()).toBe("new");
  });
});

describe("headers", () => {
  it.each(Object.keys(FILES).filter((file) => file !== "preview/index.html"))(
    "/%s is never cached or sniffed",
    async (file) => {
      const { headers } = await get(`/${file}`);
      expect(headers.get("cache-control")).toBe("no-store");
      expect(headers.get("x-content-type-options")).toBe("nosniff");
    },
  );

  it("let Excel on the web fetch the functions from its own page, and nothing else", async () => {
    const allowed = async (path: string) => (await get(path)).headers.get("access-control-allow-origin");
    expect(await allowed("/functions.json")).toBe("*");
    expect(await allowed("/functions.js")).toBe("*");
    expect(await allowed("/pane.html")).toBeNull();
  });

  it.each(["/pane.html", "/pane.html?namespace=GRITDEV", "/preview/pane.html", "/preview/", "/about.html"])(
    "%s runs no inline script, no evaluated text and no plug-in, and sends nothing elsewhere",
    async (path) => {
      const policy = await policyOf(path);
      expect(directive(policy, "default-src")).toBe("'none'");
      expect(directive(policy, "object-src")).toBe("'none'");
      expect(directive(policy, "base-uri")).toBe("'none'");
      expect(directive(policy, "script-src") ?? "").not.toMatch(/unsafe|\*|data:/);
      expect(directive(policy, "connect-src") ?? "'self'").toBe("'self'");
    },
  );

  it("let only the pane load Excel's client library from its own address", async () => {
    expect(directive(await policyOf("/pane.html"), "script-src")).toBe("'self' https://appsforoffice.microsoft.com");
    expect(directive(await policyOf("/preview/pane.html"), "script-src")).toBe("'self'");
    expect(directive(await policyOf("/preview/"), "script-src")).toBe("'self'");
  });

  it("say who may frame a page: Excel the pane, the preview its pane, nobody the rest", async () => {
    const framers = async (path: string) => directive(await policyOf(path), "frame-ancestors");
    expect(await framers("/pane.html")).toContain("https://*.officeapps.live.com");
    expect(await framers("/preview/pane.html")).toBe("'self'");
    expect(await framers("/preview/")).toBe("'none'");
    expect(await framers("/about.html")).toBe("'none'");
  });

  it("allow inline styles to the embedded spreadsheet, not to the pane", async () => {
    expect(directive(await policyOf("/pane.html"), "style-src")).toBe("'self'");
    expect(directive(await policyOf("/preview/pane.html"), "style-src")).toBe("'self'");
    expect(directive(await policyOf("/preview/"), "style-src")).toBe("'self' 'unsafe-inline'");
  });

  it.each([
    ["/pane.html", "addin/pane/pane.html"],
    ["/preview/", "addin/preview/index.html"],
  ])("%s agrees with the policy that the page carries itself for hosts without headers", async (path, source) => {
    const [, carried] = /http-equiv="Content-Security-Policy"\s+content="([^"]*)"/.exec(readFileSync(source, "utf8"))!;
    const sent = await policyOf(path);
    for (const name of [
      "default-src",
      "script-src",
      "style-src",
      "img-src",
      "connect-src",
      "base-uri",
      "form-action",
    ]) {
      expect(directive(sent, name), name).toBe(directive(carried!, name));
    }
  });
});

describe("ports", () => {
  it("a port given and in use is an error that says so", async () => {
    const port = Number(new URL(served.url).port);
    await expect(serve({ port, directory: dist })).rejects.toThrow(`Port ${port} is in use`);
  });

  it("without one given, two servers get two ports, from 3000 on", async () => {
    const first = await serve({ directory: dist });
    const second = await serve({ directory: dist });
    const ports = [first, second].map(({ url }) => Number(new URL(url).port));
    await Promise.all([first.close(), second.close()]);
    expect(ports[0]).toBeGreaterThanOrEqual(3000);
    expect(ports[1]).toBeGreaterThan(ports[0]!);
  });

  it("closing frees the port", async () => {
    const first = await serve({ port: 0, directory: dist });
    await first.close();
    const again = await serve({ port: Number(new URL(first.url).port), directory: dist });
    expect(again.url).toBe(first.url);
    await again.close();
  });
});
