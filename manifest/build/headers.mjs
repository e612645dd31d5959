/**
 * The headers that a server should send with the add-in's files: `serve.mjs` sends them, and `hostingFiles()` writes
 * them down for other servers.
 */

const OFFICE_CDN = "https://appsforoffice.microsoft.com";

/**
 * The pages that Excel on the web shows a pane in. The first list is what its client library trusts and what has been
 * seen; the second is Microsoft's list for apps that run inside Teams and Microsoft 365 (its page "tab requirements").
 */
const SEEN = [
  "https://*.officeapps.live.com",
  "https://*.office.net",
  "https://*.gov.online.office365.us",
  "https://*.dod.online.office365.us",
  "https://*.partner.officewebapps.cn",
  "https://*.online.office.de",
  "https://*.sharepoint.com",
  "https://onedrive.live.com",
  "https://excel.cloud.microsoft",
];
const DOCUMENTED = [
  "https://*.cloud.microsoft",
  "https://teams.microsoft.com",
  "https://*.teams.microsoft.com",
  "https://*.microsoft365.com",
  "https://*.office.com",
];
export const EXCEL_ON_THE_WEB = [...SEEN, ...DOCUMENTED];

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
const IN_EXCEL = { "frame-ancestors": [...OWN, ...EXCEL_ON_THE_WEB] };
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

/** Of what has no policy of its own: pages of text, and the worker, which loads nothing. */
const TEXT = policy({ "style-src": [...OWN, "'unsafe-inline'"], "img-src": OWN });
/** File → policy, of what ships; paths are relative to the add-in's folder. */
const SHIPPED = {
  "pane.html": policy({ ...PANE, "script-src": [...OWN, OFFICE_CDN], ...IN_EXCEL }),
  "notice.html": policy({ "script-src": OWN, "style-src": OWN, ...IN_EXCEL }),
};
const PREVIEW = {
  "preview/pane.html": policy({ ...PANE, "frame-ancestors": OWN }),
  "preview/": policy(SPREADSHEET),
};

/** What Excel on the web fetches from a page of its own. */
const SHARED = ["functions.js", "functions.json"];

/** Headers of a file that ships, by name; the same on every server. */
export function headersOf(file) {
  return {
    "Content-Security-Policy": { ...SHIPPED, ...PREVIEW }[file] ?? TEXT,
    "X-Content-Type-Options": "nosniff",
    ...(SHARED.includes(file) ? { "Access-Control-Allow-Origin": "*" } : {}),
  };
}

// Excel asks each time whether there is a newer file, so that pages, scripts and functions stay of one version.
const CACHE = "no-cache";

/** Files with a policy that matters: the host's `_headers` must name each, since rules that overlap add up there. */
const PAGES = [
  "pane.html",
  "notice.html",
  "about.html",
  "support.html",
  "privacy.html",
  "terms.html",
  "help/functions.html",
];
const WORKER = "pane-share.js";

const quoted = (text) => `"${text}"`;

function nginx({ hostname, port, pathname }) {
  const at = (file) => `${pathname}${file}`;
  return `# nginx: copy to /etc/nginx/conf.d/gritledger.conf, and set the certificate and the folder (marked EDIT).
map $uri $gritledger_policy {
  default ${quoted(TEXT)};
${Object.entries(SHIPPED)
  .map(([file, policy]) => `  ${at(file)} ${quoted(policy)};`)
  .join("\n")}
}
map $uri $gritledger_origin {
  default "";
${SHARED.map((file) => `  ${at(file)} "*";`).join("\n")}
}
server {
  listen ${port || 443} ssl;
  server_name ${hostname};
  ssl_certificate /etc/ssl/gritledger.pem;          # EDIT
  ssl_certificate_key /etc/ssl/gritledger.key;      # EDIT

  add_header Content-Security-Policy $gritledger_policy always;
  add_header X-Content-Type-Options "nosniff" always;
  add_header Access-Control-Allow-Origin $gritledger_origin always;
  add_header Cache-Control "${CACHE}" always;

  location ${pathname} {
    alias /srv/gritledger/;                         # EDIT
  }
}
`;
}

function apache() {
  const section = (file, header) => `<Files ${quoted(file)}>
  Header always set ${header}
</Files>`;
  return `# Apache: copy beside pane.html. Needs mod_headers, and AllowOverride FileInfo for this folder.
Header always set Content-Security-Policy ${quoted(TEXT)}
Header always set X-Content-Type-Options "nosniff"
Header always set Cache-Control "${CACHE}"
${Object.entries(SHIPPED)
  .map(([file, policy]) => section(file, `Content-Security-Policy ${quoted(policy)}`))
  .join("\n")}
${SHARED.map((file) => section(file, 'Access-Control-Allow-Origin "*"')).join("\n")}
`;
}

/** Hosts that read `_headers` add up the rules that match, so each file has one rule for each header. */
function headersFile({ pathname }) {
  const rule = (path, headers) => [`${pathname}${path}`, ...headers.map((header) => `  ${header}`)].join("\n");
  // Such hosts also answer to a page's name without its ending.
  const names = (file) => (file.endsWith(".html") ? [file, file.replace(/\.html$/, "")] : [file]);
  const policies = [...PAGES, WORKER].flatMap((file) =>
    names(file).map((name) => rule(name, [`Content-Security-Policy: ${SHIPPED[file] ?? TEXT}`])),
  );
  return `# Static hosts that read a file called _headers: copy to the top folder of the site.
${[
  rule("*", ["X-Content-Type-Options: nosniff", `Cache-Control: ${CACHE}`]),
  ...policies,
  ...SHARED.map((file) => rule(file, ["Access-Control-Allow-Origin: *"])),
].join("\n")}
`;
}

const ABOUT = `Headers for the server that hosts Gritledger. Copy the file for your kind of server:

nginx.conf   nginx
.htaccess    Apache
_headers     static hosts that read a file of this name

Each sends the same headers:
- Content-Security-Policy: a page runs only its own scripts (and office.js), sends nothing elsewhere, and only Excel
  may show the pane inside its own pages (frame-ancestors).
- Access-Control-Allow-Origin: * for functions.js and functions.json. Excel on the web fetches them from its own page.
- X-Content-Type-Options: nosniff.
- Cache-Control: no-cache. The browser asks for newer files each time, so an update arrives as a whole.

Another server? Set these headers as its manual says; nginx.conf lists them by file.
`;

/** File name → text, for the server that the released add-in is served by. */
export function hostingFiles(host) {
  const { hostname, port, pathname } = new URL(`${host}/`);
  const place = { hostname, port, pathname };
  return {
    "hosting/README.txt": ABOUT,
    "hosting/nginx.conf": nginx(place),
    "hosting/.htaccess": apache(),
    "hosting/_headers": headersFile(place),
  };
}
