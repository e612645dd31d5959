/** The header files for other servers, each read as its server reads it, against what serve.mjs really sends. */
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { EXCEL_ON_THE_WEB, hostingFiles } from "../../manifest/build/headers.mjs";
import { serve } from "../../manifest/build/serve.mjs";

type Headers = Record<string, string>;

const PAGES = ["pane.html", "help/functions.html", ...readdirSync("manifest/pages")].filter((file) =>
  file.endsWith(".html"),
);
const WORKER = "pane-share.js";
const SHIPPED = [
  ...PAGES,
  WORKER,
  "page.css",
  "notice.js",
  "pane.js",
  "functions.js",
  "functions.json",
  "icons/icon-32.png",
];
const NAMES = [
  "Content-Security-Policy",
  "X-Content-Type-Options",
  "Access-Control-Allow-Origin",
  "Cache-Control",
] as const;

const folder = mkdtempSync(join(tmpdir(), "gritledger-hosting-"));
let served: Awaited<ReturnType<typeof serve>>;

beforeAll(async () => {
  for (const file of SHIPPED) {
    mkdirSync(dirname(join(folder, file)), { recursive: true });
    writeFileSync(join(folder, file), "");
  }
  served = await serve({ port: 0, directory: folder });
});
afterAll(async () => {
  await served.close();
  rmSync(folder, { recursive: true });
});

/** What this machine's server sends, but for how long a file may be kept: a new build must show at once here. */
async function sent(file: string): Promise<Headers> {
  const { headers } = await fetch(`${served.url}/${file}`);
  const named = NAMES.map((name) => [name, headers.get(name)] as const).filter(([, value]) => value !== null);
  return { ...(Object.fromEntries(named) as Headers), "Cache-Control": "no-cache" };
}

/** nginx: `map` sets a variable by the path, and `add_header` leaves out a header without a value. */
function byNginx(text: string, path: string): Headers {
  const variables = new Map(
    [...text.matchAll(/^map \$uri (\$\w+) \{\n([\s\S]*?)^\}/gm)].map(([, name, lines]) => {
      const values = new Map([...lines!.matchAll(/^ {2}(\S+) "(.*)";$/gm)].map((match) => [match[1]!, match[2]!]));
      return [name!, values.get(path) ?? values.get("default")!];
    }),
  );
  const added = [...text.matchAll(/^ {2}add_header (\S+) (?:"(.*)"|(\$\w+)) always;$/gm)];
  const values = added.map(([, name, value, variable]) => [name!, value ?? variables.get(variable!)!]);
  return Object.fromEntries(values.filter(([, value]) => value !== ""));
}

/** Apache: a `<Files>` section applies to files of that name, after what stands outside, and `set` replaces. */
function byApache(text: string, path: string): Headers {
  const name = path.split("/").at(-1);
  const headers: Headers = {};
  let applies = true;
  for (const line of text.split("\n")) {
    const section = /^<Files "(.*)">$/.exec(line);
    if (section) applies = section[1] === name;
    else if (line === "</Files>") applies = true;
    const set = /^ *Header always set (\S+) "(.*)"$/.exec(line);
    if (set && applies) headers[set[1]!] = set[2]!;
  }
  return headers;
}

/** `_headers`: every rule that matches adds its headers; one that comes twice is joined, which no policy survives. */
function byHeadersFile(text: string, path: string): Headers {
  const headers: Headers = {};
  let applies = false;
  for (const line of text.split("\n").filter((line) => line !== "" && !line.startsWith("#"))) {
    if (!line.startsWith(" ")) applies = line.endsWith("*") ? path.startsWith(line.slice(0, -1)) : path === line;
    else if (applies) {
      const [, name, value] = /^ {2}([\w-]+): (.*)$/.exec(line)!;
      headers[name!] = name! in headers ? `${headers[name!]}, ${value}` : value!;
    }
  }
  return headers;
}

const READERS: Record<string, (text: string, path: string) => Headers> = {
  "hosting/nginx.conf": byNginx,
  "hosting/.htaccess": byApache,
  "hosting/_headers": byHeadersFile,
};

describe.each([
  ["https://floors.example", ""],
  ["https://floors.example:8443/add-ins/grit", "/add-ins/grit"],
])("for %s", (host, base) => {
  const files: Record<string, string> = hostingFiles(host);

  describe.each(Object.keys(READERS))("%s", (name) => {
    it.each(SHIPPED)("sends with %s what this machine's server sends", async (file) => {
      const expected = await sent(file);
      // No rule of this file may overlap another, so it names only the files whose policy matters.
      if (name === "hosting/_headers" && ![...PAGES, WORKER].includes(file)) delete expected["Content-Security-Policy"];
      expect(READERS[name]!(files[name]!, `${base}/${file}`)).toEqual(expected);
    });
  });

  it("_headers knows the pages by their names without an ending too", () => {
    const text = files["hosting/_headers"]!;
    for (const page of PAGES) {
      const path = `${base}/${page}`;
      expect(byHeadersFile(text, path.replace(/\.html$/, ""))).toEqual(byHeadersFile(text, path));
    }
  });

  it("nginx listens on the host's port and serves its folder", () => {
    const { hostname, port } = new URL(host);
    const text = files["hosting/nginx.conf"]!;
    expect(text).toContain(`listen ${port || 443} ssl;`);
    expect(text).toContain(`server_name ${hostname};`);
    expect(text).toContain(`location ${base}/ {`);
  });

  // A host that reads such files takes lines of at most 2,000 characters and 100 rules.
  it("_headers keeps to the limits of the hosts that read it", () => {
    const lines = files["hosting/_headers"]!.split("\n");
    expect(Math.max(...lines.map((line) => line.length))).toBeLessThan(2000);
    expect(lines.filter((line) => line.startsWith("/")).length).toBeLessThan(100);
  });
});

it("the folder says what each file is for", () => {
  const files: Record<string, string> = hostingFiles("https://floors.example");
  expect(Object.keys(files)).toEqual(["hosting/README.txt", ...Object.keys(READERS)]);
  for (const name of Object.keys(READERS)) expect(files["hosting/README.txt"]).toContain(name.replace("hosting/", ""));
});

// office-platform.md, "Frame ancestors the client itself trusts" and "seen as parents".
it("lets every known page of Excel on the web show the pane", async () => {
  const policy = (await sent("pane.html"))["Content-Security-Policy"]!;
  const framers = / frame-ancestors ([^;]*)/.exec(policy)![1]!.split(" ");
  expect(framers).toEqual(["'self'", ...EXCEL_ON_THE_WEB]);
  for (const parent of [
    "*.officeapps.live.com",
    "*.office.net",
    "*.gov.online.office365.us",
    "*.dod.online.office365.us",
    "*.partner.officewebapps.cn",
    "*.online.office.de",
    "*.sharepoint.com",
    "onedrive.live.com",
    "excel.cloud.microsoft",
  ]) {
    expect(framers).toContain(`https://${parent}`);
  }
});
