/**
 * Univer with its user interface, dressed down to what a reader of a quote expects of a spreadsheet: formula bar, grid,
 * sheet tabs. It is put together here because `@univerjs/presets` brings packages without a license.
 */
import {
  type Injector,
  LocaleType,
  mergeLocales,
  type Nullable,
  type Plugin,
  type PluginCtor,
  Univer,
} from "@univerjs/core";
import { FUniver } from "@univerjs/core/facade";
import { type IRender, IRenderManagerService, UniverSheetsCorePreset } from "@univerjs/preset-sheets-core";
import english from "@univerjs/preset-sheets-core/locales/en-US";
import "@univerjs/preset-sheets-core/lib/index.css";

type PresetConfig = NonNullable<Parameters<typeof UniverSheetsCorePreset>[0]>;

export interface SheetOptions {
  container: HTMLElement;
  darkMode: boolean;
  /** Custom functions with their descriptions: they must be there before the first workbook is. */
  formula: PresetConfig["formula"];
}

export interface Sheets {
  api: FUniver;
  injector: Injector;
}

const LOOK = {
  toolbar: false,
  formulaBar: true,
  contextMenu: true,
  disableAutoFocus: true,
  footer: { menus: false },
  // Marks on text that looks like a number: Univer parses every text as a date for them whenever it draws.
  sheets: { disableForceStringAlert: true, disableForceStringMark: true },
  disableTextFormatAlert: true,
  disableTextFormatMark: true,
} satisfies PresetConfig;

/** What draws the workbook: there a moment after the workbook itself. */
export function renderOf({ api, injector }: Sheets): Nullable<IRender> {
  return injector.get(IRenderManagerService).getRenderById(api.getActiveWorkbook()?.getId() ?? "");
}

export function createSheets({ container, darkMode, formula }: SheetOptions): Sheets {
  const univer = new Univer({
    darkMode,
    locale: LocaleType.EN_US,
    locales: { [LocaleType.EN_US]: mergeLocales(english) },
  });
  for (const plugin of UniverSheetsCorePreset({ ...LOOK, container, formula }).plugins) {
    if (Array.isArray(plugin)) univer.registerPlugin(...plugin);
    else univer.registerPlugin(plugin as PluginCtor<Plugin>);
  }
  return { api: FUniver.newAPI(univer), injector: univer.__getInjector() };
}
