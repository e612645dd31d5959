/**
 * Long columns, calculated quickly. The engine makes new objects for every cell at each step of a formula. Here a
 * column is its plain values, and only what is more than a plain value goes through the engine's own objects.
 *
 * Processor time for the audit of 20,000 jobs (tests/bench/audit.bench.ts, one turn each, 2 busy cores): 2.9 s with
 * this file, column-functions.ts and column-results.ts, 8.6 s without.
 */
import type { ICellData, Nullable } from "@univerjs/core";
import type { ArrayValueObject, BaseReferenceObject, BaseValueObject } from "@univerjs/engine-formula";
import { criterionTest } from "./criteria";
import type { UniverModules } from "./modules";

/** A value; an error or a number that brings its format along stays the engine's object. */
export type Plain = number | string | boolean | null | BaseValueObject;

type Operation =
  | "plus"
  | "minus"
  | "multiply"
  | "divided"
  | "compare"
  | "round"
  | "concatenateFront"
  | "concatenateBack";
type Operator = Parameters<ArrayValueObject["compare"]>[1];

const ARITHMETIC: readonly Operation[] = ["plus", "minus", "multiply", "divided"];

const COMPARISONS: Record<string, <T extends number | string>(a: T, b: T) => boolean> = {
  "=": (a, b) => a === b,
  "<>": (a, b) => a !== b,
  "<": (a, b) => a < b,
  "<=": (a, b) => a <= b,
  ">": (a, b) => a > b,
  ">=": (a, b) => a >= b,
};

const OPERATIONS: readonly Operation[] = [
  "plus",
  "minus",
  "multiply",
  "divided",
  "compare",
  "round",
  "concatenateFront",
  "concatenateBack",
];

export const withoutFormat = (plain: Plain): Plain =>
  typeof plain === "object" && plain?.isNumber() ? (plain.getValue() as number) : plain;

/** In arithmetic a blank is 0 and TRUE is 1; NaN for what is no number. */
function numeric(plain: Plain | undefined): number {
  if (typeof plain === "number") return plain;
  if (plain === null || plain === false) return 0;
  return plain === true ? 1 : Number.NaN;
}

function arithmetic(name: Operation, a: number, b: number): number {
  if (name === "multiply") return a * b;
  if (name === "minus") return a - b;
  return name === "plus" ? a + b : a / b;
}

/** Numbers so large, or so near a half, that how the engine multiplies decides which way they are rounded. */
const LARGEST_PLAINLY_ROUNDED = 1e9;
const NEAR_HALF = 1e-6;

/** A number rounded as the engine rounds, without its decimals; undefined where they could make a difference. */
function plainlyRounded(number: number, digits: number): number | undefined {
  const factor = 10 ** digits;
  const scaled = Math.abs(number) * factor;
  const isPlain = Number.isInteger(digits) && scaled < LARGEST_PLAINLY_ROUNDED;
  if (!isPlain || Math.abs(scaled - Math.floor(scaled) - 0.5) < NEAR_HALF) return undefined;
  const rounded = Math.round(scaled) / factor;
  return number < 0 ? -rounded : rounded;
}

/** Text that the engine does not take letter by letter: a pattern, or what it reads as an error. */
const SPECIAL_TEXT = /[*?~]|^#/;

export type Columns = ReturnType<typeof makeColumns>;

const made = new WeakMap<object, Columns>();

/** The same for every workbook: what they share of the engine is changed once. */
export function columnsOf(modules: UniverModules): Columns {
  let columns = made.get(modules.ArrayValueObject);
  if (!columns) {
    columns = makeColumns(modules);
    made.set(modules.ArrayValueObject, columns);
  }
  return columns;
}

