/**
 * When and what the engine calculates. Formulas reach it resolved (names and table references replaced by plain
 * references), because its own handling of both is partial: names are not scoped to sheets, tables not followed.
 */
import type { ICommandService } from "@univerjs/core";
import type {
  FormulaDataModel,
  IFormulaCurrentConfigService,
  IFormulaData,
  IFormulaDataItem,
} from "@univerjs/engine-formula";
import { dependsOnRow, type Lookups, resolve } from "./formula";
import type { UniverModules } from "./modules";

const LOCAL = { onlyLocal: true };
const LONGEST_CALCULATION_MS = 120_000;

/** The engine's own trigger of calculations; these members are private in its types, its version is pinned. */
export interface Trigger {
  _waitingCommandQueue: unknown[];
  _setTimeoutKey: ReturnType<typeof setTimeout>;
  _executingDirtyData: object;
  _generateDirty(commands: unknown[]): object;
  _mergeDirty(first: object, second: object): object;
}

interface Services {
  readonly commands: ICommandService;
  readonly formulas: FormulaDataModel;
  readonly config: IFormulaCurrentConfigService;
  readonly trigger: Trigger;
}

interface Formula {
  readonly sheetId: string;
  readonly row: number;
  readonly column: number;
  readonly text: string;
}

export class Calculation {
  private busy = false;
  private resolvedVersion = -1;
  private readonly resolvedTexts = new Map<string, string>();
  /** What each formula cell was last resolved to: a difference means that it must be calculated again. */
  private readonly resolvedCells = new Map<string, string>();
  private waiting: (() => void)[] = [];

  constructor(
    private readonly modules: UniverModules,
    private readonly unitId: string,
    private readonly services: Services,
    private readonly book: Lookups & { version: number },
  ) {
    this.resolveWhatTheEngineLoads();
    this.watch();
  }

  /** Resolves when nothing is left to calculate. */
  async settle(): Promise<void> {
    while (this.stale) {
      this.queueChangedMeanings();
      if (this.busy) await this.finished();
      else if (this.queued > 0) await this.start();
    }
  }

  /** Whether a value read now might be out of date. */
  get stale(): boolean {
    return this.busy || this.queued > 0 || this.resolvedVersion !== this.book.version;
  }

  /** Takes cells as calculated that were saved so. */
  takeAsCalculated() {
    this.forgetOldMeanings();
    for (const { sheetId, row, column, text } of this.formulas()) {
      this.resolvedCells.set(`${sheetId}!${row},${column}`, this.resolvedText(text, { sheetId, row, column }));
    }
  }

  calculateAll() {
    this.services.commands.syncExecuteCommand(
      this.modules.SetTriggerFormulaCalculationStartMutation.id,
      { ...NOTHING_DIRTY, forceCalculation: true },
      LOCAL,
    );
  }

  /** Every formula of the workbook, as the user wrote it. */
  formulas(): Formula[] {
    const found: Formula[] = [];
    for (const [sheetId, rows] of Object.entries(this.services.formulas.getFormulaData()[this.unitId] ?? {})) {
      for (const [row, columns] of Object.entries(rows ?? {})) {
        const items: [string, IFormulaDataItem | null | undefined][] = Object.entries(columns ?? {});
        for (const [column, item] of items) {
          const position = { sheetId, row: Number(row), column: Number(column) };
          // Of those filled down only the first has its own text.
          const text = item?.si ? this.formulaAt(sheetId, position.row, position.column) : item?.f;
          if (text) found.push({ ...position, text });
        }
      }
    }
    return found;
  }

  formulaAt(sheetId: string, row: number, column: number): string | undefined {
    return this.services.formulas.getFormulaStringByCell(row, column, sheetId, this.unitId) ?? undefined;
  }

  private get queued(): number {
    return this.services.trigger._waitingCommandQueue.length;
  }

  /** Starts at once what the engine would start in 100 ms, waiting for more edits: a batch is complete when it ends. */
  private async start() {
    const { trigger, commands } = this.services;
    clearTimeout(trigger._setTimeoutKey);
    const dirty = trigger._generateDirty(trigger._waitingCommandQueue);
    trigger._executingDirtyData = trigger._mergeDirty(trigger._executingDirtyData, dirty);
    trigger._waitingCommandQueue = [];
    const finished = this.finished();
    commands.executeCommand(
      this.modules.SetFormulaCalculationStartMutation.id,
      { ...trigger._executingDirtyData },
      LOCAL,
    );
    await finished;
  }

