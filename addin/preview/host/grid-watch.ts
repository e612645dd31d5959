/** What happens in the grid, in the host's words: the engine runs all changes, its own and the user's, as commands. */
import { COLUMNS, type Rect, ROWS, rectBetween, type Shift } from "./a1";
import type { UniverModules } from "./modules";
import type { Matrix } from "./pending";

interface UniverRange {
  readonly startRow: number;
  readonly endRow: number;
  readonly startColumn: number;
  readonly endColumn: number;
}

/** A name as the engine's name manager keeps it; no sheet, or the engine's word for all, is the whole workbook. */
export interface UniverName {
  readonly id: string;
  readonly name: string;
  readonly formulaOrRefString: string;
  readonly comment?: string;
  readonly hidden?: boolean;
  readonly localSheetId?: string;
}

export interface GridListener {
  activated(sheetId: string): void;
  selected(sheetId: string, rect: Rect): void;
  calculated(sheetIds: readonly string[]): void;
  sheetAdded(sheetId: string): void;
  sheetRemoved(sheetId: string, name: string): void;
  sheetRenamed(sheetId: string): void;
  shifted(sheetId: string, shift: Shift): void;
  edited(sheetId: string, cells: Matrix): void;
  nameSet(name: UniverName): void;
  nameRemoved(id: string): void;
}

interface Params {
  readonly subUnitId: string;
  readonly subUnitName: string;
  readonly sheet: { readonly id: string };
  readonly range: UniverRange;
  readonly selections: readonly { readonly range: UniverRange }[];
  readonly cellValue: Matrix;
  readonly unitData: Record<string, Record<string, unknown>>;
}

/** For each command of the engine that matters, what it means to the host. */
export function gridWatch(modules: UniverModules, unitId: string, listener: GridListener) {
  const shift = (direction: Shift["direction"]) => (params: Params) =>
    listener.shifted(params.subUnitId, { area: shiftedArea(params.range, direction), direction });
  const tell = new Map<string, (params: Params) => void>([
    [modules.SetWorksheetActiveOperation.id, ({ subUnitId }) => listener.activated(subUnitId)],
    [
      modules.SetSelectionsOperation.id,
      ({ subUnitId, selections }) => {
        const range = selections?.at(-1)?.range;
        if (range) listener.selected(subUnitId, rectOf(range));
      },
    ],
    [
      modules.SetFormulaCalculationResultMutation.id,
      ({ unitData }) => listener.calculated(Object.keys(unitData?.[unitId] ?? {})),
    ],
    [modules.InsertSheetMutation.id, ({ sheet }) => listener.sheetAdded(sheet.id)],
    [modules.RemoveSheetMutation.id, ({ subUnitId, subUnitName }) => listener.sheetRemoved(subUnitId, subUnitName)],
    [modules.SetWorksheetNameMutation.id, ({ subUnitId }) => listener.sheetRenamed(subUnitId)],
    [modules.InsertRowMutation.id, shift("down")],
    [modules.RemoveRowMutation.id, shift("up")],
    [modules.InsertColMutation.id, shift("right")],
    [modules.RemoveColMutation.id, shift("left")],
    [
      modules.SetRangeValuesMutation.id,
      ({ subUnitId, cellValue }) => {
        if (cellValue) listener.edited(subUnitId, cellValue);
      },
    ],
    [modules.SetDefinedNameMutation.id, (params) => listener.nameSet(params as unknown as UniverName)],
    [modules.RemoveDefinedNameMutation.id, (params) => listener.nameRemoved((params as unknown as UniverName).id)],
  ]);
  return (id: string, params: unknown) => tell.get(id)?.(params as Params);
}

const rectOf = ({ startRow, startColumn, endRow, endColumn }: UniverRange): Rect =>
  rectBetween(startRow, startColumn, endRow, endColumn);

/** The whole rows or columns that came or went. */
function shiftedArea(range: UniverRange, direction: Shift["direction"]): Rect {
  const { row, rows, column, columns } = rectOf(range);
  const vertical = direction === "down" || direction === "up";
  return vertical ? { row, rows, column: 0, columns: COLUMNS } : { row: 0, rows: ROWS, column, columns };
}
