/** What the pages beside the pane have around their text: each is a file in manifest/pages/ that begins with its heading. */
import { FILES } from "../facts.mjs";

const PAGES = [
  [FILES.about, "About"],
  [FILES.support, "Support"],
  [FILES.help, "Functions"],
  [FILES.privacy, "Privacy"],
  [FILES.terms, "Terms"],
];

/** The whole page; `to` leads from its folder to the address of a file. */
export function page(text, to = (file) => file) {
  const [, title] = /<h1>([^<]+)<\/h1>/.exec(text);
  const links = PAGES.map(([file, name]) => `        <li><a href="${to(file)}">${name}</a></li>`);
  return `<!doctype html>
<html lang="en-US">
  <head>
    <meta charset="utf-8">
    <meta name="viewport" content="width=device-width, initial-scale=1">
    <title>${title} - Gritledger</title>
    <link rel="stylesheet" href="${to("page.css")}">
  </head>
  <body>
    <nav aria-label="Pages">
      <ul>
${links.join("\n")}
      </ul>
    </nav>
    <main>
${text.trimEnd()}
    </main>
  </body>
</html>
`;
}

/** A file of manifest/pages/ as the build ships it: the notice is a whole page already, with a policy of its own. */
export const shipped = (file, text) => (file.endsWith(".html") && !text.startsWith("<!doctype") ? page(text) : text);
