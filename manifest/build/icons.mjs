/** Draws manifest/icons/*.png from the SVGs beside them: `node manifest/build/icons.mjs`. The PNGs are committed. */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { ADDIN_COMMANDS, APP_ICON_SIZES, COMMAND_ICON_SIZES, iconFile, PACKAGE_ICONS } from "../facts.mjs";

const MANIFEST = join(dirname(fileURLToPath(import.meta.url)), "..");
const PACKAGE_COLOR_SIZE = 192;
const PACKAGE_OUTLINE_SIZE = 32;

/** Which drawing makes which file. Below 32 px the floor has a simpler drawing of its own. */
export const drawings = () => [
  ...APP_ICON_SIZES.map((size) => ({ svg: size < 32 ? "icon-16" : "icon", size, png: iconFile("icon", size) })),
  { svg: "icon", size: PACKAGE_COLOR_SIZE, png: PACKAGE_ICONS.color },
  { svg: "outline", size: PACKAGE_OUTLINE_SIZE, png: PACKAGE_ICONS.outline },
  ...ADDIN_COMMANDS.flatMap(({ icon }) =>
    COMMAND_ICON_SIZES.map((size) => ({ svg: icon, size, png: iconFile(icon, size) })),
  ),
];

async function draw() {
  const { chromium } = await import("playwright-core");
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
    args: ["--no-sandbox"],
  });
  const page = await browser.newPage();
  for (const { svg, size, png } of drawings()) {
    const source = readFileSync(join(MANIFEST, "icons", `${svg}.svg`), "utf8");
    await page.setViewportSize({ width: size, height: size });
    await page.setContent(`<style>body { margin: 0 } svg { display: block; width: ${size}px }</style>${source}`);
    await page.screenshot({ path: join(MANIFEST, png), omitBackground: true });
  }
  await browser.close();
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await draw();
