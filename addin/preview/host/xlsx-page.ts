/** How a sheet is shown, printed and protected, in the file. */
import type { HeaderFooter, PageSetup, Worksheet, WorksheetView } from "exceljs";
import { cellRect, formatAddress } from "./a1";
import type { Engine } from "./engine";
import type { PageData, ProtectionData } from "./model";
import type { Settings } from "./objects/record";

const POINTS_IN_AN_INCH = 72;
const PAPERS: Readonly<Record<string, number>> = {
  Letter: 1,
  Tabloid: 3,
  Legal: 5,
  Executive: 7,
  A3: 8,
  A4: 9,
  A5: 11,
};
/** How often a password is hashed: as Excel does it. */
const SPINS = 100_000;

export function writeView(engine: Engine, sheetId: string, sheet: Worksheet) {
  const { rows: ySplit, columns: xSplit } = engine.frozen(sheetId);
  const { row, column } = engine.selection(sheetId);
  const view = {
    ...(xSplit > 0 || ySplit > 0 ? { state: "frozen", xSplit, ySplit } : { state: "normal" }),
    activeCell: formatAddress(cellRect(row, column)),
    showGridLines: engine.showsGridlines(sheetId),
    tabSelected: engine.active === sheetId,
  };
  sheet.views = [view as unknown as WorksheetView];
}

export function writePage({ settings, rowBreaks = [] }: PageData, sheet: Worksheet) {
  // A break stands after its row in the file.
  for (const row of rowBreaks) sheet.getRow(row).addPageBreak();
  const given = settings as Settings & { zoom?: Record<string, number | null> };
  const { scale, horizontalFitToPages: fitToWidth, verticalFitToPages: fitToHeight } = given.zoom ?? {};
  const fitToPage = fitToWidth !== undefined || fitToHeight !== undefined;
  const inches = (side: string, initial: number) =>
    typeof given[`${side}Margin`] === "number" ? (given[`${side}Margin`] as number) / POINTS_IN_AN_INCH : initial;
  const setup = {
    orientation: given.orientation === "Landscape" ? "landscape" : "portrait",
    paperSize: PAPERS[String(given.paperSize ?? "Letter")],
    scale: fitToPage ? undefined : (scale ?? 100),
    fitToPage,
    fitToWidth: fitToPage ? (fitToWidth ?? 0) : undefined,
    fitToHeight: fitToPage ? (fitToHeight ?? 0) : undefined,
    horizontalCentered: given.centerHorizontally,
    verticalCentered: given.centerVertically,
    margins: {
      left: inches("left", 0.7),
      right: inches("right", 0.7),
      top: inches("top", 0.75),
      bottom: inches("bottom", 0.75),
      header: inches("header", 0.3),
      footer: inches("footer", 0.3),
    },
  };
  Object.assign(sheet.pageSetup, setup as unknown as Partial<PageSetup>);
  Object.assign(sheet.headerFooter, headersOf((given.headersFooters ?? {}) as Record<string, Settings>));
}

function headersOf(given: Record<string, Settings>): Partial<HeaderFooter> {
  const of = (page: Settings | undefined, end: "Header" | "Footer") =>
    ["left", "center", "right"]
      .map((side) => {
        const text = String(page?.[`${side}${end}`] ?? "");
        return text === "" ? "" : `&${side[0]!.toUpperCase()}${text}`;
      })
      .join("");
  return {
    oddHeader: of(given.defaultForAllPages, "Header"),
    oddFooter: of(given.defaultForAllPages, "Footer"),
  };
}

export async function writeProtection({ options, password }: ProtectionData, sheet: Worksheet): Promise<void> {
  const allowed = Object.entries(options)
    .filter(([name]) => name.startsWith("allow") && !name.startsWith("allowEdit"))
    .map(([name, value]) => [name[5]!.toLowerCase() + name.slice(6), value]);
  await sheet.protect(password ?? "", {
    ...Object.fromEntries(allowed),
    objects: Boolean(options.allowEditObjects),
    scenarios: Boolean(options.allowEditScenarios),
    selectLockedCells: options.selectionMode === "Normal",
    selectUnlockedCells: options.selectionMode !== "None",
    spinCount: SPINS,
  });
}