  private finished(): Promise<void> {
    this.busy = true;
    return new Promise((done, fail) => {
      const timer = setTimeout(
        () => fail(new Error("The spreadsheet engine did not finish calculating.")),
        LONGEST_CALCULATION_MS,
      );
      this.waiting.push(() => {
        clearTimeout(timer);
        done();
      });
    });
  }

  private watch() {
    const { modules } = this;
    this.services.commands.onCommandExecuted((command) => {
      if (command.id === modules.SetFormulaCalculationStartMutation.id) this.busy = true;
      if (command.id !== modules.SetFormulaCalculationNotificationMutation.id) return;
      const { functionsExecutedState } = command.params as { functionsExecutedState?: number };
      if (functionsExecutedState === undefined || functionsExecutedState === STOPPED) return;
      // The result is applied by listeners that ran before this one, but a stopped calculation starts again by itself.
      this.busy = false;
      for (const done of this.waiting.splice(0)) done();
    });
  }

  /** The one seam between what cells hold and what the engine calculates. */
  private resolveWhatTheEngineLoads() {
    const { config } = this.services;
    const load = config.load.bind(config);
    config.load = (dataset) => load({ ...dataset, formulaData: this.resolved(dataset.formulaData) });
  }

  private resolved(data: IFormulaData): IFormulaData {
    this.forgetOldMeanings();
    const sheets = Object.entries(data[this.unitId] ?? {}).map(([sheetId, rows]) => {
      const resolvedRows = Object.entries(rows ?? {}).map(([row, columns]) => {
        const items: [string, IFormulaDataItem | null | undefined][] = Object.entries(columns ?? {});
        const resolvedColumns = items.map(([column, item]) => {
          if (!item?.f) return [column, item];
          // Formulas filled down share the text of their first cell, which lies x columns and y rows before.
          const at = { sheetId, row: Number(row) - (item.y ?? 0), column: Number(column) - (item.x ?? 0) };
          const text = this.resolvedText(item.f, at);
          this.resolvedCells.set(`${sheetId}!${row},${column}`, text);
          return [column, { ...item, f: text }];
        });
        return [row, Object.fromEntries(resolvedColumns)];
      });
      return [sheetId, Object.fromEntries(resolvedRows)];
    });
    return { ...data, [this.unitId]: Object.fromEntries(sheets) };
  }

  private resolvedText(formula: string, at: { sheetId: string; row: number; column: number }): string {
    const place = dependsOnRow(formula) || formula.includes("[") ? `${at.row},${at.column}` : "";
    const key = `${at.sheetId}!${place}!${formula}`;
    const known = this.resolvedTexts.get(key);
    if (known !== undefined) return known;
    const text = resolve(formula, at, this.book);
    this.resolvedTexts.set(key, text);
    return text;
  }

  private forgetOldMeanings() {
    if (this.resolvedVersion === this.book.version) return;
    this.resolvedVersion = this.book.version;
    this.resolvedTexts.clear();
  }

  /** A name, a table or a sheet changed: formulas that now mean something else are calculated again, dependencies and all. */
  private queueChangedMeanings() {
    if (this.resolvedVersion === this.book.version) return;
    this.forgetOldMeanings();
    const changed = this.formulas().filter(({ sheetId, row, column, text }) => {
      const before = this.resolvedCells.get(`${sheetId}!${row},${column}`);
      return before !== undefined && before !== this.resolvedText(text, { sheetId, row, column });
    });
    if (changed.length === 0) return;
    const sheets = Object.fromEntries(changed.map(({ sheetId }) => [sheetId, "1"]));
    this.services.commands.syncExecuteCommand(
      this.modules.SetTriggerFormulaCalculationStartMutation.id,
      {
        ...NOTHING_DIRTY,
        dirtyRanges: changed.map(({ sheetId, row, column }) => ({
          unitId: this.unitId,
          sheetId,
          range: { startRow: row, endRow: row, startColumn: column, endColumn: column },
        })),
        clearDependencyTreeCache: { [this.unitId]: sheets },
      },
      LOCAL,
    );
  }
}

/** The engine's state number for a calculation that was stopped to start anew. */
const STOPPED = 1;

const NOTHING_DIRTY = {
  forceCalculation: false,
  dirtyRanges: [],
  dirtyNameMap: {},
  dirtyDefinedNameMap: {},
  dirtySuperTableMap: {},
  dirtyUnitFeatureMap: {},
  dirtyUnitOtherFormulaMap: {},
  clearDependencyTreeCache: {},
};
