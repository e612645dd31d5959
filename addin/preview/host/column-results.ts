/**
 * What a formula has worked out for a long column, put where it spills. The engine makes an object of each value on its
 * way to the cell; here a plain value becomes a cell at once.
 */
import type { ICellData, ObjectMatrix } from "@univerjs/core";
import type { BaseValueObject, IFormulaRuntimeService } from "@univerjs/engine-formula";
import { columnsOf, type Plain } from "./columns";
import type { UniverModules } from "./modules";

const SPILL_ERROR = "#SPILL!";

/** The engine's place of work; private in its types, its version is pinned. */
interface Place {
  readonly _currentRow: number;
  readonly _currentColumn: number;
  readonly _currentSubUnitId: string;
  readonly _currentUnitId: string;
  _getValueObjectOfRuntimeData(value: BaseValueObject): ICellData;
}

export function spillByColumn(modules: UniverModules, runtime: IFormulaRuntimeService) {
  const { PlainColumn, plainColumn, wrap } = columnsOf(modules);
  const { NUMBER, STRING, BOOLEAN } = modules.CellValueType;
  const place = runtime as unknown as Place;
  const set = runtime.setRuntimeData.bind(runtime);

  const cellOf = (plain: Plain): ICellData => {
    if (typeof plain === "number") return { v: plain, t: NUMBER };
    if (typeof plain === "string") return { v: plain, t: STRING };
    if (typeof plain === "boolean") return { v: plain ? 1 : 0, t: BOOLEAN };
    return plain === null ? { v: null } : place._getValueObjectOfRuntimeData(plain);
  };
  /** What an error in the first cell means, the engine knows. */
  const beginsPlainly = ([first]: readonly Plain[]) =>
    typeof first === "string" ? !first.startsWith("#") : typeof first !== "object" || first === null;

  runtime.setRuntimeData = (value) => {
    const column = value instanceof PlainColumn ? value : undefined;
    const plain = column && plainColumn(column);
    if (!column || !plain || plain.length < 2 || !beginsPlainly(plain)) return set(value);
    const { _currentRow: top, _currentColumn: left, _currentSubUnitId: sheetId, _currentUnitId: unitId } = place;
    // The engine looks whether there is room, and places the first cell.
    const head = Object.create(column, {
      iterator: { value: (visit: Parameters<typeof column.iterator>[0]) => void visit(wrap(plain[0]!), 0, 0) },
    });
    set(head);
    const spilled = runtime.getRuntimeArrayFormulaCellData()[unitId]![sheetId] as ObjectMatrix<ICellData>;
    if (spilled.getValue(top, left)?.v === SPILL_ERROR) return set(value);
    for (let i = 1; i < plain.length; i++) {
      spilled.setValue(top + i, left, cellOf(plain[i]!));
    }
  };
}