function makeColumns(modules: UniverModules) {
  const { ArrayValueObject, BooleanValueObject, NullValueObject, NumberValueObject } = modules;
  const { CellValueType, FORMULA_REF_TO_ARRAY_CACHE, StringValueObject } = modules;

  const wrap = (plain: Plain): BaseValueObject => {
    if (typeof plain === "number") return NumberValueObject.create(plain);
    if (typeof plain === "string") return StringValueObject.create(plain);
    if (typeof plain === "boolean") return BooleanValueObject.create(plain);
    return plain ?? NullValueObject.create();
  };

  const unwrap = (object: BaseValueObject): Plain => {
    if (object.isNull()) return null;
    const isValue = object.isNumber() || object.isBoolean() || (object.isString() && !object.isHyperlink());
    if (!isValue || object.getPattern() || object.getCustomData()) return object;
    return object.getValue();
  };

  /** The value of a block of one cell; whatever else it is, as it is. */
  const onlyCell = (object: BaseValueObject): BaseValueObject => {
    if (!object.isArray()) return object;
    const block = object as ArrayValueObject;
    const isOne = block.getRowCount() === 1 && block.getColumnCount() === 1;
    return (isOne && block.get(0, 0)) || object;
  };

  class PlainColumn extends ArrayValueObject {
    plain: Plain[] | undefined;
    /** Comparisons of this column so far: criteria come again and again. */
    private readonly compared = new Map<string, PlainColumn>();
    private readonly matched = new Map<Plain, readonly boolean[]>();

    constructor(plain: Plain[], unitId = "", sheetId = "", row = -1, column = -1) {
      super({ calculateValueList: [], rowCount: plain.length, columnCount: 1, unitId, sheetId, row, column });
      this.plain = plain;
      let values: BaseValueObject[][] | undefined;
      Object.defineProperty(this, "_values", {
        get: () => {
          values ??= plain.map((value) => [wrap(value)]);
          return values;
        },
        set: (changed) => {
          values = changed;
          this.plain = undefined;
        },
      });
    }

    override get(row: number, column: number) {
      const value = this.plain && column === 0 ? this.plain[row] : undefined;
      return value === undefined ? super.get(row, column) : wrap(value);
    }

    override getRealValue(row: number, column: number) {
      const value = this.plain && column === 0 ? this.plain[row] : undefined;
      return value === undefined ? super.getRealValue(row, column) : wrap(value);
    }

    override getValueOrDefault(row: number, column: number) {
      return this.plain ? this.get(row, column) : super.getValueOrDefault(row, column);
    }

    override set(row: number, column: number, value: BaseValueObject) {
      super.set(row, column, value);
      this.plain = undefined;
    }

    override sortByColumn(index: number) {
      super.sortByColumn(index);
      this.plain = undefined;
    }

    override iterator(callback: Parameters<ArrayValueObject["iterator"]>[0]) {
      if (!this.plain) return super.iterator(callback);
      for (let row = 0; row < this.plain.length; row++) if (callback(wrap(this.plain[row]!), row, 0) === false) return;
    }

    override mapValue(callback: Parameters<ArrayValueObject["mapValue"]>[0]): ArrayValueObject {
      if (!this.plain) return super.mapValue(callback);
      return this.column(this.plain.map((value, row) => unwrap(callback(wrap(value), row, 0))));
    }

    override sum() {
      let sum = 0;
      for (const value of this.plain ?? []) {
        if (typeof value === "number") sum += value;
        else if (typeof value === "object" && value?.isError()) return value;
        else if (typeof value === "object" && value?.isNumber()) sum += value.getValue() as number;
      }
      return this.plain ? NumberValueObject.create(sum) : super.sum();
    }

    override count() {
      const counted = this.plain?.filter((value) => typeof withoutFormat(value) === "number");
      return counted ? NumberValueObject.create(counted.length) : super.count();
    }

    override pick(taken: ArrayValueObject): ArrayValueObject {
      const mask = taken instanceof PlainColumn ? taken.plain : undefined;
      if (!this.plain || mask?.length !== this.plain.length) return super.pick(taken);
      const picked = this.plain.filter((_, row) => mask[row] === true);
      return picked.length > 0 ? new PlainColumn(picked) : super.pick(taken);
    }

    /** The same place in the sheet, for whatever knows columns by their place. */
    private column(plain: Plain[]): PlainColumn {
      return new PlainColumn(plain, this.getUnitId(), this.getSheetId());
    }

    /** One of the engine's operations with a value or a column of the same length; undefined for any other shape. */
    combined(name: Operation, given: BaseValueObject, operator?: Operator, isCaseSensitive?: boolean) {
      const mine = this.plain;
      const other = onlyCell(given);
      const theirs = other.isArray() ? plainColumn(other) : undefined;
      if (!mine || (other.isArray() && theirs?.length !== mine.length)) return undefined;
      const one = theirs ? null : unwrap(other);
      const step = stepOf(name, operator, isCaseSensitive);
      const isArithmetic = ARITHMETIC.includes(name);
      const result: Plain[] = new Array(mine.length);
      for (let row = 0; row < mine.length; row++) {
        const left = mine[row]!;
        const right = theirs ? theirs[row]! : one;
        const plainly = isArithmetic ? arithmetic(name, numeric(left), numeric(right)) : Number.NaN;
        result[row] = Number.isFinite(plainly) ? plainly : step(left, right);
      }
      return this.column(result);
    }

    /** Which cells meet a criterion of COUNTIF and its kind; undefined where only the engine knows. */
    matching(criterion: Plain): readonly boolean[] | undefined {
      const known = this.matched.get(criterion);
      const test = known ? undefined : criterionTest(criterion);
      if (known || !test || !this.plain) return known;
      const mask = this.plain.map((value) => test(withoutFormat(value)));
      this.matched.set(criterion, mask);
      return mask;
    }

    override compare(other: BaseValueObject, operator: Operator, isCaseSensitive?: boolean): ArrayValueObject {
      const only = onlyCell(other);
      const one = only.isArray() ? undefined : unwrap(only);
      const isKey = typeof one === "number" || typeof one === "string" || typeof one === "boolean";
      const key = isKey ? `${operator}${typeof one}${isCaseSensitive}${one}` : "";
      const known = isKey && this.plain ? this.compared.get(key) : undefined;
      if (known) return known;
      const result = this.combined("compare", other, operator, isCaseSensitive);
      if (result && isKey) this.compared.set(key, result);
      return result ?? super.compare(other, operator, isCaseSensitive);
    }
  }

  for (const name of OPERATIONS) {
    if (name === "compare") continue;
    const slow = ArrayValueObject.prototype[name];
    PlainColumn.prototype[name] = function (this: PlainColumn, other: BaseValueObject) {
      return this.combined(name, other) ?? slow.call(this, other);
    };
  }

  const plainColumn = (object: BaseValueObject): readonly Plain[] | undefined =>
    object instanceof PlainColumn ? object.plain : undefined;

  /** An operation on two cells: plain where both are plain, and else the engine's own. */
  function stepOf(name: Operation, operator?: Operator, isCaseSensitive?: boolean) {
    const isArithmetic = ARITHMETIC.includes(name);
    const compare = name === "compare" && operator ? COMPARISONS[operator] : undefined;
    const own = (a: Plain, b: Plain): Plain => {
      const left = wrap(a);
      const right = wrap(b);
      if (left.isError()) return left;
      if (right.isError()) return right;
      if (name === "compare") return unwrap(left.compare(right, operator as Operator, isCaseSensitive));
      return unwrap(left[name](right) as BaseValueObject);
    };
    return (a: Plain, b: Plain): Plain => {
      if (isArithmetic) {
        const result = arithmetic(name, numeric(a), numeric(b));
        if (Number.isFinite(result)) return result;
      }
      if (name === "round" && typeof a === "number" && typeof b === "number") {
        const result = plainlyRounded(a, b);
        if (result !== undefined) return result;
      }
      if (compare && typeof a === "number" && typeof b === "number") return compare(a, b);
      if (compare && !isCaseSensitive && typeof a === "string" && typeof b === "string" && !SPECIAL_TEXT.test(b)) {
        return compare(a.toLowerCase(), b.toLowerCase());
      }
      return own(a, b);
    };
  }

  /** The engine's `getCellData` down a column, with what it looks up for each cell looked up once. */
  function cellReader(reference: BaseReferenceObject, column: number): (row: number) => Nullable<ICellData> {
    const calculated = reference.getCurrentRuntimeSheetData();
    const spilled = reference.getCurrentRuntimeActiveArrayFormulaCellData();
    const spilledBefore = reference.getCurrentActiveArrayFormulaCellData();
    const typed = reference.getCurrentActiveSheetData()?.cellData;
    return (row) => {
      const cell =
        calculated?.getValue(row, column) ||
        spilled?.getValue(row, column) ||
        reference.getRuntimeFeatureCellValue(row, column);
      if (cell) return cell;
      // Whether it still stands, the engine knows.
      return spilledBefore?.getValue(row, column) ? reference.getCellData(row, column) : typed?.getValue(row, column);
    };
  }

  /** The cells a reference stands for, as a column; undefined if it is not one column of several cells. */
  function readColumn(reference: BaseReferenceObject): PlainColumn | undefined {
    const { startRow, endRow, startColumn, endColumn } = reference.getRangePosition();
    if (startColumn !== endColumn || startColumn < 0 || startRow < 0 || endRow <= startRow) return undefined;
    if (!reference.getCurrentActiveSheetData()) return undefined;
    const unitId = reference.getUnitId();
    const sheetId = reference.getSheetId();
    // The engine clears these whenever cells may have changed.
    const key = `${unitId}_${sheetId}_${startRow}_${endRow}_${startColumn}_${endColumn}`;
    const known = FORMULA_REF_TO_ARRAY_CACHE.get(key);
    if (known instanceof PlainColumn) return known;
    const cellAt = cellReader(reference, startColumn);
    const plain: Plain[] = new Array(endRow - startRow + 1);
    for (let row = startRow; row <= endRow; row++) {
      const cell = cellAt(row);
      const v = cell?.v;
      const isText = typeof v === "string" && v !== "" && cell!.t === CellValueType.STRING && !v.startsWith("#");
      const isNumber = typeof v === "number" && cell!.t === CellValueType.NUMBER && !cell!.s;
      if ((isText && !cell!.p) || isNumber) plain[row - startRow] = v;
      else
        plain[row - startRow] =
          cell && !modules.isNullCell(cell) ? withoutFormat(unwrap(reference.getCellValueObject(cell))) : null;
    }
    // The first cell's format is the one that a formula's result takes on.
    const pattern = reference.getCellPattern(unitId, sheetId, startRow, startColumn);
    if (pattern && typeof plain[0] === "number") plain[0] = NumberValueObject.create(plain[0], pattern);
    const column = new PlainColumn(plain, unitId, sheetId, startRow, startColumn);
    FORMULA_REF_TO_ARRAY_CACHE.set(key, column);
    return column;
  }

  const references = modules.BaseReferenceObject.prototype;
  const { toArrayValueObject } = references;
  references.toArrayValueObject = function (this: BaseReferenceObject, useCache = true) {
    return (useCache ? readColumn(this) : undefined) ?? toArrayValueObject.call(this, useCache);
  };

  return { PlainColumn, readColumn, plainColumn, stepOf, wrap, unwrap };
}
