/**
 * LibreOffice Calc, a spreadsheet program that knows nothing of our code: opens workbooks without a window, calculates
 * every cell anew whatever value the file holds for it, and gives the values of all cells.
 */
import { execFile } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { read } from "@e965/xlsx";
import type { Cell } from "../engine";

const SOFFICE = process.env.SOFFICE ?? "soffice";
const LONGEST_MS = 3_600_000;

/** Nothing but this makes LibreOffice calculate what has a value: the workbook's own fullCalcOnLoad does not. */
const ALWAYS = 0;
const SETTINGS = `<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>${ALWAYS}</value></prop></item>
</oor:items>`;

/** Cells by sheet and address; a cell that is blank is not there. */
export type Sheets = ReadonlyMap<string, ReadonlyMap<string, Cell>>;

/** What LibreOffice calculates of each workbook. */
export const recalculated = async (workbooks: readonly Uint8Array[], settings = SETTINGS): Promise<Sheets[]> =>
  (await rewritten(workbooks, settings)).map(sheetsOf);

/** Each workbook as LibreOffice writes it. One start handles all of them, and takes seconds by itself. */
export const rewritten = (workbooks: readonly Uint8Array[], settings = SETTINGS): Promise<Uint8Array[]> =>
  inSoffice({ "registrymodifications.xcu": settings }, async (folder, start) => {
    const names = workbooks.map((_, i) => `workbook${i}.xlsx`);
    for (const [i, name] of names.entries()) writeFileSync(join(folder, name), workbooks[i]!);
    const results = join(folder, "results");
    await start(["--convert-to", "xlsx", "--outdir", results, ...names.map((name) => join(folder, name))]);
    return names.map((name) => readFileSync(join(results, name)));
  });

/** What starts LibreOffice without a window, and waits until it ends. */
type Start = (options: readonly string[]) => Promise<void>;

/** Work with LibreOffice in a folder and with a profile of its own, of these files, that are gone afterwards. */
export async function inSoffice<Result>(
  profile: Readonly<Record<string, string>>,
  work: (folder: string, start: Start) => Promise<Result>,
): Promise<Result> {
  const folder = mkdtempSync(join(tmpdir(), "gritledger-soffice-"));
  try {
    for (const [name, text] of Object.entries(profile)) {
      const file = join(folder, "profile/user", name);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, text);
    }
    const installation = `-env:UserInstallation=${pathToFileURL(join(folder, "profile"))}`;
    return await work(folder, (options) => run([installation, "--headless", ...options]));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function run(options: readonly string[]): Promise<void> {
  try {
    await promisify(execFile)(SOFFICE, options, { timeout: LONGEST_MS });
  } catch (failure) {
    if ((failure as NodeJS.ErrnoException).code !== "ENOENT") throw failure;
    throw new Error(
      `${SOFFICE} is not here: install LibreOffice Calc (Debian: libreoffice-calc), or name its program in SOFFICE.`,
    );
  }
}

/** The program's version; nothing where it is not on this machine. */
export const sofficeVersion = (): Promise<string | undefined> =>
  promisify(execFile)(SOFFICE, ["--version"]).then(
    ({ stdout }) => stdout.trim(),
    () => undefined,
  );

/** LibreOffice writes numbers with fifteen digits, and its own error codes as the class of error that Excel has for them. */
export function sheetsOf(bytes: Uint8Array): Sheets {
  const { Sheets, SheetNames } = read(bytes, { cellFormula: false, cellHTML: false });
  return new Map(
    SheetNames.map((name) => {
      const cells = Object.entries(Sheets[name]!).filter(([address]) => !address.startsWith("!"));
      return [name, new Map(cells.map(([address, { t, v, w }]) => [address, t === "e" ? { code: w } : v]))];
    }),
  );
}

/** Rounding up ignores an excess of just this. */
const TOLERANCE = 1e-9 * (1 + 1e-6);

/** Whether LibreOffice's cell is what the function gives: a number to 1e-9, the same text, an error of the same class. */
export function isSame(found: Cell | undefined, ours: unknown): boolean {
  if (typeof ours === "number")
    return typeof found === "number" && Math.abs(found - ours) <= TOLERANCE * Math.abs(ours);
  if (typeof ours === "object" && ours !== null)
    return typeof found === "object" && found?.code === (ours as { code: string }).code;
  return (found ?? "") === (ours ?? "");
}
