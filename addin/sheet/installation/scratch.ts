/** What a check works on: a sheet of its own, and whatever else it adds. All of it is kept account of, and taken away. */
import { withoutSheet } from "../../common/a1";
import type { Library } from "../math";
import { isWaiting } from "../our-cells";
import { inNamespace } from "../write";
import { CantTry } from "./check";

/** The workbook as the user has it. */
export interface Found {
  /** When formulas calculate. */
  readonly calculation: string;
  /** Undefined where no cells are selected, so that the selection could not be put back. */
  readonly selected: { readonly sheetId: string; readonly address: string } | undefined;
}

/** What has to be taken away. */
export interface Traces {
  readonly sheets: string[];
  readonly names: string[];
  readonly settings: string[];
  isLocked: boolean;
  isShown: boolean;
}

export const noTraces = (): Traces => ({ sheets: [], names: [], settings: [], isLocked: false, isShown: false });

/** With a number of this run's own, so that nothing of the user's is ever taken for the check's. */
export const MARK = String(1e6 + Math.floor(9e6 * Math.random()));
const SHEET = `Gritledger check ${MARK}`;
const NAME = `Gritledger_check_${MARK}`;
/** The function that is listened in on. */
const ID = "SIZE";
const PATIENCE = 40;
const PAUSE_MS = 250;

/** What the checks need besides the workbook. */
export interface Tools {
  /** The functions that the spreadsheet calls, where they can be listened in on. */
  readonly library: Library;
  /** A moment in which Excel may calculate, or send its events. */
  readonly pause: () => Promise<unknown>;
}

export const pause = () => new Promise((done) => setTimeout(done, PAUSE_MS));

/** Another name of the check's own, kept account of. */
function numbered(name: string, traces: string[]): string {
  const own = `${name}_${traces.length + 1}`;
  traces.push(own);
  return own;
}

type Answer = (args: readonly unknown[]) => unknown;
let nextCall = 1;

export class Scratch {
  readonly sheet: Excel.Worksheet;
  constructor(
    readonly context: Excel.RequestContext,
    readonly found: Found,
    private readonly traces: Traces,
    readonly tools: Tools,
  ) {
    this.sheet = this.addSheet();
  }

  addSheet(): Excel.Worksheet {
    const name = numbered(SHEET, this.traces.sheets);
    return this.context.workbook.worksheets.add(name);
  }

  /** The check's sheet over again, under a name of the check's own. */
  copySheet(): Excel.Worksheet {
    const name = numbered(SHEET, this.traces.sheets);
    const copy = this.sheet.copy("End");
    copy.name = name;
    return copy;
  }

  /** The name of its nth sheet from 0, as formulas have it. */
  quotedName(n: number): string {
    return `'${this.traces.sheets[n]}'`;
  }

  /** A name that is free for a name or a table. */
  freeName(): string {
    return numbered(NAME, this.traces.names);
  }

  setting(): string {
    return numbered(NAME, this.traces.settings);
  }

  /** Locks which sheets there are, until the check is over. */
  lock(): void {
    this.traces.isLocked = true;
    this.context.workbook.protection.protect();
  }

  /** To be asked before another sheet or cell is shown. */
  willShow(): void {
    if (!this.found.selected) throw new CantTry("no cells are selected that could be selected again afterwards");
    this.traces.isShown = true;
  }

  range(address: string): Excel.Range {
    return this.sheet.getRange(address);
  }

  sync(): Promise<unknown> {
    return this.context.sync();
  }

  async values(range: Excel.Range | string): Promise<any[][]> {
    const cells = typeof range === "string" ? this.range(range) : range;
    for (let tries = 0; ; tries++) {
      cells.load("values");
      await this.sync();
      if (tries === PATIENCE || !cells.values.flat().some(isWaiting)) return cells.values;
      await this.tools.pause();
    }
  }

  async enter(address: string, formulas: any[][]): Promise<void> {
    this.range(address).formulas = formulas;
    await this.sync();
  }

  /** Puts a call into a cell and listens in: what the function was given, or undefined where it wasn't called. */
  private async overhear(address: string, given: string, answer: Answer) {
    const mark = `check ${nextCall++}`;
    const functions = this.tools.library as Record<string, (...args: unknown[]) => unknown>;
    const own = functions[ID]!;
    let heard: unknown[] | undefined;
    functions[ID] = (...args) => {
      // The user's own cells may be calculating.
      if ((args[0] as unknown[][] | null)?.[0]?.[0] !== mark) return own(...args);
      heard = args.slice(1);
      return answer(heard);
    };
    try {
      await this.enter(address, [[inNamespace(`=GRIT.${ID}("${mark}"${given})`)]]);
      await this.values(address);
    } finally {
      functions[ID] = own;
    }
    return heard;
  }

  /** As `overhear`; where no call can be heard at all, there is nothing to try. */
  async call(address: string, given: string, answer: Answer = () => [[1]]): Promise<unknown[] | undefined> {
    const heard = await this.overhear(address, given, answer);
    if (heard || (await this.overhear("Z100", "", () => [[1]]))) return heard;
    throw new CantTry("the pane can't listen in on the functions here");
  }
}

/** The workbook as it is, once it is known that sheets can be added and deleted. */
export async function lookAt(context: Excel.RequestContext, traces: Traces): Promise<Found> {
  const selected = await selectedCells(context).catch(() => undefined);
  const { application, worksheets } = context.workbook;
  application.load("calculationMode");
  worksheets.add(numbered(SHEET, traces.sheets));
  await context.sync();
  return { selected, calculation: application.calculationMode };
}

async function selectedCells({ workbook }: Excel.RequestContext): Promise<Found["selected"]> {
  const range = workbook.getSelectedRange().load("address,worksheet/id");
  await range.context.sync();
  return { sheetId: range.worksheet.id, address: withoutSheet(range.address) };
}

/** Takes away whatever there is of it, however far it came. */
export function takeAway(traces: Traces, { selected }: Pick<Found, "selected">): Promise<void> {
  return Excel.run(async (context) => {
    const { protection, worksheets, names, settings } = context.workbook;
    protection.load("protected");
    const sheets = traces.sheets.map((name) => worksheets.getItemOrNullObject(name).load("visibility"));
    const defined = traces.names.map((name) => names.getItemOrNullObject(name).load("name"));
    const set = traces.settings.map((key) => settings.getItemOrNullObject(key).load("key"));
    await context.sync();
    if (traces.isLocked && protection.protected) protection.unprotect();
    if (traces.isShown && selected) {
      const sheet = worksheets.getItem(selected.sheetId);
      sheet.activate();
      sheet.getRange(selected.address).select();
    }
    for (const item of [...defined, ...set]) if (!item.isNullObject) item.delete();
    for (const sheet of sheets) {
      if (sheet.isNullObject) continue;
      // Excel deletes no sheet that is very hidden.
      if (sheet.visibility === "VeryHidden") sheet.visibility = "Hidden";
      sheet.delete();
    }
    await context.sync();
  });
}
